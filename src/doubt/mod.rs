//! Doubt carried to the person: where two readings of one note differ, that field is asked.

mod diff;
mod several;

use serde_json::Value;

use crate::anatomy::Foot;
use crate::disorder::Disorder;
use crate::entry::Entry;
use crate::flag::{Flag, FlagKind};
use crate::read::within;
use crate::words::Span;

pub use diff::{Difference, differences};
pub(crate) use several::{Heard, together};

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
            add(first, "cow", vec![cow], "how many cows are in this note?".to_owned(), cause, 0);
        }
        return;
    }
    for (k, (mine, theirs)) in entries.iter_mut().zip(other).enumerate() {
        for d in differences(mine, theirs) {
            let options = vec![d.mine, d.theirs];
            let words: Vec<String> = options.iter().map(in_words).collect();
            let message = format!("{}: {}?", label(&d.field), words.join(" or "));
            add(mine, &d.field, options, message, cause, cause.offsets.get(k).copied().unwrap_or(0));
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
        message = format!("heard `{}`: {message}", span.of(cause.text));
    }
    let at = cause.at.map(|s| [s.start as usize, s.end as usize]);
    let mut flag = Flag::ask(cause.kind, field, message).options(options);
    flag.at = within(at, offset, entry.said.len());
    entry.flags.push(flag);
}

/// A path of a thing in a list: `findings[0].claw` is `findings`, `0` and `claw`.
fn parts(field: &str) -> Option<(&str, &str, Option<&str>)> {
    let (list, rest) = field.split_once('[')?;
    let (index, inner) = rest.split_once(']')?;
    Some((list, index, inner.strip_prefix('.')))
}

/// A field path in words: `findings[0].claw` is "claw of finding 1".
fn label(field: &str) -> String {
    let Some((list, index, inner)) = parts(field) else {
        return if field == "clear" { "clean feet" } else { field }.to_owned();
    };
    let n = index.parse::<usize>().map_or_else(|_| index.to_owned(), |i| (i + 1).to_string());
    let thing = match list {
        "findings" => "finding",
        "actions" => "what was done",
        "clear" => "clean foot",
        "scores" => "score",
        "measures" => "measure",
        other => other,
    };
    match inner {
        Some("on") => format!("day of {thing} {n}"),
        Some(inner) => format!("{} of {thing} {n}", inner.replace('_', " ")),
        None => format!("{thing} {n}"),
    }
}

/// An option in the trade's words.
fn in_words(value: &Value) -> String {
    match value {
        Value::Null => "nothing".to_owned(),
        Value::String(s) => Foot::from_code(s).map_or_else(
            || Disorder::from_code(s).map_or_else(|| s.replace('_', " "), |d| d.name().to_owned()),
            |foot| foot.words().to_owned(),
        ),
        Value::Array(list) if list.is_empty() => "none".to_owned(),
        Value::Array(list) => list.iter().map(in_words).collect::<Vec<_>>().join(", "),
        Value::Object(map) => map.values().map(in_words).collect::<Vec<_>>().join(" "),
        other => other.to_string(),
    }
}
