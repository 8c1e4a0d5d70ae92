//! `due`: what stands open, overdue first; and what there is to say where nothing does.

use crate::case::Case;

const LOG: &str = include_str!("../../demo/log.jsonl");

fn demo() -> Case {
    Case::new().at("2026-03-20T08:00:00-05:00").with("log.jsonl", LOG)
}

#[test]
fn the_demo_is_due_as_shown() {
    demo().run(&["due"]).code(0).err("log: log.jsonl\n").out(include_str!("../../demo/due.txt"));
}

#[test]
fn a_day_and_a_farm_narrow_it() {
    let rows = demo().run(&["due", "--csv", "--by", "2026-03-15", "--farm", "juniper flat"]).code(0);
    assert_eq!(
        rows.stdout(),
        "farm,cow,what,foot,claw,on,until,by_rule,since,why\n\
         Juniper Flat,56,vet,RH,,2026-03-12,2026-03-12,false,2026-03-12,\"outer toe necrosis, not certain\"\n\
         Juniper Flat,77,wrap_off,LH,,2026-03-15,2026-03-15,true,2026-03-12,\n\
         Juniper Flat,412,wrap_off,RH,,2026-03-15,2026-03-15,true,2026-03-12,salicylic acid\n\
         Juniper Flat,930,wrap_off,LH,,2026-03-15,2026-03-15,true,2026-03-12,\n\
         Juniper Flat,930,wrap_off,RH,,2026-03-15,2026-03-15,true,2026-03-12,\n"
    );
    demo().run(&["due", "--by", "2026-03-01"]).code(0).out("nothing is due by sun 1 mar 2026\n");
}

#[test]
fn where_there_is_nothing_a_sentence_says_so() {
    demo().run(&["due", "--farm", "Elm End"]).code(0).out("the log has no visit to `Elm End`; it has: Juniper Flat\n");
    Case::new().with("log.jsonl", "").run(&["due"]).code(0).out("the log has no entries yet\n");
    let case = Case::new();
    case.run(&["note", "day.txt"]).code(1);
    let case = case.with("day.txt", "left hind outer ulcer, block on\n");
    case.run(&["note", "day.txt"]).code(0);
    case.run(&["due"])
        .code(0)
        .out("nothing counts yet\nleft out: 1 open question on 1 entry, 1 of them with all that it holds\n");
}

#[test]
fn what_is_struck_or_taken_off_is_due_no_more() {
    let case = Case::new().with("a.txt", "cow 8, left hind outer ulcer, block on, wrap\ncow 9 call the vet\n");
    case.run(&["note", "--on", "2026-03-01", "--farm", "Juniper Flat", "a.txt"]).code(0);
    let due = |case: &Case| {
        let rows = case.run(&["due", "--json"]).code(0);
        let rows = rows.stdout().lines().map(|l| serde_json::from_str::<serde_json::Value>(l).unwrap());
        rows.map(|r| format!("{} {}", r["cow"].as_str().unwrap(), r["what"].as_str().unwrap())).collect::<Vec<_>>()
    };
    assert_eq!(due(&case), ["9 vet", "8 wrap_off", "8 block_off", "8 recheck"]);
    case.run(&["strike", "last", "--why", "wrong cow"]).code(0);
    let case = case.with("b.txt", "cow 8 block off left hind\n");
    case.run(&["note", "--on", "2026-03-10", "--farm", "Juniper Flat", "b.txt"]).code(0);
    assert_eq!(due(&case), ["8 wrap_off", "8 recheck"]);
    case.run(&["due"]).code(0).out_has("\nleft out: 1 struck entry\n");
}

#[test]
fn a_herd_with_dates_gives_routine_trims() {
    let case = demo().with("herd.csv", "tag,calved,dry off\n412,2026-01-01,\n22,2026-01-01,\n500,,2026-04-01\n");
    let rows = case.run(&["due", "--herd", "herd.csv", "--csv", "--by", "2026-03-20"]).code(0);
    let trims: Vec<&str> = rows.stdout().lines().filter(|l| l.contains(",trim,")).collect();
    assert_eq!(
        trims,
        [
            ",412,trim,,,2026-03-02,2026-05-31,true,2026-01-01,78 days in milk",
            ",500,trim,,,2026-03-04,2026-04-01,true,2026-04-01,dry-off wed 1 apr 2026"
        ],
        "22 was trimmed"
    );
    case.with("bad.csv", "tag,calved\n7,1/2/26\n")
        .run(&["due", "--herd", "bad.csv", "--csv"])
        .code(1)
        .err("error: bad.csv:2: `1/2/26` is no date; write it as 2026-03-12 (year, month, day)\nlog: log.jsonl\n");
}

#[test]
fn a_calendar_has_an_event_of_one_day_for_each() {
    let ics = demo().run(&["due", "--ics", "--by", "2026-03-12"]).code(0);
    let lines: Vec<&str> = ics.stdout().split("\r\n").collect();
    for line in ["DTSTART;VALUE=DATE:20260312", "DTEND;VALUE=DATE:20260313", "SUMMARY:cow 56: vet to see her"] {
        assert!(lines.contains(&line), "{line}: {lines:?}");
    }
    assert_eq!(lines.iter().filter(|l| **l == "BEGIN:VEVENT").count(), 1);
}
