//! What the herd's figures need of every entry, packed: some 40 bytes an entry and 8 a finding, so that the log of
//! twenty years fits into little memory. It is unpacked again cow by cow.

use std::num::NonZeroU8;

use chrono::NaiveDate;
use rustc_hash::FxHashMap;

use super::material::{Seen, key};
use crate::anatomy::Foot;
use crate::entry::{Act, Action, Due, Entry};
use crate::log::fold::Brief;
use crate::log::fold::brief::{Done, Found, Promised, bit};

/// Entries of any number of farms, in the order of the log.
#[derive(Debug, Default)]
pub struct Pile {
    farms: Vec<Option<String>>,
    /// As they are written; a visit without a farm is at the empty one.
    farm_at: FxHashMap<String, u32>,
    /// With the farm of each; tags are unique within a farm only.
    cows: Vec<(u32, String)>,
    /// Of each farm.
    cow_at: Vec<FxHashMap<String, u32>>,
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
    locomotion: Packed,
    mobility: Packed,
}

/// A score in one byte: mobility begins at nought, so that one more is kept.
#[derive(Clone, Copy, Debug)]
struct Packed(Option<NonZeroU8>);

impl Packed {
    fn new(score: Option<u8>) -> Self {
        Self(score.and_then(|s| s.checked_add(1)).and_then(NonZeroU8::new))
    }

    fn score(self) -> Option<u8> {
        self.0.map(|s| s.get() - 1)
    }
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

/// Bytes of a short entry's line in a log.
const SHORT: u64 = 256;

impl Pile {
    /// With room for the entries of a log of so many bytes: to grow is to hold everything twice for a while, and memory
    /// that is never written to costs nothing.
    pub fn for_log(bytes: u64) -> Self {
        let entries = (bytes / SHORT) as usize;
        Self {
            traces: Vec::with_capacity(entries),
            found: Vec::with_capacity(entries),
            done: Vec::with_capacity(entries),
            promised: Vec::with_capacity(entries),
            ..Self::default()
        }
    }

    /// Adds what counts of an entry.
    pub fn add(&mut self, farm: Option<&str>, cow: &str, date: NaiveDate, brief: &Brief) {
        let farm = match self.farm_at.get(farm.unwrap_or_default()) {
            Some(at) => *at,
            None => self.new_farm(farm),
        };
        let cow = match self.cow_at[farm as usize].get(cow) {
            Some(at) => *at,
            None => self.new_cow(farm, cow),
        };
        self.traces.push(Trace {
            cow,
            date,
            found: self.found.len() as u32,
            done: self.done.len() as u32,
            promised: self.promised.len() as u32,
            clear: brief.clear,
            examined: brief.measured
                || brief.clear != 0
                || !brief.found.is_empty()
                || brief.done.iter().any(|d| d.what != Act::Vet),
            locomotion: Packed::new(brief.locomotion),
            mobility: Packed::new(brief.mobility),
        });
        self.found.extend(&brief.found);
        self.done.extend(&brief.done);
        self.promised.extend(&brief.promised);
    }

    /// A farm as it was not written before: another one, or the same in other letters.
    fn new_farm(&mut self, farm: Option<&str>) -> u32 {
        let known = self.farms.iter().position(|f| f.as_deref().map(key) == farm.map(key));
        let at = known.unwrap_or_else(|| {
            self.farms.push(farm.map(str::to_owned));
            self.cow_at.push(FxHashMap::default());
            self.farms.len() - 1
        });
        self.farm_at.insert(farm.unwrap_or_default().to_owned(), at as u32);
        at as u32
    }

