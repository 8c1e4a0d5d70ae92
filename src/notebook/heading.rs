//! Headings that open a visit: weekday, date, farm, head count, in any common order; "same place", "next day".

use super::date::{self, Is, Piece, Written};

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
}

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
            | "cattle"
            | "beasts"
            | "bulls"
            | "done"
    )
}

/// Words that no farm is called by, and no heading has: what is said there is an errand, a bill, a plan.
const NOT_A_HEADING: &[&str] = &[
    "ring",
    "rang",
    "call",
    "called",
    "phone",
    "phoned",
    "text",
    "texted",
    "tel",
    "ph",
    "order",
    "ordered",
    "buy",
    "bought",
    "get",
    "collect",
    "fetch",
    "invoice",
    "invoiced",
    "inv",
    "paid",
    "pd",
    "owes",
    "owe",
    "owed",
    "cheque",
    "cash",
    "deposit",
    "bill",
    "billed",
    "bank",
    "total",
    "due",
    "booked",
    "book",
    "next visit",
    "back on",
    "wants",
    "need",
    "needs",
    "bring",
    "send",
    "sent",
    "meet",
    "meeting",
    "dentist",
    "birthday",
    "holiday",
    "service",
    "mot",
    "tax",
    "insurance",
    "recheck",
    "rck",
    "rc",
    "remember",
    "remind",
    "coming",
    "off",
    "until",
    "till",
    "by",
    "from",
    "cancel",
    "cancelled",
    "canceled",
    "moved",
    "postponed",
    "appt",
    "vet",
    "lunch",
    "rain",
    "raining",
    "snow",
    "wet",
    "diesel",
    "fuel",
    "miles",
    "delivery",
    "delivered",
    "sharpen",
    "repair",
    "fix",
    "broke",
    "broken",
];

