//! `due`: what must be seen to, from what was said and by rule, without what a later entry has settled.

use std::collections::{BTreeMap, HashMap};

use chrono::{Duration, NaiveDate};
use serde::Serialize;

use super::herd_file::Dates;
use super::material::{Material, Seen, in_order, key};
use crate::anatomy::{Claw, Foot};
use crate::disorder::{Course, Disorder};
use crate::entry::{Act, Action, Due, DueWhat, Entry, Finding};
use crate::show::deeds;

/// Days that hold where nothing was said.
#[derive(Clone, Debug)]
pub struct Rules {
    /// A block comes off from the first to the second day: 28-42 (Cramer 2015: about 4 weeks; Malone: 4-6 weeks).
    pub block: (i64, i64),
    /// A wrap is off by this day: 3 (University of Wisconsin 2015: falls off in 1-2 days, else take it off).
    pub wrap: i64,
    /// Recheck after an ulcer or white line abscess: 30 (Lischer et al. 2001: 68 % covered by day 30).
    pub recheck: i64,
    /// A recheck that comes so many days too soon is one: 7, common practice.
    pub early: i64,
    /// Days in milk for the routine trim: 60-150 (mid-lactation; trials at 114-120, University of Minnesota).
    pub milk: (i64, i64),
    /// The trim before dry-off: in the last so many days before it: 28, common practice (University of Missouri:
    /// at dry-off).
    pub dry: i64,
}

impl Default for Rules {
    fn default() -> Self {
        Self { block: (28, 42), wrap: 3, recheck: 30, early: 7, milk: (60, 150), dry: 28 }
    }
}

/// Disorders that are looked at again by rule.
const RECHECKED: [Disorder; 5] = [Disorder::SU, Disorder::BU, Disorder::TU, Disorder::TN, Disorder::WLA];

/// What there is to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum What {
    Recheck,
    BlockOff,
    WrapOff,
    Vet,
    Trim,
}

impl What {
    pub fn words(self) -> &'static str {
        match self {
            Self::Recheck => "recheck",
            Self::BlockOff => "block off",
            Self::WrapOff => "wrap off",
            Self::Vet => "vet to see her",
            Self::Trim => "routine trim",
        }
    }

    /// As the log and the tables write it.
    pub fn code(self) -> &'static str {
        match self {
            Self::Recheck => "recheck",
            Self::BlockOff => "block_off",
            Self::WrapOff => "wrap_off",
            Self::Vet => "vet",
            Self::Trim => "trim",
        }
    }
}

/// Something to see to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Item {
    pub farm: Option<String>,
    pub cow: String,
    pub what: What,
    /// `None` where the whole cow is meant, or no foot was said.
    pub foot: Option<Foot>,
    pub claw: Option<Claw>,
    /// The day it is due from.
    pub on: NaiveDate,
    /// The last day on which it is not overdue.
    pub until: NaiveDate,
    /// The day was not said.
    pub by_rule: bool,
    /// The visit that it comes from; of a routine trim, when she last calved or is to be dried off.
    pub since: NaiveDate,
    /// What it is about: `outer sole ulcer, zone 4`.
    pub why: String,
}

/// What is due, and what was taken as settled without a word of it.
#[derive(Clone, Debug, Default)]
pub struct DueList {
    /// By day and farm, rechecks first.
    pub items: Vec<Item>,
    /// Blocks and wraps taken to be off, since the foot was clean or healed later.
    pub silent: Vec<Item>,
}

impl Item {
    /// `right hind inner`, `whole cow`.
    pub fn place(&self) -> String {
        match (self.foot, self.claw) {
            (Some(foot), Some(claw)) => format!("{} {}", foot.words(), claw.words()),
            (Some(foot), None) => foot.words().to_owned(),
            (None, _) => String::new(),
        }
    }

    /// `until 23 apr, by rule; rubber`.
    pub fn about(&self) -> String {
        let mut told = Vec::new();
        if self.until != self.on {
            told.push(format!("until {}", self.until.format("%-d %b").to_string().to_lowercase()));
        }
        if self.by_rule {
            told.push("by rule".to_owned());
        }
        let told = told.join(", ");
        if told.is_empty() || self.why.is_empty() { told + &self.why } else { format!("{told}; {}", self.why) }
    }
}

