//! Reads a log, tolerant and loud: a line that cannot be used is named and kept out, every other is read.

use std::borrow::Cow;
use std::fmt;
use std::fs::File;
use std::io::{self, BufRead, BufReader, Read};
use std::path::Path;

use serde::Deserialize;
use serde_json::Value;

use super::record::{Record, VERSION};
use super::seal::{self, Parts};

/// Something about a line that a person should know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Name of the log.
    pub file: String,
    /// From 1.
    pub line: usize,
    pub what: String,
    /// A warning leaves the log as good as it was; anything else is an error.
    pub warning: bool,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let level = if self.warning { "warning" } else { "error" };
        write!(f, "{level}: {}:{}: {}", self.file, self.line, self.what)
    }
}

/// A whole log in memory.
#[derive(Clone, Debug, Default)]
pub struct ReadLog {
    /// With their line numbers, in order.
    pub records: Vec<(usize, Record)>,
    pub problems: Vec<Problem>,
}

/// Reads the log at `path`.
///
/// # Errors
/// Where the file cannot be opened or read; bad lines are no errors but problems.
pub fn read_file(path: &Path) -> io::Result<ReadLog> {
    read(&path.display().to_string(), File::open(path)?)
}

/// Reads lines; `name` is the log's name in problems.
///
/// # Errors
/// Where the input cannot be read.
pub fn read(name: &str, input: impl Read) -> io::Result<ReadLog> {
    let mut log = ReadLog::default();
    let mut lines = Lines::new(input);
    while let Some(line) = lines.next_line()? {
        match line.record() {
            Ok(record) => log.records.push((line.number, record)),
            Err(bad) => log.problems.push(Problem::new(name, line.number, &bad)),
        }
    }
    Ok(log)
}

/// A longer line is none of a log: some two hundred times the longest note.
pub const LONGEST: usize = 16 * 1024 * 1024;

/// The lines of a log, one after the other; empty ones are left out.
#[derive(Debug)]
pub struct Lines<R> {
    input: BufReader<R>,
    number: usize,
    bytes: Vec<u8>,
}

/// One line that is not empty.
#[derive(Clone, Copy, Debug)]
pub struct Line<'a> {
    /// From 1, of the file as it is.
    pub number: usize,
    /// Without its end; of a line that is too long, its start.
    pub bytes: &'a [u8],
    /// Whether it has an end.
    pub whole: bool,
    pub too_long: bool,
}

impl<R: Read> Lines<R> {
    pub fn new(input: R) -> Self {
        Self { input: BufReader::with_capacity(64 * 1024, input), number: 0, bytes: Vec::new() }
    }

    /// The next line; `None` at the end of the input.
    ///
    /// # Errors
    /// Where the input cannot be read on.
    pub fn next_line(&mut self) -> io::Result<Option<Line<'_>>> {
        let (mut whole, mut too_long);
        loop {
            self.bytes.clear();
            let room = LONGEST as u64 + 1;
            if self.input.by_ref().take(room).read_until(b'\n', &mut self.bytes)? == 0 {
                return Ok(None);
            }
            self.number += 1;
            whole = self.bytes.pop_if(|b| *b == b'\n').is_some();
            too_long = self.bytes.len() > LONGEST;
            if too_long {
                self.input.skip_until(b'\n')?;
                whole = true;
            }
            // Some editors put a mark at the start of a file.
            if self.number == 1 && self.bytes.starts_with(MARK) {
                self.bytes.drain(..MARK.len());
            }
            if !self.bytes.trim_ascii().is_empty() {
                break;
            }
        }
        Ok(Some(Line { number: self.number, bytes: &self.bytes, whole, too_long }))
    }
}

pub(super) const MARK: &[u8] = "\u{feff}".as_bytes();

impl Line<'_> {
    /// The line as a record, or why it is none.
    ///
    /// # Errors
    /// As [`record`]; and where it is too long.
    pub fn record(&self) -> Result<Record, BadLine> {
        if self.too_long {
            return Err(BadLine::TooLong);
        }
        record(self.bytes).map_err(|bad| if self.whole { bad } else { BadLine::Unfinished })
    }
}

/// A line that is no record.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BadLine {
    #[error("byte {0} of the line is not UTF-8")]
    NotUtf8(usize),
    /// What is wrong, with the column.
    #[error("no line of a log: {0}")]
    NotRecord(String),
    #[error("no line of a log: longer than {LONGEST} bytes")]
    TooLong,
    #[error("written by a newer version of the program (`v` is {0}, this one knows {VERSION}): update the program")]
    Newer(u64),
    /// The last line, without its end: whoever wrote it was interrupted.
    #[error("the last line is unfinished and was left out")]
    Unfinished,
}

impl BadLine {
    /// A warning leaves the log as good as it was.
    pub fn is_warning(&self) -> bool {
        *self == Self::Unfinished
    }
}

impl Problem {
    pub fn new(file: &str, line: usize, bad: &BadLine) -> Self {
        Self { file: file.to_owned(), line, what: bad.to_string(), warning: bad.is_warning() }
    }
}

/// What of a line is looked at first.
#[derive(Deserialize)]
struct Head {
    v: u64,
    kind: String,
    #[serde(default)]
    id: Value,
}

