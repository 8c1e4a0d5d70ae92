//! `history`, and what becomes of struck strikes and of answers to what is not there.

use crate::case::Case;

#[test]
fn all_that_happened_to_an_entry_is_shown() {
    let case = Case::new().with("day.txt", "# x\ncow 8, left hind ulcer\ncow 9 clean\n");
    case.run(&["note", "day.txt"]).code(0);
    let id = case.log()[1]["id"].as_str().unwrap().to_owned();
    case.talk(&["settle"], "outer\n").code(0);
    case.run(&["strike", &id, "--why", "wrong cow"]).code(0);
    let strike = case.log()[4]["id"].as_str().unwrap().to_owned();
    let head = "cow 8                                                           ";
    let body = "  left hind    outer sole ulcer\n";
    let begun = "2026-03-12 09:41  said      cow 8, left hind ulcer (day.txt, line 2)\n                  \
                 asked     `ulcer` on the left hind: outer or inner claw?\n2026-03-12 09:41  answered  \
                 findings[0].claw: outer\n2026-03-12 09:41  struck    wrong cow (strike ";
    case.run(&["history", &id[..6]])
        .code(0)
        .err("log: log.jsonl\n")
        .out(&format!("{head}{id}\n{body}  struck       wrong cow\n\n{begun}{strike})\n"));
    case.run(&["strike", &strike, "--why", "right after all"]).code(0);
    let back = case.log()[5]["id"].as_str().unwrap().to_owned();
    // Broken between words, as every line of the program.
    let ran = case.run(&["history", &id]).code(0);
    let flat = ran.stdout().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(!flat.contains("struck wrong cow wrong"), "{flat}");
    assert!(flat.ends_with(&format!("unstruck strike {strike} taken back: right after all (strike {back})")), "{flat}");
    assert!(ran.stdout().starts_with(&format!("{head}{id}\n{body}\n")), "it counts again");
    let json = case.run(&["history", "--json", &id]).code(0);
    let kinds: Vec<String> = json
        .stdout()
        .lines()
        .map(|l| serde_json::from_str::<serde_json::Value>(l).unwrap()["kind"].as_str().unwrap().to_owned())
        .collect();
    assert_eq!(kinds, ["entry", "answer", "strike", "strike"]);
}

#[test]
fn what_is_of_nothing_is_told_with_its_line() {
    let answer = "{\"v\":1,\"kind\":\"answer\",\"id\":\"a\",\"at\":\"2026-03-12T09:00:00-05:00\",\"entry\":\"e\",\
                  \"field\":\"cow\",\"value\":\"5\"}\n";
    let case = Case::new().with("log.jsonl", format!("\n{answer}"));
    case.run(&["settle"])
        .code(1)
        .out("no question is open\n")
        .err("log: log.jsonl\nerror: log.jsonl:2: an answer to entry e, which is not in the log\n");
    case.run(&["check"]).code(1).out_has("error: log.jsonl:2: an answer to entry e, which is not in the log\n");
    case.run(&["history", "e"]).code(1).out("").err("log: log.jsonl\nerror: the log has no entry `e`\n");
}

#[test]
fn an_answer_that_does_not_fit_is_told_with_the_entry() {
    let case = Case::new();
    case.talk(&["note"], "cow 7 clean\n").code(0);
    let id = case.log()[1]["id"].as_str().unwrap().to_owned();
    let text = case.text("log.jsonl");
    let answer = format!(
        "{{\"v\":1,\"kind\":\"answer\",\"id\":\"a\",\"at\":\"2026-03-12T09:00:00-05:00\",\"entry\":\"{id}\",\
         \"field\":\"findings[3].claw\",\"value\":\"outer\"}}\n"
    );
    let case = case.with("log.jsonl", text + &answer);
    case.run(&["history", "last"]).code(1).out_has("answered  findings[3].claw: outer\n").err(&format!(
        "log: log.jsonl\nerror: log.jsonl:3: the answer \"outer\" for `findings[3].claw` of entry {id}: there is no \
         such thing in the entry\n"
    ));
}
