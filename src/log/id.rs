//! Stable ids: the same thing said in the same place has the same id, so a second import adds nothing.
//!
//! An id is the first 16 hex digits of the SHA-256 of the kind and the parts, one a line:
//! `printf 'visit\nJuniper Flat\n2026-03-12\n\n' | sha256sum`. What is absent is an empty line.

use chrono::NaiveDate;
use serde_json::Value;
use sha2::{Digest, Sha256};

use super::record::{Source, Stamp};
use super::seal;

/// Of a visit: farm, date, trimmer.
pub fn visit(farm: Option<&str>, date: NaiveDate, trimmer: Option<&str>) -> String {
    of(&["visit", farm.unwrap_or(""), &date.to_string(), trimmer.unwrap_or("")])
}

/// Of an entry. `cow` is her place among the cows of the note, from 0; `nth` tells which note of that very
/// text it is within its file, from 1.
pub fn entry(visit: &str, file: Option<&str>, said: &str, cow: usize, nth: usize) -> String {
    of(&["entry", visit, file.unwrap_or(""), said, &cow.to_string(), &nth.to_string()])
}

/// Lines of a visit that its file opens again are counted from here on.
const AGAIN: usize = 1_000_000;

/// Of an entry, by what its line says of itself; the counters as of [`entry`].
pub fn entry_of(visit: &str, said: &str, source: Option<&Source>, cow: usize, nth: usize) -> String {
    let file = source.and_then(|s| s.file.as_deref());
    let again = source.and_then(|s| s.opened).map_or(0, |n| n.saturating_sub(1));
    let nth = again.saturating_mul(AGAIN).saturating_add(nth);
    match source.and_then(|s| s.reads.as_deref()) {
        // A corrected line above makes it another one.
        Some(reads) => entry(visit, file, &format!("{said} = {reads}"), cow, nth),
        None => entry(visit, file, said, cow, nth),
    }
}

/// Of an answer. The time is a part of it: to answer again is another answer. `nth` tells which answer of that
/// very content and second it is, from 1.
pub fn answer(entry: &str, field: &str, value: &Value, at: Stamp, nth: usize) -> String {
    of(&["answer", entry, field, &value.to_string(), &at.to_rfc3339(), &nth.to_string()])
}

/// Of a strike; `nth` as of an answer.
pub fn strike(entry: &str, why: &str, at: Stamp, nth: usize) -> String {
    of(&["strike", entry, why, &at.to_rfc3339(), &nth.to_string()])
}

/// Of something due, for calendars: farm, cow, what, place, the visit that it comes from and its day.
pub fn due(parts: [&str; 6]) -> String {
    let [farm, cow, what, place, since, on] = parts;
    of(&["due", farm, cow, what, place, since, on])
}

/// An id as a number, for sets of many: ids are sixteen hex digits; whatever else a line gives as its id is hashed.
pub(crate) fn key(id: &str) -> u64 {
    let digits = || seal::hex(id.as_bytes());
    digits().unwrap_or_else(|| front(Sha256::new().chain_update("id\n").chain_update(id)))
}

/// Ids of the lines of a notebook that are no hoof notes: visit, file, the line, and which line of that very text it is.
#[derive(Debug, Default)]
pub struct Seen {
    visit: String,
    counts: std::collections::HashMap<String, usize>,
}

impl Seen {
    /// The id of the next such line; lines come in the file's order.
    pub fn other(&mut self, visit: Option<&str>, file: &str, said: &str) -> String {
        let visit = visit.unwrap_or("");
        if visit != self.visit {
            visit.clone_into(&mut self.visit);
            self.counts.clear();
        }
        let nth = self.counts.entry(said.to_owned()).or_default();
        *nth += 1;
        of(&["other", visit, file, said, &nth.to_string()])
    }
}

/// The first id, counting from 1, that is not `taken`.
pub(super) fn first_free(id: impl Fn(usize) -> String, taken: impl Fn(&str) -> bool) -> String {
    let mut nth = 1;
    while taken(&id(nth)) {
        nth += 1;
    }
    id(nth)
}

fn of(parts: &[&str]) -> String {
    // One text for all parts: many small pieces take the hash longer than what it does with them.
    let mut text = String::with_capacity(parts.iter().map(|p| p.len() + 1).sum());
    for part in parts {
        if part.contains(['\n', '\r']) {
            text += &part.replace(['\n', '\r'], " ");
        } else {
            text += part;
        }
        text.push('\n');
    }
    format!("{:016x}", front(Sha256::new_with_prefix(text)))
}

fn front(hash: Sha256) -> u64 {
    let hash = hash.finalize();
    let (front, _) = hash.split_first_chunk().expect("a SHA-256 has 32 bytes");
    u64::from_be_bytes(*front)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Reckoned with `printf … | sha256sum`.
    #[test]
    fn an_id_can_be_reckoned_by_other_means() {
        let date = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();
        assert_eq!(visit(Some("Juniper Flat"), date, None), "5ccf7890b7e73f4b");
    }

    #[test]
    fn every_part_of_an_entry_counts() {
        let one = entry("a", Some("f"), "cow 1", 0, 1);
        assert_ne!(one, entry("a", Some("f"), "cow 1", 1, 1));
        assert_ne!(one, entry("a", Some("f"), "cow 1", 0, 2));
        assert_ne!(one, entry("a", Some("g"), "cow 1", 0, 1));
        assert_ne!(one, entry("b", Some("f"), "cow 1", 0, 1));
    }
}
