//! `sheet`: the page for the farmer before the truck leaves, for somebody who was not there.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::cow::{lines, map};
use super::due::{Item, What};
use super::foot_map::FootMap;
use super::material::{LeftOut, Material, Seen, in_order, key};
use crate::entry::{Act, Entry};
use crate::flag::FlagKind;
use crate::show;
use crate::show::deeds;

/// What stands on the page.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// `Juniper Flat, thu 12 mar 2026`.
    pub title: String,
    /// Who trimmed, each once.
    pub trimmers: Vec<String>,
    /// Cow, place and what for.
    pub vet: Vec<[String; 3]>,
    /// What was counted, and how often.
    pub counts: Vec<(String, usize)>,
    /// Cow, place and what was found and done, in the order of the day.
    pub cows: Vec<[String; 3]>,
    /// Cows on whose feet nothing was found.
    pub clean: Vec<String>,
    /// Day, what, who sees to it, and the cows with their feet.
    pub due: Vec<[String; 4]>,
    pub map: FootMap,
    pub left: LeftOut,
}

/// Who sees to it, as a rule of the trade: common practice.
fn who(what: What) -> &'static str {
    match what {
        What::WrapOff => "farm",
        What::Vet => "vet",
        What::BlockOff | What::Recheck | What::Trim => "trimmer",
    }
}

/// The page of one day at one farm; `due` is what stands open at the farm after it.
pub fn sheet(day: &Material, date: NaiveDate, due: &[Item]) -> Sheet {
    let farm = day.scope().farm.clone().or_else(|| day.seen.iter().find_map(|s| s.farm.clone()));
    let mut trimmers: Vec<String> = day.seen.iter().filter_map(|s| s.trimmer.clone()).collect();
    trimmers.sort();
    trimmers.dedup();
    let mut sheet = Sheet {
        title: farm.map_or(show::day(date), |f| format!("{}, {}", f.trim(), show::day(date))),
        trimmers,
        vet: vec![],
        counts: counts(day),
        cows: vec![],
        clean: vec![],
        due: vec![],
        map: map(&day.seen),
        left: day.left,
    };
    for s in &day.seen {
        sheet.vet.extend(for_vet(s));
        let plain = Entry { clear: vec![], ..s.entry.clone() };
        if plain.is_bare() && plain.remarks.is_empty() && !s.entry.clear.is_empty() {
            let feet: Vec<&str> = s.entry.clear.iter().map(|f| f.words()).collect();
            sheet.clean.push(match feet.len() {
                4 => s.cow.clone(),
                _ => format!("{} ({})", s.cow, feet.join(", ")),
            });
            continue;
        }
        let mut cow = s.cow.clone();
        for (place, told) in lines(&Entry { due: vec![], ..s.entry.clone() }) {
            sheet.cows.push([std::mem::take(&mut cow), place, told]);
        }
    }
    sheet.due = todo(due);
    sheet
}

/// What is to be done as a list to tick off: a row for each day and kind of work, with all the cows.
fn todo(due: &[Item]) -> Vec<[String; 4]> {
    let same = |a: &&Item, b: &&Item| (a.on, a.until, a.what, a.by_rule) == (b.on, b.until, b.what, b.by_rule);
    let mut due: Vec<&Item> = due.iter().collect();
    due.sort_by_key(|i| (i.on, i.what, i.until, i.by_rule, in_order(&i.cow)));
    let rows = due.chunk_by(same).map(|work| {
        let i = work[0];
        let until =
            if i.until == i.on { String::new() } else { i.until.format(" to %-d %b").to_string().to_lowercase() };
        let star = if i.by_rule { " *" } else { "" };
        let cows = work.chunk_by(|a, b| key(&a.cow) == key(&b.cow)).map(|cow| {
            let feet: Vec<String> = cow.iter().map(|i| i.place()).filter(|p| !p.is_empty()).collect();
            format!("{} {}", cow[0].cow, feet.join(" and ")).trim_end().to_owned()
        });
        let cows = cows.collect::<Vec<_>>().join(", ");
        [format!("{}{until}{star}", show::day(i.on)), i.what.words().to_owned(), who(i.what).to_owned(), cows]
    });
    rows.collect()
}

/// What the star says.
pub const BY_RULE: &str = "* by rule: nobody said a day";

/// Why the veterinarian is to see her: she was referred, or has signs that are the vet's.
fn for_vet(s: &Seen) -> Vec<[String; 3]> {
    let called = s.entry.actions.iter().any(|a| a.what == Act::Vet);
    let signs = s.entry.flags.iter().any(|f| f.kind == FlagKind::VetSign);
    if !called && !signs {
        return vec![];
    }
    let mut told: Vec<[String; 3]> = Vec::new();
    for f in &s.entry.findings {
        let place = f.foot.map_or("", crate::anatomy::Foot::words);
        told.push([s.cow.clone(), place.to_owned(), deeds::finding(f)]);
    }
    told.extend(s.entry.scores.iter().map(|c| [s.cow.clone(), c.scale.words().to_owned(), deeds::score(c)]));
    if told.is_empty() {
        told.push([s.cow.clone(), String::new(), "referred".to_owned()]);
    }
    if !called {
        told.push([s.cow.clone(), String::new(), "signs that belong to a veterinarian; none was called".to_owned()]);
    }
    for row in told.iter_mut().skip(1) {
        row[0].clear();
    }
    told
}

/// Cows, findings by disorder (healed and doubtful ones apart), blocks and wraps.
fn counts(day: &Material) -> Vec<(String, usize)> {
    let cows = |which: &dyn Fn(&Entry) -> bool| {
        let mut cows: Vec<String> = day.seen.iter().filter(|s| which(&s.entry)).map(|s| key(&s.cow)).collect();
        cows.sort();
        cows.dedup();
        cows.len()
    };
    let mut counts = vec![
        ("cows seen".to_owned(), cows(&|_| true)),
        ("cows with findings".to_owned(), cows(&|e| !e.findings.is_empty())),
    ];
    let mut findings: BTreeMap<String, usize> = BTreeMap::new();
    for f in day.seen.iter().flat_map(|s| &s.entry.findings) {
        let name = f.disorder.map_or("lesion, kind not known", crate::disorder::Disorder::name);
        let healed = if f.course == Some(crate::disorder::Course::Healed) { ", healed" } else { "" };
        let doubt = if f.certain == Some(false) { ", not certain" } else { "" };
        *findings.entry(format!("{name}{healed}{doubt}")).or_default() += 1;
    }
    let mut findings: Vec<(String, usize)> = findings.into_iter().collect();
    findings.sort_by_key(|f| std::cmp::Reverse(f.1));
    counts.extend(findings);
    for (name, what) in
        [("blocks on", Act::Block), ("blocks off", Act::Unblock), ("wraps on", Act::Wrap), ("wraps off", Act::Unwrap)]
    {
        let n = day.seen.iter().flat_map(|s| &s.entry.actions).filter(|a| a.what == what).count();
        if n > 0 {
            counts.push((name.to_owned(), n));
        }
    }
    counts
}
