//! Reads notes with other prices and margins than the built-in ones, one JSON entry a line, for measuring:
//! A line with tabs holds several hearings of one note.
//! `cargo run --release --example tune -- NOTES ROSTER margin=40 dear=24`

use chutescribe::matches::Tuning;
use chutescribe::roster::Roster;
use chutescribe::{Reader, vocab::Vocabulary};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let notes = std::fs::read_to_string(args.next().ok_or("notes, a roster, then price=number")?)?;
    let herd = args.next().ok_or("a roster after the notes")?;
    let mut prices: toml::Table = include_str!("../vocab/tuning.toml").parse()?;
    for set in args {
        let (price, number) = set.split_once('=').ok_or("price=number")?;
        prices.insert(price.to_owned(), toml::Value::Integer(number.parse()?));
    }
    let tuning: Tuning = prices.try_into()?;
    let reader = Reader::tuned(Vocabulary::built_in(), tuning)
        .with_roster(Roster::read(&herd, &std::fs::read_to_string(&herd)?).0);
    let visit = chrono::NaiveDate::from_ymd_opt(2026, 3, 12).ok_or("a date")?;
    for (n, note) in notes.lines().enumerate() {
        let hearings: Vec<&str> = note.split('\t').collect();
        for entry in reader.read_hearings(&hearings, visit, None).entries {
            let mut line = serde_json::to_value(&entry)?;
            line["source"] = serde_json::json!({ "line": n + 1 });
            println!("{line}");
        }
    }
    Ok(())
}
