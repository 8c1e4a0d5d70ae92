//! `chutescribe`: from what a hoof trimmer says at the chute to typed records.
//!
//! The road: [`words`] → [`matches`] → [`grammar`] → [`meaning`] → [`check`]; each stage hands plain values
//! to the next. Everything up to and with [`read`] knows no files, no clock and no threads.
//!
//! Beside it: [`notes`] takes an input apart into notes ([`transcript`] those with times, [`hearing`] those heard
//! more than once), [`learn`] remembers a voice, [`ask`] turns an open question into choices and an
//! answer into a value, [`log`] keeps it all, [`show`] lays it out for people, [`report`] makes of
//! it what is due, a cow's history, the farmer's sheet, the herd and the bill, [`hints`] tells a speech
//! recogniser what it may expect, [`page`] is for the phone.

pub mod anatomy;
pub mod ask;
pub mod check;
pub mod disorder;
pub mod doubt;
pub mod entry;
pub mod flag;
pub mod grammar;
pub mod hearing;
pub mod hints;
pub mod jobs;
pub mod learn;
pub mod log;
pub mod matches;
pub mod meaning;
pub mod notebook;
pub mod notes;
#[cfg(not(target_family = "wasm"))]
pub mod page;
pub mod read;
pub mod report;
pub mod roster;
pub mod show;
pub mod transcript;
pub mod vocab;
pub mod words;

pub use entry::Entry;
pub use read::{Reader, Reading};
