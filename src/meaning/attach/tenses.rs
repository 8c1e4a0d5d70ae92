//! "bruise last time, ulcer now", "score three before, now score two": what was, in one part of a sentence, where a later
//! part tells how the same is now.

use std::ops::Range;

use crate::anatomy::Foot;
use crate::disorder::Course;
use crate::grammar::{Item, Phrase, Where};

/// Verbs that tell how something was, and words that say so without one.
const WAS: [&str; 8] = ["was", "were", "had", "she'd", "been", "previous", "previously", "formerly"];
/// Words of how it is.
const NOW: [&str; 5] = ["now", "today", "today's", "current", "currently"];
/// Where a part of a sentence turns to how it is, or was, with no comma.
const TURNS: [&str; 19] = [
    " and she was ",
    " but she was ",
    " and now ",
    " but now ",
    " and today ",
    " now only ",
    " now it's ",
    " now she's ",
    " it's now ",
    " and i'd ",
    " and she's ",
    " but she's ",
    " and it's ",
    " and that's ",
    " but it's ",
    " and is ",
    " and it measured ",
    " and it was ",
    " but it was ",
];
/// Seasons, and words of what is only to come in them.
const SEASONS: [&str; 7] = ["autumn", "fall", "spring", "summer", "winter", "christmas", "easter"];
const LATER: [&str; 8] = ["recheck", "look", "see", "check", "again", "next", "due", "till"];
/// How far behind a part of a sentence what it tells may be told anew, in such parts.
const FAR: usize = 4;

/// A part of a sentence: between commas, or up to a word that turns to how it is.
struct Part {
    items: Range<usize>,
    /// Told of a day before today.
    then: bool,
    now: bool,
    /// It names a day or a time before today.
    dated: bool,
    /// It tells of then and of now: "open in January and healed today".
    both: bool,
    /// It tells of what was named before ("it is").
    it: bool,
    /// It begins by saying that it is over: by its verb, or by that day.
    led: bool,
}

/// Whether an item tells only how something was.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Over {
    No,
    /// It is told anew further on, as it is now.
    Anew,
    /// Its own part of the sentence says so.
    Then,
}

/// For each item, whether it tells only how something was; empty where none does.
pub(super) fn over(items: &[Item], text: &str) -> Vec<Over> {
    if !may_be_told_twice(items) {
        return vec![];
    }
    let told =
        ["was ", "were ", "had ", "before", "previous", "she'd ", "now", "today"].iter().any(|w| text.contains(w));
    if !(told || items.iter().any(|it| it.is == Phrase::Past)) {
        return vec![];
    }
    let parts = parts(items, text);
    let mut over = vec![Over::No; items.len()];
    let of_another = |p: &Part| items[p.items.clone()].iter().any(Item::is_cow);
    for (at, part) in parts.iter().enumerate().filter(|(_, part)| !part.now) {
        let behind = &parts[at + 1..];
        let end = behind.iter().position(of_another).unwrap_or(behind.len());
        let behind = &behind[..end.min(FAR)];
        let before = &parts[at.saturating_sub(FAR)..at];
        // "all four clean, was M two both backs"
        let clean = |p: &Part| items[p.items.clone()].iter().any(|it| it.is == Phrase::ClearAll);
        let since_clean = part.led && before.last().is_some_and(clean);
        for k in part.items.clone() {
            let lesion = matches!(items[k].is, Phrase::Finding(_) | Phrase::Stage(_) | Phrase::Place(_));
            let over_then = part.then && (is_over(items, k, part, behind) || is_what_it_was(items, k, part, before));
            if since_clean && lesion || over_then {
                over[k] = Over::Then;
            } else if is_told_anew(items, k, part, behind) {
                over[k] = Over::Anew;
            }
        }
    }
    if over.iter().all(|o| *o == Over::No) { vec![] } else { over }
}

