//! Notes, answers and strikes as lines for the store.

use chutescribe::Entry;
use chutescribe::ask;
use chutescribe::log::record::{LineKind, Stamp, VERSION};
use chutescribe::log::{AnswerLine, EntryLine, Intake, Kept, Record, StrikeLine, VisitLine};
use chutescribe::notes::{Note, Notes};
use serde::Serialize;

use crate::card::Sketch;
use crate::request::Visit;
use crate::state::State;

/// Lines to be stored, and the entries that they are of.
#[derive(Debug, Serialize)]
pub(crate) struct Lines {
    lines: Vec<String>,
    entries: Vec<String>,
}

/// The line of the visit; a day to come is refused, as `check` would.
pub(crate) fn visit_line(visit: &Visit) -> Result<VisitLine, String> {
    let name = |n: &Option<String>| n.as_deref().map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned);
    if visit.date > visit.at.date_naive() {
        return Err(format!("the day of the visit, {}, is still to come", chutescribe::show::day(visit.date)));
    }
    Ok(VisitLine::new(name(&visit.farm).as_deref(), visit.date, name(&visit.trimmer).as_deref(), visit.at))
}

/// What a text would come to.
pub(crate) fn read(state: &mut State, text: &str, visit: &Visit) -> Result<Vec<Sketch>, String> {
    let line = visit_line(visit)?;
    state.ready(&line.id, line.farm.as_deref());
    let mut intake = Intake::new(&state.reader, &line, None, cow_before(state, &line));
    let mut notes = Notes::new(text.as_bytes());
    let mut sketches = Vec::new();
    while let Some((at, note)) = notes.next_note().map_err(|e| e.to_string())? {
        let note = note.map_err(|bad| format!("line {at}: {bad}"))?;
        sketches.extend(intake.look(&note).into_iter().map(|entry| Sketch::of(&Kept::new(unkept(entry, visit.at)))));
    }
    Ok(sketches)
}

/// The line of an entry that nobody keeps yet.
fn unkept(entry: Entry, at: Stamp) -> EntryLine {
    let kind = LineKind::Entry;
    EntryLine { v: VERSION, kind, id: String::new(), at, visit: String::new(), entry, source: None }
}

/// The cow of the visit's last note that names one.
fn cow_before(state: &State, visit: &VisitLine) -> Option<String> {
    let here = state.log.book.entries.iter().filter(|e| e.line.visit == visit.id);
    here.rev().find_map(|e| e.entry.cow.clone())
}

/// The lines that keep a text: one note a line, none of them or all.
pub(crate) fn keep(state: &mut State, text: &str, visit: &Visit) -> Result<Lines, String> {
    let line = visit_line(visit)?;
    let entries = take(state, text, &line, visit.at)?;
    if entries.is_empty() {
        return Err("there is no word in it".to_owned());
    }
    let ids = entries.iter().map(|e| e.id.clone()).collect();
    let mut records = vec![Record::Visit(line)];
    records.extend(entries.into_iter().map(|e| Record::Entry(Box::new(e))));
    Ok(Lines { lines: state.log.lines_for(&records), entries: ids })
}

/// Takes the notes in, as `note` takes what is typed.
fn take(state: &mut State, text: &str, visit: &VisitLine, at: Stamp) -> Result<Vec<EntryLine>, String> {
    state.ready(&visit.id, visit.farm.as_deref());
    let here = || state.log.book.entries.iter().filter(|e| e.line.visit == visit.id);
    let typed = here().filter_map(|e| e.line.source.as_ref()).filter(|s| s.file.is_none()).map(|s| s.line);
    let mut number = typed.max().unwrap_or(0);
    let mut intake = Intake::new(&state.reader, visit, None, cow_before(state, visit));
    let mut notes = Notes::new(text.as_bytes());
    let mut entries: Vec<EntryLine> = Vec::new();
    while let Some((line, note)) = notes.next_note().map_err(|e| e.to_string())? {
        let note = note.map_err(|bad| format!("line {line}: {bad}"))?;
        let mine = |id: &str| state.log.has(id) || entries.iter().any(|e| e.id == id);
        let taken = intake.take(&Note { line: number + 1, ..note }, at, mine);
        if !taken.entries.is_empty() {
            number += 1;
        }
        entries.extend(taken.entries);
    }
    Ok(entries)
}

/// The line that answers a question of an entry, asked before or still open.
pub(crate) fn answer(
    state: &mut State,
    entry: &str,
    field: &str,
    choice: Option<usize>,
    words: Option<&str>,
    at: Stamp,
) -> Result<Lines, String> {
    let kept = state.log.entry(entry).ok_or("this entry is not in the log")?;
    let flag = kept.open.iter().chain(kept.line.entry.questions()).find(|f| f.field == field);
    let flag = flag.ok_or("nothing is asked about that")?;
    let choices = ask::choices(flag);
    let answer = match (choice, words) {
        (Some(n), _) => {
            let choice = choices.get(n).ok_or("there is no such choice")?;
            ask::Answer { field: field.to_owned(), value: choice.value.clone() }
        }
        (None, Some(words)) => {
            let visit = state.log.book.visits.iter().find(|v| v.id == kept.line.visit);
            let date = visit.map_or_else(|| kept.line.at.date_naive(), |v| v.date);
            ask::parse(words, flag, &choices, &state.reader, date, &kept.entry)?
        }
        (None, None) => return Err("an answer is missing".to_owned()),
    };
    let line = AnswerLine::new(entry, &answer.field, answer.value, at, |id| state.log.has(id));
    kept.clone().answer(line.clone())?;
    Ok(Lines { lines: state.log.lines_for(&[Record::Answer(line)]), entries: vec![entry.to_owned()] })
}

/// The lines that take entries back, or bring them back by striking their strikes.
pub(crate) fn strike(state: &State, ids: &[String], why: &str, at: Stamp) -> Result<Lines, String> {
    let why = why.trim();
    if why.is_empty() {
        return Err("to take something back needs a reason".to_owned());
    }
    if let Some(id) = ids.iter().find(|id| !state.log.has(id)) {
        return Err(format!("{id} is not in the log"));
    }
    let strike = |id: &String| Record::Strike(StrikeLine::new(id, why, at, |id| state.log.has(id)));
    let records: Vec<Record> = ids.iter().map(strike).collect();
    Ok(Lines { lines: state.log.lines_for(&records), entries: ids.to_vec() })
}
