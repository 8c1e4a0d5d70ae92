//! Reads a log, tolerant and loud: a line that cannot be used is named and kept out, every other is read.

use std::fmt;
use std::fs::File;
use std::io::{self, BufRead, BufReader};
use std::path::Path;

use serde::Deserialize;

use super::record::{Record, VERSION};

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
    read(&path.display().to_string(), BufReader::new(File::open(path)?))
}

/// Reads lines; `name` is the log's name in problems.
///
/// # Errors
/// Where the input cannot be read.
pub fn read(name: &str, mut input: impl BufRead) -> io::Result<ReadLog> {
    let mut log = ReadLog::default();
    let mut bytes = Vec::new();
    for line in 1.. {
        bytes.clear();
        if input.read_until(b'\n', &mut bytes)? == 0 {
            break;
        }
        let whole = bytes.pop_if(|b| *b == b'\n').is_some();
        if bytes.trim_ascii().is_empty() {
            continue;
        }
        match record(&bytes) {
            Ok(record) => log.records.push((line, record)),
            Err(what) => {
                let what = if whole { what } else { "the last line is unfinished and was left out".to_owned() };
                log.problems.push(Problem { file: name.to_owned(), line, what, warning: !whole });
            }
        }
    }
    Ok(log)
}

#[derive(Deserialize)]
struct Head {
    v: u64,
    kind: String,
}

/// One line as a record, or what is wrong with it.
///
/// # Errors
/// Not UTF-8, not JSON, a field missing or of the wrong type, or a higher version.
pub fn record(bytes: &[u8]) -> Result<Record, String> {
    let text = std::str::from_utf8(bytes).map_err(|e| format!("byte {} of the line is not UTF-8", e.valid_up_to()))?;
    let told = |e: serde_json::Error| format!("no line of a log: {e}").replace(" at line 1 column", ", at column");
    let head: Head = serde_json::from_str(text).map_err(told)?;
    if head.v > VERSION {
        return Err(format!(
            "written by a newer version of the program (`v` is {}, this one knows {VERSION}): update the program",
            head.v
        ));
    }
    Ok(match head.kind.as_str() {
        "visit" => Record::Visit(serde_json::from_str(text).map_err(told)?),
        "entry" => Record::Entry(serde_json::from_str(text).map_err(told)?),
        "answer" => Record::Answer(serde_json::from_str(text).map_err(told)?),
        "strike" => Record::Strike(serde_json::from_str(text).map_err(told)?),
        _ => Record::Unknown { kind: head.kind, raw: text.to_owned() },
    })
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
}