#[allow(clippy::implicit_hasher, reason = "it is the map that `herd_file` gives")]
/// What stands open after the last entry of `material`, with routine trims of the cows in `herd` by `today`.
pub fn due(material: &Material, herd: &HashMap<String, Dates>, rules: &Rules, today: NaiveDate) -> DueList {
    let mut open: BTreeMap<(String, String), Vec<Item>> = BTreeMap::new();
    let mut silent = Vec::new();
    for seen in &material.seen {
        let farm = seen.farm.as_deref().map(key).unwrap_or_default();
        let items = open.entry((farm, key(&seen.cow))).or_default();
        settle(items, seen, rules, &mut silent);
        add(items, seen, rules);
    }
    let mut items: Vec<Item> = open.into_values().flatten().collect();
    items.extend(trims(material, herd, rules, today));
    items.sort_by_cached_key(|i| (i.on, i.farm.clone(), i.what, in_order(&i.cow), i.foot));
    DueList { items, silent }
}

/// The foot is clean, or all that was found on it is healed.
pub(super) fn is_well(entry: &Entry, foot: Foot) -> bool {
    let mut here = entry.findings.iter().filter(|f| f.foot == Some(foot)).peekable();
    if here.peek().is_none() {
        return entry.clear.contains(&foot);
    }
    here.all(|f| f.course == Some(Course::Healed))
}

pub(super) fn is_looked_at(entry: &Entry, foot: Foot) -> bool {
    entry.clear.contains(&foot) || entry.findings.iter().any(|f| f.foot == Some(foot))
}

/// Takes out what this entry settles of what stood open before it.
fn settle(items: &mut Vec<Item>, seen: &Seen, rules: &Rules, silent: &mut Vec<Item>) {
    let entry = &seen.entry;
    // A place that was not said is any.
    fn fits<T: PartialEq>(a: Option<T>, b: Option<T>) -> bool {
        a.is_none() || b.is_none() || a == b
    }
    let did = |act: Act, item: &Item| {
        let here = |a: &&Action| a.what == act && fits(a.foot, item.foot) && fits(a.claw, item.claw);
        entry.actions.iter().any(|a| here(&a))
    };
    let well = |foot: Option<Foot>| foot.map_or(entry.clear.len() == 4, |f| is_well(entry, f));
    let looked = |foot: Option<Foot>| foot.map_or(!entry.is_bare(), |f| is_looked_at(entry, f));
    items.retain(|item| {
        let mut device = |off: Act, on: Act| {
            // A new one in the same place: the old one is gone.
            if did(off, item) || did(on, item) {
                return false;
            }
            if well(item.foot) {
                silent.push(item.clone());
            }
            !well(item.foot)
        };
        match item.what {
            What::BlockOff => device(Act::Unblock, Act::Block),
            What::WrapOff => device(Act::Unwrap, Act::Wrap),
            What::Recheck => {
                let again = entry.due.iter().any(|d| d.what == DueWhat::Recheck && fits(d.foot, item.foot));
                let in_time = seen.date >= item.on - Duration::days(rules.early);
                !(well(item.foot) || again || (in_time && looked(item.foot)))
            }
            What::Vet => !(well(item.foot) || did(Act::Vet, item)),
            What::Trim => true,
        }
    });
}

/// The rechecks that an entry by itself asks for: foot, day, and whether by rule.
pub(super) fn rechecks_of(seen: &Seen, rules: &Rules) -> Vec<(Option<Foot>, NaiveDate, bool)> {
    let said = seen.entry.due.iter().filter(|d| d.what == DueWhat::Recheck);
    let mut all: Vec<_> = said.filter_map(|d| Some((d.foot, d.on?, false))).collect();
    for foot in Foot::ALL {
        let lesion = seen.entry.findings.iter().any(|f| f.foot == Some(foot) && is_rechecked(f));
        if lesion && !all.iter().any(|(f, ..)| f.is_none() || *f == Some(foot)) {
            all.push((Some(foot), seen.date + Duration::days(rules.recheck), true));
        }
    }
    all
}

/// A lesion that is looked at again by rule.
fn is_rechecked(f: &Finding) -> bool {
    f.course != Some(Course::Healed) && f.disorder.is_some_and(|d| RECHECKED.contains(&d))
}