/// The heading in a line, where it is one. `trade` tells whether the line says something of a foot.
pub(super) fn heading(line: &str, trade: impl FnOnce() -> bool) -> Option<Heading> {
    let text = page_mark(line).map_or(line, |rest| rest);
    if !may_be(text) {
        return None;
    }
    let pieces = date::pieces(text);
    let mut h = Heading::default();
    let mut used = vec![false; pieces.len()];
    let first = first_word(&pieces)?;
    when(&pieces, &mut h, &mut used);
    phrases(&pieces, &mut h, &mut used);
    if h.date.is_none() && h.after.is_none() && h.weekday.is_none() && !h.same_place {
        return None;
    }
    heads(&pieces, &mut h, &mut used);
    clock(&pieces, &mut used);
    let rest: Vec<&Piece> = pieces.iter().zip(&used).filter(|(_, u)| !**u).map(|(p, _)| p).collect();
    let words: Vec<&str> =
        rest.iter().filter_map(|p| if let Is::Word(w) = &p.is { Some(w.as_str()) } else { None }).collect();
    let said = words.join(" ");
    let errand = NOT_A_HEADING.iter().any(|w| if w.contains(' ') { said.contains(w) } else { words.contains(w) });
    if errand || rest.iter().any(|p| matches!(p.is, Is::Sign('=' | '@' | '£' | '$' | '€' | '?' | '!' | '%'))) {
        return None;
    }
    let farm = farm(text, &pieces, &used);
    let named = |d: Written| {
        matches!(
            d,
            Written::Full { .. } | Written::Named { month: Some(_), .. } | Written::Figures { year: Some(_), .. }
        )
    };
    let sure =
        h.date.is_some_and(named) || (h.weekday.is_some() && h.date.is_some()) || h.after.is_some() || h.same_place;
    let capital = farm.as_deref().is_some_and(|f| f.chars().next().is_some_and(char::is_uppercase));
    let numbers = rest.iter().filter(|p| matches!(p.is, Is::Number { .. })).count();
    let leads = used[first];
    // A date after other words is a heading's only where those words are a name.
    let behind = capital && sure && words.len() <= 6;
    if !(leads || behind) {
        return None;
    }
    if !sure && (farm.is_some() && !capital || numbers > 0) {
        return None;
    }
    if numbers > 1 || words.len() > 8 || (numbers == 1 && farm.is_none()) {
        return None;
    }
    if trade() {
        return None;
    }
    h.farm = farm;
    Some(h)
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
            if !matches!(before, Some(Is::Sign('/' | '-')))
                || matches!(i.checked_sub(2).map(|b| &pieces[b].is), Some(Is::Blank | Is::Word(_)))
            {
                h.date = Some(date);
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

/// "same place", "next day".
fn phrases(pieces: &[Piece], h: &mut Heading, used: &mut [bool]) {
    let words: Vec<(usize, &str)> = pieces
        .iter()
        .enumerate()
        .filter_map(|(i, p)| if let Is::Word(w) = &p.is { Some((i, w.as_str())) } else { None })
        .collect();
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
            ("day", Some("two" | "ii")) if k == 0 => {
                h.after = Some(1);
                2
            }
            // "same" closes a heading that has its day.
            ("same" | "ditto", None) if h.date.is_some() || h.weekday.is_some() || h.after.is_some() => {
                h.same_place = true;
                1
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
}

/// `22 hd`, `(22)`, `x22`.
fn heads(pieces: &[Piece], h: &mut Heading, used: &mut [bool]) {
    for i in 0..pieces.len() {
        let Is::Number { value, digits, .. } = pieces[i].is else { continue };
        if used[i] || digits > 4 {
            continue;
        }
        let mut next = i + 1;
        while matches!(pieces.get(next).map(|p| &p.is), Some(Is::Blank)) {
            next += 1;
        }
        let counted = matches!(pieces.get(next).map(|p| &p.is), Some(Is::Word(w)) if counts_heads(w));
        let sign = |at: Option<usize>, c: char| at.and_then(|at| pieces.get(at)).is_some_and(|p| p.is == Is::Sign(c));
        let bracket = sign(i.checked_sub(1), '(') && sign(Some(i + 1), ')');
        let times = i.checked_sub(1).is_some_and(|b| pieces[b].is == Is::Word("x".to_owned()));
        // A number alone at the end of the heading, after a comma, a dash or blanks.
        let last = pieces[i + 1..].iter().all(|p| matches!(p.is, Is::Blank | Is::Sign('.' | ')')));
        if h.head.is_none() && (counted || bracket || times || last) {
            h.head = Some(value);
            used[i] = true;
            if counted {
                used[i + 1..=next].fill(true);
                let after = pieces.get(next + 2).map(|p| &p.is);
                if matches!(after, Some(Is::Word(w)) if w == "done" || w == "milking") {
                    used[next + 2] = true;
                }
            }
            if times {
                used[i - 1] = true;
            }
        }
    }
}

/// `8am`, `7:30`.
fn clock(pieces: &[Piece], used: &mut [bool]) {
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

/// What is left of the line between the parts that were used: the longest stretch with a word in it.
fn farm(text: &str, pieces: &[Piece], used: &[bool]) -> Option<String> {
    let mut best: Option<&str> = None;
    let mut i = 0;
    while i < pieces.len() {
        if used[i] {
            i += 1;
            continue;
        }
        let from = i;
        while i < pieces.len() && !used[i] {
            i += 1;
        }
        let raw = &text[pieces[from].at.start..pieces[i - 1].at.end];
        let name = raw.trim_matches(|c: char| !c.is_alphanumeric()).trim();
        let name = name.strip_prefix("at ").unwrap_or(name);
        if name.chars().any(char::is_alphabetic) && best.is_none_or(|b| name.len() > b.len()) {
            best = Some(name);
        }
    }
    best.filter(|n| n.len() > 1).map(str::to_owned)
}

/// A line that may be a farm's name by itself: a few words, each with a capital, no figures but heads counted.
pub(super) fn farm_alone(line: &str) -> Option<(String, Option<u32>)> {
    let pieces = date::pieces(line);
    let mut h = Heading::default();
    let mut used = vec![false; pieces.len()];
    heads(&pieces, &mut h, &mut used);
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

#[cfg(test)]
mod tests {
    use super::*;

    fn of(line: &str) -> Option<(Heading, String)> {
        heading(line, || false).map(|h| {
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
            ("Date: 2018-06-05 Farm: Oak Lane", "Farm: Oak Lane", None),
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
