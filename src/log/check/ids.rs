//! Whether ids come from what their lines say.

use crate::log::id;
use crate::log::record::{EntryLine, Record};

/// The counters of an id (which cow of the note, which note of that text) are not in the line: they are tried.
const COWS: usize = 4096;
const NTH: usize = 512;
/// Cows of a note that is not the first of its text.
const FEW_COWS: usize = 32;

/// After so many wrong ids the log was made by another program, and no more are tried: a wrong one is found out
/// only when all counters were.
const ENOUGH: usize = 100;

#[derive(Debug, Default)]
pub(super) struct Ids {
    wrong: usize,
}

impl Ids {
    /// Whether that was the last one that is tried.
    pub(super) fn enough(&self) -> bool {
        self.wrong >= ENOUGH
    }

    pub(super) fn right(&mut self, record: &Record) -> bool {
        if self.enough() {
            return true;
        }
        let right = match record {
            Record::Visit(v) => v.id == id::visit(v.farm.as_deref(), v.date, v.trimmer.as_deref()),
            Record::Entry(e) => entry(e),
            Record::Answer(a) => (1..=NTH).any(|nth| a.id == id::answer(&a.entry, &a.field, &a.value, a.at, nth)),
            Record::Strike(s) => (1..=NTH).any(|nth| s.id == id::strike(&s.entry, &s.why, s.at, nth)),
            Record::Unknown { .. } => true,
        };
        self.wrong += usize::from(!right);
        right
    }
}

fn entry(line: &EntryLine) -> bool {
    let is = |cow, nth| line.id == id::entry_of(&line.visit, &line.entry.said, line.source.as_ref(), cow, nth);
    (0..COWS).any(|cow| is(cow, 1)) || (2..=NTH).any(|nth| (0..FEW_COWS).any(|cow| is(cow, nth)))
}
