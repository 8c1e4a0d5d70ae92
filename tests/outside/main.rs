//! Checks against what others made: number words, disorder codes, dates, string distances, everyday English.
//!
//! Each module names its source. Data from outside stands beside them with the script that made it.

mod dates;
mod disorders;
mod distances;
mod everyday;
mod numbers;
mod shares;

use std::sync::LazyLock;

use chrono::NaiveDate;
use chutescribe::{Entry, Reader, vocab::Vocabulary};

static READER: LazyLock<Reader> = LazyLock::new(|| Reader::new(Vocabulary::built_in()));

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a real date")
}

/// The entry of a note about one cow, said on 12 March 2026.
fn read(note: &str) -> Option<Entry> {
    read_on(note, day(2026, 3, 12))
}

fn read_on(note: &str, visit: NaiveDate) -> Option<Entry> {
    let mut entries = READER.read(note, visit, None).entries;
    if entries.len() == 1 { entries.pop() } else { None }
}

/// Lines of data, without those that begin with `#`.
fn lines(data: &str) -> impl Iterator<Item = &str> {
    data.lines().filter(|l| !l.starts_with('#') && !l.trim().is_empty())
}

/// Fails with the first few troubles and how many there are.
fn none(troubles: &[String], of: usize) {
    let shown = troubles.iter().take(30).map(String::as_str).collect::<Vec<_>>().join("\n  ");
    assert!(troubles.is_empty(), "{} of {of} fail:\n  {shown}", troubles.len());
}
