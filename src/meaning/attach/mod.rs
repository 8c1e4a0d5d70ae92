//! Rules 1, 2, 6 and 8: which foot, which claw, which zone belongs to what.
//!
//! One pass over the phrases of one cow. A finding takes the place said before it, or the one right after
//! it; a foot holds until the next is named.

mod amount;
mod another;
mod claw;
mod clear;
mod course;
mod deed;
mod device;
mod doubt;
mod due;
mod either;
mod finding;
mod foretold;
mod grade;
mod number;
mod others;
mod past;
mod place;
mod reason;
mod said;
mod same;
mod target;
mod tenses;
mod whose;

use std::ops::RangeInclusive;

use chrono::NaiveDate;

use crate::anatomy::{Claw, End, Foot};
use crate::disorder::{Course, Stage};
use crate::entry::{Act, After, DueWhat, MeasureKind, Scale, Score};
use crate::grammar::{Deed, Item, Named, Phrase, When, Where};
use crate::meaning::cows::Part as CowsPart;
use crate::meaning::draft::{Draft, DraftAction, DraftFinding, LooseNumber, Spot};
use crate::vocab::{Device, Part};
use crate::words::{self, Gap, Span};

/// Letters within which what belongs together stands.
const NEARBY: usize = 120;

/// Where the speaker is: the foot that holds, and who has used it.
#[derive(Clone, Debug, Default)]
struct Held {
    spots: Vec<Spot>,
    /// A finding or an action has taken it already.
    used: bool,
    /// Item that named it.
    item: Option<usize>,
}

/// A lesion of the last visit, as it was told.
struct Told {
    named: Named,
    spots: Vec<Spot>,
    zones: Vec<u8>,
    span: Span,
}

struct Pass<'a> {
    items: &'a [Item],
    /// How many cows share what is said.
    cows: usize,
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
    /// Zones and a grade that wait for their lesion, and where they were said.
    zones: Option<(Vec<u8>, Span)>,
    /// The second of two that wait, of which one is meant.
    zone_or: Option<u8>,
    severity: Option<(u64, Span)>,
    stage: Option<Stage>,
    course: Option<Course>,
    /// How feet are whose lesion is not named yet.
    foretold: Vec<(Foot, Course, Span)>,
    hedged: bool,
    part: Option<Part>,
    device: Option<Device>,
    agent: Option<(String, Span)>,
    material: Option<(String, Span)>,
    after_said: bool,
    /// Index of the last item that was a deed, to read "block … for six weeks".
    last_deed: Option<usize>,
    /// A lesion of the last visit that was told of, and where: what is said next tells how it is now.
    told_of: Option<Told>,
    owned: Option<usize>,
    /// The item that named the claw of a block that was not put on, and the claw.
    spared_claw: Option<(usize, Claw)>,
    /// A place that was used up by the deed before it.
    used_up: Option<usize>,
    /// Item of the last finding.
    last_finding_item: Option<usize>,
    /// "clean" with no foot named: all four, unless something else is said of them.
    bare_clear: Option<usize>,
    /// Feet cleared by a word for all or the rest: those with a lesion are left out in the end.
    spared: Vec<Foot>,
    /// Where three feet were said to be clean.
    three: Option<Span>,
    /// What was measured before today, where a number may tell how it is now.
    measured_then: Option<MeasureKind>,
    /// The items that tell only how something was; empty where there are none.
    over: Vec<tenses::Over>,
}

/// Puts the phrases of one cow together.
pub(super) fn attach(part: &CowsPart, text: &str, visit: NaiveDate, before: Option<&Draft>) -> Draft {
    let items = &part.items;
    // What is said of the next cow is not looked at.
    let ends = items.iter().map(|it| match it.is {
        Phrase::Remark(words) => words.end.max(it.span.end),
        _ => it.span.end,
    });
    let end = ends.chain([part.span.end]).max().unwrap_or_default();
    let text = text.get(..end as usize).unwrap_or(text);
    let mut pass = Pass {
        items,
        cows: part.cows,
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
        zones: None,
        zone_or: None,
        severity: None,
        stage: None,
        course: None,
        foretold: vec![],
        hedged: false,
        part: None,
        device: None,
        agent: None,
        material: None,
        after_said: false,
        last_deed: None,
        told_of: None,
        owned: None,
        spared_claw: None,
        used_up: None,
        last_finding_item: None,
        bare_clear: None,
        spared: vec![],
        three: None,
        measured_then: None,
        over: tenses::over(items, text),
    };
    let mut i = 0;
    while i < items.len() {
        i = pass.step(i, before);
    }
    pass.finish()
}

