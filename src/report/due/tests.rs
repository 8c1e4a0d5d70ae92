//! What stands open after a few entries of one cow.

use serde_json::{Value, json};

use super::*;
use crate::log::fold::fold;
use crate::log::read;
use crate::report::Scope;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Entries of cow 7, each on its day.
pub(in crate::report) fn material(entries: &[(&str, Value)]) -> Material {
    let mut text = String::new();
    for (i, (date, entry)) in entries.iter().enumerate() {
        let at = format!("{date}T09:00:00Z");
        let mut line = json!({"v":1,"kind":"entry","id":format!("e{i}"),"at":at,"visit":date,"cow":"7","said":""});
        line.as_object_mut().unwrap().extend(entry.as_object().unwrap().clone());
        text +=
            &format!("{}\n{line}\n", json!({"v":1,"kind":"visit","id":date,"at":at,"farm":"Juniper Flat","date":date}));
    }
    let log = read::read("log", text.as_bytes()).unwrap();
    assert!(log.problems.is_empty(), "{:?}", log.problems);
    Material::of(&fold(log.records), Scope::default())
}

fn list(entries: &[(&str, Value)]) -> DueList {
    due(&material(entries), &HashMap::new(), &Rules::default(), day("2026-03-20"))
}

fn open(entries: &[(&str, Value)]) -> Vec<String> {
    let short = |i: &Item| {
        let rule = if i.by_rule { " rule" } else { "" };
        format!(
            "{} {}{}{rule}",
            i.on,
            i.what.code(),
            i.foot.map_or("", |f| match f {
                Foot::RH => " RH",
                Foot::LH => " LH",
                Foot::LF => " LF",
                Foot::RF => " RF",
            })
        )
    };
    list(entries).items.iter().map(short).collect()
}

fn ulcer() -> (&'static str, Value) {
    let finding = json!([{"foot":"RH","claw":"outer","disorder":"SU"}]);
    let actions = json!([{"what":"block","foot":"RH","claw":"inner"},{"what":"wrap","foot":"RH"}]);
    ("2026-01-01", json!({"findings": finding, "actions": actions}))
}

#[test]
fn defaults_hold_where_nothing_was_said() {
    assert_eq!(
        open(&[ulcer()]),
        ["2026-01-04 wrap_off RH rule", "2026-01-29 block_off RH rule", "2026-01-31 recheck RH rule"]
    );
    assert_eq!(list(&[ulcer()]).items[1].until, day("2026-02-12"));
}

#[test]
fn what_was_said_goes_before_the_rule() {
    let mut entry = ulcer();
    entry.1["due"] = json!([
        {"what":"recheck","on":"2026-01-20","foot":"RH"},
        {"what":"block_off","on":"2026-02-01"},
        {"what":"wrap_off","on":"2026-01-03","foot":"RH"}
    ]);
    assert_eq!(open(&[entry]), ["2026-01-03 wrap_off RH", "2026-01-20 recheck RH", "2026-02-01 block_off RH"]);
    let later = ("2026-01-02", json!({"due":[{"what":"block_off","on":"2026-01-10","foot":"RH"}]}));
    assert!(open(&[ulcer(), later]).contains(&"2026-01-10 block_off RH".to_owned()));
}

#[test]
fn each_thing_is_settled_by_its_own_deed_at_its_own_place() {
    let unblock = |foot: &str| ("2026-01-30", json!({"actions":[{"what":"unblock","foot":foot}]}));
    assert_eq!(open(&[ulcer(), unblock("LH")]).len(), 3);
    assert_eq!(open(&[ulcer(), unblock("RH")]), ["2026-01-04 wrap_off RH rule", "2026-01-31 recheck RH rule"]);
    let unwrap = ("2026-01-03", json!({"actions":[{"what":"unwrap","foot":"RH","lost":true}]}));
    assert_eq!(open(&[ulcer(), unwrap]).len(), 2);
}

#[test]
fn a_clean_or_healed_foot_settles_all_and_devices_are_told() {
    for entry in [json!({"clear":["RH"]}), json!({"findings":[{"foot":"RH","disorder":"SU","course":"healed"}]})] {
        let all = list(&[ulcer(), ("2026-01-20", entry)]);
        assert_eq!((all.items.len(), all.silent.len()), (0, 2));
    }
    let two = json!({"findings":[{"foot":"RH","disorder":"SU","course":"healed"},{"foot":"RH","disorder":"DD"}]});
    assert_eq!(open(&[ulcer(), ("2026-01-20", two)]).len(), 3, "something is left on the foot, and it is too soon");
}

#[test]
fn a_recheck_is_one_near_its_day_and_begins_anew_while_the_ulcer_is_open() {
    let again = json!({"findings":[{"foot":"RH","claw":"outer","disorder":"SU","course":"healing"}]});
    assert!(open(&[ulcer(), ("2026-01-10", again.clone())]).contains(&"2026-01-31 recheck RH rule".to_owned()));
    assert!(open(&[ulcer(), ("2026-01-28", again)]).contains(&"2026-02-27 recheck RH rule".to_owned()));
}

#[test]
fn a_vet_call_is_open_until_the_foot_is_well() {
    let call = ("2026-01-01", json!({"findings":[{"foot":"LH","disorder":"SW"}],"actions":[{"what":"vet"}]}));
    assert_eq!(open(std::slice::from_ref(&call)), ["2026-01-01 vet LH"]);
    assert_eq!(open(&[call.clone(), ("2026-01-05", json!({"clear":["RH"]}))]), ["2026-01-01 vet LH"]);
    assert!(open(&[call, ("2026-01-05", json!({"clear":["LH"]}))]).is_empty());
}

#[test]
fn routine_trims_by_days_in_milk_and_before_dry_off() {
    let (herd, _) = crate::report::herd_file::read(
        "herd.csv",
        "tag,calved,dry\n7,2026-01-01,\n8,2025-12-01,\n9,2025-06-01,2026-04-01\n10,2026-03-01,\n11,2025-01-01,\n",
    );
    let seen = ("2026-03-05", json!({"actions":[{"what":"trim"}]}));
    let trims = |seen: &[(&str, Value)]| {
        let all = due(&material(seen), &herd, &Rules::default(), day("2026-03-20"));
        all.items.into_iter().map(|i| (i.cow, i.why)).collect::<Vec<_>>()
    };
    let eight = ("8".to_owned(), "109 days in milk".to_owned());
    let nine = ("9".to_owned(), "dry-off wed 1 apr 2026".to_owned());
    let seven = ("7".to_owned(), "78 days in milk".to_owned());
    assert_eq!(trims(&[]), [eight.clone(), seven, nine.clone()]);
    assert_eq!(trims(&[seen]), [eight, nine]);
}
