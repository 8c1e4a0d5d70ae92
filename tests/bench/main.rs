//! The inputs of the benchmarks mean what their generator says: figures of notes that nobody understood would be of
//! no use.

use std::fs;

use assert_cmd::Command;
use chutescribe::Reader;
use chutescribe::vocab::Vocabulary;
use serde_json::Value;
use tempfile::TempDir;

#[path = "../../benches/inputs/mod.rs"]
#[allow(dead_code, reason = "the suite needs the rest")]
mod inputs;

use inputs::notes::{DAY, Note, Notes};

/// The entry as the generator states it, and whether it asks.
fn read(reader: &Reader, note: &Note) -> (Value, bool) {
    let reading = reader.read(&note.said, DAY, None);
    assert_eq!(reading.entries.len(), 1, "{}", note.said);
    let asks = reading.entries[0].questions().next().is_some();
    let mut entry = serde_json::to_value(&reading.entries[0]).unwrap();
    for field in ["said", "assumed", "flags"] {
        entry.as_object_mut().unwrap().remove(field);
    }
    (entry, asks)
}

#[test]
fn clean_notes_parse_to_what_was_meant() {
    let reader = Reader::new(Vocabulary::built_in());
    let mut notes = Notes::new(7);
    for _ in 0..2000 {
        let note = notes.clean();
        assert_eq!(read(&reader, &note), (note.meant.clone(), false), "{}", note.said);
    }
}

/// Not one is taken for something else unasked, and nearly all are understood without a question.
#[test]
fn heard_notes_parse_to_what_was_meant_or_ask() {
    let reader = Reader::new(Vocabulary::built_in());
    let mut notes = Notes::new(7);
    let mut right = 0;
    for _ in 0..500 {
        let note = notes.heard();
        let (entry, asks) = read(&reader, &note);
        right += usize::from(entry == note.meant && !asks);
        assert!(asks || entry == note.meant, "{}\n{entry}\n{}", note.said, note.meant);
    }
    assert!(right >= 450, "{right} of 500");
}

#[test]
fn the_same_seed_makes_the_same_notes() {
    let some = |seed| {
        let mut notes = Notes::new(seed);
        (0..50).map(|_| notes.heard().said).collect::<Vec<_>>()
    };
    assert_eq!(some(3), some(3));
    assert_ne!(some(3), some(4));
}

#[test]
fn a_long_note_has_its_words_and_all_of_its_cows() {
    let reader = Reader::new(Vocabulary::built_in());
    let note = Notes::new(7).long(1000);
    assert!((1000..1030).contains(&note.split(' ').count()));
    assert_eq!(reader.read(&note, DAY, None).entries.len(), note.matches("cow ").count());
}

#[test]
fn lines_of_the_notebook_are_headings_notes_and_others_as_they_were_made() {
    const LINES: u64 = 5000;
    let folder = TempDir::new().unwrap();
    let mut text = Vec::new();
    inputs::notebook::write(LINES, 7, &mut text).unwrap();
    fs::write(folder.path().join("old.txt"), &text).unwrap();
    let ran = Command::new(assert_cmd::cargo::cargo_bin!("chutescribe"))
        .args(["notebook", "--json", "--log", "log.jsonl", "old.txt"])
        .env("XDG_DATA_HOME", folder.path().join("data"))
        .current_dir(folder.path())
        .assert()
        .success();
    let text = String::from_utf8(text).unwrap();
    let others = text.lines().filter(|l| inputs::notebook::OTHER.contains(l)).count();
    let notes = LINES as usize - (LINES / inputs::notebook::VISIT) as usize - others;
    let mut lines = std::collections::BTreeSet::new();
    let mut got = std::collections::BTreeMap::<String, usize>::new();
    for line in String::from_utf8_lossy(&ran.get_output().stdout).lines() {
        let record: Value = serde_json::from_str(line).unwrap();
        let kind = record["kind"].as_str().unwrap_or_default().to_owned();
        if kind == "entry" {
            lines.insert(record["source"]["line"].as_u64());
        }
        *got.entry(kind).or_default() += 1;
    }
    assert_eq!((lines.len(), got["other"]), (notes, others), "{got:?}");
}
