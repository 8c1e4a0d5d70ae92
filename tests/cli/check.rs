//! `check`. What it finds has its samples in `src/log/check/tests.rs`; here is how it is told.

use crate::case::Case;

fn two_cows() -> Case {
    let case = Case::new().with("day.txt", "cow 7 clean\ncow 8, left hind ulcer\n");
    case.run(&["note", "--farm", "Juniper Flat", "day.txt"]).code(0);
    case
}

const HOLDS: &str = "1 visit, 2 entries, no answers, no strikes, 1 open question: ";

#[test]
fn a_sound_log() {
    let case = two_cows();
    case.run(&["check"]).code(0).err("log: log.jsonl\n").out(&format!("{HOLDS}all is well\n"));
    case.run(&["check", "--strict", "--json"]).code(0).out("");
    let demo = Case::new().with("log.jsonl", include_str!("../../demo/log.jsonl"));
    demo.run(&["check", "--strict"])
        .code(0)
        .out("1 visit, 22 entries, 12 answers, no strikes, no open questions: all is well\n");
}

#[test]
fn a_line_changed_by_hand_is_named_and_read_as_it_stands() {
    let case = two_cows();
    let text = case.text("log.jsonl").replace("\"cow\":\"7\"", "\"cow\":\"77\"");
    let case = case.with("log.jsonl", &text);
    case.run(&["check"]).code(1).out(&format!(
        "error: log.jsonl:2: changed after it was written: its seal does not fit; it is read as it stands\n\
         {HOLDS}1 error\n"
    ));
    let json = "{\"level\":\"error\",\"line\":2,\"kind\":\"changed\",\"message\":\"changed after it was written: \
                its seal does not fit; it is read as it stands\"}\n";
    case.run(&["check", "--json"]).code(1).out(json);
    case.run(&["strike", "last", "--why", "x"]).code(0);
    case.run(&["strike", "last", "--why", "x"]).code(0).out_has("cow 77 ");
    let log = case.text("log.jsonl");
    assert!(log.starts_with(&text), "nothing is rewritten");
    case.run(&["check"]).code(1).out_has("no open questions: 1 error\n");
}

#[test]
fn a_lost_line_is_noticed() {
    let case = two_cows();
    let lines: Vec<String> = case.text("log.jsonl").lines().map(str::to_owned).collect();
    let case = case.with("log.jsonl", format!("{}\n{}\n", lines[0], lines[2]));
    case.run(&["check"]).code(1).out(
        "error: log.jsonl:2: the line that it was written after is gone, or was changed and sealed anew: something is \
         missing between lines 1 and 2\n\
         1 visit, 1 entry, no answers, no strikes, 1 open question: 1 error\n",
    );
}

/// A log of an older program, or one that somebody wrote in an editor.
#[test]
fn a_log_without_seals_is_as_good_as_any() {
    let case = two_cows();
    let bare: Vec<String> =
        case.text("log.jsonl").lines().map(|l| format!("{}}}", l.split_once(",\"seal\"").unwrap().0)).collect();
    let case = case.with("log.jsonl", bare.join("\n") + "\n").with("more.txt", "cow 9 clean\n");
    case.run(&["check"]).code(0).out(&format!(
        "warning: log.jsonl:1: lines 1 to 3 have no seal (written by an older program, or by hand): a change would not \
         be noticed\n{HOLDS}1 warning\n"
    ));
    // It is gone on with, and from then on the last of the old lines is watched over too.
    case.run(&["note", "--farm", "Juniper Flat", "more.txt"]).code(0);
    case.run(&["check"]).code(0);
    let text = case.text("log.jsonl").replace("\"cow\":\"8\"", "\"cow\":\"88\"");
    case.with("log.jsonl", text).run(&["check"]).code(1).out_has("error: log.jsonl:4: ");
}

#[test]
fn an_unfinished_last_line_does_no_harm() {
    let case = two_cows();
    let text = case.text("log.jsonl");
    let case = case.with("log.jsonl", format!("{text}{{\"v\":1,\"ki"));
    case.run(&["check"]).code(0).out(&format!(
        "warning: log.jsonl:4: the last line is unfinished and was left out\n\
         {HOLDS}1 warning\n"
    ));
    let case = case.with("more.txt", "cow 9 clean\n");
    case.run(&["note", "--farm", "Juniper Flat", "more.txt"]).code(0);
    case.run(&["check"])
        .code(0)
        .out_has("warning: log.jsonl:4: unfinished: whoever wrote it was interrupted; it was left out\n");
}

#[test]
fn strict_tells_what_the_trade_finds_odd() {
    let case = two_cows().with("more.txt", "cow 7, left hind clean\n");
    case.run(&["note", "--farm", "Juniper Flat", "more.txt"]).code(0);
    case.run(&["check"]).code(0);
    case.run(&["check", "--strict"])
        .code(1)
        .out_has("odd: log.jsonl:4: cow 7 stands twice in this visit (first on line 2)\n")
        .out_has(": 1 odd thing\n");
}

#[test]
fn no_log() {
    let none = "log: log.jsonl\nerror: there is no log at `log.jsonl`; `chutescribe note` starts one\n";
    Case::new().run(&["check"]).code(1).out("").err(none);
}
