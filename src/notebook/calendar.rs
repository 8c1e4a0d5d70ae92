//! Headings become days at farms: in the file's order, each by what stood before it.

use chrono::{Datelike, Duration, NaiveDate};
use serde_json::json;

use super::date::Written;
use super::heading::{Heading, Standing};
use super::order::Order;
use crate::flag::{Flag, FlagKind};
use crate::show;

/// The answer that a line opens no visit.
pub(super) const NO_VISIT: &str = "no visit";

/// A day at a farm, with what is doubtful about it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Day {
    pub date: Option<NaiveDate>,
    pub farm: Option<String>,
    pub head: Option<u32>,
    /// Of the fields `date` and `farm`.
    pub flags: Vec<Flag>,
}

/// What the headings so far came to.
#[derive(Clone, Debug, Default)]
pub(super) struct Calendar {
    order: Option<Order>,
    date: Option<NaiveDate>,
    /// The line that `date` stands in; 0 where it was given.
    dated: usize,
    farm: Option<String>,
    today: NaiveDate,
}

impl Calendar {
    /// `order` is that of the file where it is known; `date` and `farm` are those before the first heading. No visit
    /// is after `today`.
    pub(super) fn new(order: Option<Order>, date: Option<NaiveDate>, farm: Option<String>, today: NaiveDate) -> Self {
        Self { order, date, dated: 0, farm, today }
    }

    /// The day that the heading in line `number` opens.
    pub(super) fn open(&mut self, heading: &Heading, number: usize, line: &str) -> Day {
        let mut flags = Vec::new();
        let date = self.date(heading, line, &mut flags);
        if heading.mended {
            flags.push(Flag::note(
                FlagKind::Misheard,
                "date",
                format!("letters in the date were taken for digits: `{line}`"),
            ));
        }
        if heading.standing == Standing::Asked {
            let named = heading.farm.clone().filter(|f| f.starts_with(char::is_uppercase));
            let options = named.iter().chain(&self.farm).map(|f| json!(f)).chain([json!(NO_VISIT)]);
            let message = "a new visit, and at which farm? or no visit at all?";
            flags.push(Flag::ask(FlagKind::SameOpen, "farm", message).options(options));
            return Day { date, farm: named.or_else(|| self.farm.clone()), head: heading.head, flags };
        }
        let farm = match &heading.farm {
            Some(farm) => {
                if heading.odd_farm {
                    let options = [farm].into_iter().chain(&self.farm).map(|f| json!(f));
                    let message = format!("is `{farm}` a farm?");
                    flags.push(Flag::ask(FlagKind::SameOpen, "farm", message).options(options));
                }
                Some(farm.clone())
            }
            None => {
                if !heading.same_place && heading.after.is_none() {
                    let message = match &self.farm {
                        Some(farm) => format!("no farm in the heading; {farm} again?"),
                        None => "no farm in the heading".to_owned(),
                    };
                    let flag = if self.farm.is_some() {
                        Flag::ask(FlagKind::SameOpen, "farm", message)
                    } else {
                        Flag::note(FlagKind::SameOpen, "farm", message)
                    };
                    flags.push(flag.options(self.farm.iter().map(|f| json!(f)).chain([json!(NO_VISIT)])));
                } else if self.farm.is_none() {
                    flags.push(Flag::ask(
                        FlagKind::SameOpen,
                        "farm",
                        "the same place as what? no heading before has a farm",
                    ));
                }
                self.farm.clone()
            }
        };
        if date.is_some() && heading.standing != Standing::Dayless {
            (self.date, self.dated) = (date, number);
        }
        if let Some(Written::Month { month, year }) = heading.date {
            // The year is that of what follows.
            let first = NaiveDate::from_ymd_opt(year, month, 1).filter(|f| self.date.is_none_or(|d| d < *f));
            if first.is_some() {
                (self.date, self.dated) = (first, number);
            }
        }
        if heading.standing != Standing::Dayless {
            self.farm.clone_from(&farm);
        }
        Day { date, farm, head: heading.head, flags }
    }

    /// The heading before turned out to be of that day.
    pub(super) fn date_was(&mut self, date: NaiveDate) {
        self.date = Some(date);
    }

    /// The heading before turned out to have that farm.
    pub(super) fn farm_was(&mut self, farm: &str) {
        self.farm = Some(farm.to_owned());
    }

