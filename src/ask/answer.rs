//! An answer in a person's words, as a value for the log.

use chrono::NaiveDate;
use serde_json::{Value, json};

use super::choice::{Choice, is_number};
use crate::anatomy::{Foot, Side};
use crate::disorder::Disorder;
use crate::entry::Entry;
use crate::flag::Flag;
use crate::log::Path;
use crate::matches::How;
use crate::read::Reader;
use crate::vocab::Meaning;

/// A value for a field.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Not always the field that was asked: `-` takes out the whole thing the field is of.
    pub field: String,
    pub value: Value,
}

/// What `text` answers to the question: a choice by its key, `-` to take the thing out, or the value in the
/// trade's words. `=` before it says that it is the value, whatever the choices are.
///
/// # Errors
/// Says what would fit.
pub fn parse(
    text: &str,
    flag: &Flag,
    choices: &[Choice],
    reader: &Reader,
    visit: NaiveDate,
    entry: &Entry,
) -> Result<Answer, String> {
    let text = text.trim();
    let path: Path = flag.field.parse()?;
    let here = |value: Value| Answer { field: flag.field.clone(), value };
    if let Some(choice) = choices.iter().find(|c| c.key == text) {
        return Ok(here(choice.value.clone()));
    }
    if text == "-" {
        return match path.thing() {
            _ if choices.iter().any(|c| c.value.is_null()) => Ok(here(Value::Null)),
            Some(thing) => Ok(Answer { field: thing.to_string(), value: Value::Null }),
            None if path.name == "findings" => Ok(here(json!(entry.findings))),
            None => Err(wants(flag, choices)),
        };
    }
    let words = text.strip_prefix('=').map_or(text, str::trim);
    value(words, &path, reader, visit, entry)
        .map(|(field, value)| Answer { field: field.unwrap_or_else(|| flag.field.clone()), value })
        .ok_or_else(|| format!("`{text}` does not fit: {}", wants(flag, choices)))
}

/// The value that the words name for a field of that kind, and the field where it is another one.
fn value(
    words: &str,
    path: &Path,
    reader: &Reader,
    visit: NaiveDate,
    entry: &Entry,
) -> Option<(Option<String>, Value)> {
    let plain = |v: Value| Some((None, v));
    let read = |cue: &str| plainly(&format!("{cue} {words}"), reader, visit);
    match (path.name.as_str(), path.field.as_deref()) {
        ("cow", None) => {
            let written = words.strip_prefix("cow ").unwrap_or(words).trim();
            if written.chars().any(|c| c.is_ascii_digit()) && !written.contains(char::is_whitespace) {
                return plain(json!(written));
            }
            plain(json!(read("cow")?.cow?))
        }
        ("clear", None) if path.index.is_none() => plain(json!([foot(words, reader, visit)?.code()])),
        (_, Some("foot")) | ("clear", None) => plain(json!(foot(words, reader, visit)?.code())),
        (_, Some("claw")) => plain(json!(claw(words, reader, visit)?)),
        (_, Some("disorder")) => {
            let by_code = Disorder::from_code(&words.to_uppercase());
            let by_name = || match meaning(words, reader, visit, |m| matches!(m, Meaning::Disorder(_)))? {
                Meaning::Disorder(d) => Some(d),
                _ => None,
            };
            plain(json!(by_code.or_else(by_name)?.code()))
        }
        (_, Some("zones")) => {
            let zones: Option<Vec<u8>> = words
                .trim_start_matches("zones")
                .trim_start_matches("zone")
                .split([',', ' '])
                .filter(|w| !w.is_empty() && *w != "and")
                .map(|w| w.parse().ok().filter(|z| *z <= crate::anatomy::LAST_ZONE))
                .collect();
            plain(json!(zones.filter(|z| !z.is_empty())?))
        }
        (_, Some("severity")) => plain(json!(words.parse::<u8>().ok().filter(|s| (1..=3).contains(s))?)),
        ("scores", Some("value")) => {
            let scale = entry.scores.get(path.index?)?.scale;
            plain(json!(words.parse::<u64>().ok().filter(|v| scale.range().contains(v))?))
        }
        ("measures", Some("value")) => plain(json!(words.parse::<f64>().ok().filter(|v| v.is_finite() && *v > 0.0)?)),
        ("due", Some("on")) => {
            let date = words.parse::<NaiveDate>().ok();
            plain(json!(date.or_else(|| read("recheck")?.due.first()?.on)?))
        }
        ("remarks", None) => plain(json!(words)),
        // "same" without a like: what it was is one more finding.
        ("findings", None) => {
            let found = plainly(words, reader, visit)?.findings;
            let [one] = found.as_slice() else { return None };
            let at = path.index.unwrap_or(entry.findings.len());
            Some((Some(format!("findings[{at}]")), json!(one)))
        }
        _ => None,
    }
}

