//! `cow`: one animal's history: visits, the course of each lesion, blocks and wraps, and a foot map.

use chrono::NaiveDate;
use serde::Serialize;

use super::cases::{Case, cases};
use super::due::is_well;
use super::foot_map::FootMap;
use super::material::{Material, Seen};
use super::table::Table;
use crate::anatomy::{Claw, Foot};
use crate::entry::{Act, Entry};
use crate::show;
use crate::show::deeds;

/// A block or a wrap, from when it was put on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    /// `Block` or `Wrap`.
    pub what: Act,
    pub foot: Option<Foot>,
    pub claw: Option<Claw>,
    pub on: NaiveDate,
    /// When it was taken off, or seen to be lost.
    pub off: Option<NaiveDate>,
    pub lost: bool,
    /// Nobody said that it is off, but since then it is taken to be: the foot was clean or healed.
    pub gone: Option<NaiveDate>,
}

/// All blocks and wraps of one cow.
pub fn devices<'a>(seen: impl IntoIterator<Item = &'a Seen>) -> Vec<Device> {
    let mut devices: Vec<Device> = Vec::new();
    // Places of those of which nobody said that they came off, and of those whose foot was not seen well since either.
    let (mut on, mut unsure): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
    for s in seen {
        for a in &s.entry.actions {
            let (what, put_on) = match a.what {
                Act::Block => (Act::Block, true),
                Act::Unblock => (Act::Block, false),
                Act::Wrap => (Act::Wrap, true),
                Act::Unwrap => (Act::Wrap, false),
                _ => continue,
            };
            if put_on {
                on.push(devices.len());
                unsure.push(devices.len());
                devices.push(Device {
                    what,
                    foot: a.foot,
                    claw: a.claw,
                    on: s.date,
                    off: None,
                    lost: false,
                    gone: None,
                });
                continue;
            }
            on.retain(|i| {
                let d = &mut devices[*i];
                let here = d.what == what
                    && d.on < s.date
                    && (a.foot.is_none() || a.foot == d.foot)
                    && (a.claw.is_none() || d.claw.is_none() || a.claw == d.claw);
                if here {
                    (d.off, d.lost) = (Some(s.date), a.lost);
                }
                !here
            });
        }
        let well: Vec<Foot> = Foot::ALL.into_iter().filter(|f| is_well(&s.entry, *f)).collect();
        if !well.is_empty() {
            unsure.retain(|i| {
                let d = &mut devices[*i];
                if d.off.is_none() && d.on < s.date && d.foot.is_some_and(|f| well.contains(&f)) {
                    d.gone = Some(s.date);
                }
                d.off.is_none() && d.gone.is_none()
            });
        }
    }
    devices
}

/// Where and how often something was found, once a visit; what was healed is no finding.
pub fn map<'a>(seen: impl IntoIterator<Item = &'a Seen>) -> FootMap {
    let mut map = FootMap::default();
    for f in seen.into_iter().flat_map(|s| &s.entry.findings) {
        if f.course != Some(crate::disorder::Course::Healed) {
            map.add(f);
        }
    }
    map
}

/// Her history at one farm, in rows to be laid out.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Told {
    /// `cow 412 at Juniper Flat: 2 visits, thu 1 jan 2026 to thu 12 mar 2026`.
    pub head: String,
    /// Day (only in the first row of a visit), place, what is to be told.
    pub visits: Vec<[String; 3]>,
    /// Place, lesion, its course.
    pub lesions: Vec<[String; 3]>,
    /// Place, block or wrap, from when to when.
    pub devices: Vec<[String; 3]>,
    #[serde(skip)]
    map: FootMap,
}

/// Her history, farm by farm; `today` is where what is open counts to, `gap` as in [`cases`].
pub fn told(material: &Material, today: NaiveDate, gap: i64) -> Vec<Told> {
    let farms = material.by_farm();
    farms.iter().filter_map(|(farm, seen)| at_farm(farm.as_deref(), seen, today, gap)).collect()
}

/// Her history as text; see [`told`].
pub fn text(material: &Material, today: NaiveDate, gap: i64) -> String {
    let told = told(material, today, gap);
    told.iter().map(Told::text).collect::<Vec<_>>().join("\n")
}

impl Told {
    fn text(&self) -> String {
        let mut out = format!("{}\n\n{}", self.head, rows(&self.visits));
        for (name, list) in [("lesions", &self.lesions), ("blocks and wraps", &self.devices)] {
            if !list.is_empty() {
                out += &format!("\n{name}\n{}", rows(list));
            }
        }
        if !self.map.is_empty() {
            out += &format!("\nfindings by place, what was healed left out\n{}", self.map.text());
        }
        out
    }
}

