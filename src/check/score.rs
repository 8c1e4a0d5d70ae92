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
    let lost = |s: &&Span| look.entry.scores.is_empty() && (next(s) || within(s) || sounds_like_one(look.text, **s));
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

/// "mobility was to a fortnight ago", "mobility not, clean": words that sound like a number in the place of one.
fn sounds_like_one(text: &str, scale: Span) -> bool {
    const LEADS: [&str; 10] = ["mobility", "locomotion", "score", "scored", "was", "is", "of", "at", "a", "about"];
    // "mobility not all four fine"
    const GOES_ON: [&str; 9] = ["today", "now", "all", "left", "right", "trim", "trimmed", "clean", "feet"];
    let behind = text[scale.start as usize..].split([',', '.', ';']).next().unwrap_or_default().to_lowercase();
    let mut words = behind.split_whitespace().skip_while(|w| LEADS.contains(w));
    match words.next() {
        Some("to" | "too" | "for" | "won" | "won't" | "free" | "tree") => true,
        // "mobility not great" is what it says.
        Some("not" | "naught" | "mod" | "nor") => words.next().is_none_or(|w| GOES_ON.contains(&w)),
        // "mobility. All four fine": the figure got lost.
        None => true,
        _ => false,
    }
}
