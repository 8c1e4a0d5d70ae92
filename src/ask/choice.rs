//! The choices of a question.

use serde_json::Value;

use crate::anatomy::Foot;
use crate::disorder::Disorder;
use crate::flag::{Flag, FlagKind};
use crate::log::Path;

/// One way to answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// What is typed for it: its number; where the field is a number itself, the value; `-` for "take it out".
    pub key: String,
    /// In the trade's words.
    pub label: String,
    pub value: Value,
}

/// The choices of a question, best first.
///
/// Where the field is a number itself (a zone, a score), the value is its own key, so that `3` can never be
/// taken for "the third".
pub fn choices(flag: &Flag) -> Vec<Choice> {
    let numbers = is_number(&flag.field);
    let mut next = 1;
    flag.options
        .iter()
        .enumerate()
        .map(|(i, value)| {
            let key = match value {
                Value::Null if numbers => "-".to_owned(),
                value if numbers => number(value),
                _ => {
                    next += 1;
                    (next - 1).to_string()
                }
            };
            Choice { key, label: label(flag, value, i == 0), value: value.clone() }
        })
        .collect()
}

/// Whether Enter alone may take the first choice: only where that is the very value that was said.
pub fn enter_is_safe(flag: &Flag) -> bool {
    let said = matches!(flag.kind, FlagKind::ZoneMisfit | FlagKind::MeasureRange);
    said && flag.options.first().is_some_and(|v| !v.is_null())
}

/// Whether the field holds a number or a list of them.
pub(super) fn is_number(field: &str) -> bool {
    let field = field.parse::<Path>().ok().and_then(|p| p.field);
    matches!(field.as_deref(), Some("zones" | "severity" | "value"))
}

fn number(value: &Value) -> String {
    match value {
        Value::Array(list) => list.iter().map(Value::to_string).collect::<Vec<_>>().join(","),
        Value::Number(n) => n.as_f64().map_or_else(|| n.to_string(), |n| n.to_string()),
        value => value.to_string(),
    }
}

fn label(flag: &Flag, value: &Value, first: bool) -> String {
    let field = flag.field.rsplit('.').next().unwrap_or_default();
    let as_said = if first && enter_is_safe(flag) { ", as it was said" } else { "" };
    match value {
        Value::Null if flag.kind == FlagKind::ClearAndLesion => "not clean: it has the lesion".to_owned(),
        Value::Null if field == "cow" => "not known yet".to_owned(),
        Value::Null if field == "lost" => "taken off".to_owned(),
        Value::Bool(_) if field == "lost" => "lost".to_owned(),
        Value::Null if field.starts_with("remarks") => "nothing of note".to_owned(),
        Value::String(text) if field.starts_with("remarks") => format!("a remark: {text}"),
        Value::Null if field.ends_with(']') && first => "nothing".to_owned(),
        Value::Null if field.ends_with(']') => "nothing of the kind".to_owned(),
        Value::Null if matches!(flag.kind, FlagKind::TwoReadings | FlagKind::Misheard) => "not said".to_owned(),
        Value::Null => "take it out".to_owned(),
        Value::Bool(certain) if field == "certain" => if *certain { "certain" } else { "not certain" }.to_owned(),
        Value::Object(_) => crate::show::thing(&flag.field, value),
        Value::String(text) => {
            let words = text_label(text);
            if flag.kind == FlagKind::CowMissing && first && flag.at.is_none() {
                return format!("{words}, the cow before");
            }
            if flag.kind == FlagKind::ClearAndLesion {
                format!("keep both: {words} clean, with the lesion")
            } else {
                words
            }
        }
        Value::Array(feet) if field == "clear" => match feet.len() {
            0 => "none of them clean".to_owned(),
            4 => "all four clean".to_owned(),
            _ => {
                let feet: Vec<&str> =
                    feet.iter().filter_map(Value::as_str).filter_map(Foot::from_code).map(Foot::words).collect();
                format!("{} clean", feet.join(", "))
            }
        },
        Value::Array(list) if field == "zones" => {
            let word = if list.len() > 1 { "zones" } else { "zone" };
            format!("{word} {}{as_said}", list.iter().map(Value::to_string).collect::<Vec<_>>().join(" and "))
        }
        Value::Number(n) if field == "severity" => {
            let words = ["", "mild", "moderate", "severe"];
            n.as_u64().and_then(|n| words.get(usize::try_from(n).ok()?)).map_or(n.to_string(), |w| (*w).to_owned())
        }
        value => format!("{}{as_said}", number(value)),
    }
}

fn text_label(text: &str) -> String {
    if let Some(foot) = Foot::from_code(text) {
        return foot.words().to_owned();
    }
    if let Some(disorder) = Disorder::from_code(text) {
        return format!("{} ({text})", disorder.name());
    }
    text.parse().map_or_else(|_| text.to_owned(), crate::show::day)
}
