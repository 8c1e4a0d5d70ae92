//! Edges for what is written word for word, and for words nobody knows.

use super::everyday::is_everyday;
use super::{Edge, How, Tok};
use crate::vocab::{Form, Kind, Meaning, Style, Unit, Vocabulary};
use crate::words::said::{TENS, UNITS};
use crate::words::{self, Gap, Word};

/// Every term costs a little, so that the longest form wins over its parts.
pub(super) const TERM: u32 = 9;
/// A shorthand form yields to a spoken one.
const WRITTEN: u32 = 3;
/// A listed mishearing yields to what was said plainly.
const HEARD: u32 = 15;
/// An everyday word.
const FILLER: u32 = 5;
/// A form that counts only after certain words, where it stands after one.
const PLACED: u32 = 2;
/// A comma, or the end of a sentence, within a term.
const COMMA_INSIDE: u32 = 30;
const STOP_INSIDE: u32 = 45;
/// Reading "soles" for "sole's".
const JOINED: u32 = 6;
/// A word left unread.
const UNREAD: u32 = 200;

/// Adds the exact edges between word positions.
pub(super) fn edges(words: &[Word], vocab: &Vocabulary, edges: &mut Vec<Edge>) {
    let shorthand: Vec<bool> = words.iter().map(|w| is_shorthand(&w.text, vocab)).collect();
    for i in 0..words.len() {
        walk(words, i, i, 0, 0, vocab, &shorthand, edges);
        if let Some(atom) = words::atom(&words[i].text) {
            let tok = Tok {
                meaning: Some(Meaning::Number(atom)),
                span: words[i].span,
                gap: words[i].gap,
                how: How::Exact(Style::Spoken),
                form: None,
            };
            edges.push(Edge { from: i as u16, to: i as u16 + 1, cost: TERM, after: 0, kind: Kind::Number, tok });
        } else {
            // Asked last: most words are forms, and this is gone through for each word of each note.
            if !vocab.is_form(&words[i].text) && is_everyday(&words[i].text) {
                edges.push(everyday(&words[i], i));
            }
            let tok = Tok { meaning: None, span: words[i].span, gap: words[i].gap, how: How::Unread, form: None };
            edges.push(Edge { from: i as u16, to: i as u16 + 1, cost: UNREAD, after: 0, kind: Kind::Unread, tok });
        }
    }
}

/// Whether the word is a part of a number.
fn is_number(word: &str) -> bool {
    let word = word.strip_suffix("'s").unwrap_or(word);
    UNITS.contains(&word) || TENS.contains(&word) || ["hundred", "thousand"].contains(&word)
}

/// A common word of English that sounds like no term.
fn everyday(word: &Word, at: usize) -> Edge {
    let how = How::Exact(Style::Spoken);
    let tok = Tok { meaning: Some(Meaning::Filler), span: word.span, gap: word.gap, how, form: None };
    Edge { from: at as u16, to: at as u16 + 1, cost: FILLER, after: 0, kind: Kind::Filler, tok }
}

/// Whether the word is a written form and no spoken one: what marks a scribbled note.
fn is_shorthand(word: &str, vocab: &Vocabulary) -> bool {
    let Some(node) = vocab.word(word).and_then(|w| vocab.step(0, w)) else {
        return false;
    };
    let mut forms = vocab.spelt(node).peekable();
    forms.peek().is_some() && forms.all(|(_, f)| f.style == Style::Written)
}

#[allow(clippy::too_many_arguments)] // a recursion over the index; a struct would only rename them
fn walk(
    words: &[Word],
    start: usize,
    at: usize,
    node: u32,
    inside: u32,
    vocab: &Vocabulary,
    shorthand: &[bool],
    edges: &mut Vec<Edge>,
) {
    let Some(word) = words.get(at) else { return };
    let inside = inside
        + if at == start {
            0
        } else {
            match word.gap {
                Gap::Glue | Gap::Space => 0,
                Gap::Comma => COMMA_INSIDE,
                Gap::Stop => STOP_INSIDE,
            }
        };
    let mut go = |text: &str, cost: u32| {
        let Some(next) = vocab.word(text).and_then(|w| vocab.step(node, w)) else {
            return;
        };
        for (id, form) in vocab.spelt(next) {
            if counts(form, words, start, at, shorthand) {
                edges.push(edge(words, start, at, id, form, inside + cost));
            }
        }
        walk(words, start, at + 1, next, inside + cost, vocab, shorthand, edges);
    };
    go(&word.text, 0);
    if let Some(base) = word.text.strip_suffix("'s") {
        go(base, 0);
        go(&format!("{base}s"), JOINED);
    }
}

/// Whether the form counts here.
fn counts(form: &Form, words: &[Word], start: usize, end: usize, shorthand: &[bool]) -> bool {
    if form.capitals && !words[start..=end].iter().all(|w| w.capitals) {
        return false;
    }
    // "nine oh one here": the number is not over.
    let number = |i: usize| is_number(&words[i].text) || words::atom(&words[i].text).is_some();
    if form.meaning == Meaning::Filler
        && start > 0
        && words[start].gap <= Gap::Space
        && is_number(&words[start].text)
        && number(start - 1)
    {
        return false;
    }
    // `3in`, but not "four nineteen in the chute".
    if form.meaning == Meaning::Unit(Unit::Inch) && form.after != 0 {
        return words[start].gap == Gap::Glue;
    }
    // A question mark is a hedge in a scribbled note only: recognisers put one where a voice rises.
    if form.text != "?" {
        return true;
    }
    let near = |i: Option<usize>| i.and_then(|i| shorthand.get(i)).is_some_and(|s| *s);
    near(start.checked_sub(1)) || (near(Some(end + 1)) && words[end + 1].gap < Gap::Comma)
}

fn edge(words: &[Word], start: usize, end: usize, id: u32, form: &Form, inside: u32) -> Edge {
    let kind = form.meaning.kind();
    let cost = match (kind, form.style) {
        // "outer toe ulcer": the toe is the ulcer's.
        (Kind::Disorder, Style::Spoken) => TERM - 1,
        _ if form.after != 0 || form.capitals => PLACED,
        (Kind::Filler, _) => FILLER,
        (_, Style::Spoken) => TERM,
        (_, Style::Written) => TERM + WRITTEN,
        (_, Style::Heard) => TERM + HEARD,
    };
    Edge {
        from: start as u16,
        to: end as u16 + 1,
        cost: cost + inside,
        after: form.after,
        kind,
        tok: Tok {
            meaning: Some(form.meaning),
            span: words[start].span.to(words[end].span),
            gap: words[start].gap,
            how: How::Exact(form.style),
            form: Some(id),
        },
    }
}
