//! "a horizontal one on the left front", "an ulcer on that one": a "one" that stands for a lesion or a foot, and counts
//! nothing.

use super::item::{Item, Named, Phrase};
use crate::vocab::Vague;
use crate::words::Gap;

/// Drops each such word; "white line one" by itself may well be its zone.
pub(super) fn without(text: &str, mut items: Vec<Item>) -> Vec<Item> {
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