    fn date(&self, h: &Heading, line: &str, flags: &mut Vec<Flag>) -> Option<NaiveDate> {
        let ask = |message: String| Flag::ask(FlagKind::DateOpen, "date", message);
        let Some(written) = h.date else { return self.undated(h, flags) };
        let date = match written {
            Written::Full { year, month, day } => NaiveDate::from_ymd_opt(year, month, day),
            Written::Month { .. } => {
                flags.push(ask(format!("which day of the month? `{line}`")));
                return None;
            }
            Written::Named { day, month: Some(month), year } => match year {
                Some(year) => NaiveDate::from_ymd_opt(year, month, day),
                None => self.in_year(h, flags, |year| NaiveDate::from_ymd_opt(year, month, day)),
            },
            Written::Named { day, month: None, .. } => self.in_month(day, h.weekday, flags),
            Written::Figures { first, second, year } => {
                let order = match (first > 12, second > 12) {
                    (true, _) => Some(Order::DayFirst),
                    (_, true) => Some(Order::MonthFirst),
                    _ => self.order,
                };
                let of = |order: Order, flags: &mut Vec<Flag>| match year {
                    Some(year) => order.date(first, second, year),
                    None => self.in_year(h, flags, |year| order.date(first, second, year)),
                };
                match order {
                    Some(order) => of(order, flags),
                    None if first == second => of(Order::DayFirst, flags),
                    None => {
                        let both: Vec<NaiveDate> = [Order::MonthFirst, Order::DayFirst]
                            .into_iter()
                            .filter_map(|o| of(o, &mut vec![]))
                            .collect();
                        let days: Vec<String> = both.iter().map(|d| show::day(*d)).collect();
                        let told = format!("day first or month first? it can be {}", show::list_or(&days));
                        flags.push(ask(told).options(both.iter().map(|d| json!(d))));
                        return both.first().copied();
                    }
                }
            }
        };
        let Some(date) = date else {
            if flags.iter().all(|f| f.field != "date") {
                flags.push(ask(format!("there is no such day: `{line}`")));
            }
            return None;
        };
        Self::weekday(h, date, flags);
        if flags.iter().any(|f| f.field == "date") {
            return Some(date);
        }
        // "Oct 09" after a visit of 2009.
        let years = self.date.map(|b| [b.year(), b.year() + 1]);
        if let Some(year) = h.maybe_year.filter(|y| h.weekday.is_none() && years.is_some_and(|all| all.contains(y))) {
            let told = format!("{}, or some day of that month in {year}?", show::day(date));
            flags.push(ask(told).options([json!(date)]));
            return Some(date);
        }
        if date > self.today {
            flags.push(ask(format!("{} is still to come: is the year right?", show::day(date))));
        } else if let Some(before) = self.date.filter(|b| *b > date) {
            let told =
                format!("it runs backwards: {} is before {}{}", show::day(date), show::day(before), self.place());
            flags.push(Flag::note(FlagKind::DateOpen, "date", told));
        }
        Some(date)
    }

    /// Where the day before stands.
    fn place(&self) -> String {
        if self.dated == 0 { String::new() } else { format!(" in line {}", self.dated) }
    }

    /// The weekday that was written must be the day's.
    fn weekday(h: &Heading, date: NaiveDate, flags: &mut Vec<Flag>) {
        let is = date.weekday().num_days_from_monday();
        let Some(said) = h.weekday.filter(|w| *w != is) else { return };
        if flags.iter().any(|f| f.field == "date" && f.asks()) {
            return;
        }
        let shift = |by: i64| date + Duration::days(by);
        let on = (i64::from(said) + 7 - i64::from(is)) % 7;
        let names = ["a Monday", "a Tuesday", "a Wednesday", "a Thursday", "a Friday", "a Saturday", "a Sunday"];
        let told =
            format!("{} is no {}: the weekday or the date is wrong", show::day(date), &names[said as usize][2..]);
        let near = if on <= 3 { shift(on) } else { shift(on - 7) };
        flags.push(Flag::ask(FlagKind::DateOpen, "date", told).options([json!(date), json!(near)]));
    }

