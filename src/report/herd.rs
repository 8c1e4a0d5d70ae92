//! `herd`: how often what is found at a farm, with limits; new cases and repeats; healing; rechecks; what comes off.
//!
//! All shares are of cows, as feet and claws of one cow do not stand for themselves. What was not certain is in none.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, Duration, NaiveDate};

use super::cases::{Case, cases};
use super::cow::devices;
use super::due::{self, Rules};
use super::foot_map::FootMap;
use super::herd_table::{percent, tenths};
use super::material::in_order;
use super::pile::{Look, Pile};
use super::survival;
use super::wilson;
use crate::disorder::{Course, Disorder};
use crate::entry::{Act, Finding, Scale};

/// A share of cows. `low` and `high` are 95 % limits (Wilson) in per cent, `None` where there are no cows.
#[derive(Clone, Debug, PartialEq)]
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

/// The cows of one visit, or of one year.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Day {
    pub date: NaiveDate,
    pub examined: usize,
    pub with_lesion: usize,
}

/// Cows that walked lame, of those that were scored on that scale; scores of two scales are never put together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lame {
    pub scale: Scale,
    /// Her highest score of the period, as she walked in, is at least this.
    pub from: u8,
    pub cows: usize,
    pub of: usize,
}

/// What stands in the report of one farm.
#[derive(Clone, Debug, Default)]
pub struct Herd {
    pub farm: Option<String>,
    pub days: Vec<Day>,
    /// Distinct cows.
    pub seen: usize,
    pub examined: usize,
    /// `any lesion` first, then groups, then disorders, the most frequent first.
    pub shares: Vec<Share>,
    pub lame: Vec<Lame>,
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

/// A lesion that is there, for certain.
fn is_there(f: &Finding) -> bool {
    f.certain != Some(false) && f.course != Some(Course::Healed) && f.disorder.is_some()
}

/// What a published figure beside one of this report does not say.
pub(super) const OVERSTATE: &str = "trims of part of a herd overstate: lame cows come first (Solano 2016)";

/// From which score on a cow is lame: locomotion 3 (Espejo et al. 2006), mobility 2 (AHDB; from memory).
const LAME: [(Scale, u8); 2] = [(Scale::Locomotion, 3), (Scale::Mobility, 2)];

/// One farm of the pile (a place in [`Pile::farms`]) from `from` on; the pile holds what was before as well: without
/// it, what is old would look new. `today` is where waiting counts to. `None` where nothing is of the period.
pub fn herd(
    pile: &Pile,
    farm: usize,
    from: Option<NaiveDate>,
    today: NaiveDate,
    gap: i64,
    rules: &Rules,
) -> Option<Herd> {
    let inside = |date: NaiveDate| from.is_none_or(|from| from <= date);
    let mut tally = Tally::default();
    let mut herd = Herd { farm: pile.farms()[farm].clone(), ..Herd::default() };
    let mut lame = LAME.map(|(scale, from)| Lame { scale, from, cows: 0, of: 0 });
    let mut watched: Vec<(i64, bool)> = Vec::new();
    pile.each_cow(farm, |cow, looks| {
        let now: Vec<&Look> = looks.iter().filter(|l| inside(l.seen.date)).collect();
        if now.is_empty() {
            return;
        }
        let seen = || looks.iter().map(|l| &l.seen);
        herd.seen += 1;
        herd.examined += usize::from(now.iter().any(|l| l.examined));
        let findings = || now.iter().flat_map(|l| &l.seen.entry.findings);
        herd.uncertain += findings().filter(|f| f.certain == Some(false)).count();
        findings().filter(|f| is_there(f)).for_each(|f| herd.map.add(f));
        for l in &mut lame {
            let worst = now.iter().filter_map(|n| if l.scale == Scale::Locomotion { n.locomotion } else { n.mobility });
            let worst = worst.max();
            l.of += usize::from(worst.is_some());
            l.cows += usize::from(worst.is_some_and(|w| w >= l.from));
        }
        let found: BTreeSet<Disorder> = findings().filter(|f| is_there(f)).filter_map(|f| f.disorder).collect();
        let begun: Vec<Case> = cases(seen(), gap).into_iter().filter(|c| inside(c.first) && !c.begun_before).collect();
        tally.cow(&found, &begun);
        for c in &begun {
            watched.push(((c.healed.unwrap_or(c.last) - c.first).num_days(), c.healed.is_some()));
        }
        if begun.len() > 1 {
            herd.back.push((cow.to_owned(), begun.len()));
        }
        for d in devices(seen()).iter().filter(|d| inside(d.on)) {
            let of = if d.what == Act::Block { &mut herd.blocks } else { &mut herd.wraps };
            of.0 += 1;
            of.1 += usize::from(d.lost);
        }
        rechecks(looks, rules, today, &inside, &mut herd.rechecks);
        let examined: Vec<&Look> = now.into_iter().filter(|l| l.examined).collect();
        // Two entries of a cow on one day are one cow.
        for day in examined.chunk_by(|a, b| a.seen.date == b.seen.date) {
            let (all, with) = tally.days.entry(day[0].seen.date).or_default();
            *all += 1;
            *with += usize::from(day.iter().any(|l| l.seen.entry.findings.iter().any(is_there)));
        }
    });
    if herd.seen == 0 {
        return None;
    }
    herd.lame = lame.into_iter().filter(|l| l.of > 0).collect();
    herd.healed = watched.iter().filter(|w| w.1).count();
    herd.lost_to_sight = watched.len() - herd.healed;
    herd.healing = survival::curve(&watched);
    herd.back.sort_by_key(|(cow, n)| (std::cmp::Reverse(*n), in_order(cow)));
    herd.days = tally
        .days
        .iter()
        .map(|(date, (examined, with))| Day { date: *date, examined: *examined, with_lesion: *with })
        .collect();
    herd.shares = tally.shares(herd.examined);
    Some(herd)
}

impl Herd {
    /// The visits; where they are more than fit on a page, the years, with the cows of each visit counted.
    pub fn trend(&self) -> (Trend, Vec<Day>) {
        if self.days.len() <= 24 {
            return (Trend::Visits, self.days.clone());
        }
        let years = self.days.chunk_by(|a, b| a.date.year() == b.date.year());
        let years = years.map(|days| Day {
            date: days[0].date,
            examined: days.iter().map(|d| d.examined).sum(),
            with_lesion: days.iter().map(|d| d.with_lesion).sum(),
        });
        (Trend::Years, years.collect())
    }
}

/// What a trend is by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trend {
    Visits,
    Years,
}

