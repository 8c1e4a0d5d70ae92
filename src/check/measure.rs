//! Measures that a claw can have.
//!
//! Bounds are wide on purpose (common practice): they catch slips, not unusual feet. Published lengths:
//! toe 75-90 mm (Toussaint Raven 1985; Archer et al. 2015), sole 5-7 mm, heel about 38 mm, angle 45-52.

use serde_json::json;

use super::Look;
use crate::entry::MeasureKind;
use crate::flag::{Flag, FlagKind};

/// What a claw can have, and what is usual: outside of that a "-teen" was more likely a "-ty" (common practice).
fn bounds(what: MeasureKind) -> [std::ops::RangeInclusive<f64>; 2] {
    match what {
        MeasureKind::ToeLength => [40.0..=200.0, 60.0..=110.0],
        MeasureKind::SoleThickness => [0.5..=30.0, 3.0..=15.0],
        MeasureKind::HeelHeight => [10.0..=120.0, 25.0..=60.0],
        MeasureKind::ToeAngle => [15.0..=90.0, 35.0..=65.0],
    }
}

/// A heel of fourteen is hardly one, and of forty is: the two are heard alike.
fn misheard(what: MeasureKind, value: f64) -> Option<f64> {
    let ty = (value - 10.0) * 10.0;
    let teen = (13.0..=19.0).contains(&value) && value.fract() == 0.0;
    let [_, usual] = bounds(what);
    (teen && !usual.contains(&value) && usual.contains(&ty)).then_some(ty)
}

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (m, span)) in look.entry.measures.iter().zip(&look.trace.measures).enumerate() {
        let [possible, _] = bounds(m.what);
        let forty = misheard(m.what, m.value);
        if forty.is_some() || !possible.contains(&m.value) {
            let or = forty.map_or(String::new(), |forty| format!(", or {forty}"));
            let message = format!("{} of {} {}{or}?", m.what.words(), m.value, m.unit);
            flags.push(
                Flag::ask(FlagKind::MeasureRange, format!("measures[{i}].value"), message)
                    .options([json!(m.value), json!(forty)])
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
