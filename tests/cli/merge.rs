//! `merge`: the phone's log into the laptop's.

use crate::case::Case;

const DAY: &str = "cow 7 clean\ncow 8, left hind ulcer\n";

/// A laptop's log and the phone's, which went on from a copy of it.
fn parted(phone: &str) -> Case {
    let case = Case::new().with("day.txt", DAY).with("more.txt", phone);
    case.run(&["note", "--farm", "Juniper Flat", "day.txt"]).code(0);
    std::fs::copy(case.path("log.jsonl"), case.path("phone.jsonl")).unwrap();
    case.run(&["note", "--farm", "Juniper Flat", "--log", "phone.jsonl", "more.txt"]).code(0);
    case
}

fn answered(case: &Case, log: &str, answer: &str) {
    case.talk(&["settle", "--log", log], format!("{answer}\n")).code(0);
}

#[test]
fn a_dry_run_shows_what_would_come_and_writes_nothing() {
    let case = parted("cow 9 clean\n");
    let before = case.text("log.jsonl");
    let id = serde_json::from_str::<serde_json::Value>(case.text("phone.jsonl").lines().nth(3).unwrap()).unwrap();
    case.run(&["merge", "phone.jsonl"]).code(0).err("log: log.jsonl\n").out(&format!(
        "entry    {} cow 9: cow 9 clean\n1 line would be added; 3 are here already\nnothing is written yet: `--write` \
         does it\n",
        id["id"].as_str().unwrap()
    ));
    let json = case.run(&["merge", "--json", "phone.jsonl"]).code(0);
    assert_eq!(case.text("log.jsonl"), before);
    case.run(&["merge", "--write", "phone.jsonl"]).code(0).out("added 1 line; 3 are here already\n");
    assert_eq!(case.text("log.jsonl"), before + json.stdout(), "the very bytes");
}

#[test]
fn nothing_is_doubled_however_often_and_either_way() {
    let case = parted("cow 9 clean\ncow 10, right hind wart\n").with("third.txt", "cow 11 clean\n");
    case.run(&["note", "--farm", "Juniper Flat", "third.txt"]).code(0);
    let phone = case.text("phone.jsonl");
    case.run(&["merge", "--write", "phone.jsonl"]).code(0).out("added 2 lines; 3 are here already\n");
    let merged = case.text("log.jsonl");
    case.run(&["merge", "--write", "phone.jsonl"]).code(0).out("added no lines; 5 are here already\n");
    case.run(&["merge", "--write", "log.jsonl"]).code(0).out("added no lines; 6 are here already\n");
    assert_eq!(case.text("log.jsonl"), merged);
    assert_eq!(case.text("phone.jsonl"), phone, "the other log is only read");
    let said: Vec<String> = case.log().iter().filter_map(|l| l["said"].as_str().map(str::to_owned)).collect();
    let order = ["cow 7 clean", "cow 8, left hind ulcer", "cow 11 clean", "cow 9 clean", "cow 10, right hind wart"];
    assert_eq!(said, order, "what was here stays where it is, the rest comes in its order");
    case.run(&["check"]).code(0).out_has("all is well\n");
    case.run(&["merge", "--write", "--log", "phone.jsonl", "log.jsonl"]).code(0);
    case.run(&["check", "--log", "phone.jsonl"]).code(0).out_has("1 visit, 5 entries");
}

#[test]
fn a_log_that_is_not_there_yet_is_made() {
    let case = parted("cow 9 clean\n");
    case.run(&["merge", "--write", "--log", "new.jsonl", "phone.jsonl"])
        .code(0)
        .out("added 4 lines; none are here already\n");
    assert_eq!(
        case.text("new.jsonl"),
        case.text("phone.jsonl"),
        "the same lines in the same order have the same seals"
    );
}

#[test]
fn answers_and_strikes_come_over() {
    let case = parted("cow 9 clean\n");
    answered(&case, "phone.jsonl", "outer");
    case.run(&["strike", "last", "--why", "wrong cow", "--log", "phone.jsonl"]).code(0);
    case.run(&["merge", "--write", "phone.jsonl"]).code(0).out("added 3 lines; 3 are here already\n");
    case.run(&["settle"]).code(0).out("no question is open\n");
    case.run(&["check"]).code(0);
}

