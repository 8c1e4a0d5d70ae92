//! Words that were not understood, and numbers that belong to nothing: nothing said is lost.

use super::Look;
use crate::flag::{Flag, FlagKind};
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
    for span in look.trace.loose_numbers.iter().filter(|s| !kept(s)) {
        let message = format!("{}: a number that belongs to nothing", look.quote(*span));
        flags.push(Flag::note(FlagKind::NumberLoose, "said", message).at(Some(*span)));
    }
}
