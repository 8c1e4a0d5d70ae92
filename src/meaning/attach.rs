//! Rules 1, 2, 6 and 8: which foot, which claw, which zone belongs to what.
//!
//! One pass over the phrases of one cow. A finding takes the place said before it, or the one right after
//! it; a foot holds until the next is named.

use chrono::NaiveDate;

use super::dates::{Reckoned, reckon};
use super::draft::{Draft, DraftAction, DraftFinding, Half, Spot};
use crate::anatomy::{Claw, Foot};
use crate::disorder::{Disorder, Stage};
use crate::entry::{Act, After, Due, DueWhat, Measure, MeasureKind, Score};
use crate::grammar::{ClawWord, Deed, Item, Named, Phrase, Place, When, Where, convert};
use crate::vocab::{Device, Part, Unit, Vague};
use crate::words::{Gap, Span};

/// Where the speaker is: the foot that holds, and who has used it.
#[derive(Clone, Debug, Default)]
struct Held {
    spots: Vec<Spot>,
    /// A finding or an action has taken it already.
    used: bool,
    /// Item that named it.
    item: Option<usize>,
}

struct Pass<'a> {
    items: &'a [Item],
    text: &'a str,
    visit: NaiveDate,
    out: Draft,
    held: Held,
    /// Places said side by side with nothing between them, for "left front, right front, clean".
    run: Vec<Foot>,
    /// The feet of the last group said ("both hinds").
    group: Vec<Foot>,
    mentions: usize,
    /// The last finding took the place after it.
    place_after: bool,
    /// Findings and actions still without a place.
    waiting_findings: Vec<usize>,
    waiting_actions: Vec<usize>,
    zones: Vec<u8>,
    severity: Option<u64>,
    stage: Option<Stage>,
    course: Option<crate::disorder::Course>,
    hedged: bool,
    part: Option<Part>,
    device: Option<Device>,
    agent: Option<(String, Span)>,
    material: Option<(String, Span)>,
    after_said: bool,
    /// Index of the last item that was a deed, to read "block … for six weeks".
    last_deed: Option<usize>,
    owned: Option<usize>,
    /// Item of the last finding.
    last_finding_item: Option<usize>,
    /// "clean" with no foot named: all four, unless something else is said of them.
    bare_clear: bool,
    /// Feet cleared by a word for all or the rest: those with a lesion are left out in the end.
    spared: Vec<Foot>,
}

/// Puts the phrases of one cow together.
pub(super) fn attach(items: &[Item], text: &str, visit: NaiveDate, before: Option<&Draft>) -> Draft {
    let mut pass = Pass {
        items,
        text,
        visit,
        out: Draft::default(),
        held: Held::default(),
        run: vec![],
        group: vec![],
        mentions: 0,
        place_after: false,
        waiting_findings: vec![],
        waiting_actions: vec![],
        zones: vec![],
        severity: None,
        stage: None,
        course: None,
        hedged: false,
        part: None,
        device: None,
        agent: None,
        material: None,
        after_said: false,
        last_deed: None,
        owned: None,
        last_finding_item: None,
        bare_clear: false,
        spared: vec![],
    };
    let mut i = 0;
    while i < items.len() {
        i = pass.step(i, before);
    }
    pass.finish()
}

