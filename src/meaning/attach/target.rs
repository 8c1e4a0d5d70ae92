//! Which place, lesion or stage a deed is done to.

use super::claw::tells_why;
use super::{Held, Pass};
use crate::anatomy::Foot;
use crate::entry::Act;
use crate::grammar::{Deed, Named, Phrase, Where};
use crate::meaning::draft::{DraftAction, DraftFinding, Half, Spot};
use crate::vocab::Device;
use crate::words::{Gap, Span};

impl Pass<'_> {
    /// "wrapped the wart on the right hind", "pared the right hind ulcer": the place of the lesion it was done to.
    pub(super) fn place_of_object(&self, i: usize, deed: &Deed) -> Option<usize> {
        let next = self.items.get(i + 1).filter(|n| n.gap <= Gap::Space)?;
        let the = self.words(self.items[i].span.end, next.span.start);
        if !the.last().is_some_and(|w| ["the", "that", "this", "her"].contains(&w.as_str())) {
            return None;
        }
        // "block on the inside the right rear has heel erosion", "wrapped it then the right rear …": it has its object.
        let said = self.items[i].span.of(self.text).to_lowercase();
        let has_it = said.split(' ').any(|w| ["it", "that", "them"].contains(&w))
            || deed.claw.is_some() && !the.iter().any(|w| ["on", "of", "in", "for"].contains(&w.as_str()));
        // "wrapped anyway the ulcer on the right hind …": what is told of next.
        let told = the.first().is_some_and(|w| ["anyway", "but", "so", "now", "then"].contains(&w.as_str()));
        if told {
            return None;
        }
        // "taken it off and that wart is M three fronts clean": something else.
        if has_it || next.and || self.begins_anew(i + 1) {
            return None;
        }
        let foot = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if matches!(p.feet, Where::Feet(_)));
        let lesion = |k: usize| matches!(self.get(k), Some(Phrase::Finding(_) | Phrase::Stage(_)));
        if foot(i + 1) {
            let close = lesion(i + 2) && self.gap(i + 2) <= Gap::Space;
            // "blocked the left hind inner for an ulcer on the outer": the place is the deed's.
            let between = || self.words(next.span.end, self.items[i + 2].span.start);
            // "double sole pared the right hind tyloma": a lesion that was not spoken of, behind one that was pared.
            if close && self.held.used && self.gap(i) <= Gap::Space && !self.is_known_there(i + 1) {
                return None;
            }
            // "pared the right rear has heel erosion": what is told of next.
            let subject = |w: &String| ["has", "is", "was", "had", "got", "shows"].contains(&w.as_str());
            return (close && !tells_why(&between()) && !between().first().is_some_and(subject)).then_some(i + 1);
        }
        let behind = (i + 1..=self.items.len()).find(|k| !(lesion(*k) && self.gap(*k) <= Gap::Space))?;
        (behind > i + 1 && foot(behind) && self.gap(behind) <= Gap::Space).then_some(behind)
    }

    /// Whether the lesion behind the place at `k` was named on that foot before.
    fn is_known_there(&self, k: usize) -> bool {
        let foot = self.items[k].is.one_foot();
        self.out.findings.iter().any(|f| {
            f.spot.foot == foot
                && match self.get(k + 1) {
                    Some(Phrase::Finding(named)) => f.named == *named,
                    Some(Phrase::Stage(stage)) => f.stage == Some(*stage),
                    _ => false,
                }
        })
    }

    /// "back left M2, back right M4.1, wrapped the M2 only": where that one is.
    pub(super) fn stage_spoken_of(&self, i: usize) -> Option<Vec<Spot>> {
        let Some(Phrase::Stage(stage)) = self.get(i + 1) else { return None };
        let the = self.words_to_next(i);
        let spots: Vec<Spot> = self.out.findings.iter().filter(|f| f.stage == Some(*stage)).map(|f| f.spot).collect();
        (self.gap(i + 1) <= Gap::Space && the.iter().any(|w| w == "the") && !spots.is_empty()).then_some(spots)
    }

    /// "LH outer ulcer, RH wart, put a wrap on the ulcer": where that one is.
    pub(super) fn lesion_of_deed(&self, i: usize) -> Option<Vec<Spot>> {
        // "wrap only the toe ulcer"
        let i = i + usize::from(self.get(i + 1) == Some(&Phrase::Only) && self.gap(i + 1) <= Gap::Space);
        let Some(Phrase::Finding(named)) = self.get(i + 1) else { return None };
        let the = self.words_to_next(i);
        if self.gap(i + 1) > Gap::Space
            || the.last().is_none_or(|w| w != "the")
            || self.place_right_after(i + 1).is_some()
        {
            return None;
        }
        let spots: Vec<Spot> = self.out.findings.iter().filter(|f| f.named == *named).map(|f| f.spot).collect();
        let elsewhere = self.out.findings.iter().any(|f| f.named != *named && !spots.iter().any(|s| s.may_be(f.spot)));
        (!spots.is_empty() && elsewhere).then_some(spots)
    }

    /// The place right after a deed, where it is the deed's.
    pub(super) fn action_place(&self, i: usize, deed: &Deed, held: bool) -> Option<usize> {
        // "block only on the left"
        let only = self.get(i + 1) == Some(&Phrase::Only) && self.gap(i + 1) <= Gap::Space;
        let k = i + 1 + usize::from(only);
        let Some(Phrase::Place(place)) = self.get(k) else {
            return None;
        };
        // "wrap, both"
        let both = place.feet == Where::Both && self.gap(k) == Gap::Comma && self.gap(k + 1) > Gap::Space;
        if place.feet == Where::Same || (self.gap(k) > Gap::Space && !both) {
            return None;
        }
        if place.feet == Where::Both {
            return Some(k);
        }
        // "routine, left hind outer sole only four mil": of the whole cow.
        if deed.what == Act::Trim && self.items[i].span.of(self.text).eq_ignore_ascii_case("routine") {
            return None;
        }
        // "spray and a wrap on that right's only M four": the other one's.
        let subject = crate::words::ends_with(self.items[k].span.of(self.text), "'s")
            && !matches!(deed.what, Act::Unblock | Act::Unwrap)
            && !place.group
            && matches!(self.get(k + 1), Some(Phrase::Only | Phrase::Stage(_) | Phrase::Finding(_)))
            && self.gap(k + 1) <= Gap::Space;
        if held && subject {
            return None;
        }
        // "sprayed fronts not lifted"
        if self.is_not_looked_at(k) || self.begins_anew(k) && (held || deed.what == Act::Trim) {
            return None;
        }
        // "dug the stone out hold still girl the left rear …": talk leads to it, and no "on".
        if held && self.is_behind_talk(k) {
            return None;
        }
        // "ulcer healed, lost her wrap right hind, wart still open": behind a comma of its own it has its place.
        let apart = self.gap(i) > Gap::Space;
        let came_off = matches!(deed.what, Act::Unblock | Act::Unwrap);
        // "took her wrap off the left front wart's dry now": with its verb, what is off is off that foot.
        let said = self.items[i].span.of(self.text).to_lowercase();
        let verb = ["took", "gone", "lost", "cut", "pulled", "taken", "knocked", "fell", "came", "popped"];
        if came_off && said.ends_with(" off") && verb.iter().any(|w| said.split(' ').any(|s| s == *w)) {
            let foot = self.words(self.items[i].span.end, self.items[k].span.start);
            if foot.iter().all(|w| ["the", "her", "of"].contains(&w.as_str())) {
                return Some(k);
            }
        }
        let another = !apart && self.begins_with_a_comma(k)
            || self.gap(i) <= Gap::Comma && !(apart && came_off) && self.begins_another(k);
        if held && another {
            return None;
        }
        // "all four trimmed left hind heel eroded": the whole cow.
        let all_four = self.held.item == i.checked_sub(1) && self.held.spots.len() == Foot::ALL.len();
        if deed.what == Act::Trim && all_four && !self.held.used && self.gap(i) <= Gap::Space {
            return None;
        }
        let taken = self.place_is_taken(k);
        // `L pared R blkd`: each behind its own.
        let own = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if matches!(p.feet, Where::Side(_) | Where::End(_)));
        // "M two left, M four right, wrapped the left": the place before is the stage's.
        let of_grade = i > 1
            && self.gap(i - 1) <= Gap::Space
            && matches!(self.get(i - 2), Some(Phrase::Stage(_) | Phrase::Severity(_) | Phrase::Finding(_)));
        let by_turns = i > 0
            && !of_grade
            && own(i - 1)
            && self.new_place_since()
            && self.gap(i) <= Gap::Space
            && own(k)
            && matches!(self.get(k + 1), Some(Phrase::Deed(_)))
            && self.gap(k + 1) <= Gap::Space;
        if by_turns {
            return None;
        }
        if taken
            && (held
                || deed.what != Act::Trim && !matches!(deed.what, Act::Block | Act::Wrap | Act::Unblock | Act::Unwrap))
        {
            return None;
        }
        Some(k)
    }

    /// Whether people's talk, of two words or more, leads to the foot at `k` with no word that joins it to what was done.
    pub(super) fn is_behind_talk(&self, k: usize) -> bool {
        const ON: [&str; 16] = [
            "on", "to", "in", "for", "at", "of", "from", "under", "off", "over", "round", "around", "across", "along",
            "with", "by",
        ];
        const SMALL: [&str; 12] =
            ["the", "her", "a", "that", "this", "it", "up", "both", "down", "out", "only", "just"];
        let led = self.words(self.items[k - 1].span.end, self.items[k].span.start);
        let (article, before) = match &led[..] {
            [before @ .., last] if last == "the" || last == "her" => (true, before),
            before => (false, before),
        };
        let joins = before.last().is_none_or(|w| ON.contains(&w.as_str()));
        let said = before.iter().filter(|w| !ON.contains(&w.as_str()) && !SMALL.contains(&w.as_str())).count();
        !joins && said >= if article { 1 } else { 2 }
    }

    /// "drained block inside right hind outer, a bruise": another foot than the lesion's in the hand, and behind a comma what
    /// was found there.
    fn begins_with_a_comma(&self, k: usize) -> bool {
        let Some(foot) = self.items[k].is.one_foot().filter(|_| self.held.used && self.gap(k + 1) == Gap::Comma) else {
            return false;
        };
        let told = match self.get(k + 1) {
            Some(Phrase::Place(p)) => p.feet == Where::Same && self.finding_follows(k + 2),
            is => matches!(is, Some(Phrase::Finding(_) | Phrase::Stage(_))),
        };
        let elsewhere = |f: &DraftFinding| f.spot.foot.is_some_and(|there| there != foot);
        let led = self.words(self.items[k - 1].span.end, self.items[k].span.start);
        told && led.is_empty()
            && self.out.findings.last().is_some_and(elsewhere)
            && self.out.findings.iter().all(|f| f.spot.foot != Some(foot))
    }

    /// "block on the left hind outer moved to the inner": where it is now, behind where it was.
    pub(super) fn moved_to(&self, i: usize) -> Option<usize> {
        let claw = |k: usize| match self.get(k) {
            Some(Phrase::Place(p)) if self.gap(k) <= Gap::Space => p.one_claw(),
            _ => None,
        };
        let (from, to) = (claw(i + 1)?, claw(i + 2)?);
        let said =
            self.text.get(self.items[i].span.start as usize..self.items[i + 2].span.start as usize)?.to_lowercase();
        let to_there = self.led_by(i + 2, &["to"]);
        let same = matches!(self.get(i + 2), Some(Phrase::Place(p)) if p.feet == Where::Same);
        (from != to && same && to_there && ["moved", "shifted", "changed"].iter().any(|w| said.contains(w)))
            .then_some(i + 2)
    }

    /// Puts a block where it was moved to.
    pub(super) fn moved(&mut self, i: usize, at: usize, deed: &Deed, span: Span) {
        let (Some(Phrase::Place(from)), Some(Phrase::Place(to))) = (self.get(i + 1).cloned(), self.get(at).cloned())
        else {
            return;
        };
        let mut spots = if from.feet == Where::Same { self.held.spots.clone() } else { self.spots(&from) };
        for spot in &mut spots {
            spot.claw = None;
            let own = to.claw;
            self.out.actions.push(DraftAction { deed: deed.clone(), spot: *spot, own, unsure: false, span });
        }
        self.held = Held { spots, used: false, item: Some(i + 1) };
        self.last_deed = Some(i);
        self.device = Some(Device::Block);
    }

    /// `block LH lat, RH med`: another foot with its claw behind a comma, at the end of the part.
    pub(super) fn block_on_another(&mut self, i: usize, first: usize, deed: &Deed, span: Span) {
        let own = |k: usize| match self.get(k) {
            Some(Phrase::Place(p)) => p.one_foot().and_then(|(foot, claw)| Some((foot, claw?))),
            _ => None,
        };
        let next = first + 1;
        let (Some(_), Some((foot, claw))) = (own(first), own(next)) else { return };
        let ends = self.gap(next) == Gap::Comma && self.gap(next + 1) == Gap::Stop;
        let lesion = self.out.findings.iter().any(|f| f.spot.foot == Some(foot));
        if deed.what == Act::Block && first == i + 1 && ends && lesion {
            let spot = Spot { foot: Some(foot), ..Spot::default() };
            self.out.actions.push(DraftAction { deed: deed.clone(), spot, own: Some(claw), unsure: false, span });
        }
    }

    /// The one foot that was named, where two lesions are on it.
    pub(super) fn foot_of_two_lesions(&self) -> Option<Foot> {
        let mut named = self.out.places.iter().flat_map(|(feet, _)| feet);
        let foot = self.held.spots.first()?.foot?;
        let first = self.out.findings.first()?;
        let several = self.out.findings.iter().any(|f| f.mention != first.mention);
        let all_here = named.all(|f| *f == foot) && self.out.findings.iter().all(|f| f.spot.foot == Some(foot));
        (several && all_here).then_some(foot)
    }

    /// The one foot of that side or end that has a lesion.
    pub(super) fn lesion_foot_of(&self, half: Half) -> Option<Foot> {
        let mut here = self.lesion_feet(false).into_iter().filter(|f| half.holds(*f));
        here.next().filter(|_| here.next().is_none())
    }

    /// Feet with lesions; for blocks, those whose disorder sits on a claw, or else any.
    pub(super) fn lesion_feet(&self, blocks: bool) -> Vec<Foot> {
        let feet = |claw_only: bool| -> Vec<Foot> {
            let mut feet: Vec<Foot> = self
                .out
                .findings
                .iter()
                .filter(|f| {
                    !claw_only || f.spot.claw.is_some() || !matches!(f.named, Named::Disorder(d) if !d.needs_claw())
                })
                .filter_map(|f| f.spot.foot)
                .collect();
            feet.sort_unstable();
            feet.dedup();
            feet
        };
        let horn = feet(blocks);
        if horn.is_empty() { feet(false) } else { horn }
    }
}
