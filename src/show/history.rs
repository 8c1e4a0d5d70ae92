//! What was said of one cow, asked, answered and struck, and when.

use super::lines::hang;
use crate::log::record::{EntryLine, Record, Stamp};

const TIME: usize = 18;
const DEED: usize = 10;

/// The records of one entry, one after the other; `id` is hers.
pub fn history(id: &str, records: &[Record]) -> String {
    let mut out = String::new();
    for record in records {
        match record {
            Record::Entry(line) => said(&mut out, line),
            Record::Answer(a) => {
                let value = a.value.as_str().map_or_else(|| a.value.to_string(), str::to_owned);
                row(&mut out, Some(a.at), "answered", &format!("{}: {value}", a.field));
            }
            Record::Strike(s) if s.entry == id => {
                row(&mut out, Some(s.at), "struck", &format!("{} (strike {})", s.why, s.id));
            }
            Record::Strike(s) => {
                let told = format!("strike {} taken back: {} (strike {})", s.entry, s.why, s.id);
                row(&mut out, Some(s.at), "unstruck", &told);
            }
            Record::Visit(_) | Record::Unknown { .. } => {}
        }
    }
    out
}

fn said(out: &mut String, line: &EntryLine) {
    let source = line.source.as_ref().map_or(String::new(), |s| {
        s.file.as_ref().map_or_else(|| format!(" (note {})", s.line), |file| format!(" ({file}, line {})", s.line))
    });
    row(out, Some(line.at), "said", &format!("{}{source}", line.entry.said));
    for flag in &line.entry.flags {
        row(out, None, if flag.asks() { "asked" } else { "noted" }, &flag.message);
    }
}

fn row(out: &mut String, at: Option<Stamp>, deed: &str, text: &str) {
    let at = at.map_or(String::new(), |at| at.format("%Y-%m-%d %H:%M").to_string());
    out.push_str(&hang(&format!("{at:<TIME$}{deed:<DEED$}"), text));
}
