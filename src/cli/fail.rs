//! What stops a command.

use std::io;

use chutescribe::log::{AppendError, Record};

/// Why a command could not go on.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Fail {
    /// In words for the user.
    #[error("{0}")]
    Told(String),
    #[error(transparent)]
    Io(#[from] io::Error),
    #[error(transparent)]
    Log(#[from] AppendError),
}

impl Fail {
    /// The log could not be written: repeats what was not kept, so that it can be said or saved elsewhere.
    pub(crate) fn not_kept(why: &AppendError, records: &[Record]) -> Self {
        let mut text = why.to_string();
        let said: Vec<&str> = records
            .iter()
            .filter_map(|r| if let Record::Entry(e) = r { Some(e.entry.said.as_str()) } else { None })
            .collect();
        if !said.is_empty() {
            text.push_str("\nnot kept:");
        }
        for note in said {
            text.push_str("\n  ");
            text.push_str(note);
        }
        for record in records {
            if let Record::Answer(a) = record {
                text.extend(["\nnot kept: the answer ", &a.value.to_string(), " for `", &a.field, "`"]);
            }
        }
        Self::Told(text)
    }
}
