//! Which cow is spoken of.
//!
//! ```ebnf
//! cow = ( cow cue | "next" | "number" ) , { cow cue | "next" | "number" } , tag | tag ;
//! ```
//!
//! A tag without a cue counts only where a note or a sentence begins.

use super::SoFar;
use super::item::{Item, Phrase, Place, Tag, Where};
use super::toks::{self, Res, Toks};
use super::told::{is_hers, is_subject, is_the_cow, is_this_cow, is_told, is_told_of};
use super::{number, time};
use crate::anatomy::Side;
use crate::matches::{HEARD_AS_CUE, How, Tok};
use crate::vocab::{Atom, Meaning, Style};
use crate::words::{self, Gap, Span};

/// Nobody says more cues than these before a number.
const CUES: usize = 8;

/// A cow: after a cue, after "next", or a bare number at the very start.
pub(super) fn cow<'a>(text: &str, input: Toks<'a>, so_far: SoFar) -> Res<'a, Phrase> {
    let mut rest = input;
    let mut cued = false;
    let mut next = false;
    loop {
        match rest.meaning() {
            Some(Meaning::CowCue) => cued = true,
            Some(Meaning::NextCue) => next = true,
            Some(Meaning::NumberCue)
                if cued
                    || next
                    || so_far.start
                    || (!so_far.cow && so_far.gap > Gap::Space)
                    // "Number 55. No lesions. Number 56. …", but not "Number 2 on the right".
                    || (so_far.gap > Gap::Space
                        && number::tag(rest.skip(1)).is_ok_and(|(after, (n, _))| {
                            let said = is_place(after)
                                || matches!(
                                    after.meaning(),
                                    Some(
                                        Meaning::Clear
                                            | Meaning::ClearAll
                                            | Meaning::Not
                                            | Meaning::Disorder(_)
                                            | Meaning::Scale(_)
                                            | Meaning::ScoreCue
                                            | Meaning::Trim
                                            | Meaning::Device(_)
                                    )
                                );
                            n.len() >= 2 && (after.gap() > Gap::Space || said)
                        })) =>
            {
                cued = true;
            }
            // "corkscrew right hind outer number four fifty six"
            Some(Meaning::NumberCue)
                if !so_far.cow && number::tag(rest.skip(1)).is_ok_and(|(_, (n, _))| n.len() >= 3) =>
            {
                cued = true;
            }
            // "pared number seventeen left hind wart", with no comma said
            Some(Meaning::NumberCue) if so_far.cow && is_next_cow(text, rest) => cued = true,
            // "that's number 903", "wrap off on Monday for number 31"
            Some(Meaning::NumberCue)
                if !so_far.cow
                    && (is_told(text, rest) || is_hers(text, rest))
                    && number::tag(rest.skip(1)).is_ok_and(|(_, (n, _))| n.len() >= 2) =>
            {
                cued = true;
            }
            // "first 120, clean"
            Some(Meaning::Ordinal(1)) if so_far.start && is_listed_number(rest.skip(1)) => next = true,
            // "No. 63"
            Some(Meaning::Not)
                if so_far.start
                    && matches!(rest.nth(1), Some(Meaning::Number(_)))
                    && rest.first().is_some_and(|t| t.span.of(text).eq_ignore_ascii_case("no")) =>
            {
                cued = true;
            }
            // `no. 7 LHO SU / no. 9 RH M2`
            Some(Meaning::Not) if so_far.gap > Gap::Space && is_number_sign(text, rest) => cued = true,
            // "recheck 645, …": why she is here. Only where nothing else is said in the same breath.
            Some(Meaning::Recheck | Meaning::Look)
                if so_far.start && (is_listed_number(rest.skip(1)) || is_short_sentence(rest.skip(1)))
                    // "recheck 874. clean. recheck 875. right hind …": the next one.
                    || so_far.gap == Gap::Stop && is_whole_tag(rest.skip(1)) =>
            {
                cued = true;
            }
            Some(Meaning::Recheck | Meaning::Look)
                if so_far.start && rest.nth(1) == Some(Meaning::In) && is_listed_number(rest.skip(2)) =>
            {
                cued = true;
                rest = rest.skip(1);
            }
            _ => break,
        }
        rest = rest.skip(1);
        if rest.0.is_empty() || input.0.len() - rest.0.len() > CUES {
            return input.fail();
        }
    }
    // Asked of every phrase: most begin with no number and no letter glued to one.
    let glued = rest.0.get(1).is_some_and(|t| t.gap == Gap::Glue);
    if !(next || glued || matches!(rest.meaning(), Some(Meaning::Number(_)))) {
        return input.fail();
    }
    named(text, input, rest, so_far, cued, next).or_else(|_| another(text, input, rest, so_far, next))
}

