//! Whether a file writes the day or the month first: decided once, from what it says itself.

use chrono::{Datelike, NaiveDate};

use super::date::Written;
use super::heading::Heading;

/// Which comes first in `6/5/18`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    DayFirst,
    MonthFirst,
}

impl Order {
    pub fn words(self) -> &'static str {
        match self {
            Self::DayFirst => "day first",
            Self::MonthFirst => "month first",
        }
    }

    pub fn other(self) -> Self {
        match self {
            Self::DayFirst => Self::MonthFirst,
            Self::MonthFirst => Self::DayFirst,
        }
    }

    fn at(self, first: u32, second: u32) -> (u32, u32) {
        match self {
            Self::DayFirst => (first, second),
            Self::MonthFirst => (second, first),
        }
    }

    /// The date that the figures are in this order, where there is such a day.
    pub(super) fn date(self, first: u32, second: u32, year: i32) -> Option<NaiveDate> {
        let (day, month) = self.at(first, second);
        NaiveDate::from_ymd_opt(year, month, day)
    }
}

/// What the headings of a file say about the order.
#[derive(Clone, Debug, Default)]
pub(super) struct Evidence {
    /// Lines whose figures or weekday leave one order only, by order (day first, month first).
    sure: [Vec<usize>; 2],
    weekday: [Vec<usize>; 2],
    /// Steps back in time that an order makes.
    back: [usize; 2],
    last: [Option<NaiveDate>; 2],
    /// Lines that can be read either way.
    open: Vec<usize>,
    open_count: usize,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Decision {
    /// No heading needs it.
    NotNeeded,
    /// By what, in words.
    Found(Order, String),
    /// Nothing decides it; lines that depend on it.
    Open(Vec<usize>, usize),
    /// A line that is day first only, and one that is month first only.
    Contradictory { day_first: usize, month_first: usize, open: Vec<usize> },
}

const BOTH: [Order; 2] = [Order::DayFirst, Order::MonthFirst];
/// How many lines are remembered for messages.
const SHOWN: usize = 20;

impl Evidence {
    /// Takes in the heading of a line; headings come in the file's order.
    pub(super) fn add(&mut self, line: usize, heading: &Heading) {
        match heading.date {
            Some(Written::Figures { first, second, year }) => self.figures(line, heading.weekday, first, second, year),
            Some(Written::Full { year, month, day }) => self.step([NaiveDate::from_ymd_opt(year, month, day); 2]),
            Some(Written::Named { day, month: Some(month), year }) => {
                let date =
                    |last: Option<NaiveDate>| NaiveDate::from_ymd_opt(year.or(last.map(|l| l.year()))?, month, day);
                self.step([date(self.last[0]), date(self.last[1])]);
            }
            _ => {}
        }
    }

    fn figures(&mut self, line: usize, weekday: Option<u32>, first: u32, second: u32, year: Option<i32>) {
        let dates = BOTH.map(|o| {
            let last = self.last[o as usize];
            o.date(first, second, year.or(last.map(|l| l.year()))?)
        });
        if first != second {
            if first > 12 || second > 12 {
                push(&mut self.sure[usize::from(second > 12)], line);
            } else {
                let fits = dates.map(|d| d.is_some_and(|d| Some(d.weekday().num_days_from_monday()) == weekday));
                match fits {
                    [true, false] => push(&mut self.weekday[0], line),
                    [false, true] => push(&mut self.weekday[1], line),
                    _ => {
                        push(&mut self.open, line);
                        self.open_count += 1;
                    }
                }
            }
        }
        self.step(dates);
    }

    fn step(&mut self, dates: [Option<NaiveDate>; 2]) {
        for (k, date) in dates.into_iter().enumerate() {
            let Some(date) = date else { continue };
            self.back[k] += usize::from(self.last[k].is_some_and(|l| date < l));
            self.last[k] = Some(date);
        }
    }

    pub(super) fn decide(&self) -> Decision {
        let any = |lists: &[Vec<usize>; 2]| lists.iter().map(Vec::len).sum::<usize>() > 0;
        if !any(&self.sure) && !any(&self.weekday) && self.open_count == 0 {
            return Decision::NotNeeded;
        }
        if let ([d, ..], [m, ..]) = (self.sure[0].as_slice(), self.sure[1].as_slice()) {
            return Decision::Contradictory { day_first: *d, month_first: *m, open: self.open.clone() };
        }
        let winner = |lists: &[Vec<usize>; 2]| {
            BOTH.into_iter().find(|o| lists[*o as usize].len() > 3 * lists[o.other() as usize].len())
        };
        if let Some(order) = winner(&self.sure) {
            return Decision::Found(order, format!("line {} can be nothing else", self.sure[order as usize][0]));
        }
        if let Some(order) = winner(&self.weekday) {
            return Decision::Found(order, format!("by the weekday in line {}", self.weekday[order as usize][0]));
        }
        match self.back {
            [0, b] if b > 0 => Decision::Found(Order::DayFirst, "by the running order of the visits".to_owned()),
            [b, 0] if b > 0 => Decision::Found(Order::MonthFirst, "by the running order of the visits".to_owned()),
            _ if any(&self.weekday) => Decision::Contradictory {
                day_first: self.weekday[0].first().copied().unwrap_or_default(),
                month_first: self.weekday[1].first().copied().unwrap_or_default(),
                open: self.open.clone(),
            },
            _ => Decision::Open(self.open.clone(), self.open_count),
        }
    }
}

fn push(list: &mut Vec<usize>, line: usize) {
    if list.len() < SHOWN {
        list.push(line);
    }
}

#[cfg(test)]
mod tests {
    use super::super::heading::heading;
    use super::super::roles::Roles;
    use super::*;

    fn decided(lines: &[&str]) -> Decision {
        let mut evidence = Evidence::default();
        for (i, line) in lines.iter().enumerate() {
            evidence.add(i + 1, &heading(line, Roles::default).unwrap());
        }
        evidence.decide()
    }

    #[test]
    fn values_weekdays_and_the_running_order_decide() {
        let found = |lines: &[&str]| match decided(lines) {
            Decision::Found(order, _) => Some(order),
            _ => None,
        };
        assert_eq!(found(&["6/5/18 Oak", "13/6/18 Oak"]), Some(Order::DayFirst));
        assert_eq!(found(&["6/5/18 Oak", "6/13/18 Oak"]), Some(Order::MonthFirst));
        assert_eq!(found(&["Tue 6/5/18 Oak"]), Some(Order::MonthFirst));
        assert_eq!(found(&["Sun 6/5/18 Oak"]), Some(Order::DayFirst));
        assert_eq!(found(&["2/11/18 Oak", "3/1/18 Oak", "4/1/18 Oak"]), Some(Order::MonthFirst));
        assert_eq!(found(&["7/5/18 Oak", "8/4/18 Oak"]), Some(Order::MonthFirst));
    }

    #[test]
    fn what_is_not_evident_is_open_and_what_contradicts_is_named() {
        assert_eq!(decided(&["6/5/18 Oak", "6/6/18 Oak"]), Decision::Open(vec![1], 1));
        assert_eq!(decided(&["6/6/18 Oak", "9 June 18"]), Decision::NotNeeded);
        assert_eq!(
            decided(&["13/6/18 Oak", "6/14/18 Oak"]),
            Decision::Contradictory { day_first: 1, month_first: 2, open: vec![] }
        );
    }
}
