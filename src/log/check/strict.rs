//! What the trade finds odd in records that are sound.

use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use chrono::NaiveDate;

use super::{Finding, Kind, Level, named};
use crate::anatomy::Foot;
use crate::entry::{Act, DueWhat, Entry};
use crate::log::fold::Kept;
use crate::log::record::VisitLine;

/// Looks at entries as they stand, struck ones left out.
#[derive(Debug)]
pub(super) struct Strict {
    today: NaiveDate,
    /// Of every visit its day and a number for its farm.
    visits: HashMap<String, (NaiveDate, u64)>,
    /// Cows of visits, and where they stand first.
    cows: HashMap<u64, u32>,
    /// What was put on, and what came off, by farm and cow.
    on: Vec<On>,
    off: HashMap<u64, Vec<Off>>,
    findings: Vec<Finding>,
}

#[derive(Debug)]
struct On {
    line: usize,
    /// Farm and cow as a number.
    cow: u64,
    name: String,
    what: DueWhat,
    foot: Option<Foot>,
    due: NaiveDate,
    visit: NaiveDate,
}

#[derive(Debug)]
struct Off {
    what: DueWhat,
    foot: Option<Foot>,
    visit: NaiveDate,
}

impl Strict {
    pub(super) fn new(today: NaiveDate, visits: &[VisitLine]) -> Self {
        let visits = visits.iter().map(|v| (v.id.clone(), (v.date, number(&v.farm)))).collect();
        let (cows, on, off) = (HashMap::new(), vec![], HashMap::new());
        Self { today, visits, cows, on, off, findings: vec![] }
    }

    fn found(&mut self, line: usize, kind: Kind, told: String) {
        self.findings.push(Finding::new(Level::Odd, line, kind, told));
    }

    pub(super) fn look(&mut self, line: usize, kept: &Kept) {
        let entry = &kept.entry;
        for told in out_of_range(entry) {
            self.found(line, Kind::Range, told);
        }
        let Some(cow) = &entry.cow else {
            if kept.open.is_empty() {
                self.found(line, Kind::CowMissing, "no cow is named, and no question about it is open".to_owned());
            }
            return;
        };
        if kept.counts.cow {
            let first = *self.cows.entry(number(&(&kept.line.visit, cow))).or_insert(line as u32);
            if first as usize != line {
                let told = format!("cow {cow} stands twice in this visit (first on line {first})");
                self.found(line, Kind::SameCow, told);
            }
        }
        let Some(&(visit, farm)) = self.visits.get(&kept.line.visit) else { return };
        let key = number(&(farm, cow));
        for (due, _) in entry.due.iter().zip(&kept.counts.due).filter(|d| *d.1) {
            let Some(on) = due.on else { continue };
            if on < visit {
                let told = format!("{} of cow {cow} is due on {on}, before the visit on {visit}", due.what.words());
                self.found(line, Kind::DueBefore, told);
            }
            if due.what != DueWhat::Recheck {
                let name = named(kept);
                self.on.push(On { line, cow: key, name, what: due.what, foot: due.foot, due: on, visit });
            }
        }
        for (action, _) in entry.actions.iter().zip(&kept.counts.actions).filter(|a| *a.1) {
            let what = match action.what {
                Act::Unblock => DueWhat::BlockOff,
                Act::Unwrap => DueWhat::WrapOff,
                _ => continue,
            };
            self.off.entry(key).or_default().push(Off { what, foot: action.foot, visit });
        }
    }

    /// What was found, with what was never taken off.
    pub(super) fn done(self) -> Vec<Finding> {
        let Self { today, on, off, mut findings, .. } = self;
        for on in on.into_iter().filter(|on| on.due < today) {
            let came_off = |off: &Off| {
                // Where one of the two does not say which foot, it may well be this one.
                let foot = on.foot.is_none() || off.foot.is_none() || on.foot == off.foot;
                off.what == on.what && foot && off.visit > on.visit
            };
            if !off.get(&on.cow).into_iter().flatten().any(came_off) {
                let foot = on.foot.map_or(String::new(), |f| format!(", {}", f.words()));
                let told = format!(
                    "{}{foot}: {} was due on {}, and no line says it was done",
                    on.name,
                    on.what.words(),
                    on.due
                );
                findings.push(Finding::new(Level::Odd, on.line, Kind::StillOn, told));
            }
        }
        findings
    }
}

/// Numbers outside their range that no open question is about.
fn out_of_range(entry: &Entry) -> Vec<String> {
    let asked = |field: &str| entry.questions().any(|q| q.field.starts_with(field));
    let mut told = vec![];
    for (k, s) in entry.scores.iter().enumerate() {
        if !s.scale.range().contains(&s.value) && !asked(&format!("scores[{k}]")) {
            let (low, high) = (s.scale.range().start().to_owned(), s.scale.range().end().to_owned());
            told.push(format!("{} {} is not on the scale of {low} to {high}", s.scale.words(), s.value));
        }
    }
    for (k, f) in entry.findings.iter().enumerate().filter(|(k, _)| !asked(&format!("findings[{k}]"))) {
        if let Some(zone) = f.zones.iter().find(|z| **z > 12) {
            told.push(format!("findings[{k}]: there is no zone {zone}"));
        }
        if let Some(severity) = f.severity.filter(|s| !(1..=3).contains(s)) {
            told.push(format!("findings[{k}]: severity {severity} is not on the scale of 1 to 3"));
        }
    }
    told
}

fn number(of: &impl Hash) -> u64 {
    let mut hash = DefaultHasher::new();
    of.hash(&mut hash);
    hash.finish()
}
