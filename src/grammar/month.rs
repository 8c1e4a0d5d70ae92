//! Names of months that stand without a day.

use super::item::{Item, Named, Phrase};
use crate::disorder::Disorder;
use crate::vocab::Vague;
use crate::words::{Gap, Span};

/// Those that are no other word as well.
const NAMES: [&str; 20] = [
    "jan",
    "january",
    "feb",
    "february",
    "apr",
    "april",
    "jun",
    "june",
    "jul",
    "july",
    "aug",
    "august",
    "sept",
    "september",
    "oct",
    "october",
    "nov",
    "november",
    "dec",
    "december",
];

/// "had foot rot back in January", `was M2 LH feb`: told of then. `WL z3 sep` is no September, but the white line's
/// separation.
pub(super) fn alone(text: &str, mut items: Vec<Item>, scribbled: bool) -> Vec<Item> {
    for i in 0..items.len() {
        if items[i].is != Phrase::Unread || items[i].gap > Gap::Space {
            continue;
        }
        let word = items[i].span.of(text).to_lowercase();
        if NAMES.contains(&&*word) && is_told_of_then(text, items[i].span) {
            items[i].is = Phrase::Past;
        } else if scribbled
            && word == "sep"
            && let Some(lesion) = white_line_before(&items[..i])
        {
            items[lesion].is = Phrase::Finding(Named::Disorder(Disorder::WLF));
            items[i].is = Phrase::Aside;
        }
    }
    items
}

fn is_told_of_then(text: &str, month: Span) -> bool {
    let before = text.get(..month.start as usize).unwrap_or_default();
    let part = before.rsplit([',', '.', ';', '/']).next().unwrap_or_default().to_lowercase();
    part.split_whitespace().any(|w| ["was", "had", "were", "since"].contains(&w))
}

/// Where it stands, past its zone.
fn white_line_before(items: &[Item]) -> Option<usize> {
    let lesion = items.iter().rposition(|i| !matches!(i.is, Phrase::Zones(_)))?;
    let white_line = |n: &Named| matches!(n, Named::Vague(Vague::WhiteLine) | Named::Disorder(Disorder::WL));
    matches!(&items[lesion].is, Phrase::Finding(named) if white_line(named)).then_some(lesion)
}
