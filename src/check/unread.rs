//! Words that were not understood, and numbers that belong to nothing: nothing said is lost.

use serde_json::{Value, json};

use super::Look;
use crate::disorder::{Disorder, Stage};
use crate::flag::{Flag, FlagKind};
use crate::meaning::LooseNumber;
use crate::words::Span;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    // What is kept as a remark is kept whole.
    let kept = |span: &Span| look.entry.remarks.iter().any(|r| r.contains(span.of(look.text)));
    let unread: Vec<Span> = look.trace.unread.iter().filter(|s| !kept(s)).copied().collect();
    if let (Some(first), Some(last)) = (unread.first(), unread.last()) {
        let words: Vec<String> = unread.iter().map(|s| look.quote(*s)).collect();
        let message = format!("not understood: {}", words.join(", "));
        flags.push(Flag::note(FlagKind::Unread, "said", message).at(Some(first.to(*last))));
    }
    for loose in look.trace.loose_numbers.iter().filter(|n| !kept(&n.span)) {
        let flag = of_finding(look, loose).unwrap_or_else(|| {
            let message = format!("{}: a number that belongs to nothing", look.quote(loose.span));
            Flag::note(FlagKind::NumberLoose, "said", message)
        });
        flags.push(flag.at(Some(loose.span)));
    }
}

/// A small number right after a lesion may be its zone, or its stage, with the word for it lost.
fn of_finding(look: &Look, loose: &LooseNumber) -> Option<Flag> {
    let (n, said) = loose.after?;
    let k = look.trace.findings.iter().rposition(|f| f.span == said)?;
    let warts = look.entry.findings.get(k)?.disorder == Some(Disorder::DD);
    let (field, option, word) =
        if warts { ("stage", json!(Stage::new(u64::from(n), None)?), "stage") } else { ("zones", json!([n]), "zone") };
    let message = format!("{} after {}: its {word}?", look.quote(loose.span), look.quote(said));
    let options = [option, Value::Null];
    Some(Flag::ask(FlagKind::NumberLoose, format!("findings[{k}].{field}"), message).options(options))
}
