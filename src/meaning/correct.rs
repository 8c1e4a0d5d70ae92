//! Rule 7: "scratch that", "make that", "I mean" replace the nearest earlier thing of the same kind.

use std::collections::VecDeque;

use crate::entry::Act;
use crate::grammar::{ClawWord, Deed, Item, Phrase, Place, When, Where};
use crate::words::{self, Gap, Span};

/// "no", said by itself.
fn is_no(said: &str) -> bool {
    ["no", "nope", "nah"].iter().any(|no| said.eq_ignore_ascii_case(no))
}

/// What kind of thing a phrase is, for corrections.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Like {
    Cow,
    Foot,
    Claw,
    Zone,
    Finding,
    Grade,
    Stage,
    Course,
    Deed,
    Score,
    Measure,
    Due,
    Number,
    Clear,
}

fn like(is: &Phrase) -> Option<Like> {
    Some(match is {
        Phrase::Cow(_) => Like::Cow,
        Phrase::Place(Place { feet: Where::Same, .. }) => Like::Claw,
        Phrase::Place(_) => Like::Foot,
        Phrase::Zones(_) => Like::Zone,
        Phrase::Finding(_) => Like::Finding,
        Phrase::Severity(_) => Like::Grade,
        Phrase::Stage(_) => Like::Stage,
        Phrase::Course(_) => Like::Course,
        Phrase::Deed(_) => Like::Deed,
        Phrase::Score { .. } => Like::Score,
        Phrase::Measure { .. } | Phrase::Amount { .. } => Like::Measure,
        Phrase::Due { .. } | Phrase::OffAt(_) | Phrase::Time(_) => Like::Due,
        Phrase::Number { .. } => Like::Number,
        Phrase::Clear | Phrase::ClearAll => Like::Clear,
        _ => return None,
    })
}

/// "Pared. Blocks? No. Not needed": what was asked and denied was not done.
fn without_the_asked(items: &mut [Item], text: &str) {
    for i in 2..items.len() {
        let no = items[i].is == Phrase::Not && is_no(items[i].span.of(text));
        let alone = no && items[i].gap > Gap::Space && items.get(i + 1).is_none_or(|next| next.gap > Gap::Space);
        let asked = items[i - 1].is == Phrase::Unread && items[i - 1].span.of(text) == "?";
        if alone && asked && matches!(items[i - 2].is, Phrase::Deed(_)) {
            items[i - 2..=i].iter_mut().for_each(|item| item.is = Phrase::Aside);
        }
    }
}

