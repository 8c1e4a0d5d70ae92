//! The first look over a whole file: which days its headings are, and what must be asked once.

use std::collections::{BTreeMap, HashMap, HashSet};

use chrono::NaiveDate;
use serde_json::json;

use super::calendar::{Calendar, Day};
use super::farm::{self, Farms, Known};
use super::heading::{Heading, Standing};
use super::order::{Decision, Evidence, Order};
use super::prepare::{Is, Prepared};
use crate::flag::{Flag, FlagKind};

/// What a first look found. Grows with the headings of a file, not with its lines.
#[derive(Debug, Default)]
pub struct Scan {
    headings: Vec<(usize, Heading, String)>,
    evidence: Evidence,
    farms: Farms,
    name: Option<Name>,
    /// The last heading has no farm yet, and nothing stood below it so far.
    open: bool,
    /// Lines that are a heading's farm.
    consumed: HashSet<usize>,
    unknown: BTreeMap<String, Unknown>,
    /// Notes that stand before any heading: the first and how many.
    early: Option<(usize, usize)>,
    pub lines: usize,
}

/// A farm's name on a line of its own.
#[derive(Debug)]
struct Name {
    line: usize,
    text: String,
    farm: String,
    head: Option<u32>,
    /// The line as a heading without a day, where the file has the farm already.
    heading: Option<Heading>,
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
        match &line.is {
            Is::Blank | Is::Bad(_) => {}
            Is::Heading(h) => self.heading(line, h.clone()),
            Is::Perhaps(h, _) => {
                let mut h = h.clone();
                let like = |name: &String| matches!(self.farms.known(name), Known::Like(_));
                if h.farm.as_ref().is_some_and(like) {
                    h.standing = Standing::Sure;
                } else if let Some((farm, ..)) = self.farms.held(&line.text).filter(|_| !h.same_place) {
                    h.farm = Some(farm.to_owned());
                    h.standing = Standing::Sure;
                }
                if h.standing == Standing::WithFarm {
                    self.other(line);
                } else {
                    self.heading(line, h);
                }
            }
            Is::Note(note) => {
                self.no_heading();
                self.open = false;
                if self.headings.is_empty() {
                    self.early.get_or_insert((line.number, 0)).1 += 1;
                }
                for word in &note.unknown {
                    self.unknown(word, line);
                }
            }
            Is::Other(_) => self.other(line),
        }
    }

    fn heading(&mut self, line: &Prepared, mut h: Heading) {
        self.open = h.farm.is_none() && !h.same_place && h.after.is_none();
        match self.name.take() {
            Some(name) if self.open => {
                self.consumed.insert(name.line);
                self.open = false;
                h.farm = Some(name.farm);
                h.head = h.head.or(name.head);
            }
            name => {
                self.name = name;
                self.no_heading();
            }
        }
        if matches!(h.standing, Standing::Sure) {
            self.know(&mut h, &line.text);
        }
        if matches!(h.standing, Standing::Sure | Standing::Row) {
            self.evidence.add(line.number, &h);
            if let Some(farm) = h.farm.as_deref().filter(|_| h.like.is_none() && !h.odd_farm) {
                self.farms.add(farm);
            }
        }
        self.headings.push((line.number, h, line.text.clone()));
    }

    /// What the farm of a heading is beside those that the file has named before.
    fn know(&self, h: &mut Heading, text: &str) {
        let Some(name) = h.farm.clone() else {
            // "Same place", and then another name.
            if let Some((farm, ..)) = self.farms.held(text).filter(|_| h.same_place) {
                h.farm = Some(farm.to_owned());
                h.same_place = false;
            }
            return;
        };
        match self.farms.known(&name) {
            Known::Same(farm) | Known::Noted(farm) => h.farm = Some(farm),
            Known::Like(farm) => h.like = Some(farm),
            Known::New => h.odd_farm = self.farms.capital && !name.starts_with(char::is_uppercase),
        }
    }

    fn other(&mut self, line: &Prepared) {
        let alone = farm::farm_alone(&line.text);
        if let (true, Some((_, last, _)), Some((farm, head))) = (self.open, self.headings.last_mut(), &alone) {
            last.farm = Some(farm.clone());
            last.head = last.head.or(*head);
            self.farms.add(farm);
            self.consumed.insert(line.number);
            self.open = false;
            return;
        }
        self.no_heading();
        self.open = false;
        let heading = farm::with_farm(&line.text, &self.farms);
        let known = heading.as_ref().and_then(|h| Some((h.farm.clone()?, h.head)));
        if let Some((farm, head)) = known.or(alone) {
            self.name = Some(Name { line: line.number, text: line.text.clone(), farm, head, heading });
        }
    }

    /// The farm's name on a line of its own is no heading's below; where the file has the farm already it may be one.
    fn no_heading(&mut self) {
        if let Some(Name { line, text, heading: Some(h), .. }) = self.name.take() {
            self.headings.push((line, h, text));
        }
    }

    fn unknown(&mut self, word: &str, line: &Prepared) {
        let key = word.to_lowercase();
        if self.unknown.len() >= WORDS && !self.unknown.contains_key(&key) {
            return;
        }
        let unknown =
            self.unknown.entry(key).or_insert_with(|| Unknown { word: word.to_owned(), ..Unknown::default() });
        unknown.count += 1;
        if unknown.lines.len() < SHOWN {
            unknown.lines.push((line.number, line.text.clone()));
        }
    }

    /// Shorthand that nobody knows, by its letters.
    pub fn unknown_words(&self) -> impl Iterator<Item = &Unknown> {
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
        let mut names: BTreeMap<String, OtherName> = BTreeMap::new();
        for (line, h, text) in &self.headings {
            let answered = given.days.get(line);
            if answered.is_some_and(|a| a.no_visit) {
                continue;
            }
            let mut day = calendar.open(h, *line, text);
            if let (Some(name), Some(like)) = (&h.farm, &h.like) {
                if let Some(farm) = given.farms.get(name) {
                    day.farm = Some(farm.clone());
                    calendar.farm_was(farm);
                } else if answered.is_none_or(|a| a.farm.is_none()) {
                    let message = format!("is `{name}` the farm `{like}`?");
                    let flag = Flag::ask(FlagKind::SameOpen, "farm", message);
                    day.flags.push(flag.options([json!(like), json!(name)]));
                    let other = || OtherName { like: like.clone(), lines: vec![] };
                    names.entry(name.clone()).or_insert_with(other).lines.push((*line, text.clone()));
                }
            }
            if let Some(date) = answered.and_then(|a| a.date) {
                day.date = Some(date);
                day.flags.retain(|f| f.field != "date");
                calendar.date_was(date);
            }
            if let Some(farm) = answered.and_then(|a| a.farm.clone()) {
                calendar.farm_was(&farm);
                if let Some(date) = day.date {
                    calendar.date_was(date);
                }
                day.farm = Some(farm);
                day.flags.retain(|f| f.field != "farm");
            }
            days.insert(*line, (day, text.clone()));
        }
        Plan { order, days, names, consumed: self.consumed.clone(), first: first(given) }
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
    /// Which farm another name means.
    pub farms: BTreeMap<String, String>,
}

/// What the person said about a heading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GivenDay {
    pub date: Option<NaiveDate>,
    pub farm: Option<String>,
    /// The line opens no visit.
    pub no_visit: bool,
}

/// The visits of a file, by the lines of their headings.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    pub order: Option<Order>,
    pub days: HashMap<usize, (Day, String)>,
    /// Names that may be another farm's, and are asked once.
    pub names: BTreeMap<String, OtherName>,
    pub(super) consumed: HashSet<usize>,
    /// Of what stands before any heading.
    pub(super) first: Day,
}

/// A name that looks like that of another farm.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OtherName {
    pub like: String,
    /// The headings it stands in.
    pub lines: Vec<(usize, String)>,
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
