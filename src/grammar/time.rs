//! When something is due.
//!
//! ```ebnf
//! time = [ "in" ] , ( amount , period | amount , [ "or" | "to" ] , amount , period | period | weekday | "next" , ( weekday | period ) | "tomorrow"
//!      | day , month | month , day | date | n/52 | n/12 | d/m ) ;
//! ```

use chrono::NaiveDate;

use super::item::When;
use super::number::{amount, whole};
use super::toks::{self, Res, Toks};
use crate::matches::{How, Tok};
use crate::vocab::{Atom, Meaning, MonthPart, Period, Relative, Style};
use crate::words::Gap;

/// A time, or a time in the past as `None`.
pub(super) fn time(input: Toks) -> Res<Option<When>> {
    let mut rest = input;
    while matches!(rest.meaning(), Some(Meaning::In | Meaning::Only | Meaning::Afterwards)) {
        let next = rest.skip(1);
        // "nothing on, see six weeks": a word stands between.
        if next.gap() > Gap::Space && !input.only_pause_before(next) {
            return input.fail();
        }
        rest = next;
    }
    if rest.meaning() == Some(Meaning::Ago) {
        let after = rest.skip(1);
        // "on since 12 Feb": the day goes with it.
        return match bare(after) {
            Ok((more, When::DayMonth { .. } | When::On(_) | When::Weekday { .. })) if after.gap() <= Gap::Space => {
                Ok((more, None))
            }
            _ => Ok((after, None)),
        };
    }
    // "in January, eighty today"
    let day = |t: Toks| t.gap() <= Gap::Comma && (matches!(t.meaning(), Some(Meaning::Ordinal(_))) || is_day(t));
    if rest != input && matches!(rest.meaning(), Some(Meaning::MonthName(_))) && !day(rest.skip(1)) {
        return Ok((rest.skip(1), Some(When::Month)));
    }
    // "two weeks back"
    if let Ok((after, n)) = amount(rest)
        && after.meaning() == Some(Meaning::Ago)
        && after.gap() <= Gap::Space
        && after.first().is_some_and(toks::exact)
        && n <= LONG_AGO
    {
        return Ok((after.skip(1), None));
    }
    let (rest, when) = bare(rest)?;
    // What is no time ("100 June") is not lost in the past.
    if rest.meaning() == Some(Meaning::Ago) && rest.gap() <= Gap::Space && when != When::Open {
        return Ok((rest.skip(1), None));
    }
    Ok((rest, Some(when)))
}

/// A number that may be a day of a month.
fn is_day(input: Toks) -> bool {
    matches!(input.meaning(), Some(Meaning::Number(_)))
        && input.gap() <= Gap::Space
        && whole(input).is_ok_and(|(_, n)| (1..=31).contains(&n))
}

/// In thousandths: more weeks or days than this nobody counts back.
const LONG_AGO: u64 = 60_000;

