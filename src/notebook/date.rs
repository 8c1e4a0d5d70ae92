//! Dates as headings have them: `6/5/18`, `9 June`, `June 5th, 2018`, `05JUN18`, `2018-06-05`.

use std::ops::Range;

/// A piece of a heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    pub(super) is: Is,
    pub(super) at: Range<usize>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Is {
    /// Value, how many digits, and whether letters were taken for digits.
    Number {
        value: u32,
        digits: usize,
        mended: bool,
    },
    /// In lower case.
    Word(String),
    Sign(char),
    /// One or several.
    Blank,
}

/// A date as far as it was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Written {
    Full {
        year: i32,
        month: u32,
        day: u32,
    },
    /// The month by its name; without a month only the day of it.
    Named {
        day: u32,
        month: Option<u32>,
        year: Option<i32>,
    },
    /// Only a month: `Oct 2009`.
    Month {
        month: u32,
        year: i32,
    },
    /// Day and month, or month and day.
    Figures {
        first: u32,
        second: u32,
        year: Option<i32>,
    },
}

/// The pieces of a line.
pub(super) fn pieces(text: &str) -> Vec<Piece> {
    let mut out: Vec<Piece> = Vec::new();
    let bytes = text.char_indices().collect::<Vec<_>>();
    let mut i = 0;
    while i < bytes.len() {
        let (start, c) = bytes[i];
        if c.is_whitespace() {
            while bytes.get(i).is_some_and(|b| b.1.is_whitespace()) {
                i += 1;
            }
            out.push(Piece { is: Is::Blank, at: start..end(&bytes, i, text) });
        } else if c.is_alphanumeric() {
            let from = i;
            let inner = |k: usize| {
                let c = bytes[k].1;
                c.is_alphanumeric()
                    || (c == '\''
                        && k > from
                        && bytes.get(k + 1).is_some_and(|b| b.1.is_alphabetic())
                        && bytes[k - 1].1.is_alphabetic())
            };
            while i < bytes.len() && inner(i) {
                i += 1;
            }
            run(text, start..end(&bytes, i, text), &mut out);
        } else {
            i += 1;
            out.push(Piece { is: Is::Sign(c), at: start..end(&bytes, i, text) });
        }
    }
    out
}

fn end(bytes: &[(usize, char)], i: usize, text: &str) -> usize {
    bytes.get(i).map_or(text.len(), |b| b.0)
}

/// Letters and digits without a gap: `Jun`, `05JUN18`, `5th`, `1l`.
fn run(text: &str, at: Range<usize>, out: &mut Vec<Piece>) {
    let raw = &text[at.clone()];
    let digits = raw.bytes().filter(u8::is_ascii_digit).count();
    let slash = |b: Option<u8>| b == Some(b'/');
    let beside =
        slash(at.start.checked_sub(1).map(|i| text.as_bytes()[i])) || slash(text.as_bytes().get(at.end).copied());
    let mended: Option<String> = raw.chars().map(super::slips::digit).collect();
    if let Some(value) = mended.filter(|_| digits == raw.len() || (beside && raw.len() <= 4)) {
        let is = value.parse().map(|v| Is::Number { value: v, digits: raw.len(), mended: digits < raw.len() });
        out.push(Piece { is: is.unwrap_or(Is::Word(value)), at });
        return;
    }
    let mut start = at.start;
    let mut chars = raw.char_indices().peekable();
    while let Some((i, c)) = chars.next() {
        let border = chars.peek().is_none_or(|(_, next)| next.is_ascii_digit() != c.is_ascii_digit());
        if border {
            let end = at.start + i + c.len_utf8();
            let part = &text[start..end];
            let is = match part.parse() {
                Ok(value) => Is::Number { value, digits: part.len(), mended: false },
                Err(_) => Is::Word(part.to_lowercase()),
            };
            out.push(Piece { is, at: start..end });
            start = end;
        }
    }
}

/// The date that begins at piece `i`, and the piece after it.
pub(super) fn date_at(p: &[Piece], i: usize) -> Option<(Written, usize)> {
    match &p.get(i)?.is {
        Is::Number { value, digits, .. } => full(p, i)
            .or_else(|| day_month(p, i, *value, *digits))
            .or_else(|| figures(p, i))
            .or_else(|| ordinal(p, i, *value)),
        Is::Word(word) => {
            let month = month(word)?;
            month_day(p, i, month).or_else(|| month_year(p, i, month))
        }
        _ => None,
    }
}

fn number(p: &[Piece], i: usize) -> Option<(u32, usize)> {
    match p.get(i)?.is {
        Is::Number { value, digits, .. } => Some((value, digits)),
        _ => None,
    }
}

