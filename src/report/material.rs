//! What reports are made of: the entries of a farm, a cow or a period, with only that in them which counts.

use std::io;
use std::path::Path;

use chrono::NaiveDate;

use crate::entry::Entry;
use crate::log::fold::{self, Brief, Quick};
use crate::log::read::Problem;
use crate::log::record::Stamp;
use crate::log::{Kept, VisitLine};
use crate::show;

/// Which entries a report is about; what is `None` is no limit.
#[derive(Clone, Debug, Default)]
pub struct Scope {
    /// The farm's name; capitals do not matter.
    pub farm: Option<String>,
    /// Her tag; capitals do not matter, leading zeros do.
    pub cow: Option<String>,
    /// The first day.
    pub from: Option<NaiveDate>,
    /// The last day.
    pub to: Option<NaiveDate>,
}

/// A cow at a visit, with those parts of her entry that count.
#[derive(Clone, Debug)]
pub struct Seen {
    /// Id of the entry.
    pub id: String,
    pub date: NaiveDate,
    /// When it was taken down.
    pub at: Stamp,
    pub farm: Option<String>,
    pub trimmer: Option<String>,
    pub cow: String,
    /// Without what waits for an answer; `assumed` is empty, and fields that `flags` name may have moved.
    pub entry: Entry,
}

/// What is in the scope of a report and not in the report.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LeftOut {
    /// Open questions.
    pub questions: usize,
    /// Entries that have them.
    pub entries: usize,
    /// Of those, the ones where nothing counts, since the cow or the whole entry is in doubt.
    pub whole: usize,
    pub struck: usize,
}

/// The entries in a scope, by date and within a day as the log has them.
#[derive(Clone, Debug, Default)]
pub struct Material {
    pub seen: Vec<Seen>,
    pub left: LeftOut,
    /// What is left out, by farm and day.
    left_at: Vec<(Option<String>, NaiveDate, LeftOut)>,
    scope: Scope,
    /// Entries of the whole log.
    entries: usize,
    /// The farms of the log, sorted, each once.
    farms: Vec<String>,
}

/// How farms and cows are compared: capitals and blanks around do not matter.
pub fn key(name: &str) -> String {
    name.trim().to_lowercase()
}

/// Sorts tags as people do: 99 before 412.
pub(super) fn in_order(tag: &str) -> (usize, String) {
    (tag.trim().chars().count(), key(tag))
}

impl Scope {
    /// Whether a visit to that farm on that day is meant.
    pub fn has(&self, farm: Option<&str>, date: NaiveDate) -> bool {
        self.farm.as_ref().is_none_or(|f| farm.is_some_and(|farm| key(farm) == key(f)))
            && self.from.is_none_or(|from| from <= date)
            && self.to.is_none_or(|to| date <= to)
    }

    fn has_cow(&self, cow: Option<&str>) -> bool {
        self.cow.as_ref().is_none_or(|c| cow.is_some_and(|cow| key(cow) == key(c)))
    }

    /// ` at Juniper Flat from thu 1 jan 2026 to thu 12 mar 2026`, as far as it has limits.
    pub fn words(&self) -> String {
        let farm = self.farm.as_ref().map_or(String::new(), |f| format!(" at {}", f.trim()));
        let period = match (self.from, self.to) {
            (Some(from), Some(to)) if from == to => format!(" on {}", show::day(from)),
            (Some(from), Some(to)) => format!(" from {} to {}", show::day(from), show::day(to)),
            (Some(from), None) => format!(" since {}", show::day(from)),
            (None, Some(to)) => format!(" until {}", show::day(to)),
            (None, None) => String::new(),
        };
        farm + &period
    }
}

impl LeftOut {
    /// Counts an entry, where something of it is left out; gives whether anything of it counts.
    pub fn count(&mut self, kept: &Kept) -> bool {
        if kept.struck.is_some() {
            self.struck += 1;
            return false;
        }
        self.questions += kept.open.len();
        self.entries += usize::from(!kept.open.is_empty());
        self.whole += usize::from(!kept.counts.cow);
        kept.counts.cow
    }

    fn add(&mut self, other: Self) {
        self.questions += other.questions;
        self.entries += other.entries;
        self.whole += other.whole;
        self.struck += other.struck;
    }

