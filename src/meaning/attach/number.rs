//! A number by itself: a score, a zone, a lesion again, or one that belongs to nothing and is told.

use super::{NEARBY, Pass, part_of};
use crate::disorder::Disorder;
use crate::entry::{Act, After, Measure, MeasureKind, Scale, Score};
use crate::grammar::{Deed, Named, Phrase, When, Where};
use crate::meaning::draft::{DraftFinding, LooseNumber};
use crate::vocab::{Part, Unit};
use crate::words::{self, Gap, Span};

/// Millimetres to which a toe is cut.
const TOE: std::ops::RangeInclusive<u64> = 50..=120;

/// Inches that no part of a claw is longer than.
const FINGERS: u64 = 6;

/// Whether a claw may well measure so many millimetres.
fn is_length(what: MeasureKind, n: u64) -> bool {
    match what {
        MeasureKind::ToeLength => TOE.contains(&n),
        MeasureKind::HeelHeight => (15..=70).contains(&n),
        MeasureKind::SoleThickness => (2..=15).contains(&n),
        MeasureKind::ToeAngle => false,
    }
}

fn measure_of(part: Part) -> Option<MeasureKind> {
    match part {
        Part::Toe => Some(MeasureKind::ToeLength),
        Part::Heel => Some(MeasureKind::HeelHeight),
        Part::Sole => Some(MeasureKind::SoleThickness),
        Part::Wall => None,
    }
}

