//! How many head a heading counts: `22 hd`, `(22)`, `x22`, `40 cows + 6 hfrs`, `milkers 40, dry 6`, `40c 6h`.

use super::date::{Is, Piece};
use super::heading::Heading;

/// What goes with a number of heads.
pub(super) fn counts_heads(word: &str) -> bool {
    matches!(
        word,
        "hd" | "head"
            | "heads"
            | "cow"
            | "cows"
            | "hfr"
            | "hfrs"
            | "heifer"
            | "heifers"
            | "milkers"
            | "milking"
            | "calvers"
            | "cattle"
            | "beasts"
            | "bulls"
            | "dry"
            | "drys"
            | "dries"
            | "done"
            | "left"
    )
}

/// What stands before a number of heads.
fn announces_heads(word: &str) -> bool {
    counts_heads(word) || matches!(word, "last" | "all" | "total" | "remaining" | "rest")
}

/// What stands between the number and the heads.
fn describes_heads(word: &str) -> bool {
    matches!(word, "dry" | "lame" | "fresh" | "milking" | "bulling" | "maiden" | "young" | "old" | "stale" | "more")
}

/// What is numbered itself: `day 2`, `pen 3`.
pub(super) fn is_numbered(word: &str) -> bool {
    matches!(
        word,
        "day"
            | "part"
            | "pt"
            | "lot"
            | "group"
            | "grp"
            | "pen"
            | "batch"
            | "round"
            | "shed"
            | "no"
            | "p"
            | "pg"
            | "page"
            | "week"
            | "wk"
    )
}

/// Takes the numbers of heads; where there are several they are added up.
pub(super) fn heads(pieces: &[Piece], h: &mut Heading, used: &mut [bool]) {
    for i in 0..pieces.len() {
        if used[i] || !matches!(pieces[i].is, Is::Number { digits: 1..=4, .. }) {
            continue;
        }
        if let Some(taken) = counted(pieces, used, i, h.head.is_none()) {
            let Is::Number { value, .. } = pieces[i].is else { continue };
            h.head = Some(h.head.unwrap_or_default() + value);
            for at in taken {
                used[at] = true;
            }
        }
    }
}

/// The pieces that are a number of heads with the number at `i`; a number without a word for it is one only where it is
/// the `first`, or added to another.
fn counted(pieces: &[Piece], used: &[bool], i: usize, first: bool) -> Option<Vec<usize>> {
    let (before, next) = (before(pieces, i), after(pieces, i));
    let is_word = |at: Option<usize>, is: fn(&str) -> bool| {
        at.is_some_and(|at| !used[at] && matches!(&pieces[at].is, Is::Word(w) if is(w)))
    };
    if is_word(before, is_numbered) {
        return None;
    }
    // `40 hd`, `12 dry cows`, `40c`.
    let described = next.filter(|n| is_word(Some(*n), describes_heads)).and_then(|n| after(pieces, n));
    if let (Some(next), true) = (next, is_word(described, counts_heads)) {
        return Some([Some(i), Some(next), described].into_iter().flatten().collect());
    }
    let glued = i + 1;
    if is_word(next, counts_heads) || (next == Some(glued) && is_word(next, |w| matches!(w, "c" | "h"))) {
        let done = next.and_then(|n| after(pieces, n));
        let done = done.filter(|d| is_word(Some(*d), |w| matches!(w, "done" | "milking" | "left")));
        return Some([Some(i), next, done].into_iter().flatten().collect());
    }
    // `milkers 40`, `last 19`.
    if is_word(before, announces_heads) {
        return Some([before, Some(i)].into_iter().flatten().collect());
    }
    let number = |at: Option<usize>| at.is_some_and(|at| matches!(pieces[at].is, Is::Number { digits: 1..=4, .. }));
    let sign = |at: Option<usize>, c: char| at.is_some_and(|at| pieces[at].is == Is::Sign(c));
    let plus = |at: Option<usize>| sign(at, '+') || sign(at, '&');
    let summed = plus(before) && number(before.and_then(|b| self::before(pieces, b)))
        || plus(next) && number(next.and_then(|n| after(pieces, n)));
    let bracket = sign(i.checked_sub(1), '(') && sign(Some(i + 1).filter(|n| *n < pieces.len()), ')');
    let times = i.checked_sub(1).filter(|b| pieces[*b].is == Is::Word("x".to_owned()));
    // A number alone at the end of the heading, after a comma, a dash or blanks.
    // `(see 12/3)`: a part of a date.
    let of_date = i.checked_sub(1).is_some_and(|b| matches!(pieces[b].is, Is::Sign('/')));
    let list = of_date || before.is_some_and(|b| !used[b] && number(Some(b)));
    let last = !list && pieces[i + 1..].iter().all(|p| matches!(p.is, Is::Blank | Is::Sign('.' | ')')));
    (summed || (first && (bracket || times.is_some() || last)))
        .then(|| [times, Some(i)].into_iter().flatten().collect())
}

/// The piece before, over blanks.
fn before(pieces: &[Piece], i: usize) -> Option<usize> {
    (0..i).rev().find(|at| pieces[*at].is != Is::Blank)
}

/// The piece after, over blanks.
fn after(pieces: &[Piece], i: usize) -> Option<usize> {
    (i + 1..pieces.len()).find(|at| pieces[*at].is != Is::Blank)
}

/// `8am`, `7:30`.
pub(super) fn clock(pieces: &[Piece], used: &mut [bool]) {
    for i in 0..pieces.len() {
        let Is::Number { .. } = pieces[i].is else { continue };
        let half = matches!(pieces.get(i + 1).map(|p| &p.is), Some(Is::Word(w)) if matches!(w.as_str(), "am" | "pm"));
        if half {
            used[i..i + 2].fill(true);
        }
        if matches!(pieces.get(i + 1).map(|p| &p.is), Some(Is::Sign(':')))
            && matches!(pieces.get(i + 2).map(|p| &p.is), Some(Is::Number { digits: 2, .. }))
        {
            used[i..i + 3].fill(true);
            if matches!(pieces.get(i + 3).map(|p| &p.is), Some(Is::Word(w)) if matches!(w.as_str(), "am" | "pm")) {
                used[i + 3] = true;
            }
        }
    }
}
