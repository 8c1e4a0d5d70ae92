//! Another log into this one: by id, nothing doubled, what contradicts named.

use std::collections::{HashMap, HashSet};
use std::fs::File;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io;
use std::path::Path;

use serde_json::{Map, Value};

use super::id;
use super::read::{Lines, Problem};
use super::record::{AnswerLine, Record};

/// What a merge comes to.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// What is new here, in the other log's order.
    pub new: Vec<Record>,
    /// How many records of the other log are here already.
    pub known: usize,
    pub conflicts: Vec<Conflict>,
    /// Lines of the other log that cannot be used.
    pub problems: Vec<Problem>,
}

/// A record of the other log that contradicts one here, and is left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// Where it stands in the other log, and its counterpart in this one.
    pub there: usize,
    pub here: usize,
    pub what: Contradiction,
}

/// How two logs contradict each other.
#[derive(Clone, Debug, PartialEq)]
pub enum Contradiction {
    /// The same id, but these fields are not the same.
    Record { kind: &'static str, id: String, fields: Vec<String> },
    /// A question that was answered in both, and not alike.
    Answer { entry: String, field: String, there: Value, here: Value },
}

/// What may differ between two records of one thing: when and from where it was taken down.
const BESIDE: [&str; 2] = ["at", "source"];

/// Compares the log at `other` with the one at `here`, which may not be there yet.
///
/// Of one id, what stands here stays. A question that both logs answer differently keeps the answer here, unless
/// `theirs` says to bring in the other one, which then counts. To do it again finds nothing new.
///
/// # Errors
/// Where one of them cannot be read.
pub fn plan(here: &Path, other: &Path, theirs: bool) -> io::Result<Plan> {
    let mine = match File::open(here) {
        Ok(file) => Mine::read(file)?,
        Err(e) if e.kind() == io::ErrorKind::NotFound => Mine::default(),
        Err(e) => return Err(e),
    };
    let name = other.display().to_string();
    let mut plan = Plan::default();
    let mut fresh: Vec<(usize, Record)> = Vec::new();
    // Of ids that differ the line there, by the line here.
    let mut differ: HashMap<usize, (usize, Record)> = HashMap::new();
    let mut ids: HashSet<u64> = HashSet::new();
    let mut lines = Lines::new(File::open(other)?);
    while let Some(line) = lines.next_line()? {
        let record = match line.record() {
            Ok(record) => record,
            Err(bad) => {
                plan.problems.push(Problem::new(&name, line.number, &bad));
                continue;
            }
        };
        let key = key(&record);
        let again = !ids.insert(key);
        match mine.records.get(&key) {
            Some((at, says)) if *says != self::says(&record) => {
                differ.insert(*at, (line.number, record));
            }
            Some(_) => plan.known += usize::from(!again),
            None if again => {}
            None => fresh.push((line.number, record)),
        }
    }
    if !differ.is_empty() {
        plan.conflicts = differences(File::open(here)?, differ)?;
    }
    let contradicted = if theirs { vec![] } else { contradicted(&fresh, &mine, &ids) };
    let left: HashSet<(u64, &str)> = contradicted.iter().map(|c| (c.0, c.1.as_str())).collect();
    let stays = |r: &Record| !matches!(r, Record::Answer(a) if left.contains(&(id::key(&a.entry), a.field.as_str())));
    plan.new = fresh.into_iter().map(|f| f.1).filter(stays).collect();
    plan.conflicts.extend(contradicted.into_iter().map(|c| c.2));
    plan.conflicts.sort_by_key(|c| c.there);
    Ok(plan)
}

/// What this log holds, as far as a merge needs it.
#[derive(Default)]
struct Mine {
    /// By key the line, and what it says as a number.
    records: HashMap<u64, (usize, u64)>,
    /// By entry and field, in the log's order.
    answers: HashMap<(u64, String), Vec<(usize, AnswerLine)>>,
}

impl Mine {
    fn read(file: File) -> io::Result<Self> {
        let mut mine = Self::default();
        let mut lines = Lines::new(file);
        while let Some(line) = lines.next_line()? {
            let Ok(record) = line.record() else { continue };
            mine.records.entry(key(&record)).or_insert_with(|| (line.number, says(&record)));
            if let Record::Answer(answer) = record {
                let of = (id::key(&answer.entry), answer.field.clone());
                mine.answers.entry(of).or_default().push((line.number, answer));
            }
        }
        Ok(mine)
    }
}

/// The id as a number; of a record without one, what it says.
fn key(record: &Record) -> u64 {
    record.id().map_or_else(|| number(&record.line()), id::key)
}

fn says(record: &Record) -> u64 {
    let map = fields(record);
    number(&Value::Object(map).to_string())
}

fn number(text: &str) -> u64 {
    let mut hash = DefaultHasher::new();
    text.hash(&mut hash);
    hash.finish()
}

fn fields(record: &Record) -> Map<String, Value> {
    let mut map: Map<String, Value> = serde_json::from_str(&record.line()).unwrap_or_default();
    map.retain(|name, _| !BESIDE.contains(&name.as_str()));
    map
}

/// Names the fields that differ.
fn differences(here: File, differ: HashMap<usize, (usize, Record)>) -> io::Result<Vec<Conflict>> {
    let mut conflicts = Vec::new();
    let mut lines = Lines::new(here);
    while let Some(line) = lines.next_line()? {
        let (Some((there, other)), Ok(record)) = (differ.get(&line.number), line.record()) else { continue };
        let (a, b) = (fields(&record), fields(other));
        let mut names: Vec<String> = a.keys().chain(b.keys()).filter(|n| a.get(*n) != b.get(*n)).cloned().collect();
        names.sort();
        names.dedup();
        let kind = match other {
            Record::Visit(_) => "visit",
            Record::Entry(_) => "entry",
            Record::Answer(_) => "answer",
            Record::Strike(_) => "strike",
            Record::Unknown { .. } => "line",
        };
        let id = other.id().unwrap_or_default().to_owned();
        let what = Contradiction::Record { kind, id, fields: names };
        conflicts.push(Conflict { there: *there, here: line.number, what });
    }
    Ok(conflicts)
}

/// Questions that were answered on both sides since they parted, and not alike. A side that is only behind
/// contradicts nothing. `ids` are those of the other log.
fn contradicted(fresh: &[(usize, Record)], mine: &Mine, ids: &HashSet<u64>) -> Vec<(u64, String, Conflict)> {
    // The last new answer there, by entry and field.
    let mut last: HashMap<(&str, &str), (usize, &AnswerLine)> = HashMap::new();
    for (line, record) in fresh {
        if let Record::Answer(answer) = record {
            last.insert((&answer.entry, &answer.field), (*line, answer));
        }
    }
    let mut out = Vec::new();
    for (there, answer) in last.into_values() {
        let of = (id::key(&answer.entry), answer.field.clone());
        let Some(own) = mine.answers.get(&of) else { continue };
        let Some((here, standing)) = own.last() else { continue };
        let both_went_on = own.iter().any(|(_, a)| !ids.contains(&id::key(&a.id)));
        if both_went_on && standing.value != answer.value {
            let what = Contradiction::Answer {
                entry: answer.entry.clone(),
                field: answer.field.clone(),
                there: answer.value.clone(),
                here: standing.value.clone(),
            };
            out.push((of.0, of.1, Conflict { there, here: *here, what }));
        }
    }
    out
}
