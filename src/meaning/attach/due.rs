//! When something is due, and what a time by itself says.

use chrono::{Days, NaiveDate};

use super::{NEARBY, Pass};
use crate::anatomy::Foot;
use crate::disorder::Course;
use crate::entry::{Act, Due, DueWhat};
use crate::grammar::{Deed, Phrase, When};
use crate::meaning::dates::{Reckoned, reckon};
use crate::vocab::Device;
use crate::words::{self, Gap, Span};

/// What stands before a recheck for which a cow has come.
const HERE_FOR: [&str; 8] = [
    "came for her",
    "here for her",
    "in for her",
    "back for her",
    "here for a",
    "in for a",
    "back for a",
    "list for a",
];

impl Pass<'_> {
    /// "wrap was due off Monday, took it off", "recheck was due on the tenth": told of, and due no more.
    pub(super) fn was_due(&self, i: usize) -> bool {
        let said = self.items[i].span.of(self.text).to_lowercase();
        let over = [" was taken off ", " were taken off ", " was cut off ", " was pulled ", " was removed "];
        // "recheck from February": why she is here.
        said.contains(" was due ")
            || said == "recheck" && self.followed_first(i, &["from"])
            || said.starts_with("recheck from ")
            || over.iter().any(|w| said.contains(w)) && !said.ends_with(" today")
    }

    /// "recheck the block right hind next Thursday": the day behind what is to be seen again; nothing of it was done.
    pub(super) fn day_of_recheck(&self, i: usize) -> Option<usize> {
        let seen = |k: &usize| match &self.items[*k].is {
            Phrase::Deed(d) => {
                let said = self.items[*k].span.of(self.text);
                matches!(d.what, Act::Block | Act::Wrap) && !said.split(' ').next().is_some_and(|w| w.ends_with("ed"))
            }
            Phrase::Place(_) | Phrase::Finding(_) | Phrase::Zones(_) => true,
            _ => false,
        };
        let close = |k: &usize| self.gap(*k) <= Gap::Space && !self.items[*k].and;
        let day = (i + 1..self.items.len()).take_while(close).find(|k| !seen(k))?;
        let to_come = matches!(self.get(day), Some(Phrase::Time(when)) if *when != When::Days(0));
        (to_come && day > i + 1).then_some(day)
    }

    /// "the wrap was taken off on Monday": told of, and done before today.
    pub(super) fn was_taken(&mut self, i: usize) -> bool {
        let taken = ["taken ", "pulled ", "cut ", "removed "];
        let said = self.items[i].span.of(self.text).to_lowercase();
        let over = |w: &String| ["was", "were", "got"].contains(&w.as_str());
        let past = taken.iter().any(|w| said.starts_with(w)) && self.words_before(i).last().is_some_and(over);
        if past {
            // The wrap spoken of was there already.
            let on = match self.device {
                Some(Device::Wrap) => Act::Wrap,
                _ => Act::Block,
            };
            let named = self.last_deed.map(|d| self.items[d].span);
            self.out.actions.retain(|a| a.deed.what != on || Some(a.span) != named);
            self.waiting_actions.clear();
        }
        past
    }

    /// Whether the words behind say that it is due when the last thing is.
    fn is_the_same_day(&self, span: Span) -> bool {
        const THEN: [&str; 7] =
            ["then", "same day", "the same day", "that same day", "same time", "at the same time", "that day"];
        let behind = words::behind(self.text, span.end as usize, NEARBY).to_lowercase();
        let part = behind.split([',', '.', ';', ':', '\n']).next().unwrap_or_default();
        THEN.contains(&part.trim())
    }

    /// "recheck in four weeks, block off then": due the same day. Gives whether it is so.
    pub(super) fn off_then(&mut self, i: usize, deed: &Deed, span: Span) -> bool {
        // What was due is being taken off today: its words are not read for a day once more.
        let item = &self.items[i];
        if matches!(item.is, Phrase::Due { .. }) || span.start < item.span.start {
            return false;
        }
        let then = self.is_the_same_day(span);
        let device = match deed.what {
            Act::Unblock if deed.like_before => self.device,
            Act::Unblock => Some(Device::Block),
            Act::Unwrap => Some(Device::Wrap),
            _ => None,
        };
        // "come back in a month to take it off", "due Monday for block off"
        if let Some(Phrase::Due { what: DueWhat::Recheck, when }) = i.checked_sub(1).and_then(|k| self.get(k))
            && *when != When::Open
            && self.gap(i) <= Gap::Space
            && self.words_before(i).last().is_some_and(|w| w == "to" || w == "for")
            && let Some(device) = device
        {
            let (when, at) = (*when, self.items[i - 1].span);
            self.out.due.retain(|(_, span)| *span != at);
            // "she was due today for block removal but the ulcer isn't ready": told of.
            if when == When::Days(0)
                && (self.led_by(i - 1, &["was"])
                    || self.followed_by(i, &["but"])
                    || self.get(i + 1) == Some(&Phrase::Only))
            {
                self.out.asides += 1;
                self.device = Some(device);
                return true;
            }
            self.due(i, device.due_off(), when, at.to(span));
            self.told(i + 1..=i + 1);
            return true;
        }
        let day = self.out.due.last().and_then(|(due, _)| due.on);
        // "block inner, block off and recheck in six weeks": what was put on today.
        let on = match device {
            Some(Device::Block) => Act::Block,
            _ => Act::Wrap,
        };
        let new = self.out.actions.iter().any(|a| a.deed.what == on);
        let with_recheck = match self.items.get(i + 1) {
            Some(next) if new && next.and && next.gap <= Gap::Space => match next.is {
                Phrase::Due { what: DueWhat::Recheck, when } if when != When::Open => Some(when),
                _ => None,
            },
            _ => None,
        };
        let when = with_recheck.or_else(|| day.filter(|_| then).map(When::On));
        let (Some(device), Some(when)) = (device, when) else { return false };
        self.due(i, device.due_off(), when, span);
        true
    }

    pub(super) fn due(&mut self, i: usize, what: DueWhat, when: When, span: Span) {
        // "recheck cow four twenty", "cow four twenty, recheck, block's still on": why she is here.
        // "cow 333, both hinds recheck, left M three, right M two"
        let feet = |k: usize| self.get(k).and_then(Phrase::place).map(|p| self.spots(p));
        let of_these = i > 0
            && feet(i - 1).zip(feet(i + 1)).is_some_and(|(these, one)| {
                these.len() > 1 && one.iter().all(|s| these.iter().any(|t| t.foot == s.foot && s.foot.is_some()))
            });
        let whom = if of_these { i - 1 } else { i };
        let only_cow = self.items[..whom].iter().all(|it| matches!(it.is, Phrase::Cow(_)));
        // "she'll need a recheck, 222 in five weeks"
        let day = matches!(self.get(i + 1), Some(Phrase::Cow(_)))
            && matches!(self.get(i + 2), Some(Phrase::Time(_)))
            && self.gap(i + 2) <= Gap::Space;
        let first = only_cow
            && !day
            && matches!(
                self.get(i + 1),
                Some(
                    Phrase::Cow(_)
                        | Phrase::Place(_)
                        | Phrase::Finding(_)
                        | Phrase::Stays(_)
                        | Phrase::Deed(_)
                        | Phrase::Clear
                        | Phrase::ClearAll
                        | Phrase::Past
                        | Phrase::Score { .. }
                )
            );
        // "that's four weeks old, look at it again in two": how old it is.
        let said = span.of(self.text).to_lowercase();
        let when = if [" weeks old", " days old", " months old"].iter().any(|old| said.contains(old)) {
            When::Open
        } else {
            when
        };
        // "came for her recheck three days early": why she is here.
        let led = words::before(self.text, span.start as usize, NEARBY).trim_end();
        let here = what == DueWhat::Recheck && when == When::Open && HERE_FOR.iter().any(|w| words::ends_with(led, w));
        let behind = words::behind(self.text, span.end as usize, NEARBY);
        let off_time = [" early", " late", " overdue"].iter().any(|w| words::begins(behind, w));
        if here || off_time {
            self.out.asides += 1;
            return;
        }
        // "look at it again a week after calving": no day that is known.
        let behind = behind.to_lowercase();
        let unknown = [" after calving", " after she calves", " before calving", " from calving", " after drying off"];
        let when = if unknown.iter().any(|w| behind.starts_with(w)) { When::Open } else { when };
        // "and a bandage over it to come off on Sunday": put on, too.
        if what == DueWhat::WrapOff && said.contains(" over it ") {
            self.deed(i, &Deed::of(Act::Wrap), span);
        }
        // "block off after five weeks, ulcer healed": how long it was on.
        let healed = || self.items[i + 1..].iter().any(|it| it.is == Phrase::Course(Course::Healed));
        // "both hind blocks off, they've been on six weeks"
        let off = said.contains(" today ") || said.contains("been on");
        if let Some(device) = Device::due(what).filter(|_| off || said.contains(" after ") && healed()) {
            self.deed(i, &Deed::of(device.taken_off()), span);
            return;
        }
        // "recheck and block off in six weeks": both then.
        let when = match self.items.get(i + 1) {
            Some(next) if when == When::Open && next.and && next.gap <= Gap::Space => match next.is {
                Phrase::Due { when, .. } | Phrase::OffAt(when) => when,
                _ => when,
            },
            _ => when,
        };
        // "wrap off Wed, recheck same day"
        let same = when == When::Open && self.is_the_same_day(span);
        let day = self.out.due.last().and_then(|(due, _)| due.on).filter(|_| same);
        let when = day.map_or(when, When::On);
        // "recheck today": this is it.
        if what == DueWhat::Recheck && when == When::Days(0) {
            self.out.asides += 1;
            return;
        }
        let on = match reckon(when, self.visit) {
            Reckoned::Day(d) => Some(d),
            // "recheck cow four twenty": why she is here, and nothing is due.
            Reckoned::Open if when == When::Open && (first || said == "rechecked") => return,
            Reckoned::OneOf(dates) => {
                self.out.date_doubts.push((self.out.due.len(), dates));
                None
            }
            Reckoned::NoDate => {
                self.out.remarks.push(span.of(self.text).to_owned());
                return;
            }
            // "recheck for weeks": "four" is said as "for" is.
            Reckoned::Open if said.ends_with(" for weeks") => {
                let four = self.visit.checked_add_days(Days::new(4 * 7));
                self.out.date_doubts.push((self.out.due.len(), four.into_iter().collect()));
                None
            }
            Reckoned::Open => None,
        };
        let foot = match self.held.spots.as_slice() {
            [one] => one.foot,
            _ => None,
        };
        // "blocks on both hinds, blocks off in six weeks": on every foot that has one.
        let all = said.split(' ').any(|w| ["blocks", "wraps", "blks", "wrps", "bandages", "both", "them"].contains(&w));
        let foot = if all && self.is_on_feet(what) > 1 { None } else { self.foot_of_device(what, foot) };
        self.out.due.push((Due { what, on, foot }, span));
    }

    /// On how many feet there went on today what is to come off.
    fn is_on_feet(&self, what: DueWhat) -> usize {
        let on = Device::due(what).map(Device::put_on);
        let mut feet: Vec<Foot> =
            self.out.actions.iter().filter(|a| Some(a.deed.what) == on).filter_map(|a| a.spot.foot).collect();
        feet.sort_unstable();
        feet.dedup();
        feet.len()
    }

    /// "wart on the right hind wrapped, left hind outer ulcer, block inner, wrap off in three days": where it is on.
    fn foot_of_device(&self, what: DueWhat, held: Option<Foot>) -> Option<Foot> {
        let Some(device) = Device::due(what) else { return held };
        let mut feet = self.out.actions.iter().filter(|a| a.deed.what == device.put_on()).map(|a| a.spot.foot);
        match (feet.next(), feet.next()) {
            (Some(Some(one)), None) if held.is_some() => Some(one),
            _ => held,
        }
    }

    /// "bandage on till Sunday", "the block stays on another fortnight", "blk 6wks": a time right behind the device.
    fn stays_on_till(&self, i: usize, when: When) -> bool {
        let Some(k) = (0..i).rev().find(|k| !matches!(self.items[*k].is, Phrase::Place(_))) else { return false };
        let close = (k + 1..=i).all(|k| self.gap(k) <= Gap::Space);
        let before = &self.items[k];
        let put_on = matches!(&before.is, Phrase::Deed(d) if matches!(d.what, Act::Block | Act::Wrap));
        let words = self.text.get(before.span.start as usize..self.items[i].span.end as usize).unwrap_or_default();
        let till = words.split_whitespace().any(|w| ["till", "until", "til"].contains(&w));
        // "needs a block but she is due this week": of the cow.
        if words.split_whitespace().any(|w| ["but", "she", "she's"].contains(&w)) {
            return false;
        }
        let lasts = matches!(when, When::Days(1..) | When::Months(_));
        // "had a block on the left hind for five weeks": how long it was on.
        let had = ["had", "has had", "she's had"].iter().any(|w| words.to_lowercase().starts_with(w));
        let had = had || words.to_lowercase().split(" on").any(|w| w.ends_with("been") || w.ends_with("stayed"));
        let had = matches!(before.is, Phrase::Stays(_)) && had && !till;
        // "leave it, three more weeks"
        let more = words.split_whitespace().any(|w| w == "more") && k + 1 == i && self.gap(i) == Gap::Comma;
        let close = close || more && matches!(before.is, Phrase::Stays(_));
        // "block was due off today, it's staying on"
        close && !had && when != When::Days(0) && (matches!(before.is, Phrase::Stays(_)) || (put_on && (till || lasts)))
    }

    /// "recheck in three weeks, block off in six": the unit of the time before.
    pub(super) fn off_in(&mut self, i: usize, n: u64) -> bool {
        let Some(before) = i.checked_sub(1) else { return false };
        let (what, lost) = match &self.items[before].is {
            Phrase::Deed(deed) if matches!(deed.what, Act::Unblock | Act::Unwrap) => {
                let spoken_of = self.device.filter(|_| deed.like_before);
                let Some(device) = spoken_of.or(Device::of(deed.what)) else { return false };
                (device.due_off(), deed.lost)
            }
            // "block off in six weeks, recheck in three"
            Phrase::Due { what: DueWhat::Recheck, when: When::Open } => (DueWhat::Recheck, false),
            _ => return false,
        };
        if lost || self.words_before(i) != ["in"] || self.gap(i) > Gap::Space {
            return false;
        }
        let timed = |is: &Phrase| matches!(is, Phrase::Due { .. } | Phrase::OffAt(_) | Phrase::Time(_));
        let said =
            self.items[..before].iter().rev().find(|it| timed(&it.is)).map(|it| it.span.of(self.text).to_lowercase());
        let each = |unit: &str| said.as_ref().is_some_and(|s| s.contains(unit));
        let when = match u32::try_from(n) {
            Ok(n) if each("month") => When::Months(n),
            Ok(n) if each("week") || each("wk") => When::Days(n.saturating_mul(7)),
            Ok(n) if each("day") => When::Days(n),
            _ => When::Open,
        };
        let at = self.items[before].span;
        self.take_back(at);
        self.out.due.retain(|(due, span)| !(*span == at && due.on.is_none()));
        self.due(i, what, when, at.to(self.items[i].span));
        true
    }

    /// "block still on, leave till 2 April"
    fn leave_till(&self, i: usize) -> bool {
        let from = i.checked_sub(1).map_or(0, |k| self.items[k].span.end);
        let led = self.words(from, self.items[i].span.end);
        let has = |all: &[&str]| led.iter().any(|w| all.contains(&w.as_str()));
        // "block due off today but I'm leaving it two more weeks"
        let longer = has(&["leaving", "keeping", "leave", "keep"]) && has(&["more", "another"]);
        // "left it on and moved the date to the second of April"
        let moved = has(&["moved", "pushed", "shifted"]) && has(&["to", "till", "until"]);
        moved || longer || has(&["leave", "keep", "left", "stays"]) && has(&["till", "until", "til"])
    }

    /// "removed loose horn. See 6/52", "; back 3 wks": no more than that stands in its part of the sentence.
    fn see_again(&self, i: usize) -> bool {
        let before = words::before(self.text, self.items[i].span.start as usize, NEARBY);
        let part = before.rsplit([',', '.', ';', ':', '+']).next().unwrap_or_default();
        // "I'll be back on the ninth of April"
        let be_back =
            [" be back", " be back on", " be back on the"].iter().any(|w| words::ends_with(part.trim_end(), w));
        be_back || ["see", "back", "next", "nxt", "again", "look"].iter().any(|w| part.trim().eq_ignore_ascii_case(w))
    }

    /// `16/4 block off`: the device that is to come off then.
    pub(super) fn off_behind(&self, i: usize, when: When) -> Option<Device> {
        let next = self.items.get(i + 1).filter(|n| n.gap <= Gap::Space)?;
        let Phrase::Deed(deed) = &next.is else { return None };
        let device = Device::of(deed.what).filter(|d| d.taken_off() == deed.what)?;
        let said = next.span.of(self.text).to_lowercase();
        let noun = ["bl", "wr", "ban"].iter().any(|begins| said.starts_with(begins)) && said.ends_with("off");
        let later = !matches!(when, When::Days(0) | When::Visit);
        // "three more weeks then take it off"
        if self.led_by(i + 1, &["then"]) && said.starts_with("take") && later {
            return if deed.like_before { self.device } else { Some(device) };
        }
        (noun && later && !deed.lost && self.gap(i) > Gap::Space).then_some(device)
    }

    /// "recheck cow 1650 in 10 days", "check 23 and 45 on Friday": the cow stands between. "See 23 today" is now.
    fn recheck_her(&self, i: usize, when: When) -> bool {
        let Some(cow) = i.checked_sub(1).map(|k| &self.items[k]).filter(|it| it.is_cow()) else { return false };
        let bids = |w: &str| {
            let w = w.trim_end_matches(',');
            let again = ["check", "see"].iter().any(|b| w.eq_ignore_ascii_case(b));
            w.eq_ignore_ascii_case("recheck") || again && when != When::Days(0)
        };
        let listed = |w: &&str| {
            let w = w.trim_end_matches(',');
            w.bytes().all(|b| b.is_ascii_digit()) || ["and", "cow", "cows"].contains(&w)
        };
        let led = self.text.get(..cow.span.start as usize).unwrap_or_default();
        let said = cow.span.of(self.text).split_whitespace().next();
        self.gap(i) <= Gap::Space
            && (said.is_some_and(bids) || led.split_whitespace().rev().find(|w| !listed(w)).is_some_and(bids))
    }

    /// "pulled her block left hind on Monday": it is off already.
    fn was_pulled(&self, deed: usize) -> bool {
        let said = self.items[deed].span.of(self.text).to_lowercase();
        ["took ", "pulled ", "removed ", "yanked "].iter().any(|w| said.starts_with(w))
    }

    /// A time by itself: fills a recheck that has none, or ends "block … for six weeks".
    pub(super) fn time(&mut self, i: usize, when: When, span: Span) {
        // `lame 3/5` is no day.
        if self.later(i, when, span) || self.is_lameness(i) {
            return;
        }
        // "copper sulfate wrap, wrap of Sunday": a recogniser's "off".
        let device = match i.checked_sub(1).and_then(|k| self.get(k)) {
            Some(Phrase::Deed(d)) => Device::of(d.what).filter(|device| device.put_on() == d.what),
            _ => None,
        };
        if let Some(device) = device.filter(|_| self.words_before(i) == ["of"] && self.gap(i) <= Gap::Space) {
            let here = self.items[i - 1].span;
            self.take_back(here);
            return self.due(i, device.due_off(), when, here.to(span));
        }
        // "still there a week later": how it went on.
        if self.followed_first(i, &["later"]) {
            return;
        }
        // "still on from Monday", "was still on after three weeks": since when.
        let stays = i > 0 && matches!(self.get(i - 1), Some(Phrase::Stays(_))) && self.gap(i) <= Gap::Space;
        let since = |led: &[String]| led.last().is_some_and(|w| w == "from");
        let was = || self.items[i - 1].span.of(self.text).to_lowercase().contains(" was ");
        let after = || span.of(self.text).to_lowercase().starts_with("after ");
        if stays && (since(&self.words_before(i)) || after() && was()) {
            return;
        }
        // "block's been on six weeks"
        if self.words_before(i).last().is_some_and(|w| w == "been") {
            return;
        }
        // "blocked on the 20th of February": a day that is just over.
        let over = is_over(when, self.visit);
        // "wrapped Monday": what is to be done on a Monday is no verb of the past.
        let behind = words::behind(self.text, span.end as usize, " off".len());
        let weekday = matches!(when, When::Weekday { weeks: 0, .. })
            && (behind.is_empty() || behind.starts_with([',', '.', ';']))
            && self.words_before(i).iter().all(|w| ["on", "last", "it", "her", "them"].contains(&w.as_str()));
        if (over || weekday) && self.was_done_then(i) {
            return;
        }
        // "took the block off the left hind after six weeks", "came off after four weeks": how long it was on. "Block off
        // after six weeks" is still to come.
        let gone = |k: usize| {
            let said = self.items[k].span.of(self.text).to_lowercase();
            matches!(&self.items[k].is, Phrase::Deed(d) if matches!(d.what, Act::Unblock | Act::Unwrap))
                && !said.starts_with("block")
                && !said.starts_with("wrap")
                || said.contains("came")
        };
        if span.of(self.text).to_lowercase().starts_with("after ")
            && self.last_deed.is_some_and(|d| i - d <= 2 && gone(d))
        {
            return;
        }
        let said_for = span.of(self.text).to_lowercase().starts_with("for ");
        // "spray it for three days"
        let treated = |k: usize| {
            let is = |what: Act| matches!(what, Act::Topical | Act::Pare | Act::Drain | Act::Trim);
            matches!(&self.items[k].is, Phrase::Deed(d) if is(d.what))
        };
        let open = self.out.due.last().is_some_and(|(d, _)| d.on.is_none());
        if open && self.out.date_doubts.is_empty() {
            if let Reckoned::Day(day) = reckon(when, self.visit) {
                let last = self.out.due.last_mut().expect("there is one");
                last.0.on = Some(day);
                last.1 = last.1.to(span);
            }
        } else if let Some(d) = self.last_deed
            && self.items[d + 1..i].iter().all(|it| matches!(it.is, Phrase::Place(_)))
            && (d + 1..=i).all(|k| self.gap(k) <= Gap::Space)
            && let Some(what) = self.out.actions.last().filter(|a| !a.deed.lost).and_then(|a| match a.deed.what {
                Act::Unblock => Some(DueWhat::BlockOff),
                Act::Unwrap => Some(DueWhat::WrapOff),
                _ => None,
            })
            && when != When::Days(0)
            && !(matches!(when, When::Weekday { weeks: 0, .. }) && self.was_pulled(d))
            // "took the block off at the end of February"
            && !over
        {
            // "block off the near hind on the twenty third of April"
            if let Some(last) = self.out.actions.last().map(|a| a.span) {
                self.out.actions.retain(|a| a.span != last);
            }
            self.due(i, what, when, span);
        } else if self.gap(i) <= Gap::Comma
            && let Some(device) = self.device
            && ((said_for && self.gap(i) <= Gap::Space && self.last_deed.is_some_and(|d| i - d <= 2 && !treated(d)))
                || self.stays_on_till(i, when))
        {
            self.due(i, device.due_off(), when, span);
        } else if let Some(device) = self.device.filter(|_| self.leave_till(i)) {
            self.due(i, device.due_off(), when, span);
        } else if self.see_again(i) || self.recheck_her(i, when) {
            self.due(i, DueWhat::Recheck, when, span);
        } else if when != When::Days(0) {
            // A time that belongs to nothing is shown, not dropped.
            self.out.unread.push(span);
        }
    }
}

/// Whether a day and month is just over, and not due in nearly a year.
pub(super) fn is_over(when: When, visit: NaiveDate) -> bool {
    matches!(reckon(when, visit), Reckoned::Day(day) if (day - visit).num_days() > LONG_AHEAD)
}

/// Days. What comes off has no day so far ahead: that day is just over, and its year is the one before.
const LONG_AHEAD: i64 = 300;
