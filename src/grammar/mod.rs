//! From matches to phrases: nom parsers over the matches of a note.
//!
//! The language is written out for people in `grammar/*.md`. nom's types stay in this folder.

mod action;
mod item;
mod measure;
mod number;
mod place;
mod time;
mod toks;

pub use item::{ClawWord, Deed, Item, Named, Phrase, Place, Tag, When, Where};

use crate::matches::Tok;
use crate::vocab::{Atom, Device, Meaning, Vocabulary};
use crate::words::{Gap, Span};
use toks::{Res, Toks};

/// Reads the matches of a note as phrases. Every match ends in a phrase or is a filler.
pub fn phrases(text: &str, toks: &[Tok], vocab: &Vocabulary) -> Vec<Item> {
    let toks = without_fillers(toks);
    let mut rest = Toks(&toks);
    let mut items: Vec<Item> = Vec::new();
    let mut and = false;
    while let Some(first) = rest.first() {
        let at_start = items.iter().all(|i| matches!(i.is, Phrase::Unread | Phrase::Aside));
        let gap = first.gap;
        let (after, is) = match phrase(text, vocab, rest, at_start) {
            Ok(read) => read,
            Err(_) => {
                // A word that no phrase covers.
                let skipped = rest.skip(1);
                if first.meaning == Some(Meaning::And) {
                    and = true;
                    rest = skipped;
                    continue;
                }
                if let Some(is) = alone(vocab, first) {
                    items.push(Item { is, span: first.span, gap, and });
                    and = false;
                }
                rest = skipped;
                continue;
            }
        };
        debug_assert!(after.0.len() < rest.0.len(), "a phrase covers at least one match");
        let span = rest.span_to(after);
        if let Phrase::Finding(_) = is
            && let Some(zone) = bare_zone(after)
        {
            items.push(Item { is, span, gap, and });
            items.push(Item { is: Phrase::Zones(vec![zone]), span: after.0[0].span, gap: Gap::Space, and: false });
            rest = after.skip(1);
        } else {
            items.push(Item { is, span, gap, and });
            rest = after;
        }
        and = false;
    }
    items
}

fn without_fillers(toks: &[Tok]) -> Vec<Tok> {
    let mut out: Vec<Tok> = Vec::with_capacity(toks.len());
    let mut gap = Gap::Glue;
    for tok in toks {
        if tok.meaning == Some(Meaning::Filler) {
            gap = gap.max(tok.gap);
        } else {
            out.push(Tok { gap: gap.max(tok.gap), ..tok.clone() });
            gap = Gap::Glue;
        }
    }
    out
}

/// "ulcer four": a bare number right after a finding is its zone.
fn bare_zone(rest: Toks) -> Option<u8> {
    if rest.gap() > Gap::Space {
        return None;
    }
    let n = match rest.meaning()? {
        Meaning::Number(Atom::Unit(n) | Atom::Teen(n)) => n,
        Meaning::Number(Atom::Digits { value, len: 1 | 2 }) => u8::try_from(value).ok()?,
        _ => return None,
    };
    let counts = matches!(
        rest.nth(1),
        Some(Meaning::Unit(_) | Meaning::Period(_) | Meaning::OutOf | Meaning::Number(_) | Meaning::MonthName(_))
    );
    (n <= crate::anatomy::LAST_ZONE && !counts).then_some(n)
}

fn phrase<'a>(text: &str, vocab: &Vocabulary, input: Toks<'a>, at_start: bool) -> Res<'a, Phrase> {
    cow(text, input, at_start)
        .or_else(|_| remark(text, input))
        .or_else(|_| measure::zones(input))
        .or_else(|_| measure::stage(input))
        .or_else(|_| measure::score(input))
        .or_else(|_| measure::measure(input))
        .or_else(|_| due(input))
        .or_else(|_| off_at(input))
        .or_else(|_| measure::grade(input))
        .or_else(|_| action::action(text, vocab, input))
        .or_else(|_| finding(input))
        .or_else(|_| place::place(input).map(|(r, p)| (r, Phrase::Place(p))))
        .or_else(|_| past_or_time(input))
}

/// A cow: after a cue, after "next", or a bare number at the very start.
fn cow<'a>(text: &str, input: Toks<'a>, at_start: bool) -> Res<'a, Phrase> {
    let mut rest = input;
    let mut cued = false;
    let mut next = false;
    loop {
        match rest.meaning() {
            Some(Meaning::CowCue) => cued = true,
            Some(Meaning::NextCue) => next = true,
            Some(Meaning::NumberCue) if cued || next || at_start => cued = true,
            _ => break,
        }
        rest = rest.skip(1);
        if rest.0.is_empty() {
            return input.fail();
        }
    }
    let (after, (number, others)) = lettered_tag(text, rest).or_else(|_| number::tag(rest))?;
    let counts = matches!(
        after.meaning(),
        Some(Meaning::Period(_) | Meaning::Unit(_) | Meaning::OutOf | Meaning::MonthName(_))
    ) && after.gap() <= Gap::Space;
    if counts || !(cued || ((next || at_start) && rest.gap() >= Gap::Glue)) {
        return input.fail();
    }
    Ok((after, Phrase::Cow(Tag { text: number, others })))
}

