//! Deeds with a question mark: whether they were done.

use serde_json::{Value, json};

use super::Look;
use crate::entry::Act;
use crate::flag::{Flag, FlagKind};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (a, t)) in look.entry.actions.iter().zip(&look.trace.actions).enumerate() {
        if t.unsure {
            // "sprayed unwrapped", "left them and wrapped": the opposite sounds the same.
            let signed = ["?", "-", "("].iter().any(|sign| near(look, t.span).contains(sign));
            let minus = look.text.get(..t.span.start as usize).is_some_and(|before| before.ends_with('-'));
            let sign = if minus { "minus" } else { "question mark" };
            let message = if a.what == Act::Vet && !signed {
                format!("{}: is the vet to see her?", look.quote(t.span))
            } else if signed {
                format!("{} with a {sign}: was it done?", look.quote(t.span))
            } else {
                format!("{}: was it done today?", look.quote(t.span))
            };
            let options = [json!(a), Value::Null];
            flags.push(
                Flag::ask(FlagKind::TwoReadings, format!("actions[{i}]"), message).options(options).at(Some(t.span)),
            );
        }
    }
}

/// The deed with the signs that may stand beside it.
fn near<'a>(look: &Look<'a>, deed: crate::words::Span) -> &'a str {
    let before = look.text[..deed.start as usize].trim_end_matches(['-', '(', '[', ' ']).len();
    let behind =
        look.text[deed.end as usize..].find(char::is_alphanumeric).unwrap_or(look.text.len() - deed.end as usize);
    &look.text[before..deed.end as usize + behind]
}
