//! Which cow: not said, or a number that can be read in two ways.

use serde_json::json;

use super::Look;
use crate::flag::{Flag, FlagKind};
use crate::meaning::LooseNumber;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    match &look.entry.cow {
        None => {
            // A number as long as a tag that belongs to nothing may be hers.
            let tag = |n: &LooseNumber| n.tag.map(|(n, len)| format!("{n:0len$}", len = usize::from(len)));
            let loose = look.trace.loose_numbers.iter().filter_map(|n| Some((tag(n)?, n.span)));
            let (mut options, at): (Vec<String>, Vec<_>) = loose.unzip();
            options.extend(look.known.cow_before.map(str::to_owned));
            let mut seen = std::collections::BTreeSet::new();
            options.retain(|c| seen.insert(c.clone()));
            let options = options.into_iter().map(|c| json!(c));
            // The one right before is offered without a place in the note.
            let message = match at.first() {
                Some(number) => format!("which cow? {} may be her number", look.quote(*number)),
                None => "which cow? none was named".to_owned(),
            };
            flags.push(Flag::ask(FlagKind::CowMissing, "cow", message).options(options).at(at.first().copied()));
        }
        Some(cow) if look.trace.cow_bare => {
            let options = std::iter::once(cow.as_str()).chain(look.known.cow_before).map(|c| json!(c));
            let message = match look.known.cow_before {
                Some(_) => format!("is {cow} another cow?"),
                None => format!("is the cow {cow}?"),
            };
            flags.push(Flag::ask(FlagKind::CowDoubtful, "cow", message).options(options).at(look.trace.cow));
        }
        Some(cow) if let Some(more) = look.trace.cow_glued => {
            let near =
                look.known.roster.map(|r| r.near(look.trace.cow.map_or(more, |c| c.to(more)).of(look.text), cow));
            let others = near.unwrap_or_default().into_iter().map(|n| n.tag).filter(|t| t != cow);
            let options = std::iter::once(cow.clone()).chain(others).map(|c| json!(c));
            let message = format!("is the cow {cow}? {} right behind her number was not understood", look.quote(more));
            flags.push(Flag::ask(FlagKind::CowDoubtful, "cow", message).options(options).at(look.trace.cow));
        }
        Some(cow) if !look.trace.cow_others.is_empty() => {
            let all = std::iter::once(cow).chain(&look.trace.cow_others);
            let message = format!("is the cow {cow}, or {}?", look.trace.cow_others.join(" or "));
            flags.push(
                Flag::ask(FlagKind::CowDoubtful, "cow", message).options(all.map(|c| json!(c))).at(look.trace.cow),
            );
        }
        Some(cow) => unknown(look, cow, flags),
    }
}

/// A number that is not on the roster: the nearest tags are offered, what was heard among them.
fn unknown(look: &Look, cow: &str, flags: &mut Vec<Flag>) {
    let Some(roster) = look.known.roster else { return };
    if roster.has(cow) || roster.is_soft() || roster.tag_of_chip(cow).is_some() || roster.is_empty() {
        return;
    }
    let near = look.trace.cow.map(|s| roster.near(s.of(look.text), cow)).unwrap_or_default();
    let options = near.into_iter().map(|n| json!(n.tag)).chain([json!(cow)]);
    let message = format!("cow {cow} is not on the roster");
    flags.push(Flag::ask(FlagKind::CowDoubtful, "cow", message).options(options).at(look.trace.cow));
}
