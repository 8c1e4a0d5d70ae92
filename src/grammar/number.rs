//! Numbers as people say them.
//!
//! ```ebnf
//! tag      = group , { group } ;                      (* digits side by side: "ten sixty two" is 1062 *)
//! group    = hundreds | tens , [ unit ] | teen | unit | "oh" | ("double" | "treble") , unit | digits ;
//! hundreds = small , ("hundred" | "thousand") , [ ["and"] , small ] ;
//! amount   = small , [ "point" , unit ] , [ ["and"] , ( "half" | "quarter" | d/d ) ] | decimal ;
//! ```

use super::toks::{Res, Toks};
use crate::disorder::Disorder;
use crate::matches::Tok;
use crate::vocab::{Atom, Meaning};
use crate::words::{self, Gap};

fn atom(m: Option<Meaning>) -> Option<Atom> {
    match m {
        Some(Meaning::Number(a)) => Some(a),
        _ => None,
    }
}

/// A whole number below a hundred in words, or digits; how many matches it took.
fn small(input: Toks) -> Option<(u64, usize)> {
    Some(match atom(input.nth(0))? {
        Atom::Unit(n) | Atom::Teen(n) => (u64::from(n), 1),
        Atom::Tens(t) => match atom(input.nth(1)) {
            Some(Atom::Unit(u @ 1..=9)) if input.0[1].gap <= Gap::Space => (u64::from(t + u), 2),
            _ => (u64::from(t), 1),
        },
        Atom::Digits { value, .. } => (value, 1),
        _ => return None,
    })
}

/// A cardinal with hundreds and thousands; how many matches it took.
fn cardinal_at(input: Toks) -> Option<(u64, usize)> {
    let close = |n: usize| input.0.get(n).is_some_and(|t| t.gap <= Gap::Space);
    let (mut total, mut used) = (0_u64, 0);
    let mut current = match atom(input.nth(0))? {
        Atom::Hundred | Atom::Thousand => 1,
        _ => {
            let (n, u) = small(input)?;
            used = u;
            n
        }
    };
    let mut big = false;
    while close(used) || used == 0 {
        match atom(input.nth(used)) {
            Some(Atom::Hundred) => current = current.saturating_mul(100),
            Some(Atom::Thousand) => {
                total = total.saturating_add(current.saturating_mul(1000));
                current = 0;
            }
            _ => break,
        }
        big = true;
        used += 1;
        let and = usize::from(input.nth(used) == Some(Meaning::And) && close(used));
        if close(used + and)
            && let Some((n, u)) = small(input.skip(used + and))
            && n < 1000
            && !matches!(atom(input.nth(used + and)), Some(Atom::Unit(0)))
        {
            let next_big = matches!(atom(input.nth(used + and + u)), Some(Atom::Hundred));
            if !next_big && n >= 100 {
                break;
            }
            if next_big {
                total = total.saturating_add(current);
                current = n;
            } else {
                current = current.saturating_add(n);
            }
            used += and + u;
        }
    }
    if !big {
        return Some((current, used));
    }
    Some((total.saturating_add(current), used))
}