/// Applies every correction, first to last.
pub(super) fn apply(mut items: Vec<Item>, text: &str) -> Vec<Item> {
    without_the_asked(&mut items, text);
    // "left, no, right": a "no" that stands alone corrects.
    for i in 0..items.len().saturating_sub(1) {
        // "block outer, no inner, …": a claw alone cannot be denied.
        let claw = items[i].gap > Gap::Space
            && like(&items[i + 1].is) == Some(Like::Claw)
            && items.get(i + 2).is_none_or(|after| after.gap > Gap::Space);
        // "inner ulcer zone four no outer block inner"
        let claw = claw || items[i].is == Phrase::Not && is_other_than_the_block_s(&items[i + 1], items.get(i + 2));
        // "nine sixty two, no, nine sixty three"
        let of_cow = i > 0 && items[i].is == Phrase::Unread && items[i - 1].is_cow() && items[i + 1].is_cow();
        // "cow 640 no 604", "right hind, no left hind, thin sole"
        let twice = i > 0
            && items[i].is == Phrase::Not
            && (is_said_twice(&items[i - 1], &items[i + 1], &items[i + 2..]) || nothing_was_found_there(&items, i));
        let alone = (items[i].is == Phrase::Not || of_cow)
            && is_no(items[i].span.of(text))
            && (claw || twice || (items[i + 1].gap > Gap::Space && !denies_a_word(items[i].span, text)));
        if alone && i > 0 {
            items[i].is = Phrase::Change;
        }
        // "it's smaller, but it isn't closed"
        let denied = items[i].is == Phrase::Change
            && words::ends_with(items[i].span.of(text), "isn't")
            && matches!(items[i + 1].is, Phrase::Course(_))
            && items[i + 1].gap <= Gap::Space;
        if denied {
            items[i].is = Phrase::Not;
        }
    }
    // `SU no TU z5`: what is not there has no zone; which of the two is asked.
    let no = |i: &Item| i.is == Phrase::Not && is_no(i.span.of(text));
    for i in (1..items.len().saturating_sub(1)).rev() {
        if no(&items[i]) && is_another_after_all(&items[..i], &items[i + 1..]) {
            items.remove(i);
            items[i].or = true;
        }
    }
    said_behind(&mut items, text);
    without_the_quoted(&mut items, text);
    if !items.iter().any(|i| matches!(i.is, Phrase::Drop | Phrase::Change)) {
        return items;
    }
    let mut rest: VecDeque<Item> = items.into();
    let mut items = Vec::with_capacity(rest.len());
    while let Some(item) = rest.pop_front() {
        let drops = match item.is {
            Phrase::Drop => true,
            Phrase::Change => false,
            _ => {
                items.push(item);
                continue;
            }
        };
        // A second cue right after it ("no wait, I mean") is the same correction.
        while rest.front().is_some_and(|i| {
            matches!(i.is, Phrase::Drop | Phrase::Change)
                || (i.is == Phrase::Not
                    && i.gap <= Gap::Space
                    && rest.get(1).is_some_and(|i| matches!(i.is, Phrase::Place(_))))
        }) {
            rest.pop_front();
        }
        // Talk, or another sentence: it corrects nothing.
        let goes_on = rest
            .front()
            .is_some_and(|next| next.gap <= Gap::Comma && (next.is == Phrase::Not || like(&next.is).is_some()));
        without_the_denied(&mut rest);
        // "blk scratch that no blk just wrp": that alone is taken back.
        if drops && denies_the_last(&items, &rest) {
            items.pop();
            continue;
        }
        // "wait no, that's only dirt, she's clean": none of it is there.
        let verdict = rest.iter().find(|i| !matches!(i.is, Phrase::Only | Phrase::Aside | Phrase::Unread));
        let nothing = verdict.is_some_and(|i| matches!(i.is, Phrase::Clear | Phrase::ClearAll));
        let clause = items.len().checked_sub(1).map_or(0, |last| clause_start(&items, last));
        let lesion = items[clause..].iter().any(|i| matches!(i.is, Phrase::Finding(_)));
        let half = rest.front().is_some_and(|i| is_half_a_foot(&i.is));
        let was: Vec<Phrase> = if half { items.iter().map(|i| i.is.clone()).collect() } else { vec![] };
        let replaced = replace(&mut items, &mut rest, drops, text);
        let dropped = !replaced && (drops || nothing && lesion);
        if dropped {
            drop_phrase(&mut items);
        }
        // "near hind …, no wait, that's free of hind": the word for what it is was lost.
        let same = half && replaced && items.iter().map(|i| &i.is).eq(was.iter());
        if same || goes_on && !(replaced || dropped || items.is_empty()) && is_plain(&item, text) {
            items.push(item);
        }
    }
    items
}

fn is_half_a_foot(is: &Phrase) -> bool {
    matches!(is, Phrase::Place(Place { feet: Where::End(_) | Where::Side(_), .. }))
}

/// Whether a cue is hardly ever said but to correct; "sorry" and "wait" are talk as well.
fn is_plain(cue: &Item, text: &str) -> bool {
    const PLAIN: [&str; 11] = [
        "wait no",
        "no weight",
        "no wait",
        "correction",
        "make that",
        "no i mean",
        "no make that",
        "wait no make that",
        "scratch that make it",
        "change that to",
        "that should be",
    ];
    let said = cue.span.of(text).replace(',', "");
    PLAIN.iter().any(|w| said.eq_ignore_ascii_case(w))
}

