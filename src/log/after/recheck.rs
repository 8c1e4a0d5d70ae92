//! Which questions wait after some were answered: an answer can settle others, and raise new ones.

use super::places::Places;
use crate::check::{self, Known};
use crate::entry::Entry;
use crate::flag::{Flag, FlagKind};
use crate::log::path::Path;
use crate::meaning::{ActionTrace, FindingTrace, Trace};
use crate::words::Span;

/// Kinds that follow from the entry alone, so that they can be looked at again.
const AGAIN: [FlagKind; 10] = [
    FlagKind::CowMissing,
    FlagKind::FootMissing,
    FlagKind::FootHalf,
    FlagKind::ClawMissing,
    FlagKind::BlockClawMissing,
    FlagKind::BlockOnLesion,
    FlagKind::DisorderOpen,
    FlagKind::ZoneMisfit,
    FlagKind::ZoneUnknown,
    FlagKind::ClearAndLesion,
];

/// Kinds that ask for what is not there.
const GAPS: [FlagKind; 6] = [
    FlagKind::CowMissing,
    FlagKind::FootMissing,
    FlagKind::FootHalf,
    FlagKind::ClawMissing,
    FlagKind::BlockClawMissing,
    FlagKind::DisorderOpen,
];

/// The open questions, their fields counted as in the entry's own line.
pub(super) fn open(original: &Entry, now: &Entry, answered: &[Path], places: &Places) -> Vec<Flag> {
    let settled = |field: &str| field.parse().is_ok_and(|p| answered.iter().any(|a| a.covers(&p)));
    // An answer that leaves a gap has not filled it.
    let still = |f: &Flag| GAPS.contains(&f.kind) || !settled(&f.field);
    let raised: Vec<Flag> = check::flags(&now.said, now, &trace(original, now, places), &Known::default())
        .into_iter()
        .filter(|f| f.asks() && AGAIN.contains(&f.kind))
        .map(|f| Flag { field: places.before(&f.field), ..f })
        .filter(still)
        .collect();
    let mut open: Vec<Flag> = original
        .questions()
        .filter(|f| places.now(&f.field).is_some() && !settled(&f.field))
        .filter(|f| !AGAIN.contains(&f.kind) || raised.iter().any(|r| r.field == f.field))
        .cloned()
        .collect();
    for flag in raised {
        if open.iter().all(|f| f.field != flag.field) {
            open.push(flag);
        }
    }
    open
}

/// Where the parts were said, as far as the questions about them remember it.
fn trace(original: &Entry, now: &Entry, places: &Places) -> Trace {
    let whole = Span::new(0, now.said.len());
    let span = |name: &str, k: usize| {
        let thing: Option<Path> = places.before(&format!("{name}[{k}]")).parse().ok();
        let about = |f: &&Flag| f.field.parse::<Path>().is_ok_and(|p| p.thing() == thing);
        let at = original.flags.iter().filter(about).find_map(|f| f.at);
        at.map_or(whole, |[from, to]| Span::new(from, to))
    };
    let fits = |s: Span| if now.said.get(s.start as usize..s.end as usize).is_some() { s } else { whole };
    Trace {
        findings: (0..now.findings.len())
            .map(|k| FindingTrace { span: fits(span("findings", k)), feet: vec![], kinds: vec![], grade: None })
            .collect(),
        actions: (0..now.actions.len())
            .map(|k| ActionTrace { span: fits(span("actions", k)), feet: vec![], named: false, unsure: false })
            .collect(),
        scores: vec![whole; now.scores.len()],
        measures: vec![whole; now.measures.len()],
        due: vec![whole; now.due.len()],
        ..Trace::default()
    }
}
