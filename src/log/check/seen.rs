//! Ids that stand twice.

use std::collections::HashMap;
use std::collections::hash_map::Entry;
use std::hash::{DefaultHasher, Hash, Hasher};

use super::{Finding, Kind, Level};
use crate::log::id;
use crate::log::record::Record;

/// Of each id the line, and what it says as a number.
#[derive(Debug, Default)]
pub(super) struct Seen(HashMap<u64, (u32, u32)>);

impl Seen {
    pub(super) fn look(&mut self, line: usize, record: &Record) -> Option<Finding> {
        let id = record.id()?;
        let mut hash = DefaultHasher::new();
        record.line().hash(&mut hash);
        let says = (hash.finish() >> 32) as u32;
        match self.0.entry(id::key(id)) {
            Entry::Vacant(place) => {
                place.insert((line as u32, says));
                None
            }
            Entry::Occupied(place) => {
                let (first, said) = *place.get();
                let (level, told) = if said == says {
                    (Level::Warning, "the same line stands twice; it counts once")
                } else {
                    (Level::Error, "the id stands twice, and the lines differ; the first one counts")
                };
                Some(Finding::new(level, line, Kind::Twice, format!("{told} (first on line {first})")))
            }
        }
    }
}
