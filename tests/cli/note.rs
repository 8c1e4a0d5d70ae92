//! `note` with files and pipes.

use crate::case::{Case, clean_cows};

const DAY: &str =
    "cow 5 clean\nright rear outer, ulcer zone four, block inner, wrap\ncow 7, left hind ulcer. cow 8 clean\n";

#[test]
fn appends_the_visit_once_and_every_cow_and_ends_with_a_count() {
    let case = Case::new().with("day.txt", DAY);
    case.run(&["note", "--farm", "Juniper Flat", "--trimmer", "Ines", "day.txt"])
        .code(0)
        .out(
            "kept 4 entries of 3 notes\n2 questions are open on 2 entries; what they concern does not count until it \
             is settled:\n    chutescribe settle\n",
        )
        .err("log: log.jsonl\n");
    let log = case.log();
    let kinds: Vec<_> = log.iter().map(|l| l["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["visit", "entry", "entry", "entry", "entry"]);
    assert_eq!((&log[0]["farm"], &log[0]["trimmer"]), (&"Juniper Flat".into(), &"Ines".into()));
    assert_eq!(log[0]["date"], "2026-03-12", "without --on it is today");
    assert_eq!(log[2]["flags"][0]["options"][0], "5", "the cow of the note before");
    assert_eq!(log[3]["said"], "cow 7, left hind ulcer.");
    assert_eq!(log[4]["source"]["line"], 3);
}

#[test]
fn a_second_import_adds_nothing() {
    let case = Case::new().with("day.txt", DAY);
    case.run(&["note", "day.txt"]).code(0);
    let before = case.text("log.jsonl");
    case.run(&["note", "day.txt"]).code(0).out("kept no entries of 3 notes\n4 entries were in the log already\n");
    assert_eq!(case.text("log.jsonl"), before);
    // Another day, and it is another visit.
    case.run(&["note", "--on", "2026-03-13", "day.txt"]).code(0);
    assert_eq!(case.log().len(), 10);
}

#[test]
fn the_same_text_on_two_lines_is_two_notes() {
    let case = Case::new().with("day.txt", "left hind wart\nleft hind wart\n");
    case.run(&["note", "day.txt"]).code(0).out_has("kept 2 entries");
    case.run(&["note", "day.txt"]).code(0).out_has("kept no entries");
}

#[test]
fn a_line_added_to_a_file_is_the_only_one_added_to_the_log() {
    let case = Case::new().with("day.txt", DAY);
    case.run(&["note", "day.txt"]).code(0);
    let case = case.with("day.txt", format!("# a comment moves the lines\n{DAY}cow 9 clean\n"));
    case.run(&["note", "day.txt"]).code(0).out_has("kept 1 entry of 4 notes");
}

#[test]
fn a_dry_run_prints_what_would_be_written_and_writes_nothing() {
    let case = Case::new().with("day.txt", DAY);
    let dry = case.run(&["note", "--dry-run", "day.txt"]).code(0).err("log: log.jsonl\n");
    assert!(!case.path("log.jsonl").exists());
    case.run(&["note", "day.txt"]).code(0);
    assert_eq!(case.text("log.jsonl"), dry.stdout());
    let case = case.with("more.txt", "cow 5 clean\ncow 90 clean\n");
    let before = case.text("log.jsonl");
    let dry = case.run(&["note", "--dry-run", "day.txt", "more.txt"]).code(0);
    assert_eq!(case.text("log.jsonl"), before);
    case.run(&["note", "day.txt", "more.txt"]).code(0);
    assert_eq!(case.text("log.jsonl"), before + dry.stdout());
}

#[test]
fn a_torn_tail_is_mended_and_nothing_is_deleted() {
    let case = Case::new().with("log.jsonl", "{\"v\":1,\"kind\":\"ent").with("day.txt", "cow 5 clean\n");
    case.run(&["note", "day.txt"]).code(0);
    let log = case.text("log.jsonl");
    assert!(log.starts_with("{\"v\":1,\"kind\":\"ent\n{\"v\":1,\"kind\":\"visit\""), "{log}");
    assert_eq!(log.lines().count(), 3);
}

#[test]
fn folders_above_the_log_are_made() {
    let case = Case::new();
    case.talk(&["note", "--log", "a/b/log.jsonl"], "cow 5 clean").code(0);
    assert_eq!(case.text("a/b/log.jsonl").lines().count(), 2);
}

#[test]
fn a_note_piped_by_itself_knows_the_cow_before_from_the_log() {
    let case = Case::new();
    case.talk(&["note"], "cow 5, left hind wart").code(0);
    case.talk(&["note"], "right hind wart too").code(0);
    assert_eq!(case.log()[2]["flags"][0]["options"][0], "5");
}

#[test]
fn what_is_piped_slowly_is_kept_as_it_comes() {
    use std::io::Write;
    use std::process::{Command, Stdio};
    use std::time::{Duration, Instant};
    let case = Case::new();
    let mut child = Command::new(assert_cmd::cargo::cargo_bin!("chutescribe"))
        .args(["note", "--log"])
        .arg(case.path("log.jsonl"))
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut pipe = child.stdin.take().unwrap();
    pipe.write_all(b"cow 5 clean\n").unwrap();
    let start = Instant::now();
    while case.text("log.jsonl").lines().count() < 2 {
        assert!(start.elapsed() < Duration::from_secs(20), "the first note is not kept while the pipe is open");
        std::thread::sleep(Duration::from_millis(10));
    }
    pipe.write_all(b"cow 6 clean\n").unwrap();
    drop(pipe);
    assert!(child.wait().unwrap().success());
    assert_eq!(case.log().len(), 3);
}

#[test]
fn eight_programs_at_once_tear_no_line() {
    let case = Case::new();
    let day = clean_cows(50);
    std::thread::scope(|scope| {
        for k in 0..8 {
            let (case, day) = (&case, day.clone());
            scope.spawn(move || case.talk(&["note", "--farm", &format!("farm {k}")], day).code(0));
        }
    });
    let log = case.log();
    let entries = log.iter().filter(|l| l["kind"] == "entry").count();
    assert_eq!((entries, log.len()), (400, 408));
}

#[test]
fn the_same_file_from_several_programs_at_once_is_kept_once() {
    let day = clean_cows(50);
    let case = Case::new().with("day.txt", day);
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| case.run(&["note", "day.txt"]).code(0));
        }
    });
    assert_eq!(case.log().len(), 51);
}