fn sign(p: &[Piece], i: usize) -> Option<char> {
    match p.get(i)?.is {
        Is::Sign(c) => Some(c),
        _ => None,
    }
}

fn word(p: &[Piece], i: usize) -> Option<&str> {
    match &p.get(i)?.is {
        Is::Word(w) => Some(w),
        _ => None,
    }
}

fn blank(p: &[Piece], i: usize) -> bool {
    matches!(p.get(i).map(|p| &p.is), Some(Is::Blank))
}

/// `2018-06-05`
fn full(p: &[Piece], i: usize) -> Option<(Written, usize)> {
    let (year, digits) = number(p, i)?;
    let between = sign(p, i + 1).filter(|s| "-/.".contains(*s))?;
    let (month, _) = number(p, i + 2)?;
    let (day, _) = number(p, i + 4).filter(|_| sign(p, i + 3) == Some(between))?;
    let fits = digits == 4 && (1900..2100).contains(&year) && (1..=12).contains(&month) && (1..=31).contains(&day);
    fits.then_some((Written::Full { year: year.cast_signed(), month, day }, i + 5))
}

/// `6/5/18`, `6.5.2018`, `6/5`
fn figures(p: &[Piece], i: usize) -> Option<(Written, usize)> {
    let (first, one) = number(p, i)?;
    let between = sign(p, i + 1).filter(|s| "-/.".contains(*s))?;
    let (second, two) = number(p, i + 2)?;
    let fits = one <= 2 && two <= 2 && first.max(second) <= 31 && first.min(second) <= 12 && first.min(second) >= 1;
    if !fits {
        return None;
    }
    let year = number(p, i + 4).filter(|y| sign(p, i + 3) == Some(between) && (y.1 == 2 || y.1 == 4));
    if let Some(year) = year.and_then(year_of) {
        return Some((Written::Figures { first, second, year: Some(year) }, i + 5));
    }
    // Without a year only between slashes: `6.5` and `6-5` are other things too.
    (between == '/' && sign(p, i + 3).is_none_or(|s| s != '/'))
        .then_some((Written::Figures { first, second, year: None }, i + 3))
}

/// `9 June`, `9th of June 2018`, `05JUN18`, `9-Jun-18`
fn day_month(p: &[Piece], i: usize, day: u32, digits: usize) -> Option<(Written, usize)> {
    if digits > 2 || !(1..=31).contains(&day) {
        return None;
    }
    let mut at = skip(p, i + 1, |w| is_ordinal(w) || w == "of");
    if !blank(p, at - 1) && matches!(sign(p, at), Some('-' | '/' | '.')) {
        at += 1;
    }
    let month = month(word(p, at)?)?;
    let (year, end) = year_after(p, at + 1);
    Some((Written::Named { day, month: Some(month), year }, end))
}

/// `June 5th, 2018`
fn month_day(p: &[Piece], i: usize, month: u32) -> Option<(Written, usize)> {
    let at = skip(p, i + 1, |_| false);
    let at = if matches!(sign(p, at), Some('-' | '/')) { at + 1 } else { at };
    let (day, _) = number(p, at).filter(|n| n.1 <= 2 && (1..=31).contains(&n.0))?;
    let end = if word(p, at + 1).is_some_and(is_ordinal) { at + 2 } else { at + 1 };
    let (year, end) = year_after(p, end);
    Some((Written::Named { day, month: Some(month), year }, end))
}

/// `Oct 2009`, `Oct '09`
fn month_year(p: &[Piece], i: usize, month: u32) -> Option<(Written, usize)> {
    let at = skip(p, i + 1, |_| false);
    let at = if sign(p, at) == Some(',') { skip(p, at + 1, |_| false) } else { at };
    let (at, short) = if sign(p, at) == Some('\'') { (at + 1, true) } else { (at, false) };
    let year = number(p, at).filter(|n| n.1 == if short { 2 } else { 4 })?;
    Some((Written::Month { month, year: year_of(year)? }, at + 1))
}

/// What makes a number an ordinal.
pub(super) fn is_ordinal(word: &str) -> bool {
    matches!(word, "st" | "nd" | "rd" | "th")
}

/// The year that `Oct 09` may have, where it is a date of month and day.
pub(super) fn maybe_year(p: &[Piece], i: usize, end: usize) -> Option<i32> {
    word(p, i).and_then(month)?;
    let last = number(p, end.checked_sub(1)?)?;
    if last.1 == 2 { year_of(last) } else { None }
}

