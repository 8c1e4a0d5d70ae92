//! How it was before today, and what is only to be done later: said, and no part of today's record.

use super::due::is_over;
use super::tenses::Over;
use super::{Held, NEARBY, Pass, Told, part_of};
use crate::disorder::{Course, Disorder};
use crate::entry::{Act, MeasureKind, Score};
use crate::grammar::{Deed, Item, Named, Phrase, When, Where};
use crate::meaning::draft::{DraftFinding, Spot};
use crate::vocab::{Device, Part, Vague};
use crate::words::{self, Gap, Span};

/// Words that tell how something was.
const WAS: [&str; 5] = ["was", "were", "had", "formerly", "previously"];
/// Words that a tale of the last visit goes on with.
const TALE: [&str; 14] =
    ["i", "we", "you", "he", "she", "it", "they", "that", "there", "was", "were", "had", "i'd", "she'd"];

impl Pass<'_> {
    /// "an M two last visit", "loco 4 last time", "was an ulcer last month": the items from `i` on that tell how it was;
    /// gives the index of the next to read.
    pub(super) fn was_then(&mut self, i: usize) -> Option<usize> {
        let value = matches!(
            self.get(i)?,
            Phrase::Stage(_) | Phrase::Score { .. } | Phrase::Measure { .. } | Phrase::Amount { .. }
        );
        if value && self.gone_from(i) {
            return Some(i + 1);
        }
        // "she went from a locomotion four down to a two"
        let scores = matches!((self.get(i), self.get(i + 1)), (Some(Phrase::Score { .. }), Some(Phrase::Score { .. })));
        if scores && self.led_by(i, &["from"]) && self.gap(i + 1) <= Gap::Space {
            self.remark(i, i);
            return Some(i + 1);
        }
        // `M3 LH (M2 on 12 Feb)`
        if let (Some(Phrase::Stage(_) | Phrase::Score { .. }), Some(Phrase::Time(when))) =
            (self.get(i), self.get(i + 1))
            && self.gap(i + 1) <= Gap::Space
            && is_over(*when, self.visit)
        {
            self.remark(i, i + 1);
            return Some(self.score_of_now(i, i + 2));
        }
        // "M3, nearly M4": not yet.
        if i > 0
            && matches!((self.get(i - 1), self.get(i)), (Some(Phrase::Stage(_)), Some(Phrase::Stage(_))))
            && self.leads_from(i, &["nearly", "almost"])
        {
            self.remark(i, i);
            return Some(i + 1);
        }
        let own = self.items[i].span;
        let was = || self.leads_from(i, &WAS) || self.words(own.start, own.end).iter().any(|w| w == "was");
        // `MS 3 → 1`, `loco 4 last, 2 now`, "was loco 3, now 2"
        if let (Phrase::Score { scale, .. }, Some(Phrase::Number { value: Some(value), .. })) =
            (&self.items[i].is, self.get(i + 1))
            && scale.range().contains(value)
            && (self.is_arrow(i) || self.words_to_next(i) == ["last"] || was() && self.is_of_now(i + 1))
            && self.get(i + 2) != Some(&Phrase::Afterwards)
        {
            self.out.scores.push((Score { scale: *scale, value: *value, when: None }, true, self.items[i + 1].span));
            return Some(i + 2);
        }
        // `M2→M3`
        let next = self
            .items
            .get(i + 1)
            .filter(|n| matches!((&self.items[i].is, &n.is), (Phrase::Stage(_), Phrase::Stage(_))));
        // "M2 then and M3 now"
        let then = |n: &Item| {
            let between = self.words(self.items[i].span.end, n.span.start);
            between.first().is_some_and(|w| w == "then") && n.gap <= Gap::Comma
        };
        if next.is_some_and(|n| self.is_arrow(i) || then(n)) {
            self.remark(i, i);
            return Some(i + 1);
        }
        // "right one M4 where it was M2"
        let stayed = i > 1 && matches!(self.get(i - 1), Some(Phrase::Stays(None)));
        let placed = usize::from(i > 2 && matches!(self.get(i - 2), Some(Phrase::Place(_))));
        if stayed
            && matches!((self.get(i - 2 - placed), self.get(i)), (Some(Phrase::Stage(_)), Some(Phrase::Stage(_))))
            && self.items[i - 1].span.of(self.text).to_lowercase().starts_with("where it was")
        {
            self.remark(i, i);
            return Some(i + 1);
        }
        // "M two left hind treated with copper sulfate last time, now M four"
        if matches!(self.get(i), Some(Phrase::Stage(_)))
            && let Some(past) = self.past_before_another_stage(i)
        {
            self.remark(i, past);
            self.hold_foot_of(i, past);
            return Some(past + 1);
        }
        // "M4 now, was M2"
        let placed = usize::from(i > 1 && matches!(self.get(i - 1), Some(Phrase::Place(_))));
        let two = i > placed
            && matches!((self.get(i - 1 - placed), self.get(i)), (Some(Phrase::Stage(_)), Some(Phrase::Stage(_))));
        // "M4 where it was M2"
        let where_it_was = || self.gap(i) <= Gap::Space && self.leads_from(i, &["where"]);
        if two && (self.gap(i) == Gap::Comma || where_it_was()) && self.leads_from(i, &WAS) {
            self.remark(i, i);
            return Some(i + 1);
        }
        // "the wart's gone, she was M two"
        let healed = self.out.findings.last().is_some_and(|f| f.course == Some(Course::Healed) && f.stage.is_none());
        let was_stage = matches!(self.get(i), Some(Phrase::Stage(_))) && healed && self.leads_from(i, &["was", "were"]);
        if was_stage || self.is_what_it_was(i) {
            self.remark(i, i);
            return Some(i + 1);
        }
        let place = usize::from(matches!(self.get(i + 1), Some(Phrase::Place(_))) && self.gap(i + 1) <= Gap::Space);
        let past = i + 1 + place;
        // "gone to an M four since last visit" is how it is.
        let since = || {
            self.items[past].span.of(self.text).to_lowercase().starts_with("since") || self.leads_from(past, &["since"])
        };
        // "mobility two and she was a two last time": told of another number.
        let close =
            self.get(past) == Some(&Phrase::Past) && self.gap(past) <= Gap::Space && !self.items[past].and && !since();
        let lesion =
            || matches!(self.get(i), Some(Phrase::Finding(_))) && self.leads_from(i, &WAS) && !self.course_follows(i);
        // "a bruise last visit, now an ulcer": with the other one named as how it is now.
        let another = || {
            matches!(self.get(i), Some(Phrase::Finding(_)))
                && matches!(self.get(past + 1), Some(Phrase::Finding(_)))
                && self.gap(past + 1) <= Gap::Comma
                && self.led_by(past + 1, &["now", "today"])
        };
        if !(close && (value || lesion() || another())) {
            return None;
        }
        self.remark(i, past);
        self.hold_foot_of(i, past);
        if matches!(self.get(i), Some(Phrase::Finding(_))) {
            let held = self.held.clone();
            self.remember(i, past);
            self.held = held;
        }
        if let Some(Phrase::Measure { what, .. }) = self.get(i) {
            self.part = part_of(*what).or(self.part);
        }
        // "loco 4 last visit, 2 today"
        if let (Some(Phrase::Score { scale, .. }), Some(Phrase::Number { value: Some(value), plain: true, .. })) =
            (self.get(i), self.get(past + 1))
            && self.gap(past + 1) <= Gap::Comma
        {
            let score = Score { scale: *scale, value: *value, when: None };
            self.out.scores.push((score, true, self.items[past + 1].span));
            return Some(past + 2);
        }
        // "toe was ninety millimetres in January, eighty today"
        let today = |k: usize| self.get(k) == Some(&Phrase::Time(When::Days(0)));
        if let Some(Phrase::Number { value: Some(n), plain: true, .. }) = self.get(past + 1)
            && self.gap(past + 1) <= Gap::Comma
            && (self.gap(past + 2) > Gap::Space || today(past + 2))
        {
            let (milli, span) = (n.saturating_mul(1000), self.items[past + 1].span);
            match self.items[i].is {
                Phrase::Amount { unit, .. } => self.amount(past + 1, milli, unit, span),
                Phrase::Measure { what, at, .. } => self.measure(past + 1, what, milli, at, span),
                _ => return Some(past + 1),
            }
            return Some(past + 2);
        }
        Some(past + 1)
    }

    /// A place right behind "last time", and behind that the one where it is now.
    pub(super) fn was_there_then(&self, i: usize) -> bool {
        let past = i > 0 && self.items[i - 1].is == Phrase::Past && self.words_before(i).is_empty();
        let now = (i + 1..self.items.len()).find(|k| matches!(self.items[*k].is, Phrase::Place(_)));
        let now = now
            .is_some_and(|k| self.words(self.items[i].span.end, self.items[k].span.start).iter().any(|w| w == "now"));
        past && self.gap(i) <= Gap::Space && self.gap(i + 1) > Gap::Space && now
    }

    /// "score three before, now score two": what is told anew further on. Gives the index of the next to read.
    pub(super) fn is_over(&mut self, i: usize, how: Over) -> usize {
        if how == Over::Then {
            self.remark_of(i);
        }
        match &self.items[i].is {
            // "had a corkscrew as a heifer and she still does"
            Phrase::Finding(named) if how == Over::Then => {
                self.told_of = Some(Told { named: *named, spots: vec![], zones: vec![], span: self.items[i].span });
            }
            Phrase::Measure { what, .. } => {
                self.part = part_of(*what).or(self.part);
                self.measured_then = Some(*what);
            }
            // "toe on the left front outer was 95 mil, now 76"
            Phrase::Amount { .. } => {
                self.measured_then = match self.part {
                    Some(Part::Toe) => Some(MeasureKind::ToeLength),
                    Some(Part::Sole) => Some(MeasureKind::SoleThickness),
                    Some(Part::Heel) => Some(MeasureKind::HeelHeight),
                    _ => None,
                };
            }
            Phrase::Deed(Deed { what: Act::Block, .. }) => self.device = Some(Device::Block),
            Phrase::Deed(Deed { what: Act::Wrap, .. }) => self.device = Some(Device::Wrap),
            _ => {}
        }
        // "locomotion four before the block, two today": it was on already.
        let block = matches!(self.get(i + 1), Some(Phrase::Deed(_))) && self.led_first(i + 1, &["before"]);
        let past = i + 1 + usize::from(self.get(i + 1) == Some(&Phrase::Past) || block);
        let next = self.score_of_now(i, past);
        if next == past { i + 1 } else { next }
    }

    /// "last time three out of five, today two": as it is now, behind what was told from `i` on to `end`.
    fn scored_today(&mut self, i: usize, end: usize) -> usize {
        let score = (i..end).rev().find(|k| matches!(self.items[*k].is, Phrase::Score { .. }));
        let number = end + usize::from(self.get(end) == Some(&Phrase::Time(When::Days(0))));
        let next = score.map_or(number, |score| self.score_of_now(score, number));
        if next > number { next } else { end }
    }

    /// Takes the number at `k` for the score at `i` as it is today, where that is said; gives the index of the next to
    /// read.
    fn score_of_now(&mut self, i: usize, k: usize) -> usize {
        if let (Some(Phrase::Score { scale, .. }), Some(Phrase::Number { value: Some(value), plain: true, .. })) =
            (self.get(i), self.get(k))
            && scale.range().contains(value)
            && self.gap(k) <= Gap::Comma
            && self.is_of_now(k)
        {
            let score = Score { scale: *scale, value: *value, when: None };
            self.out.scores.push((score, true, self.items[k].span));
            return k + 1;
        }
        k
    }

    /// The word for what is over, in the same part of the sentence as the stage at `i` and behind what was done then, where
    /// another stage tells how it is now.
    fn past_before_another_stage(&self, i: usize) -> Option<usize> {
        let past = (i + 2..self.items.len()).find(|k| self.get(*k) == Some(&Phrase::Past))?;
        let told = |is: &Phrase| matches!(is, Phrase::Place(_) | Phrase::Deed(_) | Phrase::Agent(_));
        let close =
            (i + 1..=past).all(|k| self.gap(k) <= Gap::Space) && self.items[i + 1..past].iter().all(|t| told(&t.is));
        let now = matches!(self.get(past + 1), Some(Phrase::Stage(_)))
            && self.gap(past + 1) <= Gap::Comma
            && self.led_by(past + 1, &["now", "today"]);
        (close && now).then_some(past)
    }

    /// "was an M one and it's healed", "was M two when I wrapped it, now it's healing": the stage is over.
    pub(super) fn was_and_healed(&self, i: usize) -> bool {
        let healed = self.get(i + 1) == Some(&Phrase::Course(Course::Healed)) && self.gap(i + 1) <= Gap::Comma;
        let another = |k: &usize| {
            matches!(self.get(*k), Some(Phrase::Place(_) | Phrase::Finding(_) | Phrase::Stage(_) | Phrase::Cow(_)))
        };
        let course = |k: &usize| matches!(self.get(*k), Some(Phrase::Course(_)));
        let mut behind = (i + 1..self.items.len().min(i + 5)).take_while(|k| !another(k));
        let now = |k: usize| self.words_before(k).iter().any(|w| w == "now" || w == "today");
        (healed || behind.find(course).is_some_and(now)) && self.leads_from(i, &WAS)
    }

    /// "three weeks since the block went on", "three weeks ago block on": when a deed was done.
    pub(super) fn leads_since(&self, i: usize) -> bool {
        let before = words::before(self.text, self.items[i].span.start as usize, NEARBY).trim_end();
        let ago = ["since the", "since her", "since that", "since we"].iter().any(|w| words::ends_with(before, w));
        let said = self.items[i].span.of(self.text).to_lowercase();
        // "three weeks ago block on"
        let then = words::ends_with(before, "ago") && self.gap(i) <= Gap::Space && is_of_no_new_one(&said);
        then || ago && (said.ends_with(" on") || self.followed_first(i, &["went", "was", "had"]))
    }

    /// Whether a deed is joined by "and" to what is to come off another day.
    pub(super) fn is_to_be_done_then(&self, i: usize) -> bool {
        let Some(due) = i.checked_sub(1).map(|k| &self.items[k]) else { return false };
        let bidden = ["take ", "pull ", "cut "].iter().any(|w| due.span.of(self.text).to_lowercase().starts_with(w));
        let said = self.items[i].span.of(self.text).to_lowercase();
        let done = said.split(' ').next().is_some_and(|w| w.ends_with("ed"));
        matches!(due.is, Phrase::Due { .. }) && bidden && !done && self.items[i].and && self.gap(i) <= Gap::Space
    }

    /// "the block has another two weeks in it": one that is there already.
    pub(super) fn has_time_left(&self, i: usize) -> bool {
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY).to_lowercase();
        let part = behind.split([',', '.', ';']).next().unwrap_or_default().trim_end();
        let time = [" week", " day", " month", " visit"].iter().any(|w| part.contains(w));
        part.contains(" has ") && time && ["in it", "left", "to go"].iter().any(|w| part.ends_with(w))
    }

    /// "that one had it on the left": told of another foot than the one that is named behind.
    pub(super) fn is_where_it_was(&self, i: usize) -> bool {
        let before = words::before(self.text, self.items[i].span.start as usize, NEARBY).trim_end();
        let had = ["had it on the", "had one on the", "had it on her"].iter().any(|w| words::ends_with(before, w));
        had && self.gap(i + 1) > Gap::Space && self.another_foot_behind(i)
    }

    /// Whether an arrow leads from item `i` to the next.
    fn is_arrow(&self, i: usize) -> bool {
        let Some(next) = self.items.get(i + 1) else { return false };
        let between = self.text.get(self.items[i].span.end as usize..next.span.start as usize).unwrap_or_default();
        ["\u{2192}", "->", "=>", ">"].contains(&between.trim())
    }

    /// `s2 (was s3)`, "4mm was 3mm", "open again, it was healed last visit": a second one of a kind, with the word for
    /// what is over right before it.
    fn is_what_it_was(&self, i: usize) -> bool {
        let Some(before) = i.checked_sub(1).and_then(|k| self.get(k)) else { return false };
        // "M four from an M two", "and that's down from severe"
        let led = self.words_before(i);
        let led: Vec<&str> = led.iter().map(String::as_str).collect();
        let from = matches!(led[..], [.., "from"] | [.., "from", "a" | "an"]);
        if from && matches!((before, &self.items[i].is), (Phrase::Stage(_), Phrase::Stage(_))) {
            return true;
        }
        let graded = self.out.findings.last().is_some_and(|f| f.severity.is_some());
        if graded && matches!(led[..], [.., "up" | "down", "from"]) && matches!(self.items[i].is, Phrase::Severity(_)) {
            return true;
        }
        let same_kind = matches!(
            (before, &self.items[i].is),
            (Phrase::Severity(_), Phrase::Severity(_))
                | (Phrase::Score { .. }, Phrase::Score { .. })
                | (Phrase::Course(_), Phrase::Course(_))
                | (Phrase::Measure { .. } | Phrase::Amount { .. }, Phrase::Amount { .. })
        );
        // "moderate up from mild"
        let over = matches!(led[..], [.., "was" | "were"] | [.., "up" | "down" | "back", "from"]);
        let not_now = self.words_to_next(i).first().is_none_or(|w| w != "now");
        same_kind && over && not_now && self.gap(i) < Gap::Stop
    }

    /// The foot that is told of stays in the hand: "had foul in the right hind last time, clean now".
    pub(super) fn hold_foot_of(&mut self, from: usize, to: usize) {
        let place = (from..to).rev().find(|k| matches!(self.get(*k), Some(Phrase::Place(p)) if p.feet != Where::Same));
        let Some((k, Phrase::Place(place))) = place.map(|k| (k, self.items[k].is.clone())) else { return };
        let spots = self.spots(&place).into_iter().map(|s| Spot { claw: None, ..s }).collect();
        self.held = Held { spots, used: false, item: Some(k) };
    }

    /// Keeps the lesion that is told of between two items, with its place: "last time it was foot rot on the left hind.
    /// It's healed."
    pub(super) fn remember(&mut self, from: usize, to: usize) {
        self.device = self.device_named(from, to).or(self.device);
        let lesion = (from..to).rev().find_map(|k| match self.items[k].is {
            // What kind of abscess it was nobody will be asked today.
            Phrase::Finding(named @ (Named::Disorder(_) | Named::Vague(Vague::Ulcer | Vague::WhiteLine))) => {
                Some((named, self.items[k].span))
            }
            _ => None,
        });
        let place = (from..to).rev().find_map(|k| match &self.items[k].is {
            Phrase::Place(p) if p.feet != Where::Same => Some(p.clone()),
            _ => None,
        });
        let Some((named, span)) = lesion else { return };
        let spots = place.map_or_else(|| self.held.spots.clone(), |p| self.spots(&p));
        // "last visit I had her down with a sole ulcer, right hind outer": its place stands behind.
        if spots.iter().all(|s| s.foot.is_none()) {
            self.told_of = Some(Told { named, spots: vec![], zones: vec![], span });
        } else {
            let zones = (from..to).find_map(|k| match &self.items[k].is {
                Phrase::Zones(zones) => Some(zones.clone()),
                _ => None,
            });
            if named == Named::Disorder(Disorder::TS) {
                self.part = Some(Part::Sole);
            }
            self.told_of = Some(Told { named, spots: spots.clone(), zones: zones.unwrap_or_default(), span });
            // "I suspected toe necrosis left hind outer, it's a toe ulcer": there it is.
            let it = self
                .items
                .get(to)
                .filter(|_| self.gap(to) == Gap::Comma)
                .is_some_and(|_| self.led_first(to, &["it's", "it", "its", "that's"]));
            let spots = spots.into_iter().map(|s| Spot { claw: s.claw.filter(|_| it), ..s }).collect();
            self.held = Held { spots, used: false, item: self.held.item };
        }
    }

    /// "four weeks ago we blocked her for an abscess. That's healed": the lesion that was told of is found again.
    pub(super) fn found_again(&mut self, course: Option<Course>) -> bool {
        let Some(Told { named, mut spots, zones, span }) = self.told_of.take() else { return false };
        // "last visit I wrapped both backs for warts, the left's healed": of the one that is named.
        if spots.is_empty() {
            spots.clone_from(&self.held.spots);
        }
        let held: Vec<_> = self.held.spots.iter().filter_map(|s| s.foot).collect();
        if spots.iter().any(|s| s.foot.is_some_and(|f| held.contains(&f))) {
            spots.retain(|s| s.foot.is_some_and(|f| held.contains(&f)));
        }
        // "right outer's healed": with the claw that is said now.
        for spot in &mut spots {
            let now = self.held.spots.iter().find(|s| s.foot == spot.foot);
            spot.claw = spot.claw.or(now.and_then(|s| s.claw));
        }
        self.held.used = true;
        self.mentions += 1;
        for spot in spots {
            self.out.findings.push(DraftFinding {
                spot,
                course,
                zones: zones.clone(),
                mention: self.mentions,
                ..DraftFinding::of(named, span)
            });
        }
        true
    }

    /// "she was thin soled on all four in December, now it's just the two hinds"
    pub(super) fn is_left_of_told(&self, i: usize) -> bool {
        let only = i > 0 && self.get(i - 1) == Some(&Phrase::Only);
        self.told_of.is_some()
            && only
            && self.gap(i) <= Gap::Space
            && self.gap(i + 1) > Gap::Space
            && self.led_by(i - 1, &["now"])
    }

    /// "gone from M two to M four"
    fn gone_from(&self, i: usize) -> bool {
        // "gone" is what is said of a block that is lost as well.
        let gone = matches!(self.get(i + 1), Some(Phrase::Lost)) && self.gap(i + 1) <= Gap::Space;
        // "M two left hind turned into M three"
        // "was M4, back to M2"
        let back_to = self.get(i + 1) == Some(&Phrase::Aside)
            && self.items[i + 1].span.of(self.text).eq_ignore_ascii_case("back to")
            && matches!(self.get(i + 2), Some(Phrase::Stage(_)));
        if back_to && self.leads_from(i, &WAS) {
            return true;
        }
        let placed = matches!(self.get(i + 1), Some(Phrase::Place(_))) && self.gap(i + 1) <= Gap::Space;
        let last = i + usize::from(gone || placed);
        let Some(next) = self.items.get(last + 1) else { return false };
        let said = if placed { last } else { i };
        let to = self.words(self.items[said].span.end, next.span.start);
        let from = to.first().is_some_and(|w| w == "to") && self.leads_from(i, &["from"]);
        // "M two gone to M four", "was M two, now M four"
        let behind = words::behind(self.text, next.span.end as usize, " today".len() + 1).to_lowercase();
        let today = [" now", " today"].iter().any(|w| behind.starts_with(w));
        let now = self.leads_from(i, &WAS) && (to.iter().any(|w| w == "now" || w == "today") || today);
        const TURNED: [&str; 9] =
            ["gone", "went", "turned", "changed", "back", "become", "became", "developed", "progressed"];
        // "M two down to M one"
        let down_to = matches!(&to[..], [.., way, to] if to == "to" && (way == "down" || way == "up"));
        let turned = down_to || to.iter().any(|w| TURNED.contains(&w.as_str()));
        let both = matches!(self.get(i), Some(Phrase::Stage(_)));
        matches!(next.is, Phrase::Stage(_)) && (from || both && next.gap <= Gap::Comma && (now || turned))
    }

    /// Whether it is told how the lesion is now.
    fn course_follows(&self, i: usize) -> bool {
        let mut rest = self.items[i + 1..].iter().take_while(|it| !matches!(it.is, Phrase::Finding(_)));
        rest.any(|it| matches!(it.is, Phrase::Course(_)))
    }

    /// "trimmed last week": what was done before is nothing done today. "last time I blocked the left hind, …": a tale
    /// to the end of the part of the sentence. Gives the index of the next item to read.
    pub(super) fn past(&mut self, i: usize) -> usize {
        // "lame since Friday with an abscess": since when she is lame, and no tale.
        let since = self.items[i].span.of(self.text).to_lowercase().starts_with("since ");
        // "bandage on and last time she had an ulcer on the right hind": of nothing that stands before it.
        let led_on = (self.items[i].and || self.led_first(i, &["anyway", "but", "so", "now", "then"]))
            && !self.items[i].span.of(self.text).eq_ignore_ascii_case("since");
        if (self.begins(i) || led_on)
            && !since
            && let Some(next) = self.items.get(i + 1).filter(|n| n.gap <= Gap::Space)
        {
            let told = self.words(self.items[i].span.end, next.span.start);
            let tale = told.first().is_some_and(|w| TALE.contains(&w.as_str()));
            let begun = self.begins(i);
            let lesion = matches!(next.is, Phrase::Finding(_))
                && !self.items[i].span.of(self.text).ends_with("'s")
                && !self.course_follows(i + 1);
            if tale
                || begun
                    && (lesion
                        || matches!(
                            next.is,
                            Phrase::Stage(_) | Phrase::Score { .. } | Phrase::Clear | Phrase::ClearAll
                        ))
            {
                let end = self.condition(i);
                // "last time I wrote right, that was wrong"
                let wrote = told.iter().any(|w| ["wrote", "written", "noted"].contains(&w.as_str()));
                if wrote && self.held.spots.iter().any(|s| s.foot.is_some()) {
                    return end;
                }
                self.hold_foot_of(i, end);
                self.remember(i, end);
                return self.scored_today(i, end);
            }
        }
        // "was lame as a duck in February score four and she's walking a one"
        let scored = matches!(self.get(i + 1), Some(Phrase::Score { .. })) && self.gap(i + 1) <= Gap::Space;
        if scored && !since && self.led_by(i, &["was", "were"]) {
            self.remark(i, i + 1);
            return self.scored_today(i, i + 2);
        }
        // "a block on the inner since it was sore": why.
        let why = self.items[i].span.of(self.text).eq_ignore_ascii_case("since")
            && match self.words_to_next(i).iter().map(String::as_str).collect::<Vec<_>>()[..] {
                ["it" | "that" | "there" | "they" | "it's" | "she's", ..] => true,
                // "trimmed her since she goes dry next month"
                ["she", verb, ..] => !["was", "had", "calved", "came", "went", "got"].contains(&verb),
                ["the", noun, ..] => !["last", "other", "first", "visit", "end"].contains(&noun),
                _ => false,
            };
        if why {
            return i + 1;
        }
        // "the lad did the right front last week": nothing is to be said of that foot today.
        const DONE: [&str; 3] = ["did", "done", "sorted"];
        let at_a_foot = i > 0 && self.items[i - 1].is.one_foot().is_some() && self.gap(i) <= Gap::Space;
        if at_a_foot && (self.led_by(i - 1, &DONE) || self.led_by(i, &DONE)) {
            self.told(i - 1..=i - 1);
            self.remark_of(i);
            return i + 1;
        }
        let Some(d) = self.last_deed else { return i + 1 };
        // "dug out an abscess zone 2 a month ago"
        let of_it = |is: &Phrase| matches!(is, Phrase::Place(_) | Phrase::Finding(_) | Phrase::Zones(_));
        let close =
            (d + 1..=i).all(|k| self.gap(k) <= Gap::Space) && self.items[d + 1..i].iter().all(|it| of_it(&it.is));
        // "block inner right hind two weeks ago swollen": of another foot than the deed's.
        let done = self.out.actions.last();
        let done_at = done.and_then(|a| a.spot.foot);
        let trimmed = done.is_some_and(|a| a.deed.what == Act::Trim) && done_at.is_none();
        let elsewhere =
            |it: &Item| it.is.one_foot().is_some_and(|foot| done_at.is_some_and(|at| at != foot) || trimmed);
        let close = close && !self.items[d + 1..i].iter().any(elsewhere);
        // What was lost was always lost before today.
        if close && let Some(span) = self.out.actions.last().filter(|a| !a.deed.lost).map(|a| a.span) {
            self.take_back(span);
        }
        i + 1
    }

    /// "blocked on the 20th of February", behind which stands the day at `i`: takes the deed back. Gives whether it is so.
    pub(super) fn was_done_then(&mut self, i: usize) -> bool {
        let Some(d) = self.last_deed.filter(|d| (d + 1..=i).all(|k| self.gap(k) <= Gap::Space) && i - d <= 2) else {
            return false;
        };
        let span = self.items[d].span;
        let done = span.of(self.text).split(' ').next().is_some_and(|w| w.ends_with("ed"));
        let put_on = matches!(&self.items[d].is, Phrase::Deed(d) if !matches!(d.what, Act::Unblock | Act::Unwrap));
        if !(done && put_on) {
            return false;
        }
        self.take_back(span);
        self.remark(d, i);
        true
    }

    /// "block it next time", "wrap her tomorrow": nothing done today. Gives whether it is so.
    pub(super) fn later(&mut self, i: usize, when: When, span: Span) -> bool {
        let said = span.of(self.text).to_lowercase();
        let another_day = ["tomorrow", "next ", "in the morning"].iter().any(|day| said.starts_with(day));
        if when != When::Visit && !another_day {
            return false;
        }
        let Some(deed) = self.last_deed.filter(|d| (d + 1..=i).all(|k| self.gap(k) <= Gap::Space)) else {
            return false;
        };
        // "trimmed her since she goes dry next month"
        if self.items[deed + 1..i].iter().any(|it| it.is == Phrase::Past) {
            return false;
        }
        // "block off tomorrow" is due; a vet may well come another day.
        let to_do =
            matches!(&self.items[deed].is, Phrase::Deed(d) if !matches!(d.what, Act::Vet | Act::Unblock | Act::Unwrap));
        if i - deed > 2
            || !(to_do || when == When::Visit)
            || (when != When::Visit && self.leads_from(i, &["till", "until", "til"]))
        {
            return false;
        }
        let deed = self.items[deed].span;
        self.take_back(deed);
        self.out.remarks.push(deed.to(span).of(self.text).to_owned());
        true
    }
}

fn is_of_no_new_one(said: &str) -> bool {
    !["new", "fresh", "another", "re"].iter().any(|w| said.starts_with(w))
}
