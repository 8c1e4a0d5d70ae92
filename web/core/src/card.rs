//! An entry as the page shows it: rows of words, marks on the feet, questions with their choices.

use chutescribe::anatomy::{Claw, Foot};
use chutescribe::ask;
use chutescribe::entry::{Act, Entry, Finding};
use chutescribe::flag::Flag;
use chutescribe::log::{Counts, Kept};
use chutescribe::report::foot_map;
use chutescribe::show;
use serde::Serialize;
use serde_json::{Value, json};

#[derive(Debug, Serialize)]
pub(crate) struct Card {
    id: String,
    cow: Option<String>,
    said: String,
    rows: Vec<Row>,
    marks: Vec<Mark>,
    /// Codes of the feet that are clean.
    clean: Vec<&'static str>,
    questions: Vec<Question>,
    /// What was asked and answered, to be answered anew.
    answered: Vec<Question>,
    /// What is told and not asked.
    notes: Vec<String>,
    /// Why it was taken back.
    #[serde(skip_serializing_if = "Option::is_none")]
    struck: Option<String>,
    /// Id of the strike.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) strike: Option<String>,
    /// The wall's time when it was kept.
    time: String,
}

/// A card while its note is being said: what is shown of it then, and no more, as it is made at every word.
#[derive(Debug, Serialize)]
pub(crate) struct Sketch {
    cow: Option<String>,
    rows: Vec<Row>,
    marks: Vec<Mark>,
    clean: Vec<&'static str>,
    /// What will be asked.
    asks: Vec<String>,
    notes: Vec<String>,
}

impl Sketch {
    pub(crate) fn of(kept: &Kept) -> Self {
        let entry = &kept.entry;
        Self {
            cow: entry.cow.clone(),
            rows: rows(entry, &kept.counts),
            marks: marks(entry, &kept.counts),
            clean: clean(entry),
            asks: kept.open.iter().map(|f| f.message.clone()).collect(),
            notes: notes(entry),
        }
    }
}

/// A line of what was understood.
#[derive(Debug, Serialize)]
struct Row {
    place: &'static str,
    text: String,
    /// It waits for an answer and does not count.
    open: bool,
}

/// A finding on the drawn feet.
#[derive(Debug, Serialize)]
struct Mark {
    foot: &'static str,
    /// From the foot's upper left corner.
    at: (f64, f64),
    /// `outer sole ulcer, zone 4`.
    text: String,
    /// Code of the disorder, `?` while its kind is asked.
    code: &'static str,
    /// It is asked, or the speaker was not certain.
    open: bool,
}

#[derive(Debug, Serialize)]
struct Question {
    field: String,
    message: String,
    /// What was said before, in and after the words in doubt; the words are empty where there are none.
    heard: [String; 3],
    choices: Vec<String>,
    /// Whether the thing that is asked about can be taken out, and no choice says so.
    out: bool,
    /// Why it is asked.
    why: &'static str,
}

impl Card {
    pub(crate) fn of(kept: &Kept) -> Self {
        let (line, entry) = (&kept.line, &kept.entry);
        let said = &line.entry.said;
        let is_open = |f: &&Flag| kept.open.iter().any(|o| o.field == f.field);
        Self {
            id: line.id.clone(),
            cow: entry.cow.clone(),
            said: said.clone(),
            rows: rows(entry, &kept.counts),
            marks: marks(entry, &kept.counts),
            clean: clean(entry),
            questions: kept.open.iter().map(|f| Question::of(f, said)).collect(),
            answered: line.entry.questions().filter(|f| !is_open(f)).map(|f| Question::of(f, said)).collect(),
            notes: notes(entry),
            struck: kept.struck.clone(),
            strike: None,
            time: line.at.format("%H:%M").to_string(),
        }
    }
}

fn clean(entry: &Entry) -> Vec<&'static str> {
    entry.clear.iter().map(|f| f.code()).collect()
}

fn notes(entry: &Entry) -> Vec<String> {
    entry.flags.iter().filter(|f| !f.asks()).map(|f| f.message.clone()).collect()
}

