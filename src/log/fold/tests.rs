//! Answers and strikes on small logs.

use serde_json::{Value, json};

use super::*;
use crate::anatomy::Claw;
use crate::flag::FlagKind;
use crate::log::read::record;

fn line(json: &Value) -> Record {
    record(json.to_string().as_bytes()).unwrap()
}

fn entry(fields: &Value) -> Record {
    let mut all = json!({"v": 1, "kind": "entry", "id": "e", "at": AT, "visit": "v", "cow": "12", "said": "said"});
    for (k, v) in fields.as_object().unwrap() {
        all[k] = v.clone();
    }
    line(&all)
}

const AT: &str = "2026-03-12T09:00:00-05:00";

#[expect(clippy::needless_pass_by_value, reason = "reads better where it is called")]
fn answer(field: &str, value: Value) -> Record {
    line(&json!({"v": 1, "kind": "answer", "id": field, "at": AT, "entry": "e", "field": field, "value": value}))
}

fn strike(id: &str, of: &str) -> Record {
    line(&json!({"v": 1, "kind": "strike", "id": id, "at": AT, "entry": of, "why": "twice"}))
}

fn ask(kind: &str, field: &str) -> Value {
    json!({"level": "ask", "kind": kind, "field": field, "message": "?", "at": [0, 4]})
}

/// With the lines counted from 1.
fn fold(records: impl IntoIterator<Item = Record>) -> Book {
    super::fold((1..).zip(records))
}

fn one(records: impl IntoIterator<Item = Record>) -> Kept {
    let mut book = fold(records);
    assert_eq!(book.misfits, []);
    book.entries.remove(0)
}

fn open(kept: &Kept) -> Vec<&str> {
    kept.open.iter().map(|f| f.field.as_str()).collect()
}

fn ulcer_and_block() -> Record {
    entry(&json!({
        "findings": [{"foot": "LH", "disorder": "SU"}],
        "actions": [{"what": "block", "foot": "LH"}],
        "flags": [ask("claw_missing", "findings[0].claw")],
    }))
}

#[test]
fn an_answered_claw_puts_the_block_on_its_partner() {
    let kept = one([ulcer_and_block(), answer("findings[0].claw", json!("outer"))]);
    assert_eq!(kept.entry.findings[0].claw, Some(Claw::Outer));
    assert_eq!(kept.entry.actions[0].claw, Some(Claw::Inner));
    assert_eq!(kept.entry.assumed, ["actions[0].claw"]);
    assert!(kept.open.is_empty() && kept.counts.findings == [true]);
}

#[test]
fn the_last_answer_wins_and_the_same_one_again_changes_nothing() {
    let (outer, inner) = (answer("findings[0].claw", json!("outer")), answer("findings[0].claw", json!("inner")));
    let kept = one([ulcer_and_block(), outer.clone(), inner.clone()]);
    assert_eq!(kept.entry.actions[0].claw, Some(Claw::Outer));
    let again = one([ulcer_and_block(), outer, inner.clone(), inner]);
    assert_eq!(again.entry, kept.entry);
}

#[test]
fn taking_a_thing_out_leaves_the_places_of_the_others() {
    let two = entry(&json!({
        "findings": [{"foot": "LH", "disorder": "SU"}, {"foot": "RH", "disorder": "WL"}],
        "flags": [ask("claw_missing", "findings[0].claw"), ask("claw_missing", "findings[1].claw")],
    }));
    let kept = one([two.clone(), answer("findings[0]", Value::Null)]);
    assert_eq!(kept.entry.findings.len(), 1);
    assert_eq!(open(&kept), ["findings[1].claw"], "an answer is counted as in the entry's own line");
    assert_eq!(kept.entry.flags[0].field, "findings[0].claw", "a report counts as in the entry now");
    assert_eq!(kept.counts.findings, [false]);
    let kept = one([two, answer("findings[0]", Value::Null), answer("findings[1].claw", json!("inner"))]);
    assert_eq!(kept.entry.findings[0].claw, Some(Claw::Inner));
    assert!(kept.open.is_empty());
}

#[test]
fn what_was_taken_out_is_back_when_it_is_answered_after_all() {
    let kept = one([ulcer_and_block(), answer("findings[0]", Value::Null), answer("findings[0].claw", json!("inner"))]);
    assert_eq!(kept.entry.findings[0].claw, Some(Claw::Inner));
}

