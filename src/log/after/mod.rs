//! What an entry is after its answers: fields set, things taken out, and what follows from that.

mod places;
mod recheck;
mod set;

use super::path::Path;
use super::record::AnswerLine;
use crate::anatomy::Foot;
use crate::entry::{Act, Entry};
use crate::flag::Flag;
use crate::meaning::sound_claw;
use places::Places;

/// The entry after `answers`, and the questions that still wait with their fields as in `original`.
///
/// # Errors
/// Says why the last answer does not fit.
pub(super) fn apply(original: &Entry, answers: &[AnswerLine]) -> Result<(Entry, Vec<Flag>), String> {
    let (mut all, gone) = set::set_all(original, answers)?;
    let places = places::take_out(&mut all, &gone);
    let mut entry: Entry = serde_json::from_value(all).map_err(|e| format!("no value for this field ({e})"))?;
    let answered: Vec<Path> = answers.iter().filter_map(|a| a.field.parse().ok()).collect();
    let told = |field: &str| field.parse().is_ok_and(|p| answered.iter().any(|a| a.covers(&p)));
    entry.assumed = original.assumed.iter().filter(|p| !told(p)).filter_map(|p| places.now(p)).collect();
    follow_feet(original, &mut entry, &answered, &places);
    follow_claws(&mut entry);
    let open = recheck::open(original, &entry, &answered, &places);
    let notes = original.flags.iter().filter(|f| !f.asks());
    entry.flags = open
        .iter()
        .chain(notes)
        .filter_map(|flag| Some(Flag { field: places.now(&flag.field)?, ..flag.clone() }))
        .collect();
    Ok((entry, open))
}

/// An answered foot of a finding is also the foot of what was done without one.
fn follow_feet(original: &Entry, entry: &mut Entry, answered: &[Path], places: &Places) {
    if entry.findings.iter().any(|f| f.foot.is_none()) {
        return;
    }
    let answer = |i: usize| {
        let foot = Path { name: "findings".to_owned(), index: Some(i), field: Some("foot".to_owned()) };
        let told = answered.iter().any(|a| a.covers(&foot));
        let now: Option<Path> = places.now(&foot.to_string()).and_then(|p| p.parse().ok());
        now.filter(|_| told).and_then(|p| entry.findings.get(p.index?)?.foot)
    };
    let mut feet: Vec<Foot> =
        (0..original.findings.len()).filter(|i| original.findings[*i].foot.is_none()).filter_map(answer).collect();
    feet.dedup();
    let [foot] = feet[..] else { return };
    for (k, action) in entry.actions.iter_mut().enumerate() {
        if action.foot.is_none() && !matches!(action.what, Act::Trim | Act::Vet) {
            action.foot = Some(foot);
            entry.assumed.push(format!("actions[{k}].foot"));
        }
    }
}

/// Rule 3: a block without a claw sits on the partner of the one claw with a lesion.
fn follow_claws(entry: &mut Entry) {
    for k in 0..entry.actions.len() {
        let action = &entry.actions[k];
        if action.what != Act::Block || action.claw.is_some() {
            continue;
        }
        if let Some(claw) = sound_claw(entry, action.foot) {
            entry.actions[k].claw = Some(claw);
            entry.assumed.push(format!("actions[{k}].claw"));
        }
    }
}