/// Whether "number" with a tag of two figures or more is the next cow in a breath without commas: a foot or a verdict comes
/// right behind it, and what stands before has no numbers of its own.
fn is_next_cow(text: &str, rest: Toks) -> bool {
    const NUMBERED: [&str; 12] =
        ["pen", "stall", "group", "lot", "lactation", "parity", "calf", "row", "farm", "phone", "zone", "pasture"];
    let Some(cue) = rest.first().filter(|t| words::ends_with(t.span.of(text), "number")) else { return false };
    let word = words::word_before(text, cue.span.start as usize);
    !NUMBERED.contains(&word.as_str())
        && number::tag(rest.skip(1)).is_ok_and(|(after, (n, _))| {
            let said = is_place(after) || matches!(after.meaning(), Some(Meaning::Clear | Meaning::ClearAll));
            n.len() >= 2 && said && after.gap() <= Gap::Comma
        })
}

/// `no. 9` with figures, and something said of her right behind.
fn is_number_sign(text: &str, rest: Toks) -> bool {
    let (Some(no), Some(number)) = (rest.first(), rest.0.get(1)) else { return false };
    let dot = text.get(no.span.end as usize..number.span.start as usize) == Some(". ");
    let figures = matches!(number.meaning, Some(Meaning::Number(Atom::Digits { .. })));
    let behind = rest.skip(2);
    let said = is_place(behind)
        || matches!(behind.meaning(), Some(Meaning::Clear | Meaning::ClearAll | Meaning::Disorder(_) | Meaning::Trim));
    no.span.of(text).eq_ignore_ascii_case("no") && dot && figures && said && behind.gap() <= Gap::Comma
}

/// Words before a number that is another animal's, or no animal's.
const NOT_HERS: [&str; 41] = [
    "almost",
    "nearly",
    "stands with",
    "runs with",
    "temp",
    "temp of",
    "temp was",
    "temperature",
    "temperature of",
    "temperature was",
    "weight",
    "weighs",
    "weighs about",
    "weighed",
    "parity",
    "lactation",
    "lact",
    "calved",
    "born",
    "worth",
    "pen",
    "daughter of",
    "daughter to",
    "dam of",
    "dam to",
    "mother of",
    "mother to",
    "calf of",
    "sister of",
    "sister to",
    "half sister of",
    "half sister to",
    "bred from",
    "came in with",
    "in with",
    "bought with",
    "next to",
    "beside",
    "same pen as",
    "same group as",
    "stood with",
];

/// "cow 145, daughter of 144", "temp of one oh four": a number that is another animal's, or no animal's.
pub(super) fn not_hers<'a>(text: &str, input: Toks<'a>) -> Res<'a, Phrase> {
    let mut rest = input;
    while matches!(rest.meaning(), Some(Meaning::CowCue | Meaning::NumberCue)) {
        rest = rest.skip(1);
    }
    if !matches!(rest.meaning(), Some(Meaning::Number(_))) {
        return input.fail();
    }
    let before = text.get(..input.first().map_or(0, |t| t.span.start as usize)).unwrap_or_default().trim_end();
    // Asked of each number, of which most follow none of these: by its last two letters first.
    let end = before.as_bytes().last_chunk::<2>().map(|end| end.map(|c| c.to_ascii_lowercase()));
    let known = |end: [u8; 2]| NOT_HERS.iter().any(|w| w.as_bytes().last_chunk() == Some(&end));
    if !end.is_some_and(known) {
        return input.fail();
    }
    let behind = |said: &str| {
        words::ends_with(before, said) && !before[..before.len() - said.len()].ends_with(char::is_alphanumeric)
    };
    // "keep her in the straw pen cow 206": a pen has no cow's number.
    let counted = |w: &&str| {
        ["temp", "weig", "lact", "pari", "calved", "born", "worth", "pen"].iter().any(|begins| w.starts_with(begins))
    };
    let cow = input.meaning() == Some(Meaning::CowCue);
    if !NOT_HERS.iter().filter(|w| !(cow && counted(w))).any(|w| behind(w)) {
        return input.fail();
    }
    let (after, _) = number::tag(rest)?;
    Ok((after, Phrase::Aside))
}

