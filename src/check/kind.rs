//! A lesion whose kind was left open (rule 4).

use serde_json::json;

use super::Look;
use crate::anatomy::Claw;
use crate::disorder::{Course, Disorder, Stage};
use crate::entry::{Act, Action, Finding};
use crate::flag::{Flag, FlagKind};
use crate::words::Span;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (f, t)) in look.entry.findings.iter().zip(&look.trace.findings).enumerate() {
        if f.disorder == Some(Disorder::DD) && follows_inner(look, t.span) {
            let message = format!("inner {}: digital or interdigital dermatitis?", look.quote(t.span));
            flags.push(
                Flag::ask(FlagKind::DisorderOpen, format!("findings[{i}].disorder"), message)
                    .options([Disorder::DD, Disorder::ID].map(|d| json!(d.code())))
                    .at(Some(t.span)),
            );
        }
        // "foul inner left hind": how "in her" is heard; it sits between the claws.
        if matches!(f.disorder, Some(Disorder::IP | Disorder::IH)) && f.claw == Some(Claw::Inner) {
            let message = format!("{} sits between the claws: was the inner one named?", look.quote(t.span));
            flags.push(
                Flag::ask(FlagKind::Misheard, format!("findings[{i}].claw"), message)
                    .options([json!(null), json!(Claw::Inner)])
                    .at(Some(t.span)),
            );
        }
        if let (Some(stage @ (Stage::M1 | Stage::M2 | Stage::M3 | Stage::M41)), Some(Course::Healed)) =
            (f.stage, f.course)
        {
            let message = format!("{} is not healed: which of the two is it?", stage.code());
            let options = [Some(Course::Healing), Some(Course::Healed), None].map(|c| json!(c));
            flags.push(
                Flag::ask(FlagKind::DisorderOpen, format!("findings[{i}].course"), message)
                    .options(options)
                    .at(Some(t.span)),
            );
        }
        if let Some((message, course)) = course_misheard(look, f, t.span) {
            flags.push(
                Flag::ask(FlagKind::Misheard, format!("findings[{i}].course"), message)
                    .options([json!(course), json!(null)])
                    .at(Some(t.span)),
            );
        }
        if f.disorder.is_none() {
            let message = format!("what kind is {}?", look.quote(t.span));
            flags.push(
                Flag::ask(FlagKind::DisorderOpen, format!("findings[{i}].disorder"), message)
                    .options(t.kinds.iter().map(|d| json!(d.code())))
                    .at(Some(t.span)),
            );
        }
    }
}

/// What the question is, and the course that was said or was not.
fn course_misheard(look: &Look, f: &Finding, span: Span) -> Option<(String, Course)> {
    let said = look.quote(span);
    match f.course {
        Some(Course::Healed) if may_be_heel(look, f, span) => {
            Some((format!("healed {said}: healed, or of the heel?"), Course::Healed))
        }
        Some(Course::Open) if f.disorder == Some(Disorder::WLA) && may_be_opened(look, f, span) => {
            Some((format!("{said}: is it open, or was it opened up?"), Course::Open))
        }
        None if may_be_healed(look, f, span) => {
            Some((format!("{said} … heel: healed, or of the heel?"), Course::Healed))
        }
        _ => None,
    }
}

/// "healed ulcer", "healed, erosion": how "heel" is heard before a lesion that sits there, where what is told of it is told
/// of no healed one.
fn may_be_heel(look: &Look, f: &Finding, span: Span) -> bool {
    let before = look.text[..span.start as usize].trim_end().to_lowercase();
    let comma = before.ends_with(',');
    let led = before.trim_end_matches(',').ends_with("healed");
    let said = span.of(look.text).to_lowercase();
    if !led || said.contains("heel") {
        return false;
    }
    let put_on = |a: &Action| a.what == Act::Block && !a.lost && a.foot == f.foot;
    match f.disorder {
        Some(Disorder::HHE) => true,
        Some(Disorder::SU | Disorder::BU) => {
            comma || f.severity.is_some() || f.zones.contains(&HEEL) || look.entry.actions.iter().any(put_on)
        }
        _ => false,
    }
}

/// "white line abscess zone two, open, block inner": how "opened" is heard, where nobody says that it was drained.
fn may_be_opened(look: &Look, f: &Finding, span: Span) -> bool {
    let drained = |a: &Action| matches!(a.what, Act::Drain | Act::Pare) && a.foot == f.foot;
    // "zone three, open shoe on the medial"
    let put_on = ["open shoe", "open block", "open wrap", "open wooden", "open rubber"];
    let alone = |part: &str| {
        let part = part.trim().to_lowercase();
        part == "open" || put_on.iter().any(|w| part.starts_with(w))
    };
    let behind = &look.text[span.end as usize..];
    behind.split([',', '.', ';']).any(alone) && !look.entry.actions.iter().any(drained)
}

/// "block off right rear, ulcer on the outer heel": how "healed" is heard, at the end and where what was on came off.
fn may_be_healed(look: &Look, f: &Finding, span: Span) -> bool {
    let off = |a: &Action| matches!(a.what, Act::Unblock | Act::Unwrap) && a.foot == f.foot;
    let part = look.text[span.end as usize..].split([',', '.', ';']).next().unwrap_or_default();
    let ulcer = matches!(f.disorder, Some(Disorder::SU | Disorder::BU | Disorder::TU));
    let heel = part.split_whitespace().next_back().is_some_and(|w| w.eq_ignore_ascii_case("heel"));
    ulcer && heel && !part.to_lowercase().contains("the heel") && look.entry.actions.iter().any(off)
}

/// The zone of the heel's ulcers.
const HEEL: u8 = 6;

/// "inner digital dermatitis": the skin between the claws is on neither, and "interdigital" sounds much like it.
fn follows_inner(look: &Look, span: Span) -> bool {
    let said = span.of(look.text).to_lowercase();
    let before = look.text[..span.start as usize].trim_end().to_lowercase();
    said.starts_with("digital") && ["inner", "and her", "in her", "enter"].iter().any(|w| before.ends_with(w))
}
