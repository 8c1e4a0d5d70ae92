//! Headings that open a visit: weekday, date, farm, head count, in any common order; "same place", "next day".

use super::date::{self, Is, Piece, Written};
use super::errand::{COUNTED, ERRANDS, NOT_A_HEADING};
use super::roles::Roles;
use super::{farm, heads};

/// How sure it is that a line is a heading.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Standing {
    #[default]
    Sure,
    /// It begins or ends with a day, and what else it says is not known: a person has to tell.
    Asked,
    /// Only where it names a farm that the file has.
    WithFarm,
    /// It names a farm of the file, and no day.
    Dayless,
    /// A row of a table, whose farm stands in a column of its own.
    Row,
}

/// A heading as it was written, before the calendar is asked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Heading {
    /// 0 is Monday.
    pub weekday: Option<u32>,
    pub date: Option<Written>,
    /// Days after the heading before: "next day" is 1, "same day" 0.
    pub after: Option<i64>,
    pub farm: Option<String>,
    /// "same place".
    pub same_place: bool,
    /// Heads counted.
    pub head: Option<u32>,
    /// Letters were taken for digits.
    pub mended: bool,
    /// The year that the day may be: `Oct 09`.
    pub(super) maybe_year: Option<i32>,
    /// "Day 2": of a visit that began the day before.
    pub(super) goes_on: bool,
    pub(super) standing: Standing,
    /// What the name of the farm may be another name of.
    pub(super) like: Option<String>,
    /// It is not clear that the name is one.
    pub(super) odd_farm: bool,
}

/// The heading in a line, where it is one or may be one. `roles` are those of the line's words.
pub(super) fn heading(line: &str, roles: impl FnOnce() -> Roles) -> Option<Heading> {
    let text = page_mark(line).map_or(line, |rest| rest);
    if !may_be(text) {
        return None;
    }
    let pieces = date::pieces(text);
    let mut h = Heading::default();
    let mut used = vec![false; pieces.len()];
    let first = first_word(&pieces)?;
    when(&pieces, &mut h, &mut used);
    let again = phrases(&pieces, &mut h, &mut used);
    if h.date.is_none() && h.after.is_none() && h.weekday.is_none() && !h.same_place {
        return None;
    }
    let dated = used.clone();
    heads::heads(&pieces, &mut h, &mut used);
    heads::clock(&pieces, &mut used);
    let due = is_plan(text) || !dated[first] && pieces.iter().any(|p| matches!(&p.is, Is::Word(w) if is_recheck(w)));
    farm::notes(text, &pieces, &mut used);
    let rest: Vec<&Piece> = pieces.iter().zip(&used).filter(|(_, u)| !**u).map(|(p, _)| p).collect();
    if rest.iter().any(|p| matches!(p.is, Is::Sign('=' | '@' | '£' | '$' | '€' | '?' | '!' | '%'))) {
        return None;
    }
    // What begins with a number is said of a cow.
    if !used[first] && matches!(pieces[first].is, Is::Number { .. }) {
        return None;
    }
    // What the weather was is no errand beside a name.
    let name = rest.iter().any(|p| text[p.at.clone()].starts_with(char::is_uppercase));
    let said = |p: &&Piece| if let Is::Word(w) = &p.is { Some(w.clone()) } else { None };
    let words: Vec<String> = rest.iter().filter_map(said).filter(|w| !(name && is_weather(w))).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let to_do = words.contains(&"do");
    if due || to_do || is_errand(&words) {
        return None;
    }
    let numbers = rest.iter().filter(|p| matches!(p.is, Is::Number { .. })).count();
    h.farm = farm::farm(text, &pieces, &used).filter(|_| !h.same_place);
    let ditto = dated[first] && pieces.iter().any(|p| matches!(p.is, Is::Sign('"' | '\u{3003}')));
    h.same_place |= (again || ditto && words.is_empty()) && h.farm.is_none();
    let ends = (0..pieces.len())
        .rev()
        .find(|i| matches!(pieces[*i].is, Is::Word(_) | Is::Number { .. }))
        .is_some_and(|i| dated[i]);
    h.standing = standing(&h, text, &words, numbers, used[first], dated[first], ends);
    let roles = roles();
    if roles.trade() {
        return None;
    }
    if h.standing == Standing::Asked && roles.record() {
        h.standing = Standing::WithFarm;
    }
    Some(h)
}

