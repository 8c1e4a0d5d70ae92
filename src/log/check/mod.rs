//! Goes over a whole log: what is broken, what was changed, what is missing, and on request what the trade finds odd.

mod chain;
mod ids;
mod lines;
mod seen;
mod strict;

use std::fmt;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use chrono::NaiveDate;
use serde::Serialize;

use super::fold::{Changes, Kept};
use super::read::Lines as LogLines;
use super::record::Record;
use lines::Lines;

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// Something of the log cannot be used, or is not what was written.
    Error,
    /// The records are sound, but what they say is odd: a person should look.
    Odd,
    /// Worth knowing; the log is as good as it was.
    Warning,
}

/// What was found. The names are in the output of `check --json`: they stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// The line is no record.
    Unreadable,
    /// The last line has no end.
    Unfinished,
    /// Written by a newer version of the program.
    Newer,
    /// Its seal does not fit: the line was changed after it was written.
    Changed,
    /// The line before is not the one that it was written after.
    Gap,
    /// Lines without a seal.
    Unsealed,
    /// An id that stands on two lines.
    Twice,
    /// An id that does not come from what the line says.
    WrongId,
    /// An entry of a visit that is not in the log.
    VisitMissing,
    /// An answer or a strike of what is not in the log.
    EntryMissing,
    /// An answer that does not fit its entry.
    Misfit,
    /// A date that cannot be.
    Date,
    /// Strict: a number outside its range, and nobody was asked.
    Range,
    /// Strict: an entry without a cow, and nobody was asked.
    CowMissing,
    /// Strict: a cow that has two entries in one visit.
    SameCow,
    /// Strict: something due before the visit.
    DueBefore,
    /// Strict: a block or a wrap that is past its due date, and no line says that it came off.
    StillOn,
}

/// One thing that was found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Finding {
    pub level: Level,
    /// From 1.
    pub line: usize,
    pub kind: Kind,
    pub message: String,
}

impl Finding {
    fn new(level: Level, line: usize, kind: Kind, message: impl Into<String>) -> Self {
        Self { level, line, kind, message: message.into() }
    }
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(match self {
            Self::Error => "error",
            Self::Odd => "odd",
            Self::Warning => "warning",
        })
    }
}

/// What a log holds and what is wrong with it.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// In the order of the lines.
    pub findings: Vec<Finding>,
    pub tally: Tally,
}

/// How many there are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    pub visits: usize,
    pub entries: usize,
    pub answers: usize,
    pub strikes: usize,
    /// Lines of old notebooks that are no hoof notes.
    pub no_notes: usize,
    /// Lines of kinds that this version does not know.
    pub other: usize,
    /// Questions that wait for an answer.
    pub open: usize,
}

impl Report {
    /// Whether something is wrong; warnings alone are not.
    pub fn is_bad(&self) -> bool {
        self.findings.iter().any(|f| f.level != Level::Warning)
    }
}

/// Checks the log at `path`; with `today`, also by what the trade finds odd.
///
/// The file is read twice; memory is for the answers and strikes and some forty bytes an entry.
///
/// # Errors
/// Where the file cannot be opened or read.
pub fn check(path: &Path, today: Option<NaiveDate>) -> io::Result<Report> {
    let length = File::open(path)?.metadata()?.len();
    let open = || File::open(path).map(|f| f.take(length));
    check_twice(open()?, open()?, today)
}

/// As [`check`], for a log that is given twice.
///
/// # Errors
/// Where it cannot be read.
pub fn check_twice(once: impl Read, again: impl Read, today: Option<NaiveDate>) -> io::Result<Report> {
    let mut changes = Changes::default();
    let mut first = Lines::default();
    let mut log = LogLines::new(once);
    while let Some(line) = log.next_line()? {
        let record = line.record();
        if let Ok(record) = &record {
            changes.gather(line.number, record);
        }
        first.look(line, record);
    }
    let (mut findings, mut tally, mut search) = first.done();
    let mut strict = today.map(|today| strict::Strict::new(today, changes.visits()));
    let mut log = LogLines::new(again);
    while let Some(line) = log.next_line()? {
        search.find(&line);
        let Ok(Record::Entry(entry)) = line.record() else { continue };
        let Some(kept) = changes.apply(*entry) else { continue };
        if kept.struck.is_none() {
            tally.open += kept.open.len();
            if let Some(strict) = &mut strict {
                strict.look(line.number, &kept);
            }
        }
    }
    findings.extend(search.gaps());
    findings.extend(changes.rest().misfits.into_iter().map(|m| {
        let kind = if m.missing { Kind::EntryMissing } else { Kind::Misfit };
        Finding::new(Level::Error, m.line, kind, m.what)
    }));
    findings.extend(strict.into_iter().flat_map(strict::Strict::done));
    findings.sort_by_key(|f| f.line);
    Ok(Report { findings, tally })
}

/// How an entry is named in messages.
fn named(kept: &Kept) -> String {
    kept.entry.cow.as_ref().map_or_else(|| format!("entry {}", kept.line.id), |cow| format!("cow {cow}"))
}

#[cfg(test)]
mod tests;
