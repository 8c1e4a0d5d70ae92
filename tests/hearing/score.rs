//! Compares what was read with what was meant, slot by slot: cow, findings with their attributes, actions, clear
//! feet, scores, measures, due dates.
//!
//! The notation is the one of `grammar/README.md`, with a `?` after what a careful reader could leave out.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};
use chutescribe::Entry;
use serde_json::Value;

const FEET: [&str; 4] = ["LF", "RF", "LH", "RH"];
const CLAWS: [&str; 2] = ["outer", "inner"];

/// Text of one thing known, `_` where a part of it is not.
type Slots = BTreeSet<String>;

/// What a note means of one cow.
#[derive(Debug, Default)]
pub(crate) struct Meant {
    need: Slots,
    may: Slots,
    asks: bool,
}

/// Sums over notes.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Tally {
    pub(crate) notes: usize,
    pub(crate) exact: usize,
    /// Wrong, and no question asked.
    pub(crate) silent: usize,
    /// Right and clear, and a question asked.
    pub(crate) needless: usize,
    pub(crate) questions: usize,
    hits: usize,
    missing: usize,
    extra: usize,
}

impl Tally {
    #[expect(clippy::cast_precision_loss, reason = "a few thousand slots")]
    pub(crate) fn f1(&self) -> f64 {
        let both = 2 * self.hits + self.missing + self.extra;
        2.0 * self.hits as f64 / both.max(1) as f64
    }

    pub(crate) fn missing_and_extra(&self) -> (usize, usize) {
        (self.missing, self.extra)
    }

    pub(crate) fn add(&mut self, meant: &[Meant], entries: &[Entry]) {
        let none = Meant::default();
        let mut wrong = meant.len() != entries.len();
        let mut unasked = false;
        let mut asked = false;
        for i in 0..meant.len().max(entries.len()) {
            let want = meant.get(i).unwrap_or(&none);
            let got = entries.get(i).map(slots).unwrap_or_default();
            let asks = entries.get(i).map_or(0, |e| e.questions().count());
            let missing = want.need.difference(&got).count();
            let extra = got
                .iter()
                .filter(|s| !want.need.contains(*s) && !want.may.contains(*s))
                // What lacks a field is part of what is asked.
                .filter(|s| !want.asks || s.split(' ').all(|w| w != "_"))
                .count();
            self.hits += want.need.len() - missing;
            self.missing += missing;
            self.extra += extra;
            self.questions += asks;
            wrong |= missing + extra > 0;
            asked |= asks > 0;
            unasked |= want.asks && asks == 0;
        }
        self.notes += 1;
        self.exact += usize::from(!wrong && !unasked);
        self.silent += usize::from((wrong || unasked) && !asked);
        self.needless += usize::from(asked && !wrong && meant.iter().all(|m| !m.asks));
    }
}

/// The meaning of a note, cow by cow.
pub(crate) fn meant(text: &str, visit: NaiveDate) -> Vec<Meant> {
    text.split("||").map(|cow| one_cow(cow, visit)).collect()
}

fn one_cow(text: &str, visit: NaiveDate) -> Meant {
    let mut cow = Meant::default();
    for item in text.split('|').map(str::trim).filter(|i| !i.is_empty()) {
        let words: Vec<&str> = item.trim_end_matches('?').split_whitespace().collect();
        let sure = !item.ends_with('?');
        if words[0] == "ask" {
            cow.asks |= sure;
        } else if FEET.contains(&words[0]) {
            finding(&words, sure, &mut cow);
        } else {
            let into = if sure { &mut cow.need } else { &mut cow.may };
            into.extend(other(&words, visit));
        }
    }
    cow
}

fn finding(words: &[&str], sure: bool, cow: &mut Meant) {
    let (foot, mut rest) = (words[0], &words[1..]);
    let claw = rest.first().copied().filter(|w| CLAWS.contains(w));
    rest = &rest[usize::from(claw.is_some())..];
    let code = rest[0].trim_end_matches('?');
    let mut put = |slot: String, sure: bool| if sure { cow.need.insert(slot) } else { cow.may.insert(slot) };
    put(format!("finding {foot} {} {code}", claw.unwrap_or("_")), sure);
    for word in &rest[1..] {
        put(format!("of {foot} {code} {}", word.trim_end_matches('?')), sure && !word.ends_with('?'));
    }
}