/// An amount in thousandths: "four", "eighty five", "four point one", "two and a half", `7.5`.
pub(super) fn amount(input: Toks) -> Res<u64> {
    if input.meaning() == Some(Meaning::Couple) {
        return Ok((input.skip(1), 2000));
    }
    if let Some(Atom::Decimal { milli, .. }) = atom(input.nth(0)) {
        return Ok((input.skip(1), milli));
    }
    if let Some(part) = atom(input.nth(0)).and_then(fraction) {
        return Ok((input.skip(1), part));
    }
    let Some((mut n, mut used)) = cardinal_at(input) else {
        return input.fail();
    };
    // "100 and 5 mm": a recogniser's figures, of one amount.
    if let Some(Atom::Digits { value, len: 3.. }) = atom(input.nth(0))
        && value % 100 == 0
        && input.nth(1) == Some(Meaning::And)
        // "cow 2300, and 84 millimetres"
        && input.0[1].gap <= Gap::Space
        && let Some((more @ 1..100, width)) = small(input.skip(2))
        && matches!(input.nth(2 + width), Some(Meaning::Unit(_)))
    {
        (n, used) = (value.saturating_add(more), 2 + width);
    }
    let mut milli = n.saturating_mul(1000);
    if atom(input.nth(used)) == Some(Atom::Point) {
        if let Some(Atom::Unit(t)) = atom(input.nth(used + 1)) {
            milli = milli.saturating_add(u64::from(t) * 100);
            used += 2;
        } else if let Some(Atom::Digits { value: t @ 0..=9, len: 1 }) = atom(input.nth(used + 1)) {
            milli = milli.saturating_add(t * 100);
            used += 2;
        }
    } else {
        let and = usize::from(input.nth(used) == Some(Meaning::And));
        // "M two, about the size of a quarter": only what stands right behind, past an "a".
        let close = |k: usize| {
            let [before, here] = &input.0[k - 1..=k] else { return false };
            here.gap <= Gap::Space && here.span.start.saturating_sub(before.span.end) <= " a ".len() as u32
        };
        let near = (used..=used + and).all(|k| input.0.get(k).is_some_and(|_| close(k)));
        let part = match atom(input.nth(used + and)).filter(|_| near) {
            // "three and three quarters"
            Some(Atom::Unit(k @ 1..=3)) if and == 1 && atom(input.nth(used + 2)) == Some(Atom::Quarter) => {
                used += 1;
                Some(u64::from(k) * 250)
            }
            // "three quarters"
            Some(Atom::Quarter) if and == 0 && (1..=3).contains(&n) => {
                milli = 0;
                Some(n * 250)
            }
            // "three and a quarter", `3 1/2`
            part => part.and_then(fraction),
        };
        if let Some(part) = part {
            milli = milli.saturating_add(part);
            used += and + 1;
        }
    }
    Ok((input.skip(used), milli))
}

/// A part of one, in thousandths: a half, a quarter, or as on a ruler (`3/8`).
fn fraction(atom: Atom) -> Option<u64> {
    match atom {
        Atom::Half => Some(500),
        Atom::Quarter => Some(250),
        Atom::Slash { left, right: right @ (2 | 4 | 8 | 16) } if (1..right).contains(&left) => {
            Some(u64::from(left) * 1000 / u64::from(right))
        }
        _ => None,
    }
}

/// A whole number.
pub(super) fn whole(input: Toks) -> Res<u64> {
    match amount(input) {
        Ok((rest, milli)) if milli % 1000 == 0 => Ok((rest, milli / 1000)),
        _ => input.fail(),
    }
}

/// Digits of an electronic number (ISO 11784).
const LONGEST_TAG: usize = 15;

/// More feet or claws nobody counts.
const MANY: u64 = 8;

/// A cow's number: groups of digits side by side. Gives the best reading and others that are possible.
pub(super) fn tag(input: Toks) -> Res<(String, Vec<String>)> {
    let mut read = groups(input, usize::MAX);
    if read.count > 1 && counts_something(input, &read) {
        read = groups(input, read.count - 1);
    }
    if read.used == 0 || read.best.len() > LONGEST_TAG {
        return input.fail();
    }
    Ok((input.skip(read.used), (read.best, read.others)))
}

