//! A long log for figures: as [`super::each`], but the words of an entry are passed over, and its lines are taken
//! apart on all cores.
//!
//! Most entries have no question and nobody answered or struck them: of those only what counts is read. The others,
//! and every line that is not plain, go the way of [`super::each`].

use std::borrow::Cow;
use std::fs::File;
use std::io;
use std::ops::Range;
use std::path::Path;

use chrono::TimeDelta;
use rustc_hash::FxHashSet;
use serde::Deserialize;

use super::brief::{self, Brief, Done, Few, Found, Promised, Text};
use super::each::{ENTRY, gather};
use super::{Kept, Rest};
use crate::flag::Level;
use crate::log::id;
use crate::log::pieces;
use crate::log::read::{BadLine, LONGEST, Problem};
use crate::log::record::{EntryLine, Record, Stamp, VisitLine};

/// An entry as it stands.
#[derive(Debug)]
pub enum Quick<'a> {
    /// All of it counts.
    Plain { cow: &'a str, at: Stamp, brief: Brief },
    /// It has or had a question, or is struck.
    Kept(Box<Kept>),
}

/// As [`super::each`], with the visit of every entry; `None` where the log has no line of it.
///
/// # Errors
/// As [`super::each`].
pub fn each_quick(
    path: &Path,
    mut problem: impl FnMut(Problem),
    mut with: impl FnMut(Quick<'_>, Option<&VisitLine>),
) -> io::Result<Rest> {
    let length = File::open(path)?.metadata()?.len();
    let mut changes = gather(path, length)?;
    let changed = changes.changed();
    let name = path.display().to_string();
    let mut before = 0;
    pieces::in_order(
        path,
        length,
        |lines| Part::of(lines, &changed),
        |part: Part| {
            for (line, item) in part.items {
                match item {
                    Item::Plain { key, visit, at, cow, brief } => {
                        if changes.give(key) {
                            with(Quick::Plain { cow: &part.tags[cow], at, brief }, changes.visit_of(visit));
                        }
                    }
                    Item::Entry(entry) => {
                        if let Some(kept) = changes.apply(*entry) {
                            let visit = changes.visit(&kept.line.visit);
                            with(Quick::Kept(Box::new(kept)), visit);
                        }
                    }
                    Item::Bad(bad) => problem(Problem::new(&name, before + line, &bad)),
                }
            }
            before += part.lines;
        },
    )?;
    Ok(changes.rest())
}

/// Bytes of a short entry's line: room for so many is asked for at once, for to ask again and again took a tenth of all.
const SHORT: usize = 400;

/// What a piece of the log came to; the lines are counted from 1.
#[derive(Default)]
struct Part {
    lines: usize,
    items: Vec<(usize, Item)>,
    /// The cows of the plain entries, one behind the other.
    tags: String,
}

enum Item {
    Plain { key: u64, visit: u64, at: Stamp, cow: Range<usize>, brief: Brief },
    Entry(Box<EntryLine>),
    Bad(BadLine),
}

impl Part {
    fn of(mut lines: pieces::Lines, changed: &FxHashSet<u64>) -> Self {
        let mut part = Self { items: Vec::with_capacity(lines.left() / SHORT), ..Self::default() };
        let mut clock = Clock::default();
        for line in lines.by_ref() {
            if let Some(item) = part.plain(line.bytes, changed, &mut clock) {
                part.items.push((line.number, item));
                continue;
            }
            match line.record() {
                Ok(Record::Entry(entry)) => part.items.push((line.number, Item::Entry(entry))),
                Ok(_) => {}
                Err(bad) => part.items.push((line.number, Item::Bad(bad))),
            }
        }
        part.lines = lines.count;
        part
    }

    /// The entry where all of it counts and nobody came back to it.
    fn plain<'a>(&mut self, bytes: &'a [u8], changed: &FxHashSet<u64>, clock: &mut Clock<'a>) -> Option<Item> {
        if !bytes.starts_with(ENTRY) || bytes.len() > LONGEST {
            return None;
        }
        let slim: Slim = serde_json::from_str(std::str::from_utf8(bytes).ok()?).ok()?;
        let key = id::key(slim.id);
        let asks = slim.flags.iter().any(|f| f.level == Level::Ask);
        // Without a foot, what was done waits with the finding.
        if asks || slim.findings.iter().any(|f| f.foot.is_none()) || changed.contains(&key) {
            return None;
        }
        let at = clock.read(slim.at)?;
        let cow = self.tags.len()..self.tags.len() + slim.cow.len();
        self.tags.push_str(slim.cow);
        let brief = Brief {
            found: slim.findings,
            done: slim.actions,
            promised: slim.due,
            clear: slim.clear,
            measured: slim.measures,
            locomotion: slim.scores.0,
            mobility: slim.scores.1,
        };
        Some(Item::Plain { key, visit: id::key(slim.visit), at, cow, brief })
    }
}

/// The line of an entry, as far as figures need it. What only has to be of the right type is passed over.
#[derive(Deserialize)]
struct Slim<'a> {
    // With an escape in it, which no id has, the line is read in the other way.
    id: &'a str,
    at: &'a str,
    visit: &'a str,
    cow: &'a str,
    #[serde(default, deserialize_with = "brief::scores")]
    scores: (Option<u8>, Option<u8>),
    #[serde(default)]
    findings: Few<Found>,
    #[serde(default)]
    actions: Few<Done>,
    #[serde(default, deserialize_with = "brief::clear")]
    clear: u8,
    #[serde(default, deserialize_with = "brief::measured")]
    measures: bool,
    #[serde(default)]
    due: Few<Promised>,
    #[serde(default, rename = "remarks")]
    _remarks: Vec<Text>,
    #[serde(default, rename = "assumed")]
    _assumed: Vec<Text>,
    #[serde(default)]
    flags: Vec<crate::flag::Flag>,
    #[serde(borrow, default, rename = "said")]
    _said: Cow<'a, str>,
    #[serde(default, rename = "source")]
    _source: Option<Place>,
}

