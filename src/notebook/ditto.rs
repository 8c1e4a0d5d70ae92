//! Ditto marks, by columns: what the line above has for the cow, the foot, the finding.

use std::ops::Range;

use super::rewrite::Rewrite;
use super::roles::{Role, Roles};
use crate::matches::Context;
use crate::vocab::Vocabulary;

/// The line above as its columns.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Above {
    pub(super) cow: String,
    /// All that is said of her.
    pub(super) rest: String,
}

/// Where the ditto marks of a text stand.
pub(super) fn marks(text: &str) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let mut at = 0;
    for word in text.split_inclusive(char::is_whitespace) {
        let bare = word.trim_end();
        let last = at + word.len() == text.len();
        // Without its dot it is a mark only where nothing is left to do.
        let alone = !bare.eq_ignore_ascii_case("do") || last;
        if (is_mark(bare) && alone) || (at == 0 && tag_and_mark(bare)) {
            let from = if is_mark(bare) { 0 } else { bare.trim_end_matches(['"', '\'', '\u{3003}']).len() };
            out.push(at + from..at + bare.len());
        }
        at += word.len();
    }
    out
}

pub(super) fn is_mark(word: &str) -> bool {
    let word = word.trim_end_matches([',', ';']);
    matches!(
        word.to_ascii_lowercase().as_str(),
        "\"" | "''"
            | "\"\""
            | "\u{3003}"
            | ",,"
            | "-\"-"
            | "-''-"
            | "~\"~"
            | "-,,-"
            | "\"-"
            | "-\""
            | "do"
            | "do."
            | "d.o."
            | "ditto"
            | "dto"
            | "dto."
            | "//"
            | "\u{2016}"
            | "-\u{3003}-"
            | "\u{2014}\"\u{2014}"
            | "\u{2013}\"\u{2013}"
            | "--\"--"
    )
}

/// `19"`
fn tag_and_mark(word: &str) -> bool {
    let bare = word.trim_end_matches(['"', '\'', '\u{3003}']);
    bare.len() < word.len()
        && !bare.is_empty()
        && bare.bytes().all(|b| b.is_ascii_digit())
        && !word.ends_with(|c: char| c == '\'' && word.len() - bare.len() == 1)
}

/// Puts what the marks stand for in their place; `None` where there is nothing above.
///
/// `body` is the text after the cow's number, `from` where it begins in the text that `line` has.
pub(super) fn resolve(
    line: &Rewrite,
    body: Range<usize>,
    above: &Above,
    vocab: &Vocabulary,
    flat: &Context,
) -> Rewrite {
    let text = &line.text[body.clone()];
    let marks: Vec<Range<usize>> = marks(text).into_iter().map(|m| m.start + body.start..m.end + body.start).collect();
    if marks.is_empty() {
        return line.clone();
    }
    let columns = Columns::of(&above.rest, vocab, flat);
    let before = Roles::of(&line.text[body.start..marks[0].start], vocab, flat);
    let after = Roles::of(&line.text[marks.last().map_or(body.end, |m| m.end)..body.end], vocab, flat);
    let mut edits: Vec<(Range<usize>, String)> = Vec::new();
    let place_said = before.has(Role::Foot);
    match marks.as_slice() {
        // `19 LF "`: the finding, and what was done.
        [one] if place_said => edits.push((one.clone(), columns.without(&after, true))),
        // `19 " DD`: the foot.
        [one] if after.has(Role::What) || after.has(Role::Clear) => edits.push((one.clone(), columns.place.clone())),
        // `19 " RH`: the same on another foot.
        [one] if after.has(Role::Foot) => edits.push((one.clone(), columns.without(&after, true))),
        // `19 "`, `19 " z3`: all of it, but for what the line says itself.
        [one] => edits.push((one.clone(), columns.without(&after, false))),
        [first, .., last] => {
            let others = marks[1..marks.len() - 1].iter().cloned();
            if place_said {
                edits.push((first.clone(), columns.without(&after, true)));
                edits.extend(others.chain([last.clone()]).map(|m| (m, String::new())));
            } else {
                edits.push((first.clone(), columns.place.clone()));
                let second = marks[1].clone();
                // `19 " DD "`: the foot, then what was done.
                let between = Roles::of(&line.text[first.end..second.start], vocab, flat);
                let what = if between.has(Role::What) { columns.deeds.clone() } else { columns.without(&after, true) };
                edits.push((second, what));
                edits.extend(marks[2..].iter().map(|m| (m.clone(), String::new())));
            }
        }
        [] => {}
    }
    line.with(&edits)
}

