//! What counts in reports: what an open question concerns does not, until it is answered.

use super::path::Path;
use crate::entry::{Act, Entry};

/// Which parts of an entry count, each list as long as the entry's own.
///
/// Where the cow is in doubt nothing does. The cow counts as seen wherever she is known.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// The cow is known, so that she counts as seen.
    pub cow: bool,
    pub scores: Vec<bool>,
    pub findings: Vec<bool>,
    pub actions: Vec<bool>,
    pub clear: Vec<bool>,
    pub measures: Vec<bool>,
    pub due: Vec<bool>,
}

impl Counts {
    /// By the questions among the entry's flags.
    pub fn of(entry: &Entry) -> Self {
        let asked: Vec<Path> = entry.questions().filter_map(|f| f.field.parse().ok()).collect();
        // A question about no part in particular ("said") concerns the whole.
        let lists = ["scores", "findings", "actions", "clear", "measures", "due"];
        let whole = entry.cow.is_none()
            || asked.len() < entry.questions().count()
            || asked.iter().any(|p| !lists.contains(&p.name.as_str()));
        // Which feet are clean is asked of all of them at once.
        let covers = |p: &Path, name: &str, i: usize| {
            p.name == name && (p.index == Some(i) || (p.index.is_none() && name == "clear"))
        };
        let of =
            |name: &str, len: usize| (0..len).map(|i| !whole && !asked.iter().any(|p| covers(p, name, i))).collect();
        let mut counts = Self {
            cow: !whole,
            scores: of("scores", entry.scores.len()),
            findings: of("findings", entry.findings.len()),
            actions: of("actions", entry.actions.len()),
            clear: of("clear", entry.clear.len()),
            measures: of("measures", entry.measures.len()),
            due: of("due", entry.due.len()),
        };
        // What was done on the foot of a finding waits with the finding's foot.
        if entry.findings.iter().any(|f| f.foot.is_none()) {
            for (counts, action) in counts.actions.iter_mut().zip(&entry.actions) {
                *counts &= action.foot.is_some() || matches!(action.what, Act::Trim | Act::Vet);
            }
        }
        counts
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn counts(json: serde_json::Value) -> Counts {
        Counts::of(&serde_json::from_value(json).unwrap())
    }

    fn ask(field: &str) -> serde_json::Value {
        serde_json::json!({"level": "ask", "kind": "claw_missing", "field": field, "message": "?"})
    }

    #[test]
    fn only_the_finding_that_is_asked_is_left_out() {
        let c = counts(serde_json::json!({
            "cow": "12",
            "findings": [{"foot": "LH", "disorder": "SU"}, {"foot": "RH", "disorder": "DD"}],
            "actions": [{"what": "block", "foot": "LH"}],
            "flags": [ask("findings[0].claw")],
        }));
        assert_eq!((c.cow, c.findings, c.actions), (true, vec![false, true], vec![true]));
    }

    #[test]
    fn nothing_counts_while_the_cow_is_in_doubt() {
        let c = counts(serde_json::json!({"cow": "12", "clear": ["LF"], "flags": [ask("cow")]}));
        assert_eq!((c.cow, c.clear), (false, vec![false]));
    }

    #[test]
    fn what_was_done_waits_for_the_foot_of_the_finding() {
        let c = counts(serde_json::json!({
            "cow": "12",
            "findings": [{"disorder": "SU", "claw": "outer"}],
            "actions": [{"what": "block"}, {"what": "trim"}],
            "flags": [ask("findings[0].foot")],
        }));
        assert_eq!(c.actions, [false, true]);
    }
}