/// How sure it is that a line is a heading. `leads` and `ends` tell where its day stands, `words` and `numbers` are those
/// that are neither day nor heads nor a note.
fn standing(
    h: &Heading,
    text: &str,
    words: &[&str],
    numbers: usize,
    leads: bool,
    leads_dated: bool,
    ends: bool,
) -> Standing {
    let named = |d: Written| {
        matches!(
            d,
            Written::Full { .. }
                | Written::Month { .. }
                | Written::Named { month: Some(_), .. }
                | Written::Figures { year: Some(_), .. }
        )
    };
    let strong =
        h.date.is_some_and(named) || (h.weekday.is_some() && h.date.is_some()) || h.after.is_some() || h.same_place;
    let capital = h.farm.as_deref().is_some_and(|f| f.starts_with(char::is_uppercase));
    let plain = words.is_empty() && numbers == 0;
    // A date after other words is a heading's only where those words are a name.
    let behind = capital && (strong || h.head.is_some()) && words.len() <= 6;
    let clean = strong || (h.farm.is_none() || capital) && numbers == 0;
    let few = words.len() <= 8 && numbers <= 1 && (numbers == 0 || h.farm.is_some() || h.same_place);
    if (leads || behind) && clean && few {
        return Standing::Sure;
    }
    // Only the day of a month, or of a week, is too little.
    let date = h.date.is_some_and(|d| !matches!(d, Written::Named { month: None, .. })) || (plain && h.date.is_some());
    // `Oak Lane` counts no lanes.
    let name =
        |w: &str| h.farm.as_deref().is_some_and(|f| capital && f.to_lowercase().split(' ').skip(1).any(|n| n == w));
    let errand = words.iter().any(|w| (ERRANDS.contains(w) || COUNTED.contains(w)) && !name(w));
    let small = words.first().is_some_and(|_| !capital);
    let asked = (leads_dated && words.len() <= 5 && !(small && is_share(h, text))) || (ends && words.len() <= 3);
    if date && asked && !errand && (plain || !words.is_empty()) { Standing::Asked } else { Standing::WithFarm }
}

/// Words of which an errand, a bill or a plan is made.
fn is_errand(words: &[&str]) -> bool {
    let said = words.join(" ");
    NOT_A_HEADING.iter().any(|w| if w.contains(' ') { said.contains(w) } else { words.contains(w) })
}

fn is_weather(word: &str) -> bool {
    matches!(word, "rain" | "raining" | "snow" | "snowing" | "wet" | "cold" | "hot" | "frost" | "windy")
}

/// What is to come, where it stands before a day.
fn is_recheck(word: &str) -> bool {
    matches!(word, "recheck" | "rck" | "rc" | "revisit")
}

/// "Next: Wed Jul 17", "come back 17 July": a visit to come, and none that was.
fn is_plan(text: &str) -> bool {
    const PLANS: [&str; 9] =
        ["next:", "next visit", "next time", "next trim", "back ", "come back", "coming back", "return ", "see again"];
    let begins = text.trim_start_matches(|c: char| !c.is_alphanumeric());
    PLANS.iter().any(|w| begins.get(..w.len()).is_some_and(|b| b.eq_ignore_ascii_case(w)))
}

/// `3/4 load hay`: a part of something, and no day.
fn is_share(h: &Heading, text: &str) -> bool {
    let figures = matches!(h.date, Some(Written::Figures { year: None, .. })) && h.weekday.is_none();
    let share = ["1/2", "1/3", "2/3", "1/4", "3/4", "1/8"].iter().find_map(|s| text.trim_start().strip_prefix(s));
    figures && share.is_some_and(|rest| !rest.starts_with(|c: char| c.is_ascii_digit()))
}

/// Whether a line has a day: figures, a month's name with a day or year, or a weekday.
pub fn has_day(line: &str) -> bool {
    let pieces = date::pieces(line);
    let mut h = Heading::default();
    when(&pieces, &mut h, &mut vec![false; pieces.len()]);
    h.date.is_some() || h.weekday.is_some()
}

/// The rest of a line that begins with a page mark: `p. 12`, `page 12`, `- 12 -`.
pub(super) fn page_mark(line: &str) -> Option<&str> {
    let text = line.trim();
    let lower = text.to_ascii_lowercase();
    let cue = ["page", "pge", "pg", "p"].iter().find(|c| lower.starts_with(**c))?;
    let after = text[cue.len()..].trim_start_matches(['.', ' ', ':', '#']);
    let digits = after.bytes().take_while(u8::is_ascii_digit).count();
    let glued = text.len() - after.len() == cue.len() && cue.len() > 1;
    if digits == 0 || digits > 3 || (glued && *cue == "p") {
        return None;
    }
    let rest = after[digits..].trim_start_matches(|c: char| " -:.,)/".contains(c));
    // "p 12 of 40", "page 12/40"
    let rest =
        rest.strip_prefix("of ").map_or(rest, |r| r.trim_start_matches(|c: char| c.is_ascii_digit() || c == ' '));
    let bare_p =
        *cue == "p" && !text[1..].starts_with(['.', ' ']) && !text[1..].starts_with(|c: char| c.is_ascii_digit());
    (!bare_p).then_some(rest)
}

