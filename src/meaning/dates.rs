//! Rule 9: times are counted from the visit.

use chrono::{Datelike, Days, Months, NaiveDate, Weekday};

use crate::grammar::When;

/// What a time comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Reckoned {
    Day(NaiveDate),
    /// Day and month in doubt, or the first and last day of a range.
    OneOf(Vec<NaiveDate>),
    /// A time without a date ("next visit"): nothing is due on a day.
    NoDate,
    /// Not said, or not readable.
    Open,
}

/// Counts `when` from the visit.
pub(super) fn reckon(when: When, visit: NaiveDate) -> Reckoned {
    let day = |d: Option<NaiveDate>| d.map_or(Reckoned::Open, Reckoned::Day);
    match when {
        When::Days(n) => day(visit.checked_add_days(Days::new(u64::from(n)))),
        When::Months(n) => day(visit.checked_add_months(Months::new(n))),
        When::Weekday { day, weeks } => weekday(visit, day, weeks).map_or(Reckoned::Open, Reckoned::Day),
        When::NextWeekday(n) => {
            let this_week = u32::from(n) > visit.weekday().number_from_monday();
            if this_week {
                Reckoned::OneOf([1, 0].into_iter().filter_map(|weeks| weekday(visit, n, weeks)).collect())
            } else {
                reckon(When::Weekday { day: n, weeks: 0 }, visit)
            }
        }
        When::On(date) => Reckoned::Day(date),
        When::DayMonth { day: d, month } => day(coming(visit, month, d)),
        When::DayOfMonth(d) => {
            let this = NaiveDate::from_ymd_opt(visit.year(), visit.month(), d).filter(|x| *x > visit);
            let first = visit.with_day(1).and_then(|x| x.checked_add_months(Months::new(1)));
            day(this.or_else(|| first.and_then(|x| x.with_day(d))))
        }
        When::MonthEnd => {
            let next = visit.with_day(1).and_then(|x| x.checked_add_months(Months::new(1)));
            day(next.and_then(|x| x.pred_opt()).filter(|last| *last > visit))
        }
        When::Slash(a, b) => {
            let mut dates: Vec<NaiveDate> = [coming(visit, a, b), coming(visit, b, a)].into_iter().flatten().collect();
            dates.dedup();
            match dates.as_slice() {
                [] => Reckoned::Open,
                [one] => Reckoned::Day(*one),
                _ => Reckoned::OneOf(dates),
            }
        }
        When::Between(first, last) => Reckoned::OneOf(
            [first, last].iter().filter_map(|n| visit.checked_add_days(Days::new(u64::from(*n)))).collect(),
        ),
        When::Visit => Reckoned::NoDate,
        When::Open | When::Month => Reckoned::Open,
    }
}

/// The first such weekday after the visit (Monday is 1), or one so many weeks later.
fn weekday(visit: NaiveDate, day: u8, weeks: u32) -> Option<NaiveDate> {
    let weekday = Weekday::try_from(day.checked_sub(1)?).ok()?;
    let ahead = (7 + weekday.num_days_from_monday() - visit.weekday().num_days_from_monday()) % 7;
    let ahead = if ahead == 0 { 7 } else { ahead };
    visit.checked_add_days(Days::new(u64::from(ahead + 7 * weeks)))
}

/// The first such day after the visit.
fn coming(visit: NaiveDate, month: u32, day: u32) -> Option<NaiveDate> {
    (0..=4).filter_map(|y| NaiveDate::from_ymd_opt(visit.year() + y, month, day)).find(|d| *d > visit)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(y: i32, m: u32, d: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(y, m, d).unwrap()
    }

    /// 2026-03-12 is a Thursday.
    #[test]
    fn a_weekday_is_the_next_one_and_never_the_visit_itself() {
        let visit = date(2026, 3, 12);
        assert_eq!(reckon(When::Weekday { day: 1, weeks: 0 }, visit), Reckoned::Day(date(2026, 3, 16)));
        assert_eq!(reckon(When::Weekday { day: 4, weeks: 0 }, visit), Reckoned::Day(date(2026, 3, 19)));
        assert_eq!(reckon(When::Weekday { day: 2, weeks: 1 }, visit), Reckoned::Day(date(2026, 3, 24)));
        assert_eq!(reckon(When::NextWeekday(1), visit), Reckoned::Day(date(2026, 3, 16)));
        assert_eq!(reckon(When::NextWeekday(5), visit), Reckoned::OneOf(vec![date(2026, 3, 20), date(2026, 3, 13)]));
    }

    #[test]
    fn a_month_ends_with_its_last_day() {
        assert_eq!(reckon(When::MonthEnd, date(2026, 3, 12)), Reckoned::Day(date(2026, 3, 31)));
        assert_eq!(reckon(When::MonthEnd, date(2028, 2, 12)), Reckoned::Day(date(2028, 2, 29)));
        assert_eq!(reckon(When::MonthEnd, date(2026, 3, 31)), Reckoned::Open);
    }

    #[test]
    fn months_are_calendar_months() {
        assert_eq!(reckon(When::Months(1), date(2026, 1, 31)), Reckoned::Day(date(2026, 2, 28)));
    }

    #[test]
    fn day_and_month_in_doubt_are_both_kept() {
        let visit = date(2026, 3, 12);
        assert_eq!(reckon(When::Slash(4, 5), visit), Reckoned::OneOf(vec![date(2026, 4, 5), date(2026, 5, 4)]));
        assert_eq!(reckon(When::Slash(26, 3), visit), Reckoned::Day(date(2026, 3, 26)));
        assert_eq!(reckon(When::Slash(40, 50), visit), Reckoned::Open);
    }
}
