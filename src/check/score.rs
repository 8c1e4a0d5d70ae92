//! Scores within their scales: locomotion 1-5 (Sprecher et al. 1997), mobility 0-3 (UK industry standard).

use serde_json::json;

use super::Look;
use crate::flag::{Flag, FlagKind};
use crate::words::Span;

pub(super) fn check(look: &Look, flags: &mut Vec<Flag>) {
    // "mobility Scortove": a score was given, and its number lost.
    let scale = |s: &&Span| ["mobility", "locomotion"].iter().any(|w| s.of(look.text).to_lowercase().starts_with(w));
    let next = |s: &Span| look.trace.unread.iter().any(|u| u.start > s.end && u.start <= s.end + 1);
    let within = |s: &Span| s.of(look.text).contains(' ') && !s.of(look.text).to_lowercase().contains("score");
    let lost = |s: &&Span| look.entry.scores.is_empty() && (next(s) || within(s));
    for span in look.trace.unread.iter().filter(scale).filter(lost) {
        let message = format!("{}: which score? what follows was not understood", look.quote(*span));
        flags.push(Flag::ask(FlagKind::Unread, "scores", message).at(Some(*span)));
    }
    for (i, (s, span)) in look.entry.scores.iter().zip(&look.trace.scores).enumerate() {
        let field = format!("scores[{i}].value");
        let range = s.scale.range();
        if !range.contains(&s.value) {
            let message = format!(
                "{} score {}: the scale goes from {} to {}",
                s.scale.words(),
                s.value,
                range.start(),
                range.end()
            );
            flags
                .push(Flag::ask(FlagKind::ScoreRange, field, message).options(range.map(|v| json!(v))).at(Some(*span)));
        } else if look.trace.broken_scores.contains(&i) {
            let message = format!("{}: the scale has whole numbers", look.quote(*span));
            flags.push(
                Flag::ask(FlagKind::ScoreRange, field, message)
                    .options([json!(s.value), json!(s.value + 1)])
                    .at(Some(*span)),
            );
        }
    }
}
