//! Doubt carried to the person: where two readings of one note differ, that field is asked.

mod aside;
mod diff;
mod several;
mod wording;

use serde_json::Value;

use crate::entry::Entry;
use crate::flag::{Flag, FlagKind};
use crate::read::within;
use crate::words::Span;

pub use diff::{Difference, differences};
pub(crate) use several::{Heard, Judge, together};

/// Why two readings are compared, and where in the note they part.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cause<'a> {
    pub(crate) kind: FlagKind,
    pub(crate) text: &'a str,
    /// The doubtful words, in the whole note.
    pub(crate) at: Option<Span>,
    /// Where in the note each entry's own part begins.
    pub(crate) offsets: &'a [usize],
}

/// Adds a question for every field in which another reading of the same words differs.
///
/// `entries` is the best reading; fields that are already asked are not asked twice, but gain the option.
pub(crate) fn ask(entries: &mut [Entry], other: &[Entry], cause: Cause) {
    if entries.len() != other.len() {
        if let Some(first) = entries.first_mut() {
            let cow = Value::from(first.cow.clone());
            // What is said begins behind the white space of a note.
            let offset = cause.offsets.first().copied().unwrap_or(0);
            add(first, "cow", vec![cow], "how many cows are in this note?".to_owned(), cause, offset);
        }
        return;
    }
    for (k, (mine, theirs)) in entries.iter_mut().zip(other).enumerate() {
        for d in differences(mine, theirs) {
            let message = wording::question(mine, &d.field, &d.mine, &d.theirs);
            add(mine, &d.field, vec![d.mine, d.theirs], message, cause, cause.offsets.get(k).copied().unwrap_or(0));
        }
    }
}

fn add(entry: &mut Entry, field: &str, options: Vec<Value>, mut message: String, cause: Cause, offset: usize) {
    let covers =
        |f: &Flag| f.asks() && (f.field == field || field.strip_prefix(&f.field).is_some_and(|r| r.starts_with('.')));
    if let Some(flag) = entry.flags.iter_mut().find(|f| covers(f)) {
        if flag.field == field {
            for o in options {
                if !flag.options.contains(&o) {
                    flag.options.push(o);
                }
            }
        }
        return;
    }
    if let Some(span) = cause.at {
        let heard = if cause.kind == FlagKind::Misheard { "heard " } else { "" };
        message = format!("{heard}`{}`: {message}", span.of(cause.text));
    }
    let at = cause.at.map(|s| [s.start as usize, s.end as usize]);
    let mut flag = Flag::ask(cause.kind, field, message).options(options);
    flag.at = within(at, offset, entry.said.len());
    entry.flags.push(flag);
}