#[test]
fn an_answered_foot_settles_what_was_done_on_it() {
    let kept = one([
        entry(&json!({
            "findings": [{"disorder": "SU", "claw": "outer"}],
            "actions": [{"what": "block"}, {"what": "wrap"}, {"what": "trim"}],
            "flags": [ask("foot_missing", "findings[0].foot")],
        })),
        answer("findings[0].foot", json!("RH")),
    ]);
    let feet: Vec<_> = kept.entry.actions.iter().map(|a| a.foot.map(crate::anatomy::Foot::code)).collect();
    assert_eq!(feet, [Some("RH"), Some("RH"), None]);
    assert_eq!(kept.entry.actions[0].claw, Some(Claw::Inner));
    assert_eq!(kept.counts.actions, [true; 3]);
}

#[test]
fn an_answer_can_raise_a_question() {
    let abscess = entry(&json!({
        "findings": [{"foot": "RH"}],
        "flags": [ask("disorder_open", "findings[0].disorder")],
    }));
    let kept = one([abscess.clone(), answer("findings[0].disorder", json!("WLA"))]);
    assert_eq!(open(&kept), ["findings[0].claw"]);
    let kept = one([abscess, answer("findings[0].disorder", json!("WLA")), answer("findings[0].claw", json!("outer"))]);
    assert!(kept.open.is_empty());
}

#[test]
fn an_answer_can_settle_a_contradiction_elsewhere() {
    let both = entry(&json!({
        "findings": [{"foot": "RH", "claw": "outer", "disorder": "SU"}],
        "clear": ["LF", "RH"],
        "flags": [ask("clear_and_lesion", "clear[1]")],
    }));
    let clean = one([both.clone(), answer("findings[0]", Value::Null)]);
    assert!(clean.open.is_empty() && clean.counts.clear == [true, true]);
    let sore = one([both, answer("clear[1]", Value::Null)]);
    assert_eq!((sore.entry.clear.len(), sore.open.len()), (1, 0));
}

#[test]
fn a_block_said_to_be_on_the_lesions_claw_is_believed_when_confirmed() {
    let block = entry(&json!({
        "findings": [{"foot": "RH", "claw": "outer", "disorder": "SU"}],
        "actions": [{"what": "block", "foot": "RH", "claw": "outer"}],
        "flags": [ask("block_on_lesion", "actions[0].claw")],
    }));
    let kept = one([block, answer("actions[0].claw", json!("outer"))]);
    assert!(kept.open.is_empty() && kept.counts.actions == [true]);
}

#[test]
fn a_null_for_what_a_thing_cannot_be_without_takes_it_out() {
    let due = entry(&json!({"due": [{"what": "recheck"}], "flags": [ask("date_open", "due[0].on")]}));
    let kept = one([due, answer("due[0].on", Value::Null)]);
    assert!(kept.entry.due.is_empty() && kept.open.is_empty());
}

#[test]
fn an_answer_that_does_not_fit_is_told_and_changes_nothing() {
    for (field, value) in [
        ("findings[0].claw", json!("purple")),
        ("findings[7].claw", json!("outer")),
        ("findings[7]", Value::Null),
        ("said", json!("other")),
        ("flags", json!([])),
        ("!", json!(1)),
    ] {
        let book = fold([ulcer_and_block(), answer(field, value)]);
        assert_eq!(book.misfits.len(), 1, "{field}");
        assert_eq!(open(&book.entries[0]), ["findings[0].claw"]);
    }
    let book = fold([answer("cow", json!("1")), strike("s", "nobody")]);
    let told: Vec<String> = book.misfits.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "line 1: an answer to entry e, which is not in the log",
            "line 2: a strike of entry nobody, which is not in the log"
        ]
    );
}

#[test]
fn a_strike_counts_until_it_is_struck_itself() {
    assert!(one([ulcer_and_block(), strike("s", "e")]).struck.is_some());
    assert!(one([ulcer_and_block(), strike("s", "e"), strike("t", "s")]).struck.is_none());
    assert!(one([ulcer_and_block(), strike("s", "e"), strike("t", "s"), strike("u", "t")]).struck.is_some());
}

