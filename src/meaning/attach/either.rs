//! A place told as this or that: "left hind or right hind", "outer or inner". What the two share holds, the rest is asked.

use super::{Held, Pass};
use crate::anatomy::{Claw, Foot};
use crate::entry::Act;
use crate::grammar::{ClawWord, Phrase, Place, Where};
use crate::meaning::draft::{Half, Spot};
use crate::words::Gap;

/// Words that may stand before the second of two: "or was it on the right".
const LEADS: [&str; 11] = ["or", "was", "were", "is", "it", "on", "the", "her", "in", "actually", "that"];

impl Pass<'_> {
    /// Whether the place at `i` is the second of two of which one is meant; takes it in.
    pub(super) fn this_or_that(&mut self, i: usize, place: &Place) -> bool {
        self.this_or_that_claw(i, place) || self.this_or_that_foot(i, place) || self.or_that_foot(i, place)
    }

    /// "ulcer, outer or inner", "outer ulcer, or was it inner", "outer ulcer, maybe the inner as well"
    fn this_or_that_claw(&mut self, i: usize, place: &Place) -> bool {
        let (Where::Same, Some(claw)) = (&place.feet, place.claw.and_then(ClawWord::one)) else { return false };
        // "block on the inner or maybe outer"
        let hedge = usize::from(i > 1 && self.get(i - 1) == Some(&Phrase::Hedge));
        let or = self.items[i].or || hedge > 0 && self.led_by(i - 1, &["or"]);
        // "might be outer, might be inner"
        let both_hedged = hedge > 0
            && i > 2
            && self.get(i - 3) == Some(&Phrase::Hedge)
            && matches!(self.get(i - 2), Some(Phrase::Place(p)) if p.one_claw().and_then(ClawWord::one) == Some(claw.partner()));
        if both_hedged && self.gap(i) <= Gap::Space && self.gap(i - 1) <= Gap::Comma {
            self.held.spots.iter_mut().for_each(|s| s.claw = None);
            self.last_mention().filter(|f| f.spot.claw == Some(claw.partner())).for_each(|f| f.spot.claw = None);
            return true;
        }
        if i == 0 || !or || self.gap(i) > Gap::Space {
            return self.or_that_claw(i, claw);
        }
        let first = |p: &Place| p.one_claw().and_then(ClawWord::one) == Some(claw.partner());
        match self.get(i - 1 - hedge) {
            // "block on the outer or inner"
            Some(Phrase::Deed(d)) if d.what == Act::Block && d.claw.is_some() => {
                let span = self.items[i - 1 - hedge].span;
                self.out.actions.iter_mut().filter(|a| a.span == span).for_each(|a| a.own = Some(ClawWord::Both));
            }
            Some(Phrase::Place(p)) if first(p) => {
                self.held.spots.iter_mut().for_each(|s| s.claw = None);
                // Told behind the lesion, the first of them is its claw by now.
                if self.last_finding_item == i.checked_sub(2 + hedge) {
                    self.last_mention().for_each(|f| f.spot.claw = None);
                }
            }
            _ => return self.or_that_claw(i, claw),
        }
        true
    }

    /// "outer ulcer, or was it inner", "outer ulcer, maybe the inner as well"
    fn or_that_claw(&mut self, i: usize, claw: Claw) -> bool {
        if !self.is_doubted_place(i) {
            return false;
        }
        let Some(model) = self.out.findings.last().cloned() else { return false };
        if self.last_mention().count() != 1 || model.spot.claw == Some(claw) {
            return false;
        }
        if self.too(i) {
            self.push_unsure(i, Spot { claw: Some(claw), ..model.spot });
        } else {
            self.last_mention().for_each(|f| f.spot.claw = None);
            self.held.spots.iter_mut().for_each(|s| s.claw = None);
        }
        true
    }

    /// `LH or RH`: the end or the side that the two share holds, and which foot it is is asked.
    fn this_or_that_foot(&mut self, i: usize, place: &Place) -> bool {
        // As two places, or as a list of two.
        let or = || self.items[i].span.of(self.text).to_lowercase().contains(" or ");
        let (first, second) = match &place.feet {
            Where::Feet(feet) if feet.len() == 2 && or() => (
                Spot { foot: Some(feet[0].0), half: None, claw: place.claw.and_then(ClawWord::one) },
                (feet[1].0, place.claw),
            ),
            _ => match (&self.held.spots[..], self.one_foot(place)) {
                ([first], Some(second)) if self.items[i].or && self.held.item == i.checked_sub(1) => (*first, second),
                _ => return false,
            },
        };
        let claw = second.1.and_then(ClawWord::one);
        let shared = match (first.foot, first.half) {
            (Some(first), _) => shared(first, second.0),
            // "front or hind left"
            (None, Some(Half::End(end))) if end != second.0.end() => Some(Half::Side(second.0.side())),
            _ => None,
        };
        let Some(half) = shared else { return false };
        let spot =
            Spot { foot: None, half: Some(half), claw: claw.filter(|_| first.claw.is_none_or(|c| Some(c) == claw)) };
        // "wart left hind or right hind": told behind the lesion, the first of them is its foot by now.
        let behind = self.held.used && self.last_finding_item == i.checked_sub(2);
        if behind {
            self.last_mention().filter(|f| f.spot.foot == first.foot).for_each(|f| f.spot = spot);
        }
        self.held = Held { spots: vec![spot], used: behind, item: Some(i) };
        self.run.clear();
        true
    }

    /// The one foot a place means; "or right" behind the left hind is the right hind.
    fn one_foot(&self, place: &Place) -> Option<(Foot, Option<ClawWord>)> {
        let whole = || match (&place.feet, &self.spots(place)[..]) {
            (Where::Side(_) | Where::End(_), [Spot { foot: Some(foot), .. }]) => Some((*foot, place.claw)),
            _ => None,
        };
        place.one_foot().or_else(whole)
    }

    /// "left hind wart, or was it the right", "left hind wart, possibly right too", "warts on both hinds, maybe only the left"
    fn or_that_foot(&mut self, i: usize, place: &Place) -> bool {
        if place.feet == Where::Same || !self.is_doubted_place(i) {
            return false;
        }
        let spots = self.spots(place);
        let doubted = |f: Foot| spots.iter().any(|s| s.foot == Some(f));
        let named: Vec<Foot> = self.last_mention().filter_map(|f| f.spot.foot).collect();
        let Some(model) = self.out.findings.last().cloned() else { return false };
        match (&named[..], &spots[..]) {
            ([first], [Spot { foot: Some(second), claw, .. }]) => {
                let Some(half) = shared(*first, *second) else { return false };
                let claw = claw.or(model.spot.claw);
                if self.too(i) {
                    self.push_unsure(i, Spot { foot: Some(*second), half: None, claw });
                } else {
                    let spot = Spot { foot: None, half: Some(half), claw };
                    self.last_mention().for_each(|f| f.spot = spot);
                    self.held = Held { spots: vec![spot], used: true, item: Some(i) };
                }
            }
            // "wart left hind, possibly both hinds"
            ([first], [_, _, ..]) if doubted(*first) => {
                let spots = spots.into_iter().filter(|s| s.foot != Some(*first));
                spots.for_each(|s| self.push_unsure(i, Spot { claw: s.claw.or(model.spot.claw), ..s }));
            }
            // "warts on both hinds, maybe only the left": the others may have none.
            ([_, _, ..], [Spot { foot: Some(kept), .. }]) if named.contains(kept) => {
                self.last_mention().filter(|f| f.spot.foot != Some(*kept)).for_each(|f| f.unsure = true);
            }
            _ => return false,
        }
        true
    }

    /// Whether "or" or "maybe" leads to the place at `i`, right behind a lesion, and no other lesion follows.
    fn is_doubted_place(&self, i: usize) -> bool {
        let told = |k: usize| {
            matches!(self.get(k), Some(Phrase::Finding(_) | Phrase::Stage(_) | Phrase::Zones(_) | Phrase::Severity(_)))
        };
        let led = self.words_before(i);
        // "maybe only the left"
        let only = usize::from(i > 1 && self.get(i - 1) == Some(&Phrase::Only) && self.gap(i) <= Gap::Space);
        let hedge = only + usize::from(i > only && self.get(i - 1 - only) == Some(&Phrase::Hedge));
        let or = led.iter().any(|w| w == "or") || hedge > only && self.led_by(i - hedge, &["or"]);
        let another = told(i + 1) && self.gap(i + 1) <= Gap::Space;
        // Its own place may stand between.
        let own = |at: usize| usize::from(matches!(self.get(at + 1), Some(Phrase::Place(_))) && at + 1 < i - hedge);
        let lesion = self.last_finding_item.is_some_and(|at| (at + 1 + own(at)..i - hedge).all(told));
        (or || hedge > only)
            && lesion
            && !another
            && self.gap(i) <= Gap::Comma
            && self.gap(i - hedge) <= Gap::Comma
            && led.iter().all(|w| LEADS.contains(&w.as_str()))
    }

    /// The lesion named last, at one more place where it may be.
    fn push_unsure(&mut self, i: usize, spot: Spot) {
        let Some(mut more) = self.out.findings.last().map(|f| f.again_at(spot, self.mentions + 1)) else { return };
        self.mentions += 1;
        more.unsure = true;
        self.out.findings.push(more);
        self.last_finding_item = Some(i);
        self.held = Held { spots: vec![spot], used: true, item: Some(i) };
    }
}

/// The end or the side that two feet share.
fn shared(first: Foot, second: Foot) -> Option<Half> {
    if first == second {
        None
    } else if first.end() == second.end() {
        Some(Half::End(first.end()))
    } else if first.side() == second.side() {
        Some(Half::Side(first.side()))
    } else {
        None
    }
}
