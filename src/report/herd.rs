//! `herd`: how often what is found at a farm, with limits; new cases and repeats; healing; rechecks; what comes off.
//!
//! All shares are of cows, as feet and claws of one cow do not stand for themselves. What was not certain is in none.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Duration, NaiveDate};
use serde::Serialize;

use super::cases::{Case, cases};
use super::cow::{Device, devices};
use super::due::{self, Rules, What};
use super::foot_map::FootMap;
use super::material::{Material, Seen, key};
use super::survival;
use super::wilson;
use crate::disorder::{Course, Disorder};
use crate::entry::{Act, Entry, Finding};

/// A share of cows. `low` and `high` are 95 % limits (Wilson) in per cent, `None` where there are no cows.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Share {
    /// A disorder, a group of them, or `any lesion`.
    pub what: String,
    pub code: Option<&'static str>,
    pub cows: usize,
    /// Cows examined: a foot was in the hand.
    pub of: usize,
    pub percent: Option<f64>,
    pub low: Option<f64>,
    pub high: Option<f64>,
    /// New cases, and those of them that are repeats at the same place.
    pub new: usize,
    pub repeats: usize,
    /// A published figure beside it, named.
    pub published: Option<&'static str>,
}

/// The cows of one visit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Day {
    pub date: NaiveDate,
    pub examined: usize,
    pub with_lesion: usize,
}

/// What stands in the report.
#[derive(Clone, Debug)]
pub struct Herd {
    pub days: Vec<Day>,
    /// Distinct cows.
    pub seen: usize,
    pub examined: usize,
    /// `any lesion` first, then groups, then disorders, the most frequent first.
    pub shares: Vec<Share>,
    pub map: FootMap,
    /// Findings that were not certain: in no figure.
    pub uncertain: usize,
    /// Share still open by days, of cases that began in the period; and how many of them healed, and were lost to
    /// sight.
    pub healing: Vec<survival::Step>,
    pub healed: usize,
    pub lost_to_sight: usize,
    /// Rechecks whose time has come: in time, late, not done.
    pub rechecks: [usize; 3],
    /// Blocks and wraps put on, and those that came off by themselves.
    pub blocks: (usize, usize),
    pub wraps: (usize, usize),
    /// Cows with more than one case, the most first.
    pub back: Vec<(String, usize)>,
}

/// Groups of disorders, by cause (ICAR Claw Health Atlas and textbooks, from memory).
fn group(d: Disorder) -> &'static str {
    use Disorder as D;
    match d {
        D::DD | D::ID | D::IP | D::HHE => "infectious causes",
        D::AC | D::CC | D::CD | D::SC => "shape of claws",
        D::IH | D::SW => "other skin",
        _ => "horn lesions",
    }
}

/// Figures of whole-herd trims; per cent of cows.
fn published(what: &str) -> Option<&'static str> {
    Some(match what {
        "any" => "46.4 Ontario, free stalls (Cramer 2008)",
        "DD" => "15 Alberta (Solano 2016); 22.7 Ontario, free stalls (Cramer 2008)",
        "SU" => "6 Alberta (Solano 2016); 5.6 Netherlands (Holzhauer 2008)",
        "WL" => "4 Alberta (Solano 2016)",
        _ => return None,
    })
}

/// A foot was in the hand.
fn is_examined(e: &Entry) -> bool {
    !(e.findings.is_empty() && e.clear.is_empty() && e.measures.is_empty())
        || e.actions.iter().any(|a| a.what != Act::Vet)
}

/// A lesion that is there, for certain.
fn is_there(f: &Finding) -> bool {
    f.certain != Some(false) && f.course != Some(Course::Healed) && f.disorder.is_some()
}