/// As [`tag`], of a cow with more to be said of her: "145 two ulcers" is 145, and two of them.
pub(super) fn tag_of_cow<'a>(text: &str, input: Toks<'a>) -> Res<'a, (String, Vec<String>)> {
    if let Some(read) = digit_by_digit(input) {
        return Ok(read);
    }
    if let Some(whole) = broken_off(input) {
        return tag(whole);
    }
    let (rest, (best, mut others)) = tag(input)?;
    let used = input.0.len() - rest.0.len();
    let Some(Atom::Unit(n @ 1..=8)) = used.checked_sub(1).and_then(|last| atom(input.nth(last))) else {
        return Ok((rest, (best, others)));
    };
    // "cow 1181 two lesions", "cow 1920 one more thing": four figures and a word are hardly one number.
    let long = used == 2 && matches!(atom(input.nth(0)), Some(Atom::Digits { len: 4.., .. }));
    if long && input.0[1].gap <= Gap::Space {
        let less = groups(input, 1);
        let behind = words::behind(text, input.0[1].span.end as usize, " more things to say".len());
        let word = behind.trim_start().split(|c: char| !c.is_ascii_alphabetic()).next().unwrap_or_default();
        let counted = n > 1 && word.len() > 2 && word.ends_with('s') || word == "more";
        let joined = if counted { vec![] } else { vec![best] };
        return Ok((input.skip(less.used), (less.best, [joined, less.others].concat())));
    }
    let lesion = matches!(rest.meaning(), Some(Meaning::Disorder(_) | Meaning::Vague(_)));
    let device = matches!(rest.meaning(), Some(Meaning::Device(_) | Meaning::Devices(_)));
    // "cow 54 one front has a crack": it may count the foot.
    let end = matches!(rest.meaning(), Some(Meaning::End(_))) && !matches!(rest.nth(1), Some(Meaning::Side(_)));
    let Some(noun) = rest.first().filter(|t| t.gap <= Gap::Space && (lesion || device || end)) else {
        return Ok((rest, (best, others)));
    };
    // "six six one foul", "two oh one crossed toes": nobody counts those; and no number ends in "oh".
    let mass =
        matches!(rest.meaning(), Some(Meaning::Disorder(Disorder::IP | Disorder::HHE | Disorder::ID | Disorder::TS)));
    let plural = noun.span.of(text).ends_with('s');
    let nought = used >= 2 && matches!(atom(input.nth(used - 2)), Some(Atom::Unit(0)));
    if mass || n == 1 && plural || nought {
        return Ok((rest, (best, others)));
    }
    let all = groups(input, usize::MAX);
    let lone = all.count > 1 && all.used == used && all.last + 1 == used;
    let several = noun.span.of(text).ends_with(['s', 'S']) && n > 1;
    if !lone || !(several || n == 1) {
        return Ok((rest, (best, others)));
    }
    let less = groups(input, all.count - 1);
    // Said digit by digit, it may well be the last of them.
    let by_digits = matches!(atom(input.nth(all.last - 1)), Some(Atom::Unit(_)));
    // "cow 215 one block off": figures and a word are rarely one number.
    let written = matches!(atom(input.nth(all.last - 1)), Some(Atom::Digits { len: 3.., .. }));
    if n == 1 && written {
        return Ok((input.skip(less.used), (less.best, [vec![best], less.others].concat())));
    }
    if several && !by_digits {
        return Ok((input.skip(less.used), (less.best, less.others)));
    }
    others.push(less.best);
    Ok((rest, (best, others)))
}

/// "900 and, nine hundred and eight": where the whole number begins.
fn broken_off(input: Toks) -> Option<Toks> {
    let (hundreds, used) = cardinal_at(input).filter(|(n, _)| *n > 0 && n % 100 == 0)?;
    let whole = input.skip(used + 1);
    let again =
        input.nth(used) == Some(Meaning::And) && input.skip(used).gap() <= Gap::Space && whole.gap() == Gap::Comma;
    let (n, _) = cardinal_at(whole).filter(|_| again)?;
    (n / 100 * 100 == hundreds && n != hundreds).then_some(whole)
}

/// "tag five, nine, zero, two": three figures or more with a comma behind each, as recognisers write what is said slowly.
fn digit_by_digit(input: Toks) -> Option<(Toks, (String, Vec<String>))> {
    let figure = |t: &Tok| match t.meaning {
        Some(Meaning::Number(Atom::Unit(n @ 0..=9))) => Some(u64::from(n)),
        Some(Meaning::Number(Atom::Digits { value, len: 1 })) => Some(value),
        _ => None,
    };
    // "cow five, was a three, now a one": a word between them, and no digits of one number.
    let follows = |k: usize| input.0[k].gap == Gap::Comma && input.only_pause_before(input.skip(k));
    let count = input
        .0
        .iter()
        .take(LONGEST_TAG)
        .enumerate()
        .take_while(|(i, t)| figure(t).is_some() && (*i == 0 || follows(*i)))
        .count();
    let rest = input.skip(count);
    let apart = rest.0.is_empty() || rest.gap() > Gap::Space;
    let text = input.0[..count].iter().filter_map(figure).map(|n| n.to_string()).collect();
    (count >= 3 && apart).then_some((rest, (text, vec![])))
}

