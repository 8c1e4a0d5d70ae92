//! "a horizontal one on the left front": a "one" that stands for the lesion named right before it, and counts nothing.

use super::item::{Item, Named, Phrase};
use crate::vocab::Vague;
use crate::words::Gap;

/// Drops each such word; "white line one" by itself may well be its zone.
pub(super) fn without(text: &str, mut items: Vec<Item>) -> Vec<Item> {
    let mut i = 1;
    while i + 1 < items.len() {
        if stands_for_a_lesion(text, &items, i) {
            items.remove(i);
        }
        i += 1;
    }
    items
}

fn stands_for_a_lesion(text: &str, items: &[Item], i: usize) -> bool {
    let (before, it, next) = (&items[i - 1], &items[i], &items[i + 1]);
    let Phrase::Finding(named) = before.is else { return false };
    let number = match &it.is {
        Phrase::Number { value, .. } => *value == Some(1),
        Phrase::Zones(zones) => *zones == [1],
        _ => false,
    };
    let one = number && it.span.of(text).eq_ignore_ascii_case("one");
    if !one || it.gap > Gap::Space || next.gap > Gap::Space || !matches!(next.is, Phrase::Place(_)) {
        return false;
    }
    let led = text.get(..before.span.start as usize).unwrap_or_default().trim_end();
    let last = led.rsplit(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
    let article = ["a", "an", "the", "another"].contains(&last);
    article || matches!(named, Named::Vague(Vague::Vertical | Vague::Horizontal))
}