/// "zone three, zone two I mean": the cue stands behind what is meant; it is put before it.
fn said_behind(items: &mut [Item], text: &str) {
    for i in 1..items.len() {
        let cue = items[i].is == Phrase::Change
            && ["i mean", "i meant", "i should say"].iter().any(|w| items[i].span.of(text).eq_ignore_ascii_case(w));
        // "right hind, I mean, left hind" goes on with its like.
        let goes_on = items.get(i + 1).is_some_and(|next| like(&next.is) == like(&items[i - 1].is));
        let close = items[i].gap <= if goes_on { Gap::Space } else { Gap::Comma };
        let ends = close && items.get(i + 1).is_none_or(|next| next.gap > Gap::Space);
        if !cue || !ends {
            continue;
        }
        // "zone four, two, severity two I mean": the second was no zone.
        if i >= 2
            && let Phrase::Severity(grade) = items[i - 1].is
            && let Phrase::Zones(zones) = &mut items[i - 2].is
            && zones.len() > 1
            && zones.last().is_some_and(|z| u64::from(*z) == grade)
        {
            zones.pop();
            items[i].is = Phrase::Aside;
            continue;
        }
        // Two zones side by side are one phrase.
        if let Phrase::Zones(zones) = &mut items[i - 1].is
            && let [_, meant] = zones[..]
        {
            *zones = vec![meant];
            items[i].is = Phrase::Aside;
        } else if items[i - 1].gap > Gap::Space && twin(&items[..i - 1], &items[i - 1], 0).is_some() {
            items[i].gap = std::mem::replace(&mut items[i - 1].gap, Gap::Space);
            items.swap(i - 1, i);
        } else if items[i - 1].gap > Gap::Space && matches!(items[i - 1].is, Phrase::Finding(_)) {
            // "left hind's healed up, the white line I mean": no other was named.
            items[i].is = Phrase::Aside;
        }
    }
}

/// "M2 on the left hind. Did I say left? I meant right": said again only to be corrected.
fn without_the_quoted(items: &mut Vec<Item>, text: &str) {
    for i in (2..items.len()).rev() {
        let quoted = (1..i).rev().find(|k| items[*k].is != Phrase::Unread);
        let Some(k) = quoted.filter(|_| matches!(items[i].is, Phrase::Change)) else { continue };
        let led = text.get(..items[k].span.start as usize).unwrap_or_default().trim_end();
        let asked = ["did i say", "have i said", "i said"].iter().any(|w| words::ends_with(led, w));
        if asked && items.get(i + 1).is_some_and(|n| like(&n.is) == like(&items[k].is)) {
            items.remove(k);
        }
    }
}

/// "no wait, not the inner, the outer": what was said before is named again only to be denied.
fn without_the_denied(after: &mut VecDeque<Item>) {
    let kind = |k: usize, after: &VecDeque<Item>| after.get(k).and_then(|i| like(&i.is));
    let not = after.front().is_some_and(|i| i.is == Phrase::Not);
    let again = after.get(1).is_some_and(|i| i.gap <= Gap::Space) && after.get(2).is_some_and(|i| i.gap == Gap::Comma);
    if not && again && kind(1, after).is_some() && kind(1, after) == kind(2, after) {
        after.drain(..2);
    }
}

/// Whether what follows denies the deed right before.
fn denies_the_last(before: &[Item], after: &VecDeque<Item>) -> bool {
    let deed = |i: Option<&Item>| match i.map(|i| &i.is) {
        Some(Phrase::Deed(d)) => Some(d.what),
        _ => None,
    };
    let not = after.front().is_some_and(|i| i.is == Phrase::Not);
    not && deed(before.last()).is_some() && deed(before.last()) == deed(after.get(1))
}

/// A lesion without a zone, "no", and another with its zone or its stage in the same breath.
fn is_another_after_all(before: &[Item], after: &[Item]) -> bool {
    let close = |i: Option<&Item>| i.is_some_and(|i| i.gap <= Gap::Space);
    let detail = |i: Option<&Item>| matches!(i, Some(Item { is: Phrase::Zones(_) | Phrase::Stage(_), .. }));
    match (before, after) {
        ([.., Item { is: Phrase::Finding(a), .. }], [Item { is: Phrase::Finding(b), gap, .. }, rest @ ..]) => {
            a != b && *gap <= Gap::Space && detail(rest.first()) && close(rest.first())
        }
        _ => false,
    }
}

