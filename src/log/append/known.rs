//! What a writer knows of its log: the ids that are in it, and where the next line goes on.

use std::collections::HashSet;
use std::io::{self, BufRead, BufReader, Read, SeekFrom};

use serde::Deserialize;

use super::Store;
use crate::log::record::Record;
use crate::log::{id, seal};

#[derive(Debug, Default)]
pub(super) struct Known {
    /// Keys of ids: a log of a million lines has as many.
    ids: HashSet<u64>,
    /// Bytes of the log that were looked at, all of them whole lines.
    pub(super) bytes: u64,
    /// What the next line is sealed with.
    pub(super) link: u64,
}

/// A last line without its end.
pub(super) struct Torn {
    /// What the line after it is sealed with.
    pub(super) link: u64,
}

#[derive(Deserialize)]
struct Head {
    id: Option<String>,
}

impl Known {
    pub(super) fn has(&self, id: &str) -> bool {
        self.ids.contains(&id::key(id))
    }

    pub(super) fn learn(&mut self, records: &[Record]) {
        self.ids.extend(records.iter().filter_map(Record::id).map(id::key));
    }

    /// Looks at the lines that were added since; gives the last one where it has no end.
    pub(super) fn catch_up(&mut self, store: &mut impl Store) -> io::Result<Option<Torn>> {
        let end = store.length()?;
        if end == self.bytes {
            return Ok(None);
        }
        if end < self.bytes {
            // Somebody made it shorter: start over.
            *self = Self::default();
        }
        store.seek(SeekFrom::Start(self.bytes))?;
        let mut lines = BufReader::with_capacity(64 * 1024, Read::by_ref(store).take(end - self.bytes));
        let mut bytes = Vec::new();
        while lines.read_until(b'\n', &mut bytes)? > 0 {
            let whole = bytes.last() == Some(&b'\n');
            let blank = bytes.trim_ascii().is_empty();
            let link = if blank { self.link } else { seal::Parts::of(&bytes).link() };
            // Also of a line that only lacks its end: it is read, so it must not be written again.
            if let Ok(Head { id: Some(id) }) = serde_json::from_slice(&bytes) {
                self.ids.insert(id::key(&id));
            }
            if !whole {
                return Ok(Some(Torn { link }));
            }
            self.bytes += bytes.len() as u64;
            self.link = link;
            bytes.clear();
        }
        Ok(None)
    }
}