/// The herd from `from` to the end of `material`, which holds what was before as well: without it, what is old would
/// look new. `today` is where waiting counts to.
pub fn herd(material: &Material, from: Option<NaiveDate>, today: NaiveDate, gap: i64, rules: &Rules) -> Herd {
    let inside = |date: NaiveDate| from.is_none_or(|from| from <= date);
    let mut cows: BTreeMap<(String, String), Vec<&Seen>> = BTreeMap::new();
    for s in &material.seen {
        cows.entry((s.farm.as_deref().map(key).unwrap_or_default(), key(&s.cow))).or_default().push(s);
    }
    let mut tally = Tally::default();
    let mut herd = Herd {
        days: vec![],
        seen: 0,
        examined: 0,
        shares: vec![],
        map: FootMap::default(),
        uncertain: 0,
        healing: vec![],
        healed: 0,
        lost_to_sight: 0,
        rechecks: [0; 3],
        blocks: (0, 0),
        wraps: (0, 0),
        back: vec![],
    };
    let mut watched: Vec<(i64, bool)> = Vec::new();
    for seen in cows.values() {
        let now: Vec<&Seen> = seen.iter().copied().filter(|s| inside(s.date)).collect();
        if now.is_empty() {
            continue;
        }
        herd.seen += 1;
        herd.examined += usize::from(now.iter().any(|s| is_examined(&s.entry)));
        let findings = || now.iter().flat_map(|s| &s.entry.findings);
        herd.uncertain += findings().filter(|f| f.certain == Some(false)).count();
        findings().filter(|f| is_there(f)).for_each(|f| herd.map.add(f));
        let found: BTreeSet<Disorder> = findings().filter(|f| is_there(f)).filter_map(|f| f.disorder).collect();
        let begun: Vec<Case> =
            cases(seen.iter().copied(), gap).into_iter().filter(|c| inside(c.first) && !c.begun_before).collect();
        tally.cow(&found, &begun);
        for c in &begun {
            watched.push(((c.healed.unwrap_or(c.last) - c.first).num_days(), c.healed.is_some()));
        }
        if begun.len() > 1 {
            herd.back.push((now[0].cow.clone(), begun.len()));
        }
        for d in devices(seen.iter().copied()).iter().filter(|d| inside(d.on)) {
            let Device { what, lost, .. } = d;
            let of = if *what == Act::Block { &mut herd.blocks } else { &mut herd.wraps };
            of.0 += 1;
            of.1 += usize::from(*lost);
        }
        rechecks(seen, rules, today, &inside, &mut herd.rechecks);
        for s in now.iter().filter(|s| is_examined(&s.entry)) {
            let day = tally.days.entry(s.date).or_default();
            // Two entries of a cow on one day are one cow.
            let cow = day.entry((s.farm.as_deref().map(key), key(&s.cow))).or_default();
            *cow |= s.entry.findings.iter().any(is_there);
        }
    }
    herd.healed = watched.iter().filter(|w| w.1).count();
    herd.lost_to_sight = watched.len() - herd.healed;
    herd.healing = survival::curve(&watched);
    herd.back.sort_by(|a, b| (b.1, &a.0).cmp(&(a.1, &b.0)));
    let days = tally.days.iter();
    herd.days = days
        .map(|(date, cows)| Day {
            date: *date,
            examined: cows.len(),
            with_lesion: cows.values().filter(|l| **l).count(),
        })
        .collect();
    herd.shares = tally.shares(herd.examined);
    herd
}

/// Cows, new cases and repeats of one row.
type Row = (usize, usize, usize);

#[derive(Default)]
struct Tally {
    any: Row,
    groups: BTreeMap<&'static str, Row>,
    disorders: BTreeMap<Disorder, Row>,
    days: BTreeMap<NaiveDate, BTreeMap<(Option<String>, String), bool>>,
}

impl Tally {
    fn cow(&mut self, found: &BTreeSet<Disorder>, begun: &[Case]) {
        self.any.0 += usize::from(!found.is_empty());
        let groups: BTreeSet<&str> = found.iter().map(|d| group(*d)).collect();
        for d in found {
            self.disorders.entry(*d).or_default().0 += 1;
        }
        for g in groups {
            self.groups.entry(g).or_default().0 += 1;
        }
        for c in begun {
            let row = self.disorders.entry(c.disorder).or_default();
            for row in [row, self.groups.entry(group(c.disorder)).or_default(), &mut self.any] {
                row.1 += 1;
                row.2 += usize::from(c.nth > 1);
            }
        }
    }

    fn shares(&self, of: usize) -> Vec<Share> {
        let percent = |x: f64| (x * 1000.0).round() / 10.0;
        let share = |what: String, code: Option<&'static str>, (cows, new, repeats): Row| {
            let limits = wilson::limits(cows, of);
            Share {
                published: published(code.unwrap_or(if what == "any lesion" { "any" } else { "" })),
                what,
                code,
                cows,
                of,
                percent: (of > 0).then(|| percent(cows as f64 / of as f64)),
                low: limits.map(|l| percent(l.0)),
                high: limits.map(|l| percent(l.1)),
                new,
                repeats,
            }
        };
        let mut all = vec![share("any lesion".to_owned(), None, self.any)];
        let mut groups: Vec<Share> = self.groups.iter().map(|(g, row)| share((*g).to_owned(), None, *row)).collect();
        let mut rest: Vec<Share> =
            self.disorders.iter().map(|(d, row)| share(d.name().to_owned(), Some(d.code()), *row)).collect();
        groups.sort_by_key(|s| std::cmp::Reverse(s.cows));
        rest.sort_by_key(|s| std::cmp::Reverse(s.cows));
        all.extend(groups);
        all.extend(rest);
        all
    }
}

/// Whether each recheck whose time has come was done: within a week of its day, later, or not.
fn rechecks(
    seen: &[&Seen],
    rules: &Rules,
    today: NaiveDate,
    inside: &dyn Fn(NaiveDate) -> bool,
    count: &mut [usize; 3],
) {
    let week = Duration::days(rules.early);
    for (i, s) in seen.iter().enumerate().filter(|(_, s)| inside(s.date)) {
        for item in due::left_by(s, rules).iter().filter(|i| i.what == What::Recheck && i.on + week < today) {
            let looked = |later: &&&Seen| {
                later.date > s.date
                    && later.date >= item.on - week
                    && item.foot.map_or(is_examined(&later.entry), |f| due::is_looked_at(&later.entry, f))
            };
            match seen[i..].iter().find(looked) {
                Some(later) if later.date <= item.on + week => count[0] += 1,
                Some(_) => count[1] += 1,
                None => count[2] += 1,
            }
        }
    }
}
