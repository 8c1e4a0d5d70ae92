//! `settle`.

use serde_json::json;

use crate::case::Case;

fn day(notes: &str) -> Case {
    let case = Case::new();
    case.talk(&["note", "--farm", "Juniper Flat"], notes).code(0);
    case
}

#[test]
fn walks_the_open_questions() {
    let case = day("cow 7, left hind ulcer, block\ncow 8 clean\nright hind wart\n");
    case.talk(&["settle"], "inner\n1\n").code(0).err("log: log.jsonl\n").out(
        "\
2 questions are open on 2 entries

cow 7                                              Juniper Flat, thu 12 mar 2026
  left hind    sole ulcer
               block
  ? `ulcer` on the left hind: outer or inner claw?
      cow 7, left hind ulcer, block
                       ^^^^^
      1  outer
      2  inner
    > inner

cow not known                                      Juniper Flat, thu 12 mar 2026
  right hind   digital dermatitis
  ? which cow? none was named
      right hind wart
      1  8, the cow before
    > 1

kept 2 answers; no questions are open
",
    );
    case.run(&["settle"]).code(0).out("no question is open\n");
    let log = case.log();
    assert_eq!((&log[4]["field"], &log[4]["value"]), (&json!("findings[0].claw"), &json!("inner")));
    assert_eq!((&log[5]["field"], &log[5]["value"]), (&json!("cow"), &json!("8")));
}

/// Each answer with the field and the value it comes to.
#[test]
fn answers_may_be_numbers_values_or_words() {
    for (note, answer, field, value) in [
        ("cow 7, left hind ulcer", "2", "findings[0].claw", json!("inner")),
        ("cow 7, left hind ulcer", "o", "findings[0].claw", json!("outer")),
        ("cow 7, left hind ulcer", "lateral", "findings[0].claw", json!("outer")),
        ("cow 7, left hind ulcer", "-", "findings[0]", json!(null)),
        ("cow 7, wart", "LH", "findings[0].foot", json!("LH")),
        ("cow 7, wart", "right rear", "findings[0].foot", json!("RH")),
        ("cow 7, left wart", "1", "findings[0].foot", json!("LH")),
        ("left hind wart", "412", "cow", json!("412")),
        ("left hind wart", "cow four twelve", "cow", json!("412")),
        ("left hind wart", "0412", "cow", json!("0412")),
        ("cow 7, left hind outer toe ulcer zone 4", "1", "findings[0].zones", json!([1])),
        ("cow 7, left hind outer toe ulcer zone 4", "4", "findings[0].zones", json!([4])),
        ("cow 7, left hind outer toe ulcer zone 4", "-", "findings[0].zones", json!(null)),
        ("cow 7, left hind outer toe ulcer zone 4", "zones 1 and 5", "findings[0].zones", json!([1, 5])),
        ("cow 7, mobility score five", "3", "scores[0].value", json!(3)),
        ("cow 7, left hind outer abscess", "white line abscess", "findings[0].disorder", json!("WLA")),
        ("cow 7, left hind outer abscess", "ds", "findings[0].disorder", json!("DS")),
        ("cow 7 clean, recheck", "in four weeks", "due[0].on", json!("2026-04-09")),
        ("cow 7 clean, recheck", "2026-05-01", "due[0].on", json!("2026-05-01")),
        ("cow 7 clean, recheck", "-", "due[0]", json!(null)),
        ("cow 7, left hind wart, left hind clean", "1", "clear[0]", json!(null)),
    ] {
        let case = day(note);
        case.talk(&["settle"], answer).code(0);
        let log = case.log();
        assert_eq!((&log[2]["field"], &log[2]["value"]), (&json!(field), &value), "{note}: {answer}");
        case.run(&["settle"]).code(0).out("no question is open\n");
    }
}

#[test]
fn an_answer_that_does_not_fit_leaves_the_question_open() {
    let case = day("cow 7, left hind ulcer\n");
    case.talk(&["settle"], "purple\n")
        .code(1)
        .err("log: log.jsonl\nerror: `purple` does not fit: it wants `1` or `2`, or `outer` or `inner`\n")
        .out_has("kept no answers; 1 question is open\n");
    assert_eq!(case.log().len(), 2);
}