/// A line's rest, taken apart.
struct Columns<'a> {
    rest: &'a str,
    toks: Vec<(Range<usize>, Role)>,
    place: String,
    /// What was done.
    deeds: String,
    /// The tokens that are the place.
    place_at: Range<usize>,
}

impl<'a> Columns<'a> {
    fn of(rest: &'a str, vocab: &Vocabulary, flat: &Context) -> Self {
        let roles = Roles::of(rest, vocab, flat);
        let toks: Vec<(Range<usize>, Role)> =
            roles.toks.iter().map(|(t, r)| (t.span.start as usize..t.span.end as usize, *r)).collect();
        let first = toks.iter().position(|t| t.1 == Role::Foot);
        let place_at = first.map_or(0..0, |first| {
            let mut end = first + 1;
            while toks.get(end).is_some_and(|t| matches!(t.1, Role::Foot | Role::Claw)) {
                end += 1;
            }
            let mut start = first;
            while start > 0 && toks[start - 1].1 == Role::Claw {
                start -= 1;
            }
            start..end
        });
        let place = toks.get(place_at.clone()).map_or(String::new(), |t| join(rest, t));
        let from = toks.iter().position(|t| t.1 == Role::Deed);
        let deeds = from.map_or(String::new(), |f| join(rest, &toks[f..]));
        Self { rest, toks, place, deeds, place_at }
    }

    /// The rest without what the line below says itself: the place, and the kinds of words that it has.
    fn without(&self, own: &Roles, place: bool) -> String {
        let roles: Vec<Role> = [Role::Detail, Role::Score, Role::Due].into_iter().filter(|r| own.has(*r)).collect();
        if !place && roles.is_empty() {
            return self.rest.trim().to_owned();
        }
        let mut out = String::new();
        let mut at = 0;
        let mut skip_number = false;
        for (i, (range, role)) in self.toks.iter().enumerate() {
            let gone =
                (place && self.place_at.contains(&i)) || roles.contains(role) || (skip_number && *role == Role::Number);
            skip_number = gone && *role != Role::Number || skip_number && *role == Role::Number;
            if gone {
                out.push_str(&self.rest[at..range.start]);
            } else {
                out.push_str(&self.rest[at..range.end]);
                skip_number = false;
            }
            at = range.end;
        }
        out.push_str(&self.rest[at..]);
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

fn join(text: &str, toks: &[(Range<usize>, Role)]) -> String {
    match toks {
        [] => String::new(),
        [one] => text[one.0.clone()].to_owned(),
        [first, .., last] => text[first.0.start..last.0.end].to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn resolved(above: &str, body: &str) -> String {
        let vocab = Vocabulary::built_in();
        let above = Above { cow: "18".to_owned(), rest: above.to_owned() };
        let line = Rewrite::copy(body, 0);
        resolve(&line, 0..body.len(), &above, &vocab, &Context::flat()).text
    }

    #[test]
    fn a_mark_stands_for_its_column() {
        assert_eq!(resolved("ok", "\""), "ok");
        assert_eq!(resolved("LRO SU z4 blk", "\""), "LRO SU z4 blk");
        assert_eq!(resolved("LRO SU z4 blk", "RRO \""), "RRO SU z4 blk");
        assert_eq!(resolved("LRO SU z4 blk", "\" DD wrp"), "LRO DD wrp");
        assert_eq!(resolved("LR out SU z4 blk", "do. WL z3"), "LR out WL z3");
        assert_eq!(resolved("LRO SU z4 blk", "\" \""), "LRO SU z4 blk");
        assert_eq!(resolved("LRO SU z4 blk", "\" z3"), "LRO SU blk z3");
        assert_eq!(resolved("LRO SU z4 blk", "-\"- RH"), "SU z4 blk RH");
        assert_eq!(resolved("LH DD wrp", "\" SU \""), "LH SU wrp");
        assert_eq!(resolved("LRO SU z4", "\" wrp"), "LRO SU z4 wrp");
    }

    #[test]
    fn quotes_and_inches_are_no_marks() {
        assert!(marks("LH DD \"bad one\"").is_empty());
        assert!(marks("toe 3\"").is_empty());
        assert_eq!(marks("19\"").len(), 1);
    }
}
