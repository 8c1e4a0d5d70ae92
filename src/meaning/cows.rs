//! Rule 1: several cows in a note make one entry each.

use crate::grammar::{Item, Phrase, When, Where};
use crate::words::{self, Gap, Span};

/// The phrases of one cow and the stretch of the note they come from.
pub(super) struct Part {
    pub(super) items: Vec<Item>,
    pub(super) span: Span,
    /// How many cows share what is said.
    pub(super) cows: usize,
}

/// Cuts the note where a cow is named. What stands before the first cow is hers.
pub(super) fn split(mut items: Vec<Item>, text: &str) -> Vec<Part> {
    without_the_broken_off(&mut items, text);
    let mut starts: Vec<usize> = Vec::new();
    for (i, it) in items.iter().enumerate() {
        // "what's next, three sixty two, is it, yes three sixty two": named twice, she is one cow.
        let again = |s: &usize| matches!((&items[*s].is, &it.is), (Phrase::Cow(a), Phrase::Cow(b)) if a.text == b.text && a.others == b.others);
        // "37 and 38, both trimmed, 38 has a wart": what follows is hers alone.
        let of_list = |s: &usize| *s > 0 && items[s - 1].is_cow() && i > s + 1;
        let names = it.is == Phrase::Another || it.is_cow();
        if names && !starts.last().is_some_and(|s| again(s) && !of_list(s)) {
            starts.push(i);
        }
    }
    // "the red one with no tag had a corn right hind, cow 44 clean": one whose number is not said, before the first.
    if let Some(&first) = starts.first().filter(|s| **s > 0) {
        let before = text.get(..items[first].span.start as usize).unwrap_or_default().to_lowercase();
        let said = items[..first].iter().any(|i| matches!(i.is, Phrase::Finding(_) | Phrase::Deed(_)));
        if said && ["no tag", "no number", "without a tag", "lost her tag"].iter().any(|w| before.contains(w)) {
            starts.insert(0, 0);
        }
    }
    let whole = Span::new(0, text.len());
    if let Some(parts) = named_at_the_end(&items, &starts, text) {
        return parts;
    }
    if starts.len() <= 1 {
        return vec![Part { items, span: whole, cows: 1 }];
    }
    let mut cuts: Vec<usize> = vec![0];
    for (k, &s) in starts.iter().enumerate().skip(1) {
        // "block inner, check in four weeks cow 412 left hind wart": the day is of the cow before, where more is said of her.
        let end = starts.get(k + 1).copied().unwrap_or(items.len());
        let told = items[s + 1..end].iter().any(|i| !says_nothing(i)) && starts[k - 1] + 2 < s;
        // "recheck cow twelve", "the same for 415": such a word right before the cow goes with her.
        let with_her = s > 0
            && match (&items[s - 1].is, &items[s].is) {
                (Phrase::Due { when, .. }, _) => items[s - 1].gap > Gap::Space && (*when == When::Open || !told),
                (Phrase::Same, Phrase::Cow(tag)) => !tag.cued,
                _ => false,
            }
            && items[s].gap <= Gap::Space;
        cuts.push(s - usize::from(with_her));
    }
    let mut parts = Vec::new();
    let mut start = 0;
    for (k, &from) in cuts.iter().enumerate() {
        let to = cuts.get(k + 1).copied().unwrap_or(items.len());
        // A correction may have put a cow before what was said first: the parts stand in the note's order all the same.
        let end = items.get(to).map_or(text.len(), |next| next.span.start as usize).max(start);
        parts.push(Part { items: items[from..to].to_vec(), span: Span::new(start, end), cows: 1 });
        start = end;
    }
    introduced(&mut parts);
    share(&mut parts, text);
    both_at_the_end(&mut parts);
    join_same(&mut parts);
    parts
}

