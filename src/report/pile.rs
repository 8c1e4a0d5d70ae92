//! What the herd's figures need of every entry, packed: some 40 bytes an entry and 8 a finding, so that the log of
//! twenty years fits into little memory. It is unpacked again cow by cow.

use std::collections::HashMap;

use chrono::NaiveDate;

use super::material::{Seen, key};
use crate::anatomy::{Claw, Foot};
use crate::disorder::{Course, Disorder};
use crate::entry::{Act, Action, Due, DueWhat, Entry, Finding, Scale};

/// Entries of any number of farms, in the order of the log.
#[derive(Debug, Default)]
pub struct Pile {
    farms: Vec<Option<String>>,
    farm_at: HashMap<Option<String>, u32>,
    /// With the farm of each; tags are unique within a farm only.
    cows: Vec<(u32, String)>,
    cow_at: HashMap<(u32, String), u32>,
    traces: Vec<Trace>,
    found: Vec<Found>,
    done: Vec<Done>,
    promised: Vec<Promised>,
}

/// An entry; what belongs to it begins at these places of the lists and ends where the next one's begins.
#[derive(Clone, Copy, Debug)]
struct Trace {
    cow: u32,
    date: NaiveDate,
    found: u32,
    done: u32,
    promised: u32,
    /// A bit a foot.
    clear: u8,
    examined: bool,
    locomotion: Option<u8>,
    mobility: Option<u8>,
}

#[derive(Clone, Copy, Debug)]
struct Found {
    /// A bit a zone.
    zones: u16,
    foot: Option<Foot>,
    claw: Option<Claw>,
    disorder: Option<Disorder>,
    course: Option<Course>,
    doubtful: bool,
}

#[derive(Clone, Copy, Debug)]
struct Done {
    what: Act,
    foot: Option<Foot>,
    claw: Option<Claw>,
    lost: bool,
}

#[derive(Clone, Copy, Debug)]
struct Promised {
    what: DueWhat,
    foot: Option<Foot>,
    on: Option<NaiveDate>,
}

/// An entry as it comes out of the pile: places, lesions, what was done and what is due; no words.
#[derive(Clone, Debug)]
pub struct Look {
    pub seen: Seen,
    /// A foot was in the hand.
    pub examined: bool,
    /// The highest score of how she walked in.
    pub locomotion: Option<u8>,
    pub mobility: Option<u8>,
}

/// A foot was in the hand.
fn is_examined(e: &Entry) -> bool {
    !(e.findings.is_empty() && e.clear.is_empty() && e.measures.is_empty())
        || e.actions.iter().any(|a| a.what != Act::Vet)
}

impl Pile {
    /// Adds the counting parts of an entry.
    pub fn add(&mut self, farm: Option<&str>, cow: &str, date: NaiveDate, entry: &Entry) {
        let farm_key = farm.map(key);
        let farm = *self.farm_at.entry(farm_key).or_insert_with(|| {
            self.farms.push(farm.map(str::to_owned));
            self.farms.len() as u32 - 1
        });
        let cow = *self.cow_at.entry((farm, key(cow))).or_insert_with(|| {
            self.cows.push((farm, cow.to_owned()));
            self.cows.len() as u32 - 1
        });
        let score = |scale: Scale| {
            let walked_in = entry.scores.iter().filter(|s| s.scale == scale && s.when.is_none());
            walked_in.filter_map(|s| u8::try_from(s.value).ok()).max()
        };
        self.traces.push(Trace {
            cow,
            date,
            found: self.found.len() as u32,
            done: self.done.len() as u32,
            promised: self.promised.len() as u32,
            clear: entry.clear.iter().fold(0, |bits, f| bits | 1 << *f as u8),
            examined: is_examined(entry),
            locomotion: score(Scale::Locomotion),
            mobility: score(Scale::Mobility),
        });
        self.found.extend(entry.findings.iter().map(|f| Found {
            // A zone is 0 to 12.
            zones: f.zones.iter().filter(|z| **z < 16).fold(0, |bits, z| bits | 1 << z),
            foot: f.foot,
            claw: f.claw,
            disorder: f.disorder,
            course: f.course,
            doubtful: f.certain == Some(false),
        }));
        let done = entry.actions.iter();
        self.done.extend(done.map(|a| Done { what: a.what, foot: a.foot, claw: a.claw, lost: a.lost }));
        self.promised.extend(entry.due.iter().map(|d| Promised { what: d.what, foot: d.foot, on: d.on }));
    }

    /// The farms, in the order in which the log has them.
    pub fn farms(&self) -> &[Option<String>] {
        &self.farms
    }