/// The one entry that the words make, where each of them is known: an answer is never guessed at.
fn plainly(words: &str, reader: &Reader, visit: NaiveDate) -> Option<Entry> {
    let reading = reader.read(words, visit, None);
    let exact = reading.toks.iter().all(|t| matches!(t.how, How::Exact(_)));
    reading.entries.into_iter().next().filter(|_| exact)
}

/// What the words mean, each by itself; nothing where one of them is not known.
fn meanings(words: &str, reader: &Reader, visit: NaiveDate) -> Vec<Meaning> {
    let toks = reader.read(words, visit, None).toks;
    let exact = toks.iter().all(|t| matches!(t.how, How::Exact(_)));
    toks.iter().filter_map(|t| t.meaning).filter(|_| exact).collect()
}

/// The one such meaning among the words, where no word is anything else of the trade.
fn meaning(words: &str, reader: &Reader, visit: NaiveDate, is: impl Fn(&Meaning) -> bool) -> Option<Meaning> {
    let mut found = meanings(words, reader, visit).into_iter().filter(is);
    let one = found.next()?;
    found.all(|m| m == one).then_some(one)
}

fn foot(words: &str, reader: &Reader, visit: NaiveDate) -> Option<Foot> {
    if let Some(foot) = Foot::from_code(&words.to_uppercase()) {
        return Some(foot);
    }
    let meanings = meanings(words, reader, visit);
    let side: Option<Side> = meanings.iter().find_map(|m| if let Meaning::Side(s) = m { Some(*s) } else { None });
    let end = meanings.iter().find_map(|m| if let Meaning::End(e) = m { Some(*e) } else { None });
    let whole = meanings.iter().find_map(|m| if let Meaning::Foot(f) = m { Some(*f) } else { None });
    whole.or_else(|| Some(Foot::new(side?, end?)))
}

fn claw(words: &str, reader: &Reader, visit: NaiveDate) -> Option<crate::anatomy::Claw> {
    use crate::anatomy::Claw;
    match words.to_lowercase().as_str() {
        "o" | "outer" => return Some(Claw::Outer),
        "i" | "inner" => return Some(Claw::Inner),
        _ => {}
    }
    match meaning(words, reader, visit, |m| matches!(m, Meaning::Claw(_)))? {
        Meaning::Claw(claw) => Some(claw),
        _ => None,
    }
}

/// What a field takes, for messages.
fn wants(flag: &Flag, choices: &[Choice]) -> String {
    let path = flag.field.parse::<Path>().ok();
    let field = path.as_ref().and_then(|p| p.field.as_deref());
    let by_kind = match (path.as_ref().map(|p| p.name.as_str()), field) {
        (Some("cow"), _) => "her number",
        (_, Some("foot")) | (Some("clear"), _) => "a foot, such as `left hind` or `LH`",
        (_, Some("claw")) => "`outer` or `inner`",
        (_, Some("disorder")) => "a lesion, such as `sole ulcer` or `SU`",
        (_, Some("zones")) => "zones from 0 to 12, such as `4` or `4,5`",
        (_, Some("severity")) => "1 mild, 2 moderate or 3 severe",
        (Some("scores"), _) => "a whole number of the scale",
        (Some("measures"), Some("value")) => "a number",
        (_, Some("on")) => "a day, such as `2026-04-09`, `monday` or `in four weeks`",
        (Some("findings"), None) => "what it was, such as `right hind outer sole ulcer`, or `-` for nothing",
        _ => "one of the choices",
    };
    let keys: Vec<String> = choices.iter().map(|c| format!("`{}`", c.key)).collect();
    if keys.is_empty() || is_number(&flag.field) {
        format!("it wants {by_kind}")
    } else {
        format!("it wants {}, or {by_kind}", crate::show::list_or(&keys))
    }
}