/// [`crate::log::Source`], passed over.
#[derive(Deserialize)]
struct Place {
    #[serde(default, rename = "file")]
    _file: Text,
    #[serde(rename = "line")]
    _line: usize,
    #[serde(default, rename = "time")]
    _time: Text,
}

/// Reads times: cows follow each other within minutes, and to read each from the year on takes a tenth of all.
#[derive(Default)]
struct Clock<'a> {
    last: Option<(&'a str, Stamp)>,
}

/// Where in `2026-03-12T09:41:07-05:00` the minutes begin, and where the zone does.
const MINUTES: usize = "2026-03-12T09:".len();
const ZONE: usize = "2026-03-12T09:41:07".len();

impl<'a> Clock<'a> {
    fn read(&mut self, text: &'a str) -> Option<Stamp> {
        let at = match self.last.and_then(|last| in_its_hour(last, text)) {
            Some(at) => at,
            None => text.parse().ok()?,
        };
        self.last = Some((text, at));
        Some(at)
    }
}

/// A time in the same hour and zone as one that is known.
fn in_its_hour((known, at): (&str, Stamp), text: &str) -> Option<Stamp> {
    let same = text.get(..MINUTES) == known.get(..MINUTES) && text.get(ZONE..) == known.get(ZONE..);
    let (before, now) = (seconds(known.get(MINUTES..ZONE)?)?, seconds(text.get(MINUTES..ZONE)?)?);
    same.then(|| at + TimeDelta::seconds(now - before))
}

/// Of `41:07`.
fn seconds(text: &str) -> Option<i64> {
    let [a, b, b':', c, d] = text.as_bytes() else { return None };
    let digit = |b: &u8| b.is_ascii_digit().then(|| i64::from(b - b'0'));
    let (minutes, seconds) = (digit(a)? * 10 + digit(b)?, digit(c)? * 10 + digit(d)?);
    (minutes < 60 && seconds < 60).then_some(minutes * 60 + seconds)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Both ways give the same entries, visits and problems, of the demo's log with all that can be wrong with one.
    #[test]
    fn the_quick_way_and_the_slow_one_are_of_one_mind() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("log.jsonl");
        let demo = include_str!("../../../demo/log.jsonl");
        let first = demo.lines().nth(1).unwrap();
        let no_visit =
            first.replace("037731ddd8e68dab", "ffffffffffffffff").replace("747f798eae9406de", "aaaaaaaaaaaaaaaa");
        let strike = r#"{"v":1,"kind":"strike","id":"1111111111111111","at":"2026-03-12T17:00:00-05:00","entry":"0c1d0cf72742087b","why":"twice"}"#;
        let log = format!(
            "\u{feff}{demo}\n{first}\n{{\"v\":1,\"kind\":\"entry\",\"id\":7}}\nno record\n{no_visit}\n{strike}\n{{\"v\":1,\"kind\":\"ent"
        );
        std::fs::write(&path, log).unwrap();
        let row = |cow: Option<&str>, brief: &Brief, visit: Option<&VisitLine>, struck: bool, open: usize| {
            format!("{:?}", (cow, brief, visit, struck, open))
        };
        let of = |kept: &Kept, visit: Option<&VisitLine>| {
            row(kept.entry.cow.as_deref(), &Brief::of(&kept.entry), visit, kept.struck.is_some(), kept.open.len())
        };
        let (mut slow, mut quick, mut plain) = (Vec::new(), Vec::new(), 0);
        let (mut slow_bad, mut quick_bad) = (Vec::new(), Vec::new());
        super::super::each_at(&path, |p| slow_bad.push(p), |_, kept, visit| slow.push(of(&kept, visit))).unwrap();
        each_quick(
            &path,
            |p| quick_bad.push(p),
            |entry, visit| match entry {
                Quick::Plain { cow, brief, .. } => {
                    plain += 1;
                    quick.push(row(Some(cow), &brief, visit, false, 0));
                }
                Quick::Kept(kept) => quick.push(of(&kept, visit)),
            },
        )
        .unwrap();
        // Of 22 entries 11 had a question and 118 is struck; that without a visit is plain.
        assert_eq!((slow.len(), plain), (23, 11));
        assert_eq!((slow, slow_bad.len()), (quick, 3));
        assert_eq!(slow_bad, quick_bad);
    }

    /// Against chrono, which reads each time by itself.
    #[test]
    fn times_one_after_the_other_are_those_that_each_says() {
        let times = [
            "2026-03-12T09:41:07-05:00",
            "2026-03-12T09:46:59-05:00",
            "2026-03-12T09:02:00-05:00",
            "2026-03-12T09:59:60-05:00",
            "2026-03-12T09:10:00+05:30",
            "2026-03-12T09:10:30.5+05:30",
            "2026-03-12T10:10:30+05:30",
            "2026-03-12T10:1x:30+05:30",
            "2026-03-12T10:61:30+05:30",
            "noon",
            "2026-03-12T10:11:12Z",
        ];
        let mut clock = Clock::default();
        for time in times {
            assert_eq!(clock.read(time), time.parse().ok(), "{time}");
        }
    }
}
