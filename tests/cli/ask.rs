//! `note` with somebody there; here a script takes their place (`--ask`).

use crate::case::Case;

#[test]
fn shows_asks_and_keeps_each_answer_as_a_line_of_its_own() {
    let case = Case::new();
    case.talk(&["note", "--ask"], "cow 430, ulcer left rear, block on\nouter\n").code(0).err("log: log.jsonl\n").out(
        "\
note> cow 430, ulcer left rear, block on
cow 430
  left hind    sole ulcer
               block
  ? `ulcer` on the left hind: outer or inner claw?
      cow 430, ulcer left rear, block on
               ^^^^^
      1  outer
      2  inner
    > outer
cow 430
  left hind    outer sole ulcer
               block inner, as the sound claw

kept 1 entry
",
    );
    let log = case.log();
    assert_eq!(log[1]["flags"][0]["level"], "ask", "the entry stands as it was said");
    assert_eq!((&log[2]["kind"], &log[2]["value"]), (&"answer".into(), &"outer".into()));
    assert_eq!(log[2]["entry"], log[1]["id"]);
}

#[test]
fn explains_goes_back_and_leaves_open() {
    let case = Case::new();
    let ran = case.talk(&["note", "--ask"], "left hind ulcer\n411\n?\n<\n412\n.\n").code(0);
    let ran = ran.out_has("      this lesion sits on one claw.");
    ran.out_has("kept 1 entry\n1 question is open: `chutescribe settle` puts them again\n");
    let values: Vec<_> = case.log().iter().skip(2).map(|l| l["value"].clone()).collect();
    assert_eq!(values, ["411", "412"], "what was answered first stays in the log, and the last wins");
}

#[test]
fn goes_back_into_the_note_before() {
    let case = Case::new();
    case.talk(&["note", "--ask"], "cow 1, left hind ulcer\nouter\n<\ninner\ncow 2 clean\n<\n").code(0).out(
        "\
note> cow 1, left hind ulcer
cow 1
  left hind    sole ulcer
  ? `ulcer` on the left hind: outer or inner claw?
      cow 1, left hind ulcer
                       ^^^^^
      1  outer
      2  inner
    > outer
cow 1
  left hind    outer sole ulcer

note> <
  ? `ulcer` on the left hind: outer or inner claw?
      cow 1, left hind ulcer
                       ^^^^^
      1  outer
      2  inner
    > inner
cow 1
  left hind    inner sole ulcer

note> cow 2 clean
cow 2
  all four     clean

note> <
      the last note asked nothing; `chutescribe strike last` takes it back

kept 2 entries
",
    );
}

#[test]
fn enter_takes_nothing_where_that_is_not_safe() {
    let case = Case::new();
    // No cow; block on the lesion's own claw; clean with a lesion; a claw that nobody said.
    for note in [
        "left hind wart",
        "cow 1, left hind outer ulcer, block outer",
        "cow 1, left hind wart, left hind clean",
        "cow 1, left hind ulcer",
    ] {
        case.talk(&["note", "--ask"], format!("{note}\n\n"))
            .code(0)
            .out_has("      Enter takes nothing here: it has to be said. `.` leaves it open\n");
    }
    assert!(case.log().iter().all(|l| l["kind"] != "answer"));
}

#[test]
fn enter_takes_what_was_said_where_that_is_safe() {
    let case = Case::new();
    case.talk(&["note", "--ask"], "cow 1, left hind outer toe ulcer zone 4\n\n")
        .code(0)
        .out_has("      4  zone 4, as it was said\n");
    assert_eq!(case.log()[2]["value"], serde_json::json!([4]));
}

#[test]
fn the_cow_of_an_answer_is_the_cow_before_for_the_next_note() {
    let case = Case::new();
    case.talk(&["note", "--ask"], "left hind wart\nfour twelve\nright hind wart\n1\n").code(0);
    let log = case.log();
    assert_eq!(log[2]["value"], "412");
    assert_eq!(log[3]["flags"][0]["options"][0], "412");
    assert_eq!(log[4]["value"], "412");
}

#[test]
fn typing_the_same_again_is_another_note() {
    let case = Case::new();
    case.talk(&["note", "--ask"], "cow 1 clean\n").code(0);
    case.talk(&["note", "--ask"], "cow 1 clean\ncow 1 clean\n").code(0).out_has("kept 2 entries\n");
    let lines: Vec<_> = case.log().iter().skip(1).map(|l| l["source"].clone()).collect();
    assert_eq!(lines, [1, 2, 3].map(|n| serde_json::json!({"line": n})));
}

#[test]
fn an_input_that_ends_in_the_middle_of_a_question_loses_nothing() {
    let case = Case::new();
    case.talk(&["note", "--ask"], "left hind ulcer").code(0);
    assert_eq!(case.log()[1]["said"], "left hind ulcer");
}

#[test]
fn a_line_that_cannot_be_a_note_is_told_and_the_talk_goes_on() {
    let case = Case::new();
    case.talk(&["note", "--ask"], "!!\ncow 1\0 clean\n# a comment\n?\ncow 2 clean\n")
        .code(1)
        .err(
            "log: log.jsonl\nerror: there is no word in `!!`\nerror: byte 5 is a control character (`\\u{0}`), which no \
             note has: take it out: `cow 1\\u{0} clean`\n",
        )
        .out_has("      Ctrl-D ends.\n");
    assert_eq!(case.log()[1]["source"]["line"], 1);
}

#[test]
fn a_log_that_cannot_be_written_repeats_the_note() {
    let case = Case::new();
    std::fs::create_dir(case.path("folder")).unwrap();
    // To be found out before the first note is said.
    case.talk(&["note", "--ask", "--log", "folder"], "cow 1 clean\n")
        .code(1)
        .out("")
        .err("log: folder\nerror: the log `folder` cannot be written: is a directory\n");
    let case = case.with("file", "");
    case.talk(&["note", "--ask", "--log", "file/log.jsonl"], "cow 1 clean\n").code(1);
}