/// On systems that keep data where `XDG_DATA_HOME` says.
#[cfg(all(unix, not(target_os = "macos")))]
#[test]
fn the_log_is_in_the_users_data_folder_unless_it_is_named_and_the_program_says_where() {
    let case = Case::new().log_at("");
    let path = case.path("data/chutescribe/log.jsonl");
    case.talk(&["note"], "cow 5 clean\n").code(0).err(&format!("log: {}\n", path.display()));
    assert_eq!(std::fs::read_to_string(path).unwrap().lines().count(), 2);
    case.talk(&["note", "--log", "mine.jsonl"], "cow 5 clean\n").code(0).err("log: mine.jsonl\n");
    let case = case.log_at("other.jsonl");
    case.talk(&["note"], "cow 5 clean\n").code(0).err("log: other.jsonl\n");
}

/// What is said of a cow in the same words in two notes is said twice.
#[test]
fn a_part_of_a_note_that_stands_in_another_too_is_kept_in_both() {
    let notes = "cow 12 clean, cow 13 dd left hind\ncow 12 clean, cow 14 dd left hind\n";
    let case = Case::new().with("day.txt", notes);
    case.run(&["note", "day.txt", "--farm", "Oak Lane"]).out_has("kept 4 entries of 2 notes");
    case.run(&["check"]).code(0).out_has("all is well");
    case.run(&["note", "day.txt", "--farm", "Oak Lane"]).out_has("4 entries were in the log already");
}