/// "1463 clean. This next one, no tag, …": a cow whose number is not said.
fn another<'a>(text: &str, input: Toks<'a>, rest: Toks<'a>, so_far: SoFar, next: bool) -> Res<'a, Phrase> {
    const NEXT: [&str; 4] = ["next one", "next cow", "next heifer", "next animal"];
    if next && so_far.cow && so_far.gap > Gap::Space && rest.gap() > Gap::Glue {
        let said = input.span_to(rest).of(text).to_lowercase();
        if NEXT.iter().any(|w| said.starts_with(w)) {
            return Ok((rest, Phrase::Another));
        }
    }
    input.fail()
}

/// The cow's number behind her cues.
fn named<'a>(text: &str, input: Toks<'a>, rest: Toks<'a>, so_far: SoFar, cued: bool, next: bool) -> Res<'a, Phrase> {
    // "he asked for nine ninety nine": no part of the number, where that is long enough without it.
    let for_her = !(cued || next)
        && matches!(rest.0, [Tok { how: How::Near { known: true, .. }, .. }, after, ..] if after.gap == Gap::Space)
        && rest.first().is_some_and(|t| t.span.of(text).eq_ignore_ascii_case("for"))
        && number::tag(rest.skip(1)).is_ok_and(|(_, (number, _))| number.len() >= 3);
    let rest = if for_her { rest.skip(1) } else { rest };
    // `cow A27`, and `A27` at the start of a scribbled line; "K930" is how a recogniser writes "cow 930".
    let (lettered, rest) = if is_letter_of_tag(text, input, rest) {
        (lettered_tag(text, input), input)
    } else if rest == input || matches!(input.meaning(), Some(Meaning::CowCue)) {
        (lettered_tag(text, rest), rest)
    } else {
        (input.fail(), rest)
    };
    let as_written = lettered.is_ok();
    // "fresh heifer, fourteen days in milk"
    if !as_written && rest != input && rest.gap() > Gap::Space && super::in_milk(text, rest).is_ok() {
        return input.fail();
    }
    let (after, (number, mut others)) = lettered.or_else(|_| number::tag_of_cow(text, rest))?;
    // "four eighty one two weeks back she was lame": the last of them counts the weeks.
    let used = rest.0.len() - after.0.len();
    let period = match after.meaning() {
        Some(Meaning::Period(_)) => true,
        Some(Meaning::Ago) => after.first().is_some_and(|t| {
            ["week", "day", "month"].iter().any(|unit| t.span.of(text).to_lowercase().starts_with(unit))
        }),
        _ => false,
    };
    let counted = match after.meaning() {
        Some(_) if period && used > 1 && after.gap() <= Gap::Space && !as_written => {
            number::tag_of_cow(text, Toks(&rest.0[..used - 1])).ok()
        }
        _ => None,
    };
    let (after, number) = match counted {
        Some((left, (short, _))) if left.0.is_empty() && short.len() >= 2 => (rest.skip(used - 1), short),
        _ => (after, number),
    };
    // "next, once 448", "next one's for 48": whether a word that was heard as a digit belongs to it is asked.
    let without = if next && !as_written { without_first(rest, after) } else { None };
    let doubted = without.is_some();
    let number = match without {
        Some(short) if short.len() >= 3 => {
            others.insert(0, number);
            short
        }
        Some(short) => {
            others.push(short);
            number
        }
        None => number,
    };
    // "733's left back"
    let whose = after.first().is_some_and(|t| t.gap == Gap::Glue && t.meaning.is_none() && t.span.of(text) == "s");
    let after = if whose { after.skip(1) } else { after };
    let counts = match after.meaning() {
        Some(Meaning::Period(_) | Meaning::Unit(_) | Meaning::MonthName(_)) => after.gap() <= Gap::Space,
        // "cow 518 out of pen 4"
        Some(Meaning::OutOf) => after.gap() <= Gap::Space && !(cued && number.len() >= 2),
        _ => false,
    };
    // A lone digit is a cow only where shorthand or a phrase of the trade follows (`9 rc 10d`).
    let said = &rest.0[..rest.0.len() - after.0.len()];
    let letter = |t: &Tok| (as_written || whose) && t.span.end - t.span.start == 1;
    let heard = !doubted && said.iter().any(|t| !toks::exact(t) && !letter(t));
    // "tag's too dirty to read"
    let everyday =
        matches!(said, [Tok { how: How::Near { known: true, .. }, meaning: Some(Meaning::Number(Atom::Unit(_))), .. }]);
    let digit = matches!(rest.meaning(), Some(Meaning::Number(Atom::Digits { .. })))
        // `7 / ls2 / trim`
        && (after.gap() <= Gap::Space || text.get(rest.span_to(after).end as usize..).is_some_and(|t| t.starts_with(" / ")))
        && (after.first().is_some_and(|t| t.how == How::Exact(Style::Written))
            || matches!(after.meaning(), Some(Meaning::Scale(_)))
            || matches!(after.meaning(), Some(Meaning::Clear | Meaning::ClearAll)) && after.skip(1).gap() > Gap::Space);
    let several = (rest.0.len() - after.0.len() > 1 || number.len() > 1 || digit) && !heard;
    // "eleven oh four" after a comma, or a later "six eighty one" at the start of a sentence.
    let sentence = so_far.gap > Gap::Space
        && (so_far.led || !so_far.start)
        && number.len() >= 3
        && (!so_far.cow || after.gap() > Gap::Space || is_place(after));
    // "90 km to the next farm": what a number counts is not always a word we know.
    let end = rest.span_to(after).end;
    let of_something =
        after.gap() <= Gap::Space && after.first().is_some_and(|t| t.meaning.is_none() && t.span.start <= end + 1);
    // "Rain's coming. 91 clean, 92 clean": of two figures, with a verdict right behind.
    let verdict = number.len() == 2
        && so_far.gap == Gap::Stop
        && !so_far.cow
        && after.gap() <= Gap::Comma
        && matches!(after.meaning(), Some(Meaning::Clear | Meaning::ClearAll));
    let sentence = sentence || verdict;
    // "forty two cows done"
    let cows = after.gap() <= Gap::Space && after.first().is_some_and(|t| t.span.of(text).eq_ignore_ascii_case("cows"));
    let start = so_far.start && so_far.led && !of_something && !cows;
    let listed = so_far.after_cow && so_far.and && number.len() >= 2 && after.gap() > Gap::Space;
    // "26 foul right hind, temp 40.1"
    let decimal = matches!(rest.meaning(), Some(Meaning::Number(Atom::Decimal { .. }))) && !cued && so_far.cow;
    // "a double sole on seven thirty nine", "that's four fifty"
    let told_of = !so_far.cow && number.len() >= 2 && is_told_of(text, rest, after);
    let told = !so_far.cow
        && ((3..=LONGEST_TOLD).contains(&number.len())
            // "your son told me 77 was limping"
            || number.len() == 2 && told_of)
        && !heard
        && (!of_something || told_of)
        && (after.meaning() != Some(Meaning::CowCue)
            || is_the_cow(text, rest, after)
            || is_this_cow(text, rest, after))
        && (is_told(text, rest)
            || is_subject(text, rest, after)
            || so_far.apart(after)
            || is_this_cow(text, rest, after));
    let named = cued || listed || (several && (next || start || (sentence && !of_something)));
    if counts || decimal || everyday || !(told || named) {
        return input.fail();
    }
    // "Cow 150?" is how a recogniser hears a voice that rises.
    let glued = after.first().filter(|t| t.gap == Gap::Glue && t.meaning.is_none()).map(|t| t.span);
    let glued = glued.filter(|span| span.of(text) != "?");
    // `RH DD (cow 41?)`: in a scribbled note it is a doubt.
    let doubt = after.first().filter(|t| t.gap == Gap::Glue && t.meaning == Some(Meaning::Hedge) && toks::exact(t));
    let doubt = doubt.filter(|t| t.span.of(text) == "?");
    let glued = glued.or(doubt.map(|t| t.span)).or_else(|| unfinished(text, rest.span_to(after)));
    let after = if doubt.is_some() { after.skip(1) } else { after };
    // "cow 12 or 13"
    others.extend(lost_nought(text, rest, after, &number));
    others.extend(with_its_letter(text, input, rest, &number));
    let mut after = after;
    if told && !named && after.meaning() == Some(Meaning::CowCue) {
        after = after.skip(1);
    }
    if let Some(tok) = after.first()
        && let Ok((end, (other, _))) = number::tag(after)
        && text.get(rest.span_to(after).end as usize..tok.span.start as usize).is_some_and(is_or)
    {
        others.push(other);
        after = end;
    }
    Ok((after, Phrase::Cow(Tag { text: number, others, cued: cued || next, bare: false, told: !named, glued })))
}

