//! Appends whole lines: under a lock, after a mended tail, in one write, synced before success is told.

#[cfg(test)]
mod faults;
mod known;
mod store;

use std::collections::HashSet;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};

use super::record::Record;
use super::{id, seal};
use known::Known;
pub use store::Store;

/// The log could not be written. Nothing of what was to be added counts.
#[derive(Debug, thiserror::Error)]
#[error("the log `{}` cannot be written: {}", path.display(), crate::show::trouble(why))]
pub struct AppendError {
    pub path: PathBuf,
    pub why: io::Error,
}

/// Adds lines to one log, each id once.
#[derive(Debug)]
pub struct Writer {
    path: PathBuf,
    known: Known,
}

impl Writer {
    /// For the log at `path`; does not look at it yet.
    pub fn new(path: &Path) -> Self {
        Self { path: path.to_owned(), known: Known::default() }
    }

    /// Learns what the log holds by now, for [`Self::has`] and [`Self::preview`]. A log that is not there yet is
    /// an empty one.
    ///
    /// # Errors
    /// Where the file is there and cannot be read.
    pub fn look(&mut self) -> Result<(), AppendError> {
        let looked = File::open(&self.path).and_then(|mut file| self.known.catch_up(&mut file));
        match looked {
            Err(why) if why.kind() != io::ErrorKind::NotFound => Err(self.failed(why)),
            Err(_) => Ok(()),
            Ok(torn) => {
                // What a preview shows comes after the torn line.
                if let Some(torn) = torn {
                    self.known.link = torn.link;
                }
                Ok(())
            }
        }
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether the log has that id, as far as it was looked at.
    pub fn has(&self, id: &str) -> bool {
        self.known.has(id)
    }

    /// Appends the records whose ids the log does not have; gives which ones those were.
    ///
    /// Another program may write to the same log: what it added since is looked at first, under the lock.
    ///
    /// # Errors
    /// Where the log cannot be made, locked, read, written or synced, or where one that was there is gone. What
    /// was half written is taken back.
    pub fn append(&mut self, records: &[Record]) -> Result<Vec<bool>, AppendError> {
        let added = store::open(&self.path, self.known.bytes > 0).and_then(|mut file| {
            file.lock()?;
            put(&mut file, &mut self.known, records)
        });
        added.map_err(|why| self.failed(why))
    }

    /// Gives the lines that [`Self::append`] would add, `None` for a record that the log has, and writes nothing.
    /// What was told once counts as added.
    pub fn preview(&mut self, records: &[Record]) -> Vec<Option<String>> {
        let fresh = fresh(&self.known, records);
        let lines = records.iter().zip(fresh).map(|(record, fresh)| fresh.then(|| next(record, &mut self.known.link)));
        let lines = lines.collect();
        self.known.learn(records);
        lines
    }

    fn failed(&self, why: io::Error) -> AppendError {
        AppendError { path: self.path.clone(), why }
    }
}

/// Puts the records that are new at the end of `store`; the lock is held.
fn put(store: &mut impl Store, known: &mut Known, records: &[Record]) -> io::Result<Vec<bool>> {
    let torn = known.catch_up(store)?;
    let fresh = fresh(known, records);
    if !fresh.contains(&true) {
        return Ok(fresh);
    }
    let mut bytes = Vec::new();
    let mut link = known.link;
    if let Some(torn) = torn {
        // What was half written stays; its line just ends here.
        bytes.push(b'\n');
        link = torn.link;
    }
    for (record, _) in records.iter().zip(&fresh).filter(|(_, fresh)| **fresh) {
        bytes.extend_from_slice(next(record, &mut link).as_bytes());
        bytes.push(b'\n');
    }
    let before = store.length()?;
    if let Err(e) = store.write_all(&bytes).and_then(|()| store.sync()) {
        // Our own half-written bytes, still under the lock: no one else's line is touched.
        let _ = store.cut(before).and_then(|()| store.sync());
        return Err(e);
    }
    known.bytes = before + bytes.len() as u64;
    known.link = link;
    known.learn(records);
    Ok(fresh)
}

/// The record's line, sealed; moves the link on.
fn next(record: &Record, link: &mut u64) -> String {
    let (line, own) = seal::put(&record.line(), *link);
    *link = own;
    line
}

/// Which of the records have ids that neither the log nor a record before them has.
fn fresh(known: &Known, records: &[Record]) -> Vec<bool> {
    let mut new = HashSet::new();
    let fresh = |r: &Record| r.id().is_none_or(|id| !known.has(id) && new.insert(id::key(id)));
    records.iter().map(fresh).collect()
}
