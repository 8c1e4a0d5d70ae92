//! What an earlier import of a file left in the log, and what of it does not stand in the file any more.

use std::collections::{HashMap, HashSet};
use std::io;
use std::path::Path;

use crate::log::record::EntryLine;
use crate::log::{fold, id};

/// The entries of a log that came from one file; eight bytes an entry.
#[derive(Debug, Default)]
pub struct Earlier {
    left: HashSet<u64>,
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

impl Earlier {
    /// Looks for entries of the file called `file`, without its folders; those that were struck are left out. A log
    /// that is not there has none.
    ///
    /// # Errors
    /// Where the log cannot be read.
    pub fn of(log: &Path, file: &str) -> io::Result<Self> {
        let mut left = HashSet::new();
        of_file(log, file, |entry| {
            left.insert(id::key(&entry.id));
        })?;
        Ok(Self { left, fresh: HashMap::new() })
    }

    /// The file has this entry. One that the log does not have may be what another became.
    pub fn came(&mut self, entry: &EntryLine) {
        let known = self.left.remove(&id::key(&entry.id));
        if !known && !self.left.is_empty() && self.fresh.len() < FRESH {
            let line = entry.source.as_ref().map_or(0, |s| s.line);
            self.fresh
                .entry((entry.visit.clone(), entry.entry.cow.clone()))
                .or_insert_with(|| (line, entry.entry.said.clone()));
        }
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
        of_file(log, file, |entry| {
            if out.len() < most && self.left.contains(&id::key(&entry.id)) {
                let now = self.fresh.remove(&(entry.visit.clone(), entry.entry.cow.clone()));
                out.push(Gone { entry, now });
            }
        })?;
        Ok(out)
    }
}

fn of_file(log: &Path, file: &str, mut with: impl FnMut(EntryLine)) -> io::Result<()> {
    let done = fold::each(
        log,
        |_| {},
        |_, kept| {
            let here = kept.line.source.as_ref().and_then(|s| s.file.as_deref()) == Some(file);
            if here && kept.struck.is_none() {
                with(kept.line);
            }
        },
    );
    match done {
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(()),
        done => done.map(|_| ()),
    }
}
