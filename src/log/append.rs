//! Appends whole lines: under a lock, after a mended tail, in one write, synced before success is told.

use std::collections::HashSet;
use std::fs::{self, File, OpenOptions};
use std::io::{self, BufRead, BufReader, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use serde::Deserialize;

use super::record::Record;

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
    seen: HashSet<String>,
    /// Bytes of the log that `seen` knows of.
    known: u64,
}

impl Writer {
    /// For the log at `path`; does not look at it yet.
    pub fn new(path: &Path) -> Self {
        Self { path: path.to_owned(), seen: HashSet::new(), known: 0 }
    }

    /// Learns what the log holds by now, for [`Self::has`] and [`Self::preview`]. A log that is not there yet is
    /// an empty one.
    ///
    /// # Errors
    /// Where the file is there and cannot be read.
    pub fn look(&mut self) -> Result<(), AppendError> {
        match File::open(&self.path).and_then(|mut file| self.catch_up(&mut file)) {
            Err(why) if why.kind() != io::ErrorKind::NotFound => Err(self.failed(why)),
            _ => Ok(()),
        }
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether the log has that id, as far as it was looked at.
    pub fn has(&self, id: &str) -> bool {
        self.seen.contains(id)
    }

    /// Appends the records whose ids the log does not have; gives which ones those were.
    ///
    /// Another program may write to the same log: what it added since is looked at first, under the lock.
    ///
    /// # Errors
    /// Where the log cannot be made, locked, read, written or synced. What was half written is taken back.
    pub fn append(&mut self, records: &[Record]) -> Result<Vec<bool>, AppendError> {
        self.try_append(records).map_err(|why| self.failed(why))
    }

    /// Tells what [`Self::append`] would, and writes nothing. What was told once counts as added.
    pub fn preview(&mut self, records: &[Record]) -> Vec<bool> {
        let added = self.fresh(records);
        self.learn(records);
        added
    }

    fn failed(&self, why: io::Error) -> AppendError {
        AppendError { path: self.path.clone(), why }
    }

    fn try_append(&mut self, records: &[Record]) -> io::Result<Vec<bool>> {
        let mut file = open_or_create(&self.path)?;
        file.lock()?;
        self.catch_up(&mut file)?;
        let mut bytes = Vec::new();
        if !ends_whole(&mut file)? {
            bytes.push(b'\n');
        }
        let torn = bytes.len();
        let added = self.fresh(records);
        for (record, _) in records.iter().zip(&added).filter(|(_, fresh)| **fresh) {
            bytes.extend_from_slice(record.line().as_bytes());
            bytes.push(b'\n');
        }
        if bytes.len() > torn {
            let before = file.metadata()?.len();
            if let Err(e) = file.write_all(&bytes).and_then(|()| file.sync_data()) {
                // Our own half-written bytes, still under the lock: no one else's line is touched.
                let _ = file.set_len(before);
                return Err(e);
            }
            self.known = before + bytes.len() as u64;
            self.learn(records);
        }
        Ok(added)
    }

    /// Which of the records have ids that neither the log nor a record before them has.
    fn fresh(&self, records: &[Record]) -> Vec<bool> {
        let mut new = HashSet::new();
        let fresh = |r: &Record| r.id().is_none_or(|id| !self.seen.contains(id) && new.insert(id.to_owned()));
        records.iter().map(fresh).collect()
    }

    fn learn(&mut self, records: &[Record]) {
        self.seen.extend(records.iter().filter_map(Record::id).map(str::to_owned));
    }

    /// Learns the ids of the lines that were added since.
    fn catch_up(&mut self, file: &mut File) -> io::Result<()> {
        let end = file.metadata()?.len();
        if end == self.known {
            return Ok(());
        }
        if end < self.known {
            // Somebody made it shorter: start over.
            self.known = 0;
            self.seen.clear();
        }
        file.seek(SeekFrom::Start(self.known))?;
        let mut lines = BufReader::new(file.take(end - self.known));
        let mut bytes = Vec::new();
        while lines.read_until(b'\n', &mut bytes)? > 0 {
            if bytes.last() != Some(&b'\n') {
                break;
            }
            self.known += bytes.len() as u64;
            if let Ok(Head { id: Some(id) }) = serde_json::from_slice(&bytes) {
                self.seen.insert(id);
            }
            bytes.clear();
        }
        Ok(())
    }
}

#[derive(Deserialize)]
struct Head {
    id: Option<String>,
}

/// Opens the log; makes it, and the folders above it, where they are missing.
fn open_or_create(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true).append(true);
    match options.open(path) {
        Err(e) if e.kind() == io::ErrorKind::NotFound => {}
        opened => return opened,
    }
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs::create_dir_all(folder)?;
    let file = options.create(true).open(path)?;
    // So that the file's name outlives a loss of power; not every system lets a folder be synced.
    #[cfg(unix)]
    File::open(folder)?.sync_all()?;
    Ok(file)
}

/// Whether the file is empty or its last byte ends a line.
fn ends_whole(file: &mut File) -> io::Result<bool> {
    if file.metadata()?.len() == 0 {
        return Ok(true);
    }
    let mut last = [0];
    file.seek(SeekFrom::End(-1))?;
    file.read_exact(&mut last)?;
    Ok(last == *b"\n")
}