/// `5th`
fn ordinal(p: &[Piece], i: usize, day: u32) -> Option<(Written, usize)> {
    let glued = word(p, i + 1).is_some_and(is_ordinal);
    (glued && (1..=31).contains(&day)).then_some((Written::Named { day, month: None, year: None }, i + 2))
}

/// Blanks, a dot, and words that carry nothing.
fn skip(p: &[Piece], mut i: usize, filler: impl Fn(&str) -> bool) -> usize {
    while blank(p, i) || sign(p, i) == Some('.') || word(p, i).is_some_and(&filler) {
        i += 1;
    }
    i
}

/// The year that may follow day and month; of two digits it is none where heads are counted (`9 June 22 hd`).
fn year_after(p: &[Piece], i: usize) -> (Option<i32>, usize) {
    let mut at = i;
    let mut mark = false;
    while blank(p, at) || matches!(sign(p, at), Some(',' | '.' | '\'' | '-' | '/' | '`')) {
        mark |= matches!(sign(p, at), Some('\'' | '-' | '/'));
        at += 1;
    }
    let Some(number) = number(p, at) else { return (None, i) };
    let heads = || {
        let next = skip(p, at + 1, |_| false);
        next > at + 1 && word(p, next).is_some_and(super::heads::counts_heads) || word(p, at + 1).is_some()
    };
    let glued = at == i;
    match number.1 {
        4 if (1950..2100).contains(&number.0) => (Some(number.0.cast_signed()), at + 1),
        2 if glued || mark || !heads() => (year_of(number), at + 1),
        _ => (None, i),
    }
}

/// Two digits are of this century up to 69.
fn year_of((value, digits): (u32, usize)) -> Option<i32> {
    match digits {
        4 if (1950..2100).contains(&value) => Some(value.cast_signed()),
        2 if value < 70 => Some(2000 + value.cast_signed()),
        2 => Some(1900 + value.cast_signed()),
        _ => None,
    }
}

/// 1 to 12.
pub(super) fn month(word: &str) -> Option<u32> {
    const NAMES: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    if word == "sept" {
        return Some(9);
    }
    let at = NAMES.iter().position(|n| *n == word || (word.len() == 3 && n.starts_with(word)))?;
    Some(at as u32 + 1)
}

/// 0 is Monday.
pub(super) fn weekday(word: &str) -> Option<u32> {
    const NAMES: [&[&str]; 7] = [
        &["mon", "monday"],
        &["tue", "tues", "tuesday"],
        &["wed", "weds", "wednesday"],
        &["thu", "thur", "thurs", "thursday"],
        &["fri", "friday"],
        &["sat", "saturday"],
        &["sun", "sunday"],
    ];
    NAMES.iter().position(|n| n.contains(&word)).map(|n| n as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn first(text: &str) -> Option<(Written, usize)> {
        let p = pieces(text);
        date_at(&p, 0).map(|(d, end)| (d, p.get(end).map_or(text.len(), |p| p.at.start)))
    }

    #[test]
    fn dates_in_every_common_order() {
        let named = |day, year| Some(Written::Named { day, month: Some(6), year });
        for text in [
            "9 June 2018",
            "9th June 18",
            "9th of June, 2018",
            "June 9th, 2018",
            "Jun. 9 '18",
            "09JUN18",
            "9-Jun-18",
            "9. June 2018",
        ] {
            assert_eq!(first(text).map(|d| d.0), named(9, Some(2018)), "{text}");
        }
        for text in ["9 June", "June 9", "9 jun same place", "9 June 22 hd", "9 June 22hd"] {
            assert_eq!(first(text).map(|d| d.0), named(9, None), "{text}");
        }
        let figures = |year| Some(Written::Figures { first: 6, second: 5, year });
        for text in ["6/5/18", "06.05.2018", "6-5-18", "6/S/l8"] {
            assert_eq!(first(text).map(|d| d.0), figures(Some(2018)), "{text}");
        }
        assert_eq!(first("6/5 Juniper Flat"), figures(None).map(|d| (d, 3)));
        for text in ["June 2018", "June, 2018", "Jun '18"] {
            assert_eq!(first(text).map(|d| d.0), Some(Written::Month { month: 6, year: 2018 }), "{text}");
        }
        assert_eq!(first("2018-06-05").map(|d| d.0), Some(Written::Full { year: 2018, month: 6, day: 5 }));
    }

    #[test]
    fn other_figures_are_no_dates() {
        for text in ["231 LH DD", "3/52", "13/14", "6.5", "0/3", "40 bales", "5 wraps", "6/5/3"] {
            assert_eq!(first(text), None, "{text}");
        }
    }
}
