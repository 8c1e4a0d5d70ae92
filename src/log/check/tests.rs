//! One sample for every kind of finding, on a small log of one visit.

use chrono::NaiveDate;
use serde_json::{Value, json};

use super::*;
use crate::log::record::{AnswerLine, EntryLine, Stamp, StrikeLine, VisitLine};
use crate::log::{id, read, seal};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn at() -> Stamp {
    Stamp::parse_from_rfc3339("2026-03-12T09:00:00-05:00").unwrap()
}

fn visit(date: &str) -> VisitLine {
    VisitLine::new(Some("Juniper Flat"), day(date), None, at())
}

fn entry_of(visit: &VisitLine, said: &str, fields: &Value) -> EntryLine {
    let id = id::entry(&visit.id, Some("day.txt"), said, 0, 1);
    let mut line = json!({
        "v": 1, "kind": "entry", "id": id, "at": at(), "visit": visit.id, "cow": "12", "said": said,
        "source": {"file": "day.txt", "line": 1},
    });
    for (name, value) in fields.as_object().unwrap() {
        line[name] = value.clone();
    }
    match read::record(line.to_string().as_bytes()) {
        Ok(Record::Entry(entry)) => *entry,
        other => panic!("{other:?}"),
    }
}

fn entry(said: &str, fields: Value) -> Record {
    Record::Entry(Box::new(entry_of(&visit("2026-03-12"), said, &fields)))
}

/// The lines of a log, sealed.
fn log(records: &[Record]) -> Vec<String> {
    let mut link = 0;
    let next = |record: &Record| {
        let (line, own) = seal::put(&record.line(), link);
        link = own;
        line
    };
    records.iter().map(next).collect()
}

/// Lines and kinds of what is found, each with its message.
fn found(lines: &[String], today: Option<&str>) -> Vec<(usize, Kind, String)> {
    let text = lines.join("\n") + "\n";
    let report = check_twice(text.as_bytes(), text.as_bytes(), today.map(day)).unwrap();
    report.findings.into_iter().map(|f| (f.line, f.kind, f.message)).collect()
}

fn kinds(lines: &[String]) -> Vec<(usize, Kind)> {
    found(lines, None).into_iter().map(|f| (f.0, f.1)).collect()
}

fn small() -> Vec<Record> {
    let entry = entry("cow 12 lh ulcer", json!({"findings": [{"foot": "LH", "disorder": "SU"}]}));
    let id = entry.id().unwrap().to_owned();
    vec![
        Record::Visit(visit("2026-03-12")),
        entry,
        Record::Answer(AnswerLine::new(&id, "findings[0].claw", json!("outer"), at(), |_| false)),
        Record::Strike(StrikeLine::new(&id, "twice", at(), |_| false)),
    ]
}

#[test]
fn a_sound_log_has_nothing_to_find() {
    assert_eq!(found(&log(&small()), Some("2027-01-01")), []);
    let text = log(&small()).join("\r\n");
    let report = check_twice(text.as_bytes(), text.as_bytes(), None).unwrap();
    assert_eq!(report.findings, [], "ends of lines are no change");
    assert_eq!(report.tally, Tally { visits: 1, entries: 1, answers: 1, strikes: 1, no_notes: 0, other: 0, open: 0 });
}

#[test]
fn every_line_that_is_changed_is_named_and_no_other() {
    let lines = log(&small());
    for at in 0..lines.len() {
        let mut changed = lines.clone();
        changed[at] = lines[at].replace("\"v\":1,", "\"v\":1,\"mood\":\"fair\",");
        assert_eq!(kinds(&changed), [(at + 1, Kind::Changed)]);
    }
}

