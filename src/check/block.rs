//! Blocks belong on the sound claw (rule 3).

use serde_json::json;

use super::Look;
use crate::anatomy::Claw;
use crate::disorder::Course;
use crate::entry::Act;
use crate::flag::{Flag, FlagKind};

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (a, t)) in look.entry.actions.iter().zip(&look.trace.actions).enumerate() {
        let (Act::Block, Some(foot)) = (a.what, a.foot) else {
            continue;
        };
        let field = format!("actions[{i}].claw");
        let lesions: Vec<_> = look.entry.findings.iter().filter(|f| f.foot == Some(foot)).collect();
        // "block of left hind, ulcer healed": what is healed needs none.
        let healed = !lesions.is_empty() && lesions.iter().all(|f| f.course == Some(Course::Healed));
        if healed && !t.named {
            let message = format!("a new block on the {}, whose lesion is healed?", foot.words());
            flags.push(
                Flag::ask(FlagKind::BlockOnLesion, format!("actions[{i}].what"), message)
                    .options([json!("block"), json!("unblock")])
                    .at(Some(t.span)),
            );
            continue;
        }
        let options = |first: Claw| [json!(first.words()), json!(first.partner().words())];
        // `blk i/s`: which claw was said, and not understood.
        let unread = look.trace.unread.iter().find(|u| u.start > t.span.end && u.start <= t.span.end + 1);
        match a.claw {
            Some(claw) if let Some(more) = unread.filter(|_| look.entry.assumed.contains(&field)) => {
                let message = format!("{} behind the block was not understood: which claw has it?", look.quote(*more));
                flags.push(
                    Flag::ask(FlagKind::BlockClawMissing, field, message)
                        .options(options(claw))
                        .at(Some(t.span.to(*more))),
                );
            }
            Some(claw) => {
                let own = lesions.iter().any(|f| f.claw == Some(claw) && f.course != Some(Course::Healed));
                if own {
                    let message = format!(
                        "the block is said to be on the {} claw of the {}, which has the lesion; it belongs on the sound claw",
                        claw.words(),
                        foot.words()
                    );
                    flags.push(
                        Flag::ask(FlagKind::BlockOnLesion, field, message)
                            .options(options(claw.partner()))
                            .at(Some(t.span)),
                    );
                }
            }
            None => {
                // Where the lesion's claw is asked, its answer tells the block's.
                let asked = lesions
                    .iter()
                    .any(|f| f.claw.is_none() && f.disorder.is_none_or(crate::disorder::Disorder::needs_claw));
                let healing = lesions.iter().any(|f| f.course.is_some() && f.claw.is_none());
                if !asked || healing {
                    let message = format!("which claw of the {} has the block?", foot.words());
                    flags.push(
                        Flag::ask(FlagKind::BlockClawMissing, field, message)
                            .options(options(Claw::Inner))
                            .at(Some(t.span)),
                    );
                }
            }
        }
    }
}