/// A cow behind a cow, a foot behind a foot with nothing else said of the second in the same breath, or two of what
/// cannot be denied ("zone three, no zone two").
fn is_said_twice(first: &Item, second: &Item, after: &[Item]) -> bool {
    // "right hind inner no outer abscess zone two": what is not there has no zone.
    let zoned = |rest: &[Item]| rest.first().is_some_and(|z| z.gap <= Gap::Space && matches!(z.is, Phrase::Zones(_)));
    let alone = match after {
        [a, rest @ ..] if a.gap <= Gap::Space => match a.is {
            Phrase::Finding(_) => zoned(rest),
            Phrase::Deed(_) => false,
            _ => true,
        },
        _ => true,
    };
    match (&first.is, &second.is) {
        (Phrase::Cow(_), Phrase::Cow(_)) => true,
        (Phrase::Cow(_), Phrase::Number { text, .. }) => text.len() >= 2,
        (
            Phrase::Place(was @ Place { feet: Where::Feet(a), .. }),
            Phrase::Place(now @ Place { feet: Where::Feet(b), .. }),
        ) => {
            // "left front outer, no, left front inner": of the same foot the claw.
            let claw = was.one_claw().zip(now.one_claw()).is_some_and(|(a, b)| a != b);
            a.len() == 1
                && b.len() == 1
                && (a[0].0 != b[0].0 && alone || a[0].0 == b[0].0 && claw)
                && second.gap <= Gap::Space
        }
        (Phrase::Zones(_), Phrase::Zones(_))
        | (Phrase::Stage(_), Phrase::Stage(_))
        | (Phrase::Severity(_), Phrase::Severity(_))
        | (Phrase::Score { .. }, Phrase::Score { .. })
        // "recheck in two weeks no three weeks"
        | (Phrase::Due { .. } | Phrase::OffAt(_) | Phrase::Time(_), Phrase::Time(_) | Phrase::OffAt(_)) => {
            second.gap <= Gap::Space
        }
        // "right hind inner no outer, zone four"
        (Phrase::Place(a), Phrase::Place(b @ Place { feet: Where::Same, .. })) => {
            let claw = |p: &Place| p.claw.or_else(|| p.one_claw());
            second.gap <= Gap::Space && alone && claw(a).zip(claw(b)).is_some_and(|(a, b)| a != b)
        }
        _ => false,
    }
}

/// "pared, then right hind inner no outer white line abscess": a claw of which nothing was said, and the lesion of the other.
fn nothing_was_found_there(items: &[Item], no: usize) -> bool {
    let claw = |k: usize| items[k].is.place().and_then(Place::one_claw);
    let close = |k: usize| items.get(k).is_some_and(|i| i.gap <= Gap::Space);
    let foot = no.checked_sub(1).filter(|k| items[*k].is.one_foot().is_some());
    let other = matches!(&items[no + 1].is, Phrase::Place(p) if p.feet == Where::Same)
        && foot.and_then(claw).zip(claw(no + 1)).is_some_and(|(a, b)| a != b);
    let lesion = items.get(no + 2).is_some_and(|i| matches!(i.is, Phrase::Finding(_)));
    let told = foot.is_some_and(|k| close(k) && k > 0 && matches!(items[k - 1].is, Phrase::Finding(_)));
    other && lesion && !told && (no..=no + 2).all(close)
}

/// Whether a claw is named, and right behind it a block on its partner.
fn is_other_than_the_block_s(claw: &Item, block: Option<&Item>) -> bool {
    let Phrase::Place(Place { feet: Where::Same, claw: Some(ClawWord::One(claw)), .. }) = &claw.is else {
        return false;
    };
    let on = |i: &Item| matches!(&i.is, Phrase::Deed(d) if d.what == Act::Block && d.claw == Some(ClawWord::One(claw.partner())));
    block.is_some_and(|i| i.gap <= Gap::Space && on(i))
}

