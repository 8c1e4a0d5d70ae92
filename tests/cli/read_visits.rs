//! `read --json --visits`: an archive through a pipe.

use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::case::Case;

const ARCHIVE: &str = "\
2019-04-03\tJuniper Flat\tcow 12 clean
2019-04-03\tJuniper Flat\t14 LH out SU z4 blk, recheck in four weeks
2019-04-03\tOak Lane\tleft hind digital dermatitis
2019-04-04\t\t12\tclean
";

fn lines(text: &str) -> Vec<Value> {
    text.lines().map(|l| serde_json::from_str(l).unwrap()).collect()
}

#[test]
fn what_comes_out_is_a_log_of_all_visits() {
    let case = Case::new().at("2026-03-12T09:41:07-05:00");
    let read = case.talk(&["read", "--json", "--visits", "--trimmer", "Ines Calloway"], ARCHIVE).code(0).err("");
    let log = lines(read.stdout());
    let kinds: Vec<&str> = log.iter().map(|l| l["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["visit", "entry", "entry", "visit", "entry", "visit", "entry"]);
    assert_eq!((&log[3]["farm"], &log[3]["trimmer"]), (&"Oak Lane".into(), &"Ines Calloway".into()));
    assert_eq!(log[5].get("farm"), None);
    for (entry, visit, line) in [(1, 0, 1), (2, 0, 2), (4, 3, 3), (6, 5, 4)] {
        assert_eq!((&log[entry]["visit"], &log[entry]["source"]["line"]), (&log[visit]["id"], &line.into()));
    }
    // Counted from the visit, not from today.
    assert_eq!(log[2]["due"][0]["on"], "2019-05-01");
    // The cow before is one of the same visit.
    assert_eq!(log[4]["flags"][0]["kind"], "cow_missing");
    assert_eq!(log[4]["flags"][0].get("options"), None);

    let case = case.with("archive.jsonl", read.stdout());
    case.run(&["check", "--log", "archive.jsonl"]).code(0);
    case.run(&["herd", "--log", "archive.jsonl"]).code(0).out_has("the herd at Juniper Flat\n2 cows seen");
}

#[test]
fn each_visit_is_read_as_by_itself() {
    let case = Case::new();
    let whole = case.talk(&["read", "--json", "--visits"], ARCHIVE).code(0);
    let notes = "cow 12 clean\n14 LH out SU z4 blk, recheck in four weeks\n";
    let alone = case.talk(&["read", "--json", "--on", "2019-04-03", "--farm", "Juniper Flat"], notes).code(0);
    let first: Vec<&str> = whole.stdout().lines().skip(1).take(2).collect();
    assert_eq!(first, alone.stdout().lines().collect::<Vec<_>>());
}

#[test]
fn any_number_of_threads_gives_the_same_log() {
    let case = Case::new().at("2026-03-12T09:41:07-05:00");
    // "left hind" has no cow of its own: the one of the note before is offered, across what a thread reads at a time.
    let notes = ["cow 12 clean", "left hind digital dermatitis", "cow 14 left hind ulsr zone four, block inner"];
    let day = |n: usize| format!("2019-04-{:02}\tFarm {}\t{}\n", 1 + n / 300, n / 100 % 3, notes[n % 3]);
    let archive: String = (0..1500).map(day).collect();
    let case = case.with("archive.tsv", &archive);
    let read = |jobs: &str| case.run(&["read", "--json", "--visits", "--jobs", jobs, "archive.tsv"]).code(0);
    let one = read("1");
    assert!(one.stdout().lines().count() > 1500);
    for jobs in ["2", "5"] {
        assert!(read(jobs).stdout() == one.stdout(), "{jobs} threads");
    }
}

#[test]
fn lines_that_cannot_be_used_are_named_and_the_others_are_read() {
    let archive = "\
2019-04-03\tOak Lane\tcow 1 clean
2019-04-03 Oak Lane cow 2 clean
3/4/19\tOak Lane\tcow 3 clean

2019-04-02\tOak Lane\tcow 4 clean
2019-04-03\tOak Lane\t...
2019-04-03\tOak Lane\tcow 5 clean
";
    let read = Case::new().talk(&["read", "--json", "--visits"], archive).code(1).err(
        "\
error: standard input:2: a line is a day, a tab, a farm, a tab and the note: `2019-04-03 Oak Lane cow 2 clean`
error: standard input:3: `3/4/19` is no day; write it as 2026-03-12 (year, month, day): `3/4/19\tOak Lane\tcow 3 clean`
error: standard input:5: 2019-04-02 at `Oak Lane` comes too late: sort the lines by day and farm: \
         `2019-04-02\tOak Lane\tcow 4 clean`
error: standard input:6: there is no word in `...`
",
    );
    let log = lines(read.stdout());
    let cows: Vec<&str> = log.iter().filter_map(|l| l["cow"].as_str()).collect();
    assert_eq!((cows, log.len()), (vec!["1", "5"], 3));
}

/// A filter that waited for the end of its input would stop a pipe that answers line by line.
#[test]
fn a_line_is_answered_before_the_next_one_comes() {
    let mut filter = Command::new(env!("CARGO_BIN_EXE_chutescribe"))
        .args(["read", "--json", "--visits"])
        .env("XDG_DATA_HOME", Case::new().path("data"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut to = filter.stdin.take().unwrap();
    let mut from = BufReader::new(filter.stdout.take().unwrap()).lines();
    for (line, wanted) in [("cow 1 clean", vec!["visit", "entry"]), ("cow 2 clean", vec!["entry"])] {
        writeln!(to, "2019-04-03\tOak Lane\t{line}").unwrap();
        for kind in wanted {
            assert_eq!(lines(&from.next().unwrap().unwrap())[0]["kind"], kind);
        }
    }
    drop(to);
    assert!(from.next().is_none());
    assert!(filter.wait().unwrap().success());
}