fn rows(rows: &[[String; 3]]) -> String {
    let mut table = Table::new(2);
    for row in rows {
        table.row(row.clone());
    }
    table.to_string()
}

fn at_farm(farm: Option<&str>, seen: &[&Seen], today: NaiveDate, gap: i64) -> Option<Told> {
    let (first, last) = (seen.first()?, seen.last()?);
    let at = farm.map_or(String::new(), |f| format!(" at {f}"));
    let mut days: Vec<NaiveDate> = seen.iter().map(|s| s.date).collect();
    days.dedup();
    let days = show::count(days.len(), "visit", "visits");
    let mut head = format!("cow {}{at}: {days}, {}", last.cow, show::day(first.date));
    if first.date != last.date {
        head += &format!(" to {}", show::day(last.date));
    }
    let mut told = Told { head, map: map(seen.iter().copied()), ..Told::default() };
    for s in seen {
        let mut day = show::day(s.date);
        for (place, what) in lines(&s.entry) {
            told.visits.push([std::mem::take(&mut day), place, what]);
        }
    }
    for c in cases(seen.iter().copied(), gap) {
        told.lesions.push([place(c.foot, c.claw), c.disorder.name().to_owned(), course(&c, today)]);
    }
    for d in devices(seen.iter().copied()) {
        told.devices.push([place(d.foot, d.claw), d.what.words().to_owned(), worn(&d, today)]);
    }
    Some(told)
}

/// `on thu 1 jan 2026; off thu 29 jan 2026, 28 days`.
fn worn(d: &Device, today: NaiveDate) -> String {
    let days = |to: NaiveDate| show::count((to - d.on).num_days() as usize, "day", "days");
    let off = match d.off {
        Some(off) if d.lost => format!("lost by {}, {}", show::day(off), days(off)),
        Some(off) => format!("off {}, {}", show::day(off), days(off)),
        None => d.gone.map_or_else(
            || format!("not yet off, {}", days(today.max(d.on))),
            |gone| format!("taken as off {}, when the foot was clean or healed", show::day(gone)),
        ),
    };
    format!("on {}; {off}", show::day(d.on))
}

fn place(foot: Option<Foot>, claw: Option<Claw>) -> String {
    let claw = claw.map_or(String::new(), |c| format!(" {}", c.words()));
    foot.map_or("foot not known".to_owned(), |f| format!("{}{claw}", f.words()))
}

/// `first seen thu 1 jan 2026; healed thu 12 mar 2026, 70 days`.
fn course(c: &Case, today: NaiveDate) -> String {
    let least = if c.begun_before { "at least " } else { "" };
    let days = match c.days(today.max(c.last)) {
        0 if c.begun_before => "how long she had it is not known".to_owned(),
        0 => "the same day".to_owned(),
        n => format!("{least}{}", show::count(n as usize, "day", "days")),
    };
    let begun = if c.begun_before { "begun before" } else { "first seen" };
    let end = c.healed.map_or_else(
        || format!("not known to be healed, {days}, last seen {}", show::day(c.last)),
        |h| format!("healed {}, {days}", show::day(h)),
    );
    let again = match c.nth {
        1 => String::new(),
        n => format!("; AGAIN, time {n} at this place"),
    };
    format!("{begun} {}; {end}{again}", show::day(c.first))
}

/// An entry as lines of a place and what is to be told of it.
pub(super) fn lines(entry: &Entry) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    for foot in [Some(Foot::LF), Some(Foot::RF), Some(Foot::LH), Some(Foot::RH), None] {
        let found = entry.findings.iter().filter(|f| f.foot == foot).map(deeds::finding);
        let done = entry.actions.iter().filter(|a| a.foot == foot).map(|a| deeds::action(a, false));
        let told: Vec<String> = found.chain(done).collect();
        if !told.is_empty() {
            lines.push((foot.map_or("", Foot::words).to_owned(), told.join("; ")));
        }
    }
    let clean: Vec<&str> = entry.clear.iter().map(|f| f.words()).collect();
    match clean.len() {
        0 => {}
        4 => lines.push(("clean".to_owned(), "all four".to_owned())),
        _ => lines.push(("clean".to_owned(), clean.join(", "))),
    }
    lines.extend(entry.scores.iter().map(|s| (s.scale.words().to_owned(), deeds::score(s))));
    lines.extend(entry.measures.iter().map(|m| (m.what.words().to_owned(), deeds::measure(m))));
    lines.extend(entry.due.iter().map(|d| ("due".to_owned(), deeds::due(d))));
    lines.extend(entry.remarks.iter().map(|r| ("remark".to_owned(), r.clone())));
    if lines.is_empty() {
        lines.push((String::new(), "seen, nothing noted".to_owned()));
    }
    lines
}
