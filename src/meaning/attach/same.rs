//! Rule 8: "same on the right" repeats the findings of the other side.

use super::{Held, NEARBY, Pass};
use crate::anatomy::Foot;
use crate::grammar::{ClawWord, Phrase, Where};
use crate::meaning::draft::{Draft, DraftAction, DraftFinding, Spot};
use crate::words::{self, Gap, Span};

impl Pass<'_> {
    /// Whether a claw is named by its noun: "the other" alone is the other foot.
    fn names_a_claw(&self, i: usize) -> bool {
        let words = self.items[i].span.of(self.text).to_lowercase();
        ["claw", "toe", "digit"].iter().any(|noun| words.contains(noun))
    }

    /// "right hind outer, bruise, same zone": as of the lesion before; of the next one, where the last has its own.
    pub(super) fn same_zone(&mut self, span: Span) {
        let Some(zones) = self.out.findings.iter().rev().map(|f| &f.zones).find(|z| !z.is_empty()).cloned() else {
            return self.out.same_open.push(span);
        };
        if self.last_mention().all(|f| f.zones.is_empty()) {
            self.last_mention().for_each(|f| f.zones.clone_from(&zones));
        } else {
            self.zones = Some((zones, span));
        }
    }

    /// "both hinds warts, left one healed, right one about the same": the right one has them too, and no course is told.
    fn as_it_was(&mut self, span: Span) {
        let of = |feet: &[Foot]| self.held.spots.iter().all(|s| s.foot.is_some_and(|foot| feet.contains(&foot)));
        let told: Vec<Foot> = self.out.findings.iter().filter_map(|f| f.spot.foot).collect();
        let Some(last) = self.out.findings.last().cloned() else { return };
        if !self.new_place_since() || last.course.is_none() || of(&told) {
            return;
        }
        // "ulcer left hind still open, right hind about the same": another foot, of which nothing was told.
        if !of(&self.group) {
            return self.out.same_open.push(span);
        }
        self.mentions += 1;
        for spot in self.held.spots.clone() {
            let spot = Spot { claw: spot.claw.or(last.spot.claw), ..spot };
            self.out.findings.push(DraftFinding { spot, course: None, mention: self.mentions, span, ..last.clone() });
        }
        self.held.used = true;
    }

    /// "same on the right": the findings of the other side's same foot.
    pub(super) fn same(&mut self, i: usize, span: Span, before: Option<&Draft>) -> usize {
        if words::behind(self.text, span.end as usize, " zone".len()).eq_ignore_ascii_case(" zone") {
            self.same_zone(span);
            return i + 1 + usize::from(self.get(i + 1) == Some(&Phrase::Unread) && self.gap(i + 1) <= Gap::Space);
        }
        // "left one healed, right one about the same": as it was.
        if self.led_last(i, &["about"]) || span.of(self.text).to_lowercase().starts_with("about") {
            self.out.asides += 1;
            self.as_it_was(span);
            return i + 1;
        }
        // "same ulcer again, right hind outer": one that was there before.
        let adjective = matches!(self.get(i + 1), Some(Phrase::Finding(_))) && self.gap(i + 1) <= Gap::Space;
        if adjective && self.out.findings.is_empty() {
            return i + 1;
        }
        // "276 the same, wart right hind": what it is follows.
        let told =
            matches!(self.get(i + 1), Some(Phrase::Finding(_) | Phrase::Stage(_))) && self.gap(i + 1) == Gap::Comma;
        if told && self.out.findings.is_empty() && i > 0 && self.items[i - 1].is_cow() {
            return i + 1;
        }
        // "same, but left hind"; in "same but left hind clean" the foot is what is not the same.
        let clean = |k: usize| self.get(k + 1) == Some(&Phrase::Clear) && self.gap(k + 1) <= Gap::Space;
        let but = usize::from(
            self.get(i + 1) == Some(&Phrase::Only)
                && matches!(self.get(i + 2), Some(Phrase::Place(p)) if p.feet != Where::Same)
                && self.gap(i + 2) <= Gap::Space
                && !clean(i + 2),
        );
        let i = i + but;
        // "left front the same hinds look good", "left hind the same and the fronts I didn't look at": it has its own foot.
        let own = but == 0
            && self.new_place_since()
            && i > 0
            && self.items[i - 1].is.one_foot().is_some()
            && self.gap(i) <= Gap::Space
            && !self.led_first(i + 1, &["on", "in", "for", "with", "as"]);
        let next = match self.get(i + 1) {
            Some(Phrase::Place(_)) if own || self.gap(i + 1) > Gap::Space && clean(i + 1) => None,
            Some(Phrase::Place(p)) if but > 0 || self.gap(i + 1) <= Gap::Space || !self.new_place_since() => {
                Some(p.clone())
            }
            _ => None,
        };
        // "same right hind outer as before": the place that was spoken of then.
        let before_today = |k: usize| {
            let behind = words::behind(self.text, self.items[k].span.end as usize, NEARBY).to_lowercase();
            [" as before", " as last", " as ever", " as always"].iter().any(|w| behind.starts_with(w))
        };
        if next.is_some() && but == 0 && self.out.findings.is_empty() && before_today(i + 1) {
            return i + 1;
        }
        let mut used = i + 1;
        let mut targets: Vec<Spot> = Vec::new();
        let before_feet = before.and_then(|d| d.findings.iter().rev().find_map(|f| f.spot.foot));
        if let Some(p) = next {
            used = i + 2;
            targets = match (&p.feet, p.claw) {
                (Where::Side(side), _) => {
                    let end = self.out.findings.iter().rev().find_map(|f| f.spot.foot).or(before_feet).map(Foot::end);
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
                // "same on the other": the other foot, where no claw is named by its word.
                (Where::Same, Some(ClawWord::Other)) if !self.names_a_claw(i + 1) => {
                    let foot = self.out.findings.iter().rev().find_map(|f| f.spot.foot).map(Foot::across);
                    vec![Spot { foot, ..Spot::default() }]
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
        } else if let Some(Phrase::Place(p)) = i.checked_sub(1).and_then(|k| self.get(k))
            && p.feet == Where::Same
            && matches!(p.claw, Some(ClawWord::One(_)))
            && self.gap(i) <= Gap::Space
        {
            // "right hind inner ulcer, the outer has one too"
            targets = self.spots(p);
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
        // "97 is clean, 98 the same"
        let clean = before.filter(|d| d.findings.is_empty() && !d.clear.is_empty()).map(|d| d.clear.clone());
        if let Some(clear) = clean.filter(|_| source.is_empty() && targets.is_empty() && self.out.clear.is_empty()) {
            self.clear_feet(&clear, false);
            return used;
        }
        // "left front's clean and so are the other three"
        let feet: Vec<Foot> = targets.iter().filter_map(|s| s.foot).collect();
        if source.is_empty() && self.out.findings.is_empty() && !self.out.clear.is_empty() && !feet.is_empty() {
            self.clear_feet(&feet, false);
            return used;
        }
        if source.is_empty() || (targets.is_empty() && !self.out.findings.is_empty()) {
            if source.is_empty() {
                self.out.same_open.push(span);
            }
            return used;
        }
        // "left hind healed, right hind now has the same thing": it is there, and not healed.
        let led = words::before(self.text, span.start as usize, NEARBY).to_lowercase();
        let has = [" has", " has the", " got the"].iter().any(|w| led.trim_end().ends_with(w));
        let source: Vec<DraftFinding> =
            source.into_iter().map(|f| DraftFinding { course: f.course.filter(|_| !has), ..f }).collect();
        self.mentions += 1;
        if targets.is_empty() {
            for mut f in source {
                f.mention = self.mentions;
                f.span = span;
                self.out.findings.push(f);
            }
            // A ditto mark repeats the line, with what was done.
            let marks = ["ditto", "dto", "\"", "〃", "do", "do."];
            if let Some(line) = before.filter(|_| marks.contains(&span.of(self.text).to_lowercase().as_str())) {
                self.out.actions.extend(line.actions.iter().map(|a| DraftAction { span, ..a.clone() }));
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
}
