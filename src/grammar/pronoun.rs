//! "a horizontal one on the left front", "an ulcer on that one": a "one" that stands for a lesion or a foot, and counts
//! nothing.

use super::item::{ClawWord, Item, Named, Phrase, Place, Where};
use crate::anatomy::Side;
use crate::vocab::Vague;
use crate::words::Gap;

/// Drops each such word, and gives "the other" its side; "white line one" by itself may well be its zone.
pub(super) fn without(text: &str, mut items: Vec<Item>) -> Vec<Item> {
    for i in 1..items.len() {
        if let Some(side) = other_side(text, &items, i)
            && let Phrase::Place(place) = &mut items[i].is
        {
            (place.feet, place.claw) = (Where::Side(side), None);
        }
    }
    let mut i = 1;
    while i < items.len() {
        if is_one(text, &items[i]) && (is_pointed_at(text, &items[i]) || stands_for_a_lesion(text, &items, i)) {
            items.remove(i);
        } else {
            i += 1;
        }
    }
    items
}

/// "M2 left and M4 on the other": of two sides told of by turns, the one that was not named.
fn other_side(text: &str, items: &[Item], i: usize) -> Option<Side> {
    let Phrase::Place(Place { feet: Where::Same, claw: Some(ClawWord::Other), .. }) = items[i].is else { return None };
    let words = items[i].span.of(text).to_lowercase();
    if ["claw", "toe", "digit"].iter().any(|noun| words.contains(noun)) || items[i].gap > Gap::Space {
        return None;
    }
    let kind = |k: usize| match items.get(k)?.is {
        Phrase::Stage(_) => Some(1),
        Phrase::Severity(_) => Some(2),
        Phrase::Course(_) => Some(3),
        _ => None,
    };
    let [detail, before, first] = [i.checked_sub(1)?, i.checked_sub(2)?, i.checked_sub(3)?];
    let Phrase::Place(Place { feet: Where::Side(side), .. }) = items[before].is else { return None };
    (kind(detail).is_some() && kind(detail) == kind(first) && items[before].gap <= Gap::Space).then(|| side.other())
}

/// The word "one", as a number or as a zone.
fn is_one(text: &str, item: &Item) -> bool {
    let number = match &item.is {
        Phrase::Number { value, .. } => *value == Some(1),
        Phrase::Zones(zones) => *zones == [1],
        _ => false,
    };
    number && item.gap <= Gap::Space && item.span.of(text).eq_ignore_ascii_case("one")
}

/// How the one is that is pointed at.
const HOW: [&str; 22] = [
    "bad",
    "worse",
    "worst",
    "severe",
    "mild",
    "moderate",
    "clean",
    "good",
    "sore",
    "lame",
    "big",
    "small",
    "old",
    "new",
    "only",
    "main",
    "real",
    "first",
    "last",
    "ulcerated",
    "swollen",
    "healed",
];

/// "that one", "the bad one"
fn is_pointed_at(text: &str, item: &Item) -> bool {
    let led = text.get(..item.span.start as usize).unwrap_or_default().trim_end();
    let mut words = led.rsplit(|c: char| !c.is_alphanumeric());
    let (last, before) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
    let is = |word: &str, all: &[&str]| all.iter().any(|w| word.eq_ignore_ascii_case(w));
    is(last, &["that", "this", "which"]) || is(before, &["the", "that", "this", "a"]) && is(last, &HOW)
}

fn stands_for_a_lesion(text: &str, items: &[Item], i: usize) -> bool {
    let (before, Some(next)) = (&items[i - 1], items.get(i + 1)) else { return false };
    let Phrase::Finding(named) = before.is else { return false };
    if next.gap > Gap::Space || !matches!(next.is, Phrase::Place(_)) {
        return false;
    }
    let led = text.get(..before.span.start as usize).unwrap_or_default().trim_end();
    let last = led.rsplit(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
    let article = ["a", "an", "the", "another"].contains(&last);
    article || matches!(named, Named::Vague(Vague::Vertical | Vague::Horizontal))
}
