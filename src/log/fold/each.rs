//! A log of any length, entry by entry: read twice, so that nothing of an entry has to be kept.

use std::collections::HashSet;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::{Changes, Kept, Rest, fold};
use crate::log::pieces;
use crate::log::read::{Line, Lines, Problem};
use crate::log::record::{Record, VisitLine};

/// How a line of an entry begins that this program wrote; it has no need to be read twice.
pub(super) const ENTRY: &[u8] = br#"{"v":1,"kind":"entry","#;

/// Gives every entry of the log at `path` as it stands, with its line, in the log's order, and tells of lines that
/// cannot be used.
///
/// What is appended meanwhile is left out. Memory is for the answers, strikes and visits, and eight bytes an entry.
///
/// # Errors
/// Where the file cannot be opened or read; bad lines are no errors but problems.
pub fn each(path: &Path, problem: impl FnMut(Problem), mut with: impl FnMut(usize, Kept)) -> io::Result<Rest> {
    each_at(path, problem, |line, kept, _| with(line, kept))
}

/// As [`each`], with the visit of every entry; `None` where the log has no line of it.
///
/// # Errors
/// As [`each`].
pub fn each_at(
    path: &Path,
    mut problem: impl FnMut(Problem),
    mut with: impl FnMut(usize, Kept, Option<&VisitLine>),
) -> io::Result<Rest> {
    let length = File::open(path)?.metadata()?.len();
    let mut changes = gather(path, length)?;
    let name = path.display().to_string();
    let mut lines = Lines::new(File::open(path)?.take(length));
    while let Some(line) = lines.next_line()? {
        match line.record() {
            Ok(Record::Entry(entry)) => {
                if let Some(kept) = changes.apply(*entry) {
                    let visit = changes.visit(&kept.line.visit);
                    with(line.number, kept, visit);
                }
            }
            Ok(_) => {}
            Err(bad) => problem(Problem::new(&name, line.number, &bad)),
        }
    }
    Ok(changes.rest())
}

/// The visits, answers and strikes in the first `length` bytes of a log.
pub(super) fn gather(path: &Path, length: u64) -> io::Result<Changes> {
    let (mut changes, mut before) = (Changes::default(), 0);
    let others = |mut lines: pieces::Lines| {
        let other = |line: Line| {
            let record = if line.bytes.starts_with(ENTRY) { None } else { line.record().ok() };
            Some((line.number, record?))
        };
        let records: Vec<_> = lines.by_ref().filter_map(other).collect();
        (lines.count, records)
    };
    pieces::in_order(path, length, others, |(count, records)| {
        for (line, record) in &records {
            changes.gather(before + line, record);
        }
        before += count;
    })?;
    changes.expect(before);
    Ok(changes)
}

/// Cows that are known for certain at that farm, once an entry, but for those of the visit `but`. Capitals of the
/// farm's name do not matter.
///
/// # Errors
/// Where the file cannot be opened or read; bad lines are no errors but problems.
pub fn cows_at(path: &Path, farm: &str, but: &str, problem: impl FnMut(Problem)) -> io::Result<Vec<String>> {
    let mut seen: Vec<(String, String)> = Vec::new();
    let rest = each(path, problem, |_, kept| {
        if kept.struck.is_none() && kept.counts.cow && kept.line.visit != but {
            seen.extend(kept.entry.cow.map(|cow| (kept.line.visit, cow)));
        }
    })?;
    let here = |v: &&VisitLine| v.farm.as_ref().is_some_and(|f| f.trim().to_lowercase() == farm.trim().to_lowercase());
    let visits: HashSet<&str> = rest.visits.iter().filter(here).map(|v| v.id.as_str()).collect();
    seen.retain(|(visit, _)| visits.contains(visit.as_str()));
    Ok(seen.into_iter().map(|(_, cow)| cow).collect())
}

/// The entries of one visit as they stand, in the log's order: of a long log only the lines that name the visit, and
/// the answers and strikes, are taken apart.
///
/// # Errors
/// Where the file cannot be opened or read; lines that cannot be used are left out.
pub fn of_visit(path: &Path, visit: &str) -> io::Result<Vec<Kept>> {
    let mut records = Vec::new();
    let mut lines = Lines::new(File::open(path)?);
    while let Some(line) = lines.next_line()? {
        if line.bytes.starts_with(ENTRY) && !line.bytes.windows(visit.len().max(1)).any(|w| w == visit.as_bytes()) {
            continue;
        }
        match line.record() {
            Ok(Record::Entry(entry)) if entry.visit != visit => {}
            Ok(record) => records.push((line.number, record)),
            Err(_) => {}
        }
    }
    Ok(fold(records).entries)
}
