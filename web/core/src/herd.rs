//! What the user brings along: words of their own, the herd's tags, a log of earlier visits.

use chutescribe::log::{Record, read};
use chutescribe::roster::Roster;
use chutescribe::vocab::Vocabulary;
use serde_json::{Value, json};

use crate::request::TextFile;
use crate::state::State;

/// Lays the user's words over the built-in ones.
pub(crate) fn words(state: &mut State, file: Option<TextFile>) -> Result<Value, String> {
    let over: Vec<(String, String)> = file.into_iter().map(|f| (f.name, f.text)).collect();
    let vocab = Vocabulary::layered(&over).map_err(|e| e.to_string())?;
    state.reader.set_vocabulary(vocab);
    state.changed();
    Ok(Value::Null)
}

/// Takes the herd's tags; lines that are none are told and left out.
pub(crate) fn herd(state: &mut State, file: Option<TextFile>) -> Result<Value, String> {
    let Some(file) = file else {
        state.herd = None;
        state.changed();
        return Ok(json!({ "tags": 0, "problems": [] }));
    };
    let (roster, errors) = Roster::read(&file.name, &file.text);
    let problems: Vec<String> = errors.iter().map(ToString::to_string).collect();
    if roster.is_empty() {
        return Err(problems.join("\n"));
    }
    let tags = roster.len();
    state.herd = Some(roster);
    state.changed();
    Ok(json!({ "tags": tags, "problems": problems }))
}

/// Opens another log to look cows up in; nothing of it is added to this one.
pub(crate) fn past(state: &mut State, file: Option<TextFile>) -> Result<Value, String> {
    let Some(file) = file else {
        state.past.clear();
        state.changed();
        return Ok(json!({ "entries": 0, "problems": [] }));
    };
    let log = read::read(&file.name, file.text.as_bytes()).map_err(|e| e.to_string())?;
    let entries = log.records.iter().filter(|(_, r)| matches!(r, Record::Entry(_))).count();
    let problems: Vec<String> = log.problems.iter().take(PROBLEMS).map(ToString::to_string).collect();
    if entries == 0 {
        let more = problems.first().map_or(String::new(), |p| format!(" ({p})"));
        return Err(format!("`{}` has no entry of a log{more}", file.name));
    }
    state.past = log.records;
    state.changed();
    Ok(json!({ "entries": entries, "problems": problems, "bad": log.problems.len() }))
}

/// So many bad lines are named.
const PROBLEMS: usize = 5;