/// Logs that were put together by hand in the wrong order, or with lines that stand twice.
#[test]
fn what_comes_before_its_entry_is_applied_all_the_same() {
    let kept = one([answer("findings[0].claw", json!("outer")), strike("s", "e"), ulcer_and_block()]);
    assert_eq!((kept.entry.findings[0].claw, kept.struck.is_some()), (Some(Claw::Outer), true));
    let kept = one([ulcer_and_block(), strike("s", "e"), strike("s", "e"), ulcer_and_block()]);
    assert_eq!(kept.struck.as_deref(), Some("twice"));
}

#[test]
fn a_cow_that_stays_unknown_stays_a_question() {
    let none = entry(&json!({"cow": null, "clear": ["LF"], "flags": [ask("cow_missing", "cow")]}));
    let kept = one([none.clone(), answer("cow", Value::Null)]);
    assert_eq!(open(&kept), ["cow"]);
    let kept = one([none, answer("cow", json!("412"))]);
    assert!(kept.open.is_empty() && kept.counts.cow);
}

/// Two readings of a note can differ by a thing that only the other one has.
#[test]
fn one_thing_more_is_asked_where_it_would_stand() {
    let wart = json!({"foot": "RH", "disorder": "DD"});
    let more = entry(&json!({
        "findings": [{"foot": "LH", "disorder": "SU"}],
        "flags": [ask("claw_missing", "findings[0].claw"), ask("two_readings", "findings[1]"), ask("two_readings", "findings[2]")],
    }));
    let kept = one([more.clone(), answer("findings[0]", Value::Null)]);
    assert_eq!(open(&kept), ["findings[1]", "findings[2]"], "to take one out answers nothing about the others");
    let kept = one([more.clone(), answer("findings[1]", Value::Null), answer("findings[2]", wart.clone())]);
    assert_eq!((kept.entry.findings.len(), open(&kept)), (2, vec!["findings[0].claw"]));
    let kept = one([more.clone(), answer("findings[1]", wart.clone()), answer("findings[2]", Value::Null)]);
    assert_eq!(kept.entry.findings.len(), 2);
    let book = fold([more, answer("findings[99]", wart)]);
    assert_eq!(book.misfits.len(), 1, "what nobody asked about is not there");
}

#[test]
fn an_answer_that_leaves_a_gap_leaves_the_question() {
    let kept = one([
        entry(&json!({
            "findings": [{"foot": "LH", "claw": "outer", "disorder": "SU"}],
            "flags": [ask("two_readings", "findings[0].claw")],
        })),
        answer("findings[0].claw", Value::Null),
    ]);
    assert_eq!((open(&kept), kept.open[0].kind), (vec!["findings[0].claw"], FlagKind::ClawMissing));
}

/// A log on disk gives what one in memory does, whichever way it is read.
#[test]
fn entries_of_a_file_are_those_of_the_records() {
    let folder = tempfile::TempDir::new().unwrap();
    let path = folder.path().join("log.jsonl");
    let other = entry(&json!({"id": "o", "visit": "w"}));
    let records =
        [ulcer_and_block(), other, answer("findings[0].claw", json!("outer")), strike("s", "e"), strike("t", "nobody")];
    let text: Vec<String> = records.iter().map(Record::line).collect();
    std::fs::write(&path, text.join("\n") + "\n{\"v\":1,").unwrap();
    let book = fold(records);
    let mut entries = Vec::new();
    let mut problems = 0;
    let rest = each(&path, |_| problems += 1, |line, kept| entries.push((line, kept))).unwrap();
    assert_eq!((problems, rest.misfits, rest.strikes), (1, book.misfits, book.strikes));
    let told = |e: &Kept| (e.line.id.clone(), e.entry.clone(), e.struck.clone());
    assert_eq!(
        entries.iter().map(|e| told(&e.1)).collect::<Vec<_>>(),
        book.entries.iter().map(told).collect::<Vec<_>>()
    );
    assert_eq!(entries.iter().map(|e| e.0).collect::<Vec<_>>(), [1, 2]);
    let of_visit = of_visit(&path, "v").unwrap();
    assert_eq!(of_visit.iter().map(told).collect::<Vec<_>>(), [told(&book.entries[0])]);
}