/// What was measured, where another number may go on with it.
fn part_of(what: MeasureKind) -> Option<Part> {
    match what {
        MeasureKind::SoleThickness => Some(Part::Sole),
        MeasureKind::ToeLength => Some(Part::Toe),
        MeasureKind::HeelHeight => Some(Part::Heel),
        MeasureKind::ToeAngle => None,
    }
}

impl Pass<'_> {
    fn get(&self, i: usize) -> Option<&Phrase> {
        self.items.get(i).map(|it| &it.is)
    }

    fn gap(&self, i: usize) -> Gap {
        self.items.get(i).map_or(Gap::Stop, |it| it.gap)
    }

    /// "front, figure, left rear outer ulcer": what was said of it was not understood.
    fn is_left_hanging(&self, i: usize) -> bool {
        let unread = (i + 1..self.items.len()).take_while(|k| self.items[*k].is == Phrase::Unread).count();
        let next = i + 1 + unread;
        (1..=2).contains(&unread)
            && matches!(self.get(next), Some(Phrase::Place(p)) if matches!(p.feet, Where::Feet(_)))
            && self.gap(i) >= self.gap(i + 1)
    }

    /// Whether at most one word stands before it in a sentence that is not the note's first.
    fn begins_a_sentence(&self, span: Span) -> bool {
        let before = words::before(self.text, span.start as usize, NEARBY);
        let sentence = before.rsplit_once(". ").map(|(_, sentence)| sentence);
        sentence.is_some_and(|s| s.split_whitespace().nth(1).is_none())
    }

    /// Whether another foot than the one at `i` is named further on.
    fn another_foot_behind(&self, i: usize) -> bool {
        let here = self.items[i].is.one_foot();
        self.items[i + 1..].iter().filter_map(|it| it.is.one_foot()).any(|other| Some(other) != here)
    }

    /// Something was denied of the foot in the hand, or of those named among these items: they are not forgotten.
    pub(super) fn told(&mut self, items: RangeInclusive<usize>) {
        let mut spots = self.held.spots.clone();
        for k in items {
            if let Some(Phrase::Place(place)) = self.get(k)
                && place.feet != Where::Rest
            {
                spots.extend(self.spots(place));
            }
        }
        self.out.told.extend(spots.iter().filter_map(|s| s.foot));
    }

    /// Reads item `i`; gives the index of the next to read.
    fn step(&mut self, i: usize, before: Option<&Draft>) -> usize {
        let item = &self.items[i];
        let span = item.span;
        let mut next = i + 1;
        if !matches!(
            item.is,
            Phrase::Place(_) | Phrase::Hedge | Phrase::Clear | Phrase::Unread | Phrase::Except | Phrase::Only
        ) {
            self.run.clear();
        }
        if let Some(next) = self.was_then(i) {
            return next;
        }
        if let Some(how @ (tenses::Over::Anew | tenses::Over::Then)) = self.over.get(i).copied() {
            return self.is_over(i, how);
        }
        match &item.is {
            Phrase::Cow(tag) => {
                if self.out.cow.is_none() {
                    self.out.cow = Some((tag.clone(), span));
                }
                // "Terrible game. Cow 266, …": said of something else.
                if self.gap(i) == Gap::Stop
                    && let Some((_, span)) = self.severity.take()
                {
                    self.out.unread.push(span);
                }
            }
            // "trimmed the fronts only, hinds next time"
            Phrase::Place(_)
                if self.get(i + 1) == Some(&Phrase::Time(When::Visit))
                    && self.gap(i) > Gap::Space
                    && self.gap(i + 1) <= Gap::Space =>
            {
                self.told(i..=i);
                let said = span.to(self.items[i + 1].span);
                self.out.remarks.push(said.of(self.text).to_owned());
                return i + 2;
            }
            Phrase::Place(_) if self.used_up == Some(i) => {}
            // "it was her left hind last time"
            Phrase::Place(_)
                if self.get(i + 1) == Some(&Phrase::Past)
                    && self.gap(i + 1) <= Gap::Space
                    && self.led_by(i, &["was"])
                    && self.another_foot_behind(i) =>
            {
                self.told(i..=i);
                return i + 2;
            }
            // "that one had it on the left, this one …"
            Phrase::Place(_) if self.is_where_it_was(i) => self.told(i..=i),
            // "the lad reckons the inside claw, but it's the outside one"
            Phrase::Place(place) if self.is_said_by_others(i, place) => {}
            Phrase::Place(place) if self.is_what_is_left(i, place) || self.left_alone(i) => {}
            // "they told me she was lame on the left front but it's the right front"
            Phrase::Place(place) if self.is_another_after_all(i, place) => self.told(i..=i),
            // "inside claw, which on a front foot is the one that takes the weight"
            Phrase::Place(place) if matches!(place.feet, Where::End(_)) && self.led_first(i, &["which"]) => {}
            Phrase::Place(_) if self.leaves_alone(i) => self.told(i..=i),
            Phrase::Place(place)
                if self.is_round_the_claw(i, place)
                    || self.is_both_of_one_foot(i, place)
                    || self.is_for_both_lesions(i, place) => {}
            Phrase::Place(place) if self.is_left_of_told(i) => {
                self.place(i, place);
                self.found_again(None);
            }
            // "last time both hinds, now only the left"
            Phrase::Place(_) if self.was_there_then(i) => self.told(i..=i),
            Phrase::Place(place) if self.this_or_that(i, place) => {}
            Phrase::Place(place) if self.is_both_lesions(i, place) => return self.of_both_lesions(i),
            Phrase::Place(place) => {
                // "back feet overgrown": that is no lesion, and a reason to trim.
                let behind = self.text.get(span.end as usize..).unwrap_or_default();
                let part = behind.split([',', '.', ';']).next().unwrap_or_default();
                // "left hind dew claw torn": an injury without a code.
                const HURT: [&str; 4] = ["dew", "dewclaw", "torn", "ripped"];
                // "dew claw ripped on the right hind"
                let led = words::before(self.text, span.start as usize, NEARBY).to_lowercase();
                let led = led.rsplit([',', '.', ';']).next().unwrap_or_default();
                let hurt = part.split_whitespace().take(4).any(|w| HURT.contains(&w))
                    || led.split_whitespace().any(|w| w == "dew" || w == "dewclaw");
                if hurt
                    || [" overgrown", " long", " dirty"].iter().any(|w| behind.starts_with(w))
                    || words::was_not_looked_at(part)
                {
                    self.told(i..=i);
                }
                let whole = !matches!(place.feet, Where::Same | Where::Side(_) | Where::End(_));
                let feet = whole.then(|| self.spots(place).iter().filter_map(|s| s.foot).collect());
                self.place(i, place);
                self.has_a_one(i);
                // "trimmed the other three": the cow was.
                let trimmed = place.feet == Where::Rest
                    && i > 0
                    && matches!(self.get(i - 1), Some(Phrase::Deed(d)) if d.what == Act::Trim);
                self.out.places.extend(feet.filter(|_| !trimmed).map(|feet| (feet, span)));
                if let Where::End(end) = place.feet
                    && self.is_left_hanging(i)
                {
                    self.out.places.push((crate::grammar::both(end).to_vec(), span));
                }
            }
            Phrase::Zones(zones) => match self.zones_by_claw(i, zones) {
                Some(end) => next = end,
                None => self.zones(i, zones),
            },
            Phrase::Finding(named) if self.is_meant(i, *named) => {}
            Phrase::Finding(named) => self.finding(i, *named, span),
            Phrase::Severity(_) | Phrase::Stage(_) if self.sides_behind_commas(i) => next = i + 4,
            Phrase::Severity(_) if self.grades_by_claw(i) => next = i + 4,
            // "a light bandage over the top"
            Phrase::Severity(_)
                if span.of(self.text).eq_ignore_ascii_case("light")
                    && matches!(self.get(i + 1), Some(Phrase::Deed(d)) if d.what == Act::Wrap)
                    && self.gap(i + 1) <= Gap::Space
                    && self.words_to_next(i).is_empty() => {}
            // "bruise zone four moderate, pared light": how it was pared.
            Phrase::Severity(_)
                if span.of(self.text).to_lowercase().starts_with("light")
                    && i > 0
                    && matches!(self.get(i - 1), Some(Phrase::Deed(d)) if matches!(d.what, Act::Pare | Act::Trim))
                    && self.gap(i) <= Gap::Space
                    && !self.finding_follows(i + 1) => {}
            Phrase::Severity(s) => self.severity(i, *s),
            // "last time M two, now M three"
            Phrase::Stage(_)
                if matches!(self.get(i + 1), Some(Phrase::Stage(_)))
                    && self.followed_by(i, &["now"])
                    && !self.followed_by(i, &["was", "were", "had"]) =>
            {
                self.out.asides += 1;
            }
            Phrase::Stage(stage) => {
                self.stage(i, *stage, span);
                if self.was_and_healed(i) {
                    self.last_mention().for_each(|f| f.stage = None);
                }
            }
            Phrase::Course(c) => self.course(i, *c, span),
            Phrase::Deed(_)
                if self.get(i + 1) == Some(&Phrase::Condition)
                    && self.gap(i + 1) <= Gap::Space
                    && !self.is_foretold(i + 1) =>
            {
                next = self.condition(i);
            }
            // "wrap it only if it turns raw again"
            Phrase::Deed(_)
                if self.get(i + 1) == Some(&Phrase::Only)
                    && self.get(i + 2) == Some(&Phrase::Condition)
                    && self.gap(i + 1) <= Gap::Space =>
            {
                next = self.condition(i);
            }
            // "if you soul hemorrhage left hind", diffuse: no verb.
            Phrase::Condition
                if matches!(self.get(i + 1), Some(Phrase::Finding(_)))
                    && self.gap(i + 1) <= Gap::Space
                    && self.words_to_next(i) == ["you"] =>
            {
                self.out.unread.push(span);
            }
            Phrase::Condition => {
                next = self.condition(i);
                // "if that left hind isn't better he should call the vet. Today I've opened an abscess on the outer claw"
                if self.held.spots.is_empty() {
                    self.hold_foot_of(i, next);
                }
            }
            // "next time put a block on"
            Phrase::Time(When::Visit)
                if matches!(self.get(i + 1), Some(Phrase::Deed(_)))
                    && self.gap(i + 1) <= Gap::Space
                    && self.begins(i) =>
            {
                next = self.condition(i);
            }
            // "opened up by the vet on Monday"
            Phrase::Deed(deed) if deed.what == Act::Vet && self.is_by(i) => {
                self.out.asides += 1;
                // "corn was cut out by the vet last year"
                if self.led_by(i, &["by"]) && i > 0 && matches!(self.get(i - 1), Some(Phrase::Deed(_))) {
                    self.take_back(self.items[i - 1].span);
                }
            }
            Phrase::Deed(_) if self.is_of_a_lesion_before(i) => self.out.asides += 1,
            // "the left hind is a new one, sole ulcer": a lesion, and no block.
            Phrase::Deed(Deed { like_before: true, what: Act::Block | Act::Wrap, .. })
                if matches!(
                    &self.words_before(i)[..],
                    [.., is, a] if ["is", "was", "it's", "that's"].contains(&is.as_str()) && a == "a"
                ) =>
            {
                self.out.asides += 1;
            }
            // "take the block off 590 on the 26th of March"
            Phrase::Deed(Deed { what: what @ (Act::Unblock | Act::Unwrap), .. })
                if span.of(self.text).to_lowercase().starts_with("take ")
                    && matches!(self.get(i + 1), Some(Phrase::Cow(_)))
                    && self.gap(i + 1) <= Gap::Space
                    && let Some(Phrase::Time(when)) = self.get(i + 2)
                    && *when != When::Days(0)
                    && self.gap(i + 2) <= Gap::Space =>
            {
                let (what, when) = (if *what == Act::Unblock { DueWhat::BlockOff } else { DueWhat::WrapOff }, *when);
                self.step(i + 1, before);
                self.due(i, what, when, span);
                next = i + 3;
            }
            // "ulcers healing, blocks good, recheck in a month"
            Phrase::Deed(deed) if self.is_found_good(i, deed) => {
                self.stays(i, Device::of(deed.what));
                next = i + 1 + usize::from(self.get(i + 1) == Some(&Phrase::Clear) && self.gap(i + 1) <= Gap::Space);
            }
            // "a wrap would do it good but the farmer doesn't want one"
            Phrase::Deed(deed) if deed.what != Act::Vet && self.is_only_what_would_be(i) => {
                self.claw_of_deed(i);
                self.remark_of(i);
            }
            // "take the wrap off tomorrow and spray it again": to be done then as well.
            Phrase::Deed(_) if self.is_to_be_done_then(i) => self.remark_of(i),
            // "blocks: one, inner, wraps: none"
            Phrase::Deed(Deed { what: Act::Block | Act::Wrap, .. }) if self.is_counted_none(i) => {
                self.told(i..=i + 1);
                next = i + 2;
            }
            // "the block on 801 right hind has another two weeks in it", "three weeks since the block went on"
            Phrase::Deed(Deed { what: what @ (Act::Block | Act::Wrap), .. })
                if self.has_time_left(i) || self.leads_since(i) =>
            {
                self.device = Device::of(*what);
                self.remark_of(i);
            }
            Phrase::Lost if let Some(device) = self.is_gone_since(i) => {
                self.deed(i, &Deed { lost: true, ..Deed::of(device.taken_off()) }, span);
            }
            Phrase::Deed(deed) => match self.vet_did_it(i) {
                Some(end) => {
                    self.hold_foot_of(i, end);
                    self.remember(i, end);
                    next = end;
                }
                None if deed.what == Act::Block
                    && let Some(at) = self.moved_to(i) =>
                {
                    self.moved(i, at, deed, span);
                    next = at + 1;
                }
                None => {
                    self.deed(i, deed, span);
                    self.minus(span);
                    if self.is_of_the_one(i) {
                        self.out.actions.iter_mut().filter(|a| a.span == span).for_each(|a| a.unsure = true);
                    }
                }
            },
            Phrase::Lost => self.lost(i),
            Phrase::Stays(Some(device)) if self.has_it_now(i) => self.deed(i, &Deed::of(device.put_on()), span),
            // "block on the inner and a tight wrap"
            Phrase::Stays(None)
                if matches!(self.get(i + 1), Some(Phrase::Deed(Deed { what: Act::Block | Act::Wrap, .. })))
                    && self.gap(i + 1) <= Gap::Space
                    && self.words_to_next(i).is_empty() => {}
            // Whether it was put on today is asked.
            Phrase::Stays(Some(Device::Block)) if self.has_one_for(i) => {
                self.deed(i, &Deed::of(Act::Block), span);
                self.out.actions.iter_mut().filter(|a| a.span == span).for_each(|a| a.unsure = true);
            }
            Phrase::Stays(device) => {
                self.told(i + 1..=i + 1);
                self.stays(i, *device);
            }
            Phrase::Material(name) => self.material(i, name, span),
            // "antibiotic from the vet": no work of ours, and nobody to be called.
            Phrase::Agent(_)
                if matches!(self.get(i + 1), Some(Phrase::Deed(d)) if d.what == Act::Vet)
                    && self.gap(i + 1) <= Gap::Space
                    && self.led_by(i + 1, &["from", "by"]) =>
            {
                self.remark_of(i);
                next = i + 2;
            }
            // "farmer gave her the antibiotic": no work of ours.
            Phrase::Agent(_) if self.is_another_s(i) => self.remark_of(i),
            Phrase::Agent(name) => self.agent(i, name),
            // "score one from score two": as it was.
            Phrase::Score { .. }
                if matches!(i.checked_sub(1).and_then(|k| self.get(k)), Some(Phrase::Score { .. }))
                    && self.gap(i) <= Gap::Space
                    && self.led_first(i, &["from", "down", "up"])
                    && self.led_last(i, &["from"]) =>
            {
                self.out.asides += 1;
            }
            // "haemorrhage zone four, about a two out of three": of the lesion, where no scale was named.
            Phrase::Score { scale: Scale::Mobility, value: value @ 1..=3, .. }
                if i > 0
                    && matches!(self.get(i - 1), Some(Phrase::Finding(_) | Phrase::Zones(_)))
                    && self.gap(i) <= Gap::Space
                    && !["mob", "scor", "walk", "lame"]
                        .iter()
                        .any(|w| span.of(self.text).to_lowercase().contains(w)) =>
            {
                self.severity(i, *value);
            }
            Phrase::Score { scale, value, whole } => {
                // "came in a four and walked off a two"
                let said = span.of(self.text).to_lowercase();
                let off = || {
                    self.led_by(i, &["off", "away", "out"])
                        || [" off a", " out a", " out at a"].iter().any(|w| said.contains(w))
                };
                let second = !self.out.scores.is_empty() && off();
                let when = (self.after_said || second).then_some(After::After);
                self.after_said = false;
                self.out.scores.push((Score { scale: *scale, value: *value, when }, *whole, span));
            }
            Phrase::Afterwards => next = self.afterwards(i),
            Phrase::Measure { what, milli, at } => {
                self.part = part_of(*what).or(self.part);
                self.measure(i, *what, *milli, *at, span);
            }
            Phrase::Amount { milli, unit } => self.amount(i, *milli, *unit, span),
            Phrase::Part(p) => self.part = Some(*p),
            Phrase::Due { what, .. } if self.was_due(i) => {
                self.device = Device::due(*what).or(self.device);
                self.out.asides += 1;
            }
            // "she went lame again Friday"
            Phrase::Due { what: DueWhat::Recheck, .. }
                if self.led_by(i, &["went", "gone", "lame"])
                    && span.of(self.text).to_lowercase().starts_with("again") =>
            {
                self.out.asides += 1;
            }
            Phrase::Due { what: DueWhat::Recheck, when: When::Open } if let Some(day) = self.day_of_recheck(i) => {
                for k in (i + 1..day).filter(|k| !matches!(self.items[*k].is, Phrase::Deed(_))) {
                    self.step(k, before);
                }
                if let Phrase::Time(when) = self.items[day].is {
                    self.due(day, DueWhat::Recheck, when, span.to(self.items[day].span));
                }
                next = day + 1;
            }
            // "Right hind of 204 first, that's the recheck."
            Phrase::Due { what: DueWhat::Recheck, when: When::Open }
                if self.gap(i + 1) > Gap::Space
                    && matches!(&self.words_before(i)[..], [.., that, the] if ["that's", "this"].contains(&that.as_str()) && the == "the") =>
            {
                self.out.asides += 1;
            }
            // "see her at the next visit, that's in 8 weeks"
            Phrase::Due { what, when: When::Visit }
                if let Some(Phrase::Time(when @ (When::Days(_) | When::Months(_)))) = self.get(i + 1)
                    && self.gap(i + 1) == Gap::Comma
                    && self.led_first(i + 1, &["that's", "that", "in"]) =>
            {
                self.due(i, *what, *when, span.to(self.items[i + 1].span));
                next = i + 2;
            }
            Phrase::Due { what, when } => {
                self.due(i, *what, *when, span);
                // "block off in five weeks. I've put it under the inner claw": it was spoken of.
                self.device = self.device.or(Device::due(*what));
            }
            // "the wrap was taken off on Monday by the farmer"
            Phrase::OffAt(_) if self.was_taken(i) => self.out.asides += 1,
            // "wrapped; the off hind a tyloma, the vet's to take it off Friday": no wrap of another foot.
            Phrase::OffAt(_)
                if matches!(i.checked_sub(1).and_then(|k| self.get(k)), Some(Phrase::Deed(d)) if d.what == Act::Vet)
                    && self.device_is_elsewhere() =>
            {
                self.remark_of(i);
            }
            Phrase::OffAt(when) => match self.device {
                Some(d) => self.due(i, d.due_off(), *when, span),
                None => self.out.unread.push(span),
            },
            Phrase::Time(when) => match self.off_behind(i, *when) {
                Some(device) => {
                    self.due(i, device.due_off(), *when, span);
                    self.device = Some(device);
                    next = i + 2;
                }
                None => self.time(i, *when, span),
            },
            Phrase::Clear => self.clear(i, span),
            Phrase::ClearAll => {
                self.out.clear_span = Some(span);
                self.clear_feet(&Foot::ALL, true);
            }
            Phrase::Otherwise => next = self.otherwise(i, span),
            // "pared but not blocked"
            Phrase::Except if self.leaves_out_a_deed(i) => next = self.not(i),
            // `519 do. exc RH dd M1`: what is not the same there.
            Phrase::Except if i > 0 && self.get(i - 1) == Some(&Phrase::Same) => {}
            // "who bent this bar, left front …": of iron.
            Phrase::Except if self.gap(i + 1) > Gap::Space && span.of(self.text).eq_ignore_ascii_case("bar") => {}
            Phrase::Except => {
                self.told(i + 1..=i + 1);
                next = self.except(i);
            }
            Phrase::Past => next = self.past(i),
            // "warts on all feet but the right front"
            Phrase::Only if self.all_but(i) => next = self.except(i),
            Phrase::Only | Phrase::Drop | Phrase::Another => {}
            Phrase::Change => self.out.corrections_open.push(span),
            Phrase::Not if self.foretells_no(i) => {}
            Phrase::Not => {
                // "somebody put a wrap on last week": it is spoken of.
                let said = span.of(self.text).to_lowercase();
                if said.ends_with("wrap on") {
                    self.device = Some(Device::Wrap);
                } else if said.ends_with("block on") {
                    self.device = Some(Device::Block);
                }
                next = self.not(i);
                // What is denied, and its place: right after it, or named inside.
                self.told(i + 1..=next);
            }
            Phrase::Hedge => next = self.hedge(i),
            Phrase::Same => next = self.same(i, span, before),
            // "cow 503 same as 502 but on the right"
            Phrase::SameAsCow(tag) => {
                let her = |d: &&Draft| d.cow.as_ref().is_some_and(|(cow, _)| cow.text == *tag);
                match before.filter(her) {
                    Some(_) => next = self.same(i, span, before),
                    None => self.out.same_open.push(span),
                }
            }
            Phrase::Remark(words) => {
                // "right front, fresh, note she's off her feed": of the cow, and not of the foot.
                let place = i > 0 && matches!(self.get(i - 1), Some(Phrase::Place(_)));
                self.out.remarks_apart += usize::from(!(place && self.words_before(i).is_empty()));
                self.out.remarks.push(words.of(self.text).to_owned());
            }
            Phrase::Sign(_) => self.out.signs.push(span),
            // "wall cracked across oh and the left hind": an exclamation.
            Phrase::Number { value: Some(0), .. } if span.of(self.text).eq_ignore_ascii_case("oh") => {
                self.out.asides += 1;
            }
            Phrase::Number { text, value, plain } => return self.number(i, text, *value, *plain),
            // "clean in front"
            Phrase::Aside
                if i > 0
                    && self.get(i - 1) == Some(&Phrase::Clear)
                    && self.gap(i) <= Gap::Space
                    && ["in front", "up front"].contains(&span.of(self.text).to_lowercase().as_str()) =>
            {
                self.clear_feet(&crate::grammar::both(End::Front), false);
                self.bare_clear = None;
            }
            Phrase::Aside if self.is_all_right(i) => self.clear(i, span),
            Phrase::Aside => self.aside(i),
            Phrase::Unread => self.out.unread.push(span),
        }
        next
    }

    /// Whether a word that means something stands between the phrases, before the last block or wrap that went on.
    fn is_unexplained(&self) -> bool {
        const SMALL: usize = 4;
        const EMPTY: [&str; 22] = [
            "with", "that", "this", "then", "just", "also", "have", "been", "there", "from", "into", "some", "well",
            "today", "again", "back", "over", "here", "same", "side", "foot", "she's",
        ];
        let on = |it: &Item| matches!(&it.is, Phrase::Deed(d) if matches!(d.what, Act::Block | Act::Wrap));
        let Some(last) = self.items.iter().rposition(on) else { return false };
        let first = self.items.iter().position(|it| !it.is_cow()).unwrap_or(last);
        let word = |w: &String| {
            w.len() >= SMALL && !EMPTY.contains(&w.as_str()) && !w.starts_with(|c: char| c.is_ascii_digit())
        };
        let unread = |it: &Item| matches!(it.is, Phrase::Unread | Phrase::Number { plain: false, .. });
        let lost = |it: &Item| unread(it) && self.words(it.span.start, it.span.end).iter().any(word);
        (first.max(1)..=last).any(|k| lost(&self.items[k]) || self.words_before(k).iter().any(word))
    }

    fn finish(mut self) -> Draft {
        // "unless it goes down the vet will have to see 349", "the vet had 617 down for toe necrosis": named within a remark.
        let named = |it: &Item| Some((it.cow()?.clone(), it.span));
        self.out.cow = self.out.cow.take().or_else(|| self.items.iter().find_map(named));
        if self.out.findings.is_empty() && !self.out.actions.is_empty() {
            self.out.unexplained = self.is_unexplained();
        }
        self.fulfil();
        self.pared_all_round();
        self.taken_off_once();
        if let Some(clear) = self.bare_clear {
            let next = self.items[clear + 1..].iter().find(|it| !it.is_cow()).map(|it| &it.is);
            let but = matches!(next, Some(Phrase::Only | Phrase::Except | Phrase::Otherwise));
            if !self.out.findings.is_empty() {
                // "68. Clean. … left hind foot rot": hers, or the next one's?
                self.out.clear_lost = (!but).then(|| self.items[clear].span).or(self.out.clear_lost);
            } else if self.out.clear.is_empty() {
                match self.the_foot(clear) {
                    Some(foot) => self.out.clear.push(foot),
                    None => self.out.clear.extend(Foot::ALL),
                }
            }
        }
        // "no sign of the wart left hind, all four good": what has healed is no lesion.
        let open = |f: &&DraftFinding| f.course != Some(Course::Healed);
        let lesions: Vec<Foot> = self.out.findings.iter().filter(open).filter_map(|f| f.spot.foot).collect();
        let spared = std::mem::take(&mut self.spared);
        self.out.clear.retain(|f| !(spared.contains(f) && lesions.contains(f)));
        // "three feet clean", and nothing said of the fourth: which it is.
        if let Some(span) = self.three {
            let told = self.out.told.clone();
            self.out.clear.retain(|f| !told.contains(f));
            if self.out.clear.len() == Foot::ALL.len() {
                self.out.loose_numbers.push(LooseNumber { span, after: None, or: None, tag: Some((3, 1)) });
            }
        }
        // An agent by itself was put on the foot.
        if let Some((agent, span)) = self.agent.take() {
            let spots = if self.held.spots.is_empty() { vec![Spot::default()] } else { self.held.spots.clone() };
            for s in spots {
                let deed = Deed { agent: Some(agent.clone()), ..Deed::of(Act::Topical) };
                self.out.actions.push(DraftAction {
                    deed,
                    spot: Spot { claw: None, ..s },
                    own: None,
                    unsure: false,
                    span,
                });
            }
        }
        if let Some((_, span)) = self.material.take() {
            self.out.unread.push(span);
        }
        // "right hind outer, solar zone two": the lesion's name was lost.
        let of_foot = self.out.findings.is_empty() && !self.out.places.is_empty();
        self.out.loose_parts.extend(self.zones.take().map(|(_, span)| span));
        self.out.loose_parts.extend(self.severity.take().filter(|_| of_foot).map(|(_, span)| span));
        self.out
    }
}
