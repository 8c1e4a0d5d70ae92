//! `herd`: every figure of the demo, counted by hand, and a herd over time.

use crate::case::Case;

const LOG: &str = include_str!("../../demo/log.jsonl");
const TEXT: &str = include_str!("../../demo/herd.txt");

fn demo() -> Case {
    Case::new().at("2026-03-20T08:00:00-05:00").with("log.jsonl", LOG)
}

fn rows(case: &Case, args: &[&str]) -> Vec<serde_json::Value> {
    let ran = case.run(args).code(0);
    ran.stdout().lines().map(|l| serde_json::from_str(l).unwrap()).collect()
}

#[test]
fn the_demo_is_as_shown() {
    demo().run(&["herd"]).code(0).out(TEXT);
}

/// From `demo/day.txt` and the answers, by a person. 22 cows; 417 was not in the chute's hand: 21 examined. Of them 99,
/// 21 and 22 have no finding, and 56 only a doubtful one: 17 with a lesion. Sole ulcers: 412, 1062, 305, 791, 930 (703's
/// is healed). Digital dermatitis: 77, 23, 703. White line: 413, 1342.
#[test]
fn the_counts_are_those_of_a_person() {
    let got: Vec<(String, u64)> = rows(&demo(), &["herd", "--json"])
        .iter()
        .map(|r| (r["what"].as_str().unwrap().to_owned(), r["cows"].as_u64().unwrap()))
        .collect();
    let want = [
        ("any lesion", 17),
        ("horn lesions", 11),
        ("infectious causes", 4),
        ("other skin", 2),
        ("sole ulcer", 5),
        ("digital dermatitis", 3),
        ("white line disease", 2),
    ];
    for (what, cows) in want {
        assert!(got.contains(&(what.to_owned(), cows)), "{what}: {got:?}");
    }
    assert!(TEXT.contains("22 cows seen, 21 of them examined, at 1 visit\n"), "{TEXT}");
    // 17 of 21, with Wilson's limits.
    assert!(TEXT.contains("81.0    60.0-92.3"), "{TEXT}");
    for line in ["blocks lost                               0 of 7", "wraps lost                                0 of 4"]
    {
        assert!(TEXT.contains(line), "{line}\n{TEXT}");
    }
    assert!(TEXT.ends_with("in no figure: 1 finding that was not certain\n"), "{TEXT}");
}

/// Cow 8 has an ulcer, is rechecked in time and healed after 30 days, and has another one; cow 9's recheck is missed.
#[test]
fn new_cases_repeats_and_rechecks_over_time() {
    let case = Case::new().at("2026-05-30T08:00:00-05:00");
    let notes = [
        ("2026-01-01", "cow 8, left hind outer ulcer, block on\ncow 9, right hind outer ulcer\n"),
        ("2026-01-31", "cow 8, left hind outer ulcer healed, lost her block left hind\n"),
        ("2026-04-20", "cow 8, left hind outer ulcer\n"),
    ];
    let mut case = case;
    for (day, text) in notes {
        case = case.with("a.txt", text);
        case.run(&["note", "--on", day, "--farm", "Juniper Flat", "a.txt"]).code(0);
    }
    let all = rows(&case, &["herd", "--json"]);
    assert_eq!(
        (all[0]["cows"].as_u64(), all[0]["new"].as_u64(), all[0]["repeats"].as_u64()),
        (Some(2), Some(3), Some(1))
    );
    let text = case.run(&["herd"]).code(0);
    for line in [
        "rechecked within a week of the day        1 of 3",
        "blocks lost                               1 of 1",
        "8 (2)",
    ] {
        assert!(text.stdout().contains(line), "{line}\n{}", text.stdout());
    }
    // What was before the period is remembered: the ulcer in it is a repeat.
    let late = rows(&case, &["herd", "--json", "--from", "2026-04-01"]);
    assert_eq!(
        (late[0]["of"].as_u64(), late[0]["new"].as_u64(), late[0]["repeats"].as_u64()),
        (Some(1), Some(1), Some(1))
    );
}

#[test]
fn where_there_is_nothing_a_sentence_says_so() {
    demo().run(&["herd", "--from", "2026-04-01"]).code(0).out("no cow was seen since wed 1 apr 2026\n");
    demo().run(&["herd", "--farm", "Elm End"]).code(0).out("the log has no visit to `Elm End`; it has: Juniper Flat\n");
    Case::new().with("log.jsonl", "").run(&["herd"]).code(0).out("the log has no entries yet\n");
    let bare = Case::new().with("a.txt", "cow 8, note not trimmed\n");
    bare.run(&["note", "a.txt"]).code(0);
    bare.run(&["herd"]).code(0).out_has("1 cow seen, 0 of them examined, at no visits\n");
}
