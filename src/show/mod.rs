//! Lays things out for people: 80 columns, the trade's words, no colour needed.

mod deeds;
mod doubt;
mod entry;
mod lines;
mod why;

pub use doubt::{doubt, help, marked, question};
pub use entry::entry;
pub use lines::{WIDTH, count, list_or, plural};
pub use why::why;

use chrono::NaiveDate;

/// A day as people read it: `thu 9 apr 2026`.
pub fn day(date: NaiveDate) -> String {
    date.format("%a %-d %b %Y").to_string().to_lowercase()
}
