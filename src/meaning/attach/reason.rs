//! What was done, foot by foot, each with its reason: "wrapped the right hind for a wart and the left for foul".

use super::Pass;
use super::claw::tells_why;
use crate::entry::Act;
use crate::grammar::{ClawWord, Phrase, Place, Where};
use crate::meaning::draft::{DraftAction, Spot};
use crate::words::Gap;

impl Pass<'_> {
    /// Whether the lesion at `i` is why something was done at the place right before it: that place is the lesion's as well.
    pub(super) fn is_reason_there(&self, i: usize) -> bool {
        let foot = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if p.feet != Where::Same);
        i > 0 && foot(i - 1) && self.gap(i) <= Gap::Space && tells_why(&self.words_before(i))
    }

    /// The deed was done at the place `i` too, which has a reason of its own.
    pub(super) fn done_there_too(&mut self, i: usize, place: &Place, spots: &[Spot]) {
        let placed = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if p.feet != Where::Same);
        let reason = |k: usize| matches!(self.get(k), Some(Phrase::Finding(_))) && self.is_reason_there(k);
        let joined = self.items[i].and || self.gap(i) == Gap::Comma;
        let Some(at) = self.last_deed.filter(|at| joined && reason(i + 1) && placed(at + 1) && reason(at + 2)) else {
            return;
        };
        let deed = |k: usize| matches!(self.items[k].is, Phrase::Deed(_));
        let Some(model) = self.out.actions.last().filter(|a| a.span == self.items[at].span).cloned() else { return };
        if (at + 1..i).any(deed) || spots.iter().any(|s| s.foot == model.spot.foot) {
            return;
        }
        for spot in spots {
            let own = spot.claw.map(ClawWord::One).filter(|_| model.deed.what == Act::Block);
            let claw = spot.claw.filter(|_| model.deed.what.is_knife_work());
            self.out.actions.push(DraftAction { spot: Spot { claw, ..*spot }, own, ..model.clone() });
        }
        // The claw named with a block is the block's own.
        if model.deed.what == Act::Block && place.one_claw().is_some() {
            self.owned = Some(i);
        }
    }
}
