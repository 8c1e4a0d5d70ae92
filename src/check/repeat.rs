//! What points at a lesion that was not named: "same" or a ditto mark with nothing to repeat (rule 8), a course, a
//! zone or a grade without a lesion, a foot of which nothing was said.

use super::Look;
use crate::anatomy::Foot;
use crate::disorder::Course;
use crate::entry::Act;
use crate::flag::{Flag, FlagKind};
use crate::words::Span;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    // "same again, nothing wrong, trimmed her": it is said at once; "same but left front clean" is not.
    let all_clean = look.trace.clear.filter(|_| look.entry.clear.len() == Foot::ALL.len());
    let trimmed =
        look.trace.actions.iter().zip(&look.entry.actions).filter(|(_, a)| a.what == Act::Trim).map(|(t, _)| t.span);
    let told: Vec<Span> = all_clean.into_iter().chain(trimmed).collect();
    let said = |same: &&Span| look.entry.findings.is_empty() && told.iter().any(|t| t.start > same.start);
    for span in look.trace.same_open.iter().filter(|same| !said(same)) {
        let message = format!("{}: the same as what?", look.quote(*span));
        flags.push(Flag::ask(FlagKind::SameOpen, "findings", message).at(Some(*span)));
    }
    for span in &look.trace.corrections_open {
        let message = format!("{}: what does it correct?", look.quote(*span));
        flags.push(Flag::ask(FlagKind::CorrectionOpen, "said", message).at(Some(*span)));
    }
    for span in &look.trace.loose_parts {
        let message = format!("{}: of which lesion? none was named", look.quote(*span));
        flags.push(Flag::ask(FlagKind::DisorderOpen, "findings", message).at(Some(*span)));
    }
    let told = look.trace.loose_parts.len() + look.trace.same_open.len() + look.trace.loose_courses.len();
    if let Some(span) = look.trace.empty_place.filter(|_| told == 0) {
        let message = format!("{}: what was found there, or done?", look.quote(span));
        flags.push(Flag::ask(FlagKind::DisorderOpen, "findings", message).at(Some(span)));
    }
    for (course, span) in &look.trace.loose_courses {
        let message = format!("{}: no lesion was named that this could be said of", look.quote(*span));
        // "if she's no better" is said of the cow; what has healed is a lesion, and its name was lost.
        let taken_off = look.entry.actions.iter().any(|a| matches!(a.what, Act::Unwrap | Act::Unblock));
        let flag = match course {
            // "141 a worse one in the same place": all that was said of her.
            _ if look.entry.cow.is_some()
                && look.entry.findings.is_empty()
                && look.entry.actions.is_empty()
                && look.entry.clear.is_empty() =>
            {
                Flag::ask(FlagKind::DisorderOpen, "findings", message)
            }
            // Under what came off there was one, and where none was found its name was lost.
            Course::Open | Course::Worse if taken_off || look.entry.findings.is_empty() && look.entry.cow.is_some() => {
                Flag::ask(FlagKind::DisorderOpen, "findings", message)
            }
            Course::Healed => Flag::ask(FlagKind::DisorderOpen, "findings", message),
            // "better" may be the cow.
            Course::Healing if span.of(look.text).to_lowercase().contains("heal") => {
                Flag::ask(FlagKind::DisorderOpen, "findings", message)
            }
            _ => Flag::note(FlagKind::Unread, "findings", message),
        };
        flags.push(flag.at(Some(*span)));
    }
}

/// "cow 9 …, cow 10 …, cow 11 …, vet for all three": words that gather more than this cow, behind others of the note.
pub(super) fn for_cows_before(look: &Look) -> Option<&'static str> {
    const GATHER: [(&str, usize); 12] = [
        ("all three", 3),
        ("the three of them", 3),
        ("those three", 3),
        ("those two", 2),
        ("these two", 2),
        ("for both", 2),
        ("both of them", 2),
        ("the two of them", 2),
        ("the pair of them", 2),
        ("both cows", 2),
        ("the lot of them", 0),
        ("all of them", 0),
    ];
    let acts = !(look.entry.actions.is_empty() && look.entry.due.is_empty());
    if look.trace.offset == 0 || look.trace.shared || !acts {
        return None;
    }
    let said = look.entry.said.to_lowercase();
    let mut feet: Vec<_> = look.entry.findings.iter().filter_map(|f| f.foot).collect();
    feet.sort_unstable();
    feet.dedup();
    let (words, _) = GATHER.iter().find(|(words, n)| said.contains(words) && feet.len() != *n && feet.len() < 4)?;
    Some(*words)
}
