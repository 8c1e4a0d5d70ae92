//! `strike`.

use crate::case::Case;

fn two_cows() -> Case {
    let case = Case::new();
    case.talk(&["note"], "cow 7 clean\ncow 8 clean\n").code(0);
    case
}

#[test]
fn takes_the_last_entry_back_and_the_one_before_it_next() {
    let case = two_cows();
    let ids: Vec<String> = case.log().iter().map(|l| l["id"].as_str().unwrap().to_owned()).collect();
    let before = case.text("log.jsonl");
    case.run(&["strike", "last", "--why", "said twice"]).code(0).err("log: log.jsonl\n").out_has(&format!(
        "cow 8                                                           {}\n  all four     clean\nstruck; ",
        ids[2]
    ));
    let log = case.log();
    assert_eq!(
        (&log[3]["kind"], &log[3]["entry"], &log[3]["why"]),
        (&"strike".into(), &ids[2].as_str().into(), &"said twice".into())
    );
    assert!(case.text("log.jsonl").starts_with(&before), "nothing is rewritten");
    case.run(&["strike", "last", "--why", "so was she"]).code(0).out_has("cow 7 ");
    case.run(&["strike", "last", "--why", "?"]).code(1).err("log: log.jsonl\nerror: there is no entry to strike\n");
}

#[test]
fn an_id_or_its_start_will_do_and_a_struck_strike_brings_the_entry_back() {
    let case = two_cows();
    let id = case.log()[1]["id"].as_str().unwrap().to_owned();
    case.run(&["strike", &id[..8], "--why", "wrong farm"]).code(0).out_has("cow 7 ");
    case.run(&["strike", &id, "--why", "again"])
        .code(1)
        .err(&format!("log: log.jsonl\nerror: entry `{id}` is struck already: wrong farm\n"));
    let strike = case.log()[3]["id"].as_str().unwrap().to_owned();
    case.run(&["strike", &strike, "--why", "it was right"])
        .code(0)
        .out(&format!("the strike {strike} is taken back; its entry counts again\n"));
    case.run(&["strike", &id, "--why", "no, it was not"]).code(0).out_has("cow 7 ");
}

#[test]
fn what_is_not_there_or_not_clear_is_told() {
    let case = two_cows();
    case.run(&["strike", "zzz", "--why", "x"]).code(1).err("log: log.jsonl\nerror: the log has no entry `zzz`\n");
    case.run(&["strike", "", "--why", "x"]).code(1).err("log: log.jsonl\nerror: the log has no entry ``\n");
    case.run(&["strike", "last", "--why", " "])
        .code(1)
        .err("error: a strike needs a reason: say it with `--why TEXT`\n");
    assert_eq!(case.log().len(), 3);
}

#[test]
fn a_struck_entry_is_not_brought_back_by_a_second_import() {
    let case = Case::new().with("day.txt", "cow 7 clean\n");
    case.run(&["note", "day.txt"]).code(0);
    case.run(&["strike", "last", "--why", "wrong"]).code(0);
    case.run(&["note", "day.txt"]).code(0).out("kept no entries of 1 note\n1 entry was in the log already\n");
}