fn bare(input: Toks) -> Res<When> {
    let Some(meaning) = input.meaning() else {
        return input.fail();
    };
    match meaning {
        Meaning::Relative(Relative::Tomorrow) => match input.nth(1) {
            // "tomorrow week"
            Some(Meaning::Period(p @ (Period::Week | Period::Fortnight))) if input.skip(1).gap() <= Gap::Space => {
                Ok((input.skip(2), When::Days(1 + if p == Period::Week { 7 } else { 14 })))
            }
            _ => Ok((input.skip(1), When::Days(1))),
        },
        Meaning::Relative(Relative::Overmorrow) => Ok((input.skip(1), When::Days(2))),
        Meaning::Relative(Relative::Visit) => {
            // "at the next visit on March 26th"
            let rest = input.skip(1);
            let day = if rest.meaning() == Some(Meaning::In) { rest.skip(1) } else { rest };
            match bare(day) {
                Ok((after, when @ (When::DayMonth { .. } | When::On(_) | When::Weekday { .. })))
                    if rest.gap() <= Gap::Comma =>
                {
                    Ok((after, when))
                }
                _ => Ok((rest, When::Visit)),
            }
        }
        Meaning::Relative(Relative::Today) => match input.nth(1) {
            // "today week"
            Some(Meaning::Period(p)) => Ok((input.skip(2), counted(1000, p).unwrap_or(When::Open))),
            _ => Ok((input.skip(1), When::Days(0))),
        },
        Meaning::Relative(Relative::Next) | Meaning::NextCue => match input.nth(1) {
            Some(Meaning::Weekday(_)) => weekday(input.skip(1)).map(|(rest, when)| match when {
                When::Weekday { day, weeks: 0 } => (rest, When::NextWeekday(day)),
                when => (rest, when),
            }),
            // "this day fortnight"
            Some(Meaning::Period(Period::Day)) if matches!(input.nth(2), Some(Meaning::Period(_))) => {
                let Some(Meaning::Period(p)) = input.nth(2) else {
                    return input.fail();
                };
                Ok((input.skip(3), counted(1000, p).unwrap_or(When::Open)))
            }
            Some(Meaning::Period(p)) => Ok((input.skip(2), counted(1000, p).unwrap_or(When::Open))),
            _ => input.fail(),
        },
        Meaning::Weekday(_) => weekday(input),
        Meaning::Period(p) => {
            // "a week", "a week from Monday", "a week Friday"
            let rest = input.skip(1);
            let more = match p {
                Period::Week => 1,
                Period::Fortnight => 2,
                _ => 0,
            };
            // "a fortnight on Monday"
            let on = if rest.meaning() == Some(Meaning::In) { rest.skip(1) } else { rest };
            if more > 0
                && rest.gap() <= Gap::Space
                && matches!(on.meaning(), Some(Meaning::Weekday(_)))
                && let Ok((after, When::Weekday { day, weeks })) = weekday(on)
            {
                return Ok((after, When::Weekday { day, weeks: weeks + more }));
            }
            // "a week tomorrow"
            if more > 0 && rest.gap() <= Gap::Space && rest.meaning() == Some(Meaning::Relative(Relative::Tomorrow)) {
                return Ok((rest.skip(1), When::Days(1 + 7 * more)));
            }
            // "recheck the same day": nobody says "a day" for tomorrow, and the `w` of `wrap w/ salve` is no week.
            let written = input.first().is_some_and(|t| t.how == How::Exact(Style::Written));
            if p == Period::Day || written {
                return input.fail();
            }
            // "recheck for weeks": how many was lost.
            if input.first().is_some_and(Tok::is_plural) {
                return Ok((rest, When::Open));
            }
            Ok((rest, counted(1000, p).unwrap_or(When::Open)))
        }
        Meaning::Relative(Relative::MonthEnd) => Ok((input.skip(1), When::MonthEnd)),
        Meaning::MonthDay(part, month) => Ok((input.skip(1), day_month(day_of(part, month), month))),
        Meaning::Ordinal(day) => match input.nth(1) {
            Some(Meaning::MonthName(month)) => Ok((input.skip(2), day_month(u64::from(day), month))),
            _ => Ok((input.skip(1), When::DayOfMonth(u32::from(day)))),
        },
        Meaning::MonthName(month) => {
            if let Some(Meaning::Ordinal(day)) = input.nth(1) {
                return Ok((input.skip(2), day_month(u64::from(day), month)));
            }
            let (rest, day) = whole(input.skip(1))?;
            if day > 31 || input.skip(1).gap() > Gap::Space {
                return input.fail();
            }
            Ok((rest, day_month(day, month)))
        }
        Meaning::Number(Atom::Iso { year, month, day }) => {
            let date = NaiveDate::from_ymd_opt(i32::from(year), u32::from(month), u32::from(day));
            Ok((input.skip(1), date.map_or(When::Open, When::On)))
        }
        Meaning::Number(Atom::Slash { left, right: 52 }) => Ok((input.skip(1), When::Days(7 * u32::from(left)))),
        Meaning::Number(Atom::Slash { left, right: 12 }) => Ok((input.skip(1), When::Months(u32::from(left)))),
        Meaning::Number(Atom::Slash { left, right }) => {
            Ok((input.skip(1), When::Slash(u32::from(left), u32::from(right))))
        }
        Meaning::Number(_) | Meaning::Couple => {
            let (rest, n) = amount(input)?;
            if let Ok((after, last)) = amount(rest)
                && rest.gap() <= Gap::Comma
                && after.gap() <= Gap::Space
                && n < last
                && last <= n + RANGE
                && let Some(Meaning::Period(p)) = after.meaning()
                && let (Some(first), Some(last)) = (days(n, p), days(last, p))
            {
                return Ok((after.skip(1), When::Between(first, last)));
            }
            match rest.meaning() {
                Some(Meaning::Period(p)) if rest.gap() <= Gap::Comma => {
                    let after = rest.skip(1);
                    // "two weeks from Friday", "two weeks on Friday"
                    if p == Period::Week
                        && n % 1000 == 0
                        && after.gap() <= Gap::Space
                        && let Some(Meaning::Weekday(day)) = after.meaning()
                    {
                        return Ok((after.skip(1), When::Weekday { day, weeks: (n / 1000) as u32 }));
                    }
                    // "three weeks tomorrow"
                    if matches!(p, Period::Week | Period::Fortnight)
                        && after.gap() <= Gap::Space
                        && after.meaning() == Some(Meaning::Relative(Relative::Tomorrow))
                        && let Some(When::Days(days)) = counted(n, p)
                    {
                        return Ok((after.skip(1), When::Days(days + 1)));
                    }
                    Ok((after, counted(n, p).unwrap_or(When::Open)))
                }
                Some(Meaning::MonthName(month)) if n % 1000 == 0 => Ok((rest.skip(1), day_month(n / 1000, month))),
                _ => input.fail(),
            }
        }
        _ => input.fail(),
    }
}

