//! A lesion whose kind was left open (rule 4).

use serde_json::json;

use super::Look;
use crate::disorder::{Course, Disorder, Stage};
use crate::flag::{Flag, FlagKind};
use crate::words::Span;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    for (i, (f, t)) in look.entry.findings.iter().zip(&look.trace.findings).enumerate() {
        if f.disorder == Some(Disorder::DD) && follows_inner(look, t.span) {
            let message = format!("inner {}: digital or interdigital dermatitis?", look.quote(t.span));
            flags.push(
                Flag::ask(FlagKind::DisorderOpen, format!("findings[{i}].disorder"), message)
                    .options([Disorder::DD, Disorder::ID].map(|d| json!(d.code())))
                    .at(Some(t.span)),
            );
        }
        if let (Some(stage @ (Stage::M1 | Stage::M2 | Stage::M3 | Stage::M41)), Some(Course::Healed)) =
            (f.stage, f.course)
        {
            let message = format!("{} is not healed: which of the two is it?", stage.code());
            let options = [Some(Course::Healing), Some(Course::Healed), None].map(|c| json!(c));
            flags.push(
                Flag::ask(FlagKind::DisorderOpen, format!("findings[{i}].course"), message)
                    .options(options)
                    .at(Some(t.span)),
            );
        }
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

/// "inner digital dermatitis": the skin between the claws is on neither, and "interdigital" sounds much like it.
fn follows_inner(look: &Look, span: Span) -> bool {
    let said = span.of(look.text).to_lowercase();
    let before = look.text[..span.start as usize].trim_end().to_lowercase();
    said.starts_with("digital") && ["inner", "and her", "in her", "enter"].iter().any(|w| before.ends_with(w))
}
