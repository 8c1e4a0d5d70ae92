//! Withdrawal times: kept in the words they were said in, and never computed.

use super::item::Phrase;
use super::toks::{Res, Toks};
use crate::matches::Tok;
use crate::vocab::Meaning;
use crate::words::Span;

const OF: [&str; 6] = ["milk", "meat", "withdrawal", "withdraw", "withhold", "withholding"];
/// "keep milk back for three days", "milk withdrawal till Friday"
const BETWEEN: [&str; 15] =
    ["period", "time", "of", "is", "for", "and", "hold", "keep", "held", "back", "out", "down", "off", "till", "until"];
const UNITS: [&str; 12] =
    ["h", "hr", "hrs", "hour", "hours", "d", "day", "days", "week", "weeks", "milking", "milkings"];

/// "milk 72h", "meat withdrawal twenty eight days", "five days milk withhold", "milk withdrawal till Friday"
pub(super) fn withdrawal<'a>(text: &str, input: Toks<'a>) -> Res<'a, Phrase> {
    // A recogniser's "milk" before a number may be near "cow".
    let cue = input.meaning() == Some(Meaning::CowCue) && input.first().is_some_and(|t| is_in(text, t.span, &OF));
    let input = if cue { input.skip(1) } else { input };
    let day = matches!(input.meaning(), Some(Meaning::Weekday(_)));
    if !(day || matches!(input.meaning(), Some(Meaning::Number(_)))) {
        return input.fail();
    }
    let number = |t: &&Tok| matches!(t.meaning, Some(Meaning::Number(_) | Meaning::And));
    let figures = if day { 1 } else { input.0.iter().take(MOST).take_while(number).count() };
    let span = input.span_to(input.skip(figures));
    let unit = first_word(text, span.end).filter(|w| is_in(text, *w, &UNITS)).map(|w| w.end);
    let Some(end) = unit.or(day.then_some(span.end)) else { return input.fail() };
    let (mut start, mut end) = (span.start, end);
    let mut said = false;
    while let Some(word) = last_word(text, start).filter(|w| is_in(text, *w, &OF) || is_in(text, *w, &BETWEEN)) {
        said |= is_in(text, word, &OF);
        start = word.start;
    }
    while let Some(word) = first_word(text, end).filter(|w| is_in(text, *w, &OF) || said && is_in(text, *w, &BETWEEN)) {
        said = true;
        end = word.end;
    }
    if !said {
        return input.fail();
    }
    let used = input.0.iter().take_while(|t| t.span.start < end).count();
    Ok((input.skip(used), Phrase::Remark(Span { start, end })))
}

/// No number has more words.
const MOST: usize = 8;

fn is_in(text: &str, word: Span, all: &[&str]) -> bool {
    all.iter().any(|w| word.of(text).eq_ignore_ascii_case(w))
}

/// The word that begins at a place, behind a space or none.
fn first_word(text: &str, at: u32) -> Option<Span> {
    let rest = text.get(at as usize..)?;
    let begins = rest.len() - rest.trim_start_matches(' ').len();
    let word = rest[begins..].find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len() - begins);
    (word > 0).then(|| Span::new(at as usize + begins, at as usize + begins + word))
}

/// The word that ends at a place, before a space or a colon.
fn last_word(text: &str, at: u32) -> Option<Span> {
    let said = text.get(..at as usize)?.trim_end_matches([' ', ':', '=']);
    let word = said.len() - said.trim_end_matches(char::is_alphabetic).len();
    (word > 0).then(|| Span::new(said.len() - word, said.len()))
}
