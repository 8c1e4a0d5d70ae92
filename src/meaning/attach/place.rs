//! Rule 1: which feet a place means, and how long it holds.

use super::{Held, NEARBY, Pass};
use crate::anatomy::{Claw, End, Foot, Side};
use crate::disorder::Disorder;
use crate::entry::Act;
use crate::grammar::{ClawWord, Item, Named, Phrase, Place, Where};
use crate::meaning::draft::{DraftFinding, Half, Spot};
use crate::words::{self, Gap};

impl Pass<'_> {
    /// The spots a place stands for, in the light of what was said before.
    pub(super) fn spots(&self, place: &Place) -> Vec<Spot> {
        let whole =
            |feet: &[Foot]| -> Vec<Spot> { feet.iter().map(|f| Spot { foot: Some(*f), ..Spot::default() }).collect() };
        let mut spots = match &place.feet {
            Where::Feet(feet) => feet.iter().map(|(f, c)| Spot { foot: Some(*f), half: None, claw: *c }).collect(),
            Where::Side(side) if let Some(ill) = self.ill_beside_the_clean(*side) => whole(&[ill]),
            Where::Side(side) => match self.group.iter().find(|f| f.side() == *side) {
                Some(foot) if self.group.len() == 2 => whole(&[*foot]),
                _ if let Some(end) = self.end_spoken_of(*side).or_else(|| self.half_end()) => {
                    whole(&[Foot::new(*side, end)])
                }
                _ => vec![Spot { foot: None, half: Some(Half::Side(*side)), claw: None }],
            },
            // "hind outers"
            Where::End(end) if matches!(place.claw, Some(ClawWord::Each(_))) => whole(&crate::grammar::both(*end)),
            Where::End(end) => match self.held.spots.first() {
                Some(Spot { half: Some(Half::Side(s)), .. }) => whole(&[Foot::new(*s, *end)]),
                _ => vec![Spot { foot: None, half: Some(Half::End(*end)), claw: None }],
            },
            // "right hind inner and left hind outer, both double soles": with their claws.
            Where::Both
                if self.held.spots.len() == 2 && {
                    let both = self.both();
                    self.held.spots.iter().all(|s| s.claw.is_some() && s.foot.is_some_and(|f| both.contains(&f)))
                } =>
            {
                self.held.spots.clone()
            }
            Where::Both => whole(&self.both()),
            Where::Rest => whole(&Foot::all_but(&self.named_feet())),
            Where::OtherFoot => match self.held.spots.first().and_then(|s| s.foot) {
                Some(f) => whole(&[f.across()]),
                None => vec![Spot::default()],
            },
            Where::Same => self.held.spots.iter().map(|s| Spot { claw: None, ..*s }).collect(),
        };
        match place.claw {
            Some(ClawWord::One(c) | ClawWord::Each(c)) => {
                for s in &mut spots {
                    s.claw = s.claw.or(Some(c));
                }
            }
            Some(ClawWord::Other) => {
                let lesion = self.out.findings.iter().rev().find_map(|f| f.spot.claw);
                for s in &mut spots {
                    s.claw = lesion.map(Claw::partner);
                }
            }
            Some(ClawWord::Both) => {
                spots = spots
                    .iter()
                    .flat_map(|s| [Claw::Outer, Claw::Inner].map(|c| Spot { claw: Some(c), ..*s }))
                    .collect();
            }
            None => {}
        }
        spots
    }

    /// "strawberry right hind, ulcer left hind, nothing on the fronts. Wrap on the right": the only foot of that side with a
    /// lesion, where the two named last are clean.
    fn ill_beside_the_clean(&self, side: crate::anatomy::Side) -> Option<Foot> {
        let last = self.group.iter().find(|f| f.side() == side).filter(|_| self.group.len() == 2)?;
        let here = |f: &Foot| f.side() == side;
        let mut ill = self.out.findings.iter().filter_map(|f| f.spot.foot).filter(here);
        let first = ill.next().filter(|_| self.out.clear.contains(last))?;
        (first != *last && ill.all(|f| f == first)).then_some(first)
    }

    /// "right hind outer ulcer, and on the left": the end of the foot in the hand, where no foot of the other end was
    /// named.
    fn end_spoken_of(&self, side: crate::anatomy::Side) -> Option<crate::anatomy::End> {
        let end = self.held.spots.first().and_then(|s| s.foot)?.end();
        let named: Vec<&Foot> = self.out.places.iter().flat_map(|(feet, _)| feet).collect();
        // "both hinds …, the right ulcer": of the two that were named.
        let both = [side, side.other()].iter().all(|s| named.iter().any(|f| f.side() == *s));
        let one_end = named.iter().all(|f| f.end() == end);
        // "M two on the left hind, …, so only the left got wrapped"
        let found = self.out.findings.iter().any(|f| f.spot.foot == Some(Foot::new(side, end)));
        (one_end && (both || found || named.iter().all(|f| f.side() != side))).then_some(end)
    }

    /// The end of the foot in the hand, where its side was not said yet.
    fn half_end(&self) -> Option<End> {
        match self.held.spots.first() {
            Some(Spot { foot: None, half: Some(Half::End(end)), .. }) => Some(*end),
            _ => None,
        }
    }

    /// "a wart on one hind foot, the left": which it is, of all that was told of it; gives whether there was any.
    fn complete(&mut self, half: Half, foot: Foot) -> bool {
        let findings = self.out.findings.iter_mut().map(|f| &mut f.spot);
        let spots = findings.chain(self.out.actions.iter_mut().map(|a| &mut a.spot));
        let mut any = false;
        for spot in spots.filter(|s| s.foot.is_none() && s.half == Some(half)) {
            (spot.foot, spot.half) = (Some(foot), None);
            any = true;
        }
        any
    }

    /// "three millimeters of sole left": what remains, and no side.
    pub(super) fn is_what_is_left(&self, i: usize, place: &Place) -> bool {
        let of_sole = || {
            let before = words::before(self.text, self.items[i].span.start as usize, "horn ".len()).to_lowercase();
            ["sole", "horn"].iter().any(|w| before.trim_end().ends_with(w))
        };
        // "no ulcer left"
        let of_none =
            || i > 1 && matches!(self.get(i - 1), Some(Phrase::Finding(_))) && self.get(i - 2) == Some(&Phrase::Not);
        place.feet == Where::Side(Side::Left)
            && place.claw.is_none()
            && (of_sole() || of_none())
            && self.gap(i) <= Gap::Space
            && (self.gap(i + 1) > Gap::Space || self.begins_anew(i + 1))
            && self.held.spots.iter().any(|s| s.foot.is_some())
    }

    /// "I left them": the verb, and no side.
    pub(super) fn left_alone(&self, i: usize) -> bool {
        let side =
            matches!(self.get(i), Some(Phrase::Place(p)) if p.feet == Where::Side(Side::Left) && p.claw.is_none());
        side && self.led_last(i, &["i", "we"]) && self.followed_first(i, &["them", "it", "that"])
    }

    /// "right hind, both toes eighty two millimetres": of the one foot.
    pub(super) fn is_both_of_one_foot(&self, i: usize, place: &Place) -> bool {
        place.feet == Where::Both
            && place.claw.is_none()
            && matches!(self.get(i + 1), Some(Phrase::Part(_) | Phrase::Measure { .. }))
            && self.gap(i + 1) <= Gap::Space
            && self.group.len() != 2
            && matches!(self.held.spots[..], [Spot { foot: Some(_), claw: None, .. }])
            && self.words_to_next(i).is_empty()
            && self.out.findings.is_empty()
    }

    /// "lame on the left front but it's the right front": another one was named before.
    pub(super) fn is_another_after_all(&self, i: usize, place: &Place) -> bool {
        let one = |p: &Place| p.one_foot().map(|(foot, _)| foot);
        let other = self.get(i + 2).and_then(Phrase::place).and_then(one);
        self.get(i + 1) == Some(&Phrase::Only)
            && self.items[i + 1].span.of(self.text).eq_ignore_ascii_case("but")
            && self.led_first(i + 2, &["it's", "it", "its"])
            && other.is_some_and(|other| one(place).is_some_and(|foot| foot != other))
            && !matches!(i.checked_sub(1).and_then(|k| self.get(k)), Some(Phrase::Finding(_) | Phrase::Deed(_)))
    }

    /// "toe ulcer and white line, one block for the both of them": for both lesions of the one foot.
    pub(super) fn is_for_both_lesions(&self, i: usize, place: &Place) -> bool {
        place.feet == Where::Both
            && place.claw.is_none()
            && i > 0
            && matches!(self.get(i - 1), Some(Phrase::Deed(_)))
            && self.led_first(i, &["for"])
            && self.foot_of_two_lesions().is_some()
    }

    /// "both fronts have horizontal cracks, like a groove all the way round": round the claw, and no other feet.
    pub(super) fn is_round_the_claw(&self, i: usize, place: &Place) -> bool {
        let ring = |d: Disorder| matches!(d, Disorder::HFH | Disorder::SW | Disorder::HFV);
        let last = self.out.findings.last();
        place.group
            && self.items[i].span.of(self.text).to_lowercase().contains("the way")
            && last.is_some_and(|f| f.spot.foot.is_some() && matches!(f.named, Named::Disorder(d) if ring(d)))
            && !self.new_place_since()
            && self.gap(i + 1) > Gap::Space
    }

    /// "left the fronts alone": nothing was done to them, and nothing is said of them.
    pub(super) fn leaves_alone(&self, i: usize) -> bool {
        if !self.followed_first(i, &["alone"]) {
            return false;
        }
        let led = words::before(self.text, self.items[i].span.start as usize, "leaving her ".len()).to_lowercase();
        let led = led.trim_end();
        let led = ["the", "her"].iter().find_map(|w| led.strip_suffix(w)).unwrap_or(led).trim_end();
        ["left", "leave", "leaving"].iter().any(|w| led.ends_with(w))
    }

    /// What "both" means here: the pair spoken of, or both feet of the end spoken of.
    pub(super) fn both(&self) -> Vec<Foot> {
        if self.group.len() == 2 {
            return self.group.clone();
        }
        let mut feet: Vec<Foot> = self.out.findings.iter().filter_map(|f| f.spot.foot).collect();
        feet.sort_unstable();
        feet.dedup();
        if feet.len() == 2 {
            return feet;
        }
        // "toe ninety left hind outer, eighty five left hind inner, took both back to seventy five"
        if feet.is_empty()
            && let [.., (a, _), (b, _)] = &self.out.measures[..]
            && a.what == b.what
            && a.claw.is_some()
            && b.claw.is_some()
            && let (Some(a), Some(b)) = (a.foot, b.foot)
        {
            return if a == b { vec![a] } else { vec![a, b] };
        }
        // "ulcer on the outer, white line on the inner, pared both": of one foot.
        let on = |claw| self.out.findings.iter().any(|f| f.spot.claw == Some(claw));
        if feet.len() == 1 && on(Claw::Outer) && on(Claw::Inner) {
            return feet;
        }
        match self.held.spots.first().and_then(|s| s.foot) {
            // "876 and 877, warts left hind, wrapped both": two cows.
            Some(f) if self.cows == 2 => vec![f],
            Some(f) => crate::grammar::both(f.end()).to_vec(),
            None => vec![],
        }
    }

    pub(super) fn named_feet(&self) -> Vec<Foot> {
        let mut feet: Vec<Foot> = self.out.findings.iter().filter_map(|f| f.spot.foot).collect();
        feet.extend(self.out.actions.iter().filter_map(|a| a.spot.foot));
        feet.extend(&self.out.clear);
        // "left front not looked at, the rest clean": what was spoken of by itself is no rest.
        let apart = self.out.places.iter().filter(|(feet, _)| feet.len() < Foot::ALL.len());
        feet.extend(apart.flat_map(|(feet, _)| feet));
        feet.extend(&self.out.told);
        feet
    }

    /// "hind warts, left is healed, right still open": both feet of that end, for each is told of by its side.
    fn end_told_by_sides(&self, i: usize, place: &Place) -> Option<Place> {
        let (Where::End(end), None) = (&place.feet, place.claw) else { return None };
        if !matches!(self.get(i + 1), Some(Phrase::Finding(_))) || self.gap(i + 1) > Gap::Space {
            return None;
        }
        let behind = &self.items[i + 2..];
        let own = |it: &Item| it.is_cow() || matches!(&it.is, Phrase::Place(p) if matches!(p.feet, Where::Feet(_)));
        let behind = &behind[..behind.iter().position(own).unwrap_or(behind.len())];
        let told = |side: Side| {
            behind.windows(2).any(|w| {
                let it = matches!(&w[0].is, Phrase::Place(p) if p.feet == Where::Side(side));
                it && w[1].gap <= Gap::Space && matches!(w[1].is, Phrase::Course(_))
            })
        };
        let feet = crate::grammar::both(*end).map(|foot| (foot, None)).to_vec();
        (told(Side::Left) && told(Side::Right)).then_some(Place { feet: Where::Feet(feet), claw: None, group: true })
    }

    pub(super) fn place(&mut self, i: usize, place: &Place) {
        if place.feet == Where::Same {
            self.claw_only(i, place.claw);
            return;
        }
        // "I've put one back on plastic then the left hind …": of what went on before, and of no block to come.
        let of_before = i > 0 && matches!(self.get(i - 1), Some(Phrase::Material(_))) && self.begins_anew(i);
        if of_before && let Some((_, span)) = self.material.take() {
            self.out.unread.push(span);
        }
        let both = self.end_told_by_sides(i, place);
        let place = both.as_ref().unwrap_or(place);
        if self.is_said_by_the_way(i, place) {
            return;
        }
        let mut spots = self.spots(place);
        if spots.is_empty() {
            // "heel erosion both sides, … wart on the right hind": of which end is asked, and no place of another's is it.
            if words::ends_with(self.items[i].span.of(self.text), " sides") {
                self.waiting_findings.clear();
            }
            return;
        }
        // "left hind outer ulcer, same claw on the right hind has a bruise"
        let from = i.checked_sub(1).map_or(0, |k| self.items[k].span.end) as usize;
        let led = self.text.get(from..self.items[i].span.start as usize).unwrap_or_default();
        if led.to_ascii_lowercase().contains("same claw")
            && let Some(claw) = self.out.findings.iter().rev().find_map(|f| f.spot.claw)
        {
            for s in &mut spots {
                s.claw = s.claw.or(Some(claw));
            }
        }
        // "fronts, corkscrew on both inners"
        if let (Where::Both, Some(ClawWord::Each(claw))) = (&place.feet, place.claw)
            && self.last_finding_item.is_some_and(|f| f + 1 == i)
            && self.gap(i) <= Gap::Space
            && self.last_mention().all(|f| f.spot.claw.is_none() && spots.iter().any(|s| s.foot == f.spot.foot))
        {
            self.last_mention().for_each(|f| f.spot.claw = Some(claw));
            self.held = Held { spots, used: true, item: Some(i) };
            return;
        }
        // "outer claw, left hind, axial wall fissure"
        if let ([Spot { foot: None, half: None, claw: claw @ Some(_) }], [spot @ Spot { claw: None, .. }]) =
            (&self.held.spots[..], &mut spots[..])
            && !self.held.used
            && i > 0
            && matches!(self.get(i - 1), Some(Phrase::Place(p)) if p.feet == Where::Same)
            && self.gap(i) <= Gap::Comma
        {
            spot.claw = *claw;
        }
        // "corkscrews on both hind outers, white line in the right one"
        if let [spot @ Spot { claw: None, .. }] = &mut spots[..]
            && self.held.spots.len() > 1
            && words::ends_with(self.items[i].span.of(self.text), " one")
        {
            spot.claw = self.held.spots.iter().find(|s| s.foot == spot.foot).and_then(|s| s.claw);
        }
        let feet: Vec<Foot> = spots.iter().filter_map(|s| s.foot).collect();
        if let (Where::Side(_), [foot], Some(end)) = (&place.feet, &feet[..], self.half_end()) {
            self.complete(Half::End(end), *foot);
        }
        // "a wart on the left, hind M1": a recogniser's comma.
        if let (Where::End(_), [foot], Some(Spot { half: Some(half @ Half::Side(_)), .. })) =
            (&place.feet, &feet[..], self.held.spots.first().copied())
            && self.held.used
            && self.complete(half, *foot)
        {
            self.held = Held { spots, used: true, item: Some(i) };
            return;
        }
        if place.group && feet.len() >= 2 {
            self.group.clone_from(&feet);
        } else if feet.len() == 1 && !self.group.contains(&feet[0]) {
            self.group.clear();
        }
        // Places in a row: "left front, right front, clean".
        let narrower = feet.iter().all(|f| self.run.contains(f));
        // "left one bad, right one clean": something was said of the first.
        let small = |w: &String| ["and", "the", "her", "on", "both"].contains(&w.as_str());
        // "wrap off left hind, right hind clean", "toe eighty left hind, right hind clean": the first is the deed's.
        let verdict = matches!(self.get(i + 1), Some(Phrase::Clear)) && self.gap(i + 1) <= Gap::Space;
        let parted = self.gap(i) > Gap::Comma || verdict;
        let of_deed = |place: usize| self.last_deed.is_some_and(|d| d + 1 == place) && parted;
        let of_measure = |place: usize| {
            let measure = matches!(
                place.checked_sub(1).and_then(|k| self.get(k)),
                Some(Phrase::Measure { .. } | Phrase::Amount { .. })
            );
            measure && self.gap(place) <= Gap::Space
        };
        let own = |place: usize| of_deed(place) || of_measure(place);
        let row = self.held.item.is_some_and(|h| h + 1 == i && !own(h)) && self.words_before(i).iter().all(small);
        if row && !self.held.used && !narrower {
            self.run.extend(feet.iter());
        } else {
            self.run = feet.clone();
        }
        if self.goes_on(i, &spots) {
            return;
        }
        // "wrap can come off Saturday, left hind": where that is.
        if i > 0
            && matches!(self.get(i - 1), Some(Phrase::Due { .. } | Phrase::OffAt(_) | Phrase::Time(_)))
            && self.gap(i) == Gap::Comma
            && self.get(i + 1).is_none_or(|_| self.gap(i + 1) == Gap::Stop)
        {
            self.out.told.extend(feet.iter().copied());
        }
        // "…, fronts clean": the verdict's, and no place of the lesion before.
        let verdict =
            matches!(self.get(i + 1), Some(Phrase::Clear)) && self.gap(i) > Gap::Space && self.gap(i + 1) <= Gap::Space;
        let waiting = !verdict && (!self.waiting_findings.is_empty() || !self.waiting_actions.is_empty());
        // "behind she's got heel erosion both sides, moderate": said once more of the lesion before.
        let of_last =
            |f: &Foot| self.out.findings.iter().any(|x| x.mention == self.mentions && x.spot.foot == Some(*f));
        let said_again = place.feet == Where::Both && place.claw.is_none() && feet.iter().all(of_last);
        self.done_there_too(i, place, &spots);
        if self.owned == Some(i) {
            // The claw named with a block is the block's own; only the foot goes on.
            for s in &mut spots {
                s.claw = self.held.spots.iter().find(|h| h.foot == s.foot).and_then(|h| h.claw);
            }
        }
        let used = said_again || self.owned == Some(i) && self.waiting_findings.is_empty();
        self.held = Held { spots: spots.clone(), used: waiting || used, item: Some(i) };
        if waiting {
            self.settle_waiting(&spots);
        }
    }

    /// "no block on a front today": of fronts in general. "White line, zone three. Right. Paring.": no side.
    fn is_said_by_the_way(&self, i: usize, place: &Place) -> bool {
        let foot = self.held.used && self.held.spots.iter().all(|s| s.foot.is_some());
        match place.feet {
            Where::End(_) => foot && self.led_last(i, &["a"]),
            Where::Side(_) => {
                foot && self.gap(i) == Gap::Stop
                    && self.gap(i + 1) == Gap::Stop
                    && self.items[i].span.of(self.text).eq_ignore_ascii_case("right")
                    && matches!(self.get(i + 1), None | Some(Phrase::Deed(_)))
            }
            _ => false,
        }
    }

    /// "block inner and the left hind, scald", "M two then the right front …": a foot with which what comes next begins,
    /// and not the place of what stands before it. (Not "and on the left hind".)
    pub(super) fn begins_anew(&self, k: usize) -> bool {
        const ON: [&str; 8] = ["on", "to", "in", "for", "at", "of", "from", "under"];
        let foot = self.get(k).and_then(Phrase::place).is_some_and(|p| p.feet != Where::Same);
        let Some(before) = k.checked_sub(1).filter(|_| foot) else { return false };
        let led = self.words(self.items[before].span.end, self.items[k].span.start);
        let first = led.first().map(String::as_str);
        let mut led = led.iter().rev().filter(|w| !["the", "her", "a"].contains(&w.as_str())).map(String::as_str);
        let (last, before_last) = (led.next(), led.next());
        const JOINS: [&str; 5] = ["and", "then", "next", "plus", "also"];
        // "wrapped and on the left front an ulcer", but "wart on the left hind and on the right hind"
        let on = last.is_some_and(|w| ON.contains(&w));
        if on {
            let placed = self.items[before].is.place().is_some();
            let joined = last == Some("on") && before_last.is_some_and(|w| JOINS.contains(&w));
            return !placed && (joined || self.is_led_on(k));
        }
        // "then the left front, sorry, left hind …"
        self.items[k].and || [first, last].iter().flatten().any(|w| JOINS.contains(w)) || self.is_led_on(k)
    }

    /// "trimmed and I had a look at the right hind", "rasped it so now for the left rear": a clause of its own leads to it.
    pub(super) fn is_led_on(&self, k: usize) -> bool {
        const GOES_ON: [&str; 15] = [
            "so", "then", "now", "next", "anyway", "while", "when", "but", "i", "i've", "we", "look", "there",
            "there's", "she",
        ];
        let led = self.words(self.items[k - 1].span.end, self.items[k].span.start);
        let first = led.first().is_some_and(|w| GOES_ON[..8].contains(&w.as_str()));
        first || led.len() > 2 && led.iter().any(|w| GOES_ON.contains(&w.as_str()))
    }

    /// "block inner right hind outer toe eighty", "sprayed the left rear wrap fell off": another foot than the lesion's in the
    /// hand, and right behind it what is told of it. (A lesion behind it is looked for by `place_is_taken`.)
    pub(super) fn begins_another(&self, k: usize) -> bool {
        let place = self.get(k).and_then(Phrase::place).filter(|p| p.feet != Where::Same && self.held.used);
        let spots = place.map_or_else(Vec::new, |p| self.spots(p));
        let [Spot { foot: Some(foot), .. }] = spots[..] else { return false };
        // "she had foot rot in the right front in January": the lesion's own.
        let lesion = k > 0 && matches!(self.items[k - 1].is, Phrase::Finding(_));
        if lesion && self.led_by(k, &["in", "on", "of"]) {
            return false;
        }
        let claw = usize::from(matches!(self.get(k + 1), Some(Phrase::Place(p)) if p.feet == Where::Same));
        let told = match self.get(k + 1 + claw) {
            Some(
                Phrase::Measure { .. }
                | Phrase::Part(_)
                | Phrase::Past
                | Phrase::Stays(_)
                | Phrase::Clear
                | Phrase::Not,
            ) => true,
            // "the wart is better M three right rear still raw M two"
            Some(Phrase::Course(_)) => matches!(self.get(k + 2 + claw), Some(Phrase::Stage(_) | Phrase::Finding(_))),
            // "block on the outside the left rear outer block inner"
            Some(Phrase::Deed(deed)) if deed.what == Act::Block && deed.claw.is_some() => {
                place.is_some_and(|p| p.one_claw().is_some()) || claw > 0
            }
            Some(Phrase::Deed(deed)) => matches!(deed.what, Act::Unblock | Act::Unwrap) && !deed.like_before,
            Some(Phrase::Finding(_) | Phrase::Stage(_)) => true,
            // "left rear she's three legged lame"
            _ => self.place_is_taken(k) || self.followed_first(k, &["she", "she's", "there's", "has", "is", "looks"]),
        };
        told && (k + 1..=k + 1 + claw).all(|k| self.gap(k) <= Gap::Space)
            && self.held.spots.iter().all(|s| s.foot.is_some_and(|f| f != foot))
            && self.out.findings.iter().all(|f| f.spot.foot != Some(foot))
    }

    /// Whether a foot stands at `k` that belongs to what comes next, by the words before it or by what is told behind it.
    pub(super) fn begins_next(&self, k: usize) -> bool {
        self.begins_anew(k) || self.begins_another(k)
    }

    /// Whether nobody looked at the place at `k`, by the words right behind it.
    pub(super) fn is_not_looked_at(&self, k: usize) -> bool {
        words::was_not_looked_at(words::behind(self.text, self.items[k].span.end as usize, NEARBY))
    }

    /// Whether a foot is named at `k` that is not the one in the hand.
    pub(super) fn names_another_foot(&self, k: usize) -> bool {
        let foot = self.get(k).and_then(Phrase::one_foot);
        foot.is_some_and(|foot| self.held.spots.iter().all(|s| s.foot.is_some_and(|f| f != foot)))
    }

    /// "white line right hind inner, zone two, and the left hind inner": the finding goes on at another place.
    pub(super) fn goes_on(&mut self, i: usize, spots: &[Spot]) -> bool {
        let Some(last) = self.last_finding_item else {
            return false;
        };
        let only_its_own = self.items[last + 1..i]
            .iter()
            .all(|it| matches!(it.is, Phrase::Place(_) | Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_)));
        // "right hind inner too, pared both": the deed is done to both.
        let deed_behind =
            self.too(i) && self.gap(i + 1) > Gap::Space && matches!(self.get(i + 1), Some(Phrase::Deed(_)));
        // "…, and the right hind outer wall has a horizontal crack"
        let part = matches!(self.get(i + 1), Some(Phrase::Part(_))) && self.gap(i + 1) <= Gap::Comma;
        // "…, and the right hind outer, sole four millimetres"
        let measured = matches!(self.get(i + 1), Some(Phrase::Part(_)))
            && matches!(self.get(i + 2), Some(Phrase::Measure { .. } | Phrase::Amount { .. } | Phrase::Number { .. }));
        // "…, and the right hind I only cleaned, nothing there"
        let only_clear = self.get(i + 1) == Some(&Phrase::Only) && self.get(i + 2) == Some(&Phrase::Clear);
        let claimed = self.finding_follows(i + 1)
            || only_clear
            || part && self.finding_follows(i + 2)
            || measured
            // "… and the right hind, two weeks ago swollen"
            || matches!(self.get(i + 1), Some(Phrase::Past | Phrase::Sign(_))) && self.gap(i + 1) <= Gap::Comma
            // "… and the left front, no, it isn't an ulcer, it's only a bruise"
            || self.get(i + 1) == Some(&Phrase::Not)
                && self.gap(i + 1) <= Gap::Comma
                && self.items[i + 1..].iter().take(4).any(|it| matches!(it.is, Phrase::Finding(_)))
            || !deed_behind
                && matches!(
                    self.get(i + 1),
                    Some(
                        Phrase::Clear
                            | Phrase::Stays(_)
                            | Phrase::Course(_)
                            | Phrase::Deed(_)
                            | Phrase::Same
                            | Phrase::Place(_)
                            | Phrase::Measure { .. }
                            | Phrase::Amount { .. }
                    )
                );
        if !((self.items[i].and || self.too(i)) && only_its_own && !claimed && self.waiting_findings.is_empty())
            // "… the same, and the fronts I didn't look at"
            || self.is_not_looked_at(i)
        {
            return false;
        }
        let Some(model) = self.out.findings.last().cloned() else {
            return false;
        };
        self.mentions += 1;
        let whole = spots.iter().map(|s| match (s.half, model.spot.foot) {
            (Some(Half::Side(side)), Some(foot)) if self.too(i) => {
                Spot { foot: Some(Foot::new(side, foot.end())), half: None, ..*s }
            }
            _ => *s,
        });
        let spots: Vec<Spot> = whole.collect();
        for s in &spots {
            let spot = Spot { claw: s.claw.or(if s.foot == model.spot.foot { None } else { model.spot.claw }), ..*s };
            self.out.findings.push(DraftFinding { spot, zones: vec![], mention: self.mentions, ..model.clone() });
        }
        self.held = Held { spots, used: true, item: Some(i) };
        self.last_finding_item = Some(i);
        true
    }

    /// "… left hind, the right too"
    pub(super) fn too(&self, i: usize) -> bool {
        let after = self.text.get(self.items[i].span.end as usize..).unwrap_or_default();
        // "left too" may have been taken for the foot as a whole.
        let within = self.items[i].span.of(self.text).to_lowercase().ends_with(" too");
        // "left one too dirty to stage"
        const STATES: [&str; 9] = ["dirty", "sore", "mucky", "lame", "bad", "far", "muddy", "filthy", "swollen"];
        let word = after.strip_prefix(" too ").and_then(|rest| rest.split([' ', ',', '.']).next());
        if word.is_some_and(|w| STATES.contains(&w)) {
            return false;
        }
        within
            || [" too", " as well", " also", " now too", " now as well"].iter().any(|w| {
                after.strip_prefix(w).is_some_and(|rest| rest.is_empty() || rest.starts_with([',', '.', ';', ' ']))
            })
    }

    pub(super) fn settle_waiting(&mut self, spots: &[Spot]) {
        let waiting = std::mem::take(&mut self.waiting_findings);
        // Later ones first, so that indices hold while one finding becomes several.
        for at in waiting.into_iter().rev() {
            if at >= self.out.findings.len() {
                continue;
            }
            let one = self.out.findings.remove(at);
            for (k, s) in spots.iter().enumerate() {
                let mut f = one.clone();
                f.spot = Spot { claw: one.spot.claw.or(s.claw), ..*s };
                self.out.findings.insert(at + k, f);
            }
            self.place_after = true;
        }
        let waiting = std::mem::take(&mut self.waiting_actions);
        for at in waiting.into_iter().rev() {
            if at >= self.out.actions.len() {
                continue;
            }
            let one = self.out.actions.remove(at);
            for (k, s) in spots.iter().enumerate() {
                let mut a = one.clone();
                // "block off, sole ulcer left hind outer healed": the claw is the lesion's.
                let devices = matches!(one.deed.what, Act::Block | Act::Unblock | Act::Wrap | Act::Unwrap);
                a.spot = Spot { claw: s.claw.filter(|_| !devices), ..*s };
                self.out.actions.insert(at + k, a);
            }
        }
    }
}
