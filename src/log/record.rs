//! The kinds of lines a log has. Field names and their order are the log's contract.

use chrono::{DateTime, FixedOffset, NaiveDate};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::id;
use crate::entry::Entry;

/// The version of the layout that this program writes, and the highest it reads.
pub const VERSION: u64 = 1;

/// When a line was written: RFC 3339, whole seconds, with the offset of the place.
pub type Stamp = DateTime<FixedOffset>;

/// One line of a log.
#[derive(Clone, Debug, PartialEq)]
pub enum Record {
    Visit(VisitLine),
    /// Boxed: it is some ten times the size of the others.
    Entry(Box<EntryLine>),
    Answer(AnswerLine),
    Strike(StrikeLine),
    /// A kind that this version does not know: kept as it is.
    Unknown {
        kind: String,
        id: Option<String>,
        /// The line, without its end and its seal.
        raw: String,
    },
}

/// The kind of a line that keeps what a notebook has besides hoof notes: no record, and known.
pub const OTHER: &str = "other";

/// The first two fields of every line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum LineKind {
    Visit,
    Entry,
    Answer,
    Strike,
}

/// A day at a farm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct VisitLine {
    pub v: u64,
    pub kind: LineKind,
    pub id: String,
    pub at: Stamp,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub farm: Option<String>,
    pub date: NaiveDate,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trimmer: Option<String>,
    #[serde(flatten, default, skip_serializing_if = "Map::is_empty")]
    pub other: Map<String, Value>,
}

impl VisitLine {
    pub fn new(farm: Option<&str>, date: NaiveDate, trimmer: Option<&str>, at: Stamp) -> Self {
        Self {
            v: VERSION,
            kind: LineKind::Visit,
            id: id::visit(farm, date, trimmer),
            at,
            farm: farm.map(str::to_owned),
            date,
            trimmer: trimmer.map(str::to_owned),
            other: Map::new(),
        }
    }
}

/// One cow at one visit, as it was understood when it was said.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct EntryLine {
    pub v: u64,
    pub kind: LineKind,
    pub id: String,
    pub at: Stamp,
    /// Id of the visit.
    pub visit: String,
    #[serde(flatten)]
    pub entry: Entry,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<Source>,
}

impl EntryLine {
    /// The line, without its end; as [`Record::line`].
    pub fn line(&self) -> String {
        json(self)
    }
}

/// Where a note came from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Source {
    /// Name of the file without its folders, `-` for standard input; absent for a note typed at the terminal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// From 1; of a typed note, its number within the visit.
    pub line: usize,
    /// In a timed transcript, from the start of the recording: `00:01:07.200`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
    /// What an old notebook's line comes to with its ditto marks filled in from the line above.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reads: Option<String>,
    /// Which time it is that the file opens this visit, where it is not the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened: Option<usize>,
}

impl Source {
    /// A line of a file, or of standard input (`-`).
    pub fn line(file: Option<String>, line: usize) -> Self {
        Self { file, line, time: None, reads: None, opened: None }
    }
}

/// What a person answered to a question about an entry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct AnswerLine {
    pub v: u64,
    pub kind: LineKind,
    pub id: String,
    pub at: Stamp,
    /// Id of the entry.
    pub entry: String,
    /// Path of the field, counted as in the entry's own line: `findings[0].claw`.
    pub field: String,
    /// What the field is; `null` takes it out.
    pub value: Value,
    #[serde(flatten, default, skip_serializing_if = "Map::is_empty")]
    pub other: Map<String, Value>,
}

impl AnswerLine {
    /// `taken` tells whether the log has an id.
    pub fn new(entry: &str, field: &str, value: Value, at: Stamp, taken: impl Fn(&str) -> bool) -> Self {
        let id = id::first_free(|nth| id::answer(entry, field, &value, at, nth), taken);
        let (entry, field) = (entry.to_owned(), field.to_owned());
        Self { v: VERSION, kind: LineKind::Answer, id, at, entry, field, value, other: Map::new() }
    }
}

/// An entry taken back; a strike of a strike brings it back again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct StrikeLine {
    pub v: u64,
    pub kind: LineKind,
    pub id: String,
    pub at: Stamp,
    /// Id of the entry, or of the strike that is taken back.
    pub entry: String,
    pub why: String,
    #[serde(flatten, default, skip_serializing_if = "Map::is_empty")]
    pub other: Map<String, Value>,
}

impl StrikeLine {
    /// `taken` tells whether the log has an id.
    pub fn new(entry: &str, why: &str, at: Stamp, taken: impl Fn(&str) -> bool) -> Self {
        let id = id::first_free(|nth| id::strike(entry, why, at, nth), taken);
        let (entry, why) = (entry.to_owned(), why.to_owned());
        Self { v: VERSION, kind: LineKind::Strike, id, at, entry, why, other: Map::new() }
    }
}

impl Record {
    /// The id, where the line has one.
    pub fn id(&self) -> Option<&str> {
        match self {
            Self::Visit(v) => Some(&v.id),
            Self::Entry(e) => Some(&e.id),
            Self::Answer(a) => Some(&a.id),
            Self::Strike(s) => Some(&s.id),
            Self::Unknown { id, .. } => id.as_deref(),
        }
    }

    /// Fields that this version does not know; none of a kind that it does not know either.
    pub(super) fn other_mut(&mut self) -> Option<&mut Map<String, Value>> {
        match self {
            Self::Visit(v) => Some(&mut v.other),
            Self::Entry(e) => Some(&mut e.entry.other),
            Self::Answer(a) => Some(&mut a.other),
            Self::Strike(s) => Some(&mut s.other),
            Self::Unknown { .. } => None,
        }
    }

    /// The line, without its end.
    ///
    /// # Panics
    /// Never: strings, numbers, lists and maps with text keys always have a JSON form.
    pub fn line(&self) -> String {
        match self {
            Self::Visit(v) => json(v),
            Self::Entry(e) => json(&**e),
            Self::Answer(a) => json(a),
            Self::Strike(s) => json(s),
            Self::Unknown { raw, .. } => raw.clone(),
        }
    }
}

/// Bytes of a long line: made room for at once, a line need not move while it is written.
const LONG: usize = 768;

fn json(line: &impl Serialize) -> String {
    let mut json = Vec::with_capacity(LONG);
    serde_json::to_writer(&mut json, line).expect("a record has a JSON form");
    String::from_utf8(json).expect("JSON is UTF-8")
}