/// Whether there are two phrases of which one may tell how the other was: asked of every note, of which few have them.
fn may_be_told_twice(items: &[Item]) -> bool {
    let (mut lesions, mut grades, mut values, mut ends) = (0, 0, [0; 4], 0);
    for item in items {
        match item.is {
            Phrase::Finding(_) => lesions += 1,
            Phrase::Severity(_) => grades += 1,
            Phrase::Zones(_) => values[0] += 1,
            Phrase::Stage(_) => values[1] += 1,
            Phrase::Score { .. } => values[2] += 1,
            Phrase::Measure { .. } | Phrase::Amount { .. } => values[3] += 1,
            Phrase::Number { .. } => ends += values[2] + values[3],
            Phrase::ClearAll => ends += 1,
            Phrase::Clear | Phrase::Course(_) => ends += lesions + grades,
            Phrase::Past => ends += 1,
            _ => {}
        }
    }
    lesions > 1 || grades > 1 || ends > 0 || values.iter().any(|n| *n > 1)
}

/// "mobility two at Christmas, mobility one now": a score, or the stage of a foot, that a later part tells as it is now.
fn is_told_anew(items: &[Item], k: usize, part: &Part, behind: &[Part]) -> bool {
    let after = |k: usize| {
        let near = |k: usize| items.get(k).is_some_and(|it| it.is == Phrase::Afterwards);
        k > 0 && near(k - 1) || near(k + 1)
    };
    // The foot named last before it, where its part names two.
    let before = || items[..k].iter().rev().find_map(|it| it.is.one_foot());
    let here = foot(items, part).or_else(before);
    let now = |fits: &dyn Fn(usize) -> bool| behind.iter().any(|p| p.now && p.items.clone().any(fits));
    match items[k].is {
        Phrase::Score { scale: a, .. } => {
            let again = |m: usize| matches!(items[m].is, Phrase::Score { scale: b, .. } if a == b) && !after(m);
            !after(k) && now(&again)
        }
        Phrase::Stage(_) => behind.iter().enumerate().any(|(at, p)| {
            // "M two, and the right rear, wrap fell off, M three now": of the foot named last.
            let there = behind[..=at].iter().rev().find_map(|p| foot(items, p)).or_else(|| last_foot(items, part));
            let stage = p.items.clone().any(|m| matches!(items[m].is, Phrase::Stage(_)));
            p.now && stage && (there.is_none() || there == here)
        }),
        _ => false,
    }
}

/// "grade one ulcer, that was a grade three four weeks ago": told of what was named before with how it is now, and of no
/// foot of its own.
fn is_what_it_was(items: &[Item], k: usize, part: &Part, before: &[Part]) -> bool {
    // "two weeks ago both M two": of the same feet.
    let place = items[part.items.clone()].iter().any(|it| match &it.is {
        Phrase::Place(p) => p.feet != Where::Both,
        is => matches!(is, Phrase::Finding(_)),
    });
    let told = |is: fn(&Phrase) -> bool| {
        before.iter().filter(|p| !p.then).any(|p| items[p.items.clone()].iter().any(|it| is(&it.is)))
    };
    !place
        && match items[k].is {
            Phrase::Severity(_) => told(|is| matches!(is, Phrase::Severity(_) | Phrase::Course(Course::Healed))),
            Phrase::Zones(_) => told(|is| matches!(is, Phrase::Zones(_))),
            Phrase::Stage(_) => told(|is| matches!(is, Phrase::Stage(_))),
            // "ulcer zone four again, it had closed last month"
            Phrase::Course(Course::Healed) => {
                part.dated && part.led && !part.both && told(|is| matches!(is, Phrase::Finding(_)))
            }
            _ => false,
        }
}

