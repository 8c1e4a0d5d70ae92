//! A foot cannot be free of lesions and have one.

use serde_json::json;

use super::Look;
use crate::disorder::{Course, Stage};
use crate::flag::{Flag, FlagKind};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, foot) in look.entry.clear.iter().enumerate() {
        let lesion = look
            .entry
            .findings
            .iter()
            .any(|f| f.foot == Some(*foot) && f.course != Some(Course::Healed) && f.stage != Some(Stage::M0));
        if lesion {
            let message = format!("the {} is said to be clean and to have a lesion", foot.words());
            flags.push(
                Flag::ask(FlagKind::ClearAndLesion, format!("clear[{i}]"), message)
                    .options([json!(null), json!(foot.code())])
                    .at(look.trace.clear),
            );
        }
    }
}
