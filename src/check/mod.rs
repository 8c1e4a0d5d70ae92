//! Trade checks: what must be asked or shown about an entry. One file a check.

mod block;
mod claw;
mod clear;
mod cow;
mod date;
mod deed;
mod foot;
mod kind;
mod measure;
mod repeat;
mod score;
mod unread;
mod vet;
mod zone;

use chrono::NaiveDate;

use crate::entry::Entry;
use crate::flag::Flag;
use crate::meaning::Trace;

/// What the checks may know beyond the entry.
#[derive(Clone, Debug, Default)]
pub struct Known<'a> {
    /// The day of the visit, where it is known.
    pub visit: Option<NaiveDate>,
    /// The cow of the note before.
    pub cow_before: Option<&'a str>,
    /// The herd's tags.
    pub roster: Option<&'a crate::roster::Roster>,
}

/// One look at an entry.
pub(crate) struct Look<'a> {
    pub(crate) entry: &'a Entry,
    pub(crate) trace: &'a Trace,
    pub(crate) known: &'a Known<'a>,
    /// The whole note, which spans refer to.
    pub(crate) text: &'a str,
}

impl Look<'_> {
    /// The words at a span, quoted for a message.
    pub(crate) fn quote(&self, span: crate::words::Span) -> String {
        format!("`{}`", span.of(self.text))
    }

    /// Whether anything within a span was put down.
    pub(crate) fn is_understood(&self, span: crate::words::Span) -> bool {
        let within = |s: &crate::words::Span| s.start < span.end && span.start < s.end;
        let trace = self.trace;
        trace.findings.iter().any(|f| within(&f.span))
            || trace.actions.iter().any(|a| within(&a.span))
            || trace
                .measures
                .iter()
                .chain(&trace.due)
                .chain(&trace.scores)
                .chain(&trace.cow)
                .chain(&trace.clear)
                .any(within)
    }
}

type Check = fn(&Look, &mut Vec<Flag>);

const CHECKS: &[Check] = &[
    cow::check,
    kind::check,
    foot::check,
    claw::check,
    zone::check,
    deed::check,
    block::check,
    clear::check,
    score::check,
    measure::check,
    date::check,
    repeat::check,
    unread::check,
    vet::check,
];

/// All flags of an entry, in the order in which they are best asked.
pub fn flags(text: &str, entry: &Entry, trace: &Trace, known: &Known) -> Vec<Flag> {
    let look = Look { entry, trace, known, text };
    let mut flags = Vec::new();
    for check in CHECKS {
        check(&look, &mut flags);
    }
    flags
}
