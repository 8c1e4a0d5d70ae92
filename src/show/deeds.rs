//! What was done and what was found, in a few words each.

use crate::entry::{Act, Action, Finding};

/// `outer sole ulcer, zone 4, moderate, healing`.
pub(super) fn finding(f: &Finding) -> String {
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
pub(super) fn action(a: &Action, assumed: bool) -> String {
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
