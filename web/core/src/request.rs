//! What can be asked, and what is answered: `{"ok": …}`, or `{"error": "…"}` in words for the user.

use chrono::NaiveDate;
use chutescribe::log::record::Stamp;
use serde::{Deserialize, Serialize};
use serde_json::json;

use crate::state::State;
use crate::{card, day, herd, keep, look};

/// A text file that the user chose.
#[derive(Debug, Deserialize)]
pub(crate) struct TextFile {
    pub(crate) name: String,
    pub(crate) text: String,
}

/// The visit that notes are of.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct Visit {
    pub(crate) farm: Option<String>,
    pub(crate) trimmer: Option<String>,
    pub(crate) date: NaiveDate,
    pub(crate) at: Stamp,
}

#[derive(Debug, Deserialize)]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
enum Request {
    /// The user's own words (none: the built-in ones alone).
    Words { file: Option<TextFile> },
    /// The herd's tags (none: those seen in the log).
    Herd { file: Option<TextFile> },
    /// Another log, to look cows up in.
    Past { file: Option<TextFile> },
    /// Lines that are in the store now, in its order.
    Took { lines: Vec<String> },
    /// Forgets the log, before it is taken anew.
    Forget {},
    /// What a text would come to.
    Read { text: String, visit: Visit },
    /// The lines that keep a text; they count when `Took` brings them back.
    Keep { text: String, visit: Visit },
    /// The line that answers a question: a choice by its place, or words.
    Answer { entry: String, field: String, choice: Option<usize>, words: Option<String>, at: Stamp },
    /// The lines that take entries (or strikes) back.
    Strike { ids: Vec<String>, why: String, at: Stamp },
    /// The cows of a visit, and what is open in the log.
    Day { visit: Visit },
    /// What is due by a day.
    Due { today: NaiveDate, farm: Option<String> },
    /// One cow's history.
    Cow { cow: String, farm: Option<String>, today: NaiveDate },
    /// How the four feet are drawn.
    Feet {},
    /// Makes the sounds of words ready, a step at a time; tells whether they are.
    Warm {},
}

/// Answers one request, such as `{"due": {"today": "2026-03-12"}}`.
pub(crate) fn answer(state: &mut State, request: &[u8]) -> Vec<u8> {
    let answered = serde_json::from_slice(request)
        .map_err(|e| format!("the page asked what this core does not know: {e}"))
        .and_then(|request| carry_out(state, request));
    match answered {
        Ok(value) => format!("{{\"ok\":{value}}}").into_bytes(),
        Err(why) => json!({ "error": why }).to_string().into_bytes(),
    }
}

/// What is answered, as JSON.
fn carry_out(state: &mut State, request: Request) -> Result<String, String> {
    match request {
        Request::Words { file } => json(&herd::words(state, file)?),
        Request::Herd { file } => json(&herd::herd(state, file)?),
        Request::Past { file } => json(&herd::past(state, file)?),
        Request::Took { lines } => json(&state.log.take(&lines)),
        Request::Forget {} => {
            state.log = crate::ledger::Ledger::default();
            state.changed();
            json(&())
        }
        Request::Read { text, visit } => json(&keep::read(state, &text, &visit)?),
        Request::Keep { text, visit } => json(&keep::keep(state, &text, &visit)?),
        Request::Answer { entry, field, choice, words, at } => {
            json(&keep::answer(state, &entry, &field, choice, words.as_deref(), at)?)
        }
        Request::Strike { ids, why, at } => json(&keep::strike(state, &ids, &why, at)?),
        Request::Day { visit } => json(&day::day(state, &visit)),
        Request::Due { today, farm } => json(&look::due(state, farm, today)),
        Request::Cow { cow, farm, today } => json(&look::cow(state, cow, farm, today)),
        Request::Feet {} => json(&card::feet()),
        Request::Warm {} => json(&state.reader.warm()),
    }
}

fn json(value: &impl Serialize) -> Result<String, String> {
    serde_json::to_string(value).map_err(|e| format!("an answer that cannot be written: {e}"))
}
