//! Scores, measures and times.

use super::Pass;

use crate::disorder::Stage;
use crate::entry::{After, Measure, MeasureKind, Scale, Score};
use crate::grammar::{Phrase, Place, Where, convert};
use crate::meaning::draft::{LooseNumber, Spot};
use crate::vocab::{Part, Unit};
use crate::words::{self, Gap, Span};

/// Millimetres that no toe is shorter than.
const SHORTEST_TOE: u64 = 40;

/// From so many thousandths of a millimetre on a length is hardly a lesion's.
const LONG_FOR_A_LESION: u64 = 60_000;

impl Pass<'_> {
    /// Said of how she walks away; gives the index of the next item to read.
    pub(super) fn afterwards(&mut self, i: usize) -> usize {
        let scored = i > 0 && matches!(self.get(i - 1), Some(Phrase::Score { .. }));
        // "Locomotion before: four. After: two."
        let after = matches!(self.get(i + 1), Some(Phrase::Number { .. }));
        let just_scored = scored && (self.gap(i) <= Gap::Comma || after);
        // "locomotion three coming in, to going out": how "two" is heard.
        let heard = match self.words_before(i).last().map(String::as_str) {
            Some("to" | "too") => Some(2),
            Some("for") => Some(4),
            Some("won") => Some(1),
            _ => None,
        };
        if let Some(value) = heard.filter(|_| scored && self.gap(i) == Gap::Comma)
            && let Some(before) = self.out.scores.last().map(|s| s.0.clone())
            && before.scale.range().contains(&value)
        {
            self.out.scores.push((Score { value, when: Some(After::After), ..before }, true, self.items[i].span));
            return i + 1;
        }
        // "score two, then after the block one"
        if just_scored
            && let Some(Phrase::Number { value: Some(value), .. }) = self.get(i + 1)
            && let Some(before) = self.out.scores.last().map(|s| s.0.clone())
            && self.gap(i + 1) <= Gap::Comma
        {
            let span = self.items[i + 1].span;
            self.out.scores.push((Score { value: *value, when: Some(After::After), ..before }, true, span));
            return i + 2;
        }
        // "walks away a one": of no other score.
        if let Some(Phrase::Number { value: Some(value @ 1..=5), plain: true, .. }) = self.get(i + 1)
            && self.out.scores.is_empty()
            && self.gap(i + 1) <= Gap::Space
            && self.words_before(i + 1).iter().all(|w| ["a", "at", "as", "is"].contains(&w.as_str()))
            && self.items[i].span.of(self.text).to_lowercase().contains("walk")
        {
            let score = Score { scale: Scale::Locomotion, value: *value, when: Some(After::After) };
            self.out.scores.push((score, true, self.items[i + 1].span));
            return i + 2;
        }
        if matches!(self.get(i + 1), Some(Phrase::Score { .. })) && self.gap(i + 1) <= Gap::Comma {
            self.after_said = true;
        } else if just_scored && let Some(s) = self.out.scores.last_mut() {
            s.0.when = Some(After::After);
        }
        i + 1
    }

    pub(super) fn measure(&mut self, i: usize, what: MeasureKind, milli: u64, at: Option<Part>, span: Span) {
        // "chased it up the wall about half an inch"
        let wall = what == MeasureKind::ToeLength && span.of(self.text).to_lowercase().contains("wall");
        if self.is_size(span) || wall && milli < 1000 * SHORTEST_TOE {
            self.out.unread.push(span);
            return;
        }
        let held = self.held.spots.iter().any(|s| s.foot.is_some());
        let spots = match self.get(i + 1) {
            Some(Phrase::Place(p))
                if self.gap(i + 1) <= Gap::Space
                    && !self.has_its_place_before(i)
                    && !(held
                        && (self.begins_next(i + 1) || self.place_is_taken(i + 1) || self.is_behind_talk(i + 1)))
                    && !self.is_what_is_left(i + 1, p) =>
            {
                if p.feet != Where::Same || held {
                    self.spots(p)
                } else {
                    vec![Spot::default()]
                }
            }
            // `heel 40 toe 78 angle 50 RH out`: one place for all of them.
            Some(Phrase::Measure { .. }) if !held && let Some(p) = self.place_of_row(i) => self.spots(&p),
            // "toe length eighty, left hind outer": the place comes later.
            Some(Phrase::Place(p)) if !held && p.feet != Where::Same => self.spots(p),
            _ if held => self.held.spots.clone(),
            // "eighty five before and seventy eight after, left hind outer": one place for both.
            _ => self.place_of_two(i).map_or_else(|| vec![Spot::default()], |p| self.spots(&p)),
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

    /// `LHO 5mm LHI 6mm`: each behind its own place.
    fn has_its_place_before(&self, i: usize) -> bool {
        let place = i > 0 && matches!(self.get(i - 1), Some(Phrase::Place(_))) && self.gap(i) <= Gap::Space;
        // "left hind outer toe eighty four millimeters inner eighty one"
        let claw = |k: usize| self.get(k).and_then(Phrase::place).is_some_and(|p| p.one_claw().is_some());
        let next = matches!(self.get(i + 2), Some(Phrase::Number { plain: true, .. })) && self.gap(i + 2) <= Gap::Space;
        if place && claw(i - 1) && claw(i + 1) && next {
            return true;
        }
        place
            && matches!(self.get(i + 2), Some(Phrase::Measure { .. } | Phrase::Amount { .. }))
            && self.gap(i + 2) <= Gap::Space
    }

    /// The place behind a length before and a length after.
    fn place_of_two(&self, i: usize) -> Option<Place> {
        let between =
            |is: &Phrase| matches!(is, Phrase::Number { .. } | Phrase::Afterwards | Phrase::Past | Phrase::Aside);
        let k = (i + 1..self.items.len()).find(|k| !between(&self.items[*k].is))?;
        let said = self.words(self.items[i].span.end, self.items[k].span.start);
        let place = self.get(k)?.place().filter(|p| p.one_foot().is_some())?;
        (said.iter().any(|w| w == "after") && (i + 1..=k).all(|k| self.gap(k) <= Gap::Comma)).then(|| place.clone())
    }

    /// The place behind a row of measures.
    fn place_of_row(&self, i: usize) -> Option<Place> {
        let behind = (i + 1..self.items.len()).find(|k| !matches!(self.items[*k].is, Phrase::Measure { .. }))?;
        match &self.items[behind].is {
            Phrase::Place(p) if p.feet != Where::Same && (i + 1..=behind).all(|k| self.gap(k) <= Gap::Comma) => {
                Some(p.clone())
            }
            _ => None,
        }
    }

    /// "a wart about three centimetres across": how large the lesion is.
    fn is_size(&self, span: Span) -> bool {
        let behind = words::behind(self.text, span.end as usize, " in diameter".len()).to_lowercase();
        [" across", " wide", " in diameter"].iter().any(|w| behind.starts_with(w))
    }

    pub(super) fn amount(&mut self, i: usize, milli: u64, unit: Unit, span: Span) {
        if self.is_size(span) {
            self.out.unread.push(span);
            return;
        }
        // "right hind outer toes 85 millimeters long": the claw's word was the toe's.
        let before = (0..i).rev().find(|k| !self.items[*k].is_cow());
        let toe = before.is_some_and(|k| {
            let said = self.items[k].span.of(self.text).to_lowercase();
            matches!(self.items[k].is, Phrase::Place(_))
                && (k + 1..=i).all(|k| self.gap(k) <= Gap::Space)
                && [" toe", " toes", " toe's"].iter().any(|w| said.ends_with(w))
        });
        // "eighty one millimetres in the toe"
        let behind = match self.get(i + 1) {
            Some(Phrase::Part(part)) if self.gap(i + 1) <= Gap::Space && self.led_first(i + 1, &["in", "at", "of"]) => {
                Some(*part)
            }
            _ => None,
        };
        self.part = self.part.or(toe.then_some(Part::Toe)).or(behind);
        let what = match self.part {
            Some(Part::Sole) => MeasureKind::SoleThickness,
            Some(Part::Toe | Part::Wall) => MeasureKind::ToeLength,
            Some(Part::Heel) => MeasureKind::HeelHeight,
            None => {
                // "to 74 millimetres": of what is asked.
                let digits = milli / 1000;
                let toe =
                    self.words_before(i).last().is_some_and(|w| ["to", "too", "tow", "top"].contains(&w.as_str()));
                // "angle 48 degrees top 3 inches": in a row with another measure.
                let before = self.items[..i].iter().rev().find(|it| it.is != Phrase::Unread);
                let row = matches!(before.map(|it| &it.is), Some(Phrase::Measure { .. } | Phrase::Amount { .. }));
                // "78 mm on the off hind lateral": hardly the size of a lesion.
                let long = convert(milli, unit) >= LONG_FOR_A_LESION && !words::ends_with(span.of(self.text), " long");
                let tag = (toe || row || long).then(|| (digits, digits.to_string().len() as u8));
                self.out.loose_numbers.push(LooseNumber { span, after: None, or: None, tag });
                return;
            }
        };
        self.measure(i, what, convert(milli, unit), None, span);
    }

    /// "grade two on the left, three on the right": a number of the kind before it.
    pub(super) fn goes_on_with(&mut self, i: usize, n: u64) -> bool {
        let placed = |k: usize| matches!(self.get(k), Some(Phrase::Place(_)));
        let close =
            i >= 2 && placed(i - 1) && placed(i + 1) && self.gap(i + 1) <= Gap::Space && self.gap(i) <= Gap::Comma;
        let Ok(small) = u8::try_from(n) else { return false };
        if !close || self.finding_follows(i + 2) {
            return false;
        }
        let span = self.items[i].span;
        match &self.items[i - 2].is {
            Phrase::Severity(_) if n <= 3 => self.severity(i, n),
            Phrase::Zones(_) => self.zones(i, &[small]),
            // "four mil on the left and five on the right"
            Phrase::Measure { .. } | Phrase::Amount { .. } if self.items[i].and => {
                let Some(what) = self.out.measures.last().map(|(m, _)| m.what) else { return false };
                self.measure(i, what, n.saturating_mul(1000), None, span);
            }
            Phrase::Stage(_) => match Stage::new(n, None) {
                Some(stage) => self.stage(i, stage, span),
                None => return false,
            },
            _ => return false,
        }
        true
    }
}