impl Trend {
    /// `thu 12 mar 2026`, or `2026`.
    pub fn name(self, date: NaiveDate) -> String {
        match self {
            Self::Visits => crate::show::day(date),
            Self::Years => date.year().to_string(),
        }
    }
}

/// Cows, new cases and repeats of one row.
type Row = (usize, usize, usize);

#[derive(Default)]
struct Tally {
    any: Row,
    groups: BTreeMap<&'static str, Row>,
    disorders: BTreeMap<Disorder, Row>,
    /// Cows examined, and those of them with a lesion.
    days: BTreeMap<NaiveDate, (usize, usize)>,
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
        let share = |what: String, code: Option<&'static str>, (cows, new, repeats): Row| {
            let limits = wilson::limits(cows, of);
            Share {
                published: published(code.unwrap_or(if what == "any lesion" { "any" } else { "" })),
                what,
                code,
                cows,
                of,
                percent: percent(cows, of),
                low: limits.map(|l| tenths(l.0)),
                high: limits.map(|l| tenths(l.1)),
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
    looks: &[Look],
    rules: &Rules,
    today: NaiveDate,
    inside: &dyn Fn(NaiveDate) -> bool,
    count: &mut [usize; 3],
) {
    let week = Duration::days(rules.early);
    for (i, Look { seen: s, .. }) in looks.iter().enumerate().filter(|(_, l)| inside(l.seen.date)) {
        for (foot, on, _) in due::rechecks_of(s, rules).into_iter().filter(|r| r.1 + week < today) {
            let looked = |later: &&Look| {
                later.seen.date > s.date
                    && later.seen.date >= on - week
                    && foot.map_or(later.examined, |f| due::is_looked_at(&later.seen.entry, f))
            };
            match looks[i..].iter().find(looked) {
                Some(later) if later.seen.date <= on + week => count[0] += 1,
                Some(_) => count[1] += 1,
                None => count[2] += 1,
            }
        }
    }
}