/// Whether the last group of digits is no part of the tag.
fn counts_something(input: Toks, read: &Groups) -> bool {
    let rest = input.skip(read.used);
    if rest.gap() > Gap::Space {
        return false;
    }
    match rest.meaning() {
        // "cow twelve three weeks ago": it counts the weeks.
        Some(Meaning::Unit(_) | Meaning::Period(_) | Meaning::OutOf) => true,
        // "cow 12 three feet clean": it counts the feet.
        Some(Meaning::FootNoun | Meaning::ClawNoun) => {
            small(input.skip(read.last)).is_some_and(|(n, len)| n <= MANY && read.last + len == read.used)
        }
        // "cow 314 two blocks on": behind a tag in figures it counts what follows. ("145 one block" may be 1451.)
        Some(Meaning::Devices(_)) => {
            let figures = matches!(input.meaning(), Some(Meaning::Number(Atom::Digits { len: 3.., .. })));
            let some = match input.nth(1) {
                Some(Meaning::Number(Atom::Unit(n))) => n > 1,
                Some(Meaning::Number(Atom::Digits { len: 1, .. })) => true,
                _ => false,
            };
            figures && some && read.last == 1 && read.used == 2
        }
        _ => false,
    }
}

/// Groups of digits side by side, joined.
#[derive(Default)]
struct Groups {
    best: String,
    others: Vec<String>,
    /// How many matches they took, where the last one begins, and how many there are.
    used: usize,
    last: usize,
    count: usize,
}

/// The first groups, `most` of them; none where they are longer than any tag.
fn groups(input: Toks, most: usize) -> Groups {
    let mut read = Groups::default();
    while read.count < most {
        let used = read.used;
        let here = input.skip(used);
        // A recogniser may end a sentence after each digit: "5. 5. 2."
        let digit = |t: Toks| matches!(atom(t.nth(0)), Some(Atom::Digits { len: 1, .. }));
        if used > 0
            && here.gap() > Gap::Space
            && !(here.gap() == Gap::Stop && digit(here) && digit(input.skip(used - 1)))
        {
            break;
        }
        // "160 two": a recogniser's figures, and what it heard as a word.
        let after_figures = used > 0 && matches!(atom(input.nth(used - 1)), Some(Atom::Digits { .. }));
        // "5 0 6" is said digit by digit, and no sum of 50 and 6.
        let after_nought =
            used > 0 && matches!(atom(input.nth(used - 1)), Some(Atom::Digits { value: 0, len: 1 } | Atom::Unit(0)));
        // "2266 2270 2271 fine": no tag is as long as two of three or four figures.
        let long = |m: Option<Meaning>| matches!(atom(m), Some(Atom::Digits { len: 3.., .. }));
        if used > 0 && here.gap() == Gap::Space && long(input.nth(used - 1)) && long(here.nth(0)) {
            break;
        }
        // "91 92 93 and 95 were clean": cows side by side, most likely.
        if used > 0 && is_next(input.nth(used - 1), here.nth(0)) {
            if read.count == 1
                && let Some((next, _)) = group(here, false, false)
            {
                read.others.push(format!("{}{}", read.best, next.text));
            }
            break;
        }
        let Some((group, n)) = group(here, used > 0 && !after_nought, after_figures) else {
            break;
        };
        read.join(group);
        read.last = used;
        read.used += n;
        read.count += 1;
        // No tag is that long, whatever the last group of it counts.
        if read.best.len() > 2 * LONGEST_TAG {
            return Groups::default();
        }
    }
    read
}

/// Whether a number in figures of two or more is one more than the one before.
fn is_next(before: Option<Meaning>, here: Option<Meaning>) -> bool {
    match (atom(before), atom(here)) {
        (Some(Atom::Digits { value, len: 2.. }), Some(Atom::Digits { value: next, len: 2.. })) => {
            value.checked_add(1) == Some(next)
        }
        _ => false,
    }
}

/// Digits of one group, and how many matches it took.
fn group(input: Toks, inside: bool, after_figures: bool) -> Option<(Digits, usize)> {
    let plain = |text: String| Digits { text, adds: false };
    Some(match atom(input.nth(0))? {
        Atom::Double | Atom::Treble => {
            let n = if atom(input.nth(0)) == Some(Atom::Double) { 2 } else { 3 };
            match atom(input.nth(1))? {
                Atom::Unit(u) => (plain(u.to_string().repeat(n)), 2),
                _ => return None,
            }
        }
        Atom::Decimal { .. } | Atom::Digits { .. } => {
            let digits = written(atom(input.nth(0))?)?;
            if matches!(atom(input.nth(1)), Some(Atom::Hundred | Atom::Thousand)) {
                let (n, used) = cardinal_at(input)?;
                return Some((plain(n.to_string()), used));
            }
            // "1000 and 8"
            if digits.ends_with("00")
                && input.nth(1) == Some(Meaning::And)
                && input.skip(2).gap() <= Gap::Space
                && let Some((n, used)) = small(input.skip(2))
                && n < 100
                // "cow 2300, and 84 millimetres"
                && !(input.0[1].gap > Gap::Space && matches!(input.nth(2 + used), Some(Meaning::Unit(_))))
            {
                let base: u64 = digits.parse().ok()?;
                return Some((plain(base.saturating_add(n).to_string()), 2 + used));
            }
            (Digits { text: digits, adds: inside }, 1)
        }
        Atom::Point | Atom::Half | Atom::Quarter | Atom::Slash { .. } | Atom::Iso { .. } => return None,
        Atom::Unit(0) => (plain("0".into()), 1),
        _ => {
            let (n, used) = cardinal_at(input)?;
            (Digits { text: n.to_string(), adds: after_figures }, used)
        }
    })
}

