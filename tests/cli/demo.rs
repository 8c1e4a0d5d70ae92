//! The made-up day of `demo/`, byte for byte. After a change that is meant: `demo/make.sh`.

use crate::case::Case;

const DAY: &str = include_str!("../../demo/day.txt");
const ANSWERS: &str = include_str!("../../demo/answers.txt");
const READING: &str = include_str!("../../demo/reading.txt");
const SETTLED: &str = include_str!("../../demo/settled.txt");
const LOG: &str = include_str!("../../demo/log.jsonl");

const NOTE: [&str; 8] =
    ["note", "--on", "2026-03-12", "--farm", "Juniper Flat", "--trimmer", "Ines Calloway", "day.txt"];

fn day() -> Case {
    Case::new().at("2026-03-12T16:20:00-05:00").with("day.txt", DAY)
}

#[test]
fn reads_as_shown() {
    day().run(&["read", "--on", "2026-03-12", "day.txt"]).code(0).err("").out(READING);
}

#[test]
fn comes_to_its_log_and_settles_to_the_last_question() {
    let case = day();
    case.run(&NOTE).code(0).out_has("kept 22 entries of 20 notes\n");
    case.talk(&["settle"], ANSWERS).code(0).out(SETTLED);
    assert_eq!(case.text("log.jsonl"), LOG);
    case.run(&["settle"]).code(0).out("no question is open\n");
    case.run(&NOTE).code(0).out_has("22 entries were in the log already\n");
    assert_eq!(case.text("log.jsonl"), LOG);
}

/// All that the notes mean once they are settled, in the words of a person who read them: the log in `demo/` could
/// freeze a mistake, this list was written by hand.
#[test]
fn means_what_a_careful_reader_takes_from_it() {
    use chutescribe::log::{fold, read};
    let read = read::read("demo", LOG.as_bytes()).unwrap();
    assert!(read.problems.is_empty());
    let book = fold(read.records);
    assert!(book.misfits.is_empty() && book.entries.iter().all(|e| e.open.is_empty() && e.counts.cow));
    let cows: Vec<&str> = book.entries.iter().map(|e| e.entry.cow.as_deref().unwrap()).collect();
    assert_eq!(
        cows,
        [
            "412", "413", "1062", "77", "83", "305", "518", "640", "118", "791", "21", "22", "23", "930", "56", "208",
            "99", "150", "417", "1342", "703", "64"
        ]
    );
    let found: Vec<String> = book.entries.iter().flat_map(|e| e.entry.findings.iter()).map(short).collect();
    assert_eq!(
        found,
        [
            "RH outer SU",
            "LH outer WL",
            "LH outer SU",
            "LH - DD",
            "LH - IP",
            "RH outer SU",
            "LH outer TU",
            "RH outer BU",
            "LF inner SH",
            "LH outer SU",
            "LH - DD",
            "LH outer SU",
            "RH outer SU",
            "RH outer TN",
            "RH - IH",
            "LH - SW",
            "RH outer WL",
            "LH - SU",
            "RH - DD",
            "LH - TS"
        ]
    );
    let blocks: Vec<String> = book
        .entries
        .iter()
        .flat_map(|e| e.entry.actions.iter().map(move |a| (e.entry.cow.clone().unwrap(), a)))
        .filter(|(_, a)| a.what == chutescribe::entry::Act::Block)
        .map(|(cow, a)| format!("{cow} {} {}", a.foot.unwrap().code(), a.claw.unwrap().words()))
        .collect();
    assert_eq!(
        blocks,
        [
            "412 RH inner",
            "413 LH inner",
            "1062 LH inner",
            "305 RH inner",
            "930 LH inner",
            "930 RH inner",
            "1342 RH inner"
        ]
    );
}

fn short(f: &chutescribe::entry::Finding) -> String {
    let claw = f.claw.map_or("-", chutescribe::anatomy::Claw::words);
    format!("{} {claw} {}", f.foot.unwrap().code(), f.disorder.unwrap().code())
}