/// "no pus, block inside": it denies the word behind it.
fn denies_a_word(no: Span, text: &str) -> bool {
    let after = text.get(no.end as usize..).unwrap_or_default();
    after.trim_start_matches(' ').starts_with(char::is_alphabetic)
}

/// Puts the first thing after the correction, and what goes on with it, in place of its like.
/// False where nothing before is like it.
fn replace(before: &mut Vec<Item>, after: &mut VecDeque<Item>, drops: bool, text: &str) -> bool {
    // "no I mean just the wrap"
    while after.front().is_some_and(|i| matches!(i.is, Phrase::Only | Phrase::Unread)) && after.len() > 1 {
        after.pop_front();
    }
    // "wood block, scratch that, we're out of wood, rubber block": why.
    let why =
        |i: &Item| matches!(i.is, Phrase::Material(_)) && words::ends_with(&text[..i.span.start as usize], "out of ");
    if after.len() > 1 && after.front().is_some_and(why) {
        after.pop_front();
    }
    let Some(first) = after.front() else {
        return false;
    };
    // "rubber block inner, make that wood"
    if let Phrase::Material(name) = &first.is
        && let Some(Phrase::Deed(block)) = before.iter_mut().rev().map(|i| &mut i.is).find(|is| is_block(is))
    {
        block.material = Some(name.clone());
        after.pop_front();
        return true;
    }
    // "wrap with salicylic, make that copper"
    if let Phrase::Agent(_) = &first.is
        && let Some(agent) = before.last_mut().filter(|i| matches!(i.is, Phrase::Agent(_)))
    {
        agent.is = first.is.clone();
        after.pop_front();
        return true;
    }
    if let Phrase::Agent(name) = &first.is
        && let Some(Phrase::Deed(deed)) = before.last_mut().map(|i| &mut i.is)
        && deed.agent.is_some()
    {
        deed.agent = Some(name.clone());
        after.pop_front();
        return true;
    }
    let Some(at) = twin(before, first, 0) else {
        return false;
    };
    // "cow 205, foul left front. Cow 206, left front too, no, just a stone": nothing of the cow before.
    let (hers, behind) = before.split_at(at);
    if !first.is_cow() && behind.iter().any(Item::is_cow) && hers.iter().any(Item::is_cow) {
        return false;
    }
    // "both hinds M4. Actually the right one's got a red spot on it": more of one of them.
    let group = |is: &Phrase| matches!(is, Phrase::Place(p) if p.group);
    let one = |is: &Phrase| matches!(is, Phrase::Place(p) if !p.group);
    let tells = || {
        let behind = text.get(first.span.end as usize..).unwrap_or_default();
        ["'s got", " got", " has", " had"].iter().any(|w| words::begins(behind, w))
    };
    if !drops && group(&before[at].is) && one(&first.is) && tells() {
        // It begins a sentence, as its cue did.
        if let Some(first) = after.front_mut() {
            first.gap = Gap::Stop;
        }
        return false;
    }
    // "block inner, scratch that, inner's sore too, wrap only": why it is taken back.
    let same_claw = match (&before[at].is, &first.is) {
        (Phrase::Deed(Deed { claw: was @ Some(_), .. }), Phrase::Place(now)) => {
            now.feet == Where::Same && *was == now.claw
        }
        _ => false,
    };
    if drops && same_claw && after.get(1).is_some_and(|next| next.gap > Gap::Space) {
        return false;
    }
    // "… block inner. My phone's about dead, hang on. Cow 457 clean.": the next cow.
    let said = |i: &Item| matches!(i.is, Phrase::Finding(_) | Phrase::Deed(_) | Phrase::Clear | Phrase::ClearAll);
    if first.is_cow() && first.gap == Gap::Stop && after.len() > 1 && before[at + 1..].iter().any(said) {
        return false;
    }
    // "toe 90 millimetres, should be 80": how long it ought to be.
    let ought = text.get(..first.span.start as usize).and_then(|t| t.trim_end().strip_suffix("should be"));
    if let Some(said) = ought.filter(|said| said.ends_with([' ', ',']) && !said.trim_end().ends_with("that"))
        && like(&before[at].is) == Some(Like::Measure)
    {
        if let Some(target) = after.front_mut() {
            target.is = Phrase::Remark(Span { start: said.len() as u32, ..target.span });
        }
        return true;
    }
    // "thought it was an ulcer but no, only a bruise": what was denied already is not corrected.
    if matches!(first.is, Phrase::Finding(_) | Phrase::Deed(_) | Phrase::Place(_))
        && at > 0
        && before[at - 1].is == Phrase::Not
        && before[at].gap <= Gap::Space
    {
        return false;
    }
    // "grade two, make that grade three on the left": of the one foot; the other keeps what it has.
    let of_one = matches!(first.is, Phrase::Severity(_) | Phrase::Zones(_) | Phrase::Stage(_) | Phrase::Course(_))
        && !drops
        && after.get(1).is_some_and(|p| {
            p.gap <= Gap::Space && matches!(&p.is, Phrase::Place(p) if matches!(p.feet, Where::Side(_)))
        })
        && !after.get(2).is_some_and(|f| f.gap <= Gap::Space && matches!(f.is, Phrase::Finding(_)));
    // "M4 both hinds, actually M4.1 on the right"
    let several = before[..at].iter().rev().chain(&before[at + 1..]).find_map(|i| match &i.is {
        Phrase::Place(p) if p.feet != Where::Same => Some(p.group),
        _ => None,
    });
    if of_one && several == Some(true) {
        return true;
    }
    // "grade 2, make that 3 on the left"
    let side = after
        .get(1)
        .is_some_and(|p| p.gap <= Gap::Space && matches!(&p.is, Phrase::Place(p) if matches!(p.feet, Where::Side(_))));
    if let (Phrase::Number { value: Some(n), .. }, Phrase::Severity(_), Some(true), true, false) =
        (&first.is, &before[at].is, several, side, drops)
    {
        let n = *n;
        if let Some(first) = after.front_mut() {
            first.is = Phrase::Severity(n);
        }
        return true;
    }
    let floor = clause_start(before, at).max(foot_of(before, at));
    let mut last = at;
    if let Some(first) = after.pop_front() {
        put(before, at, first, text);
    }
    // What follows in the same breath corrects too, but only since the thing corrected.
    // "or rather digital dermatitis on an old corn" goes on with what is there too.
    let mut anew = vec![at];
    // "make that zone three then the right front …": the next foot corrects none.
    let detail = matches!(
        before[at].is,
        Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_) | Phrase::Score { .. } | Phrase::Measure { .. }
    );
    while let Some(next) = after.pop_front_if(|next| next.gap <= Gap::Space && !(detail && names_a_foot(next))) {
        let Some(at) = twin(before, &next, floor).filter(|at| !anew.contains(at)) else {
            after.push_front(next);
            break;
        };
        anew.push(at);
        last = last.max(at);
        put(before, at, next, text);
    }
    // "left hind clean, scratch that, left hind wart": what was said of the place goes with it.
    // "left hind wart, scratch that, right hind" keeps it.
    let said_anew = !matches!(before[last].is, Phrase::Place(_)) || after.front().is_some_and(|n| n.gap <= Gap::Space);
    if drops && said_anew && !matches!(before[last].is, Phrase::Cow(_)) {
        let end = (last + 1..before.len()).find(|k| before[*k].gap > Gap::Space).unwrap_or(before.len());
        let lesion = matches!(before[last].is, Phrase::Finding(_));
        let behind: Vec<Item> = before.drain(last + 1..end).collect();
        // "sole ulcer right hind, scratch that, only a bruise": its place stays.
        for place in behind.into_iter().rev().filter(|i| lesion && matches!(i.is, Phrase::Place(_))) {
            before.insert(last + 1, place);
        }
    }
    true
}

