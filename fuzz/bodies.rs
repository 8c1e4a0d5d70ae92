//! What must hold of any bytes, one function a target; also run on the seeds by `cargo test --test seeds`.

use std::sync::LazyLock;

use chrono::NaiveDate;
use chutescribe::log::{check, fold, read};
use chutescribe::matches::How;
use chutescribe::notes::{LONGEST, Notes};
use chutescribe::transcript::{self, Format};
use chutescribe::{Reader, hearing, vocab::Vocabulary};

static READER: LazyLock<Reader> = LazyLock::new(|| Reader::new(Vocabulary::built_in()));

const VISIT: NaiveDate = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();

/// Notes, one a line: no panic, and what is kept of a note is in it.
pub(crate) fn note(bytes: &[u8]) {
    let mut notes = Notes::new(bytes);
    while let Some((line, note)) = notes.next_note().expect("bytes can be read") {
        let Ok(note) = note else { continue };
        assert_eq!(line, note.line);
        assert!(note.text.len() <= LONGEST);
        let _ = hearing::parse(&note.text);
        let reading = READER.read(&note.text, VISIT, Some("12"));
        for pair in reading.toks.windows(2) {
            let (one, next) = (pair[0].span, pair[1].span);
            // Terms that grew together in a heard word share it.
            let grown = matches!(pair[1].how, How::Near { .. }) && one.start <= next.start;
            assert!(one.end <= next.start || grown, "stretches overlap: {pair:?}");
        }
        for entry in &reading.entries {
            assert!(note.text.contains(&entry.said), "`{}` is no part of the note", entry.said);
            for flag in &entry.flags {
                let at = flag.at.unwrap_or_default();
                assert!(entry.said.get(at[0]..at[1]).is_some(), "{flag:?} is not in `{}`", entry.said);
            }
        }
    }
}

/// A log: no panic, every line is a record or named, and records come back as they were written.
pub(crate) fn log(bytes: &[u8]) {
    let log = read::read("log", bytes).expect("bytes can be read");
    let lines = bytes.split(|b| *b == b'\n').enumerate();
    let blank = |(at, line): &(usize, &[u8])| {
        let line = if *at == 0 { line.strip_prefix("\u{feff}".as_bytes()).unwrap_or(line) } else { line };
        line.trim_ascii().is_empty()
    };
    let lines: Vec<usize> = lines.filter(|l| !blank(l)).map(|l| l.0 + 1).collect();
    let mut told: Vec<usize> = log.records.iter().map(|r| r.0).chain(log.problems.iter().map(|p| p.line)).collect();
    told.sort_unstable();
    assert_eq!(told, lines, "every line is read or named");
    for (line, record) in &log.records {
        let again = read::record(record.line().as_bytes());
        assert_eq!(again.as_ref(), Ok(record), "line {line}");
    }
    let report = check::check_twice(bytes, bytes, Some(VISIT)).expect("bytes can be read");
    let named = |line: usize| report.findings.iter().any(|f| f.line == line);
    assert!(log.problems.iter().all(|p| named(p.line)));
    let _ = fold(log.records);
}

/// A words file: it is laid over the built-in ones, or refused.
pub(crate) fn vocabulary(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes).into_owned();
    match Vocabulary::layered(&[("mine.toml".to_owned(), text)]) {
        Ok(vocabulary) => assert!(vocabulary.forms().len() >= READER.vocabulary().forms().len()),
        Err(why) => assert!(why.to_string().starts_with("mine.toml:"), "where? {why}"),
    }
}

/// A timed transcript, in both formats: what is read has words, and all is named by its line.
pub(crate) fn transcript(bytes: &[u8]) {
    let _ = Format::of("-", bytes);
    let lines = bytes.iter().filter(|b| matches!(b, b'\n' | b'\r')).count() + 1;
    for format in [Format::Vtt, Format::Srt] {
        for (line, note) in transcript::notes(format, bytes) {
            assert!((1..=lines).contains(&line), "line {line} of {lines}");
            if let Ok(note) = note {
                assert!(!note.text.trim().is_empty());
            }
        }
    }
}
