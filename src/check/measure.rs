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

/// What is usual, from the lengths above; outside of it a "-teen" was more likely a "-ty" (common practice).
fn usual(what: MeasureKind) -> std::ops::RangeInclusive<f64> {
    match what {
        MeasureKind::ToeLength => 60.0..=110.0,
        MeasureKind::SoleThickness => 3.0..=15.0,
        MeasureKind::HeelHeight => 25.0..=60.0,
        MeasureKind::ToeAngle => 35.0..=65.0,
    }
}

/// A heel of fourteen is hardly one, and of forty is: the two are heard alike.
fn misheard(what: MeasureKind, value: f64) -> Option<f64> {
    let ty = (value - 10.0) * 10.0;
    let teen = (13.0..=19.0).contains(&value) && value.fract() == 0.0;
    (teen && !usual(what).contains(&value) && usual(what).contains(&ty)).then_some(ty)
}

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (m, span)) in look.entry.measures.iter().zip(&look.trace.measures).enumerate() {
        let range = bounds(m.what);
        if let Some(forty) = misheard(m.what, m.value) {
            let message = format!("{} of {} {}, or {forty}?", m.what.words(), m.value, m.unit);
            flags.push(
                Flag::ask(FlagKind::MeasureRange, format!("measures[{i}].value"), message)
                    .options([json!(m.value), json!(forty)])
                    .at(Some(*span)),
            );
        } else if !range.contains(&m.value) {
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
