//! From phrases to entries: the rules of meaning (README, "Rules of meaning").

mod attach;
mod correct;
mod cows;
mod dates;
mod draft;
mod resolve;

use chrono::NaiveDate;

use crate::entry::{Act, Entry};
use crate::grammar::{Item, Named, Phrase, Where};

pub use draft::LooseNumber;
pub(crate) use resolve::sound_claw;
pub use resolve::{ActionTrace, FindingTrace, Trace};

/// The entries of a note, one a cow, with where each part was said.
///
/// `visit` is the day that times are counted from.
pub fn entries(text: &str, items: Vec<Item>, visit: NaiveDate) -> Vec<(Entry, Trace)> {
    let items = correct::apply(items, text);
    let mut before = None;
    let parts = cows::split(items, text);
    let mut out = Vec::with_capacity(parts.len());
    let last = parts.len().saturating_sub(1);
    for (i, part) in parts.into_iter().enumerate() {
        if is_talk(&part.items) {
            let own = part.span.of(text);
            let mut entry = Entry { said: own.trim().to_owned(), ..Entry::default() };
            let offset = part.span.start + (own.len() - own.trim_start().len()) as u32;
            let trace = Trace { offset, ..Trace::default() };
            remark_if_bare(&mut entry, &trace, text, part.span);
            out.push((entry, trace));
            continue;
        }
        let draft = attach::attach(&part, text, visit, before.as_ref());
        if i < last {
            before = Some(draft.clone());
        }
        let own = part.span.of(text);
        let (mut entry, mut trace) = resolve::resolve(draft, text, part.span);
        trace.offset = part.span.start + (own.len() - own.trim_start().len()) as u32;
        remark_if_bare(&mut entry, &trace, text, part.span);
        trace.shared = part.cows > 1;
        // "cow 1510, lean. Cow 1690 …": one word that may well have been "clean".
        let word = |remark: &String| !remark.trim().contains(' ');
        trace.empty_cow = last > 0 && entry.is_bare() && entry.remarks.iter().all(word);
        out.push((entry, trace));
    }
    out
}

/// Talk: no cow and no foot is named, and words stand in it that notes do not hold. What looks like the trade
/// in it ("strawberry jam", "split the bill") is not taken for it.
fn is_talk(items: &[Item]) -> bool {
    let named = items.iter().any(|i| match &i.is {
        Phrase::Cow(_) | Phrase::Another => true,
        Phrase::Place(p) => {
            !matches!(p.feet, Where::Same | Where::Side(_) | Where::End(_) | Where::OtherFoot | Where::Both)
        }
        _ => false,
    });
    !named && items.iter().any(|i| matches!(i.is, Phrase::Unread | Phrase::Aside)) && !is_about_a_cow(items)
}

/// What nobody says in talk of other things, though neither cow nor foot is named.
fn is_about_a_cow(items: &[Item]) -> bool {
    let any = |of: fn(&Phrase) -> bool| items.iter().any(|i| of(&i.is));
    // "Never mind. She has a sole ulcer on the outer claw, and I've blocked the inner"
    let claw = any(|is| matches!(is, Phrase::Place(p) if p.feet == Where::Same && p.one_claw().is_some()));
    let lesion = any(|is| matches!(is, Phrase::Finding(Named::Disorder(d)) if d.needs_claw()));
    let device = any(|is| matches!(is, Phrase::Deed(d) if matches!(d.what, Act::Block | Act::Wrap)));
    // "… by her tag, and all four feet are clean"; "asking about 19. Locomotion two, trimmed, no lesions"
    let all_clean = any(|is| matches!(is, Phrase::ClearAll));
    let clean = any(|is| matches!(is, Phrase::Clear));
    let scored = any(|is| matches!(is, Phrase::Score { .. }));
    let trimmed = any(|is| matches!(is, Phrase::Deed(d) if d.what == Act::Trim));
    claw && lesion && device || all_clean || clean && (scored || trimmed) || scored && trimmed
}

/// Rule 12: a note without anything typed in it is kept as a remark.
fn remark_if_bare(entry: &mut Entry, trace: &Trace, text: &str, span: crate::words::Span) {
    if !entry.is_bare() || !entry.remarks.is_empty() {
        return;
    }
    let start = trace.cow.map_or(span.start, |c| c.end);
    let end = span.end.max(start);
    let bare = |from: u32, to: u32| {
        text[from as usize..to as usize].trim_matches(|c: char| c.is_whitespace() || ".,;:-!".contains(c))
    };
    let mut words = bare(start, end);
    // "left alone, just calved, eight seven six": said before her number.
    if words.is_empty()
        && let Some(cow) = trace.cow.filter(|c| c.start >= span.start)
    {
        words = bare(span.start, cow.start);
    }
    if !words.is_empty() {
        entry.remarks.push(words.to_owned());
    }
}
