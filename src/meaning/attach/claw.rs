//! Claws named without a foot, and what stands right after a finding.

use super::Pass;
use crate::anatomy::Claw;
use crate::entry::Act;
use crate::grammar::{ClawWord, Named, Phrase, Where};
use crate::meaning::draft::{DraftFinding, Spot};
use crate::words::Gap;

impl Pass<'_> {
    /// "one outer, one inner", "one on the outer, the other on the inner"
    fn is_the_other(&self, i: usize) -> bool {
        let claw = |k: &usize| matches!(self.get(*k), Some(Phrase::Place(p)) if p.one_claw().is_some());
        let Some(before) = (0..i).rev().take(3).find(claw) else { return false };
        let one = before.checked_sub(1).is_some_and(|k| self.items[k].span.of(self.text).eq_ignore_ascii_case("one"));
        let between = self.words(self.items[before].span.start, self.items[i].span.end);
        one && between.iter().any(|w| w == "one" || w == "other")
    }

    /// A claw without a foot: of the finding before it, or of the one after.
    pub(super) fn claw_only(&mut self, i: usize, claw: Option<ClawWord>) {
        let Some(word) = claw else { return };
        // "farmer wanted a block on her so that's on the inner": the block's, which is a remark.
        if self.owned == Some(i) && i > 0 && matches!(self.get(i - 1), Some(Phrase::Deed(_))) {
            self.out.unread.push(self.items[i].span);
            return;
        }
        // "same on the right but inner"
        if let ClawWord::One(c) = word
            && self.same_but(i)
        {
            for f in self.last_mention() {
                f.spot.claw = Some(c);
            }
            return;
        }
        // "ulcer both hinds, outer on the left, inner on the right"
        if let (ClawWord::One(c), Some(feet)) = (word, self.narrowed_to(i)) {
            for f in self.last_mention().filter(|f| f.spot.foot.is_some_and(|x| feet.contains(&x))) {
                f.spot.claw = Some(c);
            }
            self.owned = Some(i + 1);
            return;
        }
        // "ulcers both hinds, one outer, one inner": which foot has which is asked.
        let partner = |f: &DraftFinding| {
            if word == ClawWord::Other { f.spot.claw.is_some() } else { f.spot.claw == word.one().map(Claw::partner) }
        };
        let two = |f: &DraftFinding| f.spot.foot.is_some() && partner(f);
        if self.last_mention().count() == 2 && self.last_mention().all(|f| two(f)) && self.is_the_other(i) {
            self.last_mention().for_each(|f| f.spot.claw = None);
            // "the other on the inner"
            self.used_up = Some(i + 1).filter(|_| word == ClawWord::Other && self.gap(i + 1) <= Gap::Space);
            return;
        }
        // "white line lesions, lateral zone 1 and medial zone 2": one on each claw.
        if let ClawWord::One(c) = word
            && matches!(
                (self.get(i.wrapping_sub(1)), self.get(i + 1)),
                (Some(Phrase::Zones(_)), Some(Phrase::Zones(_)))
            )
            && self.gap(i + 1) <= Gap::Space
            && let Some(model) = self.out.findings.last().cloned()
            && model.spot.claw.is_some_and(|claw| claw != c)
            && !model.zones.is_empty()
        {
            self.mentions += 1;
            let spot = Spot { claw: Some(c), ..model.spot };
            self.out.findings.push(DraftFinding { spot, zones: vec![], mention: self.mentions, ..model });
            self.last_finding_item = Some(i);
            return;
        }
        let before_finding = self.finding_follows(i + 1);
        let mention = self.out.findings.last().map(|f| f.mention);
        let fresh_foot = !self.held.used && self.held.item.is_some();
        let one = match word {
            ClawWord::One(c) | ClawWord::Each(c) => Some(c),
            ClawWord::Other => self.out.findings.iter().rev().find_map(|f| f.spot.claw).map(Claw::partner),
            ClawWord::Both => None,
        };
        // After a block without a claw: the block's own.
        if let Some(at) = self.last_deed
            && self.last_finding_item.is_none_or(|f| f < at)
            && !before_finding
            // "right hind outer was blocked on the inner five weeks ago"
            && (!fresh_foot || at + 1 == i && self.held.spots.len() == 1 && self.gap(i) <= Gap::Space && self.said_on(i))
            && let Some(a) = self.out.actions.last_mut()
            && a.deed.what == Act::Block
            && a.own.is_none()
        {
            let span = a.span;
            for a in self.out.actions.iter_mut().filter(|a| a.span == span) {
                a.own = Some(word);
            }
            return;
        }
        // "she on the other claw", "walks on the inner": what was done there got lost.
        let alone = self.gap(i) > Gap::Space && self.gap(i + 1) > Gap::Space;
        let on_the_sound = one.is_some_and(|c| {
            let ill = |f: &DraftFinding| f.spot.claw == Some(c.partner());
            self.last_mention().all(|f| ill(f)) && self.words_before(i).iter().any(|w| w == "on")
        });
        let apart = || {
            let from = self.items[i - 1].span.end as usize;
            self.text[from..self.items[i].span.start as usize].contains([',', '.', ';'])
        };
        let last = i > 0 && i + 1 == self.items.len() && on_the_sound && apart();
        if !self.out.findings.is_empty() && (word == ClawWord::Other && alone || last) {
            self.out.loose_parts.push(self.items[i].span);
            return;
        }
        // "left hind, thin sole 4 mm outer": behind what was measured of it, the claw is the lesion's as well.
        if let ClawWord::One(c) = word
            && i > 0
            && self.gap(i) <= Gap::Space
            && self.last_finding_item.is_some_and(|f| f + 2 == i)
            && matches!(self.get(i - 1), Some(Phrase::Measure { .. } | Phrase::Amount { .. }))
            && self.gap(i + 1) > Gap::Space
        {
            self.last_mention().filter(|f| f.spot.claw.is_none()).for_each(|f| f.spot.claw = Some(c));
        }
        let right_after = self.last_finding_item.is_some_and(|f| {
            (f + 1..=i).all(|k| self.gap(k) <= Gap::Space)
                && (f + 1..i)
                    .all(|k| matches!(self.get(k), Some(Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_))))
        });
        // "left hind inner, renewed the block, ulcer still open on the outer": the claw before was the block's.
        if let Some(own) = self.claw_of_block_before(i)
            && let ClawWord::One(c) = word
            && own != c
            && !before_finding
        {
            for f in self.last_mention() {
                f.spot.claw = Some(c);
            }
            for a in self.out.actions.iter_mut().filter(|a| a.deed.what == Act::Block && a.own.is_none()) {
                a.own = Some(ClawWord::One(own));
            }
            return;
        }
        if let ClawWord::One(c) = word
            && right_after
            && !before_finding
            && (self.said_on(i)
                || self.last_finding_item.is_some_and(|f| f + 1 == i) && self.words_before(i).is_empty())
            && self.is_of_a_part_of_its_own()
            && self.last_mention().all(|f| f.spot.claw == Some(c.partner()))
        {
            self.last_mention().for_each(|f| f.spot.claw = Some(c));
            return;
        }
        if let Some(mention) = mention
            && !fresh_foot
            // "wart and outer ulcer", "but the inner is bruised": the next one's.
            && (!before_finding
                || self.gap(i) <= Gap::Space && !self.items[i].and && self.get(i.wrapping_sub(1)) != Some(&Phrase::Only))
            && self.out.findings.iter().any(|f| {
                // A claw held from the finding before yields to the one said right after this.
                let open = f.spot.claw.is_none() || (right_after && f.claw_held);
                // "only an old horizontal crack, outer claw"
                let takes = right_after
                    || alone
                    || matches!(f.named, Named::Vague(_))
                    || matches!(f.named, Named::Disorder(d) if d.needs_claw());
                f.mention == mention && open && takes
            })
        {
            for f in self.out.findings.iter_mut().filter(|f| f.mention == mention && f.claw_held && right_after) {
                f.spot.claw = None;
            }
            if word == ClawWord::Both {
                let both: Vec<DraftFinding> =
                    self.out.findings.iter().filter(|f| f.mention == mention).cloned().collect();
                for mut f in both {
                    f.spot.claw = Some(Claw::Inner);
                    self.out.findings.push(f);
                }
            }
            let own = one.or(Some(Claw::Outer));
            for f in self.out.findings.iter_mut().filter(|f| f.mention == mention && f.spot.claw.is_none()) {
                f.spot.claw = own;
            }
            for s in &mut self.held.spots {
                s.claw = one;
            }
            return;
        }
        if word == ClawWord::Both {
            self.held.spots = self
                .held
                .spots
                .iter()
                .flat_map(|s| [Claw::Outer, Claw::Inner].map(|c| Spot { claw: Some(c), ..*s }))
                .collect();
        } else {
            if self.held.spots.is_empty() {
                self.held.spots.push(Spot::default());
            }
            for s in &mut self.held.spots {
                s.claw = one;
            }
            self.held.spots.dedup();
        }
        if before_finding && self.held.spots.iter().any(|s| s.foot.is_some() || s.half.is_some()) {
            self.held.used = false;
            self.held.item = Some(i);
        }
    }

    /// "block still tight on the right hind inner, ulcer on the outer", "angle forty eight on the inner, concave wall on the
    /// outer": the place before the lesion was another's.
    fn is_of_a_part_of_its_own(&self) -> bool {
        self.last_finding_item.is_some_and(|f| self.gap(f) > Gap::Space)
    }

    /// The claw that stood before a block, where a lesion behind it took that claw and is told to be on another: "ulcer
    /// still open on the outer".
    fn claw_of_block_before(&self, i: usize) -> Option<Claw> {
        let lesion = self.last_finding_item.filter(|f| *f < i && self.said_on(i))?;
        let between = (lesion + 1..i).all(|k| {
            self.gap(k) <= Gap::Space
                && matches!(self.get(k), Some(Phrase::Course(_) | Phrase::Severity(_) | Phrase::Zones(_)))
        });
        let block = self.last_deed.filter(|d| *d < lesion && (d + 1..=lesion).all(|k| self.gap(k) <= Gap::Comma))?;
        let put_on = matches!(self.get(block), Some(Phrase::Deed(d)) if d.what == Act::Block && d.claw.is_none());
        let Some(Phrase::Place(place)) = block.checked_sub(1).and_then(|k| self.get(k)) else { return None };
        let Some((_, Some(ClawWord::One(own)))) = place.one_foot() else { return None };
        let taken = self.out.findings.last()?.spot.claw == Some(own);
        (put_on && between && taken && self.gap(i) <= Gap::Space).then_some(own)
    }

    /// Whether "on" leads to item `i`.
    fn said_on(&self, i: usize) -> bool {
        self.led_first(i, &["on"])
    }

    /// Whether a finding comes next, with at most its own modifiers before it and no end of sentence.
    pub(super) fn finding_follows(&self, mut i: usize) -> bool {
        loop {
            match self.get(i) {
                Some(Phrase::Finding(_)) => return self.gap(i) < Gap::Stop,
                Some(
                    Phrase::Zones(_)
                    | Phrase::Severity(_)
                    | Phrase::Course(_)
                    | Phrase::Hedge
                    | Phrase::Only
                    | Phrase::Stage(_),
                ) if self.gap(i) < Gap::Stop => {
                    if matches!(self.get(i), Some(Phrase::Stage(_))) {
                        return true;
                    }
                    i += 1;
                }
                _ => return false,
            }
        }
    }

    /// The place right after item `i`, past a finding's own modifiers, in the same breath.
    pub(super) fn place_right_after(&self, i: usize) -> Option<usize> {
        let mut k = i + 1;
        loop {
            if self.gap(k) > Gap::Space {
                return None;
            }
            match self.get(k)? {
                // "the ulcer on the outer has healed hold still girl the left hind …": the foot in the hand has one already.
                Phrase::Place(p) if p.feet != Where::Same => {
                    let held = self.held.spots.iter().any(|s| s.foot.is_some());
                    return Some(k).filter(|k| !(self.begins_anew(*k) || held && self.is_behind_talk(*k)));
                }
                // "wart's dry now but right hind outer …"
                Phrase::Only
                    if self.items[k].span.of(self.text).eq_ignore_ascii_case("but")
                        && !self.led_by(k + 1, &["on", "in", "at"])
                        && self.held.spots.iter().any(|s| s.foot.is_some()) =>
                {
                    return None;
                }
                Phrase::Place(_)
                | Phrase::Zones(_)
                | Phrase::Severity(_)
                | Phrase::Stage(_)
                | Phrase::Course(_)
                | Phrase::Hedge
                | Phrase::Only => {
                    k += 1;
                }
                _ => return None,
            }
        }
    }

    /// Whether the place at `k` belongs to a finding that comes right after it.
    pub(super) fn place_is_taken(&self, k: usize) -> bool {
        match self.get(k + 1) {
            // `block in rh same`
            Some(Phrase::Clear | Phrase::ClearAll | Phrase::Same) => {
                // "a block on the right hind inner and nothing on the left"
                self.gap(k + 1) <= Gap::Space && !self.items[k + 1].and
            }
            // "blocked the left hind inner for an ulcer on the outer": the place is the deed's.
            Some(Phrase::Finding(_) | Phrase::Stage(_)) => {
                let led = self.words(self.items[k].span.end, self.items[k + 1].span.start);
                // "left rear outer block inner she's got an ulcer": the block's claw.
                let claw = self.get(k).and_then(Phrase::place).is_some_and(|p| p.feet == Where::Same);
                let she = || led.first().is_some_and(|w| ["she's", "she", "there's", "there"].contains(&w.as_str()));
                self.gap(k + 1) <= Gap::Space && !tells_why(&led) && !(claw && she())
            }
            // "outer bruise zone four right hind, inner bruise zone four": the next one's claw.
            Some(Phrase::Place(p)) if p.feet == Where::Same => {
                (self.gap(k + 1) <= Gap::Space || !self.finding_follows(k + 2)) && self.place_is_taken(k + 1)
            }
            Some(
                Phrase::Zones(_)
                | Phrase::Severity(_)
                | Phrase::Hedge
                | Phrase::Course(_)
                | Phrase::Only
                | Phrase::Not
                // "near fore, wall cracked across"
                | Phrase::Part(_),
            ) if self.gap(k + 1) <= Gap::Space => {
                // "off fore inside claw zone four moderate sole ulcer"
                let detail = |k: &usize| {
                    matches!(self.get(*k), Some(Phrase::Zones(_) | Phrase::Severity(_))) && self.gap(*k) <= Gap::Space
                };
                let lesion = (k + 2..self.items.len()).find(|k| !detail(k)).unwrap_or(self.items.len());
                matches!(self.get(lesion), Some(Phrase::Finding(_))) && self.gap(lesion) <= Gap::Space
            }
            _ => false,
        }
    }
}

/// "for an ulcer", "because of the ulcer": what follows is why something was done.
pub(super) fn tells_why(led: &[String]) -> bool {
    // "… for a change, and the usual white line"
    let goes_on = led.iter().any(|w| w == "and");
    !goes_on && led.first().is_some_and(|w| ["for", "because", "due", "owing"].contains(&w.as_str()))
}