/// The number without its first word, where that is a word of people's talk and figures follow.
fn without_first(rest: Toks, after: Toks) -> Option<String> {
    let first = rest.first().filter(|t| matches!(t.how, How::Near { known: true, .. }))?;
    let digit = matches!(first.meaning, Some(Meaning::Number(Atom::Unit(_))));
    let figures = matches!(rest.nth(1), Some(Meaning::Number(Atom::Digits { len: 2.., .. })));
    let (end, (short, _)) = number::tag(rest.skip(1)).ok().filter(|_| digit && figures)?;
    (end == after).then_some(short)
}

/// "number three something": the digits that were not read or are not known.
fn unfinished(text: &str, number: Span) -> Option<Span> {
    let behind = words::behind(text, number.end as usize, " something ".len()).to_lowercase();
    let word = behind.trim_start_matches([' ', '-']);
    let begins = number.end + (behind.len() - word.len()) as u32;
    let ends = |rest: &str| !rest.starts_with(char::is_alphanumeric);
    let said = ["something", "odd"].into_iter().find(|w| word.strip_prefix(w).is_some_and(ends))?;
    Some(Span { start: begins, end: begins + said.len() as u32 })
}

/// "Tag 8-5" and "cow eleven of four" are how recognisers write "eight oh five" and "eleven oh four".
fn lost_nought(text: &str, rest: Toks, after: Toks, number: &str) -> Option<String> {
    let used = &rest.0[..rest.0.len() - after.0.len()];
    let digit = |t: &Tok| matches!(t.meaning, Some(Meaning::Number(Atom::Digits { len: 1, .. } | Atom::Unit(_))));
    if let [a, b] = used
        && digit(a)
        && digit(b)
        && b.gap == Gap::Glue
        && let Some((first, second)) = number.split_at_checked(1)
    {
        return Some(format!("{first}0{second}"));
    }
    // "Cow 5 well took the wrap off": how "twelve" is heard.
    let behind = words::behind(text, rest.span_to(after).end as usize, " well ".len());
    if number.len() <= 2 && behind.starts_with(" well ") {
        return Some(format!("{number}12"));
    }
    // "thirteen, no five"
    let digits = if after.meaning() == Some(Meaning::Not) { after.skip(1) } else { after };
    let next = digits.first().filter(|t| digit(t))?;
    let between = text.get(rest.span_to(after).end as usize..next.span.start as usize)?;
    let between = between.trim_matches([' ', ',']);
    let (last, _) = number::tag(digits).ok().map(|(_, tag)| tag)?;
    (number.len() <= 2 && last.len() == 1 && ["of", "or", "o", "oh", "no"].contains(&between))
        .then(|| format!("{number}0{last}"))
}