impl Question {
    fn of(flag: &Flag, said: &str) -> Self {
        let heard = flag.at.and_then(|[from, to]| {
            Some([said.get(..from)?.to_owned(), said.get(from..to)?.to_owned(), said.get(to..)?.to_owned()])
        });
        let choices = ask::choices(flag);
        Self {
            field: flag.field.clone(),
            message: flag.message.clone(),
            heard: heard.unwrap_or_else(|| [said.to_owned(), String::new(), String::new()]),
            out: flag.field.contains('[') && choices.iter().all(|c| !c.value.is_null()),
            choices: choices.into_iter().map(|c| c.label).collect(),
            why: ask::explain(flag.kind),
        }
    }
}

/// Foot by foot what was found and done, then the rest, as `read` shows it.
fn rows(entry: &Entry, counts: &Counts) -> Vec<Row> {
    let mut rows = Vec::new();
    let counted = |list: &[bool], i: usize| list.get(i).copied().unwrap_or(false);
    let mut row = |place, text, counts: bool| rows.push(Row { place, text, open: !counts });
    for foot in [Some(Foot::LF), Some(Foot::RF), Some(Foot::LH), Some(Foot::RH), None] {
        let place = foot.map_or("foot not known", Foot::words);
        for (i, f) in entry.findings.iter().enumerate().filter(|(_, f)| f.foot == foot) {
            row(place, show::finding(f), counted(&counts.findings, i));
        }
        for (i, a) in entry.actions.iter().enumerate().filter(|(_, a)| a.foot == foot) {
            let place = if foot.is_none() && matches!(a.what, Act::Trim | Act::Vet) { "whole cow" } else { place };
            let assumed = entry.assumed.contains(&format!("actions[{i}].claw"));
            row(place, show::action(a, assumed), counted(&counts.actions, i));
        }
    }
    let clear = counts.clear.iter().all(|c| *c);
    match entry.clear.len() {
        0 => {}
        4 => row("all four", "clean".to_owned(), clear),
        _ => {
            let feet: Vec<&str> = entry.clear.iter().map(|f| f.words()).collect();
            row("clean", feet.join(", "), clear);
        }
    }
    for (i, s) in entry.scores.iter().enumerate() {
        row(s.scale.words(), show::score(s), counted(&counts.scores, i));
    }
    for (i, m) in entry.measures.iter().enumerate() {
        row(m.what.words(), show::measure(m), counted(&counts.measures, i));
    }
    for (i, d) in entry.due.iter().enumerate() {
        row("due", show::due(d), counted(&counts.due, i));
    }
    for remark in &entry.remarks {
        row("remark", remark.clone(), counts.cow);
    }
    rows
}

/// Where on the feet the findings are; one without a foot has no place yet.
fn marks(entry: &Entry, counts: &Counts) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (i, finding) in entry.findings.iter().enumerate() {
        let Some(foot) = finding.foot else { continue };
        let open = !counts.findings.get(i).copied().unwrap_or(false) || finding.certain == Some(false);
        let zones: Vec<Option<u8>> =
            if finding.zones.is_empty() { vec![None] } else { finding.zones.iter().copied().map(Some).collect() };
        marks.extend(zones.into_iter().map(|zone| Mark {
            foot: foot.code(),
            at: foot_map::spot(foot, finding.claw, zone),
            text: show::finding(finding),
            code: code(finding),
            open,
        }));
    }
    marks
}

fn code(finding: &Finding) -> &'static str {
    finding.disorder.map_or("?", |d| d.code())
}

/// How the four feet are drawn: their size, and the paths of their claws.
pub(crate) fn feet() -> Value {
    let foot = |foot: Foot| {
        json!({
            "code": foot.code(),
            "name": foot.words(),
            "outer": foot_map::claw_path(foot, Claw::Outer),
            "inner": foot_map::claw_path(foot, Claw::Inner),
        })
    };
    json!({ "size": foot_map::FOOT, "feet": Foot::ALL.map(foot) })
}