impl Pass<'_> {
    fn get(&self, i: usize) -> Option<&Phrase> {
        self.items.get(i).map(|it| &it.is)
    }

    fn gap(&self, i: usize) -> Gap {
        self.items.get(i).map_or(Gap::Stop, |it| it.gap)
    }

    /// Reads item `i`; gives the index of the next to read.
    fn step(&mut self, i: usize, before: Option<&Draft>) -> usize {
        let item = &self.items[i];
        let span = item.span;
        let mut next = i + 1;
        if !matches!(item.is, Phrase::Place(_) | Phrase::Hedge | Phrase::Clear | Phrase::Unread | Phrase::Except | Phrase::Only) {
            self.run.clear();
        }
        match &item.is {
            Phrase::Cow(tag) => {
                if self.out.cow.is_none() {
                    self.out.cow = Some((tag.clone(), span));
                }
            }
            Phrase::Place(place) => self.place(i, place),
            Phrase::Zones(zones) => self.zones(i, zones),
            Phrase::Finding(named) => self.finding(i, *named, span),
            Phrase::Severity(s) => self.severity(i, *s),
            Phrase::Stage(stage) => self.stage(i, *stage, span),
            Phrase::Course(c) => self.course(i, *c, span),
            Phrase::Deed(deed) => self.deed(i, deed, span),
            Phrase::Stays(device) => self.stays(i, *device),
            Phrase::Material(name) => self.material(name, span),
            Phrase::Agent(name) => self.agent(name, span),
            Phrase::Score { scale, value, whole } => {
                let when = self.after_said.then_some(After::After);
                self.after_said = false;
                self.out.scores.push((Score { scale: *scale, value: *value, when }, *whole, span));
            }
            Phrase::Afterwards => self.afterwards(i),
            Phrase::Measure { what, milli, at } => {
                self.part = match what {
                    MeasureKind::SoleThickness => Some(Part::Sole),
                    MeasureKind::ToeLength => Some(Part::Toe),
                    MeasureKind::HeelHeight => Some(Part::Heel),
                    MeasureKind::ToeAngle => self.part,
                };
                self.measure(i, *what, *milli, *at, span);
            }
            Phrase::Amount { milli, unit } => self.amount(i, *milli, *unit, span),
            Phrase::Part(p) => self.part = Some(*p),
            Phrase::Due { what, when } => self.due(i, *what, *when, span),
            Phrase::OffAt(when) => match self.device {
                Some(d) => self.due(i, off(d), *when, span),
                None => self.out.unread.push(span),
            },
            Phrase::Time(when) => self.time(i, *when, span),
            Phrase::Clear => self.clear(i, span),
            Phrase::ClearAll => {
                self.out.clear_span = Some(span);
                self.clear_feet(&Foot::ALL, true);
            }
            Phrase::Otherwise => next = self.otherwise(i, span),
            Phrase::Except | Phrase::Only | Phrase::Past | Phrase::Drop | Phrase::Change => {}
            Phrase::Not => next = self.not(i),
            Phrase::Hedge => next = self.hedge(i),
            Phrase::Same => next = self.same(i, span, before),
            Phrase::Remark(words) => self.out.remarks.push(words.of(self.text).to_owned()),
            Phrase::Sign(_) => self.out.signs.push(span),
            Phrase::Number { .. } => self.out.loose_numbers.push(span),
            Phrase::Aside => self.out.asides += 1,
            Phrase::Unread => self.out.unread.push(span),
        }
        next
    }

    // ---- places -------------------------------------------------------------------------------------

    /// The spots a place stands for, in the light of what was said before.
    fn spots(&self, place: &Place) -> Vec<Spot> {
        let whole = |feet: &[Foot]| -> Vec<Spot> {
            feet.iter().map(|f| Spot { foot: Some(*f), ..Spot::default() }).collect()
        };
        let mut spots = match &place.feet {
            Where::Feet(feet) => {
                feet.iter().map(|(f, c)| Spot { foot: Some(*f), half: None, claw: *c }).collect()
            }
            Where::Side(side) => match self.group.iter().find(|f| f.side() == *side) {
                Some(foot) if self.group.len() == 2 => whole(&[*foot]),
                _ => vec![Spot { foot: None, half: Some(Half::Side(*side)), claw: None }],
            },
            Where::End(end) => match self.held.spots.first() {
                Some(Spot { half: Some(Half::Side(s)), .. }) => whole(&[Foot::new(*s, *end)]),
                _ => vec![Spot { foot: None, half: Some(Half::End(*end)), claw: None }],
            },
            Where::Both => whole(&self.both()),
            Where::Rest => {
                let named = self.named_feet();
                whole(&Foot::ALL.into_iter().filter(|f| !named.contains(f)).collect::<Vec<_>>())
            }
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

    /// What "both" means here: the pair spoken of, or both feet of the end spoken of.
    fn both(&self) -> Vec<Foot> {
        if self.group.len() == 2 {
            return self.group.clone();
        }
        let mut feet: Vec<Foot> = self.out.findings.iter().filter_map(|f| f.spot.foot).collect();
        feet.sort_unstable();
        feet.dedup();
        if feet.len() == 2 {
            return feet;
        }
        match self.held.spots.first().and_then(|s| s.foot) {
            Some(f) => crate::grammar::both(f.end()).to_vec(),
            None => vec![],
        }
    }

    fn named_feet(&self) -> Vec<Foot> {
        let mut feet: Vec<Foot> = self.out.findings.iter().filter_map(|f| f.spot.foot).collect();
        feet.extend(self.out.actions.iter().filter_map(|a| a.spot.foot));
        feet.extend(&self.out.clear);
        feet
    }

    fn place(&mut self, i: usize, place: &Place) {
        if place.feet == Where::Same {
            self.claw_only(i, place.claw);
            return;
        }
        let mut spots = self.spots(place);
        if spots.is_empty() {
            return;
        }
        let feet: Vec<Foot> = spots.iter().filter_map(|s| s.foot).collect();
        if place.group && feet.len() >= 2 {
            self.group.clone_from(&feet);
        } else if feet.len() == 1 && !self.group.contains(&feet[0]) {
            self.group.clear();
        }
        // Places in a row: "left front, right front, clean".
        let narrower = feet.iter().all(|f| self.run.contains(f));
        if self.held.item.is_some_and(|h| h + 1 == i) && !self.held.used && !narrower {
            self.run.extend(feet.iter());
        } else {
            self.run = feet.clone();
        }
        if self.goes_on(i, &spots) {
            return;
        }
        let waiting = !self.waiting_findings.is_empty() || !self.waiting_actions.is_empty();
        if self.owned == Some(i) {
            // The claw named with a block is the block's own; only the foot goes on.
            for s in &mut spots {
                s.claw = self.held.spots.iter().find(|h| h.foot == s.foot).and_then(|h| h.claw);
            }
        }
        let used = self.owned == Some(i) && self.waiting_findings.is_empty();
        self.held = Held { spots: spots.clone(), used: waiting || used, item: Some(i) };
        if waiting {
            self.settle_waiting(&spots);
        }
    }

    /// "white line right hind inner, zone two, and the left hind inner": the finding goes on at another place.
    fn goes_on(&mut self, i: usize, spots: &[Spot]) -> bool {
        let Some(last) = self.last_finding_item else { return false };
        let only_its_own = self.items[last + 1..i].iter().all(|it| {
            matches!(it.is, Phrase::Place(_) | Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_))
        });
        let claimed = self.finding_follows(i + 1)
            || matches!(self.get(i + 1), Some(Phrase::Clear | Phrase::Course(_) | Phrase::Deed(_) | Phrase::Same | Phrase::Place(_)));
        if !(self.items[i].and && only_its_own && !claimed && self.waiting_findings.is_empty()) {
            return false;
        }
        let Some(model) = self.out.findings.last().cloned() else { return false };
        self.mentions += 1;
        for s in spots {
            let spot = Spot { claw: s.claw.or(if s.foot == model.spot.foot { None } else { model.spot.claw }), ..*s };
            self.out.findings.push(DraftFinding { spot, zones: vec![], mention: self.mentions, ..model.clone() });
        }
        self.held = Held { spots: spots.to_vec(), used: true, item: Some(i) };
        self.last_finding_item = Some(i);
        true
    }

    fn settle_waiting(&mut self, spots: &[Spot]) {
        let waiting = std::mem::take(&mut self.waiting_findings);
        // Later ones first, so that indices hold while one finding becomes several.
        for at in waiting.into_iter().rev() {
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
            let one = self.out.actions.remove(at);
            for (k, s) in spots.iter().enumerate() {
                let mut a = one.clone();
                a.spot = *s;
                self.out.actions.insert(at + k, a);
            }
        }
    }

    /// A claw without a foot: of the finding before it, or of the one after.
    fn claw_only(&mut self, i: usize, claw: Option<ClawWord>) {
        let Some(word) = claw else { return };
        let before_finding = self.finding_follows(i + 1);
        let last = self.out.findings.last().map(|f| f.mention);
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
            && !fresh_foot
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
        let right_after = self.last_finding_item.is_some_and(|f| {
            (f + 1..=i).all(|k| self.gap(k) <= Gap::Space)
                && (f + 1..i).all(|k| matches!(self.get(k), Some(Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_))))
        });
        if let Some(mention) = last
            && !fresh_foot
            && (!before_finding || self.gap(i) <= Gap::Space)
            && self.out.findings.iter().any(|f| {
                // A claw held from the finding before yields to the one said right after this.
                let open = f.spot.claw.is_none() || (right_after && f.claw_held);
                let takes = right_after || matches!(f.named, Named::Vague(_)) || matches!(f.named, Named::Disorder(d) if d.needs_claw());
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

    /// Whether a finding comes next, with at most its own modifiers before it and no end of sentence.
    fn finding_follows(&self, mut i: usize) -> bool {
        loop {
            match self.get(i) {
                Some(Phrase::Finding(_)) => return self.gap(i) < Gap::Stop,
                Some(Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Course(_) | Phrase::Hedge | Phrase::Only | Phrase::Stage(_))
                    if self.gap(i) < Gap::Stop =>
                {
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
    fn place_right_after(&self, i: usize) -> Option<usize> {
        let mut k = i + 1;
        loop {
            if self.gap(k) > Gap::Space {
                return None;
            }
            match self.get(k)? {
                Phrase::Place(p) if p.feet != Where::Same => return Some(k),
                Phrase::Place(_) | Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_) | Phrase::Course(_) | Phrase::Only => {
                    k += 1;
                }
                _ => return None,
            }
        }
    }

    /// Whether the place at `k` belongs to a finding that comes right after it.
    fn place_is_taken(&self, k: usize) -> bool {
        match self.get(k + 1) {
            Some(Phrase::Finding(_) | Phrase::Stage(_)) => self.gap(k + 1) <= Gap::Space,
            Some(Phrase::Place(p)) if p.feet == Where::Same => self.place_is_taken(k + 1),
            Some(Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Hedge | Phrase::Course(_) | Phrase::Only | Phrase::Not)
                if self.gap(k + 1) <= Gap::Space =>
            {
                matches!(self.get(k + 2), Some(Phrase::Finding(_))) && self.gap(k + 2) <= Gap::Space
            }
            _ => false,
        }
    }

    // ---- findings -----------------------------------------------------------------------------------

    fn finding(&mut self, i: usize, named: Named, span: Span) {
        if self.makes_precise(i, named, span) {
            return;
        }
        self.part = match named {
            Named::Disorder(Disorder::TS | Disorder::DS | Disorder::SH) => Some(Part::Sole),
            _ => self.part,
        };
        self.add_finding(i, named, span);
    }

    fn add_finding(&mut self, i: usize, named: Named, span: Span) {
        self.mentions += 1;
        let blank = DraftFinding {
            named,
            spot: Spot::default(),
            zones: std::mem::take(&mut self.zones),
            severity: self.severity.take(),
            stage: self.stage.take(),
            course: self.course.take(),
            unsure: std::mem::take(&mut self.hedged),
            span,
            mention: self.mentions,
            claw_held: self.held.used,
        };
        let held = self.held.spots.iter().any(|s| s.foot.is_some() || s.half.is_some());
        let next_place = self.place_right_after(i);
        // "both hinds: foot rot in the left": the side narrows the pair.
        let narrows = next_place.is_some_and(|k| match self.get(k) {
            Some(Phrase::Place(p)) => {
                let feet: Vec<Foot> = self.spots(p).iter().filter_map(|s| s.foot).collect();
                self.group.len() >= 2 && !feet.is_empty() && feet.len() < self.group.len() && feet.iter().all(|f| self.group.contains(f))
            }
            _ => false,
        });
        let after = match next_place {
            Some(k) if narrows && !(self.new_place_since() && self.held.spots.len() == 1 && self.place_is_taken(k)) => true,
            // Nothing was said before, or only for others: the place after it, unless the next finding wants it.
            Some(k) => !held || (self.held.used && (self.place_after || !self.place_is_taken(k))),
            None => !held,
        };
        self.last_finding_item = Some(i);
        if after {
            let claw = if held { None } else { self.held.spots.first().and_then(|s| s.claw) };
            self.out.findings.push(DraftFinding { spot: Spot { claw, ..Spot::default() }, ..blank });
            self.waiting_findings.push(self.out.findings.len() - 1);
            return;
        }
        if !self.held.used {
            self.place_after = false;
        }
        self.held.used = true;
        for spot in self.held.spots.clone() {
            self.out.findings.push(DraftFinding { spot, ..blank.clone() });
        }
    }

    /// "white line … abscess": a vague word that the next one makes precise, in the same breath.
    fn makes_precise(&mut self, i: usize, named: Named, span: Span) -> bool {
        let Some(last) = self.out.findings.last() else { return false };
        let Some(at) = self.last_finding_item else { return false };
        let close = (at + 1..=i).all(|k| self.gap(k) < Gap::Stop)
            && (at + 1..i).all(|k| matches!(self.get(k), Some(Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Only | Phrase::Unread | Phrase::Part(_) | Phrase::Place(Place { feet: Where::Same, .. }))))
            && !self.items[i].and;
        if !close {
            return false;
        }
        use Named::{Disorder as D, Vague as V};
        let both = match (last.named, named) {
            (V(Vague::WhiteLine) | D(Disorder::WL), V(Vague::Separation | Vague::Crack)) => D(Disorder::WLF),
            (V(Vague::Separation | Vague::Crack), V(Vague::WhiteLine)) => D(Disorder::WLF),
            (V(Vague::WhiteLine) | D(Disorder::WL | Disorder::WLF), V(Vague::Abscess))
            | (V(Vague::Abscess), V(Vague::WhiteLine)) => D(Disorder::WLA),
            (V(Vague::ForeignBody), V(Vague::WhiteLine)) | (V(Vague::WhiteLine), V(Vague::ForeignBody)) => D(Disorder::WL),
            (V(Vague::Crack), V(Vague::Vertical)) | (V(Vague::Vertical), V(Vague::Crack)) => D(Disorder::HFV),
            (V(Vague::Crack), V(Vague::Horizontal)) | (V(Vague::Horizontal), V(Vague::Crack)) => D(Disorder::HFH),
            // "digital dermatitis, a raw ulcer"
            (D(Disorder::DD), V(Vague::Ulcer)) if self.gap(i) <= Gap::Space => D(Disorder::DD),
            _ => return false,
        };
        let mention = last.mention;
        for f in self.out.findings.iter_mut().filter(|f| f.mention == mention) {
            f.named = both;
            f.span = f.span.to(span);
        }
        self.last_finding_item = Some(i);
        true
    }

    /// Whether what stands at `i` belongs to the finding right after it.
    fn for_next(&self, i: usize) -> bool {
        let directly = matches!(self.get(i + 1), Some(Phrase::Finding(_))) && self.gap(i + 1) <= Gap::Space;
        let through = matches!(self.get(i + 1), Some(Phrase::Severity(_) | Phrase::Course(_) | Phrase::Stage(_) | Phrase::Zones(_)))
            && self.gap(i + 1) <= Gap::Space
            && matches!(self.get(i + 2), Some(Phrase::Finding(_)))
            && self.gap(i + 2) <= Gap::Space;
        let after_finding = i > 0
            && self.gap(i) <= Gap::Space
            && matches!(self.get(i - 1), Some(Phrase::Finding(_) | Phrase::Zones(_) | Phrase::Stage(_)))
            && !self.items[i].and;
        (directly || through) && !after_finding
    }

    fn last_mention(&mut self) -> impl Iterator<Item = &mut DraftFinding> {
        let mention = self.out.findings.last().map(|f| f.mention);
        self.out.findings.iter_mut().filter(move |f| Some(f.mention) == mention)
    }

    fn zones(&mut self, i: usize, zones: &[u8]) {
        let has = self.out.findings.last().is_some_and(|f| !f.zones.is_empty());
        let next_wants = self.for_next(i) && (has || self.out.findings.is_empty() || self.gap(i) > Gap::Space || self.new_place_since());
        if next_wants || self.out.findings.is_empty() {
            self.zones = zones.to_vec();
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
    fn new_place_since(&self) -> bool {
        !self.held.used && self.held.item.is_some()
    }

    /// Feet of a place right after item `i` that are some, not all, of the feet of the last finding:
    /// "grade two on the near and grade one on the off".
    fn narrowed_to(&self, i: usize) -> Option<Vec<Foot>> {
        let mention = self.out.findings.last()?.mention;
        let all: Vec<Foot> = self.out.findings.iter().filter(|f| f.mention == mention).filter_map(|f| f.spot.foot).collect();
        let place = match self.get(i + 1) {
            Some(Phrase::Place(p)) if p.feet != Where::Same && self.gap(i + 1) <= Gap::Space => self.spots(p),
            // "left healed, right still open"
            _ if self.new_place_since() && !self.finding_follows(i + 1) => self.held.spots.clone(),
            _ => return None,
        };
        let feet: Vec<Foot> = place.iter().filter_map(|s| s.foot).collect();
        (!feet.is_empty() && feet.len() < all.len() && feet.iter().all(|f| all.contains(f))).then_some(feet)
    }

    fn severity(&mut self, i: usize, grade: u64) {
        if let Some(feet) = self.narrowed_to(i) {
            for f in self.last_mention().filter(|f| f.spot.foot.is_some_and(|x| feet.contains(&x))) {
                f.severity = Some(grade);
            }
            return;
        }
        if self.for_next(i) || self.out.findings.is_empty() || (self.new_place_since() && self.finding_follows(i + 1)) {
            self.severity = Some(grade);
            return;
        }
        if self.out.findings.last().is_some_and(|f| f.severity.is_some()) && self.finding_follows(i + 1) {
            self.severity = Some(grade);
            return;
        }
        for f in self.last_mention() {
            f.severity = Some(grade);
        }
    }

    fn stage(&mut self, i: usize, stage: Stage, span: Span) {
        if matches!(self.get(i + 1), Some(Phrase::Finding(Named::Disorder(Disorder::DD)))) && self.gap(i + 1) <= Gap::Space {
            self.stage = Some(stage);
            return;
        }
        let dd = Named::Disorder(Disorder::DD);
        let last_open = self.out.findings.last().is_some_and(|f| f.named == dd && f.stage.is_none());
        let own_place = self.place_right_after(i).is_some_and(|k| self.place_after || !self.place_is_taken(k));
        if last_open && !self.new_place_since() && !own_place {
            for f in self.last_mention() {
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

    fn course(&mut self, i: usize, course: crate::disorder::Course, span: Span) {
        if self.for_next(i) || (self.out.findings.is_empty() && self.finding_later(i)) {
            self.course = Some(course);
            return;
        }
        if let Some(feet) = self.narrowed_to(i) {
            for f in self.last_mention().filter(|f| f.spot.foot.is_some_and(|x| feet.contains(&x))) {
                f.course = Some(course);
            }
            self.held.used = true;
            return;
        }
        let held: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
        let narrowed = self.new_place_since();
        let mut hit = false;
        let before = self.hedged;
        for f in self.last_mention() {
            if !narrowed || f.spot.foot.is_some_and(|foot| held.contains(&foot)) {
                f.course = Some(course);
                hit = true;
            }
        }
        self.hedged = before;
        if narrowed && hit {
            self.held.used = true;
        }
        if !hit {
            self.out.loose_courses.push(span);
        }
    }

    fn finding_later(&self, i: usize) -> bool {
        self.items[i + 1..].iter().take_while(|it| it.gap < Gap::Stop).any(|it| matches!(it.is, Phrase::Finding(_)))
    }

    // ---- negation, doubt, repetition ----------------------------------------------------------------

    /// "no", "not": what follows in the same breath was not there, or was not done.
    fn not(&mut self, i: usize) -> usize {
        // "near fore, not the hind, …": a place denied.
        if let Some(Phrase::Place(p)) = self.get(i + 1)
            && self.gap(i + 1) <= Gap::Space
            && p.feet != Where::Same
            && !self.finding_follows(i + 2)
        {
            return i + 2;
        }
        let mut k = i + 1;
        let mut hit = false;
        while let Some(is) = self.get(k) {
            let close = k == i + 1 && self.gap(k) <= Gap::Comma || self.gap(k) <= Gap::Space;
            match is {
                Phrase::Finding(named) if close => {
                    // "… but no, not an ulcer": taken back.
                    let named = *named;
                    let last = self.out.findings.last().map(|f| f.mention);
                    if !self.new_place_since() {
                        self.out.findings.retain(|f| f.named != named || Some(f.mention) != last);
                        self.waiting_findings.retain(|w| *w < self.out.findings.len());
                    }
                    hit = true;
                }
                Phrase::Stage(_) | Phrase::Sign(_) if close => hit = true,
                Phrase::Deed(deed) if close && !hit => {
                    let what = deed.what;
                    // "block inner … no block": taken back.
                    self.out.actions.retain(|a| a.deed.what != what);
                    self.waiting_actions.clear();
                    return k + 1;
                }
                Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Hedge | Phrase::Part(_) | Phrase::Place(Place { feet: Where::Same, .. })
                    if close && (hit || k == i + 1) => {}
                Phrase::Clear | Phrase::Course(_) | Phrase::Stays(_) if close && !hit => return k + 1,
                _ => break,
            }
            k += 1;
        }
        if hit { k } else { i + 1 }
    }

    /// "maybe": the next finding of the sentence is unsure, or the one right before.
    fn hedge(&mut self, i: usize) -> usize {
        // "might block it next time" is no deed.
        if matches!(self.get(i + 1), Some(Phrase::Deed(d)) if d.what != Act::Vet) && self.gap(i + 1) <= Gap::Space {
            return i + 2;
        }
        let mut k = i + 1;
        while let Some(is) = self.get(k) {
            if self.gap(k) == Gap::Stop {
                break;
            }
            match is {
                Phrase::Finding(_) | Phrase::Stage(_) => {
                    self.hedged = true;
                    return i + 1;
                }
                Phrase::Place(_) | Phrase::Severity(_) | Phrase::Zones(_) | Phrase::Not | Phrase::Unread | Phrase::Part(_) | Phrase::Hedge => k += 1,
                _ => break,
            }
        }
        let right_after = i > 0
            && self.gap(i) <= Gap::Comma
            && matches!(self.get(i - 1), Some(Phrase::Finding(_) | Phrase::Zones(_) | Phrase::Stage(_) | Phrase::Severity(_)))
            && !matches!(self.get(i + 1), Some(Phrase::Place(_)));
        if right_after {
            for f in self.last_mention() {
                f.unsure = true;
            }
        }
        i + 1
    }

    /// "same on the right": the findings of the other side's same foot.
    fn same(&mut self, i: usize, span: Span, before: Option<&Draft>) -> usize {
        let next = match self.get(i + 1) {
            Some(Phrase::Place(p)) if self.gap(i + 1) <= Gap::Space || self.new_place_since() == false => Some(p.clone()),
            _ => None,
        };
        let mut used = i + 1;
        let mut targets: Vec<Spot> = Vec::new();
        if let Some(p) = next {
            used = i + 2;
            targets = match (&p.feet, p.claw) {
                (Where::Side(side), _) => {
                    let end = self.out.findings.iter().rev().find_map(|f| f.spot.foot).map(Foot::end);
                    let mut t = match end {
                        Some(e) => vec![Spot { foot: Some(Foot::new(*side, e)), ..Spot::default() }],
                        None => self.spots(&p),
                    };
                    if let Some(ClawWord::One(c) | ClawWord::Each(c)) = p.claw {
                        for s in &mut t {
                            s.claw = Some(c);
                        }
                    }
                    t
                }
                (Where::OtherFoot, _) => {
                    let foot = self.out.findings.iter().rev().find_map(|f| f.spot.foot).map(Foot::across);
                    vec![Spot { foot, ..Spot::default() }]
                }
                (Where::End(end), _) => {
                    let side = self.out.findings.iter().rev().find_map(|f| f.spot.foot).map(Foot::side);
                    vec![Spot { foot: side.map(|s| Foot::new(s, *end)), ..Spot::default() }]
                }
                _ => self.spots(&p),
            };
        } else if self.new_place_since() {
            // "off hind the same"
            targets.clone_from(&self.held.spots);
            self.held.used = true;
        }
        let source: Vec<DraftFinding> = if self.out.findings.is_empty() {
            before.map(|d| d.findings.clone()).unwrap_or_default()
        } else {
            let across: Vec<Foot> = targets.iter().filter_map(|s| s.foot).map(Foot::across).collect();
            let at_across: Vec<DraftFinding> = self
                .out
                .findings
                .iter()
                .filter(|f| f.spot.foot.is_some_and(|x| across.contains(&x)))
                .cloned()
                .collect();
            if at_across.is_empty() {
                let mention = self.out.findings.last().map(|f| f.mention);
                self.out.findings.iter().filter(|f| Some(f.mention) == mention).cloned().collect()
            } else {
                at_across
            }
        };
        if source.is_empty() || (targets.is_empty() && !self.out.findings.is_empty()) {
            if source.is_empty() {
                self.out.same_open.push(span);
            }
            return used;
        }
        self.mentions += 1;
        if targets.is_empty() {
            for mut f in source {
                f.mention = self.mentions;
                f.span = span;
                self.out.findings.push(f);
            }
            return used;
        }
        let mut spots = Vec::new();
        for t in &targets {
            for f in &source {
                let claw = t.claw.or(f.spot.claw);
                let spot = Spot { claw, foot: t.foot.or(f.spot.foot), half: t.half };
                spots.push(spot);
                self.out.findings.push(DraftFinding { spot, mention: self.mentions, span, ..f.clone() });
            }
        }
        self.last_finding_item = Some(i);
        self.held = Held { spots, used: true, item: Some(i) };
        let mut feet: Vec<Foot> = self.out.findings.iter().filter_map(|f| f.spot.foot).collect();
        feet.sort_unstable();
        feet.dedup();
        if feet.len() == 2 {
            self.group = feet;
        }
        used
    }

    // ---- actions ------------------------------------------------------------------------------------

    fn deed(&mut self, i: usize, deed: &Deed, span: Span) {
        let mut deed = deed.clone();
        if deed.like_before && deed.what == Act::Unblock {
            deed.what = match self.device {
                Some(Device::Wrap) => Act::Unwrap,
                Some(Device::Block) => Act::Unblock,
                // "a double sole, took that off": the horn.
                None if !self.out.findings.is_empty() => Act::Pare,
                None => return,
            };
            // The block spoken of was there already: it was not put on today.
            let on = if deed.what == Act::Unwrap { Act::Wrap } else { Act::Block };
            self.out.actions.retain(|a| a.deed.what != on);
            self.waiting_actions.clear();
        } else if deed.like_before {
            if self.device.is_none() && self.out.findings.is_empty() {
                return;
            }
            deed.what = match self.device {
                Some(Device::Wrap) => Act::Wrap,
                _ => Act::Block,
            };
        }
        match deed.what {
            Act::Block | Act::Unblock => self.device = Some(Device::Block),
            Act::Wrap | Act::Unwrap => self.device = Some(Device::Wrap),
            _ => {}
        }
        if deed.what == Act::Block && deed.material.is_none() {
            deed.material = self.material.take().map(|m| m.0);
        }
        if matches!(deed.what, Act::Wrap | Act::Topical) && deed.agent.is_none() {
            deed.agent = self.agent.take().map(|a| a.0);
        }
        self.last_deed = Some(i);
        let own = deed.claw;
        let push = |out: &mut Draft, spot: Spot| {
            out.actions.push(DraftAction { deed: deed.clone(), spot, own, span });
        };
        if deed.what == Act::Vet {
            push(&mut self.out, Spot::default());
            return;
        }
        let held_feet = self.held.spots.iter().any(|s| s.foot.is_some() || s.half.is_some());
        if let Some(k) = self.action_place(i, &deed, held_feet) {
            let Some(Phrase::Place(place)) = self.get(k).cloned() else { return };
            let mut spots = self.spots(&place);
            if deed.what == Act::Trim && spots.len() == 4 {
                spots = vec![Spot::default()];
            }
            let own = own.or(if deed.what == Act::Block { place.claw } else { None });
            for spot in spots {
                let claw = if deed.what == Act::Block { None } else { spot.claw };
                // Each foot of a list keeps the claw said with it.
                let own = match (own, spot.claw) {
                    (None, Some(c)) if deed.what == Act::Block => Some(ClawWord::One(c)),
                    (own, _) => own,
                };
                self.out.actions.push(DraftAction { deed: deed.clone(), spot: Spot { claw, ..spot }, own, span });
            }
            self.owned = Some(k);
            return;
        }
        if deed.what == Act::Trim {
            // The whole cow, unless a foot stands right before it and is nobody's.
            let only = i > 0 && matches!(self.get(i - 1), Some(Phrase::Only));
            let fresh = !self.held.used
                && self.held.item.is_some_and(|h| h + 1 + usize::from(only) == i)
                && self.gap(i) <= Gap::Space;
            let spots = self.held.spots.clone();
            if fresh && spots.len() < 4 {
                for s in spots {
                    push(&mut self.out, Spot { claw: None, ..s });
                }
            } else {
                push(&mut self.out, Spot::default());
            }
            return;
        }
        if deed.plural || own == Some(ClawWord::Other) && self.lesion_feet(true).len() > 1 && deed.plural {
            let feet = self.lesion_feet(deed.what == Act::Block);
            if !feet.is_empty() {
                for f in feet {
                    push(&mut self.out, Spot { foot: Some(f), ..Spot::default() });
                }
                return;
            }
        }
        if held_feet {
            let keeps_claw = matches!(deed.what, Act::Pare | Act::Drain);
            let mut spots = self.held.spots.clone();
            for s in &mut spots {
                if !keeps_claw {
                    s.claw = None;
                }
            }
            spots.dedup();
            for s in spots {
                push(&mut self.out, s);
            }
            return;
        }
        push(&mut self.out, Spot::default());
        self.waiting_actions.push(self.out.actions.len() - 1);
    }

    /// The place right after a deed, where it is the deed's.
    fn action_place(&self, i: usize, deed: &Deed, held: bool) -> Option<usize> {
        let k = i + 1;
        let Some(Phrase::Place(place)) = self.get(k) else { return None };
        if place.feet == Where::Same || self.gap(k) > Gap::Space {
            return None;
        }
        if place.feet == Where::Both {
            return Some(k);
        }
        let taken = self.place_is_taken(k);
        if taken && (held || deed.what != Act::Trim && !matches!(deed.what, Act::Block | Act::Wrap | Act::Unblock | Act::Unwrap)) {
            return None;
        }
        Some(k)
    }

    /// Feet with lesions; for blocks, those whose disorder sits on a claw, or else any.
    fn lesion_feet(&self, blocks: bool) -> Vec<Foot> {
        let feet = |claw_only: bool| -> Vec<Foot> {
            let mut feet: Vec<Foot> = self
                .out
                .findings
                .iter()
                .filter(|f| !claw_only || f.spot.claw.is_some() || !matches!(f.named, Named::Disorder(d) if !d.needs_claw()))
                .filter_map(|f| f.spot.foot)
                .collect();
            feet.sort_unstable();
            feet.dedup();
            feet
        };
        let horn = feet(blocks);
        if horn.is_empty() { feet(false) } else { horn }
    }

    /// "still on": nothing was done, and a block named just before was no new one.
    fn stays(&mut self, i: usize, device: Option<Device>) {
        if let Some(d) = device {
            self.device = Some(d);
            return;
        }
        let Some(at) = self.last_deed else { return };
        let same_breath = (at + 1..=i).all(|k| self.gap(k) <= Gap::Space);
        if same_breath && let Some(last) = self.out.actions.last().map(|a| a.span) {
            self.out.actions.retain(|a| a.span != last || !matches!(a.deed.what, Act::Block | Act::Wrap));
            self.waiting_actions.clear();
        }
    }

    fn material(&mut self, name: &str, span: Span) {
        if let Some(a) = self.out.actions.last_mut()
            && a.deed.what == Act::Block
            && a.deed.material.is_none()
        {
            let same = a.span;
            for a in self.out.actions.iter_mut().filter(|a| a.span == same) {
                a.deed.material = Some(name.to_owned());
            }
        } else {
            self.material = Some((name.to_owned(), span));
        }
    }

    fn agent(&mut self, name: &str, span: Span) {
        let open = self
            .out
            .actions
            .iter()
            .rev()
            .find(|a| matches!(a.deed.what, Act::Wrap | Act::Topical) && a.deed.agent.is_none())
            .map(|a| a.span);
        if let Some(same) = open {
            for a in self.out.actions.iter_mut().filter(|a| a.span == same) {
                a.deed.agent = Some(name.to_owned());
            }
        } else {
            self.agent = Some((name.to_owned(), span));
        }
    }

    // ---- clear feet ---------------------------------------------------------------------------------

    fn clear(&mut self, i: usize, span: Span) {
        self.out.clear_span = Some(span);
        // "fine except the left rear"
        if matches!(self.get(i + 1), Some(Phrase::Except)) {
            if let Some(Phrase::Place(p)) = self.get(i + 2) {
                let out: Vec<Foot> = self.spots(p).iter().filter_map(|s| s.foot).collect();
                let feet: Vec<Foot> = Foot::ALL.into_iter().filter(|f| !out.contains(f)).collect();
                self.clear_feet(&feet, true);
                self.held = Held::default();
            } else {
                self.clear_feet(&Foot::ALL, true);
            }
            return;
        }
        // "all clean otherwise"
        if matches!(self.get(i + 1), Some(Phrase::Otherwise)) {
            self.clear_feet(&Foot::ALL, true);
            return;
        }
        // "all but the left rear are clean"
        if i >= 2 && matches!(self.get(i - 2), Some(Phrase::Except)) && matches!(self.get(i - 1), Some(Phrase::Place(_))) {
            let out: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
            let feet: Vec<Foot> = Foot::ALL.into_iter().filter(|f| !out.contains(f)).collect();
            self.clear_feet(&feet, true);
            return;
        }
        // "clean on the fronts"
        let claw_before = i > 0 && matches!(self.get(i - 1), Some(Phrase::Place(Place { feet: Where::Same, .. })));
        let fresh = self.new_place_since() && self.held.spots.iter().any(|s| s.foot.is_some());
        if !fresh
            && let Some(Phrase::Place(p)) = self.get(i + 1)
            && p.feet != Where::Same
            && self.gap(i + 1) <= Gap::Space
            && !self.place_is_taken(i + 1)
        {
            let feet: Vec<Foot> = self.spots(p).iter().filter_map(|s| s.foot).collect();
            self.clear_feet(&feet, false);
            self.owned = Some(i + 1);
            return;
        }
        if fresh {
            let mut feet: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
            feet.append(&mut self.run);
            // One clean claw does not clear its foot where that foot has a lesion.
            let one_claw = claw_before || self.held.spots.iter().any(|s| s.claw.is_some());
            let lesions = self.lesion_feet(false);
            feet.retain(|f| !(one_claw && lesions.contains(f)));
            let rest = self.held.item.is_some_and(|h| matches!(self.get(h), Some(Phrase::Place(Place { feet: Where::Rest, .. }))));
            self.clear_feet(&feet, rest || feet.len() == 4);
            self.held.used = true;
            return;
        }
        if claw_before || self.held.spots.iter().any(|s| s.half.is_some()) {
            return;
        }
        if !self.out.findings.is_empty() || !self.out.clear.is_empty() {
            return;
        }
        if self.named_feet().is_empty() || self.out.actions.iter().all(|a| a.spot.foot.is_none()) {
            self.bare_clear = true;
        } else {
            // "block off left hind, looks good": the foot in the hand.
            let feet: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
            self.clear_feet(&feet, true);
        }
    }

    /// "otherwise clean", "rest clean".
    fn otherwise(&mut self, i: usize, span: Span) -> usize {
        if !matches!(self.get(i + 1), Some(Phrase::Clear | Phrase::ClearAll)) {
            return i + 1;
        }
        self.out.clear_span = Some(span);
        let named = self.lesion_feet(false);
        let feet: Vec<Foot> = Foot::ALL.into_iter().filter(|f| !named.contains(f)).collect();
        self.clear_feet(&feet, true);
        i + 2
    }

    /// Clears feet; `sparing` leaves out those that turn out to have a lesion.
    fn clear_feet(&mut self, feet: &[Foot], sparing: bool) {
        for f in feet {
            if !self.out.clear.contains(f) {
                self.out.clear.push(*f);
                if sparing {
                    self.spared.push(*f);
                }
            } else if !sparing {
                self.spared.retain(|s| s != f);
            }
        }
    }

    // ---- scores, measures, times ---------------------------------------------------------------------

    fn afterwards(&mut self, i: usize) {
        let just_scored = i > 0 && matches!(self.get(i - 1), Some(Phrase::Score { .. })) && self.gap(i) <= Gap::Comma;
        if matches!(self.get(i + 1), Some(Phrase::Score { .. })) && self.gap(i + 1) <= Gap::Comma {
            self.after_said = true;
        } else if just_scored && let Some(s) = self.out.scores.last_mut() {
            s.0.when = Some(After::After);
        }
    }

    fn measure(&mut self, i: usize, what: MeasureKind, milli: u64, at: Option<Part>, span: Span) {
        let held = self.held.spots.iter().any(|s| s.foot.is_some());
        let spots = match self.get(i + 1) {
            Some(Phrase::Place(p)) if self.gap(i + 1) <= Gap::Space && (!held || !self.place_is_taken(i + 1)) => {
                if p.feet != Where::Same || held { self.spots(p) } else { vec![Spot::default()] }
            }
            // "toe length eighty, left hind outer": the place comes later.
            Some(Phrase::Place(p)) if !held && p.feet != Where::Same => self.spots(p),
            _ if held => self.held.spots.clone(),
            _ => vec![Spot::default()],
        };
        let value = (milli as f64 / 100.0).round() / 10.0;
        let unit = what.unit().to_owned();
        let at = match at {
            Some(Part::Toe) => Some("toe".to_owned()),
            Some(Part::Heel) => Some("heel".to_owned()),
            _ => None,
        };
        for s in spots {
            let m = Measure { what, value, unit: unit.clone(), foot: s.foot, claw: s.claw, at: at.clone() };
            self.out.measures.push((m, span));
        }
    }

    fn amount(&mut self, i: usize, milli: u64, unit: Unit, span: Span) {
        let what = match self.part {
            Some(Part::Sole) => MeasureKind::SoleThickness,
            Some(Part::Toe | Part::Wall) => MeasureKind::ToeLength,
            Some(Part::Heel) => MeasureKind::HeelHeight,
            None => {
                self.out.loose_numbers.push(span);
                return;
            }
        };
        self.measure(i, what, convert(milli, unit), None, span);
    }

    fn due(&mut self, i: usize, what: DueWhat, when: When, span: Span) {
        let first = self.items[..i].iter().all(|it| matches!(it.is, Phrase::Cow(_) | Phrase::Unread | Phrase::Aside));
        let on = match reckon(when, self.visit) {
            Reckoned::Day(d) => Some(d),
            // "recheck cow four twenty": why she is here, and nothing is due.
            Reckoned::Open if when == When::Open && first => return,
            Reckoned::OneOf(dates) => {
                self.out.date_doubts.push((self.out.due.len(), dates));
                None
            }
            Reckoned::NoDate => {
                self.out.remarks.push(span.of(self.text).to_owned());
                return;
            }
            Reckoned::Open => None,
        };
        let foot = match self.held.spots.as_slice() {
            [one] => one.foot,
            _ => None,
        };
        self.out.due.push((Due { what, on, foot }, span));
    }

    /// A time by itself: fills a recheck that has none, or ends "block … for six weeks".
    fn time(&mut self, i: usize, when: When, span: Span) {
        let said_for = span.of(self.text).to_lowercase().starts_with("for ");
        let open = self.out.due.last().is_some_and(|(d, _)| d.on.is_none());
        if open && self.out.date_doubts.is_empty() {
            if let Reckoned::Day(day) = reckon(when, self.visit) {
                let last = self.out.due.last_mut().expect("there is one");
                last.0.on = Some(day);
                last.1 = last.1.to(span);
            }
        } else if said_for
            && self.gap(i) <= Gap::Space
            && self.last_deed.is_some_and(|d| i - d <= 2)
            && let Some(device) = self.device
        {
            self.due(i, off(device), when, span);
        }
    }

    fn finish(mut self) -> Draft {
        if self.bare_clear && self.out.findings.is_empty() && self.out.clear.is_empty() {
            self.out.clear.extend(Foot::ALL);
        }
        let lesions = self.lesion_feet(false);
        let spared = std::mem::take(&mut self.spared);
        self.out.clear.retain(|f| !(spared.contains(f) && lesions.contains(f)));
        // An agent by itself was put on the foot.
        if let Some((agent, span)) = self.agent.take() {
            let spots =
                if self.held.spots.is_empty() { vec![Spot::default()] } else { self.held.spots.clone() };
            for s in spots {
                let deed = Deed {
                    what: Act::Topical,
                    lost: false,
                    plural: false,
                    claw: None,
                    material: None,
                    agent: Some(agent.clone()),
                    like_before: false,
                };
                self.out.actions.push(DraftAction { deed, spot: Spot { claw: None, ..s }, own: None, span });
            }
        }
        if let Some((_, span)) = self.material.take() {
            self.out.unread.push(span);
        }
        self.out
    }
}

fn off(device: Device) -> DueWhat {
    match device {
        Device::Block => DueWhat::BlockOff,
        Device::Wrap => DueWhat::WrapOff,
    }
}
