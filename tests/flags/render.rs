//! A flag as text: the words, a mark under the doubtful ones, the message, the options.

use std::fmt::Write;

use chutescribe::flag::{Flag, Level};
use serde_json::Value;

pub(crate) fn render(said: &str, flag: &Flag) -> String {
    let level = match flag.level {
        Level::Ask => "ask",
        Level::Note => "note",
    };
    let mark = flag.at.map(|[from, to]| {
        let (before, under) = (&said[..from], &said[from..to]);
        format!("{}{}", " ".repeat(before.chars().count()), "^".repeat(under.chars().count()))
    });
    let mut out = format!("{said}\n{}\n{level} {}: {}\n", mark.unwrap_or_default(), flag.field, flag.message);
    for (n, option) in flag.options.iter().enumerate() {
        writeln!(out, "  {} {}", n + 1, answer(option)).expect("a string can be written to");
    }
    out
}

fn answer(option: &Value) -> String {
    match option {
        Value::Null => "(take it out)".to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}
