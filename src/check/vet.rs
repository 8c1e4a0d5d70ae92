//! Signs that belong to a veterinarian (facts: Merck; Canadian vet column; UK mobility score sheet).

use super::Look;
use crate::disorder::Disorder;
use crate::entry::{Act, Scale};
use crate::flag::{Flag, FlagKind};

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
        let message = "a sign that belongs to a veterinarian, and no vet was called";
        flags.push(Flag::note(FlagKind::VetSign, "actions", message).at(look.trace.signs.first().copied()));
    }
}