fn is_block(is: &Phrase) -> bool {
    matches!(is, Phrase::Deed(deed) if deed.what == Act::Block)
}

/// The nearest earlier item of the same kind, not before `floor`.
fn twin(before: &[Item], new: &Item, floor: usize) -> Option<usize> {
    let kind = like(&new.is)?;
    let fits = |old: &Phrase| match (kind, old) {
        // "make that inner" changes the claw of a foot and claw.
        (Like::Claw, Phrase::Place(p)) => p.claw.is_some(),
        (Like::Claw, Phrase::Deed(d)) => d.claw.is_some(),
        // "make that three": the nearest number.
        (Like::Number, old) => matches!(
            old,
            Phrase::Cow(_)
                | Phrase::Zones(_)
                | Phrase::Severity(_)
                | Phrase::Score { .. }
                | Phrase::Measure { .. }
                | Phrase::Amount { .. }
                | Phrase::Number { .. }
                | Phrase::Stage(_)
                | Phrase::Due { .. }
                | Phrase::OffAt(_)
                | Phrase::Time(_)
        ),
        (Like::Foot, Phrase::Place(p)) => p.feet != Where::Same,
        (_, old) => like(old) == Some(kind),
    };
    // "locomotion two for cow ninety one. No, that's a three": one figure is no correction of a tag of several.
    let tag = |old: &Item| match (&new.is, &old.is) {
        (Phrase::Number { text, .. }, Phrase::Cow(tag)) => text.len() == 1 && tag.text.len() > 1,
        _ => false,
    };
    let nearest = (floor..before.len()).rev().find(|i| fits(&before[*i].is) && !tag(&before[*i]));
    // "on the inner claw, no wait, outer claw of the right hind"
    let claw = |i: &usize| matches!(&before[*i].is, Phrase::Place(p) if p.feet == Where::Same && p.claw.is_some());
    let both = matches!(&new.is, Phrase::Place(p) if p.one_claw().is_some() && p.feet != Where::Same);
    nearest.or_else(|| (floor..before.len()).rev().find(claw).filter(|_| both && kind == Like::Foot))
}