/// Whether what item `k` of `part` tells is told anew in the parts `behind`.
fn is_over(items: &[Item], k: usize, part: &Part, behind: &[Part]) -> bool {
    let any = |p: &Part, is: fn(&Phrase) -> bool| items[p.items.clone()].iter().any(|it| is(&it.is));
    let now = |is: fn(&Phrase) -> bool| behind.iter().any(|p| p.now && any(p, is));
    let finding = |is: &Phrase| matches!(is, Phrase::Finding(_));
    let course = |is: &Phrase| matches!(is, Phrase::Course(_));
    let clear = |is: &Phrase| matches!(is, Phrase::Clear | Phrase::ClearAll);
    let is_course = any(part, course) || now(course);
    // The lesion itself: another one sits there now, or none.
    let lesion = || {
        let other = behind.iter().find(|p| p.now && any(p, finding));
        let another = other.is_some_and(|p| {
            let named = |r: Range<usize>| {
                items[r].iter().find_map(|it| if let Phrase::Finding(n) = it.is { Some(n) } else { None })
            };
            named(p.items.clone()) != named(part.items.clone())
        });
        !is_course && (another || other.is_none() && part.led && now(clear))
    };
    // "left hind was M two, right hind M three": told of another foot.
    let here = foot(items, part);
    let same_foot = |p: &Part| here.is_none() || foot(items, p).is_none_or(|f| Some(f) == here);
    let stage = |is: &Phrase| matches!(is, Phrase::Stage(_));
    let score = |is: &Phrase| matches!(is, Phrase::Score { .. } | Phrase::Number { plain: true, .. });
    match &items[k].is {
        Phrase::Finding(_) => {
            // What is told of another foot behind that is no matter.
            let last = behind.iter().position(|p| p.now).map_or(behind.len(), |at| at + 1);
            lesion() && behind[..last].iter().all(same_foot)
        }
        Phrase::Severity(_) => {
            any(part, finding) && (lesion() || now(course)) || now(|is| matches!(is, Phrase::Severity(_)))
        }
        Phrase::Zones(_) => any(part, finding) && lesion() || now(|is| matches!(is, Phrase::Zones(_))),
        Phrase::Stage(_) => behind.iter().any(|p| !p.then && any(p, stage) && same_foot(p)),
        Phrase::Score { .. } => behind.iter().any(|p| (p.now || part.dated) && any(p, score)),
        // Of a toe that "was ninety" and is now shorter, both are of today: it was trimmed between.
        Phrase::Measure { .. } | Phrase::Amount { .. } => {
            let number = |is: &Phrase| {
                matches!(is, Phrase::Measure { .. } | Phrase::Amount { .. } | Phrase::Number { plain: true, .. })
            };
            part.dated && now(number)
        }
        // `last visit LHO SU + blk. Today clean`: done then.
        Phrase::Deed(_) => {
            let led = items[part.items.start..k].iter().any(|it| it.is == Phrase::Past);
            led && behind.first().is_some_and(|p| p.now)
        }
        // "last time severe slurry heel all round, now only the hinds"
        // "foul in the right front last week, today it is in the left front"
        Phrase::Place(p) if p.feet != Where::Same && (p.group || behind.first().is_some_and(|p| p.it)) => {
            let narrower = |p: &Part| {
                let more = |is: &Phrase| {
                    matches!(
                        is,
                        Phrase::Finding(_)
                            | Phrase::Course(_)
                            | Phrase::Clear
                            | Phrase::Deed(_)
                            | Phrase::Measure { .. }
                            | Phrase::Stage(_)
                            | Phrase::Part(_)
                    )
                };
                p.now && any(p, |is| matches!(is, Phrase::Place(_))) && !any(p, more)
            };
            any(part, finding) && behind.first().is_some_and(narrower)
        }
        _ => false,
    }
}

/// The one foot that a part names.
fn foot(items: &[Item], part: &Part) -> Option<Foot> {
    let mut feet = items[part.items.clone()].iter().filter_map(|it| it.is.one_foot());
    feet.next().filter(|f| feet.all(|other| other == *f))
}

/// The foot named last in a part.
fn last_foot(items: &[Item], part: &Part) -> Option<Foot> {
    items[part.items.clone()].iter().rev().find_map(|it| it.is.one_foot())
}