/// A tag with letters, as written: `A123`, `12B`.
fn lettered_tag<'a>(text: &str, input: Toks<'a>) -> Res<'a, (String, Vec<String>)> {
    let mut used = 0;
    let (mut letters, mut digits) = (false, false);
    while let Some(tok) = input.0.get(used) {
        if used > 0 && (tok.gap > Gap::Glue || input.0[used - 1].span.end != tok.span.start) {
            break;
        }
        let word = tok.span.of(text);
        match tok.meaning {
            Some(Meaning::Number(Atom::Digits { .. })) => digits = true,
            _ if word.len() <= 3 && word.bytes().all(|b| b.is_ascii_alphabetic()) => letters = true,
            _ => break,
        }
        used += 1;
    }
    if !(letters && digits) {
        return input.fail();
    }
    let rest = input.skip(used);
    Ok((rest, (input.span_to(rest).of(text).to_uppercase(), vec![])))
}

/// "note …": the words to the end of the sentence, or to the next cow.
fn remark<'a>(text: &str, input: Toks<'a>) -> Res<'a, Phrase> {
    let cue = match input.meaning() {
        Some(Meaning::RemarkCue) => false,
        Some(Meaning::TellCue) => true,
        _ => return input.fail(),
    };
    let mut rest = input.skip(1);
    while rest.first().is_some_and(|t| t.gap < Gap::Stop) {
        let new_cow = rest.meaning() == Some(Meaning::CowCue) && number::tag(rest.skip(1)).is_ok();
        if new_cow || (rest.meaning() == Some(Meaning::NextCue) && cow(text, rest, false).is_ok()) {
            break;
        }
        rest = rest.skip(1);
    }
    let whole = input.span_to(rest);
    let end = rest.first().map_or(text.len(), |t| t.span.start as usize);
    let start = if cue { whole.start } else { input.0[0].span.end };
    let words = text[start as usize..end].trim_matches(|c: char| c.is_whitespace() || ".,;:-".contains(c));
    let from = start as usize + text[start as usize..end].find(words).unwrap_or(0);
    Ok((rest, Phrase::Remark(Span::new(from, from + words.len()))))
}

/// "recheck in four weeks", "in four weeks recheck".
fn due(input: Toks) -> Res<Phrase> {
    use crate::entry::DueWhat::Recheck;
    if input.meaning() == Some(Meaning::Recheck) {
        let mut rest = input.skip(1);
        while rest.meaning() == Some(Meaning::Recheck) && rest.gap() <= Gap::Space {
            rest = rest.skip(1);
        }
        if rest.gap() <= Gap::Comma
            && let Ok((after, Some(when))) = time::time(rest)
        {
            return Ok((after, Phrase::Due { what: Recheck, when }));
        }
        return Ok((rest, Phrase::Due { what: Recheck, when: When::Open }));
    }
    let (rest, Some(when)) = time::time(input)? else { return input.fail() };
    if rest.meaning() == Some(Meaning::Recheck) && rest.gap() <= Gap::Comma {
        return Ok((rest.skip(1), Phrase::Due { what: Recheck, when }));
    }
    input.fail()
}

/// "take it off in five days", "off Monday".
fn off_at(input: Toks) -> Res<Phrase> {
    let mut rest = input;
    while matches!(rest.meaning(), Some(Meaning::Remove | Meaning::Off)) && (rest == input || rest.gap() <= Gap::Space) {
        rest = rest.skip(1);
    }
    if rest == input || rest.gap() > Gap::Space {
        return input.fail();
    }
    match time::time(rest)? {
        (after, Some(when)) if when != When::Days(0) => Ok((after, Phrase::OffAt(when))),
        _ => input.fail(),
    }
}

fn past_or_time(input: Toks) -> Res<Phrase> {
    let (rest, when) = time::time(input)?;
    Ok((rest, when.map_or(Phrase::Past, Phrase::Time)))
}

fn finding(input: Toks) -> Res<Phrase> {
    match input.meaning() {
        Some(Meaning::Disorder(d)) => Ok((input.skip(1), Phrase::Finding(Named::Disorder(d)))),
        Some(Meaning::Vague(v)) => Ok((input.skip(1), Phrase::Finding(Named::Vague(v)))),
        _ => input.fail(),
    }
}

/// A single match that is a phrase by itself; `None` for one that means nothing alone.
fn alone(vocab: &Vocabulary, tok: &Tok) -> Option<Phrase> {
    Some(match tok.meaning {
        None => Phrase::Unread,
        Some(Meaning::Course(c)) => Phrase::Course(c),
        Some(Meaning::Clear) => Phrase::Clear,
        Some(Meaning::ClearAll) => Phrase::ClearAll,
        Some(Meaning::Otherwise) => Phrase::Otherwise,
        Some(Meaning::Except) => Phrase::Except,
        Some(Meaning::Not) => Phrase::Not,
        Some(Meaning::Only) => Phrase::Only,
        Some(Meaning::Hedge) => Phrase::Hedge,
        Some(Meaning::Drop) => Phrase::Drop,
        Some(Meaning::Change) => Phrase::Change,
        Some(Meaning::Same) => Phrase::Same,
        Some(Meaning::Sign(s)) => Phrase::Sign(s),
        Some(Meaning::Part(p)) => Phrase::Part(p),
        Some(Meaning::Afterwards) => Phrase::Afterwards,
        Some(Meaning::Aside) => Phrase::Aside,
        Some(Meaning::Material(m)) => Phrase::Material(vocab.name(m).to_owned()),
        Some(Meaning::Agent(a)) => Phrase::Agent(vocab.name(a).to_owned()),
        Some(Meaning::Stays) => Phrase::Stays(Device::Block),
        Some(Meaning::Number(Atom::Unit(n) | Atom::Teen(n) | Atom::Tens(n))) => Phrase::Number(u64::from(n)),
        Some(Meaning::Number(Atom::Digits { value, .. })) => Phrase::Number(value),
        _ => return None,
    })
}

pub(crate) use measure::convert;
pub(crate) use place::both;
