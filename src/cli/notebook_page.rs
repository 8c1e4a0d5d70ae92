//! What a notebook came to, for people or as JSON, while it is read.

use std::collections::HashSet;
use std::path::Path;

use chutescribe::flag::{Flag, FlagKind};
use chutescribe::log::Record;
use chutescribe::log::record::OTHER;
use chutescribe::notebook::answers::Question;
use chutescribe::notebook::{Gone, Item, Visit, unknown_word};
use chutescribe::{Entry, show};
use serde_json::json;

use super::fail::Fail;
use super::notebook_summary::{SHOWN, Summary};
use super::out::Out;

/// Prints as it goes, and counts.
#[derive(Debug)]
pub(crate) struct Page {
    json: bool,
    write: bool,
    order: Option<String>,
    visits: usize,
    cows: usize,
    findings: usize,
    doubtful: usize,
    other: usize,
    bad: usize,
    held: usize,
    added: usize,
    there: usize,
    summary: Summary,
    /// Words that are asked at the end, in small letters.
    words: HashSet<String>,
    /// What was taken for granted about a heading, by line, and how many there are.
    noted: (usize, Vec<(usize, String)>),
}

impl Page {
    /// `open` are the questions that it will end with.
    pub(crate) fn new(json: bool, write: bool, order: Option<String>, open: &[Question]) -> Self {
        Self {
            json,
            write,
            order,
            visits: 0,
            cows: 0,
            findings: 0,
            doubtful: 0,
            other: 0,
            bad: 0,
            held: 0,
            added: 0,
            there: 0,
            summary: Summary::default(),
            words: open.iter().filter_map(|q| q.name.strip_prefix("word ")).map(str::to_lowercase).collect(),
            noted: (0, vec![]),
        }
    }

    /// Entries that the log did not have.
    pub(crate) fn added(&self) -> usize {
        self.added
    }

    /// Entries of visits that are in doubt.
    pub(crate) fn held(&self) -> usize {
        self.held
    }

    /// Items in order; of the entries among them that are not held, `added` tells which the log did not have.
    pub(crate) fn items(&mut self, items: Vec<Item>, added: &[bool], name: &str, out: &mut Out) -> Result<(), Fail> {
        let mut added = added.iter();
        for item in items {
            match item {
                Item::Visit(visit) => {
                    self.visits += 1;
                    self.summary.visit(&visit);
                    for flag in visit.day.flags.iter().filter(|f| !f.asks()) {
                        self.noted.0 += 1;
                        if self.noted.1.len() < SHOWN {
                            self.noted.1.push((visit.line, flag.message.clone()));
                        }
                    }
                    self.visit(&visit, out)?;
                }
                Item::Entries { line, text, entries, held } => {
                    if entries.is_empty() {
                        out.trouble(format_args!("{name}:{line}: there is no word in `{text}`"))?;
                    }
                    if !self.write && !self.json {
                        out.line(&format!("{line:>6}  {text}"))?;
                    }
                    for entry in entries {
                        self.cows += 1;
                        self.findings += entry.entry.findings.len();
                        let asks = entry.entry.questions().count();
                        self.doubtful += usize::from(asks > 0);
                        self.summary.cow();
                        let (shown, words) = self.without_words(&entry.entry);
                        for flag in shown.questions() {
                            self.summary.asked(flag.kind, line);
                        }
                        self.held += usize::from(held);
                        if !held {
                            if added.next() == Some(&true) { self.added += 1 } else { self.there += 1 }
                        }
                        if self.json {
                            out.line(&entry.line())?;
                        } else if !self.write {
                            let mut text = super::read::reading(&shown, "");
                            for word in words {
                                text.push_str(&format!("  ? `{word}` is asked below\n"));
                            }
                            for line in text.lines() {
                                out.line(&format!("        {line}"))?;
                            }
                        }
                    }
                }
                Item::Other { line, text, why, .. } => {
                    self.other += 1;
                    self.summary.other(line, &text);
                    if self.json {
                        out.line(&json!({"kind": OTHER, "line": line, "why": why, "said": text}).to_string())?;
                    } else if !self.write {
                        out.line(&format!(
                            "{line:>6}  {text}\n        ({}: no hoof note, kept as it is)",
                            why.words()
                        ))?;
                    }
                }
                Item::Bad { line, why } => {
                    self.bad += 1;
                    out.trouble(format_args!("{name}:{line}: {why}"))?;
                }
            }
        }
        Ok(())
    }

    /// The entry without what is asked once at the end, and these words. Where a word may be the lesion, what else is
    /// asked about the lesion waits for it.
    fn without_words(&self, entry: &Entry) -> (Entry, Vec<String>) {
        let asked = |flag: &Flag| unknown_word(flag).is_some_and(|w| self.words.contains(&w.to_lowercase()));
        let of_words = entry.flags.iter().filter(|f| asked(f));
        let words: Vec<String> = of_words.filter_map(unknown_word).map(str::to_owned).collect();
        let mut shown = entry.clone();
        if words.is_empty() {
            return (shown, words);
        }
        let hangs = |flag: &Flag| match flag.kind {
            FlagKind::DisorderOpen => true,
            FlagKind::BlockClawMissing => entry.findings.is_empty(),
            _ => false,
        };
        shown.flags.retain(|f| !(asked(f) || f.asks() && hangs(f)));
        (shown, words)
    }

