//! Zones: that exist, that fit the disorder (rule 5), and those whose place the sources disagree on.

use serde_json::json;

use super::Look;
use crate::anatomy::LAST_ZONE;
use crate::flag::{Flag, FlagKind};
use crate::grammar::BETWEEN;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (f, t)) in look.entry.findings.iter().zip(&look.trace.findings).enumerate() {
        let field = format!("findings[{i}].zones");
        if let Some(grade) = t.grade {
            let (message, options) = match grade.checked_sub(BETWEEN) {
                Some(low @ 1..=2) => {
                    (format!("grade {low} or {}?", low + 1), vec![json!(low), json!(low + 1), json!(null)])
                }
                _ => {
                    let all = [json!(3), json!(2), json!(1), json!(null)];
                    (format!("grade {grade}: the severity is 1 mild, 2 moderate or 3 severe"), all.to_vec())
                }
            };
            let flag = Flag::ask(FlagKind::ScoreRange, format!("findings[{i}].severity"), message);
            flags.push(flag.options(options).at(Some(t.span)));
        }
        if let Some(z) = f.zones.iter().find(|z| **z > LAST_ZONE) {
            let message = format!("zone {z} does not exist; the zones are 0 to {LAST_ZONE}");
            flags.push(Flag::ask(FlagKind::ZoneUnknown, field, message).options([json!(null)]).at(Some(t.span)));
            continue;
        }
        let Some(d) = f.disorder else { continue };
        if let Some(z) = f.zones.iter().find(|z| !d.fits_zone(**z)) {
            let fitting: Vec<_> = (0..=LAST_ZONE).filter(|z| d.fits_zone(*z)).collect();
            let message = format!("{} in zone {z}? that is not where it sits", d.name());
            let options =
                std::iter::once(json!(f.zones)).chain(fitting.iter().map(|z| json!([z]))).chain([json!(null)]);
            flags.push(Flag::ask(FlagKind::ZoneMisfit, field, message).options(options).at(Some(t.span)));
        } else if let Some(z) = f.zones.iter().find(|z| matches!(z, 7..=9 | 11 | 12)) {
            let message = format!("zone {z}: sources disagree on where it lies");
            flags.push(Flag::note(FlagKind::ZoneUnsure, field, message).at(Some(t.span)));
        }
    }
}