/// "three to four weeks": more than this between the two (in thousandths) is no range of one time.
const RANGE: u64 = 6_000;

/// So many periods in days, a month as 30: only to tell two times of one range apart.
fn days(milli: u64, period: Period) -> Option<u32> {
    let each = match period {
        Period::Day => 1,
        Period::Week => 7,
        Period::Fortnight => 14,
        Period::Month => 30,
    };
    u32::try_from(milli.saturating_mul(each) / 1000).ok()
}

/// `control 16.4.`: a day and a month with dots, at the end of a part of the sentence.
pub(super) fn dotted(input: Toks) -> Option<(Toks, When)> {
    let on = if input.meaning() == Some(Meaning::In) { input.skip(1) } else { input };
    let Some(Meaning::Number(Atom::Decimal { milli, places: places @ 1..=2 })) = on.meaning() else { return None };
    let month = milli % 1000 / if places == 1 { 100 } else { 10 };
    let (day, month) = (u32::try_from(milli / 1000).ok()?, u32::try_from(month).ok()?);
    let rest = on.skip(1);
    let fits = (1..=31).contains(&day) && (1..=12).contains(&month) && on.gap() <= Gap::Space;
    (fits && rest.gap() == Gap::Stop).then_some((rest, When::DayMonth { day, month }))
}

fn weekday(input: Toks) -> Res<When> {
    let Some(Meaning::Weekday(day)) = input.meaning() else {
        return input.fail();
    };
    let mut rest = input.skip(1);
    // `Thu 9/4`: the date tells which.
    if rest.gap() <= Gap::Comma
        && let Some(Meaning::Number(Atom::Slash { left: 1..=31, right: 1..=31 } | Atom::Iso { .. })) = rest.meaning()
        && !matches!(rest.meaning(), Some(Meaning::Number(Atom::Slash { right: 12, .. })))
        && let Ok((after, Some(date))) = time(rest)
    {
        return Ok((after, date));
    }
    let mut weeks = 0;
    // "Friday week", "Tuesday fortnight"
    if rest.gap() <= Gap::Space {
        match rest.meaning() {
            Some(Meaning::Period(Period::Week)) => weeks = 1,
            Some(Meaning::Period(Period::Fortnight)) => weeks = 2,
            _ => {}
        }
        rest = rest.skip(usize::from(weeks > 0));
    }
    // "Monday or Tuesday": which, is asked.
    if matches!(rest.meaning(), Some(Meaning::Weekday(_))) && input.bytes_before(rest) == Some(" or ".len() as u32) {
        return Ok((rest.skip(1), When::Open));
    }
    Ok((rest, When::Weekday { day, weeks }))
}

/// `milli` periods; `None` where that is no whole number of days or months.
fn counted(milli: u64, period: Period) -> Option<When> {
    let days = |each: u64| u32::try_from(milli.saturating_mul(each).div_ceil(1000)).ok().map(When::Days);
    match period {
        Period::Day => days(1),
        Period::Week => days(7),
        Period::Fortnight => days(14),
        Period::Month if milli.is_multiple_of(1000) => u32::try_from(milli / 1000).ok().map(When::Months),
        Period::Month => None,
    }
}

/// The day that a part of a month is taken for: its first, its fifteenth, its last (common practice).
fn day_of(part: MonthPart, month: u8) -> u64 {
    match (part, month) {
        (MonthPart::Start, _) => 1,
        (MonthPart::Middle, _) => 15,
        (MonthPart::End, 2) => 28,
        (MonthPart::End, 4 | 6 | 9 | 11) => 30,
        (MonthPart::End, _) => 31,
    }
}

fn day_month(day: u64, month: u8) -> When {
    match u32::try_from(day) {
        Ok(day @ 1..=31) => When::DayMonth { day, month: u32::from(month) },
        _ => When::Open,
    }
}