/// How people go on to another number that it may be.
const OR: [&str; 11] = [
    "or",
    "or is it",
    "or was it",
    "or maybe",
    "or possibly",
    "or perhaps",
    "maybe",
    "possibly",
    "could be",
    "might be",
    "or it could be",
];

fn is_or(between: &str) -> bool {
    let said = between.trim_matches(|c: char| c.is_whitespace() || c == ',').to_lowercase();
    OR.contains(&said.as_str())
}

/// Longer ones are people's telephones.
const LONGEST_TOLD: usize = 5;

/// `B14`: a letter that is glued to the number, and is no cue misheard.
fn is_letter_of_tag(text: &str, input: Toks, rest: Toks) -> bool {
    let Some(letter) = input.first().map(|t| t.span.of(text)) else { return false };
    let lone = input.0.len() - rest.0.len() == 1 && rest.gap() == Gap::Glue;
    let glued = lone && input.first().map(|t| t.span.end) == rest.first().map(|t| t.span.start);
    let heard = HEARD_AS_CUE.iter().any(|l| letter.eq_ignore_ascii_case(l));
    glued && letter.len() == 1 && letter.as_bytes()[0].is_ascii_alphabetic() && !heard
}

/// `K930` with the letter: heard near a cue, it may as well be part of the tag.
fn with_its_letter(text: &str, input: Toks, rest: Toks, number: &str) -> Option<String> {
    let cue = input.first().filter(|t| !toks::exact(t))?.span.of(text);
    let lone = input.0.len() - rest.0.len() == 1 && rest.gap() == Gap::Glue;
    (lone && cue.len() == 1 && cue.as_bytes()[0].is_ascii_alphabetic())
        .then(|| format!("{}{number}", cue.to_ascii_uppercase()))
}