fn clause_start(items: &[Item], at: usize) -> usize {
    (0..=at).rev().find(|i| items[*i].gap > Gap::Space).unwrap_or(0)
}

fn names_a_foot(item: &Item) -> bool {
    item.is.place().is_some_and(|place| place.feet != Where::Same)
}

/// Where the foot is named that the item at `at` is said of: what stands before that is of another. (Of a foot that is itself
/// corrected, the lesion may stand before it.)
fn foot_of(items: &[Item], at: usize) -> usize {
    if names_a_foot(&items[at]) {
        // "left hind bruise mild right hind no left front wart": the bruise has its own foot.
        let lesion = items[..at].iter().rposition(|i| matches!(i.is, Phrase::Finding(_) | Phrase::Stage(_)));
        let own = match lesion {
            // "wart right rear healed and then left front, wait no, right front white line": before it or behind it.
            Some(lesion) => items[at].and || items[..lesion].iter().chain(&items[lesion + 1..at]).any(names_a_foot),
            None => at > 0 && matches!(items[at - 1].is, Phrase::Deed(_) | Phrase::Cow(_)),
        };
        return if own { at } else { 0 };
    }
    items[..at].iter().rposition(names_a_foot).unwrap_or(0)
}

/// So many days, weeks or months, as in the time corrected; one that has no number is asked.
fn as_many(was: When, n: u64, said: &str) -> When {
    let Ok(n) = u32::try_from(n) else { return When::Open };
    let said = said.to_lowercase();
    let has = |unit: &str| said.split(|c: char| !c.is_alphabetic()).any(|w| w.starts_with(unit));
    match was {
        When::Months(_) => When::Months(n),
        When::Days(_) if has("fortnight") => When::Days(n.saturating_mul(14)),
        When::Days(_) if has("week") || has("wk") => When::Days(n.saturating_mul(7)),
        When::Days(_) if has("day") || said.ends_with('d') => When::Days(n),
        _ => When::Open,
    }
}

