//! The farm in a heading: a name, and what is a note behind it ("rechecks", "dry cows", "pm").

use std::collections::HashMap;
use std::ops::Range;

use super::date::{self, Is, Piece};
use super::errand::NOT_A_HEADING;
use super::heading::{Heading, Standing};
use super::heads;

/// What a heading says of a visit that is neither its day nor its farm.
const NOTES: &[&str] = &[
    "rechecks",
    "recheck",
    "rechks",
    "rechk",
    "rcks",
    "rck",
    "rcs",
    "rc",
    "r/c",
    "checks",
    "revisit",
    "dry",
    "drys",
    "cow",
    "cows",
    "milkers",
    "milking",
    "herd",
    "hfr",
    "hfrs",
    "heifer",
    "heifers",
    "calvers",
    "lame",
    "lames",
    "trims",
    "trimming",
    "routine",
    "emergency",
    "extra",
    "extras",
    "only",
    "just",
    "rest",
    "last",
    "left",
    "again",
    "there",
    "back",
    "still",
    "more",
    "part",
    "pt",
    "cont",
    "contd",
    "cont'd",
    "continued",
    "day",
    "am",
    "pm",
    "morning",
    "afternoon",
    "eve",
    "evening",
    "lot",
    "batch",
    "group",
    "grp",
    "pen",
    "shed",
    "first",
    "second",
    "third",
    "half",
    "blocks",
    "blks",
];

/// Words that a note may have within.
const JOINTS: &[&str] = &["of", "the", "and", "all", "some", "few", "off", "to", "do", "a"];

/// Nouns of farms that may be written small.
const NOUNS: &[&str] = &["farm", "fm", "dairy", "dairies", "estate", "house", "hall", "grange", "ltd", "bros"];

fn is_note(word: &str) -> bool {
    NOTES.contains(&word)
}

/// A part of a heading between signs and what was used.
struct Part {
    pieces: Range<usize>,
    bracket: bool,
}

/// What is left between the pieces that were used, cut at commas, brackets and dashes.
fn parts(pieces: &[Piece], used: &[bool]) -> Vec<Part> {
    let blank = |at: Option<usize>| at.and_then(|at| pieces.get(at)).is_none_or(|p| p.is == Is::Blank);
    let mut out = Vec::new();
    let (mut from, mut bracket) = (0, false);
    for i in 0..=pieces.len() {
        let is = pieces.get(i).map(|p| &p.is);
        let cuts = match is {
            None | Some(Is::Sign(',' | ';' | ':' | '(' | ')' | '[' | ']' | '+')) => true,
            Some(Is::Sign('-' | '\u{2013}' | '\u{2014}')) => blank(i.checked_sub(1)) || blank(Some(i + 1)),
            Some(_) => used[i],
        };
        if !cuts {
            continue;
        }
        if pieces[from..i].iter().any(|p| matches!(p.is, Is::Word(_) | Is::Number { .. })) {
            out.push(Part { pieces: from..i, bracket });
        }
        match is {
            Some(Is::Sign('(' | '[')) => bracket = true,
            Some(Is::Sign(')' | ']')) => bracket = false,
            _ => {}
        }
        from = i + 1;
    }
    out
}

/// Marks as used what is a note: parts of nothing else, and small words at the edges of a part.
pub(super) fn notes(text: &str, pieces: &[Piece], used: &mut [bool]) {
    for part in parts(pieces, used) {
        let said: Vec<usize> =
            part.pieces.filter(|i| matches!(pieces[*i].is, Is::Word(_) | Is::Number { .. })).collect();
        let word = |i: usize| if let Is::Word(w) = &pieces[i].is { Some(w.as_str()) } else { None };
        let numbered = |k: usize| {
            word(said[k]).is_none() && k.checked_sub(1).is_some_and(|b| word(said[b]).is_some_and(heads::is_numbered))
        };
        let ordinal = |k: usize| {
            word(said[k]).is_none() && said.get(k + 1).is_some_and(|n| word(*n).is_some_and(date::is_ordinal))
                || word(said[k]).is_some_and(date::is_ordinal)
        };
        let note = |k: usize| word(said[k]).is_some_and(is_note) || numbered(k) || ordinal(k);
        let small = |k: usize| note(k) && !text[pieces[said[k]].at.clone()].starts_with(char::is_uppercase);
        let joint = |k: usize| word(said[k]).is_some_and(|w| JOINTS.contains(&w));
        let all = (0..said.len()).all(|k| note(k) || joint(k))
            && (0..said.len()).any(note)
            && said.iter().any(|i| word(*i).is_some());
        let first = if all { said.len() } else { (0..said.len()).take_while(|k| small(*k)).count() };
        let last = if all { 0 } else { (0..said.len()).rev().take_while(|k| small(*k)).count() };
        for at in said[..first].iter().chain(&said[said.len() - last..]) {
            used[*at] = true;
        }
    }
}