/// Whether a look is worth while: a weekday, a month, a slash, dots between figures, or one of a few words.
fn may_be(text: &str) -> bool {
    let bytes = text.as_bytes();
    let digit = |i: usize| bytes.get(i).is_some_and(u8::is_ascii_digit);
    if (1..bytes.len()).any(|i| {
        matches!(bytes[i], b'/' | b'.' | b'-')
            && bytes[i - 1].is_ascii_alphanumeric()
            && bytes.get(i + 1).is_some_and(u8::is_ascii_alphanumeric)
            && (digit(i - 1) || digit(i + 1))
    }) {
        return true;
    }
    let ordinal =
        |i: usize| digit(i) && text.get(i + 1..i + 3).is_some_and(|w| date::is_ordinal(&w.to_ascii_lowercase()));
    if (0..bytes.len()).any(ordinal) {
        return true;
    }
    text.split(|c: char| !c.is_alphabetic()).filter(|w| w.len() >= 3 && w.len() <= 9).any(|w| {
        let w = w.to_ascii_lowercase();
        date::weekday(&w).is_some()
            || date::month(&w).is_some()
            || matches!(w.as_str(), "same" | "next" | "day" | "following")
    })
}

fn first_word(pieces: &[Piece]) -> Option<usize> {
    pieces.iter().position(|p| match &p.is {
        Is::Number { .. } => true,
        Is::Word(w) => !matches!(w.as_str(), "date" | "visit" | "on" | "day" | "dated") || pieces.len() < 3,
        _ => false,
    })
}

/// Weekday and date, the first of each.
fn when(pieces: &[Piece], h: &mut Heading, used: &mut [bool]) {
    let mut i = 0;
    while i < pieces.len() {
        if h.date.is_none()
            && let Some((date, end)) = date::date_at(pieces, i)
        {
            // "412/5": a part of something longer.
            let before = i.checked_sub(1).map(|b| &pieces[b].is);
            // "2nd day" is no day of a month.
            let counts_days = matches!(date, Written::Named { month: None, .. })
                && matches!(pieces.get(end + 1).map(|p| &p.is), Some(Is::Word(w)) if w == "day");
            if counts_days {
                i = end;
                continue;
            }
            if !matches!(before, Some(Is::Sign('/' | '-')))
                || matches!(i.checked_sub(2).map(|b| &pieces[b].is), Some(Is::Blank | Is::Word(_)))
            {
                h.date = Some(date);
                h.maybe_year =
                    date::maybe_year(pieces, i, end).filter(|_| matches!(date, Written::Named { year: None, .. }));
                h.mended = pieces[i..end].iter().any(|p| matches!(p.is, Is::Number { mended: true, .. }));
                used[i..end].fill(true);
                i = end;
                continue;
            }
        }
        if let Is::Word(w) = &pieces[i].is {
            if let Some(day) = date::weekday(w).filter(|_| h.weekday.is_none()) {
                h.weekday = Some(day);
                used[i] = true;
            } else if matches!(w.as_str(), "date" | "visit" | "dated") && i < 2 {
                used[i] = true;
            }
        }
        i += 1;
    }
}

/// "same place", "next day". Tells whether it is the place before where no other is named: "2nd day", "there again".
fn phrases(pieces: &[Piece], h: &mut Heading, used: &mut [bool]) -> bool {
    let words: Vec<(usize, &str)> = pieces
        .iter()
        .enumerate()
        .filter_map(|(i, p)| if let Is::Word(w) = &p.is { Some((i, w.as_str())) } else { None })
        .collect();
    let timed = h.date.is_some() || h.weekday.is_some();
    let mut again = second_day(pieces, &words, timed, h, used);
    let mut k = 0;
    while k < words.len() {
        let (i, w) = words[k];
        let next = words.get(k + 1).map(|n| n.1);
        let takes = match (w, next) {
            ("same", Some("place" | "farm" | "herd" | "yard" | "dairy" | "address" | "again" | "crew" | "people")) => {
                h.same_place = true;
                2
            }
            ("same", Some("day" | "date")) => {
                h.after = Some(0);
                2
            }
            ("next" | "following", Some("day" | "morning")) | ("day", Some("after")) => {
                h.after = Some(1);
                2
            }
            // "same" closes a heading that has its day; so does what else repeats it.
            ("same" | "ditto", None) if timed || h.after.is_some() => {
                h.same_place = true;
                1
            }
            ("do", None) if timed => {
                again = true;
                1
            }
            ("again", _) if timed => {
                again = true;
                1
            }
            ("there" | "back", Some("again")) if timed => {
                again = true;
                2
            }
            _ => 0,
        };
        for (at, _) in words.iter().skip(k).take(takes) {
            used[*at] = true;
        }
        if takes == 0
            && matches!(w, "at" | "back" | "again" | "still")
            && (h.same_place || h.date.is_some())
            && (k == 0 || used[words[k - 1].0] || next == Some("same"))
        {
            used[i] = true;
        }
        k += takes.max(1);
    }
    again
}

