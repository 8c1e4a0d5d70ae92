//! Findings and actions without a foot, or with half of one (rule 5).

use serde_json::json;

use super::Look;
use crate::anatomy::Foot;
use crate::entry::Act;
use crate::flag::{Flag, FlagKind};
use crate::words::Span;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (f, t)) in look.entry.findings.iter().zip(&look.trace.findings).enumerate() {
        if f.foot.is_none() {
            flags.push(ask(look, format!("findings[{i}].foot"), t.span, &t.feet));
        }
    }
    for (i, (a, t)) in look.entry.actions.iter().zip(&look.trace.actions).enumerate() {
        let whole_cow = matches!(a.what, Act::Vet | Act::Trim);
        if a.foot.is_none() && (!whole_cow || !t.feet.is_empty()) {
            // Where the finding's foot is asked, its answer settles the action too.
            let with_finding = look.entry.findings.iter().any(|f| f.foot.is_none());
            if !with_finding {
                flags.push(ask(look, format!("actions[{i}].foot"), t.span, &t.feet));
            }
        }
    }
}

fn ask(look: &Look, field: String, span: Span, feet: &[Foot]) -> Flag {
    let options = if feet.is_empty() { &[Foot::LH, Foot::RH, Foot::LF, Foot::RF] } else { feet };
    let kind = if feet.is_empty() { FlagKind::FootMissing } else { FlagKind::FootHalf };
    let message = match feet {
        [] => format!("{} on which foot?", look.quote(span)),
        _ => {
            let words: Vec<&str> = feet.iter().map(|f| f.words()).collect();
            format!("{} on which foot: {}?", look.quote(span), words.join(" or "))
        }
    };
    Flag::ask(kind, field, message).options(options.iter().map(|f| json!(f.code()))).at(Some(span))
}
