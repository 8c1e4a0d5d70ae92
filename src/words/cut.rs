//! Where words begin and end.

use super::{Gap, Span, Word, normal};

/// Signs that are words by themselves in a notebook.
const SIGNS: &[char] =
    &['?', '"', '\u{201c}', '\u{201d}', '#', '&', '+', '\u{3003}', '\u{2713}', '\u{2717}', '\u{2718}', '='];

/// Where a word stands, and what before it.
pub(super) struct Raw {
    pub(super) span: Span,
    pub(super) gap: Gap,
}

pub(super) fn raw(text: &str) -> Vec<Raw> {
    if text.is_ascii() {
        // Most notes: a byte is a character.
        return raw_of(|i| text.as_bytes().get(i).map(|b| char::from(*b)), |i| i.min(text.len()));
    }
    let chars: Vec<(usize, char)> = text.char_indices().collect();
    raw_of(|i| chars.get(i).map(|c| c.1), |i| chars.get(i).map_or(text.len(), |c| c.0))
}

/// `at` gives the characters, `byte` where each begins.
fn raw_of(at: impl Fn(usize) -> Option<char>, byte: impl Fn(usize) -> usize) -> Vec<Raw> {
    let mut words = Vec::with_capacity(16);
    let mut gap = Gap::Stop;
    let mut i = 0;
    while let Some(c) = at(i) {
        if c.is_alphanumeric() {
            let start = i;
            let mut dots = false;
            i += 1;
            loop {
                // Most of a word goes by here.
                while at(i).is_some_and(|c| c.is_ascii_alphanumeric()) {
                    i += 1;
                }
                if !inside(&at, i) {
                    break;
                }
                dots |= at(i) == Some('.');
                i += 1;
            }
            // A dot that closes an abbreviation belongs to it ("n.a.d.").
            let digits = |k| at(k).is_some_and(|c| c.is_ascii_digit());
            if dots && at(i) == Some('.') && !(start..i).any(digits) {
                i += 1;
            }
            words.push(Raw { span: Span::new(byte(start), byte(i)), gap });
            gap = Gap::Glue;
            continue;
        }
        i += 1;
        if SIGNS.contains(&c) {
            words.push(Raw { span: Span::new(byte(i - 1), byte(i)), gap });
            // "Is that her? Number 18": a question in a sentence, and no doubt in a scribbled note.
            let sentence = c == '?'
                && at(i).is_some_and(char::is_whitespace)
                && at(i + 1).is_some_and(char::is_uppercase)
                && at(i + 2).is_some_and(char::is_lowercase);
            gap = if sentence { Gap::Stop } else { gap_after_sign(c) };
            continue;
        }
        let spaced = i >= 2 && at(i - 2).is_some_and(char::is_whitespace);
        gap = gap.max(match c {
            '.' | '!' | '\n' | '\u{2026}' => Gap::Stop,
            // "Cow 6:15", `8:40`
            ':' if i >= 2
                && at(i - 2).is_some_and(|c| c.is_ascii_digit())
                && at(i).is_some_and(|c| c.is_ascii_digit()) =>
            {
                Gap::Glue
            }
            ',' | ';' | ':' | '(' | ')' | '[' | ']' | '|' | '>' | '\u{2192}' | '\u{2014}' => Gap::Comma,
            '-' | '\u{2013}' | '/' if spaced => Gap::Comma,
            // `2430/2431/2434`: a list of cows.
            '/' if i >= 2 && between_tags(&at, i - 1) => Gap::Comma,
            // `M2/RH`: two feet, and no `9/4` or `w/o`.
            '/' if i >= 2
                && at(i - 2).is_some_and(|c| c.is_ascii_digit())
                && at(i).is_some_and(char::is_alphabetic) =>
            {
                Gap::Comma
            }
            '-' | '\u{2010}' | '\u{2011}' | '\u{2013}' | '/' | '\'' => Gap::Glue,
            _ => Gap::Space,
        });
    }
    words
}

fn gap_after_sign(c: char) -> Gap {
    if c == '?' { Gap::Space } else { Gap::Glue }
}

/// Whether the character at `i` goes on with the word before it.
fn inside(at: &impl Fn(usize) -> Option<char>, i: usize) -> bool {
    let Some(c) = at(i) else { return false };
    let before = i.checked_sub(1).and_then(at);
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    if c.is_alphanumeric() {
        // `3½` is three and a half; glued, it would be 31/2.
        return !(matches!(c, '\u{bc}'..='\u{be}') && digit(before));
    }
    let after = at(i + 1);
    let letter = |c: Option<char>| c.is_some_and(char::is_alphabetic);
    match c {
        '\'' | '\u{2019}' => letter(before) && letter(after),
        '.' => {
            (digit(before) && digit(after))
                || (letter(before)
                    && letter(after)
                    && !i.checked_sub(2).and_then(at).is_some_and(char::is_alphanumeric))
        }
        // Thousands: "1,008", but not "zones 4,5".
        ',' => digit(before) && ((1..=3).all(|k| digit(at(i + k))) && !digit(at(i + 4)) || is_decimal_comma(at, i)),
        '/' => {
            (digit(before) && digit(after) && !between_tags(at, i))
                || (letter(before)
                    && letter(after)
                    && !i.checked_sub(2).and_then(at).is_some_and(char::is_alphanumeric)
                    && !is_claw_before_a_slash(at, i))
        }
        // ISO dates stay whole.
        '-' => digit(before) && digit(after) && iso_date_around(at, i),
        _ => false,
    }
}

