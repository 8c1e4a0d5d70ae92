//! `chutescribe`: from what a hoof trimmer says at the chute to typed records.
//!
//! The road: [`words`] → [`matches`] → [`grammar`] → [`meaning`] → [`check`]; each stage hands plain values
//! to the next. Everything up to and with [`read`] knows no files, no clock and no threads.

pub mod anatomy;
pub mod check;
pub mod disorder;
pub mod doubt;
pub mod entry;
pub mod flag;
pub mod grammar;
pub mod matches;
pub mod meaning;
pub mod read;
pub mod roster;
pub mod vocab;
pub mod words;

pub use entry::Entry;
pub use read::{Reader, Reading};
