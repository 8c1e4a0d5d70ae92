//! Applies answers and strikes: what the log says now, while every line stays as it was written.
//!
//! [`fold`] does it for a log in memory, [`each`] entry by entry for one of any length.

pub mod brief;
mod changes;
mod each;
mod quick;

use super::after;
use super::counts::Counts;
use super::record::{AnswerLine, EntryLine, Record, StrikeLine, VisitLine};
use crate::entry::Entry;
use crate::flag::Flag;
pub use brief::Brief;
pub use changes::{Changes, Misfit, Rest};
pub use each::{cows_at, each, each_at, of_visit};
pub use quick::{Quick, each_quick};

/// What a log says, with answers and strikes applied.
#[derive(Clone, Debug, Default)]
pub struct Book {
    pub visits: Vec<VisitLine>,
    /// In the log's order, the struck ones among them.
    pub entries: Vec<Kept>,
    pub strikes: Vec<StrikeLine>,
    /// Answers and strikes of what is not there, and answers that do not fit.
    pub misfits: Vec<Misfit>,
}

/// An entry as it stands.
#[derive(Clone, Debug)]
pub struct Kept {
    /// Its own line, as it was written.
    pub line: EntryLine,
    /// In the log's order.
    pub answers: Vec<AnswerLine>,
    /// With the answers applied and what was taken out gone. Its flags are those that still stand; their
    /// fields are counted as in this entry.
    pub entry: Entry,
    /// The questions that still wait, in the order in which they are best asked. Their fields are counted as in
    /// the entry's own line, as an answer needs it.
    pub open: Vec<Flag>,
    /// What of `entry` counts in reports.
    pub counts: Counts,
    /// Why it was struck, where it is.
    pub struck: Option<String>,
}

impl Kept {
    pub fn new(line: EntryLine) -> Self {
        let entry = line.entry.clone();
        let open: Vec<Flag> = entry.questions().cloned().collect();
        let counts = Counts::of(&entry);
        Self { line, answers: vec![], entry, open, counts, struck: None }
    }

    /// Applies one more answer.
    ///
    /// # Errors
    /// Says why the answer does not fit; the entry then stands as it did.
    pub fn answer(&mut self, answer: AnswerLine) -> Result<(), String> {
        let told = format!("the answer {} for `{}` of entry {}", answer.value, answer.field, answer.entry);
        let mut answers = self.answers.clone();
        answers.push(answer);
        let (entry, open) = after::apply(&self.line.entry, &answers).map_err(|why| format!("{told}: {why}"))?;
        self.counts = Counts::of(&entry);
        (self.entry, self.open, self.answers) = (entry, open, answers);
        Ok(())
    }
}

/// Applies answers and strikes in the order of the records, which come with their line numbers; of two answers to
/// one field the last wins.
///
/// To apply the same answer or strike twice is as good as once.
pub fn fold(records: impl IntoIterator<Item = (usize, Record)>) -> Book {
    let mut changes = Changes::default();
    let mut entries = Vec::new();
    for (line, record) in records {
        changes.gather(line, &record);
        if let Record::Entry(entry) = record {
            entries.push(entry);
        }
    }
    let entries = entries.into_iter().filter_map(|e| changes.apply(*e)).collect();
    let Rest { visits, strikes, misfits } = changes.rest();
    Book { visits, entries, strikes, misfits }
}

#[cfg(test)]
mod tests;