#[test]
fn a_cow_is_never_an_option_by_mistake() {
    let case = day("cow 17 clean\nleft hind wart\n");
    case.talk(&["settle"], "=1\n").code(0);
    assert_eq!(case.log()[3]["value"], "1");
}

#[test]
fn goes_back_over_entries() {
    let case = day("cow 7, left hind ulcer\ncow 8, right hind ulcer\n");
    case.talk(&["settle"], "outer\n<\ninner\nouter\n").code(0).out_has("kept 3 answers; no questions are open\n");
    let values: Vec<_> = case.log().iter().skip(3).map(|l| l["value"].clone()).collect();
    assert_eq!(values, ["outer", "inner", "outer"]);
}

#[test]
fn the_same_answer_given_twice_in_a_second_is_two_answers() {
    let case = day("cow 7, left hind ulcer\n");
    case.talk(&["settle"], "outer\n").code(0);
    case.talk(&["settle"], "").code(0).out("no question is open\n");
    let case = day("cow 7, left hind ulcer\ncow 8, left hind ulcer\n");
    case.talk(&["settle"], "outer\n<\ninner\n<\nouter\n.\n").code(0);
    case.run(&["settle", "--json"]).out_has("\"cow\":\"8\"");
    let values: Vec<_> = case.log().iter().skip(3).map(|l| l["value"].clone()).collect();
    assert_eq!(values, ["outer", "inner", "outer"]);
}

#[test]
fn a_question_that_an_answer_raises_is_put_at_once() {
    let case = day("cow 7, left hind abscess\n");
    case.talk(&["settle"], "WLA\nouter\n").code(0).out_has("kept 2 answers; no questions are open\n");
}

#[test]
fn json_lists_what_is_open_and_asks_nothing() {
    let case = day("cow 7, left hind ulcer\n");
    let entry = case.log()[1]["id"].as_str().unwrap().to_owned();
    case.talk(&["settle", "--json"], "outer\n").code(0).out(&format!(
        "{{\"entry\":\"{entry}\",\"cow\":\"7\",\"field\":\"findings[0].claw\",\"kind\":\"claw_missing\",\
         \"message\":\"`ulcer` on the left hind: outer or inner claw?\",\"options\":[\"outer\",\"inner\"],\
         \"said\":\"cow 7, left hind ulcer\",\"at\":[17,22]}}\n"
    ));
    assert_eq!(case.log().len(), 2);
}

#[test]
fn a_struck_entry_asks_nothing() {
    let case = day("cow 7, left hind ulcer\n");
    case.run(&["strike", "last", "--why", "wrong cow"]).code(0);
    case.run(&["settle"]).code(0).out("no question is open\n");
}

#[test]
fn without_a_log_there_is_nothing_to_settle() {
    Case::new()
        .run(&["settle"])
        .code(1)
        .err("log: log.jsonl\nerror: there is no log at `log.jsonl`; `chutescribe note` starts one\n");
}

#[test]
fn bad_lines_of_the_log_are_told_and_the_rest_is_settled() {
    let case = day("cow 7, left hind ulcer\n");
    let log = case.text("log.jsonl");
    let case = case.with("log.jsonl", format!("nonsense\n{log}{{\"v\":1,\"ki"));
    case.talk(&["settle"], "outer\n")
        .code(1)
        .err(
            "log: log.jsonl\nerror: log.jsonl:1: no line of a log: expected ident, at column 2\nwarning: \
             log.jsonl:4: the last line is unfinished and was left out\n",
        )
        .out_has("kept 1 answer; no questions are open\n");
    assert!(case.text("log.jsonl").starts_with("nonsense\n"), "a bad line stays where it is");
}

#[test]
fn a_word_that_stood_alone_becomes_a_remark_or_nothing() {
    let case = day("cow 7, left hind wart, brgl, wrap\ncow 8, left hind wart, zmrk, wrap\n");
    case.talk(&["settle"], "1\n2\n")
        .code(0)
        .out_has("? not understood: `brgl`; a remark, or nothing?")
        .out_has("1  a remark: brgl\n      2  nothing of note\n")
        .out_has("kept 2 answers; no questions are open\n");
    case.run(&["settle"]).code(0).out("no question is open\n");
    case.run(&["cow", "7"]).code(0).out_has("brgl");
}