fn put(before: &mut [Item], at: usize, new: Item, text: &str) {
    let old = &mut before[at];
    let is = match (&old.is, new.is) {
        (Phrase::Place(was), Phrase::Place(now)) => Phrase::Place(merge(was, now)),
        (Phrase::Deed(was), Phrase::Place(now)) => {
            let mut deed = was.clone();
            deed.claw = now.claw;
            Phrase::Deed(deed)
        }
        (Phrase::Zones(_), Phrase::Number { value: Some(n), .. }) => {
            Phrase::Zones(vec![u8::try_from(n).unwrap_or(u8::MAX)])
        }
        (Phrase::Severity(_), Phrase::Number { value: Some(n), .. }) => Phrase::Severity(n),
        (Phrase::Stage(old), Phrase::Number { value: Some(n), .. }) => {
            Phrase::Stage(crate::disorder::Stage::new(n, None).unwrap_or(*old))
        }
        // "recheck in four weeks, make that six": so many of the same.
        (Phrase::Due { what, when }, Phrase::Number { value: Some(n), .. }) => {
            Phrase::Due { what: *what, when: as_many(*when, n, old.span.of(text)) }
        }
        (Phrase::OffAt(when), Phrase::Number { value: Some(n), .. }) => {
            Phrase::OffAt(as_many(*when, n, old.span.of(text)))
        }
        (Phrase::Time(when), Phrase::Number { value: Some(n), .. }) => {
            Phrase::Time(as_many(*when, n, old.span.of(text)))
        }
        (Phrase::Score { scale, .. }, Phrase::Number { value: Some(n), .. }) => {
            Phrase::Score { scale: *scale, value: n, whole: true }
        }
        (Phrase::Measure { what, at, .. }, Phrase::Number { value: Some(n), .. }) => {
            Phrase::Measure { what: *what, milli: n * 1000, at: *at }
        }
        (Phrase::Amount { unit, .. }, Phrase::Number { value: Some(n), .. }) => {
            Phrase::Amount { milli: n * 1000, unit: *unit }
        }
        (Phrase::Measure { what, at, .. }, Phrase::Amount { milli, unit }) => {
            Phrase::Measure { what: *what, milli: crate::grammar::convert(milli, unit), at: *at }
        }
        (Phrase::Cow(_), Phrase::Number { text, .. }) => {
            Phrase::Cow(crate::grammar::Tag { text, others: vec![], cued: true, bare: false, told: false, glued: None })
        }
        (Phrase::Due { what, .. }, Phrase::Time(when)) => Phrase::Due { what: *what, when },
        // "abscess, make that white line": a finding by a finding.
        (_, is) => is,
    };
    *old = Item { is, span: new.span, gap: old.gap, and: old.and, or: old.or };
}

/// The new place, with what it leaves open taken from the old one.
fn merge(was: &Place, now: Place) -> Place {
    let mut out = now.clone();
    if let (Where::Same, _) = (&now.feet, now.claw) {
        out.feet = was.feet.clone();
        out.group = was.group;
    }
    if let (Where::Side(side), Where::Feet(feet)) = (&now.feet, &was.feet) {
        out.feet = Where::Feet(feet.iter().map(|(f, c)| (crate::anatomy::Foot::new(*side, f.end()), *c)).collect());
    }
    if let (Where::End(end), Where::Feet(feet)) = (&now.feet, &was.feet) {
        out.feet = Where::Feet(feet.iter().map(|(f, c)| (crate::anatomy::Foot::new(f.side(), *end), *c)).collect());
    }
    if out.claw.is_none() {
        out.claw = was.claw;
    }
    out
}

/// "scratch that" with nothing of its kind after it drops the phrase before.
fn drop_phrase(items: &mut Vec<Item>) {
    let Some(last) = items.len().checked_sub(1) else {
        return;
    };
    let start = clause_start(items, last);
    // The cow stays: only what was said of her is taken back, unless she is all that was said.
    let keep = (start..items.len()).find(|i| !matches!(items[*i].is, Phrase::Cow(_))).unwrap_or(start);
    items.truncate(keep);
}
