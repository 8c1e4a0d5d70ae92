//! The log as the store has it: its records, its ids, and what the next line is sealed with.
//!
//! Nothing is added here but what comes back from the store, so that what counts is what is stored.

use std::collections::{HashMap, HashSet};

use chutescribe::log::fold::{self, Book};
use chutescribe::log::read::{self, Problem};
use chutescribe::log::{Kept, Record, seal};

#[derive(Debug, Default)]
pub(crate) struct Ledger {
    records: Vec<(usize, Record)>,
    ids: HashSet<String>,
    link: u64,
    /// With answers and strikes applied.
    pub(crate) book: Book,
    /// Places of entries in the book, by their ids.
    at: HashMap<String, usize>,
    lines: usize,
}

impl Ledger {
    /// Whether the log has that id.
    pub(crate) fn has(&self, id: &str) -> bool {
        self.ids.contains(id)
    }

    pub(crate) fn entry(&self, id: &str) -> Option<&Kept> {
        self.at.get(id).map(|at| &self.book.entries[*at])
    }

    pub(crate) fn records(&self) -> impl Iterator<Item = &(usize, Record)> {
        self.records.iter()
    }

    /// The lines for those of the records that are not there yet, sealed one after the other.
    pub(crate) fn lines_for(&self, records: &[Record]) -> Vec<String> {
        let mut link = self.link;
        let mut new = HashSet::new();
        let mut fresh = |r: &&Record| r.id().is_none_or(|id| !self.has(id) && new.insert(id.to_owned()));
        records
            .iter()
            .filter(|r| fresh(r))
            .map(|record| {
                let (sealed, own) = seal::put(&record.line(), link);
                link = own;
                sealed
            })
            .collect()
    }

    /// Takes lines that are stored; gives what is wrong with them.
    pub(crate) fn take(&mut self, lines: &[String]) -> Vec<String> {
        let mut problems = Vec::new();
        let mut again = false;
        for line in lines {
            self.lines += 1;
            self.link = seal::Parts::of(line.as_bytes()).link();
            match read::record(line.as_bytes()) {
                Ok(record) => {
                    self.ids.extend(record.id().map(str::to_owned));
                    again |= !self.add(&record);
                    self.records.push((self.lines, record));
                }
                Err(bad) => problems.push(Problem::new("the log on this phone", self.lines, &bad).to_string()),
            }
        }
        if again {
            self.book = fold::fold(self.records.iter().cloned());
            self.at = self.book.entries.iter().enumerate().map(|(i, e)| (e.line.id.clone(), i)).collect();
        }
        problems
    }

    /// Adds to the book what is plainly added; false where the whole has to be folded again.
    fn add(&mut self, record: &Record) -> bool {
        match record {
            Record::Visit(visit) if !self.book.visits.iter().any(|v| v.id == visit.id) => {
                self.book.visits.push(visit.clone());
                true
            }
            Record::Entry(entry) if !self.at.contains_key(&entry.id) => {
                self.at.insert(entry.id.clone(), self.book.entries.len());
                self.book.entries.push(Kept::new((**entry).clone()));
                true
            }
            Record::Answer(answer) => {
                let entry = self.at.get(&answer.entry).map(|at| &mut self.book.entries[*at]);
                entry.is_some_and(|kept| kept.answer(answer.clone()).is_ok())
            }
            Record::Unknown { .. } => true,
            _ => false,
        }
    }
}