/// A number of three figures or more and a pause behind it, or one right before a foot or a day.
fn is_listed_number(input: Toks) -> bool {
    number::tag(input).is_ok_and(|(rest, (number, _))| {
        let paused = number.len() >= 3 && !rest.0.is_empty() && rest.gap() > Gap::Space;
        // "rc 1340 blk still on"
        let device = matches!(rest.meaning(), Some(Meaning::Device(_) | Meaning::Devices(_) | Meaning::Disorder(_)));
        // "recheck 23 in two weeks"
        let is_day = |at: Toks| time::time(at).is_ok_and(|(_, when)| when.is_some());
        let day = || is_day(rest) && !is_day(input);
        // "recheck 95 right hind outer ulcer healed"
        let near = number.len() >= 2 && rest.gap() <= Gap::Space;
        // `rc 61 - LR out DS`
        let foot = number.len() >= 2 && rest.gap() == Gap::Comma && is_place(rest);
        paused || number.len() >= 3 && device || near && (is_place(rest) || day()) || foot
    })
}

/// "recheck ninety five. was M two …": a number of two figures that ends the sentence.
fn is_short_sentence(input: Toks) -> bool {
    number::tag(input)
        .is_ok_and(|(rest, (number, _))| number.len() == 2 && !rest.0.is_empty() && rest.gap() == Gap::Stop)
}

/// A number of three figures or more, and a pause or a foot behind it.
fn is_whole_tag(input: Toks) -> bool {
    number::tag(input).is_ok_and(|(rest, (number, _))| {
        number.len() >= 3 && !rest.0.is_empty() && (rest.gap() > Gap::Space || is_place(rest))
    })
}

fn is_place(input: Toks) -> bool {
    matches!(
        input.meaning(),
        Some(Meaning::Foot(_) | Meaning::Place(..) | Meaning::Places(..) | Meaning::Side(_) | Meaning::Ends(_))
    )
}

