//! A lesion whose kind was left open (rule 4).

use serde_json::json;

use super::Look;
use crate::flag::{Flag, FlagKind};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (f, t)) in look.entry.findings.iter().zip(&look.trace.findings).enumerate() {
        if f.disorder.is_none() {
            let message = format!("what kind is {}?", look.quote(t.span));
            flags.push(
                Flag::ask(FlagKind::DisorderOpen, format!("findings[{i}].disorder"), message)
                    .options(t.kinds.iter().map(|d| json!(d.code())))
                    .at(Some(t.span)),
            );
        }
    }
}