/// The note cut into parts, each with its words.
fn parts(items: &[Item], text: &str) -> Vec<Part> {
    let mut cuts = vec![0];
    let mut start = 0;
    for (at, c) in text.char_indices() {
        let stop = matches!(c, ',' | '.' | ';' | ':' | '!' | '(' | ')' | '\n');
        let inside = text[at + c.len_utf8()..].starts_with(|c: char| c.is_alphanumeric());
        if stop && !(inside && matches!(c, '.' | ',' | ':')) {
            cuts.push(at + c.len_utf8());
            start = at;
        }
        // "was a crack last time and now it's an abscess"
        if c == ' ' && at > start && TURNS.iter().any(|t| begins(&text[at..], t)) {
            cuts.push(at + 1);
            start = at;
        }
    }
    cuts.push(text.len());
    let mut out = Vec::with_capacity(cuts.len());
    let mut first = 0;
    for cut in cuts.windows(2) {
        let end = first + items[first..].iter().take_while(|it| (it.span.start as usize) < cut[1]).count();
        let said = text.get(cut[0]..cut[1]).unwrap_or_default().to_lowercase();
        let words: Vec<&str> =
            said.split(|c: char| !c.is_alphanumeric() && c != '\'').filter(|w| !w.is_empty()).collect();
        if words.is_empty() {
            continue;
        }
        let own = &items[first..end];
        let past = own.iter().any(|it| it.is == Phrase::Past && !begins(it.span.of(text), "since"));
        // "M2 was wrapped ten days ago"
        let ago =
            |it: &Item| matches!(it.is, Phrase::Stays(Some(_))) && it.span.of(text).to_lowercase().ends_with(" ago");
        let past = past || own.iter().any(ago);
        let score = own.iter().any(|it| matches!(it.is, Phrase::Score { .. }));
        let was = was(own, text, cut[0]);
        // "three millimeters then, five millimeters now"
        let behind = words.len() > 1 && words.last() == Some(&"then");
        let season = words.iter().any(|w| SEASONS.contains(w)) && !words.iter().any(|w| LATER.contains(w));
        let it = words.iter().any(|w| ["it", "it's", "that's", "only"].contains(w));
        // "M1, down from M2"
        let from = matches!(words[..], ["down" | "up", "from", ..]);
        let then = past || season || was || behind || from || score && words.contains(&"before");
        let led = was
            || own.iter().find(|it| is_value(&it.is) || it.is == Phrase::Past).is_some_and(|it| it.is == Phrase::Past);
        let this = words.windows(2).any(|w| w[0] == "this" && ["visit", "time"].contains(&w[1]));
        let now = this || words.iter().any(|w| NOW.contains(w));
        out.push(Part {
            items: first..end,
            then,
            now: now && !then,
            both: now && then,
            dated: past || season || behind,
            it,
            led,
        });
        first = end;
    }
    out
}

fn begins(text: &str, with: &str) -> bool {
    text.as_bytes().get(..with.len()).is_some_and(|t| t.eq_ignore_ascii_case(with.as_bytes()))
}

fn is_value(is: &Phrase) -> bool {
    matches!(
        is,
        Phrase::Finding(_)
            | Phrase::Stage(_)
            | Phrase::Score { .. }
            | Phrase::Severity(_)
            | Phrase::Zones(_)
            | Phrase::Measure { .. }
            | Phrase::Amount { .. }
    )
}

/// "was bruise on the right hind": how it was, by the verb before what is told.
fn was(items: &[Item], text: &str, start: usize) -> bool {
    let Some(first) = items.iter().find(|it| is_value(&it.is)) else { return false };
    // "sole was paper thin", "was a four": the verb may stand within what is told.
    let led = text.get(start..first.span.end as usize).unwrap_or_default().to_lowercase();
    led.split(|c: char| !c.is_alphanumeric() && c != '\'').any(|w| WAS.contains(&w))
}
