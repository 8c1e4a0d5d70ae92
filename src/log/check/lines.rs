//! The first look at a log, line by line.

use std::collections::HashMap;

use chrono::{Datelike, Days, NaiveDate};

use super::chain::{Chain, Search};
use super::ids::Ids;
use super::seen::Seen;
use super::{Finding, Kind, Level, Tally};
use crate::log::read::{BadLine, Line};
use crate::log::record::{OTHER, Record, Stamp, VisitLine};
use crate::log::seal::Parts;

/// What is known of a log so far.
#[derive(Debug, Default)]
pub(super) struct Lines {
    findings: Vec<Finding>,
    tally: Tally,
    chain: Chain,
    /// The line before is no record and has no seal.
    torn: bool,
    ids: Ids,
    seen: Seen,
    visits: HashMap<String, NaiveDate>,
    /// Entries whose visit was not there yet: their lines, visits and stamps.
    homeless: Vec<(usize, String, Stamp)>,
}

impl Lines {
    /// Looks at the next line.
    pub(super) fn look(&mut self, line: Line, record: Result<Record, BadLine>) {
        if self.torn && self.chain.follows(&line) {
            self.was_torn();
        }
        self.torn = record.is_err() && Parts::of(line.bytes).seal.is_none();
        let changed = self.chain.look(&line, record.is_ok());
        let sound = changed.as_ref().is_none_or(|f| f.kind != Kind::Changed);
        self.findings.extend(changed);
        let record = match record {
            Ok(record) => record,
            Err(bad) => return self.bad(line.number, &bad),
        };
        let seen = self.seen.look(line.number, &record);
        let first = seen.is_none();
        self.findings.extend(seen);
        // An id that is wrong because the line was changed says the same once more.
        if first && sound && !self.ids.right(&record) {
            let mut told =
                "the id does not come from what the line says: changed by hand, or written by another program"
                    .to_owned();
            if self.ids.enough() {
                told.push_str("; there are many, and ids from here on are not looked at");
            }
            self.findings.push(Finding::new(Level::Error, line.number, Kind::WrongId, told));
        }
        match record {
            Record::Visit(visit) => {
                self.tally.visits += 1;
                self.visit(line.number, visit);
            }
            Record::Entry(entry) => {
                self.tally.entries += 1;
                match self.visits.get(&entry.visit) {
                    Some(date) => self.findings.extend(written(line.number, entry.at, *date)),
                    None => self.homeless.push((line.number, entry.visit, entry.at)),
                }
            }
            Record::Answer(_) => self.tally.answers += 1,
            Record::Strike(_) => self.tally.strikes += 1,
            Record::Unknown { kind, .. } if kind == OTHER => self.tally.no_notes += 1,
            Record::Unknown { .. } => self.tally.other += 1,
        }
    }

    /// What was found last is no damage: the line was unfinished already when the program went on behind it.
    fn was_torn(&mut self) {
        if let Some(last) = self.findings.last_mut().filter(|f| f.kind == Kind::Unreadable) {
            last.level = Level::Warning;
            last.kind = Kind::Unfinished;
            last.message = "unfinished: whoever wrote it was interrupted; it was left out".to_owned();
        }
    }

    fn bad(&mut self, line: usize, bad: &BadLine) {
        let kind = match bad {
            BadLine::Unfinished => Kind::Unfinished,
            BadLine::Newer(_) => Kind::Newer,
            _ => Kind::Unreadable,
        };
        let level = if bad.is_warning() { Level::Warning } else { Level::Error };
        self.findings.push(Finding::new(level, line, kind, bad.to_string()));
    }

    fn visit(&mut self, line: usize, visit: VisitLine) {
        if !(EARLIEST..=LATEST).contains(&visit.date.year()) {
            let told = format!("a visit on {}: no such day is meant", visit.date);
            self.findings.push(Finding::new(Level::Error, line, Kind::Date, told));
        }
        self.findings.extend(written(line, visit.at, visit.date));
        self.visits.entry(visit.id).or_insert(visit.date);
    }

    /// What was found, how many there are, and what is still to be looked for.
    pub(super) fn done(mut self) -> (Vec<Finding>, Tally, Search) {
        for (line, visit, at) in std::mem::take(&mut self.homeless) {
            match self.visits.get(&visit) {
                Some(date) => self.findings.extend(written(line, at, *date)),
                None => self.findings.push(Finding::new(
                    Level::Error,
                    line,
                    Kind::VisitMissing,
                    format!("the visit {visit} is not in the log, so neither day nor farm is known"),
                )),
            }
        }
        self.findings.extend(self.chain.unsealed());
        (self.findings, self.tally, self.chain.search())
    }
}

/// Years in which a visit can be: the notebooks go back some decades.
const EARLIEST: i32 = 1950;
const LATEST: i32 = 2200;

/// A line of a visit that was written before its day (a day is allowed for where the sun is).
fn written(line: usize, at: Stamp, date: NaiveDate) -> Option<Finding> {
    let told = format!("written on {}, before the day of the visit, {date}", at.date_naive());
    let early = at.date_naive().checked_add_days(Days::new(1)).is_some_and(|day| day < date);
    early.then(|| Finding::new(Level::Error, line, Kind::Date, told))
}