/// The name among what is left: the first with a capital, else the longest.
pub(super) fn farm(text: &str, pieces: &[Piece], used: &[bool]) -> Option<String> {
    let mut names: Vec<(&str, bool)> = Vec::new();
    let mut end: Option<usize> = None;
    for part in parts(pieces, used) {
        let raw = |range: Range<usize>| &text[pieces[range.start].at.start..pieces[range.end - 1].at.end];
        let start = part.pieces.start;
        let name = trimmed(raw(part.pieces.clone()));
        let label = matches!(name.to_lowercase().as_str(), "farm" | "place" | "site" | "client" | "herd" | "at");
        if !name.chars().any(char::is_alphabetic) || label {
            continue;
        }
        // `Oak Lane Farm, Hilltown` is one name.
        let capital = name.starts_with(char::is_uppercase);
        let joins = |end: usize| {
            capital && !part.bracket && pieces[end..start].iter().all(|p| matches!(p.is, Is::Sign(',') | Is::Blank))
        };
        match (names.last_mut(), end.filter(|e| joins(*e))) {
            (Some(last), Some(_)) if last.0.starts_with(char::is_uppercase) => {
                let from = last.0.as_ptr() as usize - text.as_ptr() as usize;
                let to = name.as_ptr() as usize - text.as_ptr() as usize + name.len();
                last.0 = &text[from..to];
            }
            _ => names.push((name, part.bracket)),
        }
        end = Some(part.pieces.end);
    }
    let outside = names.iter().filter(|n| !n.1 && n.0.len() > 1);
    let capital = outside.clone().find(|n| n.0.starts_with(char::is_uppercase));
    let long = |n: &&(&str, bool)| n.0.len();
    let best = capital.or_else(|| outside.max_by_key(long)).or_else(|| names.iter().max_by_key(long));
    best.map(|n| n.0).filter(|n| n.len() > 1).map(str::to_owned)
}

fn trimmed(name: &str) -> &str {
    let name = name.trim_matches(|c: char| !c.is_alphanumeric()).trim();
    name.strip_prefix("at ").unwrap_or(name)
}

/// A line that may be a farm's name by itself: a few words, each with a capital, no figures but heads counted.
pub(super) fn farm_alone(line: &str) -> Option<(String, Option<u32>)> {
    let pieces = date::pieces(line);
    let mut h = Heading::default();
    let mut used = vec![false; pieces.len()];
    heads::heads(&pieces, &mut h, &mut used);
    let rest: Vec<&Piece> = pieces.iter().zip(&used).filter(|(_, u)| !**u).map(|(p, _)| p).collect();
    let words: Vec<&Piece> = rest.iter().filter(|p| matches!(p.is, Is::Word(_))).copied().collect();
    let small = |w: &str| matches!(w, "of" | "the" | "and" | "on" | "at" | "in" | "upon");
    let capital =
        |p: &&Piece| matches!(&p.is, Is::Word(w) if small(w)) || line[p.at.clone()].starts_with(char::is_uppercase);
    let plain = rest
        .iter()
        .all(|p| matches!(p.is, Is::Word(_) | Is::Blank | Is::Sign(',' | '.' | '-' | '\'' | '&' | '(' | ')' | ':')));
    let errand = |p: &&Piece| matches!(&p.is, Is::Word(w) if NOT_A_HEADING.contains(&w.as_str()));
    if !plain || words.is_empty() || words.len() > 5 || !words.iter().all(capital) || words.iter().any(errand) {
        return None;
    }
    farm(line, &pieces, &used).map(|f| (f, h.head))
}

/// The farms that a file has named so far.
#[derive(Debug, Default)]
pub(super) struct Farms {
    /// By their first word: all of their words, and the name as it was first written.
    by_word: HashMap<String, Vec<(Vec<String>, String)>>,
    /// Whether any is written with a capital.
    pub(super) capital: bool,
}

/// A name beside the farms that are known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Known {
    /// The same one, as it was first written.
    Same(String),
    /// A farm with a note behind it.
    Noted(String),
    /// A farm with something that looks like a part of a name; or a part of the name of one farm.
    Like(String),
    New,
}

impl Farms {
    pub(super) fn add(&mut self, name: &str) {
        let words = words(name);
        let Some(first) = words.first().cloned().filter(|_| name.len() > 2) else { return };
        let there = self.by_word.entry(first).or_default();
        if there.iter().all(|t| t.0 != words) {
            self.capital |= name.starts_with(char::is_uppercase);
            there.push((words, name.to_owned()));
        }
    }

