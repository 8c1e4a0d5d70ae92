//! What an earlier import of a file left in the log, and what of it does not stand in the file any more.

use std::collections::HashMap;
use std::io;
use std::num::NonZeroU64;
use std::path::Path;

use crate::entry::Entry;
use crate::log::record::EntryLine;
use crate::log::{Kept, fold, id};

/// The entries of a log that came from one file; sixteen bytes an entry.
#[derive(Debug, Default)]
pub struct Earlier {
    /// Of each entry, what it was understood as; none where a person answered to it.
    left: HashMap<u64, Option<NonZeroU64>>,
    /// Lines that are understood as something else than in the log, and how many there are.
    otherwise: (usize, Vec<usize>),
    /// New ones by visit and cow, to name what an old one became.
    fresh: HashMap<(String, Option<String>), (usize, String)>,
}

/// An entry of the log that the file does not have any more.
#[derive(Clone, Debug, PartialEq)]
pub struct Gone {
    pub entry: EntryLine,
    /// The line that the cow has at that visit now, where there is a new one.
    pub now: Option<(usize, String)>,
}

/// How many new entries are remembered.
const FRESH: usize = 10_000;
/// How many lines are named.
const SHOWN: usize = 8;

impl Earlier {
    /// Looks for entries of the file called `file`, without its folders; those that were struck are left out. A log
    /// that is not there has none.
    ///
    /// # Errors
    /// Where the log cannot be read.
    pub fn of(log: &Path, file: &str) -> io::Result<Self> {
        let mut left = HashMap::new();
        of_file(log, file, |kept| {
            let read = if kept.answers.is_empty() { read_as(&kept.line.entry) } else { None };
            left.insert(id::key(&kept.line.id), read);
        })?;
        Ok(Self { left, ..Self::default() })
    }

    /// The file has this entry. One that the log does not have may be what another became.
    pub fn came(&mut self, entry: &EntryLine) {
        let line = entry.source.as_ref().map_or(0, |s| s.line);
        if let Some(read) = self.left.remove(&id::key(&entry.id)) {
            if read.is_some() && read != read_as(&entry.entry) {
                self.otherwise.0 += 1;
                if self.otherwise.1.len() < SHOWN {
                    self.otherwise.1.push(line);
                }
            }
        } else if !self.left.is_empty() && self.fresh.len() < FRESH {
            self.fresh
                .entry((entry.visit.clone(), entry.entry.cow.clone()))
                .or_insert_with(|| (line, entry.entry.said.clone()));
        }
    }

    /// How many entries came by that the log understands otherwise, and the first of their lines.
    pub fn otherwise(&self) -> (usize, &[usize]) {
        (self.otherwise.0, &self.otherwise.1)
    }

    /// How many entries did not come by.
    pub fn left(&self) -> usize {
        self.left.len()
    }

    /// The entries that did not come by, in the log's order, at most so many.
    ///
    /// # Errors
    /// Where the log cannot be read.
    pub fn gone(mut self, log: &Path, file: &str, most: usize) -> io::Result<Vec<Gone>> {
        let mut out = Vec::new();
        if self.left.is_empty() {
            return Ok(out);
        }
        of_file(log, file, |kept| {
            let entry = kept.line;
            if out.len() < most && self.left.contains_key(&id::key(&entry.id)) {
                let now = self.fresh.remove(&(entry.visit.clone(), entry.entry.cow.clone()));
                out.push(Gone { entry, now });
            }
        })?;
        Ok(out)
    }
}

/// What an entry means and asks, as a number.
fn read_as(entry: &Entry) -> Option<NonZeroU64> {
    use std::hash::{Hash, Hasher};
    let mut hasher = rustc_hash::FxHasher::default();
    serde_json::to_string(entry).ok()?.hash(&mut hasher);
    NonZeroU64::new(hasher.finish())
}

fn of_file(log: &Path, file: &str, mut with: impl FnMut(Kept)) -> io::Result<()> {
    let done = fold::each(
        log,
        |_| {},
        |_, kept| {
            let here = kept.line.source.as_ref().and_then(|s| s.file.as_deref()) == Some(file);
            if here && kept.struck.is_none() {
                with(kept);
            }
        },
    );
    match done {
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(()),
        done => done.map(|_| ()),
    }
}
