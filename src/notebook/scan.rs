//! The first look over a whole file: which days its headings are, and what must be asked once.

use std::collections::{BTreeMap, HashMap, HashSet};

use chrono::NaiveDate;

use super::calendar::{Calendar, Day};
use super::heading::{self, Heading};
use super::order::{Decision, Evidence, Order};
use super::prepare::{Is, Prepared};
use crate::flag::{Flag, FlagKind};

/// What a first look found. Grows with the headings of a file, not with its lines.
#[derive(Debug, Default)]
pub struct Scan {
    headings: Vec<(usize, Heading, String)>,
    evidence: Evidence,
    /// A farm's name on a line of its own, and the line.
    name: Option<(usize, String, Option<u32>)>,
    /// The last heading has no farm yet, and nothing stood below it so far.
    open: bool,
    /// Lines that are a heading's farm.
    consumed: HashSet<usize>,
    unknown: BTreeMap<String, Unknown>,
    /// Notes that stand before any heading: the first and how many.
    early: Option<(usize, usize)>,
    pub lines: usize,
}

/// Shorthand that nobody knows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Unknown {
    /// As it was first written.
    pub word: String,
    pub count: usize,
    /// The first lines it stands in.
    pub lines: Vec<(usize, String)>,
}

/// How many lines are shown with unknown shorthand.
const SHOWN: usize = 5;
/// How many different unknown words are kept.
const WORDS: usize = 10_000;

impl Scan {
    /// Takes in a line; lines come in the file's order.
    pub fn add(&mut self, line: &Prepared) {
        self.lines += 1;
        let name = self.name.take();
        match &line.is {
            Is::Blank => self.name = name,
            Is::Heading(h) => {
                let mut h = h.clone();
                self.open = h.farm.is_none() && !h.same_place && h.after.is_none();
                if let Some((at, farm, head)) = name.filter(|_| self.open) {
                    self.consumed.insert(at);
                    self.open = false;
                    h.farm = Some(farm);
                    h.head = h.head.or(head);
                }
                self.evidence.add(line.number, &h);
                self.headings.push((line.number, h, line.text.clone()));
            }
            Is::Note(note) => {
                self.open = false;
                if self.headings.is_empty() {
                    self.early.get_or_insert((line.number, 0)).1 += 1;
                }
                for word in &note.unknown {
                    let key = word.to_lowercase();
                    if self.unknown.len() >= WORDS && !self.unknown.contains_key(&key) {
                        continue;
                    }
                    let unknown =
                        self.unknown.entry(key).or_insert_with(|| Unknown { word: word.clone(), ..Unknown::default() });
                    unknown.count += 1;
                    if unknown.lines.len() < SHOWN {
                        unknown.lines.push((line.number, line.text.clone()));
                    }
                }
            }
            Is::Other(_) => {
                if let Some((farm, head)) = heading::farm_alone(&line.text) {
                    if let (true, Some((_, last, _))) = (self.open, self.headings.last_mut()) {
                        last.farm = Some(farm);
                        last.head = last.head.or(head);
                        self.consumed.insert(line.number);
                    } else {
                        self.name = Some((line.number, farm, head));
                    }
                }
                self.open = false;
            }
            Is::Bad(_) => {}
        }
    }

    /// Shorthand that nobody knows, by its letters.
    pub fn unknown(&self) -> impl Iterator<Item = &Unknown> {
        self.unknown.values()
    }

    /// The order of day and month as the headings tell it.
    pub fn order(&self) -> Decision {
        self.evidence.decide()
    }

    /// Notes before any heading: the line of the first, and how many.
    pub fn early(&self) -> Option<(usize, usize)> {
        self.early
    }

    /// The visits, by what was answered; none of them is after `today`.
    pub fn plan(&self, given: &Given, today: NaiveDate) -> Plan {
        let order = given.order.or(match self.order() {
            Decision::Found(order, _) => Some(order),
            _ => None,
        });
        let mut calendar = Calendar::new(order, given.date, given.farm.clone(), today);
        let mut days = HashMap::with_capacity(self.headings.len());
        for (line, h, text) in &self.headings {
            let mut day = calendar.open(h, *line, text);
            let answered = given.days.get(line);
            if let Some(date) = answered.and_then(|a| a.date) {
                day.date = Some(date);
                day.flags.retain(|f| f.field != "date");
                calendar.date_was(date);
            }
            if let Some(farm) = answered.and_then(|a| a.farm.clone()) {
                calendar.farm_was(&farm);
                day.farm = Some(farm);
                day.flags.retain(|f| f.field != "farm");
            }
            days.insert(*line, (day, text.clone()));
        }
        Plan { order, days, consumed: self.consumed.clone(), first: first(given) }
    }
}

fn first(given: &Given) -> Day {
    let flags = match given.date {
        Some(_) => vec![],
        None => vec![Flag::ask(
            FlagKind::DateOpen,
            "date",
            "these lines stand before any heading: which day, and which farm?",
        )],
    };
    Day { date: given.date, farm: given.farm.clone(), head: None, flags }
}

/// What the person said about the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Given {
    pub order: Option<Order>,
    /// The day and the farm of what stands before the first heading.
    pub date: Option<NaiveDate>,
    pub farm: Option<String>,
    /// By the line of the heading.
    pub days: BTreeMap<usize, GivenDay>,
    /// What shorthand means, in the trade's words; empty for nothing.
    pub words: BTreeMap<String, String>,
}

/// What the person said about a heading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GivenDay {
    pub date: Option<NaiveDate>,
    pub farm: Option<String>,
}

/// The visits of a file, by the lines of their headings.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    pub order: Option<Order>,
    pub days: HashMap<usize, (Day, String)>,
    pub(super) consumed: HashSet<usize>,
    /// Of what stands before any heading.
    pub(super) first: Day,
}

impl Plan {
    /// The headings that are in doubt, in the file's order.
    pub fn doubtful(&self) -> Vec<(usize, &Day, &str)> {
        let asks = |d: &Day| d.flags.iter().any(Flag::asks);
        let mut all: Vec<_> =
            self.days.iter().filter(|d| asks(&d.1.0)).map(|(line, (day, text))| (*line, day, text.as_str())).collect();
        all.sort_by_key(|d| d.0);
        all
    }
}