    /// A day without a year: that of the heading before, or the next where that runs backwards over New Year.
    fn in_year(&self, h: &Heading, flags: &mut Vec<Flag>, of: impl Fn(i32) -> Option<NaiveDate>) -> Option<NaiveDate> {
        let Some(before) = self.date else {
            flags.push(Flag::ask(FlagKind::DateOpen, "date", "no year, and no heading before has one"));
            return None;
        };
        let same = of(before.year());
        let next = of(before.year() + 1);
        let Some(date) = same else { return next };
        if date >= before {
            return Some(date);
        }
        // It runs backwards. The weekday tells, else a turn of the year is likely only around New Year.
        let fits = |d: Option<NaiveDate>| d.is_some_and(|d| Some(d.weekday().num_days_from_monday()) == h.weekday);
        let turn = before.month() >= 10 && date.month() <= 3;
        let told = |d: NaiveDate| {
            let (taken, before, place) = (show::day(d), show::day(before), self.place());
            let text = format!("no year: taken as {taken}, as the heading before{place} is {before}");
            Flag::note(FlagKind::DateOpen, "date", text)
        };
        match (fits(same), fits(next)) {
            (true, false) => {
                flags.push(told(date));
                Some(date)
            }
            (false, true) => next.inspect(|d| flags.push(told(*d))),
            _ if turn => next.inspect(|d| flags.push(told(*d))),
            _ => {
                let (before, place) = (show::day(before), self.place());
                let text = format!("no year, and it runs backwards: the heading before{place} is {before}");
                flags.push(
                    Flag::ask(FlagKind::DateOpen, "date", text)
                        .options([same, next].into_iter().flatten().map(|d| json!(d))),
                );
                same
            }
        }
    }

    /// Only the day of the month: in the month of the heading before, or the next one.
    fn in_month(&self, day: u32, weekday: Option<u32>, flags: &mut Vec<Flag>) -> Option<NaiveDate> {
        let Some(before) = self.date else {
            flags.push(Flag::ask(FlagKind::DateOpen, "date", "no month, and no heading before has one"));
            return None;
        };
        let first = before.with_day(1)?;
        let months = [first, next_month(first)?, next_month(next_month(first)?)?];
        let fits = |d: &NaiveDate| *d >= before && weekday.is_none_or(|w| d.weekday().num_days_from_monday() == w);
        let date = months.iter().filter_map(|m| m.with_day(day)).find(fits).or_else(|| first.with_day(day))?;
        flags.push(Flag::note(FlagKind::DateOpen, "date", format!("no month: taken as {}", show::day(date))));
        Some(date)
    }

    /// "next day", "same day", or a weekday alone.
    fn undated(&self, h: &Heading, flags: &mut Vec<Flag>) -> Option<NaiveDate> {
        let Some(before) = self.date else {
            flags.push(Flag::ask(FlagKind::DateOpen, "date", "no date, and no heading before has one"));
            return None;
        };
        if h.standing == Standing::Dayless {
            let days = if h.after.is_some() { [1, 0] } else { [0, 1] };
            let farm = h.farm.as_deref().unwrap_or_default();
            let text = format!("a new visit to {farm}, and on which day? or no visit at all?");
            let options = days.map(|by| json!(before + Duration::days(by)));
            let flag = Flag::ask(FlagKind::DateOpen, "date", text);
            flags.push(flag.options(options.into_iter().chain([json!(NO_VISIT)])));
            return Some(before + Duration::days(days[0]));
        }
        if let Some(after) = h.after {
            let date = before + Duration::days(after);
            Self::weekday(h, date, flags);
            if h.goes_on && h.farm.is_some() && h.farm != self.farm {
                let text = format!("which day? the heading before, {}, is not of that farm", show::day(before));
                flags.push(Flag::ask(FlagKind::DateOpen, "date", text).options([json!(date)]));
            }
            return Some(date);
        }
        let Some(weekday) = h.weekday else {
            let text = format!("no date: the day of the heading before, {}?", show::day(before));
            flags.push(Flag::ask(FlagKind::DateOpen, "date", text).options([json!(before)]));
            return Some(before);
        };
        let is = before.weekday().num_days_from_monday();
        let on = (i64::from(weekday) + 7 - i64::from(is)) % 7;
        let date = before + Duration::days(if on == 0 { 7 } else { on });
        flags.push(Flag::note(FlagKind::DateOpen, "date", format!("only a weekday: taken as {}", show::day(date))));
        Some(date)
    }
}

fn next_month(first: NaiveDate) -> Option<NaiveDate> {
    first.checked_add_months(chrono::Months::new(1))
}

#[cfg(test)]
mod tests {
    use super::super::heading::heading;
    use super::super::roles::Roles;
    use super::*;

