//! Laws that hold for every note and every entry, tried on random ones.
//!
//! What a law once caught stands as an example of its own in the module of the law.

mod identity;
mod notes;
mod parts;
mod reading;
mod rot;
mod spans;

use std::sync::LazyLock;

use chrono::NaiveDate;
use chutescribe::{Reader, Reading, vocab::Vocabulary};
use proptest::test_runner::Config;

static READER: LazyLock<Reader> = LazyLock::new(|| Reader::new(Vocabulary::built_in()));

const VISIT: NaiveDate = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();

fn read(note: &str) -> Reading {
    READER.read(note, VISIT, None)
}

/// No files are left behind: a failure is told with its smallest example.
fn cases(cases: u32) -> Config {
    Config { cases, failure_persistence: None, ..Config::default() }
}