fn written(atom: Atom) -> Option<String> {
    match atom {
        Atom::Digits { value, len } => Some(format!("{value:0width$}", width = len as usize)),
        Atom::Decimal { milli, places } => {
            let part = format!("{:03}", milli % 1000);
            Some(format!("{}{}", milli / 1000, &part[..places as usize]))
        }
        _ => None,
    }
}

/// Digits of a group; `adds` where a recogniser may have written a sum apart ("270 4" for 274).
struct Digits {
    text: String,
    adds: bool,
}

impl Groups {
    /// Puts a group behind those before, and where it may add to them, also that.
    fn join(&mut self, group: Digits) {
        let sums = || self.texts().filter_map(|text| sum(text, &group.text)).collect();
        let added: Vec<String> = if group.adds { sums() } else { vec![] };
        if self.best.is_empty() {
            self.best = group.text;
        } else {
            self.best += &group.text;
            for text in &mut self.others {
                *text += &group.text;
            }
        }
        self.others.extend(added);
    }

    fn texts(&self) -> impl Iterator<Item = &String> {
        std::iter::once(&self.best).chain(&self.others)
    }
}

/// "270 4" as 274.
fn sum(text: &str, more: &str) -> Option<String> {
    let zeros = text.len() - text.trim_end_matches('0').len();
    let adds = zeros >= more.len() && zeros < text.len() && !more.starts_with('0');
    adds.then(|| format!("{}{more}", &text[..text.len() - more.len()]))
}

/// Zone numbers: "four", "four and five", `4,5`, "one two". `counted` tells of a number behind a comma whether it
/// counts something else.
pub(super) fn list<'a>(input: Toks<'a>, counted: impl Fn(Toks<'a>) -> bool) -> Res<'a, Vec<u64>> {
    let mut rest = input;
    let mut out = Vec::new();
    loop {
        let mut here = rest;
        let mut named = out.is_empty();
        if !named {
            if here.meaning() == Some(Meaning::And) {
                here = here.skip(1);
            }
            if here.meaning() == Some(Meaning::ZoneCue) {
                here = here.skip(1);
                named = true;
            }
        }
        // `z4/5`
        if let Some(Atom::Slash { left: left @ 0..=12, right: right @ 0..=12 }) = atom(here.nth(0)) {
            out.extend([u64::from(left), u64::from(right)]);
            rest = here.skip(1);
            continue;
        }
        let Some((n, used)) = small(here) else { break };
        // "zone five oh and the left hind": an exclamation, where no "zone" stands before it.
        let oh = n == 0 && here.first().is_some_and(|t| t.span.end - t.span.start == "oh".len() as u32);
        if oh && !named {
            break;
        }
        if !out.is_empty() {
            let next = here.nth(used);
            let counts =
                matches!(next, Some(Meaning::Unit(_) | Meaning::Period(_) | Meaning::OutOf | Meaning::Number(_)));
            // "zone four, I put one block of wood on the inside"
            let counts = counts
                || here.gap() > Gap::Space
                    && matches!(next, Some(Meaning::Device(_) | Meaning::Shoe | Meaning::Material(_)));
            if n > 12 || here.gap() == Gap::Stop || counts || counted(here) {
                break;
            }
        }
        out.push(n);
        rest = here.skip(used);
        // One zone a number: after "zone 45" nothing more is taken.
        if n > 12 {
            break;
        }
    }
    if out.is_empty() { input.fail() } else { Ok((rest, out)) }
}
