//! Lays things out for people: 80 columns, the trade's words, no colour needed.

pub(crate) mod deeds;
mod doubt;
mod entry;
mod history;
pub(crate) mod lines;
mod why;

pub use deeds::{action, due, finding, measure, score, thing};
pub use doubt::{doubt, help, marked, question};
pub use entry::entry;
pub use history::history;
pub use lines::{WIDTH, count, list_or, plural};
pub use why::why;

use chrono::NaiveDate;

/// Why a file could not be used, without numbers of the system: `permission denied`.
pub fn trouble(why: &std::io::Error) -> String {
    let text = why.to_string();
    let text = text.split(" (os error").next().unwrap_or_default();
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |c| c.to_lowercase().chain(letters).collect())
}

/// A day as people read it: `thu 9 apr 2026`.
pub fn day(date: NaiveDate) -> String {
    date.format("%a %-d %b %Y").to_string().to_lowercase()
}
