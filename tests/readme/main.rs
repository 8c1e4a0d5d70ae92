//! What README.md shows is what the program does: its consoles byte for byte, its log lines as they are read.
#![cfg(unix)]

use std::fmt::Write;
use std::fs;

use assert_cmd::Command;
use chutescribe::log::record::Record;
use chutescribe::log::{fold, read};
use tempfile::TempDir;

#[path = "../book/pages.rs"]
#[allow(dead_code, reason = "the grammar book needs the rest")]
mod pages;

const README: &str = include_str!("../../README.md");

fn blocks(fence: &str) -> Vec<pages::Block> {
    pages::blocks("README.md", README).into_iter().filter(|b| b.fence == fence).collect()
}

/// What a shell in `folder` says to `line`.
fn said(folder: &TempDir, line: &str) -> String {
    let program = assert_cmd::cargo::cargo_bin!("chutescribe");
    let path = format!("{}:{}", program.parent().unwrap().display(), std::env::var("PATH").unwrap());
    let output = Command::new("sh")
        .args(["-c", line])
        .env("PATH", path)
        .env("CHUTESCRIBE_LOG", "log.jsonl")
        .env("XDG_DATA_HOME", folder.path().join("data"))
        .env("CHUTESCRIBE_NOW", "2026-03-12T16:20:00-05:00")
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert!(output.status.success(), "`{line}`: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn the_worked_example_is_real() {
    let folder = TempDir::new().unwrap();
    let notes = blocks("text monday.txt");
    fs::write(folder.path().join("monday.txt"), &notes[0].text).unwrap();
    fs::create_dir(folder.path().join("demo")).unwrap();
    fs::write(folder.path().join("demo/log.jsonl"), include_str!("../../demo/log.jsonl")).unwrap();
    fs::write(folder.path().join("old.txt"), &blocks("text old.txt")[0].text).unwrap();
    let mut commands = 0;
    for block in blocks("console") {
        let mut got = String::new();
        for line in block.text.lines().filter_map(|l| l.strip_prefix("$ ")) {
            writeln!(got, "$ {line}").unwrap();
            got += &said(&folder, line);
            commands += 1;
        }
        assert_eq!(got, block.text, "{}", block.place);
    }
    assert_eq!(commands, 9);
}

#[test]
fn the_log_lines_are_read_and_written_as_they_stand() {
    let mut lines = 0;
    for block in blocks("json") {
        let log = read::read("README.md", block.text.as_bytes()).unwrap();
        assert_eq!(log.problems, []);
        for ((_, record), line) in log.records.iter().zip(block.text.lines()) {
            assert_eq!(record.line(), line);
            lines += 1;
        }
        let misfits = fold(log.records).misfits;
        assert!(misfits.is_empty(), "{misfits:?}");
    }
    assert_eq!(lines, 4);
}

/// The table of an entry's fields: each example, put into an entry, is read and written as it stands.
#[test]
fn the_fields_are_read_and_written_as_they_stand() {
    let table = README.split("The fields of an entry").nth(1).unwrap().split("\n## ").next().unwrap();
    let rows: Vec<&str> = table.lines().filter(|l| l.starts_with("| `")).collect();
    assert_eq!(rows.len(), 12);
    for row in rows {
        let cells: Vec<&str> = row.trim_matches('|').split(" | ").map(|c| c.trim().trim_matches('`')).collect();
        let (field, example) = (cells[0], cells[2]);
        let value: serde_json::Value = serde_json::from_str(example).unwrap_or_else(|e| panic!("{example}: {e}"));
        let list = !matches!(field, "cow" | "said" | "source");
        let value = if list { serde_json::json!([value]) } else { value };
        let mut line = serde_json::json!({
            "v": 1, "kind": "entry", "id": "7f401c57bcf4ab3c", "at": "2026-03-12T16:20:00-05:00",
            "visit": "5ccf7890b7e73f4b", "cow": null, "said": "",
        });
        line[field] = value.clone();
        let record = read::record(line.to_string().as_bytes()).unwrap_or_else(|e| panic!("{field}: {e}"));
        let Record::Entry(entry) = &record else { panic!("an entry") };
        assert!(entry.entry.other.is_empty(), "`{field}` is a field that the program does not know");
        let back: serde_json::Value = serde_json::from_str(&record.line()).unwrap();
        assert_eq!(back[field], value, "{field}");
    }
}
