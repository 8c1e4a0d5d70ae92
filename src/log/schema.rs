//! The JSON Schema of a line, made from the types: `grammar/log.schema.json` is what it gives, and says what the
//! reader accepts. After a change that is meant: `UPDATE_SCHEMA=1 cargo test --lib log::schema`.

use std::path::Path;

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, SchemaGenerator};
use serde_json::{Value, json};

use super::read;
use super::record::{AnswerLine, EntryLine, StrikeLine, VERSION, VisitLine};

const FILE: &str = "grammar/log.schema.json";

/// One kind of line: `kind` is what it says it is, and a seal may end it.
fn kind<T: JsonSchema>(generator: &mut SchemaGenerator, name: &str) -> Value {
    let mut schema = serde_json::to_value(T::json_schema(generator)).unwrap();
    schema["properties"]["v"] = json!({"const": VERSION});
    schema["properties"]["kind"] = json!({"const": name});
    schema["properties"]["seal"] = json!({
        "description": "What a changed or a lost line is noticed by; the last member of the line.",
        "type": "string",
        "pattern": "^[0-9a-f]{16}-[0-9a-f]{16}$",
    });
    schema
}

fn schema() -> Value {
    let mut generator = SchemaGenerator::new(SchemaSettings::draft2020_12());
    let visit = kind::<VisitLine>(&mut generator, "visit");
    let entry = kind::<EntryLine>(&mut generator, "entry");
    let answer = kind::<AnswerLine>(&mut generator, "answer");
    let strike = kind::<StrikeLine>(&mut generator, "strike");
    let mut defs = generator.take_definitions(true);
    // Each kind says its own name instead.
    defs.remove("LineKind");
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A line of a chutescribe log",
        "description": "Made from the program's types: what its reader accepts. grammar/log.md says what a writer must do.",
        "anyOf": [visit, entry, answer, strike, {
            "description": "A kind that this version does not know: kept and passed through.",
            "type": "object",
            "properties": {
                "v": {"const": VERSION},
                "kind": {"type": "string", "not": {"enum": ["visit", "entry", "answer", "strike"]}},
            },
            "required": ["v", "kind"],
        }],
        "$defs": defs,
    })
}

#[test]
fn the_schema_in_the_repository_is_that_of_the_types() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(FILE);
    let now = serde_json::to_string_pretty(&schema()).unwrap() + "\n";
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, &now).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == now, "{FILE} is not what the types say: UPDATE_SCHEMA=1 cargo test --lib log::schema");
}

/// Lines that fit the schema are read, and others are not.
#[test]
fn the_schema_and_the_reader_are_of_one_mind() {
    let schema = jsonschema::validator_for(&schema()).unwrap();
    let visit = r#""v":1,"kind":"visit","id":"a","at":"2026-03-12T09:00:00Z","date":"2026-03-12""#;
    let entry = r#""v":1,"kind":"entry","id":"a","at":"2026-03-12T09:00:00Z","visit":"b","said":"x""#;
    let others = [
        format!("{{{visit}}}"),
        format!("{{{visit},\"mood\":{{}}}}"),
        format!("{{{entry}}}"),
        format!("{{{entry},\"cow\":null}}"),
        format!("{{{entry},\"cow\":12}}"),
        format!("{{{entry},\"cow\":\"12\",\"findings\":[{{\"foot\":\"XX\"}}]}}"),
        format!("{{{entry},\"findings\":[{{\"zones\":[300]}}]}}"),
        format!("{{{entry},\"findings\":[{{\"zones\":[-1]}}]}}"),
        format!("{{{entry},\"findings\":[{{\"stage\":\"M4.1\",\"mood\":3}}]}}"),
        format!("{{{entry},\"actions\":[{{\"foot\":\"LH\"}}]}}"),
        format!("{{{entry},\"clear\":[\"LF\",null]}}"),
        format!("{{{entry},\"measures\":[{{\"what\":\"toe_length\",\"value\":\"75\",\"unit\":\"mm\"}}]}}"),
        format!("{{{entry},\"due\":[{{\"what\":\"recheck\"}}]}}"),
        format!(
            "{{{entry},\"flags\":[{{\"level\":\"ask\",\"kind\":\"weather\",\"field\":\"cow\",\"message\":\"?\"}}]}}"
        ),
        format!("{{{entry},\"source\":{{\"line\":3}}}}"),
        format!("{{{entry},\"source\":{{\"file\":\"x\"}}}}"),
        visit.replace("\"date\"", "\"day\""),
        "{\"v\":1,\"kind\":\"weather\"}".to_owned(),
        "{\"v\":2,\"kind\":\"weather\"}".to_owned(),
        "{\"kind\":\"weather\"}".to_owned(),
        "[1]".to_owned(),
    ];
    let (mut fit, mut not) = (0, 0);
    let demo = include_str!("../../demo/log.jsonl");
    let book = include_str!("../../grammar/log.md").lines().filter(|l| l.starts_with("{\"v\":"));
    for line in others.iter().map(String::as_str).chain(demo.lines()).chain(book) {
        let fits = serde_json::from_str::<Value>(line).is_ok_and(|value| schema.is_valid(&value));
        let read = read::record(line.as_bytes());
        assert_eq!(fits, read.is_ok(), "{line}\n{read:?}");
        fit += usize::from(fits);
        not += usize::from(!fits);
    }
    assert!(fit >= 45 && not >= 12, "{fit} fit, {not} do not");
}