    /// The longest farm that these words begin with.
    fn at(&self, said: &[String]) -> Option<&(Vec<String>, String)> {
        let there = self.by_word.get(said.first()?)?;
        there.iter().filter(|(words, _)| said.starts_with(words)).max_by_key(|t| t.0.len())
    }

    /// The farm that a line holds, and its other words, in small letters; whether it begins with the farm.
    pub(super) fn held(&self, line: &str) -> Option<(&str, Vec<String>, bool)> {
        if self.by_word.is_empty() {
            return None;
        }
        let said = words(line);
        let (i, (farm, name)) = (0..said.len()).find_map(|i| Some((i, self.at(&said[i..])?)))?;
        let rest = said[..i].iter().chain(&said[i + farm.len()..]).cloned().collect();
        Some((name, rest, i == 0))
    }

    pub(super) fn known(&self, name: &str) -> Known {
        let said = words(name);
        if let Some((farm, known)) = self.at(&said) {
            let Some(tail) = said.get(farm.len()) else { return Known::Same(known.clone()) };
            let capital =
                name.split(|c: char| !(c.is_alphanumeric() || c == '\'')).filter(|w| !w.is_empty()).nth(farm.len());
            let part = capital.is_some_and(|w| w.starts_with(char::is_uppercase)) || NOUNS.contains(&tail.as_str());
            return if part { Known::Like(known.clone()) } else { Known::Noted(known.clone()) };
        }
        let Some(there) = said.first().and_then(|f| self.by_word.get(f)) else { return Known::New };
        let mut longer = there.iter().filter(|(words, _)| words.starts_with(&said));
        match (longer.next(), longer.next()) {
            (Some(one), None) => Known::Like(one.1.clone()),
            _ => Known::New,
        }
    }
}

/// The words of a name, in small letters.
fn words(name: &str) -> Vec<String> {
    let apart = name.split(|c: char| !(c.is_alphanumeric() || c == '\''));
    apart.filter(|w| !w.is_empty()).map(|w| w.trim_matches('\'').to_lowercase()).collect()
}

/// A line without a day that names a farm of the file, and little else: perhaps a visit.
pub(super) fn with_farm(line: &str, farms: &Farms) -> Option<Heading> {
    let (name, rest, leads) = farms.held(line)?;
    if line.contains(['=', '@', '£', '$', '€', '?', '!', '%', '/']) {
        return None;
    }
    let pieces = date::pieces(line);
    let mut h = Heading { farm: Some(name.to_owned()), standing: Standing::Dayless, ..Heading::default() };
    let second = rest.iter().any(|w| w == "day");
    h.after = second.then_some(1);
    let mut used = vec![false; pieces.len()];
    heads::heads(&pieces, &mut h, &mut used);
    let errand = |w: &String| {
        !is_note(w) && (NOT_A_HEADING.contains(&w.as_str()) || super::errand::ERRANDS.contains(&w.as_str()))
    };
    if rest.iter().any(|w| w.len() > 3 && w.bytes().all(|b| b.is_ascii_digit())) {
        return None;
    }
    let noted = rest.iter().all(|w| is_note(w) || w.bytes().all(|b| b.is_ascii_digit()) || heads::counts_heads(w));
    (!rest.iter().any(errand) && (noted || leads) && rest.len() <= 4).then_some(h)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn farms(names: &[&str]) -> Farms {
        let mut farms = Farms::default();
        for name in names {
            farms.add(name);
        }
        farms
    }

    #[test]
    fn a_name_is_looked_up_with_what_stands_behind_it() {
        let farms = farms(&["Thornybank", "Cold Spring Dairy"]);
        assert_eq!(farms.known("thornybank"), Known::Same("Thornybank".to_owned()));
        assert_eq!(farms.known("Thornybank wet ones"), Known::Noted("Thornybank".to_owned()));
        assert_eq!(farms.known("Thornybank East"), Known::Like("Thornybank".to_owned()));
        assert_eq!(farms.known("Cold Spring"), Known::Like("Cold Spring Dairy".to_owned()));
        assert_eq!(farms.known("Thorny Bank"), Known::New);
        assert_eq!(farms.held("2nd day at Thornybank").map(|h| h.0), Some("Thornybank"));
    }

    #[test]
    fn a_line_with_a_farm_may_be_a_visit_and_an_errand_is_none() {
        let farms = farms(&["Thornybank"]);
        for line in
            ["Thornybank", "Thornybank day 2", "Thornybank rechecks", "Thornybank, 12 dry cows", "again Thornybank"]
        {
            assert!(with_farm(line, &farms).is_some(), "{line}");
        }
        for line in [
            "ring Thornybank",
            "Thornybank owes 330",
            "blades for Thornybank",
            "Thornybank gate code 4471",
            "Thornybank 0555 0142",
        ] {
            assert!(with_farm(line, &farms).is_none(), "{line}");
        }
    }
}
