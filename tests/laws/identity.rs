//! An entry that is written and read again is the same entry.

use chrono::NaiveDate;
use chutescribe::Entry;
use chutescribe::anatomy::{Claw, Foot};
use chutescribe::disorder::{Course, Disorder, Stage};
use chutescribe::entry::{Act, Action, After, Due, DueWhat, Finding, Measure, MeasureKind, Scale, Score};
use chutescribe::flag::{Flag, FlagKind, Level};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use crate::cases;

fn foot() -> impl Strategy<Value = Foot> {
    select(&Foot::ALL[..])
}

fn claw() -> impl Strategy<Value = Claw> {
    select(vec![Claw::Outer, Claw::Inner])
}

fn date() -> impl Strategy<Value = NaiveDate> {
    (1900_i32..2400, 1_u32..=366).prop_filter_map("a real date", |(y, d)| NaiveDate::from_yo_opt(y, d))
}

fn list<T: std::fmt::Debug>(one: impl Strategy<Value = T>) -> impl Strategy<Value = Vec<T>> {
    prop::collection::vec(one, 0..4)
}

fn score() -> impl Strategy<Value = Score> {
    (select(vec![Scale::Locomotion, Scale::Mobility]), any::<u64>(), of(Just(After::After)))
        .prop_map(|(scale, value, when)| Score { scale, value, when })
}

fn finding() -> impl Strategy<Value = Finding> {
    let stages = vec![Stage::M0, Stage::M1, Stage::M2, Stage::M3, Stage::M4, Stage::M41];
    let courses = vec![Course::Healed, Course::Healing, Course::Open, Course::Worse];
    let what = (of(foot()), of(claw()), list(any::<u8>()), of(select(Disorder::ALL)));
    let how = (of(1_u8..=3), of(select(stages)), of(select(courses)), of(any::<bool>()));
    (what, how).prop_map(|((foot, claw, zones, disorder), (severity, stage, course, certain))| Finding {
        foot,
        claw,
        zones,
        disorder,
        severity,
        stage,
        course,
        certain,
    })
}

fn action() -> impl Strategy<Value = Action> {
    let acts = vec![
        Act::Trim,
        Act::Pare,
        Act::Drain,
        Act::Block,
        Act::Unblock,
        Act::Wrap,
        Act::Unwrap,
        Act::Topical,
        Act::Vet,
    ];
    (select(acts), of(foot()), of(claw()), of(".*"), of(".*"), any::<bool>())
        .prop_map(|(what, foot, claw, material, agent, lost)| Action { what, foot, claw, material, agent, lost })
}

fn measure() -> impl Strategy<Value = Measure> {
    let kinds =
        vec![MeasureKind::ToeLength, MeasureKind::SoleThickness, MeasureKind::HeelHeight, MeasureKind::ToeAngle];
    let at = of(select(vec!["toe".to_owned(), "heel".to_owned()]));
    (select(kinds), 0_u32..100_000, of(foot()), of(claw()), at).prop_map(|(what, tenths, foot, claw, at)| Measure {
        what,
        value: f64::from(tenths) / 10.0,
        unit: what.unit().to_owned(),
        foot,
        claw,
        at,
    })
}

fn due() -> impl Strategy<Value = Due> {
    let whats = vec![DueWhat::Recheck, DueWhat::BlockOff, DueWhat::WrapOff];
    (select(whats), of(date()), of(foot())).prop_map(|(what, on, foot)| Due { what, on, foot })
}

fn flag() -> impl Strategy<Value = Flag> {
    let kinds = vec![FlagKind::CowMissing, FlagKind::BlockOnLesion, FlagKind::HearingsDiffer, FlagKind::Unread];
    let option = prop_oneof![
        Just(serde_json::Value::Null),
        any::<u8>().prop_map(serde_json::Value::from),
        ".*".prop_map(serde_json::Value::from),
        list(any::<u8>()).prop_map(serde_json::Value::from),
    ];
    let place = of((any::<u16>(), any::<u16>()).prop_map(|(a, b)| [usize::from(a), usize::from(b)]));
    (select(vec![Level::Ask, Level::Note]), select(kinds), ".*", ".*", list(option), place)
        .prop_map(|(level, kind, field, message, options, at)| Flag { level, kind, field, message, options, at })
}

/// Fields of a later version, which are passed through.
fn other() -> impl Strategy<Value = serde_json::Map<String, serde_json::Value>> {
    let value = prop_oneof![any::<bool>().prop_map(serde_json::Value::from), ".*".prop_map(serde_json::Value::from)];
    prop::collection::btree_map("x_[a-z]{1,8}", value, 0..3).prop_map(|map| map.into_iter().collect())
}

fn entry() -> impl Strategy<Value = Entry> {
    let found = (of(".*"), list(score()), list(finding()), list(action()), list(foot()));
    let more = (list(measure()), list(due()), list(".*"), list(".*"), list(flag()));
    (found, more, ".*", other()).prop_map(
        |((cow, scores, findings, actions, clear), (measures, due, remarks, assumed, flags), said, other)| Entry {
            cow,
            scores,
            findings,
            actions,
            clear,
            measures,
            due,
            remarks,
            assumed,
            flags,
            said,
            other,
        },
    )
}

proptest! {
    #![proptest_config(cases(500))]

    #[test]
    fn an_entry_survives_its_line(entry in entry()) {
        let line = serde_json::to_string(&entry).unwrap();
        prop_assert!(!line.contains('\n'), "one entry is one line");
        let again: Entry = serde_json::from_str(&line).unwrap();
        prop_assert_eq!(&again, &entry);
        prop_assert_eq!(serde_json::to_string(&again).unwrap(), line);
    }

    /// The layout of the log: empty lists and absent fields are left out, and a missing cow is `null`.
    #[test]
    fn what_is_absent_is_left_out(entry in entry()) {
        let line = serde_json::to_value(&entry).unwrap();
        let fields = line.as_object().unwrap();
        prop_assert_eq!(fields.get("cow").is_some_and(serde_json::Value::is_null), entry.cow.is_none());
        for name in ["scores", "findings", "actions", "clear", "measures", "due", "remarks", "assumed", "flags"] {
            prop_assert!(fields.get(name).is_none_or(|list| list.as_array().is_some_and(|l| !l.is_empty())), "{}", name);
        }
        for finding in line["findings"].as_array().into_iter().flatten() {
            prop_assert!(finding.as_object().unwrap().values().all(|v| !v.is_null()), "{}", finding);
        }
    }
}