    fn new_cow(&mut self, farm: u32, cow: &str) -> u32 {
        // Both as she is written and as tags are compared.
        let cows = &mut self.cow_at[farm as usize];
        let at = *cows.entry(key(cow)).or_insert_with(|| {
            self.cows.push((farm, cow.to_owned()));
            self.cows.len() as u32 - 1
        });
        cows.insert(cow.to_owned(), at);
        at
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

    /// Gives each cow of a farm with her entries, by date and within a day as they were added. Farm and tag are not
    /// written into each entry.
    pub fn each_cow(&self, farm: usize, mut with: impl FnMut(&str, &[Look])) {
        // Where each cow's entries begin, once they stand cow by cow.
        let mut begin = vec![0_usize; self.cows.len() + 1];
        let here = |t: &Trace| self.cows[t.cow as usize].0 as usize == farm;
        self.traces.iter().filter(|t| here(t)).for_each(|t| begin[t.cow as usize + 1] += 1);
        for cow in 0..self.cows.len() {
            begin[cow + 1] += begin[cow];
        }
        let mut free = begin.clone();
        let mut order = vec![0_u32; begin[self.cows.len()]];
        for (i, t) in self.traces.iter().enumerate().filter(|(_, t)| here(t)) {
            order[free[t.cow as usize]] = i as u32;
            free[t.cow as usize] += 1;
        }
        for (cow, (_, tag)) in self.cows.iter().enumerate() {
            let mine = &mut order[begin[cow]..begin[cow + 1]];
            if mine.is_empty() {
                continue;
            }
            mine.sort_by_key(|i| self.traces[*i as usize].date);
            with(tag, &mine.iter().map(|i| self.look(*i as usize)).collect::<Vec<_>>());
        }
    }

    fn look(&self, at: usize) -> Look {
        let t = self.traces[at];
        let next = self.traces.get(at + 1);
        let slice = |from: u32, to: Option<u32>, all: usize| from as usize..to.map_or(all, |to| to as usize);
        let found = &self.found[slice(t.found, next.map(|n| n.found), self.found.len())];
        let done = &self.done[slice(t.done, next.map(|n| n.done), self.done.len())];
        let promised = &self.promised[slice(t.promised, next.map(|n| n.promised), self.promised.len())];
        let entry = Entry {
            findings: found.iter().map(Found::finding).collect(),
            actions: done
                .iter()
                .map(|d| Action { foot: d.foot, claw: d.claw, lost: d.lost, ..Action::new(d.what) })
                .collect(),
            clear: Foot::ALL.into_iter().filter(|f| t.clear & bit(*f) != 0).collect(),
            due: promised.iter().map(|d| Due { what: d.what, on: d.on, foot: d.foot }).collect(),
            ..Entry::default()
        };
        let seen = Seen {
            id: String::new(),
            date: t.date,
            at: t.date.and_time(chrono::NaiveTime::MIN).and_utc().fixed_offset(),
            farm: None,
            trimmer: None,
            cow: String::new(),
            entry,
        };
        Look { seen, examined: t.examined, locomotion: t.locomotion.score(), mobility: t.mobility.score() }
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
        let (at, add) =
            (day, |pile: &mut Pile, farm, cow, date, entry: &Entry| pile.add(Some(farm), cow, date, &Brief::of(entry)));
        let (ulcer, bare) = (
            entry(json!({"cow":"8","findings":[{"foot":"LH","claw":"outer","zones":[4,12],"disorder":"SU",
                "course":"worse","certain":false}],"actions":[{"what":"unwrap","foot":"RF","claw":"inner","lost":true}],
                "clear":["LF","RH"],"due":[{"what":"block_off","foot":"LH","on":"2026-04-01"}],
                "scores":[{"scale":"locomotion","value":2},{"scale":"locomotion","value":4},
                    {"scale":"mobility","value":3,"when":"after"}]})),
            entry(json!({"cow":"8"})),
        );
        let mut pile = Pile::default();
        add(&mut pile, "A", "b8", at(12), &ulcer);
        add(&mut pile, "B", "B8", at(1), &bare);
        add(&mut pile, "a ", "B8", at(2), &bare);
        let mut looks = Vec::new();
        pile.each_cow(0, |tag, cow| {
            assert_eq!(tag, "b8");
            looks.push(cow.to_vec());
        });
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
        assert!(size_of::<Trace>() == 24 && size_of::<Found>() == 8 && size_of::<Done>() == 4);
    }
}
