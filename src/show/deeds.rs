//! What was done and what was found, in a few words each.

use serde::Deserialize;
use serde_json::Value;

use crate::anatomy::Foot;
use crate::entry::{Act, Action, Due, Finding, Measure, MeasureKind, Score};

/// A thing of the list that `field` names, as JSON, in a few words: `right hind outer sole ulcer`.
pub fn thing(field: &str, value: &Value) -> String {
    let list = field.split('[').next().unwrap_or_default();
    let plain = || value.to_string();
    let at = |foot: Option<Foot>, text: String| foot.map_or(text.clone(), |f| format!("{} {text}", f.words()));
    match list {
        "findings" => Finding::deserialize(value).map_or_else(|_| plain(), |f| at(f.foot, finding(&f))),
        "actions" => Action::deserialize(value).map_or_else(|_| plain(), |a| at(a.foot, action(&a, false))),
        "scores" => {
            Score::deserialize(value).map_or_else(|_| plain(), |s| format!("{} {}", s.scale.words(), score(&s)))
        }
        "measures" => {
            Measure::deserialize(value).map_or_else(|_| plain(), |m| format!("{} {}", m.what.words(), measure(&m)))
        }
        "due" => Due::deserialize(value).map_or_else(|_| plain(), |d| due(&d)),
        _ => plain(),
    }
}

/// `3 of 5, walking away`.
pub fn score(s: &Score) -> String {
    let after = if s.when.is_some() { ", walking away" } else { "" };
    if s.scale.range().contains(&s.value) {
        format!("{} of {}{after}", s.value, s.scale.range().end())
    } else {
        format!("{}{after}, which is not on the scale", s.value)
    }
}

/// `6 mm at the toe, right hind outer`.
pub fn measure(m: &Measure) -> String {
    let unit = if m.what == MeasureKind::ToeAngle { "°" } else { " mm" };
    let at = m.at.as_ref().map_or(String::new(), |at| format!(" at the {at}"));
    let foot = m.foot.map_or(String::new(), |f| format!(", {}", f.words()));
    let claw = m.claw.map_or(String::new(), |c| format!(" {}", c.words()));
    format!("{}{unit}{at}{foot}{claw}", m.value)
}

/// `recheck thu 9 apr 2026, right hind`.
pub fn due(d: &Due) -> String {
    let day = d.on.map_or(", day not known".to_owned(), |day| format!(" {}", super::day(day)));
    let foot = d.foot.map_or(String::new(), |f| format!(", {}", f.words()));
    format!("{}{day}{foot}", d.what.words())
}

/// `outer sole ulcer, zone 4, moderate, healing`.
pub fn finding(f: &Finding) -> String {
    let mut text = String::new();
    if let Some(claw) = f.claw {
        text.push_str(claw.words());
        text.push(' ');
    }
    text.push_str(f.disorder.map_or("lesion, kind not known", crate::disorder::Disorder::name));
    if let Some(stage) = f.stage {
        text.push(' ');
        text.push_str(stage.code());
    }
    let mut more = |word: &str| {
        text.push_str(", ");
        text.push_str(word);
    };
    if !f.zones.is_empty() {
        let zones: Vec<String> = f.zones.iter().map(u8::to_string).collect();
        let word = if zones.len() > 1 { "zones" } else { "zone" };
        more(&format!("{word} {}", zones.join(" and ")));
    }
    match f.severity {
        Some(1) => more("mild"),
        Some(2) => more("moderate"),
        Some(3) => more("severe"),
        _ => {}
    }
    if let Some(course) = f.course {
        more(course.words());
    }
    if f.certain == Some(false) {
        more("not certain");
    }
    text
}

/// `block inner (rubber)`; `assumed` tells that the claw was not said.
pub fn action(a: &Action, assumed: bool) -> String {
    let mut text = String::from(match (a.what, a.lost) {
        (Act::Trim, _) => "trimmed",
        (Act::Pare, _) => "pared",
        (Act::Drain, _) => "drained",
        (Act::Block, _) => "block",
        (Act::Unblock, false) => "block off",
        (Act::Unblock, true) => "block lost",
        (Act::Wrap, _) => "wrap",
        (Act::Unwrap, false) => "wrap off",
        (Act::Unwrap, true) => "wrap lost",
        (Act::Topical, _) => "topical",
        (Act::Vet, _) => "to the vet",
    });
    if let Some(claw) = a.claw {
        text.push(' ');
        text.push_str(claw.words());
        if assumed {
            text.push_str(", as the sound claw");
        }
    }
    if let Some(with) = a.material.as_ref().or(a.agent.as_ref()) {
        text.extend([" (", with, ")"]);
    }
    text
}
