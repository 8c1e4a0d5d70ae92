//! A foot cannot be free of lesions and have one.

use serde_json::json;

use super::Look;
use crate::anatomy::Foot;
use crate::disorder::{Course, Stage};
use crate::flag::{Flag, FlagKind};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    let none: [&str; 0] = [];
    if look.trace.empty_cow
        && let Some(cow) = &look.entry.cow
    {
        let message = format!("nothing was said of {cow}: is she clean?");
        let all: Vec<&str> = Foot::ALL.iter().map(|f| f.code()).collect();
        flags.push(Flag::ask(FlagKind::Unread, "clear", message).options([json!(none), json!(all)]).at(look.trace.cow));
    }
    if let Some(said) = look.trace.clear_lost {
        let rest: Vec<&str> = Foot::ALL
            .iter()
            .filter(|foot| look.entry.findings.iter().all(|f| f.foot != Some(**foot)))
            .map(|f| f.code())
            .collect();
        let message = format!(
            "{} beside a lesion: are the other feet clean, or is one of the two another cow's?",
            look.quote(said)
        );
        flags.push(
            Flag::ask(FlagKind::ClearAndLesion, "clear", message).options([json!(rest), json!(none)]).at(Some(said)),
        );
    }
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
