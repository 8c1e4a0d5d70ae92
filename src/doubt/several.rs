//! Several hearings of one utterance, read together.
//!
//! Recognisers rarely make the same mistake: what all hearings agree on is certain, even where each alone was
//! doubtful; what they differ on is exactly what to ask.

use serde_json::Value;

use super::diff::{Difference, differences};
use super::{in_words, label};
use crate::entry::Entry;
use crate::flag::{Flag, FlagKind};

/// One hearing, read by itself.
#[derive(Clone, Debug)]
pub(crate) struct Heard {
    pub(crate) entries: Vec<Entry>,
    /// Total price of the reading, in hundredths of a phone.
    pub(crate) cost: u32,
    /// Words were left unread, or taken for others at some distance: something may have been lost here.
    pub(crate) broken: bool,
}

/// Reads hearings together: the entries of the cheapest, with questions where another differs.
///
/// A hearing that costs `margin` more than the best contradicts it no longer, where the best was heard plainly.
pub(crate) fn together(mut heard: Vec<Heard>, margin: u32) -> Vec<Entry> {
    // Stable: of equals, the first hearing leads.
    heard.sort_by_key(|h| h.cost);
    let mut rest = heard.into_iter();
    let Some(best) = rest.next() else { return vec![] };
    let mut entries = best.entries.clone();
    let others: Vec<Heard> = rest.filter(|o| best.broken || o.cost <= best.cost + margin).collect();
    if others.is_empty() {
        return entries;
    }
    let same_cows: Vec<&Heard> = others.iter().filter(|o| o.entries.len() == entries.len()).collect();
    if same_cows.len() < others.len()
        && let Some(first) = entries.first_mut()
    {
        let flag = Flag::ask(FlagKind::HearingsDiffer, "cow", "how many cows are in this note? the hearings differ");
        first.flags.push(flag.options([Value::from(first.cow.clone())]));
    }
    if same_cows.is_empty() {
        return entries;
    }
    for (k, entry) in entries.iter_mut().enumerate() {
        let mut differ: Vec<Difference> = Vec::new();
        let mut taken: Vec<Value> = Vec::new();
        for other in &same_cows {
            for d in differences(entry, &other.entries[k]) {
                // What one hearing lost is taken from the other: nothing is contradicted.
                if d.theirs.is_null() && other.broken && !best.broken {
                    taken.push(d.mine);
                } else {
                    differ.push(d);
                }
            }
        }
        agreed(entry, &differ);
        for d in differ {
            ask(entry, d);
        }
    }
    entries
}

/// Drops the doubts that the other hearings have settled; what is missing in all of them is still asked.
fn agreed(entry: &mut Entry, differ: &[Difference]) {
    entry.flags.retain(|f| {
        let of_hearing = matches!(f.kind, FlagKind::Misheard | FlagKind::TwoReadings | FlagKind::NumberLoose | FlagKind::Unread);
        let open = differ.iter().any(|d| d.field == f.field || d.field.starts_with(&f.field) || f.field.starts_with(&d.field));
        !of_hearing || open || !f.asks()
    });
}

fn ask(entry: &mut Entry, d: Difference) {
    if let Some(flag) = entry.flags.iter_mut().find(|f| f.asks() && f.field == d.field) {
        for o in [d.mine, d.theirs] {
            if !flag.options.contains(&o) {
                flag.options.push(o);
            }
        }
        return;
    }
    let message = format!("{}: {} or {}? the hearings differ", label(&d.field), in_words(&d.mine), in_words(&d.theirs));
    entry.flags.push(Flag::ask(FlagKind::HearingsDiffer, d.field, message).options([d.mine, d.theirs]));
}
