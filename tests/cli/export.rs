//! `export`: flat rows, and ADE events by their required fields; by the schemas too where they are at hand.

use serde_json::{Value, json};

use crate::case::Case;

const LOG: &str = include_str!("../../demo/log.jsonl");

fn demo() -> Case {
    Case::new().with("log.jsonl", LOG)
}

#[test]
fn the_demo_is_as_shown() {
    demo().run(&["export"]).code(0).out(include_str!("../../demo/export.csv"));
    demo().run(&["export", "--ade"]).code(0).out(include_str!("../../demo/events.json"));
}

#[test]
fn one_row_a_finding_and_one_an_action() {
    let ran = demo().run(&["export", "--csv"]).code(0).err("log: log.jsonl\n");
    let lines: Vec<&str> = ran.stdout().lines().collect();
    assert_eq!(
        lines[..3],
        [
            "entry,date,farm,trimmer,cow,kind,foot,claw,zones,disorder,severity,stage,course,certain,what,material,\
             agent,lost",
            "747f798eae9406de,2026-03-12,Juniper Flat,Ines Calloway,412,finding,RH,outer,4,SU,,,,true,,,,",
            "747f798eae9406de,2026-03-12,Juniper Flat,Ines Calloway,412,action,RH,inner,,,,,,,block,rubber,,",
        ]
    );
    let count = |kind: &str| lines.iter().filter(|l| l.contains(kind)).count();
    // Twenty findings (`means_what_a_careful_reader_takes_from_it`); 7 blocks, 4 wraps, 2 wraps and 1 block off, 2
    // drained, 1 trimmed, 1 topical, 1 to the vet.
    assert_eq!((count(",finding,"), count(",action,")), (20, 19));
    assert!(ran.stdout().contains(",56,finding,RH,outer,,TN,,,,false,,,,\n"));
}

fn events() -> Vec<Value> {
    let ran = demo().run(&["export", "--ade"]).code(0).err(
        "log: log.jsonl\nthe standard has no event for: 1 finding that was not certain; 1 healed lesion; 1 referral to \
         the vet\n",
    );
    serde_json::from_str(ran.stdout()).unwrap()
}

#[test]
fn events_have_what_the_standard_asks_for() {
    let events = events();
    // 18 cows with findings, 56 with a doubtful one only; of 19 things done one was to call the vet.
    assert_eq!(events.len(), 17 + 18);
    for e in &events {
        assert!(e["resourceType"].is_string() && e["id"].is_string(), "{e}");
        assert!(e["animal"]["id"].is_string() && e["animal"]["scheme"].is_string(), "{e}");
        assert!(e["eventDateTime"].as_str().unwrap().ends_with('Z'), "{e}");
    }
    let first = &events[0]["diagnoses"][0];
    assert_eq!(
        (&first["site"], &first["positions"]),
        (&json!("right hind, outer claw, zone 4"), &json!([{"position": "LegsRearRight"}]))
    );
    assert!(events.iter().all(|e| e.get("withdrawals").is_none() && e.get("dose").is_none()), "never computed");
}

/// Gives what a schema refers to.
fn references(schema: &Value, with: &mut impl FnMut(&str)) {
    match schema {
        Value::Object(fields) => fields.iter().for_each(|(name, value)| match value {
            Value::String(to) if name == "$ref" => with(to),
            value => references(value, with),
        }),
        Value::Array(all) => all.iter().for_each(|v| references(v, with)),
        _ => {}
    }
}

/// The schemas of the standard stand beside the project where it is developed.
#[test]
fn events_are_valid_by_the_schemas_of_the_standard() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/icar-ade");
    if !folder.join("resources").is_dir() {
        eprintln!("not looked at: {} is not there", folder.display());
        return;
    }
    // The two events and all that they refer to; other parts of the standard were not kept whole.
    let mut registry = jsonschema::Registry::new();
    let mut wanted = vec![
        "resources/icarDiagnosisEventResource.json".to_owned(),
        "resources/icarTreatmentEventResource.json".to_owned(),
    ];
    let mut at = 0;
    while let Some(name) = wanted.get(at).cloned() {
        at += 1;
        let schema: Value = if name == "types/icarLocationIdentifierType.json" {
            // Referred to and not kept: an identifier as any other.
            json!({"$ref": "../types/icarIdentifierType.json"})
        } else {
            let text = std::fs::read_to_string(folder.join(&name)).unwrap_or_else(|e| panic!("{name}: {e}"));
            serde_json::from_str(&text).unwrap()
        };
        references(&schema, &mut |to| {
            let here = name.split('/').next().unwrap();
            let full = to.strip_prefix("../").map_or_else(|| format!("{here}/{to}"), str::to_owned);
            if !wanted.contains(&full) {
                wanted.push(full);
            }
        });
        registry = registry.add(format!("https://ade.example/{name}"), schema).unwrap();
    }
    assert!(wanted.len() > 15, "{wanted:?}");
    let registry = registry.prepare().unwrap();
    let of = |resource: &str| {
        let schema = json!({"$ref": format!("https://ade.example/resources/{resource}.json")});
        jsonschema::options().with_registry(&registry).build(&schema).unwrap()
    };
    let (diagnosis, treatment) = (of("icarDiagnosisEventResource"), of("icarTreatmentEventResource"));
    for e in events() {
        let schema = if e["resourceType"] == "icar:DiagnosisEvent" { &diagnosis } else { &treatment };
        let wrong: Vec<String> = schema.iter_errors(&e).map(|w| w.to_string()).collect();
        assert!(wrong.is_empty(), "{wrong:?}\n{e}");
        let mut without = e.clone();
        without.as_object_mut().unwrap().remove("animal");
        assert!(!schema.is_valid(&without), "a check that cannot fail is none");
    }
}

#[test]
fn a_number_that_no_chip_can_have_is_told() {
    let case = Case::new().with("a.txt", "cow 276274877906944 clean all four, trimmed\n");
    case.run(&["note", "--on", "2026-03-01", "a.txt"]).code(0);
    let ran = case.run(&["export", "--ade"]).code(0);
    assert!(ran.stderr().contains("above 274877906943 (ISO 11784): it is given as a tag"), "{}", ran.stderr());
    assert!(ran.stdout().contains("\"local.tag\""), "{}", ran.stdout());
}

#[test]
fn an_empty_log_is_told_and_gives_an_empty_list() {
    let case = Case::new().with("log.jsonl", "");
    case.run(&["export", "--ade"]).code(0).out("[]\n").err("log: log.jsonl\nthe log has no entries yet\n");
}

/// What was written up later happened on the day of the visit.
#[test]
fn an_old_visit_has_its_own_day() {
    let case = Case::new().at("2026-03-20T23:30:00-05:00").with("a.txt", "cow 8 clean all four, trimmed\n");
    case.run(&["note", "--on", "2026-03-01", "a.txt"]).code(0);
    case.run(&["export", "--ade"]).code(0).out_has("\"eventDateTime\": \"2026-03-01T12:00:00Z\"");
}

#[test]
fn what_is_open_or_struck_is_left_out_and_told() {
    let case = Case::new().with("a.txt", "cow 8, left hind ulcer, block on\n");
    case.run(&["note", "--on", "2026-03-01", "a.txt"]).code(0);
    let ran = case.run(&["export"]).code(0);
    assert!(!ran.stdout().contains("finding"), "{}", ran.stdout());
    assert!(ran.stderr().contains("left out: "), "{}", ran.stderr());
}