    /// `left out: 2 open questions on 1 entry; 1 struck entry`, or nothing.
    pub fn words(&self) -> Option<String> {
        let mut told = Vec::new();
        if self.questions > 0 {
            let whole = match self.whole {
                0 => String::new(),
                n => format!(", {n} of them with all that it holds"),
            };
            let questions = show::count(self.questions, "open question", "open questions");
            told.push(format!("{questions} on {}{whole}", show::count(self.entries, "entry", "entries")));
        }
        if self.struck > 0 {
            told.push(show::count(self.struck, "struck entry", "struck entries"));
        }
        (!told.is_empty()).then(|| format!("left out: {}", told.join("; ")))
    }
}

impl Material {
    /// Reads a log; lines that cannot be used are told to `problem`.
    ///
    /// # Errors
    /// Where the file cannot be opened or read.
    pub fn read(path: &Path, scope: Scope, problem: impl FnMut(Problem)) -> io::Result<Self> {
        let mut material = Self { scope, ..Self::default() };
        let rest = fold::each_at(path, problem, |_, kept, visit| {
            let seen = material.look(kept, visit);
            material.seen.extend(seen);
        })?;
        Ok(material.with_visits(&rest.visits))
    }

    /// As [`Material::read`], but what counts of every entry is given away in the log's order, with its farm, cow and day, and none is kept.
    /// Words, remarks and flags are not given.
    ///
    /// # Errors
    /// As [`Material::read`].
    pub fn stream(
        path: &Path,
        scope: Scope,
        problem: impl FnMut(Problem),
        mut with: impl FnMut(Option<&str>, &str, NaiveDate, &Brief),
    ) -> io::Result<Self> {
        let mut material = Self { scope, ..Self::default() };
        let rest = fold::each_quick(path, problem, |entry, visit| match entry {
            Quick::Kept(kept) => {
                if let Some(seen) = material.look(*kept, visit) {
                    with(seen.farm.as_deref(), &seen.cow, seen.date, &Brief::of(&seen.entry));
                }
            }
            Quick::Plain { cow, at, brief } => {
                material.entries += 1;
                let (farm, date) = place(visit, at);
                if material.scope.has(farm, date) && material.scope.has_cow(Some(cow)) {
                    with(farm, cow, date, &brief);
                }
            }
        })?;
        Ok(material.with_visits(&rest.visits))
    }

    /// Of a log in memory.
    pub fn of(book: &fold::Book, scope: Scope) -> Self {
        let mut material = Self { scope, ..Self::default() };
        for kept in &book.entries {
            let seen = material.look(kept.clone(), book.visits.iter().find(|v| v.id == kept.line.visit));
            material.seen.extend(seen);
        }
        material.with_visits(&book.visits)
    }

    fn with_visits(mut self, visits: &[VisitLine]) -> Self {
        self.farms = visits.iter().filter_map(|v| v.farm.clone()).collect();
        self.farms.sort();
        self.farms.dedup();
        self.seen.sort_by_key(|s| s.date);
        self
    }

    /// Counts an entry, and gives what of it counts where it is in the scope.
    fn look(&mut self, kept: Kept, visit: Option<&VisitLine>) -> Option<Seen> {
        self.entries += 1;
        let (farm, date) = place(visit, kept.line.at);
        if !self.scope.has(farm, date) || !self.scope.has_cow(kept.entry.cow.as_deref()) {
            return None;
        }
        let mut left = LeftOut::default();
        let counts = left.count(&kept);
        if left != LeftOut::default() {
            self.left.add(left);
            self.left_at.push((farm.map(str::to_owned), date, left));
        }
        if !counts {
            return None;
        }
        let cow = kept.entry.cow.clone()?;
        Some(Seen {
            id: kept.line.id.clone(),
            date,
            at: kept.line.at,
            farm: farm.map(str::to_owned),
            trimmer: visit.and_then(|v| v.trimmer.clone()),
            cow,
            entry: counting(kept),
        })
    }

    /// The last day that has an entry, be it one that does not count.
    pub fn last_day(&self) -> Option<NaiveDate> {
        self.seen.iter().map(|s| s.date).chain(self.left_at.iter().map(|l| l.1)).max()
    }