/// `blk I/rc 3wk`: a claw in capitals and a word of two letters or more behind the slash; `O/H` and `i/d` are one word.
fn is_claw_before_a_slash(at: &impl Fn(usize) -> Option<char>, slash: usize) -> bool {
    let claw = slash.checked_sub(1).and_then(at).is_some_and(|c| ['I', 'O'].contains(&c));
    claw && at(slash + 2).is_some_and(char::is_alphabetic)
}

/// `7,5 cm`: what is measured tells that it is no list.
fn is_decimal_comma(at: &impl Fn(usize) -> Option<char>, i: usize) -> bool {
    let digit = |k: usize| at(k).is_some_and(|c| c.is_ascii_digit());
    let digits = (1..=2).take_while(|k| digit(i + k)).count();
    let unit = i + 1 + digits + usize::from(at(i + 1 + digits) == Some(' '));
    let metre = matches!((at(unit), at(unit + 1)), (Some('c' | 'm'), Some('m')));
    digits > 0 && metre && !at(unit + 2).is_some_and(char::is_alphanumeric)
}

/// `2430/2431`: no date and no part of a whole has so many figures on both sides.
fn between_tags(at: &impl Fn(usize) -> Option<char>, i: usize) -> bool {
    let digit = |k: Option<usize>| k.and_then(at).is_some_and(|c| c.is_ascii_digit());
    (1..=3).all(|k| digit(i.checked_sub(k)) && digit(Some(i + k)))
}

fn iso_date_around(at: &impl Fn(usize) -> Option<char>, i: usize) -> bool {
    let run = |mut k: usize, step: isize| {
        let mut n = 0;
        while let Some(c) = at(k) {
            if !c.is_ascii_digit() {
                break;
            }
            n += 1;
            match k.checked_add_signed(step) {
                Some(next) => k = next,
                None => break,
            }
        }
        n
    };
    let before = run(i - 1, -1);
    let after = run(i + 1, 1);
    (before == 4 && after == 2 && at(i + 3) == Some('-'))
        || (before == 2 && after == 2 && i >= 3 && at(i - 3) == Some('-'))
}

/// Cuts letters from digits where the vocabulary does not know the word whole: `z4`, `4wk`, `M4.1`.
pub(super) fn shorthand<'a>(word: Word<'a>, text: &'a str, whole: &impl Fn(&str) -> bool, out: &mut Vec<Word<'a>>) {
    // `blkRHI`, `wrpRH`
    let raw = word.span.of(text);
    let turn = raw.as_bytes().windows(2).position(|w| w[0].is_ascii_lowercase() && w[1].is_ascii_uppercase());
    if let Some(at) = turn.map(|at| at + 1)
        && raw.is_ascii()
        && !whole(&word.text)
        && [&raw[..at], &raw[at..]].iter().all(|part| whole(&normal(part)))
    {
        let offset = word.span.start as usize;
        for (from, to, gap) in [(0, at, word.gap), (at, raw.len(), Gap::Space)] {
            let (text, span) = (normal(&raw[from..to]), Span::new(offset + from, offset + to));
            out.push(Word { text, span, gap, capitals: from > 0 });
        }
        return;
    }
    let has_digit = word.text.bytes().any(|b| b.is_ascii_digit());
    let has_letter = || word.text.chars().any(char::is_alphabetic);
    if !(has_digit && has_letter()) || whole(&word.text) {
        out.push(word);
        return;
    }
    let raw = word.span.of(text);
    let offset = word.span.start as usize;
    let mut start = 0;
    let mut gap = word.gap;
    let mut last: Option<char> = None;
    for (i, c) in raw.char_indices().chain([(raw.len(), ' ')]) {
        let border = i == raw.len()
            || last.is_some_and(|l| {
                l.is_alphabetic() != c.is_alphabetic() && (l.is_alphanumeric() && c.is_alphanumeric())
            });
        if border && i > start {
            let part = &raw[start..i];
            let text = normal(part);
            // `SUz4`, `ddm2`, `RHm2`: what the number is of is glued to the word before.
            // In letters as they stand: `º` is an `o` in the text, and two bytes here.
            let cue = part.len().checked_sub(1).filter(|at| *at >= 2 && text.ends_with(['z', 'm']) && i < raw.len());
            if let Some(at) = cue.filter(|at| part.is_ascii() && !whole(&text) && whole(&normal(&part[..*at]))) {
                for (from, to) in [(start, start + at), (start + at, i)] {
                    let (text, span) = (normal(&raw[from..to]), Span::new(offset + from, offset + to));
                    out.push(Word { text, span, gap, capitals: word.capitals });
                    gap = Gap::Glue;
                }
            } else if !text.is_empty() {
                out.push(Word { text, span: Span::new(offset + start, offset + i), gap, capitals: word.capitals });
            }
            gap = Gap::Glue;
            start = i;
        }
        last = Some(c);
    }
}