/// Adds what this entry leaves open.
fn add(items: &mut Vec<Item>, seen: &Seen, rules: &Rules) {
    let entry = &seen.entry;
    let item = |what, foot, on: NaiveDate, until: NaiveDate, by_rule, why: String| Item {
        farm: seen.farm.clone(),
        cow: seen.cow.clone(),
        what,
        foot,
        claw: None,
        on,
        until,
        by_rule,
        since: seen.date,
        why,
    };
    let said = |what: DueWhat, foot: Option<Foot>| {
        entry.due.iter().filter(|d| d.what == what).find(|d| d.foot.is_none() || d.foot == foot).and_then(|d| d.on)
    };
    let after = |days| seen.date + Duration::days(days);
    for a in &entry.actions {
        let (what, due, from, to) = match a.what {
            Act::Block => (What::BlockOff, DueWhat::BlockOff, rules.block.0, rules.block.1),
            Act::Wrap => (What::WrapOff, DueWhat::WrapOff, rules.wrap, rules.wrap),
            _ => continue,
        };
        let why = a.material.clone().or_else(|| a.agent.clone()).unwrap_or_default();
        let day = said(due, a.foot);
        let new = item(what, a.foot, day.unwrap_or(after(from)), day.unwrap_or(after(to)), day.is_none(), why);
        items.push(Item { claw: a.claw, ..new });
    }
    for Due { what, on, foot } in &entry.due {
        let Some(on) = *on else { continue };
        let (what, act) = match what {
            // Below.
            DueWhat::Recheck => continue,
            DueWhat::BlockOff => (What::BlockOff, Act::Block),
            DueWhat::WrapOff => (What::WrapOff, Act::Wrap),
        };
        if entry.actions.iter().any(|a| a.what == act && (foot.is_none() || a.foot == *foot)) {
            continue;
        }
        // Said of one that was put on before; of none that the log knows, it stands by itself.
        let mut known = false;
        for old in items.iter_mut().filter(|i| i.what == what && (foot.is_none() || i.foot == *foot)) {
            (old.on, old.until, old.by_rule, known) = (on, on, false, true);
        }
        if !known {
            items.push(item(what, *foot, on, on, false, String::new()));
        }
    }
    for (foot, on, by_rule) in rechecks_of(seen, rules) {
        let stands = |i: &Item| i.what == What::Recheck && (i.foot.is_none() || i.foot == foot);
        if by_rule && items.iter().any(stands) {
            continue;
        }
        let why = lesions(entry, foot, |f| !by_rule || is_rechecked(f));
        items.push(item(What::Recheck, foot, on, on, by_rule, why));
    }
    for a in entry.actions.iter().filter(|a| a.what == Act::Vet) {
        let mut feet: Vec<Foot> = entry.findings.iter().filter_map(|f| f.foot).collect();
        feet.sort();
        feet.dedup();
        let foot = a.foot.or(if let [one] = feet[..] { Some(one) } else { None });
        items.push(item(What::Vet, foot, seen.date, seen.date, false, lesions(entry, foot, |_| true)));
    }
}

/// The findings of a foot, or of all of them, in words.
fn lesions(entry: &Entry, foot: Option<Foot>, which: impl Fn(&Finding) -> bool) -> String {
    let here = entry.findings.iter().filter(|f| (foot.is_none() || f.foot == foot) && which(f));
    here.map(deeds::finding).collect::<Vec<_>>().join("; ")
}

/// She was trimmed: it was said of the whole cow, or all four feet were looked at.
fn is_trimmed(entry: &Entry) -> bool {
    let whole = entry.actions.iter().any(|a| a.what == Act::Trim && a.foot.is_none());
    let foot = |f| is_looked_at(entry, f) || entry.actions.iter().any(|a| a.what == Act::Trim && a.foot == Some(f));
    whole || Foot::ALL.into_iter().all(foot)
}

/// The routine trims whose time has come and that no entry shows.
fn trims(material: &Material, herd: &HashMap<String, Dates>, rules: &Rules, today: NaiveDate) -> Vec<Item> {
    let mut last: HashMap<String, NaiveDate> = HashMap::new();
    for seen in material.seen.iter().filter(|s| is_trimmed(&s.entry)) {
        last.insert(key(&seen.cow), seen.date);
    }
    let farm = material.scope().farm.clone();
    let mut items = Vec::new();
    for (tag, dates) in herd {
        let done_since = |day: NaiveDate| last.get(tag).is_some_and(|l| *l >= day);
        let mut push = |on, until, since, why: &str| {
            items.push(Item {
                farm: farm.clone(),
                cow: dates.tag.clone(),
                what: What::Trim,
                foot: None,
                claw: None,
                on,
                until,
                by_rule: true,
                since,
                why: why.to_owned(),
            });
        };
        if let Some(calved) = dates.calved {
            let (on, until) = (calved + Duration::days(rules.milk.0), calved + Duration::days(rules.milk.1));
            // One that was missed long ago is no longer a trim in mid-lactation.
            if on <= today && today <= until && !done_since(on) {
                push(on, until, calved, &format!("{} days in milk", (today - calved).num_days()));
            }
        }
        if let Some(dry) = dates.dry {
            let on = dry - Duration::days(rules.dry);
            if on <= today && today <= dry && !done_since(on) {
                push(on, dry, dry, &format!("dry-off {}", crate::show::day(dry)));
            }
        }
    }
    items
}

#[cfg(test)]
pub(in crate::report) mod tests;