impl Pass<'_> {
    /// Whether the words before a number tell that it is of how she walks.
    fn is_gait(&self, i: usize) -> bool {
        let before = words::before(self.text, self.items[i].span.start as usize, NEARBY).to_lowercase();
        let sentence = before.rsplit(['.', ';']).next().unwrap_or_default().trim_end();
        let walk = ["walk", "lame", "limp", "moving"].iter().any(|w| sentence.contains(w));
        // "last time a three, today a one", "she was a three and she's still a three"
        let then = sentence.contains("last time a ") || sentence.contains(" was a ");
        let now = ["today a", "now a", "still a"].iter().any(|w| words::ends_with(sentence, w));
        sentence.ends_with("lame, a")
            || then && now
            || walk
                && [
                    "call it a",
                    "call that a",
                    "call her a",
                    "say a",
                    "make it a",
                    "make that a",
                    "about a",
                    "like a",
                    "at a",
                ]
                .iter()
                .any(|w| sentence.ends_with(w))
    }

    /// Reads the number at `i`; gives the index of the next item to read.
    pub(super) fn number(&mut self, i: usize, text: &str, value: Option<u64>, plain: bool) -> usize {
        let span = self.items[i].span;
        // "circumscribed 10-merge": half of a word that was not understood.
        let word = |it: &crate::grammar::Item| it.span.of(self.text).starts_with(char::is_alphabetic);
        if self.get(i + 1) == Some(&Phrase::Unread) && self.gap(i + 1) == Gap::Glue && word(&self.items[i + 1]) {
            self.out.unread.push(span);
            return i + 1;
        }
        if let Some(next) = value.filter(|_| plain).and_then(|value| self.another_score(i, value)) {
            return next;
        }
        // "toe length, outer eighty two, inner seventy six millimeters": measured in what the last of them is.
        if let Some(n) = value.filter(|_| plain && self.is_of_other_claw(i)) {
            let milli = n.saturating_mul(1000);
            match self.items[i + 2].is {
                Phrase::Amount { unit, .. } if self.part.is_some() => self.amount(i, milli, unit, span),
                Phrase::Measure { what, .. } => {
                    self.part = part_of(what).or(self.part);
                    self.amount(i, milli, Unit::Mm, span);
                }
                _ => {}
            }
            // The claw behind it is the next one's.
            let claw = self.get(i - 1).and_then(|p| p.place()?.one_claw()?.one());
            if let Some((measure, _)) = self.out.measures.last_mut().filter(|m| m.1 == span) {
                measure.claw = claw;
            }
            return i + 1;
        }
        // "she's walking nicely, I'd call it a 1", "dead lame, a 4": how she walks.
        // "I'd call it a four right front outer …"
        let foot_next = self.gap(i + 1) <= Gap::Space && self.get(i + 1).is_some_and(|is| is.one_foot().is_some());
        let behind = || if foot_next { self.words_to_next(i) } else { self.words_behind(i) };
        if let Some(value @ 0..=5) = value.filter(|_| plain)
            && (self.gap(i + 1) > Gap::Space || foot_next)
            && matches!(behind().iter().map(String::as_str).collect::<Vec<_>>()[..], [] | ["i'd", "say"])
            && self.is_gait(i)
        {
            self.out.scores.push((Score { scale: Scale::Locomotion, value, when: None }, true, span));
            return i + 1;
        }
        // `toe LFO 78`, "heel height left hind inner thirty eight": its place stands between.
        if let Some(n) = value.filter(|_| plain && i > 1 && self.gap(i) <= Gap::Space)
            && let Some(what) = self.measure_before_place(i).or_else(|| self.as_before_place(i))
            && is_length(what, n)
        {
            self.measure(i, what, n.saturating_mul(1000), None, span);
            // The claw behind it is the next one's.
            if let ([spot], Some((measure, _))) = (&self.held.spots[..], self.out.measures.last_mut()) {
                (measure.foot, measure.claw) = (spot.foot, spot.claw);
            }
            return i + 1;
        }
        // "sole is down to four"
        if let Some(n) = value.filter(|_| plain && self.gap(i) <= Gap::Space)
            && let Some(Phrase::Part(part)) = i.checked_sub(1).and_then(|k| self.get(k))
            && let Some(what) = measure_of(*part).filter(|what| is_length(*what, n))
            && self.words_before(i).ends_with(&["down".to_owned(), "to".to_owned()])
        {
            self.measure(i, what, n.saturating_mul(1000), None, span);
            return i + 1;
        }
        // "toes too long, eighty eight on the left hind outer and ninety on the right hind outer"
        if let Some(n) = value.filter(|n| plain && TOE.contains(n))
            && self.part == Some(Part::Toe)
            && self.get(i + 1).is_some_and(|is| is.one_foot().is_some())
            && self.gap(i + 1) <= Gap::Space
            && self.led_first(i + 1, &["on"])
        {
            self.measure(i, MeasureKind::ToeLength, n.saturating_mul(1000), None, span);
            self.owned = Some(i + 1);
            return i + 1;
        }
        // "three and a half inches on the left hind outer, three on the right one": in the same unit.
        if let Some(n) = value.filter(|n| plain && *n <= FINGERS)
            && let Some((before, at)) = self.out.measures.last()
            && at.of(self.text).to_lowercase().contains("inch")
            && matches!(self.get(i + 1), Some(Phrase::Place(_)))
            && self.gap(i + 1) <= Gap::Space
            && self.led_first(i + 1, &["on"])
        {
            let what = before.what;
            self.measure(i, what, crate::grammar::convert(n.saturating_mul(1000), Unit::Inch), None, span);
            self.owned = Some(i + 1);
            return i + 1;
        }
        // "one bruise, left hind outer"
        let lesion = matches!(self.get(i + 1), Some(Phrase::Finding(_))) && self.gap(i + 1) <= Gap::Space;
        if value == Some(1) && plain && lesion && self.gap(i) > Gap::Space {
            return i + 1;
        }
        // "was a four coming in and a two going out"
        if let Some(value @ 1..=5) = value.filter(|_| plain)
            && self.out.scores.is_empty()
            && matches!(
                self.words_to_next(i).iter().map(String::as_str).collect::<Vec<_>>()[..],
                ["coming" | "walking", "in", ..]
            )
        {
            self.out.scores.push((Score { scale: Scale::Locomotion, value, when: None }, true, span));
            return i + 1;
        }
        // "the toe was ninety in the autumn and it measured eighty two today"
        if let (Some(n), Some(what)) = (value.filter(|_| plain), self.measured_then)
            && self.is_of_now(i)
        {
            self.measured_then = None;
            self.measure(i, what, n.saturating_mul(1000), None, span);
            return i + 1;
        }
        if let Some(n) = value.filter(|_| plain)
            && (self.cut_to(i, n) || self.measured_now(i, n) || self.measured_after(i, n))
        {
            return i + 1;
        }
        if let Some(n) = value.filter(|_| plain)
            && (self.off_in(i, n) || self.goes_on_with(i, n))
        {
            return i + 1;
        }
        // "right hind the same but only a one": of the grade that was repeated.
        let graded = self.out.findings.last().is_some_and(|f| f.severity.is_some());
        if let Some(grade @ 1..=3) = value.filter(|_| graded && self.same_but(i)) {
            self.last_mention().for_each(|f| f.severity = Some(grade));
            return i + 1;
        }
        // "a grade one now, it was a three"
        if graded && self.gap(i) == Gap::Comma && self.words_before(i).ends_with(&["was".to_owned(), "a".to_owned()]) {
            self.out.asides += 1;
            return i + 1;
        }
        if self.is_lameness(i) {
            return i + 1;
        }
        if value == Some(1) && self.is_one_here(i) {
            return i + 1;
        }
        // "white line separations on one right hind outer": how "zone one" is heard.
        if let Some(zone) = value.and_then(|n| u8::try_from(n).ok()).filter(|z| plain && (1..=10).contains(z))
            && self.led_first(i, &["on"])
            && self.gap(i) <= Gap::Space
            && self.gap(i + 1) <= Gap::Space
            && i > 0
            && matches!(self.get(i - 1), Some(Phrase::Finding(_)))
            && self.get(i + 1).is_some_and(|is| is.one_foot().is_some())
            && self.words_to_next(i).is_empty()
            && let Some(finding) = self.out.findings.last().map(|f| f.span)
        {
            self.out.loose_numbers.push(LooseNumber { span, after: Some((zone, finding)), or: None, tag: None });
            return i + 1;
        }
        if value == Some(1)
            && let Some(at) = self.one_elsewhere(i)
        {
            if self.last_deed.is_some() && self.last_deed > self.last_finding_item && self.device.is_some() {
                self.deed(at - 1, &Deed { like_before: true, ..Deed::of(Act::Block) }, span);
            } else {
                self.another_finding(i, at);
            }
            return at;
        }
        if plain && value == Some(3) && self.three_clean(i) {
            return i + 1 + usize::from(self.get(i + 1) == Some(&Phrase::Clear));
        }
        if let Some(zones) = self.zones_between_commas(i) {
            self.last_mention().for_each(|f| f.zones.extend(zones));
            return i + 2;
        }
        if plain && self.no_such_stage(i) {
            return i + 1;
        }
        let after = self.after_finding(i, value);
        if let Some((zone, _)) = after.filter(|_| plain && self.is_zone_between_commas(i)) {
            for f in self.last_mention() {
                f.zones.push(zone);
            }
            return i + 1;
        }
        if after.is_none() && !plain {
            // "Vort": a word that was taken for a number, and is none.
            self.out.unread.push(span);
            return i + 1;
        }
        // "… to the vet. Towel 99, toe length …": where a sentence begins, a short one may be a tag, too.
        // "these were clean, 12, 14, 17": a list of tags.
        let number =
            |k: usize| matches!(self.get(k), Some(Phrase::Number { text, plain: true, .. }) if text.len() >= 2);
        let joined = |k: usize| self.gap(k) == Gap::Comma || self.items.get(k).is_some_and(|it| it.and);
        let listed = plain && (i > 0 && number(i - 1) && joined(i) || number(i + 1) && joined(i + 1));
        let long = text.len() >= 3
            || (text.len() == 2 && listed)
            || (plain
                && self.begins_a_sentence(span)
                && (text.len() == 2
                    || self.gap(i + 1) <= Gap::Space
                        && matches!(self.get(i + 1), Some(Phrase::Place(_) | Phrase::Finding(_)))));
        // "right hind and two, wrapped": the stage, with its "M" lost.
        let stage = self.held.item == i.checked_sub(1)
            && value.is_some_and(|n| (1..=4).contains(&n))
            && i > 0
            && ["and", "in", "end", "an", "on"]
                .iter()
                .any(|w| self.words(self.items[i - 1].span.end, span.start).iter().eq([*w]))
            && (self.gap(i + 1) > Gap::Space || matches!(self.get(i + 1), Some(Phrase::Deed(_))));
        // "warts on both hinds, and two on the right, M4 on the left"
        let wart =
            self.out.findings.last().is_some_and(|f| f.named == Named::Disorder(Disorder::DD) && f.stage.is_none());
        let of_side = wart
            && value.is_some_and(|n| (1..=4).contains(&n))
            && self.words_before(i) == ["and"]
            && matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.feet != Where::Same)
            && self.gap(i + 1) <= Gap::Space;
        // "cow 2266 and two right hind": before its foot.
        let before_foot = value.is_some_and(|n| (1..=4).contains(&n))
            && i > 0
            && self.items[i - 1].is_cow()
            && self.gap(i) <= Gap::Space
            && matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.one_foot().is_some())
            && self.gap(i + 1) <= Gap::Space
            && ["and", "in", "an", "on"].iter().any(|w| self.words_before(i).iter().eq([*w]));
        let tag = text.parse().ok().filter(|_| long || stage || before_foot || of_side).map(|n| (n, text.len() as u8));
        self.out.loose_numbers.push(LooseNumber { span, after, or: None, tag });
        i + 1
    }

    /// `lame 3`, `lame 3/5`, `walks 2`: the locomotion score, as "score three" is.
    pub(super) fn is_lameness(&mut self, i: usize) -> bool {
        let span = self.items[i].span;
        let before = self.text.get(..span.start as usize).unwrap_or_default();
        // `TU closed, walks 2`
        let lame = ["lame ", "walks ", "walking "].iter().any(|w| words::ends_with(before, w));
        let said = span.of(self.text);
        let Some(value @ 1..=5) = said.strip_suffix("/5").unwrap_or(said).parse().ok().filter(|_| lame) else {
            return false;
        };
        let ends = self.gap(i + 1) > Gap::Space && self.words_to_next(i).is_empty();
        if ends {
            self.out.scores.push((Score { scale: Scale::Locomotion, value, when: None }, true, span));
        }
        ends
    }

    /// `lh M2.5`, "M7": a wart, and which stage is asked; gives whether it is so.
    pub(super) fn no_such_stage(&mut self, i: usize) -> bool {
        let number = self.items[i].span;
        let before = self.text.get(..number.start as usize).unwrap_or_default().trim_end_matches(' ');
        let Some(before) = before.strip_suffix(['m', 'M']).filter(|t| !t.ends_with(char::is_alphanumeric)) else {
            return false;
        };
        let whole = number.of(self.text).split('.').next().and_then(|n| n.parse::<u8>().ok());
        let Some(whole) = whole.filter(|n| *n < 10) else { return false };
        let said = Span { start: before.len() as u32, end: number.end };
        let open = |f: &DraftFinding| f.named == Named::Disorder(Disorder::DD) && f.stage.is_none();
        if self.new_place_since() || !self.out.findings.last().is_some_and(open) {
            self.finding(i, Named::Disorder(Disorder::DD), said);
        }
        let after = self.out.findings.last().map(|f| (whole, f.span));
        self.out.loose_numbers.push(LooseNumber { span: said, after, or: None, tag: None });
        true
    }

    /// Whether a claw stands before the number, and one before the measure behind it.
    fn is_of_other_claw(&self, i: usize) -> bool {
        let claw = |k: usize| self.get(k).and_then(Phrase::place).is_some_and(|p| p.one_claw().is_some());
        let close = self.gap(i) <= Gap::Space && self.gap(i + 1) <= Gap::Comma && self.gap(i + 2) <= Gap::Space;
        let measure = match self.get(i + 2) {
            Some(Phrase::Amount { .. }) => self.part.is_some(),
            // Of another unit it is not known what the number counts.
            Some(Phrase::Measure { .. }) => {
                let said = self.items[i + 2].span.of(self.text).to_lowercase();
                ["mm", "mil", "mils"].iter().any(|unit| said.contains(unit))
            }
            _ => false,
        };
        measure && close && i > 0 && claw(i - 1) && claw(i + 1)
    }

    /// "now six", "six today"
    pub(super) fn is_of_now(&self, i: usize) -> bool {
        let now = |w: &String| ["now", "today"].contains(&w.as_str());
        self.words_before(i).iter().any(now)
            || self.words_to_next(i).first().is_some_and(now)
            || self.get(i + 1) == Some(&Phrase::Time(When::Days(0)))
            || i > 0 && self.get(i - 1) == Some(&Phrase::Time(When::Days(0))) && self.gap(i) <= Gap::Space
    }

    /// "the sole was three millimetres, now six", "sole was four last month, six today": as it is today.
    fn measured_now(&mut self, i: usize, n: u64) -> bool {
        let today = self.is_of_now(i);
        let over = |k: &usize| matches!(self.items[*k].is, Phrase::Past | Phrase::Aside);
        // "four millimetres on the right hind outer, it's six today": its own place, and no other.
        let own = |k: &usize| matches!(self.items[*k].is, Phrase::Place(_)) && self.gap(*k) <= Gap::Space;
        let before = (0..i).rev().find(|k| !over(k));
        let measured = before.and_then(|k| if own(&k) { k.checked_sub(1) } else { Some(k) });
        let measure = |k: &usize| matches!(self.items[*k].is, Phrase::Measure { .. } | Phrase::Amount { .. });
        let day = self.get(i + 1) == Some(&Phrase::Time(When::Days(0)));
        let close = self.gap(i) <= Gap::Comma && (self.gap(i + 1) > Gap::Space || day);
        let Some(k) = measured.filter(|k| measure(k) && today && close) else { return false };
        let was = self.items[k].span;
        // A toe or an angle has two measures where it was trimmed between.
        let sole = |m: &Measure| m.what == MeasureKind::SoleThickness;
        let hit = self.out.measures.iter_mut().filter(|(m, span)| *span == was && sole(m));
        if hit.map(|(m, _)| m.value = n as f64).count() > 0 {
            return true;
        }
        // "toe was ninety, now seventy five"
        let Some(what) = self.out.measures.iter().find(|(_, span)| *span == was).map(|(m, _)| m.what) else {
            return false;
        };
        self.measure(i, what, n.saturating_mul(1000), None, self.items[i].span);
        true
    }

    /// `toe LFO 78`
    fn measure_before_place(&self, i: usize) -> Option<MeasureKind> {
        let Some(Phrase::Part(part)) = self.get(i - 2) else { return None };
        let placed = matches!(self.get(i - 1), Some(Phrase::Place(_))) && self.gap(i - 1) <= Gap::Space;
        measure_of(*part).filter(|_| placed)
    }

    /// `toe LHO 82 / LHI 78`, "heel height left hind inner thirty eight outer forty two": as the number before.
    fn as_before_place(&self, i: usize) -> Option<MeasureKind> {
        let number = self.items[i - 2].span;
        let (before, at) = self.out.measures.last()?;
        let place = self.get(i - 1)?.place()?;
        // "left outer four millimeters, right outer five"
        let side = matches!(place.feet, Where::Same | Where::Side(_)) && place.claw.is_some();
        let placed = place.one_foot().is_some() || side;
        // "eighty eight on the left hind outer and ninety on the right hind outer": each before its own.
        let own = self.led_first(i - 1, &["on"]) || self.led_first(i + 1, &["on"]);
        (*at == number && placed && !own).then_some(before.what)
    }

    /// "toe length eighty five millimetres before and seventy eight after"
    fn measured_after(&mut self, i: usize, n: u64) -> bool {
        let Some((before, at)) = self.out.measures.last() else { return false };
        let led = self.words(at.end, self.items[i].span.start);
        let after = words::behind(self.text, self.items[i].span.end as usize, " afterwards".len()).to_lowercase();
        if led.first().is_none_or(|w| w != "before") || !after.starts_with(" after") || self.gap(i) > Gap::Comma {
            return false;
        }
        let what = before.what;
        self.measure(i, what, n.saturating_mul(1000), None, self.items[i].span);
        true
    }

    /// "toe eighty two millimeters, cut to seventy six", "…, took it to seventy six": how long it is now.
    fn cut_to(&mut self, i: usize, n: u64) -> bool {
        let Some((before, at)) = self.out.measures.last() else { return false };
        let led = self.words(at.end, self.items[i].span.start);
        let took = ["took", "brought", "down", "back", "shortened"];
        let took = matches!(&led[..], [first, .., to] if to == "to" && took.contains(&first.as_str()));
        let cut = self.get(i - 1) == Some(&Phrase::Aside)
            && self.gap(i) <= Gap::Space
            && [" to", " down to"].iter().any(|w| words::ends_with(self.items[i - 1].span.of(self.text), w));
        // "toe eighty eight, angle forty five, shortened it to seventy eight"
        let of_foot = |m: &Measure| m.foot == before.foot && m.what == MeasureKind::ToeLength;
        let angle = before.what == MeasureKind::ToeAngle && self.out.measures.iter().any(|(m, _)| of_foot(m));
        let toe = before.what == MeasureKind::ToeLength || angle;
        if !(took || cut) || !toe || !TOE.contains(&n) {
            return false;
        }
        self.measure(i, MeasureKind::ToeLength, n.saturating_mul(1000), None, self.items[i].span);
        true
    }

    /// A score again: after what was done, or as it is after all.
    fn another_score(&mut self, i: usize, value: u64) -> Option<usize> {
        // "mobility two, she was only a one in February"
        let only = i > 0 && self.items[i - 1].is == Phrase::Only;
        let was = self.led_by(i - usize::from(only), &["was"]) && self.gap(i) < Gap::Stop;
        let said_so =
            self.gap(i) == Gap::Comma && matches!(&self.words_before(i)[..], [i, say] if i == "i'd" && say == "say");
        let span = self.items[i].span;
        let last = self.out.scores.last_mut().map(|s| &mut s.0)?;
        if was && last.scale.range().contains(&value) {
            self.out.asides += 1;
            return Some(i + 1);
        }
        let after = Score { value, when: Some(After::After), ..last.clone() };
        // "farmer scored her a three, I'd say two"
        if said_so && last.scale.range().contains(&value) {
            last.value = value;
            return Some(i + 1);
        }
        // "I said locomotion three but she's only a two"
        let scored = (0..i).rev().find(|k| self.items[*k].is != Phrase::Only)?;
        let behind = matches!(self.items[scored].is, Phrase::Score { .. });
        if behind && scored + 1 < i && self.items[i].gap <= Gap::Space && last.scale.range().contains(&value) {
            last.value = value;
            return Some(i + 1);
        }
        // "locomotion 4 in, 2 out"
        let out = self.text.get(span.end as usize..).unwrap_or_default().strip_prefix(" out");
        let out = out.is_some_and(|rest| !rest.starts_with(char::is_alphanumeric) && !rest.starts_with(" of"));
        // "locomotion three coming in, two going out"
        let going = self.get(i + 1) == Some(&Phrase::Afterwards) && self.gap(i + 1) <= Gap::Space;
        if going || out && behind && scored + 1 == i {
            self.out.scores.push((after, true, span));
            return Some(i + 1 + usize::from(going));
        }
        None
    }
}
