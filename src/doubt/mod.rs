//! Doubt carried to the person: where two readings of one note differ, that field is asked.

mod diff;

use serde_json::Value;

use crate::entry::Entry;
use crate::flag::{Flag, FlagKind};
use crate::words::Span;

pub use diff::{Difference, differences};

/// Adds a question for every field in which another reading of the same words differs.
///
/// `entries` is the best reading; fields that are already asked are not asked twice, but gain the option.
pub fn ask(entries: &mut [Entry], other: &[Entry], kind: FlagKind, text: &str, at: Option<Span>) {
    if entries.len() != other.len() {
        if let Some(first) = entries.first_mut() {
            add(first, kind, "cow", vec![Value::from(first.cow.clone())], text, at, Some("how many cows are in this note"));
        }
        return;
    }
    for (mine, theirs) in entries.iter_mut().zip(other) {
        for d in differences(mine, theirs) {
            add(mine, kind, &d.field, vec![d.mine, d.theirs], text, at, None);
        }
    }
}

fn add(entry: &mut Entry, kind: FlagKind, field: &str, options: Vec<Value>, text: &str, at: Option<Span>, what: Option<&str>) {
    if let Some(flag) = entry.flags.iter_mut().find(|f| f.asks() && (f.field == field || field.starts_with(&format!("{}.", f.field)))) {
        for o in options {
            if flag.field == field && !flag.options.contains(&o) {
                flag.options.push(o);
            }
        }
        return;
    }
    let heard = at.map(|s| format!(" (heard `{}`)", s.of(text))).unwrap_or_default();
    let message = match what {
        Some(what) => format!("{what}?{heard}"),
        None => {
            let words: Vec<String> = options.iter().map(in_words).collect();
            format!("{field}: {}?{heard}", words.join(" or "))
        }
    };
    entry.flags.push(Flag::ask(kind, field, message).options(options).at(at));
}

/// An option in the trade's words.
fn in_words(value: &Value) -> String {
    match value {
        Value::Null => "nothing".to_owned(),
        Value::String(s) => s.clone(),
        Value::Array(list) => list.iter().map(in_words).collect::<Vec<_>>().join(", "),
        Value::Object(map) => map.values().map(in_words).collect::<Vec<_>>().join(" "),
        other => other.to_string(),
    }
}