#[test]
fn a_question_answered_differently_is_named_and_the_answer_here_stays() {
    let case = parted("cow 9 clean\n");
    answered(&case, "log.jsonl", "inner");
    answered(&case, "phone.jsonl", "outer");
    let id = case.log()[2]["id"].as_str().unwrap().to_owned();
    let told = format!(
        "log: log.jsonl\nconflict: phone.jsonl:5 and log.jsonl:4: `findings[0].claw` of entry {id} is answered \
         \"outer\" there and \"inner\" here; the one here stays (`--theirs` takes the other)\n"
    );
    case.run(&["merge", "--write", "phone.jsonl"]).code(1).out("added 1 line; 3 are here already\n").err(&told);
    case.run(&["history", &id]).code(0).out_has("inner sole ulcer");
    case.run(&["merge", "--write", "--theirs", "phone.jsonl"]).code(0).out("added 1 line; 4 are here already\n");
    case.run(&["history", &id]).code(0).out_has("outer sole ulcer");
    case.run(&["merge", "phone.jsonl"]).code(0).out("no lines would be added; 5 are here already\n");
}

#[test]
fn the_same_answer_twice_and_a_log_that_is_only_behind_are_no_conflict() {
    let case = parted("cow 9 clean\n").at("2026-03-12T10:00:00-05:00");
    answered(&case, "log.jsonl", "inner");
    let case = case.at("2026-03-12T11:00:00-05:00");
    answered(&case, "phone.jsonl", "inner");
    case.run(&["merge", "--write", "phone.jsonl"]).code(0).out("added 2 lines; 3 are here already\n");
    case.run(&["merge", "--log", "phone.jsonl", "log.jsonl"]).code(0);
}

#[test]
fn an_id_that_says_something_else_is_named() {
    let case = parted("cow 9 clean\n");
    let changed = case.text("phone.jsonl").replace("\"cow\":\"7\"", "\"cow\":\"77\"");
    let case = case.with("phone.jsonl", changed);
    let id = case.log()[1]["id"].as_str().unwrap().to_owned();
    case.run(&["merge", "phone.jsonl"]).code(1).out_has("1 line would be added; 2 are here already\n").err(&format!(
        "log: log.jsonl\nconflict: phone.jsonl:2 and log.jsonl:2: entry {id}: `cow` differs; the one here stays\n"
    ));
}

/// Both began the visit by themselves, and the file had another line on top.
#[test]
fn when_and_where_from_are_no_conflict() {
    let case = Case::new().with("day.txt", DAY);
    case.run(&["note", "--log", "phone.jsonl", "day.txt"]).code(0);
    let case = case.at("2026-03-12T18:00:00-05:00").with("day.txt", format!("# evening\n{DAY}"));
    case.run(&["note", "day.txt"]).code(0);
    case.run(&["merge", "phone.jsonl"]).code(0).out("no lines would be added; 3 are here already\n");
}

#[test]
fn lines_of_other_kinds_come_over_once_and_bad_ones_are_named() {
    let weather = "{\"v\":1,\"kind\":\"weather\",\"sky\":\"grey\"}";
    let case = parted("cow 9 clean\n");
    let text = case.text("phone.jsonl");
    let case = case.with("phone.jsonl", format!("{text}{weather}\n{{\"v\":2,\"kind\":\"entry\"}}\n"));
    let newer = "error: phone.jsonl:6: written by a newer version of the program (`v` is 2, this one knows 1): update \
                 the program\n";
    case.run(&["merge", "--write", "phone.jsonl"])
        .code(1)
        .out("added 2 lines; 3 are here already\n")
        .err(&format!("log: log.jsonl\n{newer}"));
    assert_eq!(case.log()[4]["sky"], "grey");
    case.run(&["merge", "--write", "phone.jsonl"]).code(1).out("added no lines; 5 are here already\n");
}

#[test]
fn another_log_that_is_not_there() {
    let told = "log: log.jsonl\nerror: `none.jsonl` cannot be read: no such file or directory\n";
    parted("cow 9 clean\n").run(&["merge", "none.jsonl"]).code(1).out("").err(told);
}