/// "cow six oh, let me wipe it, six oh seven": a number that is begun anew word by word was not read to its end.
fn without_the_broken_off(items: &mut Vec<Item>, text: &str) {
    for i in (1..items.len()).rev() {
        let Some(at) = items[..i].iter().rposition(|it| !says_nothing(it)) else { continue };
        let (before, now) = (&items[at], &items[i]);
        if !before.is_cow() || !now.is_cow() || now.and || now.gap > Gap::Comma {
            continue;
        }
        let (first, again) = (before.span.of(text).to_lowercase(), now.span.of(text).to_lowercase());
        let first = first.trim_start_matches("cow ").trim_start_matches("number ");
        let goes_on = again.strip_prefix(first).is_some_and(|rest| rest.starts_with(' '));
        // "twelve fifty, twelve fifty one and twelve fifty two": nothing between them, and a number that was read to its end.
        let between = text.get(before.span.end as usize..now.span.start as usize).unwrap_or_default();
        let whole = before.cow().is_some_and(|tag| tag.text.len() >= 3)
            && !between.contains(char::is_alphabetic)
            && !["oh", "o", "zero", "nought"].iter().any(|w| words::ends_with(first, w));
        if !goes_on || first.bytes().any(|b| b.is_ascii_digit()) {
            continue;
        }
        let listed = items.get(i + 1).is_some_and(|next| next.is_cow() && next.and);
        if !whole {
            items.remove(at);
        } else if !listed && let Phrase::Cow(tag) = &mut items[i].is {
            // "twelve fifty, twelve fifty one, wart": two cows, or the second was meant?
            tag.bare = true;
        }
    }
}

/// "left hind ulcer, that was 84. Right hind wart, that was 85.": each cow is named behind what was said of her.
fn named_at_the_end(items: &[Item], starts: &[usize], text: &str) -> Option<Vec<Part>> {
    let (&first, &last) = (starts.first()?, starts.last()?);
    // "toe length eighty left hind outer of cow 1001, eighty five right hind outer of cow 1002"
    let of = |s: &usize| {
        let before = text.get(..items[*s].span.start as usize).unwrap_or_default().trim_end();
        words::ends_with(before, " of") && items.get(s + 1).is_none_or(|n| n.gap > Gap::Space)
    };
    let ends = |s: &usize| {
        items[*s].is_cow() && (items.get(s + 1).is_none_or(|n| n.gap == Gap::Stop) || of(s) && starts.iter().all(of))
    };
    // "ulcer right hind outer cow 914, wart left hind cow 915, wrapped": said in one breath with what was found.
    let cued = |s: &usize| matches!(&items[*s].is, Phrase::Cow(tag) if tag.cued);
    let behind =
        |s: &usize| cued(s) && items[*s].gap <= Gap::Space && items.get(s + 1).is_none_or(|n| n.gap > Gap::Space);
    let said = |from: usize, to: usize| items[from..to].iter().any(|i| !says_nothing(i));
    let each = starts.iter().all(behind);
    if starts.len() < 2 || !(each || last + 1 == items.len() && starts.iter().all(ends)) || !said(0, first) {
        return None;
    }
    let (mut from, mut begun) = (0, 0);
    let mut parts = Vec::new();
    for &s in starts {
        let end = items[s].span.end as usize;
        if !said(from, s) {
            return None;
        }
        let (stop, to) = if s == last { (text.len(), items.len() - 1) } else { (end.max(begun), s) };
        parts.push(Part { items: items[from..=to].to_vec(), span: Span::new(begun, stop), cows: 1 });
        (from, begun) = (s + 1, stop);
    }
    Some(parts)
}

/// "cows 570 and 571 came in, 570 has a wart, 571 is clean": named together first, each is told of by herself.
fn introduced(parts: &mut Vec<Part>) {
    let tag = |p: &Part| p.items.iter().find_map(Item::cow).map(|tag| tag.text.clone());
    let idle = |p: &&Part| p.items.iter().all(|i| i.is_cow() || says_nothing(i));
    let first = parts.iter().take_while(idle).count();
    let again = |p: &Part| tag(p).is_some() && parts[first..].iter().any(|later| tag(later) == tag(p));
    if first < 2 || !parts[..first].iter().all(again) {
        return;
    }
    let start = parts[0].span;
    parts.drain(..first);
    if let Some(part) = parts.first_mut() {
        part.span = start.to(part.span);
    }
}

/// Words that tell nothing of a cow.
fn says_nothing(item: &Item) -> bool {
    matches!(item.is, Phrase::Number { .. } | Phrase::Unread | Phrase::Aside | Phrase::Only)
}

