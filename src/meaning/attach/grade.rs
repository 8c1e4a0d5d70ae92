//! Zones, severities and stages: which finding they belong to.

use super::Pass;
use crate::anatomy::{Claw, Foot, LAST_ZONE, Side};
use crate::disorder::{Disorder, Stage};
use crate::grammar::{ClawWord, Named, Phrase, Place, Where};
use crate::meaning::draft::{DraftFinding, LooseNumber, Spot};
use crate::words::{self, Gap, Span};

impl Pass<'_> {
    /// Whether what stands at `i` belongs to the finding right after it.
    pub(super) fn for_next(&self, i: usize) -> bool {
        // "haemorrhage right hind, mild and a wart on the left hind": the one before.
        let and = (self.is_joined(i + 1) || self.led_first(i + 1, &["with", "w"])) && !self.out.findings.is_empty();
        // "thin sole left hind outer severe bruise right hind outer mild": the next one has its own.
        if !self.out.findings.is_empty() && self.next_has_its_own(i) {
            return false;
        }
        // "heel erosion and a mild M1": the stage is a wart's.
        let other = self.out.findings.last().is_some_and(|f| f.named != Named::Disorder(Disorder::DD));
        let wart = other
            && matches!(self.get(i), Some(Phrase::Severity(_)))
            && matches!(self.get(i + 1), Some(Phrase::Stage(_)));
        let directly =
            (wart || matches!(self.get(i + 1), Some(Phrase::Finding(_)))) && self.gap(i + 1) <= Gap::Space && !and;
        let through = matches!(
            self.get(i + 1),
            Some(Phrase::Severity(_) | Phrase::Course(_) | Phrase::Stage(_) | Phrase::Zones(_))
        ) && self.gap(i + 1) <= Gap::Space
            && matches!(self.get(i + 2), Some(Phrase::Finding(_)))
            && self.gap(i + 2) <= Gap::Space
            && !and
            && (self.out.findings.is_empty() || !self.is_joined(i + 2));
        let after_finding = i > 0
            && self.gap(i) <= Gap::Space
            && matches!(self.get(i - 1), Some(Phrase::Finding(_) | Phrase::Zones(_) | Phrase::Stage(_)))
            && !self.items[i].and;
        (directly || through) && !after_finding && !self.is_told_behind(i)
    }

    /// Whether "and", "then" or "plus" leads to the item at `k`.
    fn is_joined(&self, k: usize) -> bool {
        self.items.get(k).is_some_and(|it| it.and) || self.led_first(k, &["then", "plus"])
    }

    /// Whether the finding that comes next, in the same breath and without a pause, has a word of the kind of item `i` behind
    /// it.
    fn next_has_its_own(&self, i: usize) -> bool {
        let kind = |k: usize| self.get(k).map(std::mem::discriminant);
        let modifier = |k: usize| {
            matches!(
                self.get(k),
                Some(Phrase::Severity(_) | Phrase::Course(_) | Phrase::Stage(_) | Phrase::Zones(_) | Phrase::Place(_))
            )
        };
        let close = |k: usize| self.gap(k) <= Gap::Space;
        let Some(lesion) = (i + 1..self.items.len()).find(|k| !modifier(*k)).filter(|k| (i + 1..=*k).all(close)) else {
            return false;
        };
        let place_between = (i + 1..lesion).any(|k| matches!(self.get(k), Some(Phrase::Place(_))));
        if place_between || !matches!(self.get(lesion), Some(Phrase::Finding(_))) {
            return false;
        }
        let mut behind = (lesion + 1..self.items.len()).take_while(|k| close(*k) && modifier(*k));
        behind.any(|k| kind(k) == kind(i))
    }

    /// "wart right front gone wart left hind still there": a course behind the foot of its lesion, where the next lesion
    /// has its own behind its foot, or where it is no adjective.
    fn is_told_behind(&self, i: usize) -> bool {
        let course = |k: usize| matches!(self.get(k), Some(Phrase::Course(_) | Phrase::Lost));
        let foot = |k: usize| {
            matches!(self.get(k), Some(Phrase::Place(p)) if p.one_foot().is_some()) && self.gap(k) <= Gap::Space
        };
        let behind = i > 1 && course(i) && foot(i - 1) && matches!(self.get(i - 2), Some(Phrase::Finding(_)));
        let said = self.items[i].span.of(self.text).to_lowercase();
        let verb = said.starts_with("gone") || said.starts_with("is ") || self.led_last(i, &["is", "has", "now"]);
        // "still open", "worse": nobody says it before the name.
        let verb = verb || said.starts_with("still ") || said.split(' ').any(|w| ["worse", "better"].contains(&w));
        let next_has = foot(i + 2) && (course(i + 3) || matches!(self.get(i + 3), Some(Phrase::Stays(None))));
        // "old ulcer left hind outer healed new ulcer right hind outer"
        let anew = self.led_first(i + 1, &["new", "another", "fresh"]);
        behind && (verb || anew || next_has && self.gap(i + 3) <= Gap::Space)
    }

    pub(super) fn last_mention(&mut self) -> impl Iterator<Item = &mut DraftFinding> {
        let mention = self.out.findings.last().map(|f| f.mention);
        self.out.findings.iter_mut().filter(move |f| Some(f.mention) == mention)
    }

    /// "left hind ulcer, severe, right hind outer, mild": a modifier at a new place with no finding of its own
    /// makes the finding before it go on there.
    fn goes_on_here(&mut self, i: usize) {
        if !self.new_place_since() || self.finding_follows(i + 1) || !self.waiting_findings.is_empty() {
            return;
        }
        let Some(model) = self.out.findings.last().cloned() else { return };
        if !self.held.spots.iter().all(|s| s.foot.is_some()) {
            return;
        }
        self.mentions += 1;
        for spot in self.held.spots.clone() {
            self.out.findings.push(model.again_at(spot, self.mentions));
        }
        self.held.used = true;
        self.last_finding_item = Some(i);
    }

    /// The two claws, one behind item `i` and one behind item `i + 2`, where both are said with no comma before them.
    fn claws_by_turns(&self, i: usize) -> Option<(Claw, Claw)> {
        let claw = |k: usize| match self.get(k) {
            Some(Phrase::Place(p)) if p.feet == Where::Same && self.gap(k) <= Gap::Space => {
                p.claw.and_then(ClawWord::one)
            }
            _ => None,
        };
        let (first, second) = (claw(i + 1)?, claw(i + 3)?);
        (first != second && self.gap(i + 2) <= Gap::Comma).then_some((first, second))
    }

    /// "white line separation, zone two on the lateral, zone three on the medial": a lesion on each claw. Gives the index of
    /// the next item to read.
    pub(super) fn zones_by_claw(&mut self, i: usize, zones: &[u8]) -> Option<usize> {
        let (first, second) = self.claws_by_turns(i)?;
        let Some(Phrase::Zones(others)) = self.get(i + 2).cloned() else { return None };
        if !self.last_mention().all(|f| f.zones.is_empty()) {
            return None;
        }
        // "white line both claws, zone three on the outer and zone two on the inner"
        if self.is_on_both_claws() {
            for f in self.last_mention() {
                f.zones = if f.spot.claw == Some(first) { zones.to_vec() } else { others.clone() };
            }
            self.owned = Some(i + 3);
            return Some(i + 4);
        }
        if self.out.findings.last().is_none_or(|f| f.spot.claw.is_some()) {
            return None;
        }
        let models: Vec<DraftFinding> = self.last_mention().map(|f| f.clone()).collect();
        for f in self.last_mention() {
            (f.spot.claw, f.zones) = (Some(first), zones.to_vec());
        }
        self.mentions += 1;
        for model in models {
            let spot = Spot { claw: Some(second), ..model.spot };
            self.out.findings.push(DraftFinding { spot, zones: others.clone(), mention: self.mentions, ..model });
        }
        Some(i + 4)
    }

    /// Whether the last lesion was named on both claws.
    fn is_on_both_claws(&mut self) -> bool {
        let claws: Vec<Claw> = self.last_mention().filter_map(|f| f.spot.claw).collect();
        claws.contains(&Claw::Outer) && claws.contains(&Claw::Inner)
    }

    /// "ulcers both claws, mild on the outer, moderate on the inner"
    pub(super) fn grades_by_claw(&mut self, i: usize) -> bool {
        let Some((first, _)) = self.claws_by_turns(i) else { return false };
        let (Phrase::Severity(a), Phrase::Severity(b)) = (&self.items[i].is, &self.items[i + 2].is) else {
            return false;
        };
        let (a, b) = (*a, *b);
        if !(self.last_mention().all(|f| f.severity.is_none()) && self.is_on_both_claws()) {
            return false;
        }
        for f in self.last_mention() {
            f.severity = Some(if f.spot.claw == Some(first) { a } else { b });
        }
        self.owned = Some(i + 3);
        true
    }

    /// The claw right before a zone, where the lesion is on both and has no zone there.
    fn claw_before_zone(&mut self, i: usize) -> Option<Claw> {
        let Some(Phrase::Place(place)) = i.checked_sub(1).and_then(|k| self.get(k)) else { return None };
        let claw = place.claw.and_then(ClawWord::one).filter(|_| place.feet == Where::Same)?;
        let close = self.gap(i) <= Gap::Space && self.gap(i - 1) > Gap::Space;
        let open = self.last_mention().any(|f| f.spot.claw == Some(claw) && f.zones.is_empty());
        let other = self.last_mention().any(|f| f.spot.claw == Some(claw.partner()));
        (close && open && other).then_some(claw)
    }

    pub(super) fn zones(&mut self, i: usize, zones: &[u8]) {
        let has = self.out.findings.last().is_some_and(|f| !f.zones.is_empty());
        // "left hind bruise, right hind inner, zone four, sole ulcer"
        let elsewhere = self.new_place_since() && self.finding_follows(i + 1) && self.gap(i + 1) <= Gap::Comma;
        let next_wants = elsewhere
            || self.for_next(i)
                && (has || self.out.findings.is_empty() || self.gap(i) > Gap::Space || self.new_place_since());
        if next_wants || self.out.findings.is_empty() {
            let span = self.items[i].span;
            let or = self.words(span.start, span.end).iter().any(|w| w == "or");
            self.zone_or = if let ([_, second], true) = (zones, or) { Some(*second) } else { None };
            self.zones = Some((zones.to_vec(), span));
            return;
        }
        // "both claws, white line, outer zone three, inner zone two"
        if let Some(claw) = self.claw_before_zone(i) {
            self.last_mention().filter(|f| f.spot.claw == Some(claw)).for_each(|f| f.zones = zones.to_vec());
            return;
        }
        // "zone two on the left, zone three on the right"
        if let Some(feet) = self.narrowed_to(i).filter(|_| !self.goes_by_turns(i + 1)) {
            self.narrowed(&feet, |f| f.zones = zones.to_vec());
            return;
        }
        // "white line zone two right hind outer, zone three left hind outer"
        if has && self.goes_on_behind(i, None, zones) {
            return;
        }
        self.goes_on_here(i);
        // "zone two or three": which is asked.
        let span = self.items[i].span;
        if let ([first, second], Some(finding)) = (zones, self.out.findings.last())
            && self.words(span.start, span.end).iter().any(|w| w == "or")
        {
            let after = Some((*first, finding.span));
            self.out.loose_numbers.push(LooseNumber { span, after, or: Some(*second), tag: None });
            return;
        }
        // "same on the right but zone three": in the place of the zone before.
        if self.same_but(i) || self.same_and(i) {
            for f in self.last_mention() {
                f.zones = zones.to_vec();
            }
            return;
        }
        for f in self.last_mention() {
            for z in zones {
                if !f.zones.contains(z) {
                    f.zones.push(*z);
                }
            }
        }
    }

    /// Whether a foot was named since the last finding, and no finding has taken it.
    pub(super) fn new_place_since(&self) -> bool {
        !self.held.used && self.held.item.is_some()
    }

    /// Whether a change follows "same on the right but".
    pub(super) fn same_but(&self, i: usize) -> bool {
        i > 0
            && self.get(i - 1) == Some(&Phrase::Only)
            && (i.saturating_sub(4)..i - 1).any(|k| self.get(k) == Some(&Phrase::Same))
            && !self.finding_follows(i + 1)
    }

    /// Whether "same" and its place stand right before.
    fn same_and(&self, i: usize) -> bool {
        let at = if i > 1 && matches!(self.get(i - 1), Some(Phrase::Place(_))) { 2 } else { 1 };
        i >= at && self.get(i - at) == Some(&Phrase::Same)
    }

    /// Feet of a place right after item `i` that are some, not all, of the feet of the last finding:
    /// "grade two on the near and grade one on the off".
    pub(super) fn narrowed_to(&self, i: usize) -> Option<Vec<Foot>> {
        let mention = self.out.findings.last()?.mention;
        let all: Vec<Foot> =
            self.out.findings.iter().filter(|f| f.mention == mention).filter_map(|f| f.spot.foot).collect();
        // "zone five only on the right"
        let said = |k: usize| self.items[k].span.of(self.text).eq_ignore_ascii_case("only");
        let only = self.get(i + 1) == Some(&Phrase::Only) && self.gap(i + 1) <= Gap::Space && said(i + 1);
        let only = usize::from(only);
        let i = i + only;
        // "left better right the same"
        let kind = |k: usize| self.get(k).map(std::mem::discriminant);
        let before = i > 0
            && !self.items[i].and
            && (i < 2 || kind(i - 2) != kind(i))
            && self.gap(i) <= Gap::Space
            && self.new_place_since()
            && match self.get(i - 1) {
                Some(Phrase::Place(p)) => match &p.feet {
                    Where::Side(_) => true,
                    // "both rears DD, LR M3 RR M2"
                    Where::Feet(feet) => matches!(feet[..], [(foot, None)] if all.contains(&foot)),
                    _ => false,
                },
                _ => false,
            };
        let place = match self.get(i + 1) {
            _ if before => self.held.spots.clone(),
            // "the left one is mild and the right one severe": the right is spoken of next.
            Some(Phrase::Place(p))
                if p.feet != Where::Same
                    && (self.gap(i + 1) <= Gap::Space || self.is_second_by_turns(i))
                    && !(self.items[i + 1].and && (self.new_place_since() || self.place_is_taken(i + 1))) =>
            {
                self.spots(p)
            }
            // "left healed, right still open"
            _ if self.new_place_since() && !self.finding_follows(i + 1) => self.held.spots.clone(),
            _ => return None,
        };
        let feet: Vec<Foot> = place.iter().filter_map(|s| s.foot).collect();
        (!feet.is_empty() && feet.len() < all.len() && feet.iter().all(|f| all.contains(f))).then_some(feet)
    }

    /// "warts on both backs, M four, left M four point one, right": a recogniser's commas, which set the sides before the
    /// stages that they stand behind. Tells whether it is so.
    pub(super) fn sides_behind_commas(&mut self, i: usize) -> bool {
        let side = |k: usize| match self.get(k) {
            Some(Phrase::Place(Place { feet: Where::Side(side), claw: None, .. })) if self.gap(k) == Gap::Comma => {
                Some(*side)
            }
            _ => None,
        };
        let (Some(first), Some(second)) = (side(i + 1), side(i + 3)) else { return false };
        let last = self.gap(i + 2) <= Gap::Space && self.gap(i + 4) > Gap::Space;
        if first == second || !last {
            return false;
        }
        let (a, b) = match (&self.items[i].is, &self.items[i + 2].is) {
            (Phrase::Stage(a), Phrase::Stage(b)) => ((Some(*a), None), (Some(*b), None)),
            (Phrase::Severity(a), Phrase::Severity(b)) => ((None, Some(*a)), (None, Some(*b))),
            _ => return false,
        };
        let open = |f: &DraftFinding| f.stage.is_none() && f.severity.is_none();
        let both = |s: Side| {
            self.out.findings.iter().any(|f| f.mention == self.mentions && f.spot.foot.is_some_and(|x| x.side() == s))
        };
        if !(both(first) && both(second) && self.last_mention().all(|f| open(f))) {
            return false;
        }
        for f in self.last_mention() {
            let (stage, severity) = if f.spot.foot.is_some_and(|x| x.side() == first) { a } else { b };
            (f.stage, f.severity) = (stage, severity);
        }
        self.owned = Some(i + 3);
        true
    }

    /// "M two on the right, M four, on the left": a recogniser's comma before the second side.
    fn is_second_by_turns(&self, i: usize) -> bool {
        let side = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if matches!(p.feet, Where::Side(_)));
        let like = |k: usize| self.get(k).map(std::mem::discriminant);
        i >= 2
            && side(i - 1)
            && side(i + 1)
            && like(i - 2) == like(i)
            && self.gap(i + 1) == Gap::Comma
            && self.gap(i + 2) > Gap::Space
    }

    /// "heel erosion left hind, moderate, severe right hind": the lesion goes on at the place behind its severity, or
    /// behind its zone.
    fn goes_on_behind(&mut self, i: usize, severity: Option<u64>, zones: &[u8]) -> bool {
        let Some(Phrase::Place(place)) = self.get(i + 1).cloned() else { return false };
        let paused = self.gap(i) > Gap::Space || self.items[i].and;
        let apart = paused && self.gap(i + 1) <= Gap::Space && place.feet != Where::Same;
        let spots = self.spots(&place);
        let elsewhere =
            |s: &Spot| s.foot.is_some_and(|foot| self.out.findings.iter().all(|f| f.spot.foot != Some(foot)));
        if !apart || self.place_is_taken(i + 1) || !spots.iter().all(elsewhere) {
            return false;
        }
        let Some(model) = self.out.findings.last().cloned() else { return false };
        self.mentions += 1;
        let blank = DraftFinding { zones: vec![], stage: None, course: None, mention: self.mentions, ..model };
        for spot in spots {
            self.out.findings.push(DraftFinding { spot, severity, zones: zones.to_vec(), ..blank.clone() });
        }
        self.owned = Some(i + 1);
        self.last_finding_item = Some(i);
        true
    }

    /// Tells something of the last lesion on these of its feet, with the claw that was named with the foot: "ulcers both
    /// hinds, left outer healed, right outer open".
    pub(super) fn narrowed(&mut self, feet: &[Foot], tell: impl Fn(&mut DraftFinding)) {
        let held = self.held.spots.clone();
        for f in self.last_mention().filter(|f| f.spot.foot.is_some_and(|x| feet.contains(&x))) {
            f.spot.claw = f.spot.claw.or_else(|| held.iter().find(|s| s.foot == f.spot.foot)?.claw);
            tell(f);
        }
    }

    pub(super) fn severity(&mut self, i: usize, grade: u64) {
        if let Some(feet) = self.narrowed_to(i) {
            self.narrowed(&feet, |f| f.severity = Some(grade));
            // "severe on the right, the fronts are good": that place is told of.
            let place = |k: usize| matches!(self.get(k), Some(Phrase::Place(_)));
            let before = i > 0 && place(i - 1) && self.gap(i) <= Gap::Space;
            if !before && place(i + 1) && self.gap(i + 1) <= Gap::Space {
                self.owned = Some(i + 1);
            }
            return;
        }
        if self.of_both(i, grade) {
            return;
        }
        let has = self.out.findings.last().is_some_and(|f| f.severity.is_some());
        if has && self.goes_on_behind(i, Some(grade), &[]) {
            return;
        }
        if self.for_next(i)
            || self.out.findings.is_empty()
            || ((self.new_place_since() || has) && self.finding_follows(i + 1))
        {
            self.severity = Some((grade, self.items[i].span));
            return;
        }
        self.goes_on_here(i);
        for f in self.last_mention() {
            f.severity = Some(grade);
        }
    }

    /// Whether "all round" stands right behind, and several lesions were named before.
    fn is_all_round(&self, i: usize) -> bool {
        let all =
            matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.group && self.spots(p).len() == Foot::ALL.len());
        let several = self.new_place_since() || self.out.findings.iter().any(|f| f.mention != self.mentions);
        all && several && self.gap(i + 1) <= Gap::Space && self.gap(i + 2) > Gap::Space
    }

    /// `LHO SHC, RHO SHD, both gr 1`, "…, mild both": of each foot's own lesion.
    fn of_both(&mut self, i: usize, grade: u64) -> bool {
        let pair =
            |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if p.feet == Where::Both && p.claw.is_none());
        let behind =
            self.gap(i) > Gap::Space && pair(i + 1) && self.gap(i + 1) <= Gap::Space && self.gap(i + 2) > Gap::Space;
        let both = behind || i > 0 && pair(i - 1);
        let feet: Vec<Foot> =
            if behind { self.both() } else { self.held.spots.iter().filter_map(|s| s.foot).collect() };
        let open = |f: &DraftFinding| f.severity.is_none() && f.spot.foot.is_some_and(|foot| feet.contains(&foot));
        let each = |foot: &Foot| self.out.findings.iter().any(|f| open(f) && f.spot.foot == Some(*foot));
        // "both fronts have heel erosion, both hinds too, grade one all round"
        if self.is_all_round(i) && self.out.findings.iter().all(|f| f.severity.is_none()) {
            self.goes_on_here(i);
            self.out.findings.iter_mut().for_each(|f| f.severity = Some(grade));
            self.used_up = Some(i + 1);
            return true;
        }
        if !both || !behind && self.gap(i) > Gap::Space || self.finding_follows(i + 1) || !feet.iter().all(each) {
            return false;
        }
        for f in self.out.findings.iter_mut().filter(|f| open(f)) {
            f.severity = Some(grade);
        }
        self.held.used = true;
        true
    }

    pub(super) fn stage(&mut self, i: usize, stage: Stage, span: Span) {
        // "wart right hind M three and wart right front M two": the one before has none yet.
        let open = |f: &DraftFinding| f.named == Named::Disorder(Disorder::DD) && f.stage.is_none();
        let joined = self.is_joined(i + 1);
        let of_before = self.out.findings.last().is_some_and(open)
            && !self.new_place_since()
            && self.gap(i) <= Gap::Space
            && (joined || self.next_has_its_own(i));
        if matches!(self.get(i + 1), Some(Phrase::Finding(Named::Disorder(Disorder::DD))))
            && self.gap(i + 1) <= Gap::Space
            && !of_before
        {
            self.stage = Some(stage);
            return;
        }
        // "it was M two when I wrapped it last Thursday": as it was then.
        if self.led_last(i, &["was"]) && self.followed_first(i, &["when"]) {
            self.remark_of(i);
            return;
        }
        // "wrapped the M2 only": one that was spoken of.
        let known = self.out.findings.iter().any(|f| f.stage == Some(stage));
        if known && i > 0 && matches!(self.get(i - 1), Some(Phrase::Deed(_))) && self.gap(i) <= Gap::Space {
            let the = self.words(self.items[i - 1].span.end, span.start);
            if the.iter().any(|w| w == "the") {
                return;
            }
        }
        // "wart left hind and the same on the right, M two the both of them"
        let all = |p: &Place| p.feet == Where::Both || p.group && self.spots(p).len() == Foot::ALL.len();
        let both = matches!(self.get(i + 1), Some(Phrase::Place(p)) if all(p) && p.claw.is_none());
        let open = |f: &&mut DraftFinding| f.named == Named::Disorder(Disorder::DD) && f.stage.is_none();
        if both && self.gap(i + 1) <= Gap::Space && self.out.findings.iter_mut().filter(open).count() > 1 {
            self.out.findings.iter_mut().filter(open).for_each(|f| f.stage = Some(stage));
            self.used_up = Some(i + 1);
            return;
        }
        // `DD hinds M2 fronts M1`: each behind its own place.
        let place = |k: usize| {
            matches!(self.get(k), Some(Phrase::Place(p)) if p.feet != Where::Same) && self.gap(k) <= Gap::Space
        };
        let row = i > 0 && place(i - 1) && self.gap(i) <= Gap::Space && place(i + 1);
        if row && matches!(self.get(i + 2), Some(Phrase::Stage(_))) && self.gap(i + 2) <= Gap::Space {
            let feet: Vec<Option<Foot>> = self.held.spots.iter().map(|s| s.foot).collect();
            // "warts on both hinds M2 on the left and M1 on the right"
            let next = self.get(i + 1).and_then(Phrase::place).map_or_else(Vec::new, |p| self.spots(p));
            let apart = next.iter().all(|s| !feet.contains(&s.foot));
            let mut here =
                self.last_mention().filter(|f| apart && f.stage.is_none() && feet.contains(&f.spot.foot)).peekable();
            if here.peek().is_some_and(|f| f.named == Named::Disorder(Disorder::DD)) {
                here.for_each(|f| f.stage = Some(stage));
                return;
            }
        }
        if self.now_or_was(i, stage) {
            return;
        }
        // "same on the right but M two"
        if !self.out.findings.is_empty() && (self.same_but(i) || self.same_and(i)) {
            for f in self.last_mention() {
                f.stage = Some(stage);
            }
            return;
        }
        // "both hinds, the left one's an M two and the right one's M one"
        let dd = Named::Disorder(Disorder::DD);
        if let Some(feet) = self.narrowed_to(i).filter(|_| self.out.findings.last().is_some_and(|f| f.named == dd)) {
            let mut here = self.last_mention().filter(|f| f.spot.foot.is_some_and(|x| feet.contains(&x))).peekable();
            if here.peek().is_some_and(|f| f.stage.is_none()) {
                here.for_each(|f| f.stage = Some(stage));
                return;
            }
        }
        // `LH/RH DD M2/M4.1`: each foot has its own.
        if i > 0
            && matches!(self.get(i - 1), Some(Phrase::Stage(_)))
            && self.text.get(self.items[i - 1].span.end as usize..span.start as usize).is_some_and(|t| t.trim() == "/")
        {
            let feet: Vec<Option<Foot>> = self.last_mention().map(|f| f.spot.foot).collect();
            if let [Some(_), Some(second)] = feet[..] {
                self.last_mention().filter(|f| f.spot.foot == Some(second)).for_each(|f| f.stage = Some(stage));
                return;
            }
        }
        // "M2 on the left, the right is more like M4"
        let side_behind = match self.get(i + 1) {
            Some(Phrase::Place(Place { feet: Where::Side(side), .. })) => Some(*side),
            _ => None,
        };
        if let Some(side) = side_behind
            && self.gap(i + 1) <= Gap::Space
            && self.last_mention().all(|f| f.stage.is_none() && f.named == dd)
            && self.last_mention().count() > 1
        {
            self.last_mention()
                .filter(|f| f.spot.foot.is_some_and(|x| x.side() == side))
                .for_each(|f| f.stage = Some(stage));
            self.owned = Some(i + 1);
            return;
        }
        // "M one or M two": which is asked.
        let either = self.items[i].or && i > 0 && matches!(self.get(i - 1), Some(Phrase::Stage(_)));
        if either
            && let Some(f) = self.out.findings.last_mut()
            && let Some(first) = f.stage.take()
        {
            let after = Some((first.whole(), f.span));
            let span = self.items[i - 1].span.to(span);
            self.out.loose_numbers.push(LooseNumber { span, after, or: Some(stage.whole()), tag: None });
            return;
        }
        if self.one_and_the_other(i, stage) {
            return;
        }
        let last_open = self.out.findings.last().is_some_and(|f| f.named == dd && f.stage.is_none());
        // "M2 and M4 on the left": the place is the second one's.
        let last = !matches!(self.get(i + 1), Some(Phrase::Stage(_)));
        let own_place = last
            && self.place_right_after(i).is_some_and(|k| {
                let taken = self.place_is_taken(k) || last_open && self.begins_another(k);
                self.place_after && !(last_open && taken)
                    || !(taken || self.finding_follows(k + 1) && self.is_reason_there(k + 1))
            });
        if last_open && !self.new_place_since() && !own_place {
            // "left is healed, right is still open, M2": of that one.
            let held: Vec<Option<Foot>> = self.held.spots.iter().map(|s| s.foot).collect();
            let one = held.len() == 1 && i > 0 && matches!(self.get(i - 1), Some(Phrase::Course(_)));
            let here = |f: &DraftFinding| held.contains(&f.spot.foot) && f.stage.is_none();
            if one && self.last_mention().any(|f| here(f)) && !self.last_mention().all(|f| here(f)) {
                self.last_mention().filter(|f| here(f)).for_each(|f| f.stage = Some(stage));
                return;
            }
            // "the left is an M2, the right one healing, M3": of the one that has none yet.
            let some = self.last_mention().any(|f| f.stage.is_some());
            for f in self.last_mention().filter(|f| !some || f.stage.is_none()) {
                f.stage = Some(stage);
            }
            return;
        }
        self.stage = Some(stage);
        // With a place of its own it is a finding of its own; merging with one already there comes later.
        if own_place && self.held.spots.iter().any(|s| s.foot.is_some()) && !self.held.used {
            self.held.used = true;
        }
        self.add_finding(i, dd, span);
    }

    /// "warts both hinds, one M1, the other M2": which foot has which is asked.
    fn one_and_the_other(&mut self, i: usize, stage: Stage) -> bool {
        let Some(k) = (0..i).rev().take(2).find(|k| matches!(self.get(*k), Some(Phrase::Stage(_)))) else {
            return false;
        };
        let Some(Phrase::Stage(first)) = self.get(k).cloned() else { return false };
        let between = self.words(self.items[k].span.end, self.items[i].span.start);
        let other = between.iter().any(|w| w == "other") && self.gap(i) <= Gap::Space;
        let pair = self.last_mention().count() == 2 && self.last_mention().all(|f| f.stage == Some(first));
        if !other || !pair {
            return false;
        }
        self.last_mention().for_each(|f| f.stage = None);
        let span = self.items[k].span.to(self.items[i].span);
        let after = self.out.findings.last().map(|f| (first.whole(), f.span));
        self.out.loose_numbers.push(LooseNumber { span, after, or: Some(stage.whole()), tag: None });
        true
    }

    /// "M1 now, was M2" tells what it was; "the M4 has flared up, there's an M4.1 now", what it is.
    fn now_or_was(&mut self, i: usize, stage: Stage) -> bool {
        let dd = Named::Disorder(Disorder::DD);
        let staged = self.out.findings.last().is_some_and(|f| f.named == dd && f.stage.is_some_and(|s| s != stage));
        if !staged || self.new_place_since() || i == 0 {
            return false;
        }
        let before = self.words_before(i);
        let has = |w: &str| before.iter().any(|b| b == w);
        let now = words::begins(words::behind(self.text, self.items[i].span.end as usize, " now ".len()), " now");
        if now {
            self.last_mention().for_each(|f| f.stage = Some(stage));
        }
        // "M1 on the right hind, that was an M2"
        let before = (0..i).rev().find(|k| !matches!(self.items[*k].is, Phrase::Place(_)));
        now || has("was") && before.is_some_and(|k| matches!(self.items[k].is, Phrase::Stage(_)))
    }

    /// "heel erosion and wart, both mild": the two lesions of the one foot, and no two feet.
    pub(super) fn is_both_lesions(&self, i: usize, place: &Place) -> bool {
        let said = matches!(self.get(i + 1), Some(Phrase::Severity(_) | Phrase::Course(_) | Phrase::Zones(_)));
        let graded = said
            && self.gap(i + 1) <= Gap::Space
            && !self.finding_follows(i + 2)
            && self.items[i].span.of(self.text).eq_ignore_ascii_case("both");
        place.feet == Where::Both && place.claw.is_none() && graded && self.foot_of_two_lesions().is_some()
    }

    /// Gives the grade, the course or the zones behind "both" to all lesions; and the index of the next item.
    pub(super) fn of_both_lesions(&mut self, i: usize) -> usize {
        for f in &mut self.out.findings {
            match self.items[i + 1].is {
                Phrase::Severity(grade) => f.severity = Some(grade),
                Phrase::Course(course) => f.course = Some(course),
                Phrase::Zones(ref zones) => f.zones.clone_from(zones),
                _ => {}
            }
        }
        i + 2
    }

    /// A number in one breath after a finding, small enough for its zone ("white line on two").
    pub(super) fn after_finding(&self, i: usize, value: Option<u64>) -> Option<(u8, Span)> {
        let n = u8::try_from(value?).ok().filter(|n| *n <= LAST_ZONE)?;
        let at = self.last_finding_item?;
        let own =
            |is: &Phrase| matches!(is, Phrase::Place(_) | Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_));
        // "ulcer, right hind, outer, four"
        let alone = self.gap(i + 1) > Gap::Space;
        let close = (at + 1..=i).all(|k| self.gap(k) <= if alone { Gap::Comma } else { Gap::Space })
            && self.items[at + 1..i].iter().all(|it| own(&it.is));
        let last = self.out.findings.last()?;
        (close && last.zones.is_empty() && last.stage.is_none()).then_some((n, last.span))
    }

    /// "sole ulcer, four, block inner": right behind the lesion, and nothing else could be counted.
    pub(super) fn is_zone_between_commas(&self, i: usize) -> bool {
        let lesion =
            i > 0 && matches!(self.get(i - 1), Some(Phrase::Finding(n)) if *n != Named::Disorder(Disorder::DD));
        let said = self.items[i].span.of(self.text).to_lowercase();
        let graded = matches!(self.get(i + 1), Some(Phrase::Severity(_)))
            && !matches!(self.get(i + 2), Some(Phrase::Finding(_)));
        let deed = graded || matches!(self.get(i + 1), Some(Phrase::Deed(_) | Phrase::Place(_)));
        // "ulcer in four, block inner"
        if lesion && self.gap(i) <= Gap::Space && self.words_before(i) == ["in"] {
            return self.gap(i + 1) > Gap::Space;
        }
        let homophone = ["to", "too", "for", "won", "one"].contains(&said.as_str());
        lesion && !homophone && self.gap(i) == Gap::Comma && self.gap(i + 1) == Gap::Comma && deed
    }

    /// "bruise, four and five, mild": two zones right behind the lesion, between commas. Gives them.
    pub(super) fn zones_between_commas(&self, i: usize) -> Option<[u8; 2]> {
        // Its place may stand between.
        let place = i > 1 && matches!(self.get(i - 1), Some(Phrase::Place(_))) && self.gap(i - 1) <= Gap::Space;
        let at = i.checked_sub(1 + usize::from(place))?;
        let lesion = matches!(self.get(at), Some(Phrase::Finding(n)) if *n != Named::Disorder(Disorder::DD));
        let zone = |k: usize| match self.get(k) {
            Some(Phrase::Number { value: Some(n), plain: true, .. }) => {
                u8::try_from(*n).ok().filter(|n| *n <= LAST_ZONE)
            }
            _ => None,
        };
        let (first, second) = (zone(i)?, zone(i + 1)?);
        let pair = self.items[i + 1].and && self.gap(i + 1) <= Gap::Space && first < second;
        let alone = self.gap(i) == Gap::Comma && self.gap(i + 2) > Gap::Space;
        (lesion && pair && alone).then_some([first, second])
    }

    pub(super) fn finding_later(&self, i: usize) -> bool {
        self.items[i + 1..].iter().take_while(|it| it.gap < Gap::Stop).any(|it| matches!(it.is, Phrase::Finding(_)))
    }
}
