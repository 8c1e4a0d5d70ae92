//! Measures that a claw can have.
//!
//! Bounds are wide on purpose (common practice): they catch slips, not unusual feet. Published lengths:
//! toe 75-90 mm (Toussaint Raven 1985; Archer et al. 2015), sole 5-7 mm, heel about 38 mm, angle 45-52.

use serde_json::json;

use super::Look;
use crate::entry::MeasureKind;
use crate::flag::{Flag, FlagKind};

fn bounds(what: MeasureKind) -> std::ops::RangeInclusive<f64> {
    match what {
        MeasureKind::ToeLength => 40.0..=200.0,
        MeasureKind::SoleThickness => 0.5..=30.0,
        MeasureKind::HeelHeight => 10.0..=120.0,
        MeasureKind::ToeAngle => 15.0..=90.0,
    }
}

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (m, span)) in look.entry.measures.iter().zip(&look.trace.measures).enumerate() {
        let range = bounds(m.what);
        if !range.contains(&m.value) {
            let message = format!("{} of {} {}?", m.what.words(), m.value, m.unit);
            flags.push(
                Flag::ask(FlagKind::MeasureRange, format!("measures[{i}].value"), message)
                    .options([json!(m.value), json!(null)])
                    .at(Some(*span)),
            );
        } else if m.foot.is_none() {
            let message = format!("{} on which foot?", look.quote(*span));
            flags.push(
                Flag::ask(FlagKind::FootMissing, format!("measures[{i}].foot"), message)
                    .options(crate::anatomy::Foot::ALL.map(|f| json!(f.code())))
                    .at(Some(*span)),
            );
        }
    }
}
