//! Something is due, but when is open (rule 9), or it is too far away to be meant.

use chrono::Days;
use serde_json::{Value, json};

use super::Look;
use crate::flag::{Flag, FlagKind};

/// Days after which nothing is due: no foot waits longer than a year and a month (common practice).
const FAR: u64 = 400;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (d, span)) in look.entry.due.iter().zip(&look.trace.due).enumerate() {
        if let Some(day) = d.on {
            if look.known.visit.is_some_and(|visit| day > visit + Days::new(FAR)) {
                let message = format!("{} is more than a year away: is that the day?", look.quote(*span));
                let flag = Flag::ask(FlagKind::DateOpen, format!("due[{i}].on"), message);
                flags.push(flag.options([json!(day), Value::Null]).at(Some(*span)));
            }
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
