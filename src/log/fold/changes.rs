//! The answers and strikes of a log, and each entry as it stands with them.

use std::collections::{HashMap, HashSet};
use std::fmt;

use rustc_hash::{FxHashMap, FxHashSet};

use super::Kept;
use crate::log::id;
use crate::log::record::{AnswerLine, EntryLine, Record, StrikeLine, VisitLine};

/// An answer or a strike that nothing came of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misfit {
    /// Where it stands in the log.
    pub line: usize,
    /// Id of the entry that it is of.
    pub entry: String,
    pub what: String,
    /// What it is of is not in the log.
    pub missing: bool,
}

impl fmt::Display for Misfit {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.what)
    }
}

/// What became of entries after they were written. Holds the answers and strikes of a log, but of its entries only
/// eight bytes each.
#[derive(Debug, Default)]
pub struct Changes {
    visits: Vec<VisitLine>,
    /// Places of the visits by their keys.
    visit_at: FxHashMap<u64, usize>,
    /// By the entry's key, in the log's order.
    answers: FxHashMap<u64, Vec<(usize, AnswerLine)>>,
    /// With their lines.
    strikes: Vec<(usize, StrikeLine)>,
    /// Keys of what the strikes are of, be they struck themselves or not.
    struck_keys: FxHashSet<u64>,
    /// Keys of what is struck, with the places of the strikes; made when the first entry is asked for.
    struck: Option<HashMap<u64, usize>>,
    /// Keys of the entries that were given.
    given: FxHashSet<u64>,
    misfits: Vec<Misfit>,
}

impl Changes {
    /// Takes note of one line.
    pub fn gather(&mut self, line: usize, record: &Record) {
        match record {
            Record::Visit(visit) => {
                self.visit_at.entry(id::key(&visit.id)).or_insert_with(|| {
                    self.visits.push(visit.clone());
                    self.visits.len() - 1
                });
            }
            Record::Answer(answer) => {
                self.answers.entry(id::key(&answer.entry)).or_default().push((line, answer.clone()));
            }
            Record::Strike(strike) => {
                self.struck_keys.insert(id::key(&strike.entry));
                self.strikes.push((line, strike.clone()));
            }
            Record::Entry(_) | Record::Unknown { .. } => {}
        }
    }

    /// The visits, in the log's order, each once.
    pub fn visits(&self) -> &[VisitLine] {
        &self.visits
    }

    /// The visit with that id.
    pub fn visit(&self, id: &str) -> Option<&VisitLine> {
        self.visit_at.get(&id::key(id)).map(|at| &self.visits[*at])
    }

    /// The visit with that key.
    pub(super) fn visit_of(&self, key: u64) -> Option<&VisitLine> {
        self.visit_at.get(&key).map(|at| &self.visits[*at])
    }

    /// Keys of the entries that there is an answer to or a strike of.
    pub(super) fn changed(&self) -> FxHashSet<u64> {
        self.answers.keys().chain(&self.struck_keys).copied().collect()
    }

    /// Makes room for so many entries.
    pub(super) fn expect(&mut self, entries: usize) {
        self.given.reserve(entries);
    }

    /// Whether an entry is given for the first time.
    pub(super) fn give(&mut self, key: u64) -> bool {
        self.given.insert(key)
    }

    /// The entry as it stands; `None` where it was given already: a line that stands twice (two logs put together
    /// by hand) is one entry.
    pub fn apply(&mut self, line: EntryLine) -> Option<Kept> {
        let key = id::key(&line.id);
        if !self.given.insert(key) {
            return None;
        }
        let mut kept = Kept::new(line);
        for (line, answer) in self.answers.remove(&key).unwrap_or_default() {
            let entry = answer.entry.clone();
            if let Err(what) = kept.answer(answer) {
                self.misfits.push(Misfit { line, entry, what, missing: false });
            }
        }
        let strikes = &self.strikes;
        let struck = self.struck.get_or_insert_with(|| standing(strikes));
        kept.struck = struck.get(&key).map(|at| strikes[*at].1.why.clone());
        Some(kept)
    }

    /// What is left when all entries were given.
    pub fn rest(self) -> Rest {
        let missing = |line, what: &str, entry: &str| Misfit {
            line,
            entry: entry.to_owned(),
            what: format!("{what} entry {entry}, which is not in the log"),
            missing: true,
        };
        let mut misfits = self.misfits;
        // Those of entries that were given are gone by now.
        let answers = self.answers.values().flatten();
        misfits.extend(answers.map(|(line, a)| missing(*line, "an answer to", &a.entry)));
        let strikes: HashSet<&str> = self.strikes.iter().map(|s| s.1.id.as_str()).collect();
        let of_nothing = |s: &&(usize, StrikeLine)| {
            !self.given.contains(&id::key(&s.1.entry)) && !strikes.contains(s.1.entry.as_str())
        };
        let of_nothing = self.strikes.iter().filter(of_nothing);
        misfits.extend(of_nothing.map(|(line, s)| missing(*line, "a strike of", &s.entry)));
        misfits.sort_by_key(|m| m.line);
        Rest { visits: self.visits, strikes: self.strikes.into_iter().map(|s| s.1).collect(), misfits }
    }
}

/// What a log holds beside its entries, each in the log's order.
#[derive(Clone, Debug, Default)]
pub struct Rest {
    /// Each once.
    pub visits: Vec<VisitLine>,
    pub strikes: Vec<StrikeLine>,
    /// Answers and strikes of what is not there, and answers that do not fit.
    pub misfits: Vec<Misfit>,
}

/// What is struck, with the first strike of it that stands. One that is struck itself does not count.
fn standing(strikes: &[(usize, StrikeLine)]) -> HashMap<u64, usize> {
    let ids: HashSet<&str> = strikes.iter().map(|s| s.1.id.as_str()).collect();
    let mut undone: HashSet<&str> = HashSet::new();
    let mut struck = HashMap::new();
    // A strike can only be of what was there before it, so the last one stands for sure.
    for (at, (_, s)) in strikes.iter().enumerate().rev() {
        if undone.contains(s.id.as_str()) {
            continue;
        }
        if ids.contains(s.entry.as_str()) {
            undone.insert(&s.entry);
        } else {
            struck.insert(id::key(&s.entry), at);
        }
    }
    struck
}
