//! Ditto marks, by columns: what the line above has for the cow, the foot, the finding.

use std::ops::Range;

use super::rewrite::Rewrite;
use super::roles::{Role, Roles};
use crate::anatomy::{Claw, Foot};
use crate::matches::Context;
use crate::vocab::{Kind, Meaning, Vocabulary};

/// The line above as its columns.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Above {
    pub(super) cow: String,
    /// All that is said of her.
    pub(super) rest: String,
}

/// Words that repeat the line above where they come right behind the cow's number; the longest first.
const REPEATS: [&str; 9] =
    ["the same as above", "same as above", "same as last", "as above", "as last", "same again", "same", "ditto", "do"];

/// Where the ditto marks of a text stand. `of_her` tells that it begins with what is said of a cow: there words are marks
/// too, where the trade's words follow.
pub(super) fn marks(text: &str, of_her: bool, trade: impl Fn(&str) -> bool) -> Vec<Range<usize>> {
    let mut out: Vec<Range<usize>> = Vec::new();
    let mut at = 0;
    if of_her && let Some(range) = repeat(text, trade) {
        at = range.end;
        out.push(range);
    }
    for word in text[at..].split_inclusive(char::is_whitespace) {
        let bare = word.trim_end();
        let last = text[at + word.len()..].trim().is_empty();
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

/// "do both rears", "same RR", "as above": the words at the start of the text that stand for the line above.
fn repeat(text: &str, trade: impl Fn(&str) -> bool) -> Option<Range<usize>> {
    let start = text.len() - text.trim_start_matches(|c: char| c.is_whitespace() || ",:-=".contains(c)).len();
    let lower = text[start..].to_ascii_lowercase();
    let ends = |rest: &str| !rest.starts_with(|c: char| c.is_alphanumeric() || c == '.');
    let words = REPEATS.iter().find(|r| lower.strip_prefix(**r).is_some_and(ends))?;
    let comma = text[start + words.len()..].starts_with([',', ';', ':']);
    let end = start + words.len() + usize::from(comma);
    let rest = text[end..].trim_start();
    let lower = rest.to_ascii_lowercase();
    let rest = ["but ", "with ", "only "].iter().find_map(|w| lower.strip_prefix(w)).unwrap_or(&lower);
    (rest.is_empty() || rest.starts_with(|c: char| ",;+&-.".contains(c)) || trade(rest)).then_some(start..end)
}

pub(super) fn is_mark(word: &str) -> bool {
    let word = if word == ",," { word } else { word.trim_end_matches([',', ';']) };
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

/// Puts what the marks stand for in their place: what the line has itself before a place and a mark, else what the line
/// above has. `of_her` as for [`marks`].
pub(super) fn resolve(
    line: &Rewrite,
    of_her: bool,
    above: Option<&Above>,
    vocab: &Vocabulary,
    flat: &Context,
) -> Rewrite {
    let roles = |text: &str| Roles::of(text, vocab, flat);
    let trade = |text: &str| roles(text).starts_with_trade();
    let own = within(line, &marks(&line.text, of_her, trade), vocab, flat);
    let (line, Some(above)) = (&own, above) else { return own };
    let marks = marks(&line.text, of_her, trade);
    let (Some(first), Some(last)) = (marks.first().cloned(), marks.last().cloned()) else { return own };
    let text = &line.text;
    let columns = Columns::of(&above.rest, vocab, flat);
    let before = roles(&text[..first.start]);
    let after = roles(&text[last.end..]);
    let place_said = before.has(Role::Foot);
    // The claw goes with what is repeated, where the line has none.
    let claw = |own: &Roles| if own.has_claw() { "" } else { columns.claw };
    let mut edits: Vec<(Range<usize>, String)> = Vec::new();
    match marks.as_slice() {
        // `19 LF DD "`: what was done.
        [one] if place_said && before.has(Role::What) => edits.push((one.clone(), columns.deeds.clone())),
        // `19 LF "`: the finding, and what was done.
        [one] if place_said => edits.push((one.clone(), spaced(claw(&before), &columns.without(&after, true)))),
        // `19 " DD`: the foot.
        [one] if after.has(Role::What) || after.has(Role::Clear) => edits.push((one.clone(), columns.place.clone())),
        // `19 " RH`: the same on another foot, which stands first.
        [one] if after.has(Role::Foot) => {
            let place = after.first_place();
            let own = roles(&text[last.end + place.start..last.end + place.end]);
            edits.push((one.clone(), String::new()));
            let at = last.end + place.end;
            edits.push((at..at, format!(" {}", spaced(claw(&own), &columns.without(&after, true)))));
        }
        // `19 "`, `19 " z3`: all of it, but for what the line says itself.
        [one] => edits.push((one.clone(), columns.without(&after, false))),
        [_, ..] if place_said => {
            edits.push((first, spaced(claw(&before), &columns.without(&after, true))));
            edits.extend(marks[1..].iter().map(|m| (m.clone(), String::new())));
        }
        [_, second, ..] => {
            // `19 " DD "`: the foot, then what was done.
            let between = roles(&text[first.end..second.start]);
            edits.push((first, columns.place.clone()));
            let what = if between.has(Role::What) { columns.deeds.clone() } else { columns.without(&after, true) };
            let what = if between.has(Role::What) { what } else { spaced(claw(&roles(&columns.place)), &what) };
            edits.push((second.clone(), what));
            edits.extend(marks[2..].iter().map(|m| (m.clone(), String::new())));
        }
        [] => {}
    }
    line.with(&edits)
}

/// `LH DD M1, RH " M4`: a mark behind a place repeats what the line has found on the place before.
fn within(line: &Rewrite, marks: &[Range<usize>], vocab: &Vocabulary, flat: &Context) -> Rewrite {
    let mut edits = Vec::new();
    for mark in marks {
        if let Some(part) = part_before(&line.text[..mark.start]) {
            edits.push((mark.clone(), part.to_owned()));
            continue;
        }
        let before = Roles::of(&line.text[..mark.start], vocab, flat);
        let place = before.last_place();
        let said = &line.text[..place.start];
        if place.is_empty() || !line.text[place.end..mark.start].trim().is_empty() {
            continue;
        }
        let Some(found) = Columns::of(said, vocab, flat).last_found() else { continue };
        let behind = Roles::of(&line.text[mark.end..], vocab, flat);
        let own = Roles::of(&line.text[mark.end..mark.end + behind.first_place().start], vocab, flat);
        let own = if behind.has(Role::Foot) { own } else { behind };
        edits.push((mark.clone(), Columns::of(found, vocab, flat).without(&own, false)));
    }
    if edits.is_empty() { line.clone() } else { line.with(&edits) }
}

/// `7 LH DD; 8 "`: what is said of the cow before, where another one's part begins with the mark.
fn part_before(text: &str) -> Option<&str> {
    let (before, part) = text.rsplit_once(';')?;
    part.trim().strip_prefix("cow ")?.bytes().all(|b| b.is_ascii_digit()).then_some(())?;
    let before = before.rsplit_once(';').map_or(before, |b| b.1).trim();
    let cow = before.strip_prefix("cow ").map(|b| b.trim_start_matches(|c: char| c.is_ascii_digit()));
    Some(cow.unwrap_or(before).trim())
}

fn spaced(claw: &str, rest: &str) -> String {
    if claw.is_empty() || rest.is_empty() { rest.to_owned() } else { format!("{claw} {rest}") }
}

/// A line's rest, taken apart.
struct Columns<'a> {
    rest: &'a str,
    toks: Vec<(Range<usize>, Role, Option<Meaning>)>,
    place: String,
    /// The claw of the place, in words; empty where it has none.
    claw: &'static str,
    /// What was done.
    deeds: String,
    /// The tokens that are the place.
    place_at: Range<usize>,
}

impl<'a> Columns<'a> {
    fn of(rest: &'a str, vocab: &Vocabulary, flat: &Context) -> Self {
        let roles = Roles::of(rest, vocab, flat);
        let toks: Vec<(Range<usize>, Role, Option<Meaning>)> =
            roles.toks.iter().map(|(t, r)| (t.span.start as usize..t.span.end as usize, *r, t.meaning)).collect();
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
        let claw = toks[place_at.clone()].iter().find_map(|t| claw(t.2)).map_or("", Claw::words);
        let from = toks.iter().position(|t| t.1 == Role::Deed);
        let deeds = from.map_or(String::new(), |f| join(rest, &toks[f..]));
        Self { rest, toks, place, claw, deeds, place_at }
    }

    /// What was found last, or done where nothing was found, up to the next place.
    fn last_found(&self) -> Option<&'a str> {
        let is = |roles: &[Role]| self.toks.iter().rposition(|t| roles.contains(&t.1));
        let at = is(&[Role::What, Role::Clear]).or_else(|| is(&[Role::Deed]))?;
        let place = |t: &(Range<usize>, Role, Option<Meaning>)| matches!(t.1, Role::Foot | Role::Claw);
        let start = self.toks[..at].iter().rposition(place).map_or(at, |p| p + 1);
        let end = self.toks[at..].iter().position(place).map_or(self.toks.len(), |p| at + p);
        let part = &self.toks[start..end];
        Some(&self.rest[part.first()?.0.start..part.last()?.0.end])
    }

    /// The rest without what the line below says itself: the place, and the kinds of words that it has. A block on the
    /// foot of the place is one on that claw of the other foot.
    fn without(&self, own: &Roles, place: bool) -> String {
        let roles: Vec<Role> = [Role::Score, Role::Due].into_iter().filter(|r| own.has(*r)).collect();
        let details: Vec<u8> = own.toks.iter().filter_map(|t| detail(t.0.meaning)).collect();
        if !place && roles.is_empty() && details.is_empty() {
            return self.rest.trim().to_owned();
        }
        let foot = self.toks[self.place_at.clone()].iter().find_map(|t| foot(t.2));
        let mut out = String::new();
        let mut at = 0;
        let mut skip_number = false;
        for (i, (range, role, meaning)) in self.toks.iter().enumerate() {
            let place_of_it = place && self.place_at.contains(&i);
            let gone = place_of_it
                || roles.contains(role)
                || detail(*meaning).is_some_and(|d| details.contains(&d))
                || (skip_number && *role == Role::Number);
            skip_number = gone && *role != Role::Number || skip_number && *role == Role::Number;
            out.push_str(&self.rest[at..range.start]);
            if !gone {
                let same_foot = place && foot.is_some() && self::foot(*meaning) == foot;
                out.push_str(if same_foot {
                    claw(*meaning).map_or("", Claw::words)
                } else {
                    &self.rest[range.clone()]
                });
                skip_number = false;
            }
            at = range.end;
        }
        out.push_str(&self.rest[at..]);
        out.split_whitespace().collect::<Vec<_>>().join(" ").trim_start_matches([',', ';', ' ']).to_owned()
    }
}

/// Details that take each other's place: a zone a zone, a stage a stage.
fn detail(meaning: Option<Meaning>) -> Option<u8> {
    Some(match meaning? {
        Meaning::Severity(_) => 1,
        m => match m.kind() {
            Kind::Zone => 0,
            Kind::Severity | Kind::Grade => 1,
            Kind::Stage => 2,
            Kind::Course => 3,
            _ => return None,
        },
    })
}

fn foot(meaning: Option<Meaning>) -> Option<Foot> {
    match meaning? {
        Meaning::Foot(foot) | Meaning::Place(foot, _) => Some(foot),
        _ => None,
    }
}

fn claw(meaning: Option<Meaning>) -> Option<Claw> {
    match meaning? {
        Meaning::Claw(claw) | Meaning::Place(_, claw) => Some(claw),
        _ => None,
    }
}

fn join(text: &str, toks: &[(Range<usize>, Role, Option<Meaning>)]) -> String {
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
        let text = resolve(&line, true, Some(&above), &vocab, &Context::flat()).text;
        text.split_whitespace().collect::<Vec<_>>().join(" ")
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
        assert_eq!(resolved("LRO SU z4 blk", "-\"- RH"), "RH outer SU z4 blk");
        assert_eq!(resolved("LH DD wrp", "\" SU \""), "LH SU wrp");
        assert_eq!(resolved("LRO SU z4", "\" wrp"), "LRO SU z4 wrp");
        assert_eq!(resolved("LRO SU z4 gr 1", "\" z3"), "LRO SU gr 1 z3");
        assert_eq!(resolved("RRO SU z4, blk RRI", "\" LRO"), "LRO SU z4, blk inner");
        assert_eq!(resolved("LR DD wrp", "RF DD \""), "RF DD wrp");
    }

    #[test]
    fn words_behind_the_number_are_marks() {
        let above = "LRO WL z3";
        for (body, read) in [
            ("do", above),
            ("do.", above),
            ("same", above),
            ("as above", above),
            ("same as above", above),
            ("do RR", "RR outer WL z3"),
            ("do, RR", "RR outer WL z3"),
            ("ditto RR", "RR outer WL z3"),
            ("same RRI", "RRI WL z3"),
            ("same again RR", "RR outer WL z3"),
            ("as above but RR", "but RR outer WL z3"),
            ("do both rears", "both rears outer WL z3"),
            ("do LRO gr2", "LRO WL z3 gr2"),
            ("do blk in", "LRO WL z3 blk in"),
            ("do + wrp", "LRO WL z3 + wrp"),
            (",, RR", "RR outer WL z3"),
            ("do next time", "do next time"),
            ("same as 171", "same as 171"),
        ] {
            assert_eq!(resolved(above, body), read, "{body}");
        }
    }

    #[test]
    fn a_mark_behind_a_place_repeats_its_own_line() {
        let above = "LRO WL z3";
        assert_eq!(resolved(above, "LF/RF ok, LH DD M1, RH \" M4"), "LF/RF ok, LH DD M1, RH DD M4");
        assert_eq!(resolved(above, "LHO SU z4, RHO do., blks on inners"), "LHO SU z4, RHO SU z4 blks on inners");
        assert_eq!(resolved(above, "LHO SU z4 g1; RHO \""), "LHO SU z4 g1; RHO SU z4 g1");
        assert_eq!(resolved(above, "LHO SU z4 blk LHI, RHO do"), "LHO SU z4 blk LHI, RHO SU z4 blk");
    }

    #[test]
    fn quotes_and_inches_are_no_marks() {
        let marks = |text| marks(text, false, |_| false);
        assert!(marks("LH DD \"bad one\"").is_empty());
        assert!(marks("toe 3\"").is_empty());
        assert_eq!(marks("19\"").len(), 1);
    }
}