    fn days(order: Option<Order>, lines: &[&str]) -> Vec<(String, String, String)> {
        let mut calendar = Calendar::new(order, None, None, NaiveDate::from_ymd_opt(2026, 3, 12).unwrap());
        let mut number = 0;
        let day = |line: &&str| {
            number += 1;
            let d = calendar.open(&heading(line, Roles::default).unwrap(), number, line);
            let flags: Vec<&str> = d.flags.iter().map(|f| if f.asks() { "?" } else { "!" }).collect();
            (d.date.map_or(String::new(), |d| d.to_string()), d.farm.unwrap_or_default(), flags.concat())
        };
        lines.iter().map(day).collect()
    }

    fn check(order: Option<Order>, lines: &[(&str, &str, &str, &str)]) {
        let got = days(order, &lines.iter().map(|l| l.0).collect::<Vec<_>>());
        for (got, (line, date, farm, flags)) in got.iter().zip(lines) {
            assert_eq!((got.0.as_str(), got.1.as_str(), got.2.as_str()), (*date, *farm, *flags), "{line}");
        }
    }

    #[test]
    fn days_follow_from_the_headings_before() {
        check(
            Some(Order::MonthFirst),
            &[
                ("Tue 6/5/18 Juniper Flat", "2018-06-05", "Juniper Flat", ""),
                ("9 June same place", "2018-06-09", "Juniper Flat", ""),
                ("next day, same place", "2018-06-10", "Juniper Flat", ""),
                ("Weds Oak Lane, 12 hd", "2018-06-13", "Oak Lane", "!"),
                ("Thurs 14th, same farm", "2018-06-14", "Oak Lane", "!"),
                ("6/1/18 Oak Lane", "2018-06-01", "Oak Lane", "!"),
                ("12/30/18 Oak Lane", "2018-12-30", "Oak Lane", ""),
                ("4 Jan same place", "2019-01-04", "Oak Lane", "!"),
                ("Mon 1/8/19 Oak Lane", "2019-01-08", "Oak Lane", "?"),
                ("3/4/19", "2019-03-04", "Oak Lane", "?"),
            ],
        );
    }

    #[test]
    fn what_runs_backwards_or_is_still_to_come_is_told_with_the_line() {
        let today = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();
        let mut calendar = Calendar::new(Some(Order::MonthFirst), None, None, today);
        let mut told = |number, line: &str| {
            let day = calendar.open(&heading(line, Roles::default).unwrap(), number, line);
            day.flags.iter().map(|f| f.message.clone()).collect::<Vec<_>>().join("; ")
        };
        assert_eq!(told(3, "6/5/18 Oak Lane"), "");
        let backwards = "it runs backwards: fri 1 jun 2018 is before tue 5 jun 2018 in line 3";
        assert_eq!(told(9, "6/1/18 Oak Lane"), backwards);
        let without = "no year, and it runs backwards: the heading before in line 9 is fri 1 jun 2018";
        assert_eq!(told(12, "4/2 Oak Lane"), without);
        assert_eq!(told(15, "6/5/28 Oak Lane"), "mon 5 jun 2028 is still to come: is the year right?");
    }

    #[test]
    fn a_second_day_goes_on_from_a_visit_to_the_same_farm() {
        check(
            Some(Order::MonthFirst),
            &[
                ("6/5/18 Oak Lane", "2018-06-05", "Oak Lane", ""),
                ("Oak Lane day 2", "2018-06-06", "Oak Lane", ""),
                ("3rd day", "2018-06-07", "Oak Lane", ""),
                ("Elm End day 2", "2018-06-08", "Elm End", "?"),
                ("May 18 Elm End", "2018-05-18", "Elm End", "?"),
                ("6/9 day 2", "2018-06-09", "Elm End", ""),
                ("Jul 2018 Elm End", "", "Elm End", "?"),
                ("9 Jul same place", "2018-07-09", "Elm End", ""),
            ],
        );
    }

    #[test]
    fn what_is_doubtful_is_asked() {
        check(
            None,
            &[
                ("9 June Oak Lane", "", "Oak Lane", "?"),
                ("6/5/18 Oak Lane", "2018-06-05", "Oak Lane", "?"),
                ("31 June 2018 Oak Lane", "", "Oak Lane", "?"),
                ("2/3 same place", "2018-02-03", "Oak Lane", "?"),
            ],
        );
    }
}
