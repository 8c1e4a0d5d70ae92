//! Signs that belong to a veterinarian (facts: Merck; Canadian vet column; UK mobility score sheet).

use serde_json::{Value, json};

use super::Look;
use crate::disorder::Disorder;
use crate::entry::{Act, Action, Scale};
use crate::flag::{Flag, FlagKind};
use crate::words::Span;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    let e = look.entry;
    if e.actions.iter().any(|a| a.what == Act::Vet) {
        return;
    }
    let worst = e
        .scores
        .iter()
        .any(|s| (s.scale == Scale::Mobility && s.value == 3) || (s.scale == Scale::Locomotion && s.value == 5));
    let lesion = e.findings.iter().any(|f| matches!(f.disorder, Some(Disorder::TN | Disorder::SW)));
    if worst || lesion || !look.trace.signs.is_empty() {
        if let Some(span) = heard_as(look) {
            let message = format!("{}: was the vet called?", look.quote(span));
            let field = format!("actions[{}]", e.actions.len());
            let vet = json!(Action::new(Act::Vet));
            flags.push(Flag::ask(FlagKind::VetSign, field, message).options([vet, Value::Null]).at(Some(span)));
            return;
        }
        let message = "a sign that belongs to a veterinarian, and no vet was called";
        flags.push(Flag::note(FlagKind::VetSign, "actions", message).at(look.trace.signs.first().copied()));
    }
}

/// How recognisers write "vet" at the beginning of a part of a sentence: "that cold", "bet come in".
const VET: [&str; 3] = ["that", "that's", "bet"];

/// A part of a sentence of this cow, of two or three words, that begins as "vet" is heard and of which nothing was
/// understood.
fn heard_as(look: &Look) -> Option<Span> {
    // The parts of a note of several cows are each of one of them.
    let mut start = look.trace.offset as usize;
    let own = look.text.get(start..start + look.entry.said.len())?;
    for part in own.split_inclusive([',', '.', ';']) {
        let from = start + (part.len() - part.trim_start().len());
        start += part.len();
        let said = part.trim_matches(|c: char| c.is_whitespace() || ",.;".contains(c));
        let span = Span::new(from, from + said.len());
        let mut words = said.split_whitespace();
        let vet = words.next().is_some_and(|w| VET.iter().any(|v| w.eq_ignore_ascii_case(v)));
        if vet && (1..=2).contains(&words.count()) && !look.is_understood(span) {
            return Some(span);
        }
    }
    None
}
