//! The herd's tags: from a file, and as the log has seen them.

use serde_json::{Value, json};

use crate::case::Case;

/// A log with two cows of Juniper Flat, seen a month before.
fn seen_before() -> Case {
    let case = Case::new();
    case.talk(
        &["note", "--on", "2026-02-12", "--farm", "Juniper Flat"],
        "cow 678 clean\ncow 1062 clean\ncow 23 clean\n",
    )
    .code(0);
    case.run(&["strike", "last", "--why", "the neighbour's"]).code(0);
    case
}

const AT: [&str; 3] = ["note", "--farm", "Juniper Flat"];

/// The cow of the last line of the log, and what is asked about her.
fn last(case: &Case) -> (Value, Value) {
    let line = case.log().pop().unwrap();
    let asked = line["flags"].as_array().and_then(|f| f.iter().find(|f| f["field"] == "cow"));
    (line["cow"].clone(), asked.map_or(Value::Null, |f| f["options"].clone()))
}

#[test]
fn a_number_near_a_tag_of_the_log_is_asked_and_both_are_options() {
    let case = seen_before();
    case.talk(&AT, "Cossack 78, left hind wart\n").code(0).out_has("1 question is open on 1 entry");
    assert_eq!(last(&case), (json!("678"), json!(["678", "78"])));
    case.talk(&["settle"], "2\n").code(0).out_has("? is the cow 678, or 78?");
}

#[test]
fn of_two_ways_to_write_a_number_the_tag_of_the_log_is_believed() {
    let note = "cow 10 62, left hind wart\n";
    let case = seen_before();
    case.talk(&["note", "--farm", "Elder Bank"], note).code(0);
    let elsewhere = last(&case);
    assert_eq!(elsewhere.0, json!("1062"));
    case.talk(&["note", "--farm", "juniper flat "], note).code(0);
    assert_eq!(last(&case), (json!("1062"), Value::Null));
    let note = "Cossack 78, left hind wart\n";
    case.talk(&["note", "--farm", "Elder Bank"], note).code(0);
    assert_eq!(last(&case).1[0], json!("78"), "another farm's tags are no hint");
    case.talk(&["note"], note).code(0);
    assert_eq!(last(&case).1[0], json!("78"), "nor are they where no farm is named");
    case.talk(&["note", "--farm", "juniper flat "], note).code(0);
    assert_eq!(last(&case).1[0], json!("678"));
}

#[test]
fn a_cow_that_was_never_seen_is_no_question_and_a_herd_file_comes_first() {
    let case = seen_before().with("herd.txt", "1062\n678\n");
    case.talk(&AT, "cow 677, left hind wart\n").code(0).out("kept 1 entry of 1 note\n");
    assert_eq!(last(&case), (json!("677"), Value::Null));
    case.talk(&[&AT[..], &["--herd", "herd.txt"]].concat(), "cow 676, left hind wart\n").code(0);
    assert_eq!(last(&case).1[0], "678", "of a herd file all tags are known");
}

#[test]
fn struck_doubtful_and_todays_cows_are_no_hint() {
    let note = "cow 2 3, left hind wart\n";
    let case = Case::new();
    case.talk(&AT, note).code(0);
    let alone = last(&case);
    let case = seen_before();
    case.talk(&AT, note).code(0);
    assert_eq!(last(&case), alone, "23 was struck");
    // A second import, after today's cows are in the log, is as the first.
    let day = "cow 678 clean\nCossack 78, left hind wart\ncow 45 clean\nCossack 45, left hind wart\n";
    let case = Case::new().with("day.txt", day);
    let dry = case.run(&[&AT[..], &["--dry-run", "day.txt"]].concat()).code(0);
    case.run(&[&AT[..], &["day.txt"]].concat()).code(0);
    assert_eq!(case.text("log.jsonl"), dry.stdout());
    let read = ["read", "--json", "--farm", "Juniper Flat", "day.txt"];
    let before = case.run(&read).code(0);
    case.run(&[&read[..], &["--log", "log.jsonl"]].concat()).code(0).out(before.stdout());
}

#[test]
fn read_takes_the_hint_of_a_log_that_is_given() {
    let case = seen_before();
    let read = ["read", "--farm", "Juniper Flat", "--log", "log.jsonl"];
    let note = "Cossack 78, left hind wart\n";
    case.talk(&read, note).code(0).err("").out_has("? is the cow 678, or 78?");
    let before = case.text("log.jsonl");
    let plain = case.talk(&read[..3], note).code(0);
    plain.out_has("? is the cow 78, or 678?");
    assert_eq!(case.text("log.jsonl"), before, "nothing is written");
    case.talk(&["read", "--log", "log.jsonl"], note).code(2).out("");
    let none = "error: there is no log at `none.jsonl`; `chutescribe note` starts one\n";
    case.talk(&["read", "--farm", "Juniper Flat", "--log", "none.jsonl"], note).code(1).out("").err(none);
    let case = case.with("log.jsonl", format!("{before}no line\n"));
    let ran = case.talk(&read, note).code(1).out_has("? is the cow 678, or 78?");
    ran.err("error: log.jsonl:6: no line of a log: expected ident, at column 2\n");
    case.talk(&AT, "cow 5 clean\n").code(0).err("log: log.jsonl\n");
}

/// "sixty" was once taken for the only tag near it, 16, without a question.
#[test]
fn a_number_said_in_words_is_never_taken_for_another() {
    let herd = "414\n16\n55\n23\n";
    let case = Case::new().with("herd.txt", herd);
    for (said, cow, near) in [
        ("cow four thirteen", "413", "414"),
        ("cow sixty", "60", "16"),
        ("tag number fifty nine", "59", "55"),
        ("cow twenty three four", "234", "23"),
        ("Couch four thirteen", "413", "414"),
    ] {
        let note = format!("{said}, left hind wart\n");
        case.talk(&["note", "--herd", "herd.txt"], note.clone()).code(0);
        let (taken, options) = last(&case);
        assert_eq!((taken, &options[0]), (json!(cow), &json!(near)), "{said}");
        assert!(options.as_array().unwrap().contains(&json!(cow)), "{said}: {options}");
        // Tags of the log are no list of all cows.
        let before = Case::new();
        let tags = herd.replace('\n', " clean\ncow ");
        let tags = format!("cow {}\n", tags.trim_end_matches("\ncow "));
        before.talk(&["note", "--on", "2026-02-12", "--farm", "Juniper Flat"], tags).code(0);
        before.talk(&AT, note).code(0);
        assert_eq!(last(&before), (json!(cow), Value::Null), "{said}");
    }
}
