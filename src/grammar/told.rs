//! Whether the words around a number in the midst of a sentence say that it is a cow.

use super::toks::Toks;
use crate::vocab::Meaning;
use crate::words::{self, Gap};

/// What is said of her behind her number.
const SAID_OF_HER: [&str; 36] = [
    "walked", "walks", "was", "is", "has", "had", "have", "needs", "needed", "wants", "got", "gets", "came", "comes",
    "looks", "looked", "stepped", "limped", "hobbled", "stands", "went", "goes", "lost", "kicked", "slipped", "still",
    "just", "isn't", "wasn't", "hasn't", "doesn't", "again", "won't", "calved", "she", "she'd",
];

/// "the farmer reckons four seventy two was limping", "thirteen ninety's fronts"
pub(super) fn is_subject(text: &str, rest: Toks, after: Toks) -> bool {
    let end = rest.span_to(after).end as usize;
    let (said, behind) = text.split_at_checked(end).unwrap_or((text, ""));
    let word: String = behind.trim_start_matches(' ').chars().take_while(|c| c.is_alphabetic()).collect();
    said.ends_with("'s") || said.ends_with("'S") || SAID_OF_HER.iter().any(|w| word.eq_ignore_ascii_case(w))
}

/// "1090 is the cow"
pub(super) fn is_the_cow(text: &str, rest: Toks, after: Toks) -> bool {
    let Some(cow) = after.first() else { return false };
    let between = text.get(rest.span_to(after).end as usize..cow.span.start as usize).unwrap_or_default();
    [" is the ", " is this "].iter().any(|is| between.eq_ignore_ascii_case(is))
}

/// "that two ninety cow, …"
pub(super) fn is_this_cow(text: &str, rest: Toks, after: Toks) -> bool {
    let paused = after.skip(1).0.is_empty() || after.skip(1).gap() > Gap::Space;
    let cue = after.meaning() == Some(Meaning::CowCue) && after.gap() <= Gap::Space && paused;
    let before = text.get(..rest.first().map_or(0, |t| t.span.start as usize)).unwrap_or_default();
    cue && ["that ", "the ", "old "].iter().any(|w| words::ends_with(before, w))
}

/// How people name her by her number at last.
const IS_SHE: [&str; 15] = [
    "in is",
    "here is",
    "got is",
    "that was",
    "that one was",
    "this was",
    "that is",
    "number's",
    "number is",
    "it was",
    "this'd be",
    "that'd be",
    "this would be",
    "that would be",
    "this one would be",
];

/// Words that a cow's number follows in the midst of a sentence.
const TOLD: [&str; 41] = [
    "sent", "want", "let", "leave", "keep", "send", "told", "recheck", "trimmed", "blocked", "wrapped", "treated",
    "lanced", "saw", "remember", "here's", "by", "trim", "off", "get", "reckons", "at", "on", "for", "of", "with",
    "about", "put", "did", "done", "gave", "block", "that's", "so", "had", "got", "there's", "to", "seeing", "bring",
    "brought",
];
/// Words that lead on to what is said of her.
const TOLD_OF: [&str; 12] =
    ["says", "said", "me", "him", "thinks", "mentioned", "nowadays", "that", "see", "whether", "like", "noticed"];

/// Whether such a word stands right before, and she does something behind it: "your son told me 77 was limping".
pub(super) fn is_told_of(text: &str, rest: Toks, after: Toks) -> bool {
    let before = before(text, rest);
    let word = before.rsplit(char::is_whitespace).next().unwrap_or_default();
    is_subject(text, rest, after) && (is_told(text, rest) || TOLD_OF.iter().any(|w| word.eq_ignore_ascii_case(w)))
}

fn before<'a>(text: &'a str, rest: Toks) -> &'a str {
    let start = rest.first().map_or(0, |t| t.span.start as usize);
    text.get(..start).unwrap_or_default().trim_end()
}

/// Whether a word that her number follows stands right before.
pub(super) fn is_told(text: &str, rest: Toks) -> bool {
    // "here's old nine eleven again"
    let before = before(text, rest);
    let before = before.strip_suffix(" old").unwrap_or(before);
    let word = before.rsplit(char::is_whitespace).next().unwrap_or_default();
    // "the lady in front of me is four eighty"
    if word.eq_ignore_ascii_case("is") {
        let sentence = before.rsplit(['.', ',', ';', '!', '?']).next().unwrap_or_default().to_lowercase();
        let she = |w: &str| ["gal", "lady", "girl", "one", "heifer", "cow", "animal", "she"].contains(&w);
        if sentence.split_whitespace().any(she) {
            return true;
        }
    }
    TOLD.iter().any(|w| word.eq_ignore_ascii_case(w)) || IS_SHE.iter().any(|w| words::ends_with(before, w))
}

/// "this old gal's number 1360"
pub(super) fn is_hers(text: &str, rest: Toks) -> bool {
    let start = rest.first().map_or(0, |t| t.span.start as usize);
    text.get(..start).is_some_and(|before| before.trim_end().ends_with("'s"))
}