/// The kind of a line that begins as this program writes it, where it is a known one: it need not be parsed twice.
fn plain_kind(text: &str) -> Option<&'static str> {
    let rest = text.strip_prefix("{\"v\":1,\"kind\":\"")?;
    ["entry", "answer", "strike", "visit"]
        .into_iter()
        .find(|kind| rest.strip_prefix(kind).is_some_and(|rest| rest.starts_with("\",\"")))
}

/// One line as a record, without its seal.
///
/// # Errors
/// Not UTF-8, not JSON, a field missing or of the wrong type, or a higher version.
pub fn record(bytes: &[u8]) -> Result<Record, BadLine> {
    let parts = Parts::of(bytes);
    let unsealed = if parts.seal.is_some() { Cow::Owned(parts.unsealed()) } else { Cow::Borrowed(bytes) };
    let text = std::str::from_utf8(&unsealed).map_err(|e| BadLine::NotUtf8(e.valid_up_to()))?;
    let told = |e: serde_json::Error| BadLine::NotRecord(e.to_string().replace(" at line 1 column", ", at column"));
    let head: Head = match plain_kind(text) {
        Some(kind) => Head { v: VERSION, kind: kind.to_owned(), id: Value::Null },
        None => serde_json::from_str(text).map_err(told)?,
    };
    if head.v > VERSION {
        return Err(BadLine::Newer(head.v));
    }
    let mut record = match head.kind.as_str() {
        "visit" => Record::Visit(serde_json::from_str(text).map_err(told)?),
        "entry" => Record::Entry(serde_json::from_str(text).map_err(told)?),
        "answer" => Record::Answer(serde_json::from_str(text).map_err(told)?),
        "strike" => Record::Strike(serde_json::from_str(text).map_err(told)?),
        _ => {
            let id = head.id.as_str().map(str::to_owned);
            return Ok(Record::Unknown { kind: head.kind, id, raw: text.trim_ascii().to_owned() });
        }
    };
    // A seal that somebody's hand or another program moved: it says nothing of this line any more.
    record.other_mut().map(|other| other.shift_remove(seal::NAME));
    Ok(record)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_text(text: &str) -> ReadLog {
        read("log", text.as_bytes()).unwrap()
    }

    const STRIKE: &str =
        r#"{"v":1,"kind":"strike","id":"s","at":"2026-03-12T09:00:00-05:00","entry":"e","why":"twice"}"#;

    #[test]
    fn a_bad_line_in_the_middle_is_named_and_the_rest_is_read() {
        let log = read_text(&format!("{STRIKE}\n{{\"v\":1,\n{STRIKE}\n"));
        assert_eq!(log.records.iter().map(|r| r.0).collect::<Vec<_>>(), [1, 3]);
        let told = log.problems[0].to_string();
        assert_eq!(told, "error: log:2: no line of a log: EOF while parsing a value, at column 7");
    }

    #[test]
    fn an_unfinished_last_line_is_a_warning() {
        let log = read_text(&format!("{STRIKE}\n{{\"v\":1,\"kind\":\"ent"));
        assert_eq!(log.problems[0].to_string(), "warning: log:2: the last line is unfinished and was left out");
    }

    #[test]
    fn a_higher_version_is_refused_with_what_to_do() {
        let log = read_text("{\"v\":2,\"kind\":\"entry\"}\n");
        assert!(log.problems[0].to_string().ends_with("update the program"), "{}", log.problems[0]);
    }

    #[test]
    fn unknown_kinds_and_fields_come_through_as_they_are() {
        let odd = r#"{"v":1,"kind":"weather","sky":"grey"}"#;
        let more = STRIKE.replace("\"twice\"", "\"twice\",\"mood\":\"fair\"");
        let log = read_text(&format!("{odd}\n{more}\n"));
        let back: Vec<String> = log.records.iter().map(|(_, r)| r.line()).collect();
        assert_eq!(back, [odd.to_owned(), more]);
    }

    #[test]
    fn a_seal_is_no_part_of_a_record_wherever_it_stands() {
        let (sealed, _) = seal::put(STRIKE, 0);
        let moved = STRIKE.replace("\"id\"", "\"seal\": \"0000000000000000-0000000000000000\", \"id\"");
        let (odd, _) = seal::put(r#"{"v":1,"kind":"weather","id":"w"}"#, 0);
        let log = read_text(&format!("{sealed}\r\n{moved}\n{odd}\n"));
        let back: Vec<String> = log.records.iter().map(|(_, r)| r.line()).collect();
        assert_eq!(back, [STRIKE, STRIKE, r#"{"v":1,"kind":"weather","id":"w"}"#]);
        assert_eq!(log.records[2].1.id(), Some("w"));
    }

    #[test]
    fn a_line_too_long_is_named_and_what_follows_is_read() {
        let log = read_text(&format!("{}\n{STRIKE}\n", "x".repeat(LONGEST + 9)));
        assert_eq!(log.problems[0].to_string(), "error: log:1: no line of a log: longer than 16777216 bytes");
        assert_eq!(log.records[0].0, 2);
    }

    #[test]
    fn the_mark_of_an_editor_is_no_part_of_the_first_line() {
        let log = read_text(&format!("\u{feff}{STRIKE}\n"));
        assert_eq!((log.records.len(), log.problems), (1, vec![]));
    }
}
