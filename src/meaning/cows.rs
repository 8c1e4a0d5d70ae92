//! Rule 1: several cows in a note make one entry each.

use crate::grammar::{Item, Phrase};
use crate::words::{Gap, Span};

/// The phrases of one cow and the stretch of the note they come from.
pub(super) struct Part {
    pub(super) items: Vec<Item>,
    pub(super) span: Span,
}

/// Cuts the note where a cow is named. What stands before the first cow is hers.
pub(super) fn split(items: Vec<Item>, text: &str) -> Vec<Part> {
    let mut starts: Vec<usize> = Vec::new();
    for (i, it) in items.iter().enumerate() {
        // "what's next, three sixty two, is it, yes three sixty two": named twice, she is one cow.
        let again = |s: &usize| matches!((&items[*s].is, &it.is), (Phrase::Cow(a), Phrase::Cow(b)) if a.text == b.text);
        if matches!(it.is, Phrase::Cow(_)) && !starts.last().is_some_and(again) {
            starts.push(i);
        }
    }
    let whole = Span::new(0, text.len());
    if starts.len() <= 1 {
        return vec![Part { items, span: whole }];
    }
    let mut cuts: Vec<usize> = vec![0];
    for &s in &starts[1..] {
        // "recheck cow twelve": a word of purpose right before the cow goes with her.
        let with_her = s > 0
            && matches!(items[s - 1].is, Phrase::Due { .. })
            && items[s].gap <= Gap::Space
            && items[s - 1].gap > Gap::Space;
        cuts.push(s - usize::from(with_her));
    }
    let mut parts = Vec::new();
    for (k, &from) in cuts.iter().enumerate() {
        let to = cuts.get(k + 1).copied().unwrap_or(items.len());
        let start = if k == 0 { 0 } else { items[from].span.start as usize };
        let end = if to < items.len() { items[to].span.start as usize } else { text.len() };
        parts.push(Part { items: items[from..to].to_vec(), span: Span::new(start, end.max(start)) });
    }
    share(&mut parts);
    parts
}

/// "cow ten, cow eleven and cow twelve all clean": what is said at the end of a list of cows holds for all.
fn share(parts: &mut [Part]) {
    for k in (0..parts.len().saturating_sub(1)).rev() {
        let alone = parts[k].items.iter().all(|i| matches!(i.is, Phrase::Cow(_)));
        if alone && parts[k].items.len() == 1 {
            let rest: Vec<Item> =
                parts[k + 1].items.iter().filter(|i| !matches!(i.is, Phrase::Cow(_))).cloned().collect();
            parts[k].items.extend(rest);
        }
    }
}