    pub fn is_empty(&self) -> bool {
        self.traces.is_empty()
    }

    /// Whether any entry is of that day or later.
    pub fn has_since(&self, day: NaiveDate) -> bool {
        self.traces.iter().any(|t| t.date >= day)
    }

    /// Gives the entries of each cow of a farm, by date and within a day as they were added.
    pub fn each_cow(&self, farm: usize, mut with: impl FnMut(&[Look])) {
        let here = |i: &u32| self.cows[self.traces[*i as usize].cow as usize].0 as usize == farm;
        let mut order: Vec<u32> = (0..self.traces.len() as u32).filter(here).collect();
        order.sort_by_key(|i| (self.traces[*i as usize].cow, self.traces[*i as usize].date));
        for cow in order.chunk_by(|a, b| self.traces[*a as usize].cow == self.traces[*b as usize].cow) {
            with(&cow.iter().map(|i| self.look(*i as usize)).collect::<Vec<_>>());
        }
    }

    fn look(&self, at: usize) -> Look {
        let t = self.traces[at];
        let next = self.traces.get(at + 1);
        let slice = |from: u32, to: Option<u32>, all: usize| from as usize..to.map_or(all, |to| to as usize);
        let found = &self.found[slice(t.found, next.map(|n| n.found), self.found.len())];
        let done = &self.done[slice(t.done, next.map(|n| n.done), self.done.len())];
        let promised = &self.promised[slice(t.promised, next.map(|n| n.promised), self.promised.len())];
        let (farm, cow) = &self.cows[t.cow as usize];
        let entry = Entry {
            findings: found.iter().map(Found::finding).collect(),
            actions: done
                .iter()
                .map(|d| Action { foot: d.foot, claw: d.claw, lost: d.lost, ..Action::new(d.what) })
                .collect(),
            clear: Foot::ALL.into_iter().filter(|f| t.clear & (1 << *f as u8) != 0).collect(),
            due: promised.iter().map(|d| Due { what: d.what, on: d.on, foot: d.foot }).collect(),
            ..Entry::default()
        };
        let seen = Seen {
            id: String::new(),
            date: t.date,
            at: t.date.and_time(chrono::NaiveTime::MIN).and_utc().fixed_offset(),
            farm: self.farms[*farm as usize].clone(),
            trimmer: None,
            cow: cow.clone(),
            entry,
        };
        Look { seen, examined: t.examined, locomotion: t.locomotion, mobility: t.mobility }
    }
}

impl Found {
    fn finding(&self) -> Finding {
        Finding {
            foot: self.foot,
            claw: self.claw,
            zones: (0..16).filter(|z| self.zones & (1 << z) != 0).collect(),
            disorder: self.disorder,
            course: self.course,
            certain: self.doubtful.then_some(false),
            ..Finding::default()
        }
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn what_goes_in_comes_out_by_farm_cow_and_day() {
        let day = |d| NaiveDate::from_ymd_opt(2026, 3, d).unwrap();
        let entry = |v| serde_json::from_value::<Entry>(v).unwrap();
        let (ulcer, bare) = (
            entry(json!({"cow":"8","findings":[{"foot":"LH","claw":"outer","zones":[4,12],"disorder":"SU",
                "course":"worse","certain":false}],"actions":[{"what":"unwrap","foot":"RF","claw":"inner","lost":true}],
                "clear":["LF","RH"],"due":[{"what":"block_off","foot":"LH","on":"2026-04-01"}],
                "scores":[{"scale":"locomotion","value":2},{"scale":"locomotion","value":4},
                    {"scale":"mobility","value":3,"when":"after"}]})),
            entry(json!({"cow":"8"})),
        );
        let mut pile = Pile::default();
        pile.add(Some("A"), "b8", day(12), &ulcer);
        pile.add(Some("B"), "B8", day(1), &bare);
        pile.add(Some("a "), "B8", day(2), &bare);
        let mut looks = Vec::new();
        pile.each_cow(0, |cow| looks.push(cow.to_vec()));
        assert_eq!((pile.farms().len(), looks.len()), (2, 1));
        assert_eq!(
            looks[0].iter().map(|l| (l.seen.date, l.examined)).collect::<Vec<_>>(),
            [(day(2), false), (day(12), true)]
        );
        let out = &looks[0][1];
        assert_eq!((out.locomotion, out.mobility), (Some(4), None));
        assert_eq!(out.seen.entry, Entry { cow: None, scores: vec![], ..ulcer });
    }

    #[test]
    fn it_is_small() {
        assert!(size_of::<Trace>() <= 28 && size_of::<Found>() == 8 && size_of::<Done>() == 4);
    }
}
