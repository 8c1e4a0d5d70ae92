//! A disorder that sits on one claw, without the claw (rule 5). Healed and healing lesions may do without.

use serde_json::json;

use super::Look;
use crate::disorder::Course;
use crate::flag::{Flag, FlagKind};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (f, t)) in look.entry.findings.iter().zip(&look.trace.findings).enumerate() {
        let Some(d) = f.disorder else { continue };
        let closing = matches!(f.course, Some(Course::Healed | Course::Healing));
        if !d.needs_claw() || f.claw.is_some() || closing {
            continue;
        }
        let place = f.foot.map_or(String::new(), |foot| format!(" on the {}", foot.words()));
        let message = format!("{}{place}: outer or inner claw?", look.quote(t.span));
        flags.push(
            Flag::ask(FlagKind::ClawMissing, format!("findings[{i}].claw"), message)
                .options([json!("outer"), json!("inner")])
                .at(Some(t.span)),
        );
    }
}