/// `2nd day`, `day 2`, `day two`: the next day where no day is said. Tells whether it was there.
fn second_day(pieces: &[Piece], words: &[(usize, &str)], timed: bool, h: &mut Heading, used: &mut [bool]) -> bool {
    let Some(k) = words.iter().position(|w| w.1 == "day" && !used[w.0]) else { return false };
    let day = words[k].0;
    let number = |at: Option<usize>| {
        at.filter(|at| matches!(pieces.get(*at).map(|p| &p.is), Some(Is::Number { value: 2..=9, digits: 1, .. })))
    };
    let before = k.checked_sub(1).map(|b| words[b]);
    // "2nd day": the number, its ending, a blank, the day.
    let ending = before.filter(|b| date::is_ordinal(b.1)).map(|b| b.0);
    let counted = ending.and_then(|e| number(e.checked_sub(1)));
    let next = words.get(k + 1).filter(|w| matches!(w.1, "two" | "ii" | "three" | "iii")).map(|w| w.0);
    let ahead = before.filter(|b| matches!(b.1, "second" | "third")).map(|b| b.0);
    let taken = [number(Some(day + 2)), counted, ending.filter(|_| counted.is_some()), next, ahead];
    let taken: Vec<usize> = taken.into_iter().flatten().collect();
    if taken.is_empty() {
        return false;
    }
    used[day] = true;
    for at in taken {
        used[at] = true;
    }
    if !timed {
        h.after = Some(1);
        h.goes_on = true;
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(line: &str) -> Option<(Heading, String)> {
        heading(line, Roles::default).filter(|h| h.standing == Standing::Sure).map(|h| {
            let farm = h.farm.clone().unwrap_or_default();
            (h, farm)
        })
    }

    #[test]
    fn headings_of_many_hands() {
        for (line, farm, head) in [
            ("Tue 6/5/18  Juniper Flat, 22 hd", "Juniper Flat", Some(22)),
            ("Juniper Flat 6/5/18 (22)", "Juniper Flat", Some(22)),
            ("Tuesday 5th June 2018 - Oak Lane Farm - 45 cows", "Oak Lane Farm", Some(45)),
            ("p. 12  Weds 13/6/18, Thistle Hill", "Thistle Hill", None),
            ("5.6.18 Oak Lane", "Oak Lane", None),
            ("Oak Lane Farm, Thurs 14 June", "Oak Lane Farm", None),
            ("* June 9, 2018: Cold Spring Dairy 8am 30 head", "Cold Spring Dairy", Some(30)),
            ("Fri - Thistle Hill, 14 hd", "Thistle Hill", Some(14)),
            ("12/3 Fen End x40", "Fen End", Some(40)),
            ("Date: 2018-06-05 Farm: Oak Lane", "Oak Lane", None),
        ] {
            let got = of(line);
            assert_eq!(got.as_ref().map(|g| (g.1.as_str(), g.0.head)), Some((farm, head)), "{line}: {got:?}");
        }
        for line in [
            "9 June same place",
            "next day, same place",
            "Next day",
            "same place 9/6",
            "Sat 9th, same farm",
            "Weds same",
        ] {
            let got = of(line).unwrap_or_else(|| panic!("{line}")).0;
            assert_eq!(got.farm, None, "{line}");
        }
        assert_eq!(of("next day same place").unwrap().0.after, Some(1));
    }

    #[test]
    fn lines_that_are_no_headings() {
        for line in [
            "231 LR out SU z4 blk in wrp",
            "22 trims @ 15 = 330",
            "gate code 4471",
            "vet coming 12/6",
            "next visit 9 July 2018",
            "6/5/18 paid 330",
            "Paid 6/5/18",
            "Mon: ring Oak Lane",
            "rc 3/52",
            "9 rc 9 June",
            "wed wet and slow",
            "14 lame 3/5",
        ] {
            assert_eq!(of(line), None, "{line}");
        }
    }

    #[test]
    fn page_marks() {
        for (line, rest) in [("p. 12", ""), ("Page 3", ""), ("pg 4 of 12", ""), ("p12 Tue 6/5/18", "Tue 6/5/18")] {
            assert_eq!(page_mark(line), Some(rest), "{line}");
        }
        for line in ["pen 12", "pared 12", "12", "parlour 3"] {
            assert_eq!(page_mark(line), None, "{line}");
        }
    }
}
