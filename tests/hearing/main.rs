//! What a recogniser wrote: understood where it can be, asked about where it cannot.

mod compounds;
mod curve;
mod herd;
mod homophones;
mod order;
mod others;
mod score;
mod several;

use chrono::NaiveDate;
use chutescribe::roster::Roster;

/// The day of the visit in the corpus, a Thursday.
const VISIT: NaiveDate = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();

/// A roster of these tags.
fn herd<'a>(tags: impl IntoIterator<Item = &'a str>) -> Roster {
    Roster::new(tags.into_iter().map(str::to_owned))
}

/// Lines of data, without those that begin with `#`.
fn lines(data: &str) -> impl Iterator<Item = &str> {
    data.lines().filter(|l| !l.starts_with('#') && !l.trim().is_empty())
}
