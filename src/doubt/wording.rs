//! The words of a question between two readings.

use serde_json::Value;

use crate::anatomy::Foot;
use crate::disorder::Disorder;
use crate::entry::{Act, Entry};
use crate::show;

/// "sole ulcer on the right hind, or nothing?", "claw of the sole ulcer: outer or inner?"
///
/// `entry` is the reading that is asked about; `mine` and `theirs` are what the two say of `field`.
pub(super) fn question(entry: &Entry, field: &str, mine: &Value, theirs: &Value) -> String {
    match parts(field) {
        Some((_, index, Some("lost"))) => {
            let what = index.parse().ok().and_then(|i: usize| entry.actions.get(i)).map_or("it", |a| device(a.what));
            format!("{what} taken off, or lost?")
        }
        Some((_, _, Some("certain"))) => "certain, or not?".to_owned(),
        Some((list, index, Some(inner))) => {
            let inner = if inner == "on" { "day" } else { inner };
            let of = thing(entry, list, index.parse().unwrap_or(usize::MAX));
            format!("{} of {of}: {}?", inner.replace('_', " "), either(field, mine, theirs, "not said"))
        }
        Some((_, _, None)) => format!("{}?", either(field, mine, theirs, "nothing")),
        None if field == "clear" => format!("clean feet: {}?", either(field, mine, theirs, "none")),
        None => format!("{field}: {}?", either(field, mine, theirs, "not said")),
    }
}

/// What a field belongs to: "the sole ulcer", "the block".
fn thing(entry: &Entry, list: &str, index: usize) -> String {
    let name = match list {
        "findings" => entry.findings.get(index).map(|f| f.disorder.map_or("lesion", Disorder::name)),
        "actions" => entry.actions.get(index).map(|a| device(a.what)),
        "scores" => entry.scores.get(index).map(|s| s.scale.words()),
        "measures" => entry.measures.get(index).map(|m| m.what.words()),
        "due" => entry.due.get(index).map(|d| d.what.words()),
        _ => None,
    };
    format!("the {}", name.unwrap_or("record"))
}

/// A deed as a thing.
fn device(what: Act) -> &'static str {
    match what {
        Act::Trim => "trim",
        Act::Pare => "paring",
        Act::Drain => "draining",
        Act::Block | Act::Unblock => "block",
        Act::Wrap | Act::Unwrap => "wrap",
        Act::Topical => "topical treatment",
        Act::Vet => "referral to the vet",
    }
}

fn either(field: &str, mine: &Value, theirs: &Value, nothing: &str) -> String {
    let [a, b] = [mine, theirs].map(|v| in_words(field, v, nothing));
    // Of a thing and nothing, the thing first.
    if mine.is_null() && theirs.is_object() { format!("{b}, or {a}") } else { format!("{a}, or {b}") }
}

/// A value in the trade's words.
fn in_words(field: &str, value: &Value, nothing: &str) -> String {
    let inner = field.rsplit('.').next().unwrap_or_default();
    match value {
        Value::Null => nothing.to_owned(),
        Value::String(s) => text_in_words(s),
        Value::Number(n) if inner == "severity" => {
            let words = ["", "mild", "moderate", "severe"];
            n.as_u64().and_then(|n| words.get(usize::try_from(n).ok()?)).map_or(n.to_string(), |w| (*w).to_owned())
        }
        Value::Array(list) if list.is_empty() => nothing.to_owned(),
        Value::Array(list) => list.iter().map(|v| in_words(field, v, nothing)).collect::<Vec<_>>().join(", "),
        Value::Object(_) => show::thing(field, value),
        other => other.to_string(),
    }
}

fn text_in_words(text: &str) -> String {
    if let Some(foot) = Foot::from_code(text) {
        return foot.words().to_owned();
    }
    let name = Disorder::from_code(text).map(|d| d.name().to_owned());
    name.unwrap_or_else(|| text.parse().map_or_else(|_| text.replace('_', " "), show::day))
}

/// A path of a thing in a list: `findings[0].claw` is `findings`, `0` and `claw`.
pub(super) fn parts(field: &str) -> Option<(&str, &str, Option<&str>)> {
    let (list, rest) = field.split_once('[')?;
    let (index, inner) = rest.split_once(']')?;
    Some((list, index, inner.strip_prefix('.')))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn a_question_names_what_it_is_about() {
        let entry: Entry = serde_json::from_value(json!({
            "findings": [{"foot": "RH", "claw": "outer", "disorder": "SU"}],
            "actions": [{"what": "unblock", "foot": "RH"}],
            "due": [{"what": "recheck", "on": "2026-04-09"}],
        }))
        .unwrap();
        let finding = json!({"foot": "RH", "claw": "outer", "disorder": "SH", "zones": [4], "severity": 2});
        let cases = [
            (
                "findings[1]",
                finding.clone(),
                Value::Null,
                "right hind outer sole haemorrhage, zone 4, moderate, or nothing?",
            ),
            ("findings[1]", Value::Null, finding, "right hind outer sole haemorrhage, zone 4, moderate, or nothing?"),
            ("findings[0].claw", json!("outer"), Value::Null, "claw of the sole ulcer: outer, or not said?"),
            ("findings[0].severity", json!(1), Value::Null, "severity of the sole ulcer: mild, or not said?"),
            ("findings[0].disorder", json!("SU"), json!("TU"), "disorder of the sole ulcer: sole ulcer, or toe ulcer?"),
            ("actions[0].lost", Value::Null, json!(true), "block taken off, or lost?"),
            (
                "due[0].on",
                json!("2026-04-09"),
                json!("2026-04-02"),
                "day of the recheck: thu 9 apr 2026, or thu 2 apr 2026?",
            ),
            ("clear", json!(["LF", "RF"]), json!([]), "clean feet: left front, right front, or none?"),
            ("cow", json!("12"), json!("13"), "cow: 12, or 13?"),
        ];
        for (field, mine, theirs, wanted) in cases {
            assert_eq!(question(&entry, field, &mine, &theirs), wanted, "{field}");
        }
    }
}