/// A tag with letters, as written: `A123`, `12B`.
fn lettered_tag<'a>(text: &str, input: Toks<'a>) -> Res<'a, (String, Vec<String>)> {
    let mut used = 0;
    let (mut letters, mut digits) = (false, false);
    while let Some(tok) = input.0.get(used) {
        // `827M1` is a cow and a stage.
        if letters && digits {
            let glued = tok.gap == Gap::Glue && input.0[used - 1].span.end == tok.span.start;
            if glued && tok.meaning.is_some_and(|m| matches!(m, Meaning::Number(_))) {
                return input.fail();
            }
            break;
        }
        if used > 0 && (tok.gap > Gap::Glue || input.0[used - 1].span.end != tok.span.start) {
            break;
        }
        let word = tok.span.of(text);
        match tok.meaning {
            Some(Meaning::Number(Atom::Digits { .. })) => digits = true,
            // `3mm`, `10d`
            Some(Meaning::Unit(_) | Meaning::Period(_)) if digits => return input.fail(),
            // `gr2`
            Some(Meaning::GradeCue | Meaning::StageCue | Meaning::ZoneCue | Meaning::Scale(_) | Meaning::ScoreCue) => {
                return input.fail();
            }
            // `BU6`: a lesion and its zone.
            Some(
                Meaning::Disorder(_)
                | Meaning::Vague(_)
                | Meaning::Foot(_)
                | Meaning::Place(..)
                | Meaning::Device(_)
                | Meaning::Clear,
            ) => {
                return input.fail();
            }
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

/// "gate code for the yard, that's four four seven one": a number in the midst of a sentence is a cow's only where
/// something is said of a cow.
pub(super) fn none_in_talk(mut items: Vec<Item>) -> Vec<Item> {
    let of_cow = |i: &Item| {
        is_found_or_done(i) || matches!(i.is, Phrase::Place(_) | Phrase::Measure { .. } | Phrase::Due { .. })
    };
    if !items.iter().any(of_cow) {
        for item in items.iter_mut().filter(|i| matches!(&i.is, Phrase::Cow(Tag { told: true, .. }))) {
            item.is = Phrase::Unread;
        }
    }
    items
}

/// "not 144, it's cow 145": a number that is denied, beside the cow's.
fn not_this_one(text: &str, items: &mut [Item]) {
    for k in 1..items.len() {
        let tag = match &items[k].is {
            Phrase::Cow(tag) => tag.text.len(),
            Phrase::Number { text, .. } => text.len(),
            _ => continue,
        };
        if tag < 2 || items[k - 1].is != Phrase::Not || items[k].gap > Gap::Space {
            continue;
        }
        let not = items[k - 1].span.of(text).to_lowercase();
        let denied = not.split(' ').any(|w| w == "not") || not.contains("n't");
        // "it was not cow 613, it was cow 630"
        let other = items[k].is_cow() && !items.get(k + 1).is_some_and(|n| n.gap == Gap::Comma && n.is_cow());
        if denied && !other && items.iter().enumerate().any(|(i, other)| i != k && other.is_cow()) {
            items[k].is = Phrase::Aside;
            items[k - 1].is = Phrase::Aside;
        }
    }
}

fn is_found_or_done(item: &Item) -> bool {
    matches!(
        item.is,
        Phrase::Finding(_)
            | Phrase::Deed(_)
            | Phrase::Stage(_)
            | Phrase::Clear
            | Phrase::ClearAll
            | Phrase::Score { .. }
    )
}

/// "wrapped 281 right hind for a wart", "I blocked 294 left hind inner": where no cow was named, the only number as long as a
/// tag, right before a foot.
pub(super) fn before_her_foot(mut items: Vec<Item>) -> Vec<Item> {
    if items.iter().any(Item::is_cow) {
        return items;
    }
    let tag = |i: &Item| match &i.is {
        Phrase::Number { text, plain: true, .. } if text.len() >= 3 => Some(text.clone()),
        _ => None,
    };
    let mut tags = (0..items.len()).filter_map(|k| Some((k, tag(&items[k])?)));
    let (Some((k, text)), None) = (tags.next(), tags.next()) else { return items };
    let foot = |i: &Item| matches!(&i.is, Phrase::Place(p) if matches!(p.feet, Where::Feet(_)));
    let before = items.get(k + 1).is_some_and(|i| i.gap <= Gap::Space && foot(i));
    // "axial fissure zone eleven left hind outer eight sixty six"
    let measured = |i: &Item| matches!(i.is, Phrase::Part(_) | Phrase::Measure { .. } | Phrase::Score { .. });
    let behind = k > 0
        && items[k].gap <= Gap::Space
        && foot(&items[k - 1])
        && items.get(k + 1).is_none_or(|i| i.gap > Gap::Space)
        && !items[..k].iter().any(measured)
        && items.iter().any(|i| matches!(i.is, Phrase::Finding(_)));
    if before || behind {
        items[k].is = Phrase::Cow(Tag::alone(text, false));
    }
    items
}

/// "seems the vet put a block on 82 since I was here", "did the lad wrap 871?": where no cow was named, the only number
/// that is left over, behind a word of what is done to a cow.
pub(super) fn left_over(text: &str, mut items: Vec<Item>) -> Vec<Item> {
    const BEFORE: [&str; 12] =
        ["on", "hind of", "foot of", "front of", "rear of", "for", "see", "wrap", "block", "trim", "lift", "that"];
    const BEHIND: [&str; 9] = ["since", "but", "because", "again", "too", "now", "today", "tomorrow", "isn't"];
    if items.iter().any(|i| i.is_cow() || i.is == Phrase::Another) {
        return items;
    }
    let mut numbers = (0..items.len()).filter(|k| matches!(items[*k].is, Phrase::Number { .. }));
    let (Some(k), None) = (numbers.next(), numbers.next()) else { return items };
    let Phrase::Number { text: tag, plain: true, .. } = &items[k].is else { return items };
    let span = items[k].span;
    let figures = span.of(text).bytes().all(|b| b.is_ascii_digit());
    // "the wrap on 78's right front"
    if figures && tag.len() >= 2 && text.get(span.end as usize..).is_some_and(|t| t.starts_with("'s ")) {
        items[k].is = Phrase::Cow(Tag::alone(tag.clone(), false));
        if items.get(k + 1).is_some_and(|s| s.is == Phrase::Unread && s.span.of(text) == "s") {
            items.remove(k + 1);
        }
        return items;
    }
    let before = text.get(..span.start as usize).unwrap_or_default().trim_end();
    let word = |w: &str| before.len() == w.len() || before[..before.len() - w.len()].ends_with(' ');
    let led = BEFORE.iter().any(|w| words::ends_with(before, w) && word(w));
    let behind = words::behind(text, span.end as usize, "tomorrow,".len() + 1);
    let next = behind.trim_start().split(|c: char| !c.is_alphanumeric() && c != '\'').next().unwrap_or_default();
    let ends = behind.is_empty() || behind.starts_with([',', '.', ';', '?', '!']) || BEHIND.contains(&next);
    if figures && led && ends && (2..=LONGEST_TOLD).contains(&tag.len()) {
        // Of two figures it may still be something else, and is asked.
        items[k].is = Phrase::Cow(Tag { told: true, ..Tag::alone(tag.clone(), tag.len() < 3) });
    }
    items
}

/// `RH ulcer z4 blk wrp 213`, `slurry heel LH (46)`, `fronts nil, no 74`: in a scribbled note where no cow was named, the
/// only number as long as a tag, or one in brackets, or a numbered one.
pub(super) fn scribbled(text: &str, mut items: Vec<Item>) -> Vec<Item> {
    let named = items.iter().any(|i| i.is_cow() || i.is == Phrase::Another);
    if named || !items.iter().any(is_found_or_done) {
        return items;
    }
    let figures = |i: &Item| i.span.of(text).bytes().all(|b| b.is_ascii_digit());
    let bracketed = |span: Span| {
        let (before, behind) = (&text[..span.start as usize], &text[span.end as usize..]);
        before.ends_with('(') && behind.starts_with(')')
    };
    let numbered = |k: usize| {
        k > 0
            && k + 1 == items.len()
            && items[k - 1].is == Phrase::Not
            && items[k - 1].gap > Gap::Space
            && items[k - 1].span.of(text).eq_ignore_ascii_case("no")
    };
    let tag = |k: usize| match &items[k].is {
        Phrase::Number { text: tag, plain: true, .. } if figures(&items[k]) => {
            let known = bracketed(items[k].span) || numbered(k);
            let long = if known { 2 } else { 3 };
            (long..=LONGEST_TOLD).contains(&tag.len()).then(|| tag.clone())
        }
        _ => None,
    };
    let mut tags = (0..items.len()).filter_map(|k| Some((k, tag(k)?)));
    let (Some((k, her)), None) = (tags.next(), tags.next()) else { return items };
    if numbered(k) {
        items[k - 1].is = Phrase::Aside;
    }
    items[k].is = Phrase::Cow(Tag::alone(her, false));
    items
}

/// "three from the dry pen. cow two seventy five": a bare number before the first cue was no cow.
pub(super) fn one_cow_at_the_start(text: &str, mut items: Vec<Item>) -> Vec<Item> {
    let cows: Vec<usize> = (0..items.len()).filter(|i| matches!(items[*i].is, Phrase::Cow(_))).collect();
    if let [first, second, ..] = cows[..]
        && matches!(&items[first].is, Phrase::Cow(Tag { cued: false, .. }))
        && matches!(&items[second].is, Phrase::Cow(Tag { cued: true, .. }))
    {
        let meant = |i: &Item| is_found_or_done(i) || matches!(i.is, Phrase::Drop | Phrase::Change);
        if !items[first + 1..second].iter().any(meant) {
            // Told as not understood, and not lost.
            items[first].is = Phrase::Unread;
        }
    }
    not_this_one(text, &mut items);
    // How people begin to talk: "right, 61. Right hind wart", "alright nine forty, right hind, …"
    if let [a, b, rest @ ..] = &items[..]
        && let Phrase::Number { text: tag, plain: true, .. } = &b.is
        && rest.first().is_some_and(|next| next.gap > Gap::Space)
        && !items.iter().any(Item::is_cow)
    {
        let said = |w: &str| a.span.of(text).eq_ignore_ascii_case(w);
        let side = matches!(a.is, Phrase::Place(Place { feet: Where::Side(Side::Right), claw: None, .. }));
        let right = side && said("right") && b.gap == Gap::Comma;
        let alright = (said("alright") || said("all right")) && b.gap <= Gap::Comma && tag.len() >= 2;
        if right || alright {
            items[1].is = Phrase::Cow(Tag::alone(tag.clone(), false));
            items.remove(0);
        }
    }
    // "right, cow twelve": no foot.
    if let [a, b, ..] = &items[..]
        && matches!(a.is, Phrase::Place(Place { feet: Where::Side(_), claw: None, .. }))
        && b.gap > Gap::Space
        && matches!(b.is, Phrase::Cow(_))
    {
        items.remove(0);
    }
    items
}

/// Whether "same as" stands right before.
pub(super) fn is_same_as(text: &str, span: Span) -> bool {
    words::ends_with(text.get(..span.start as usize).unwrap_or_default().trim_end(), "same as")
}