    /// Only that day.
    #[must_use]
    pub fn on(&self, day: NaiveDate) -> Self {
        self.narrowed(Scope { from: Some(day), to: Some(day), ..self.scope.clone() }, |_, date| date == day)
    }

    /// Only from that day on.
    #[must_use]
    pub fn since(&self, day: NaiveDate) -> Self {
        self.narrowed(Scope { from: Some(day), ..self.scope.clone() }, |_, date| date >= day)
    }

    /// Only that farm, or only visits without one.
    #[must_use]
    pub fn at(&self, farm: Option<String>) -> Self {
        let wanted = farm.as_deref().map(key);
        self.narrowed(Scope { farm, ..self.scope.clone() }, |farm, _| farm.map(key) == wanted)
    }

    fn narrowed(&self, scope: Scope, keep: impl Fn(Option<&str>, NaiveDate) -> bool) -> Self {
        let mut narrow = Self { scope, ..self.clone() };
        narrow.seen.retain(|s| keep(s.farm.as_deref(), s.date));
        narrow.left_at.retain(|(farm, date, _)| keep(farm.as_deref(), *date));
        narrow.left = LeftOut::default();
        narrow.left_at.iter().for_each(|l| narrow.left.add(l.2));
        narrow
    }

    /// The farms of the entries that count, each once, with its entries: tags are unique within a farm only.
    pub fn by_farm(&self) -> Vec<(Option<String>, Vec<&Seen>)> {
        let mut farms: Vec<(Option<String>, Vec<&Seen>)> = Vec::new();
        for s in &self.seen {
            let farm = s.farm.as_deref().map(key);
            match farms.iter_mut().find(|f| f.0.as_deref().map(key) == farm) {
                Some(f) => f.1.push(s),
                None => farms.push((s.farm.clone(), vec![s])),
            }
        }
        farms
    }

    pub fn scope(&self) -> &Scope {
        &self.scope
    }

    /// Why there is nothing to report, in a sentence.
    pub fn nothing(&self) -> Option<String> {
        self.seen.is_empty().then(|| self.why_nothing())
    }

    /// The sentence for a report that has nothing.
    pub fn why_nothing(&self) -> String {
        let scope = &self.scope;
        let known = |f: &String| self.farms.iter().any(|farm| key(farm) == key(f));
        match (&scope.farm, &scope.cow) {
            _ if self.entries == 0 => "the log has no entries yet".to_owned(),
            (Some(farm), _) if !known(farm) => {
                let farms = if self.farms.is_empty() { "no farm at all".to_owned() } else { self.farms.join(", ") };
                format!("the log has no visit to `{}`; it has: {farms}", farm.trim())
            }
            _ if self.left != LeftOut::default() => format!("nothing{} counts yet", scope.words()),
            (_, Some(cow)) => format!("the log has no cow `{}`{}", cow.trim(), scope.words()),
            _ => format!("no cow was seen{}", scope.words()),
        }
    }
}

/// Farm and day. An entry whose visit is lost has still the day it was taken down.
fn place(visit: Option<&VisitLine>, at: Stamp) -> (Option<&str>, NaiveDate) {
    (visit.and_then(|v| v.farm.as_deref()), visit.map_or_else(|| at.date_naive(), |v| v.date))
}

/// The parts of an entry that count.
fn counting(kept: Kept) -> Entry {
    fn keep<T>(list: Vec<T>, counts: &[bool]) -> Vec<T> {
        list.into_iter().zip(counts).filter(|(_, c)| **c).map(|(t, _)| t).collect()
    }
    let Kept { entry, counts, .. } = kept;
    Entry {
        cow: entry.cow,
        scores: keep(entry.scores, &counts.scores),
        findings: keep(entry.findings, &counts.findings),
        actions: keep(entry.actions, &counts.actions),
        clear: keep(entry.clear, &counts.clear),
        measures: keep(entry.measures, &counts.measures),
        due: keep(entry.due, &counts.due),
        remarks: entry.remarks,
        flags: entry.flags.into_iter().filter(|f| !f.asks()).collect(),
        said: entry.said,
        ..Entry::default()
    }
}