fn other(words: &[&str], visit: NaiveDate) -> Vec<String> {
    let foot = words.iter().find(|w| FEET.contains(w)).copied().unwrap_or("_");
    match words[0] {
        "clear" if words[1] == "all" => FEET.iter().map(|f| format!("clear {f}")).collect(),
        "clear" => words[1].split(',').map(|f| format!("clear {f}")).collect(),
        "loco" | "mob" => vec![format!("{} {}", words[0], words[1].split('/').next().unwrap_or_default())],
        "toe" | "sole" | "heel" | "angle" => {
            vec![format!("{} {:.1} {foot}", words[0], words[1].parse::<f64>().unwrap())]
        }
        "recheck" | "blockoff" | "wrapoff" => {
            let when = words[1..].iter().find(|w| !FEET.contains(w)).expect("when it is due");
            let on = when.strip_prefix('+').map(|days| visit + Days::new(days.parse().unwrap()));
            vec![format!("{} {}", words[0], on.map_or((*when).to_owned(), |on| on.to_string()))]
        }
        "remark" => vec![],
        cow if cow.starts_with("cow=") => vec![cow.to_owned()],
        act => {
            let claw = words.iter().find(|w| CLAWS.contains(w)).copied().unwrap_or("_");
            let mut out = vec![action(act, foot, claw)];
            let more = words[1..].iter().filter(|w| !FEET.contains(w) && !CLAWS.contains(w));
            out.extend(more.map(|with| format!("with {act} {foot} {with}")));
            out
        }
    }
}

/// Only of a block does the claw count; a vet comes to the cow.
fn action(act: &str, foot: &str, claw: &str) -> String {
    match act {
        "block" => format!("block {foot} {claw}"),
        "vet" => "vet".to_owned(),
        _ => format!("{act} {foot}"),
    }
}

/// What an entry holds, as its line in the log has it.
pub(crate) fn slots(entry: &Entry) -> Slots {
    let entry = serde_json::to_value(entry).expect("an entry is plain data");
    let word = |v: &Value, key: &str| match &v[key] {
        Value::Null => "_".to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    let list = |key: &str| entry[key].as_array().cloned().unwrap_or_default();
    let mut out = Slots::new();
    out.extend(entry["cow"].as_str().map(|cow| format!("cow={cow}")));
    for f in list("findings") {
        let (foot, code) = (word(&f, "foot"), word(&f, "disorder"));
        out.insert(format!("finding {foot} {} {code}", word(&f, "claw")));
        let zones: Vec<String> = f["zones"].as_array().into_iter().flatten().map(Value::to_string).collect();
        out.extend((!zones.is_empty()).then(|| format!("of {foot} {code} z{}", zones.join(","))));
        out.extend((!f["severity"].is_null()).then(|| format!("of {foot} {code} s{}", f["severity"])));
        let named = ["stage", "course"].into_iter().filter(|key| !f[*key].is_null());
        out.extend(named.map(|key| format!("of {foot} {code} {}", word(&f, key))));
        out.extend((f["certain"] == false).then(|| format!("of {foot} {code} maybe")));
    }
    for a in list("actions") {
        let (act, foot) = (word(&a, "what"), word(&a, "foot"));
        out.insert(action(&act, &foot, &word(&a, "claw")));
        let with = ["material", "agent"].into_iter().filter_map(|key| a[key].as_str()?.split(' ').next());
        out.extend(with.map(|with| format!("with {act} {foot} {with}")));
    }
    out.extend(list("clear").iter().filter_map(|f| Some(format!("clear {}", f.as_str()?))));
    for s in list("scores") {
        let scale = if s["scale"] == "mobility" { "mob" } else { "loco" };
        out.insert(format!("{scale} {}", s["value"]));
    }
    for m in list("measures") {
        let what = word(&m, "what");
        let short = if what == "toe_angle" { "angle" } else { what.split('_').next().unwrap_or_default() };
        out.insert(format!("{short} {:.1} {}", m["value"].as_f64().unwrap_or_default(), word(&m, "foot")));
    }
    out.extend(list("due").iter().map(|d| format!("{} {}", word(d, "what").replace('_', ""), word(d, "on"))));
    out
}
