//! A visit as a page of a notebook, in the written forms of the trade, which is read back as the same entries.

use chrono::NaiveDate;

use crate::anatomy::{Claw, Foot};
use crate::entry::{Act, Action, Due, DueWhat, Entry, Finding, Measure, MeasureKind, Scale, Score};

/// The heading of a visit: `2026-03-12  Juniper Flat`.
pub fn heading(date: NaiveDate, farm: Option<&str>) -> String {
    format!("{date}  {}", farm.unwrap_or_default()).trim_end().to_owned()
}

/// An entry as one line. What was asked about it is not there: it is asked again when the line is read.
pub fn line(entry: &Entry) -> String {
    let mut parts: Vec<String> = Vec::new();
    for (i, finding) in entry.findings.iter().enumerate() {
        parts.push(self::finding(finding));
        // What was done on a foot stands with the last finding there.
        if entry.findings[i + 1..].iter().all(|f| f.foot != finding.foot) {
            let here = |a: &&Action| a.foot.is_some() && a.foot == finding.foot;
            parts.extend(entry.actions.iter().filter(here).map(action));
        }
    }
    let elsewhere = |a: &&Action| a.foot.is_none() || entry.findings.iter().all(|f| f.foot != a.foot);
    parts.extend(entry.actions.iter().filter(elsewhere).map(action));
    if entry.clear.len() == 4 {
        parts.push("all 4 ok".to_owned());
    } else {
        parts.extend(entry.clear.iter().map(|f| format!("{} ok", f.code())));
    }
    parts.extend(entry.scores.iter().map(score));
    parts.extend(entry.measures.iter().map(measure));
    parts.extend(entry.due.iter().map(due));
    if entry.is_bare() {
        parts.extend(entry.remarks.iter().cloned());
    } else if !entry.remarks.is_empty() {
        parts.push(format!("note {}", entry.remarks.join(". note ")));
    }
    let cow = entry.cow.as_ref().map_or(String::new(), |c| format!("#{c} "));
    format!("{cow}{}", parts.join(", "))
}

fn place(foot: Option<Foot>, claw: Option<Claw>) -> String {
    [foot.map(Foot::code), claw.map(Claw::words)].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn spaced(words: &[&str]) -> String {
    words.iter().filter(|w| !w.is_empty()).copied().collect::<Vec<_>>().join(" ")
}

fn finding(f: &Finding) -> String {
    let zones: Vec<String> = f.zones.iter().map(u8::to_string).collect();
    let zones = if zones.is_empty() { String::new() } else { format!("z{}", zones.join(",")) };
    spaced(&[
        &place(f.foot, f.claw),
        if f.certain == Some(false) { "possible" } else { "" },
        f.disorder.map_or("lesion", |d| d.code()),
        f.stage.map_or("", |s| s.code()),
        &zones,
        ["", "mild", "moderate", "severe"][f.severity.map_or(0, |s| usize::from(s).min(3))],
        f.course.map_or("", |c| c.words()),
    ])
}

fn action(a: &Action) -> String {
    let at = place(a.foot, a.claw);
    let with = a.material.as_deref().or(a.agent.as_deref()).unwrap_or_default();
    match (a.what, a.lost) {
        (Act::Block, _) if with == "shoe" => spaced(&["shoe", &at]),
        (Act::Block, _) => spaced(&[with, "block", &at]),
        (Act::Unblock, false) => spaced(&["block off", &at]),
        (Act::Unblock, true) => spaced(&["lost block", &at]),
        (Act::Unwrap, false) => spaced(&["wrap off", &at]),
        (Act::Unwrap, true) => spaced(&["lost wrap", &at]),
        (Act::Wrap, _) => spaced(&[&at, "wrap", with]),
        (Act::Trim, _) => spaced(&["trim", &at]),
        (Act::Pare, _) => spaced(&[&at, "pared"]),
        (Act::Drain, _) => spaced(&[&at, "drained"]),
        (Act::Topical, _) => spaced(&[&at, "sprayed", with]),
        (Act::Vet, _) => "vet".to_owned(),
    }
}

fn score(s: &Score) -> String {
    let scale = match s.scale {
        Scale::Locomotion => "locomotion",
        Scale::Mobility => "mobility",
    };
    format!("{scale} {}{}", s.value, if s.when.is_some() { " walking away" } else { "" })
}

fn measure(m: &Measure) -> String {
    let what = match m.what {
        MeasureKind::ToeLength => "toe length",
        MeasureKind::SoleThickness => "sole thickness",
        MeasureKind::HeelHeight => "heel height",
        MeasureKind::ToeAngle => "toe angle",
    };
    let unit = if m.what == MeasureKind::ToeAngle { " degrees" } else { "mm" };
    let at = m.at.as_ref().map_or(String::new(), |a| format!("at the {a}"));
    spaced(&[&place(m.foot, m.claw), what, &format!("{}{unit}", m.value), &at])
}

fn due(d: &Due) -> String {
    let what = match d.what {
        DueWhat::Recheck => "recheck",
        DueWhat::BlockOff => "block off",
        DueWhat::WrapOff => "wrap off",
    };
    let on = d.on.map_or(String::new(), |on| on.to_string());
    spaced(&[&place(d.foot, None), what, &on])
}