    fn visit(&self, visit: &Visit, out: &mut Out) -> Result<(), Fail> {
        if self.json {
            return match &visit.record {
                Some(record) => out.line(&Record::Visit(record.clone()).line()),
                None => {
                    let (line, day) = (visit.line, &visit.day);
                    out.line(&json!({"kind": "visit", "id": format!("line {line}"), "farm": day.farm, "date": null, "head": day.head, "flags": day.flags, "said": visit.text}).to_string())
                }
            };
        }
        if self.write {
            return Ok(());
        }
        let farm = visit.day.farm.clone().unwrap_or_else(|| "farm not said".to_owned());
        let date = visit.day.date.map_or_else(|| "day not known".to_owned(), show::day);
        let head = visit.day.head.map_or(String::new(), |h| format!(", {h} head"));
        out.line(&format!("\n{:>6}  {}", visit.line, visit.text))?;
        out.line(&format!("        == {farm}, {date}{head}"))?;
        for flag in &visit.day.flags {
            out.line(&format!("          {} {}", if flag.asks() { '?' } else { '!' }, flag.message))?;
        }
        Ok(())
    }

    /// Ends with the counts, and with what is asked.
    pub(crate) fn end(&self, open: &[Question], answers: Option<&Path>, out: &mut Out) -> Result<(), Fail> {
        if self.json {
            for q in open {
                let options: Vec<&str> = q.options.iter().map(|o| o.0.as_str()).collect();
                let lines: Vec<usize> = q.lines.iter().map(|l| l.0).collect();
                out.line(
                    &json!({"kind": "question", "name": q.name, "message": q.text, "lines": lines, "options": options})
                        .to_string(),
                )?;
            }
            return Ok(());
        }
        if !self.write {
            out.line("")?;
        }
        if let Some(order) = &self.order {
            out.line(order)?;
        }
        out.line(&format!(
            "{}, {}, {}; {}; {}",
            show::count(self.visits, "visit", "visits"),
            show::count(self.cows, "cow", "cows"),
            show::count(self.findings, "finding", "findings"),
            show::count(self.doubtful, "entry is doubtful", "entries are doubtful"),
            show::count(self.other, "other line", "other lines"),
        ))?;
        if self.bad > 0 {
            out.line(&format!("{} could not be read", show::count(self.bad, "line", "lines")))?;
        }
        for (line, told) in &self.noted.1 {
            out.line(&format!("  ! line {line}: {told}"))?;
        }
        if self.noted.0 > SHOWN {
            out.line(&format!("  ! and so on: {} were noted", show::count(self.noted.0, "heading", "headings")))?;
        }
        self.summary.farms(out)?;
        self.summary.days(out)?;
        self.summary.questions(out)?;
        for q in open {
            out.line(&format!("  ? {}", q.text))?;
            for (line, text) in &q.lines {
                out.line(&format!("      {line}: {text}"))?;
            }
        }
        if !open.is_empty() {
            match answers {
                Some(path) => out.line(&format!("answer these in {}, and run it again", path.display()))?,
                None => out.line("`--answers FILE` writes these down to be answered")?,
            }
        }
        if self.summary.asks() {
            out.line("what else is asked at the lines is written with its questions: `settle` puts them one by one")?;
        }
        if self.write {
            out.line(&format!("kept {}", show::count(self.added, "entry", "entries")))?;
            if self.there > 0 {
                out.line(&format!("{} in the log already", show::count(self.there, "entry was", "entries were")))?;
            }
            if self.held > 0 {
                out.trouble(format_args!(
                    "{} not written: the day or the farm of the visit is in doubt",
                    show::count(self.held, "entry was", "entries were")
                ))?;
            }
            return Ok(());
        }
        if self.there > 0 {
            out.line(&format!(
                "{} new; {} in the log already",
                show::count(self.added, "entry is", "entries are"),
                show::count(self.there, "entry is", "entries are")
            ))?;
        }
        if self.cows > 0 { out.line("nothing is written yet: `--write` does it") } else { Ok(()) }
    }

    /// Names lines whose entries in the log were understood otherwise, as before shorthand was explained.
    pub(crate) fn otherwise(&self, count: usize, lines: &[usize], out: &mut Out) -> Result<(), Fail> {
        if self.json || count == 0 {
            return Ok(());
        }
        let (entries, are) = (show::count(count, "entry", "entries"), show::plural(count, "is", "are"));
        let named: Vec<String> = lines.iter().map(usize::to_string).collect();
        let more = if count > lines.len() { " …" } else { "" };
        out.line(&format!(
            "{entries} in the log {are} understood otherwise now ({} {}{more}), and {} there as before: `settle` answers \
             what is open",
            show::plural(lines.len(), "line", "lines"),
            named.join(", "),
            show::plural(count, "stays", "stay")
        ))
    }

    /// Names entries of an earlier import that the file does not have any more: all are counted, some are shown.
    pub(crate) fn gone(&self, left: usize, gone: &[Gone], out: &mut Out) -> Result<(), Fail> {
        if self.json {
            for g in gone {
                let (line, now) = (g.entry.source.as_ref().map(|s| s.line), g.now.as_ref().map(|n| n.0));
                out.line(
                    &json!({"kind": "gone", "id": g.entry.id, "line": line, "said": g.entry.entry.said, "now": now})
                        .to_string(),
                )?;
            }
            return Ok(());
        }
        if left == 0 {
            return Ok(());
        }
        let (entries, stand) = (show::count(left, "entry", "entries"), show::plural(left, "stands", "stand"));
        out.line(&format!("{entries} in the log came from a file of this name, and {stand} in it no more:"))?;
        for g in gone {
            let line = g.entry.source.as_ref().map_or(0, |s| s.line);
            out.line(&format!("  {}  line {line}: {}", g.entry.id, g.entry.entry.said))?;
            if let Some((line, said)) = &g.now {
                out.line(&format!("        now line {line}: {said}"))?;
            }
        }
        if left > gone.len() {
            out.line(&format!("  and {} more", left - gone.len()))?;
        }
        out.line("what is wrong among these is taken back with `chutescribe strike ID --why TEXT`")
    }
}