#[test]
fn where_lines_were_lost_moved_or_put_in_is_told() {
    let lines = log(&small());
    let without = |k: usize| [&lines[..k], &lines[k + 1..]].concat();
    let told = found(&without(2), None);
    assert_eq!(told.len(), 1);
    assert_eq!((told[0].0, told[0].1), (3, Kind::Gap));
    assert!(told[0].2.ends_with("something is missing between lines 2 and 3"), "{}", told[0].2);
    let told: Vec<_> = found(&without(0), None).into_iter().filter(|f| f.1 == Kind::Gap).collect();
    assert_eq!((told.len(), told[0].2.as_str()), (1, "not written as the first line: lines before it are gone"));
    let mut put_in = lines.clone();
    put_in.insert(2, r#"{"v":1,"kind":"weather"}"#.to_owned());
    let told = found(&put_in, None);
    assert_eq!((told[0].0, told[0].1, told[1].0, told[1].1), (3, Kind::Unsealed, 4, Kind::Gap));
    assert!(told[1].2.starts_with("written right after line 2: what stands between was put in"), "{}", told[1].2);
    let mut moved = lines.clone();
    moved.swap(2, 3);
    assert!(kinds(&moved).iter().all(|f| f.1 == Kind::Gap), "{:?}", found(&moved, None));
    assert!(found(&moved, None)[0].2.contains("lines were moved"));
    // What nobody can notice: the end cut off at the end of a line.
    assert_eq!(kinds(&lines[..2]), []);
}

#[test]
fn a_line_laid_out_anew_is_told_and_still_read() {
    let mut lines = log(&small());
    let value: Value = serde_json::from_str(&lines[1]).unwrap();
    lines[1] = serde_json::to_string_pretty(&value).unwrap().replace('\n', "");
    let told = found(&lines, None);
    assert_eq!((told[0].0, told[0].1), (2, Kind::Changed));
    assert_eq!(told.len(), 2, "and the line after it hangs in the air: {told:?}");
}

#[test]
fn lines_that_are_no_records_are_told() {
    let mut lines = log(&small()[..2]);
    lines.push("{\"v\":1,".to_owned());
    lines.push("{\"v\":2,\"kind\":\"entry\"}".to_owned());
    let got = kinds(&lines);
    assert_eq!(got, [(3, Kind::Unreadable), (4, Kind::Newer)]);
    let text = lines[..2].join("\n") + "\n{\"v\":1,\"ki";
    let report = check_twice(text.as_bytes(), text.as_bytes(), None).unwrap();
    assert_eq!((report.findings[0].kind, report.is_bad()), (Kind::Unfinished, false));
}

/// A line that was torn when the power went, and one that is broken now.
#[test]
fn an_interruption_is_told_apart_from_damage() {
    let mut lines = log(&small());
    let torn = "{\"v\":1,\"kind\":\"ent".to_owned();
    let (next, _) = seal::put("{\"v\":1,\"kind\":\"weather\"}", seal::Parts::of(torn.as_bytes()).link());
    lines.extend([torn, next]);
    assert_eq!(kinds(&lines), [(5, Kind::Unfinished)]);
    lines[4].push('e');
    assert_eq!(kinds(&lines), [(5, Kind::Unreadable), (6, Kind::Gap)]);
    lines[1].remove(1);
    assert_eq!(kinds(&lines)[..2], [(2, Kind::Changed), (2, Kind::Unreadable)]);
}

#[test]
fn ids_that_stand_twice_or_are_wrong_are_told() {
    let mut records = small();
    records.push(records[1].clone());
    records.push(entry("cow 12 lh ulcer", json!({"clear": ["LF"]})));
    let Record::Entry(mut other) = entry("cow 13 clean", json!({"cow": "13"})) else { panic!() };
    other.entry.said = "cow 14 clean".to_owned();
    records.push(Record::Entry(other));
    assert_eq!(kinds(&log(&records)), [(5, Kind::Twice), (6, Kind::Twice), (7, Kind::WrongId)]);
    let text = log(&records[..5]).join("\n") + "\n";
    assert!(!check_twice(text.as_bytes(), text.as_bytes(), None).unwrap().is_bad(), "the same line twice does no harm");
}

/// The counters in an id are not in the line.
#[test]
fn ids_of_repeats_are_right() {
    let visit = visit("2026-03-12");
    let mut records = vec![Record::Visit(visit.clone())];
    for (cow, nth) in [(0, 1), (300, 1), (5, 40), (0, 500)] {
        let mut line = entry_of(&visit, "the same", &json!({}));
        line.id = id::entry(&visit.id, Some("day.txt"), "the same", cow, nth);
        records.push(Record::Entry(Box::new(line)));
    }
    assert_eq!(kinds(&log(&records)), []);
}

#[test]
fn what_is_of_nothing_is_told() {
    let mut records = small();
    records.remove(1);
    let strange = entry_of(&visit("2026-03-13"), "cow 5", &json!({}));
    records.push(Record::Entry(Box::new(strange)));
    let got = kinds(&log(&records));
    assert_eq!(got, [(2, Kind::EntryMissing), (3, Kind::EntryMissing), (4, Kind::VisitMissing)]);
    let mut records = small();
    let id = records[1].id().unwrap().to_owned();
    records.push(Record::Answer(AnswerLine::new(&id, "findings[7].claw", json!("outer"), at(), |_| false)));
    assert_eq!(kinds(&log(&records)), [(5, Kind::Misfit)]);
}

#[test]
fn days_that_cannot_be_are_told() {
    let tomorrow = visit("2026-03-20");
    let of_it = Record::Entry(Box::new(entry_of(&tomorrow, "cow 5", &json!({}))));
    assert_eq!(kinds(&log(&[of_it, Record::Visit(tomorrow)])), [(1, Kind::Date), (2, Kind::Date)]);
    assert_eq!(kinds(&log(&[Record::Visit(visit("0206-03-12"))])), [(1, Kind::Date)]);
    // East of here it is tomorrow already.
    assert_eq!(kinds(&log(&[Record::Visit(visit("2026-03-13"))])), []);
}

#[test]
fn what_the_trade_finds_odd_is_told_on_request() {
    let records = [
        Record::Visit(visit("2026-03-12")),
        entry("a", json!({"due": [{"what": "block_off", "on": "2026-04-09", "foot": "LH"}]})),
        entry("b", json!({"clear": ["LF"]})),
        entry("c", json!({"cow": "13", "due": [{"what": "recheck", "on": "2026-03-09"}]})),
        entry("d", json!({"cow": null})),
        entry(
            "e",
            json!({"cow": "14", "scores": [{"scale": "mobility", "value": 4}],
                          "findings": [{"foot": "LH", "disorder": "DD", "zones": [13], "severity": 4}]}),
        ),
    ];
    let lines = log(&records);
    assert_eq!(kinds(&lines), []);
    let got: Vec<_> = found(&lines, Some("2026-04-10")).into_iter().map(|f| (f.0, f.1)).collect();
    let odd = [
        (2, Kind::StillOn),
        (3, Kind::SameCow),
        (4, Kind::DueBefore),
        (5, Kind::CowMissing),
        (6, Kind::Range),
        (6, Kind::Range),
        (6, Kind::Range),
    ];
    assert_eq!(got, odd);
    assert!(found(&lines, Some("2026-04-09")).iter().all(|f| f.1 != Kind::StillOn), "it is due today");
}

#[test]
fn a_block_that_came_off_is_off() {
    let later = VisitLine { at: at(), ..visit("2026-03-13") };
    let on = entry("a", json!({"due": [{"what": "block_off", "on": "2026-04-09", "foot": "LH"}]}));
    let with = |what: &str, foot: &str, cow: &str| {
        let off = entry_of(&later, "off", &json!({"cow": cow, "actions": [{"what": what, "foot": foot}]}));
        let records = [
            Record::Visit(visit("2026-03-12")),
            Record::Visit(later.clone()),
            on.clone(),
            Record::Entry(Box::new(off)),
        ];
        found(&log(&records), Some("2026-05-01")).len()
    };
    assert_eq!(with("unblock", "LH", "12"), 0);
    assert_eq!((with("unblock", "RH", "12"), with("unwrap", "LH", "12"), with("unblock", "LH", "13")), (1, 1, 1));
}

#[test]
fn a_last_line_cut_anywhere_is_unfinished_and_nothing_worse() {
    let lines = log(&small());
    let text = lines.join("\n");
    let last = lines[lines.len() - 1].len();
    for cut in 1..last {
        let text = &text.as_bytes()[..text.len() - cut];
        let report = check_twice(text, text, None).unwrap();
        let kinds: Vec<_> = report.findings.iter().map(|f| (f.line, f.kind)).collect();
        assert_eq!(kinds, [(lines.len(), Kind::Unfinished)], "cut by {cut}");
    }
}
