//! Eight programs that write into one log, note by note.

use std::collections::HashSet;
use std::io::Write;
use std::thread;

use chutescribe::log::check::{self, Tally};
use chutescribe::log::{Record, read_file};
use tempfile::TempDir;

use crate::note;

const PROGRAMS: usize = 8;
const NOTES: usize = 500;

#[test]
fn eight_programs_of_five_hundred_notes_tear_no_line() {
    let folder = TempDir::new().unwrap();
    let log = folder.path().join("log.jsonl");
    thread::scope(|scope| {
        for program in 0..PROGRAMS {
            let log = &log;
            scope.spawn(move || {
                let notes: Vec<String> = (0..NOTES).map(|n| format!("cow {} clean\n", program * 1000 + n)).collect();
                let notes = notes.concat();
                let mut child = note(log).spawn().unwrap();
                let mut stdin = child.stdin.take().unwrap();
                thread::scope(|scope| {
                    scope.spawn(move || stdin.write_all(notes.as_bytes()).unwrap());
                    let output = child.wait_with_output().unwrap();
                    let out = String::from_utf8(output.stdout).unwrap();
                    assert!(output.status.success() && out.ends_with("kept 500 entries\n"), "{out}");
                });
            });
        }
    });
    let report = check::check(&log, None).unwrap();
    assert_eq!(report.findings, [], "every line is whole, and the chain is");
    assert_eq!(report.tally, Tally { visits: 1, entries: PROGRAMS * NOTES, ..Tally::default() });
    let records = read_file(&log).unwrap().records;
    let cows: HashSet<String> =
        records.into_iter().filter_map(|r| if let Record::Entry(e) = r.1 { e.entry.cow } else { None }).collect();
    assert_eq!(cows.len(), PROGRAMS * NOTES);
}
