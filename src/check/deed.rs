//! Deeds with a question mark: whether they were done.

use serde_json::{Value, json};

use super::Look;
use crate::flag::{Flag, FlagKind};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (a, t)) in look.entry.actions.iter().zip(&look.trace.actions).enumerate() {
        if t.unsure {
            let minus = look.text.get(..t.span.start as usize).is_some_and(|before| before.ends_with('-'));
            let sign = if minus { "minus" } else { "question mark" };
            let message = format!("{} with a {sign}: was it done?", look.quote(t.span));
            let options = [json!(a), Value::Null];
            flags.push(
                Flag::ask(FlagKind::TwoReadings, format!("actions[{i}]"), message).options(options).at(Some(t.span)),
            );
        }
    }
}
