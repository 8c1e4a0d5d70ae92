//! Runs the grammar book: every line of the `say` blocks in `grammar/*.md` must mean what it says it means.
//!
//! The notation is explained in `grammar/README.md`. Every line is read by itself, on the day the book is
//! set on, with the built-in vocabulary.

mod compare;
mod got;
mod pages;
mod wanted;
mod words;

use std::fmt::Write;

use chrono::NaiveDate;
use chutescribe::{Reader, vocab::Vocabulary};

use pages::Line;
use wanted::Wanted;

/// The day of the visit in the whole book, a Thursday.
const VISIT: NaiveDate = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();

/// What a line is for, by its right-hand side.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Purpose {
    Means,
    Nothing,
    Asks,
}

fn purpose(line: &Line) -> Purpose {
    match line.meaning.chars().next() {
        Some('!') => Purpose::Nothing,
        Some('?') => Purpose::Asks,
        _ => Purpose::Means,
    }
}

/// Why the reading is not what the line wants, in words; `None` where it is.
fn trouble(reader: &Reader, line: &Line) -> Option<String> {
    let wanted = match Wanted::parse(&line.meaning, VISIT) {
        Ok(wanted) => wanted,
        Err(why) => return Some(format!("{}: the book itself: {why}\n    said   {}", line.place, line.said)),
    };
    let reading = reader.read(&line.said, VISIT, None);
    let verdict = compare::compare(&wanted, &reading.entries)?;
    let mut told =
        format!("{}: {verdict}\n    said   {}\n    wanted {}\n    got    ", line.place, line.said, line.meaning);
    let shown: Vec<String> = reading.entries.iter().map(got::shown).collect();
    told.push_str(&shown.join(" || "));
    Some(told)
}

#[test]
fn every_line_means_what_the_book_says() {
    let reader = Reader::new(Vocabulary::built_in());
    let lines = pages::all();
    let troubles: Vec<String> = lines.iter().filter_map(|line| trouble(&reader, line)).collect();
    let mut told = String::new();
    for one in &troubles {
        writeln!(told, "{one}\n").unwrap();
    }
    assert!(troubles.is_empty(), "{} of {} lines of the grammar book fail\n\n{told}", troubles.len(), lines.len());
}

#[test]
fn the_book_says_enough() {
    let lines = pages::all();
    let count = |what| lines.iter().filter(|l| purpose(l) == what).count();
    assert!(lines.len() >= 300, "only {} lines", lines.len());
    assert!(count(Purpose::Nothing) >= 60, "only {} lines that mean nothing", count(Purpose::Nothing));
    assert!(count(Purpose::Asks) >= 40, "only {} lines that must be asked about", count(Purpose::Asks));
}

#[test]
fn no_line_stands_twice() {
    let lines = pages::all();
    for (i, line) in lines.iter().enumerate() {
        if let Some(first) = lines[..i].iter().find(|l| l.said == line.said) {
            panic!("{}: `{}` stands already in {}", line.place, line.said, first.place);
        }
    }
}

/// A check of the checker: each kind of failure is told apart, and a right line passes.
#[test]
fn failures_are_told_apart() {
    let reader = Reader::new(Vocabulary::built_in());
    let told = |said: &str, meaning: &str| {
        let line = Line { place: "here:1".into(), said: said.into(), meaning: meaning.into() };
        trouble(&reader, &line).unwrap_or_default()
    };
    let said = "left hind outer sole ulcer zone four";
    assert_eq!(told(said, "LH outer SU z4"), "");
    assert!(told("the weather is fair", "LH outer SU z4").contains("no reading"));
    assert!(told(said, "LH outer SU z4 | block LH inner").contains("half a reading: missing `block LH inner`"));
    assert!(told(said, "LH outer SU").contains("another reading: missing `LH outer SU`; extra `LH outer SU z4`"));
    assert!(told(said, "!").contains("a reading where there is none: extra `LH outer SU z4`"));
    assert!(told("left hind sole ulcer", "LH SU").contains("two readings: asks for `findings[0].claw`"));
    assert!(told(said, "? claw").contains("does not ask for `claw`"));
    assert!(told("sole ulcer", "? claw").contains("asks for `findings[0].foot` too"));
    assert!(told(said, "LH outer ULCER").contains("the book itself"));
}
