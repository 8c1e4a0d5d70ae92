//! Something is due, but when is open (rule 9).

use serde_json::json;

use super::Look;
use crate::flag::{Flag, FlagKind};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (d, span)) in look.entry.due.iter().zip(&look.trace.due).enumerate() {
        if d.on.is_some() {
            continue;
        }
        let doubt = look.trace.date_doubts.iter().find(|(k, _)| *k == i);
        let message = match doubt {
            Some(_) if span.of(look.text).contains('/') => {
                format!("{}: which is the day and which the month?", look.quote(*span))
            }
            Some(_) => format!("{}: on which of these days?", look.quote(*span)),
            None => format!("{}: on which day?", d.what.words()),
        };
        let options = doubt.map(|(_, dates)| dates.clone()).unwrap_or_default();
        flags.push(
            Flag::ask(FlagKind::DateOpen, format!("due[{i}].on"), message)
                .options(options.iter().map(|d| json!(d)))
                .at(Some(*span)),
        );
    }
}
