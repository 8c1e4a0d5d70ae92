//! `--hearings`: several hearings of one note on a line.

use serde_json::json;

use crate::case::Case;

const TWO: &str = "cow 5, right hind wart\tcow 5 right hind word\n\
                   {\"alternatives\":[{\"text\":\"cow 6 clean\",\"confidence\":0.9,\"from\":\"a\"},{\"text\":\"cow 6 green\",\"from\":\"b\"}]}\n";

#[test]
fn the_first_is_what_was_said_and_the_others_are_kept() {
    let case = Case::new().with("day.txt", format!("# two recognisers\n{TWO}"));
    case.run(&["note", "--hearings", "day.txt"]).code(0).out_has("kept 2 entries of 2 notes\n");
    let log = case.log();
    assert_eq!(
        (&log[1]["said"], &log[1]["heard"]),
        (&json!("cow 5, right hind wart"), &json!([{"text": "cow 5 right hind word"}]))
    );
    assert_eq!(
        (&log[2]["said"], &log[2]["heard"]),
        (&json!("cow 6 clean"), &json!([{"text": "cow 6 green", "from": "b"}]))
    );
    let before = case.text("log.jsonl");
    case.run(&["note", "--hearings", "day.txt"]).code(0).out_has("2 entries were in the log already\n");
    assert_eq!(case.text("log.jsonl"), before);
}

#[test]
fn read_takes_them_too_and_from_a_pipe() {
    let ran = Case::new().talk(&["read", "--hearings", "--json"], TWO).code(0).err("");
    assert_eq!(ran.stdout().lines().count(), 2);
    ran.out_has("\"heard\":[{\"text\":\"cow 6 green\",\"from\":\"b\"}]");
}

#[test]
fn one_that_heard_nothing_leaves_its_part_empty() {
    let ran = Case::new().talk(&["read", "--hearings", "--json"], "\tcow 5 clean\n").code(0).err("");
    ran.out_has("\"said\":\"cow 5 clean\",\"source\"");
}

#[test]
fn a_broken_line_names_file_and_line_and_the_rest_is_read() {
    let broken = "cow 1 clean\n{\"alternatives\":[{\"text\":\"cow 2\"\n{\"alternatives\":[]}\n\t\t\n{\"alternatives\":[{\"words\":1}]}\n\
                  {\"alternatives\":[{\"text\":\"cow\\u00003 clean\"}]}\ncow 4 cl\0ean\tcow 4\ncow 5 clean\tcow 5 green\n";
    let case = Case::new().with("day.txt", broken);
    let err = "\
error: day.txt:1: one hearing only: set two or more apart by tabs, or write {\"alternatives\":[{\"text\":…}]}: `cow 1 clean`
error: day.txt:2: no hearings in JSON: EOF while parsing an object, at column 32: `{\"alternatives\":[{\"text\":\"cow 2\"`
error: day.txt:3: no hearing has a word in it: `{\"alternatives\":[]}`
error: day.txt:5: no hearings in JSON: missing field `text`, at column 28: `{\"alternatives\":[{\"words\":1}]}`
error: day.txt:6: hearing 1 has a control character (`\\u{0}`), which no note has: `{\"alternatives\":[{\"text\":\"cow\\u00003 clean\"}]}`
error: day.txt:7: byte 154 is a control character (`\\u{0}`), which no note has: take it out: `cow 4 cl\\u{0}ean\\tcow 4`
";
    case.run(&["read", "--hearings", "day.txt"]).code(1).err(err).out_has("cow 5");
    case.run(&["note", "--hearings", "day.txt"]).code(1).out("kept 1 entry of 1 note\n");
}

#[test]
fn not_where_somebody_types() {
    Case::new()
        .talk(&["note", "--ask", "--hearings"], "cow 5 clean\tcow 5 green\n")
        .code(1)
        .err("log: log.jsonl\nerror: `--hearings` and `--started` are for files and pipes\n");
}