/// "cow 21, ulcer. Cow 22, ulcer. Both to be seen again in four weeks": said of two cows behind the second.
fn both_at_the_end(parts: &mut [Part]) {
    let [first, second] = parts else { return };
    let both =
        |i: &Item| matches!(&i.is, Phrase::Place(p) if p.feet == Where::Both && p.claw.is_none()) && i.gap == Gap::Stop;
    let Some(at) = second.items.iter().rposition(both) else { return };
    if let [Item { is: Phrase::Due { .. }, gap, .. }] = &second.items[at + 1..]
        && *gap <= Gap::Space
        && !first.items.iter().any(|i| matches!(i.is, Phrase::Due { .. }))
    {
        first.items.push(second.items[at + 1].clone());
        second.items.remove(at);
    }
}

/// Parts of one cow that follow each other are one.
fn join_same(parts: &mut Vec<Part>) {
    let tag = |p: &Part| p.items.iter().find_map(Item::cow).map(|tag| tag.text.clone());
    for k in (1..parts.len()).rev() {
        if tag(&parts[k]).is_some() && tag(&parts[k]) == tag(&parts[k - 1]) {
            let part = parts.remove(k);
            let before = &mut parts[k - 1];
            before.span = before.span.to(part.span);
            before.items.extend(part.items.into_iter().filter(|i| !i.is_cow()));
        }
    }
}

/// Whether the next cow stands in a list with this one. "801, 803. Then 810 …" begins anew, and so does a cow with
/// another cue: "this is number 18, cow 3055, …".
fn goes_on(part: &Part, next: &Part, text: &str) -> bool {
    let cow = |p: &Part| p.items.iter().find(|i| i.is_cow()).map(|i| (i.span, i.gap, i.and, i.is.clone()));
    let (Some((before, _, _, Phrase::Cow(a))), Some((here, gap, and, Phrase::Cow(b)))) = (cow(part), cow(next)) else {
        return true;
    };
    let between = text.get(before.end as usize..here.start as usize).unwrap_or_default().to_lowercase();
    // "942 just calved, so I left her alone, and 943 was trimmed": told of, and no list.
    let anew = between.split(|c: char| !c.is_alphabetic()).any(|w| ["then", "next", "so", "i"].contains(&w));
    let cue = |span: Span| text.get(span.start as usize..).is_some_and(|t| t.to_lowercase().starts_with("num"));
    let other_cue = !and && b.cued && (!a.cued || cue(before) != cue(here));
    !anew && gap < Gap::Stop && !other_cue
}

/// "cow ten, cow eleven and cow twelve all clean": what is said at the end of a list of cows holds for all; so does
/// what leads on to it ("trimmed 412, 415 and 418").
fn share(parts: &mut [Part], text: &str) {
    let own = |p: &Part| p.items.iter().filter(|i| !i.is_cow()).count();
    let first = parts[0].items.iter().position(Item::is_cow).unwrap_or(0);
    // "trimmed cow 12, cow 13 clean" is no list: the second has her cue again.
    let in_a_list = |cow: &Item| cow.and || matches!(&cow.is, Phrase::Cow(tag) if !tag.cued);
    let led = first > 0
        && own(&parts[0]) == first
        && parts[0].items[first].gap <= Gap::Space
        && in_a_list(&parts[1].items[0]);
    let lead: Vec<Item> = if led { parts[0].items[..first].to_vec() } else { vec![] };
    // "two easy ones, cow 603 and cow 605, trimmed": what stands before says nothing.
    let cued = matches!(&parts[0].items[first].is, Phrase::Cow(tag) if tag.cued);
    let idle = cued && parts[0].items.iter().all(|i| i.is_cow() || says_nothing(i));
    let idle = if idle { own(&parts[0]) } else { 0 };
    // How many cows stand side by side behind the first.
    let side_by_side = 1 + parts.iter().skip(1).take_while(|p| own(p) == 0).count();
    // Those of a list behind one another, from the last back.
    let mut listed = 1;
    for k in (0..parts.len() - 1).rev() {
        listed += 1;
        if goes_on(&parts[k], &parts[k + 1], text) && own(&parts[k]) == if k == 0 { lead.len().max(idle) } else { 0 } {
            let rest: Vec<Item> = parts[k + 1].items.iter().filter(|i| !i.is_cow()).cloned().collect();
            parts[k].items.extend(rest);
            for part in &mut parts[k..k + listed] {
                part.cows = listed;
            }
        } else {
            listed = 1;
        }
    }
    for part in parts.iter_mut().skip(1).take(side_by_side) {
        part.items.splice(0..0, lead.iter().cloned());
    }
}
