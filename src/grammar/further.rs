//! Further cows of a note: numbers without a cue that only another cow explains.
//!
//! "cow 12 and 13 clean, 14 has a wart on the right hind": what is said of 13 and 14 must not be kept under 12.
//! Where nothing but its place makes a number a cow, she is asked about.

use super::item::{Item, Phrase, Tag, When};
use crate::words::{Gap, Span};

/// Makes cows of the numbers that stand where a cow is named, once a cow was named in the note.
pub(super) fn further(text: &str, mut items: Vec<Item>) -> Vec<Item> {
    if items.iter().any(Item::is_cow) && items.iter().any(is_number) {
        before_the_first(text, &mut items);
        let first = items.iter().position(Item::is_cow).unwrap_or(items.len());
        for i in first + 1..items.len() {
            if let Some(is) = cow_at(text, &items, i, is_bare(&items[first])) {
                items[i].is = is;
            }
        }
        join_split_numbers(text, &mut items);
        or_another(text, &mut items);
    }
    items
}

/// "this one's number 33 but the tag's half gone, could be 38": which of the two she is.
fn or_another(text: &str, items: &mut [Item]) {
    let Some(cow) = items.iter().position(Item::is_cow) else { return };
    let says = |i: &Item| says_something(i) || i.is_cow();
    let told = items[cow + 1..].iter().position(says).map_or(items.len(), |at| cow + 1 + at);
    for i in cow + 1..told.saturating_sub(1) {
        let close = items[i + 1].gap <= Gap::Space && items[i].is == Phrase::Hedge;
        let Some(other) = tag_of(text, &items[i + 1]).filter(|_| close) else { continue };
        if let Phrase::Cow(tag) = &mut items[cow].is
            && tag.text.len() == other.len()
            && tag.text != other
        {
            tag.others.push(other);
            items[i].is = Phrase::Aside;
            items[i + 1].is = Phrase::Aside;
        }
    }
}

fn is_number(item: &Item) -> bool {
    matches!(item.is, Phrase::Number { .. })
}

/// "trimmed 412, 415 and 418": a number in front of the first cow, in a list with her.
fn before_the_first(text: &str, items: &mut [Item]) {
    let Some(first) = items.iter().position(Item::is_cow) else { return };
    for i in (0..first).rev() {
        let next = &items[i + 1];
        let listed = next.is_cow() && (next.and || next.gap == Gap::Comma);
        match tag_of(text, &items[i]) {
            Some(tag) if listed => items[i].is = Phrase::Cow(Tag::alone(tag, false)),
            _ => break,
        }
    }
}

/// The digits of a number that may be a tag: two or more, heard word for word.
fn tag_of(text: &str, item: &Item) -> Option<String> {
    digits_of(text, item).filter(|digits| digits.len() >= 2)
}

fn digits_of(text: &str, item: &Item) -> Option<String> {
    let Phrase::Number { text: digits, plain: true, .. } = &item.is else { return None };
    (!item.span.of(text).contains(['.', '/'])).then(|| digits.clone())
}

/// `91 LHO SU blk i / 92 ok / 93 RH DD`: where the sign ends that stands between two cows of one line.
fn behind_a_sign(text: &str, from: u32, to: u32) -> Option<u32> {
    let between = text.get(from as usize..to as usize)?;
    let sign = [between.rfind(';'), between.rfind(" / ").map(|at| at + 1)].into_iter().flatten().max()?;
    Some(from + sign as u32 + 1)
}

/// Phrases back in which a cow is looked for.
const LIST: usize = 60;

/// Words that lead on to the next cow.
const LEADING: [&str; 33] = [
    "came",
    "comes",
    "come",
    "and",
    "then",
    "also",
    "next",
    "now",
    "so",
    "plus",
    "while",
    "but",
    "we",
    "had",
    "have",
    "got",
    "there",
    "here",
    "s",
    "is",
    "her",
    "sister",
    "daughter",
    "mother",
    "dam",
    "pen",
    "mate",
    "friend",
    "neighbour",
    "neighbor",
    "heifer",
    "either",
    "too",
];
/// Words that say something of a cow just named; the first five say that she is one.
const TELLING: [&str; 27] = [
    "has", "had", "is", "was", "got", "behind", "her", "next", "gets", "with", "a", "an", "the", "both", "all", "she",
    "s", "just", "bit", "of", "touch", "little", "are", "were", "limping", "lame", "on",
];

/// So many words at most between what says that she has something, and what that is.
const FEW: usize = 4;

/// Whether nothing but its place at the start of the note makes the number a cow.
fn is_bare(cow: &Item) -> bool {
    matches!(&cow.is, Phrase::Cow(tag) if !tag.cued)
}

/// The cow that the number at `i` is; `bare` tells whether the first was one without a cue as well.
fn cow_at(text: &str, items: &[Item], i: usize, bare: bool) -> Option<Phrase> {
    let item = &items[i];
    // "heel height left hind inner thirty eight"
    let measured = i > 1 && matches!((&items[i - 2].is, &items[i - 1].is), (Phrase::Part(_), Phrase::Place(_)));
    if measured && item.gap <= Gap::Space {
        return None;
    }
    // "toe length eighty on the left hind outer of cow 1001, eighty five on the right hind outer of cow 1002"
    let length = |k: &Item| matches!(k.is, Phrase::Measure { .. } | Phrase::Amount { .. } | Phrase::Part(_));
    let on_a_foot = items.get(i + 1).is_some_and(|n| {
        matches!(n.is, Phrase::Place(_)) && words_between(text, item.span, n.span).first() == Some(&"on")
    });
    if on_a_foot && items[..i].iter().any(length) {
        return None;
    }
    let digits = digits_of(text, item)?;
    // "clean, then 15": a word that leads on says nothing itself.
    let leads = |k: usize| {
        items[k].is == Phrase::Unread && LEADING.iter().any(|w| items[k].span.of(text).eq_ignore_ascii_case(w))
    };
    let led_on = i > 1 && leads(i - 1);
    let before = &items[i - if led_on { 2 } else { 1 }];
    // "Then 280, scissor claws": the pause stands before the word.
    let gap = if led_on { items[i - 1].gap.max(item.gap) } else { item.gap };
    // "two fifteen and two sixteen just trimmed": past the rest of the list, and "just".
    // "17's got foot rot"
    let whose = |n: &Item| n.is == Phrase::Unread && n.span.of(text).eq_ignore_ascii_case("s");
    // "78 has one right hind"
    let one =
        |n: &Item| matches!(n.is, Phrase::Number { value: Some(1), .. }) && n.span.of(text).eq_ignore_ascii_case("one");
    // "241 next, right hind M2", "80 behind her clean"
    let behind = |n: &Item| {
        let said = n.span.of(text).to_lowercase();
        matches!(n.is, Phrase::Unread | Phrase::Aside)
            && ["next", "behind her", "behind", "after her"].contains(&&*said)
    };
    let passed = |n: &&Item| {
        n.is == Phrase::Only || whose(n) || behind(n) || one(n) || (is_number(n) && (n.and || n.gap == Gap::Comma))
    };
    let next = items[i + 1..].iter().find(|n| !passed(n));
    let ends_the_list =
        next.map_or(item, |n| items[i..].iter().take_while(|k| !std::ptr::eq(*k, n)).last().unwrap_or(item));
    // "It's quarter past two already. 251 thin sole": what leads on to it stands in its own sentence.
    let sentence = text.get(before.span.end as usize..item.span.start as usize).and_then(|t| t.rfind(". "));
    let sign = behind_a_sign(text, before.span.end, item.span.start);
    // `6 ok; 7 ok`
    let short = sign.is_some() && bare && follows(&items[..i], &digits);
    // "cow 8 and 9 clean", but not "cow 12 and three feet clean"
    let clean = next.is_some_and(|n| {
        let verdict = n.gap <= Gap::Space && matches!(n.is, Phrase::Clear | Phrase::ClearAll);
        let feet = n.span.of(text).to_lowercase().starts_with("feet");
        let between = words_between(text, ends_the_list.span, n.span);
        verdict && !feet && between.iter().all(|w| ["are", "were", "is", "both", "all"].contains(w))
    });
    let listed = before.is_cow() && (item.and || item.gap == Gap::Comma) && clean;
    if digits.len() < 2 && !short && !listed {
        return None;
    }
    let begins = Span { end: before.span.end + sentence.map_or(0, |at| at as u32 + 1), ..before.span };
    let begins = Span { end: sign.unwrap_or(0).max(begins.end), ..begins };
    let led = words_between(text, begins, item.span);
    let cow = |bare| Some(Phrase::Cow(Tag::alone(digits.clone(), bare)));
    // "the same for 415"
    if before.is == Phrase::Same && item.gap <= Gap::Space && led.iter().all(|w| ["for", "on", "with"].contains(w)) {
        return cow(false);
    }
    let told = next.map_or_else(Vec::new, |n| words_between(text, ends_the_list.span, n.span));
    let telling = |w: &&str| TELLING.iter().any(|t| w.eq_ignore_ascii_case(t));
    // "508 wart right hind. 511 recheck, wart left hind healing": why she is here.
    let recheck = item.gap > Gap::Space && matches!(next, Some(Item { is: Phrase::Due { when: When::Open, .. }, .. }));
    // "while 62 has a proper sole ulcer", "921 just has a moderate one"
    let has = told.len() <= FEW && told.iter().take(2).any(|w| TELLING[..5].contains(w));
    // "and 236 in the next stall has foul"
    let has =
        has || digits.len() >= 3 && told.len() <= FEW + 2 && told.last().is_some_and(|w| TELLING[..2].contains(w));
    let says = next.is_some_and(|n| recheck || says_something(n)) && (told.iter().all(telling) || has);
    let close = next.is_some_and(|n| n.gap <= Gap::Space);
    let said_of_her = told.first().is_some_and(|w| TELLING[..5].contains(w));
    let clear = matches!(next, Some(Item { is: Phrase::Clear | Phrase::ClearAll, .. }));
    // "570 and 571 came in together, 570 has a wart": named again, whatever was said between.
    let again = items[..i].iter().rev().take(LIST).any(|k| matches!(&k.is, Phrase::Cow(tag) if tag.text == digits));
    if again && gap > Gap::Space && says && close && (said_of_her || clear) {
        return cow(false);
    }
    let corrects = matches!(before.is, Phrase::Change | Phrase::Drop | Phrase::Not | Phrase::Hedge);
    if corrects || !led.iter().all(|w| LEADING.iter().any(|l| w.eq_ignore_ascii_case(l))) {
        return None;
    }
    // "91 92 93": one more each time.
    let next_to = |tag: &Tag| tag.text.parse::<u64>().is_ok_and(|n| digits.parse().ok() == n.checked_add(1));
    if let Phrase::Cow(tag) = &before.is
        && item.gap == Gap::Space
        && !item.and
        && (next_to(tag) || digits.len() >= 3 && tag.text.len() == digits.len() && tag.text < digits)
    {
        // `1052 1055 1060 trim`: three of them in a row are cows.
        let more = |k: usize| items.get(k).is_some_and(|n| n.gap == Gap::Space && (is_number(n) || n.is_cow()));
        let row = digits.len() >= 3 && (more(i + 1) || i >= 2 && more(i - 1) && items[i - 2].is_cow());
        return cow(!row);
    }
    if before.is_cow() && (item.and || item.gap == Gap::Comma) {
        // "12 and 13 dogs": what a number counts is not always a word we know.
        let counts = close && !says && !matches!(next, Some(n) if n.and);
        let ends_a_list = item.and || in_a_list(items, i);
        return cow(counts || !ends_a_list);
    }
    // In running speech a number right after one of these belongs to it.
    let counted = matches!(
        before.is,
        Phrase::Measure { .. }
            | Phrase::Amount { .. }
            | Phrase::Score { .. }
            | Phrase::Zones(_)
            | Phrase::Stage(_)
            | Phrase::Severity(_)
            | Phrase::Due { .. }
            | Phrase::OffAt(_)
            | Phrase::Time(_)
            | Phrase::Part(_)
            | Phrase::Unread
            | Phrase::Number { .. }
    );
    // "1582, clean 1583, M4, left hind 1584, clean": a recogniser's commas; the next one of three figures or more.
    let next_of = |tag: &Tag| tag.text.len() == digits.len() && next_to(tag);
    let last = items[..i].iter().rev().take(LIST).find_map(Item::cow);
    let parted = digits.len() >= 3 && gap <= Gap::Space && next.is_some_and(|n| n.gap == Gap::Comma);
    if parted && !counted && last.is_some_and(next_of) {
        return cow(true);
    }
    if !says {
        return None;
    }
    // `14 ok + 15 ok + 16 LH DD`
    let plus =
        item.and && text.get(before.span.end as usize..item.span.start as usize).is_some_and(|t| t.trim() == "+");
    if plus && bare && close && follows(&items[..i], &digits) {
        return cow(false);
    }
    // Without a pause a deed may be done with so many, and "same" stand for anything.
    let of_her = next.is_some_and(|n| !matches!(n.is, Phrase::Deed(_) | Phrase::Same | Phrase::Stage(_)));
    if gap <= Gap::Space && !of_her {
        return None;
    }
    if gap > Gap::Space || item.and {
        // "61 fine. 62, wart left hind. 63 fine"
        let begins = bare && gap == Gap::Stop && digits.len() >= 2;
        // "412 clean, 413 wart left hind, 87 foul right front": the third that is named so.
        let alike =
            |k: &Item| matches!(&k.is, Phrase::Cow(tag) if !tag.cued && tag.text.len().abs_diff(digits.len()) <= 1);
        let listed = bare && close && items[..i].iter().rev().take(LIST).filter(|k| alike(k)).count() >= 2;
        // The next of cows that are named by their numbers: as long as the one before, and not far above her.
        let rising = close && (bare || digits.len() >= 3) && follows(&items[..i], &digits);
        let anew = led_on && gap == Gap::Stop && digits.len() >= 2;
        let certain =
            gap > Gap::Space && (again || anew || rising || begins || listed || close && (said_of_her || clear));
        return cow(!certain);
    }
    // "277 fine 278. Fine."
    let clear = |is: &Phrase| matches!(is, Phrase::Clear | Phrase::ClearAll);
    let verdicts = clear(&before.is) && next.is_some_and(|n| clear(&n.is));
    // "block inner 614. Right hind wart": a recogniser's stop.
    let stop = digits.len() >= 3 && next.is_some_and(|n| n.gap == Gap::Stop && matches!(n.is, Phrase::Place(_)));
    // "19 clean 20 clean 23 foul right hind"
    let running = bare && close && clear(&before.is) && follows(&items[..i], &digits);
    if running {
        return cow(false);
    }
    if (close || verdicts || stop) && !counted { cow(true) } else { None }
}

/// How much higher the number of the next cow in the chute may well be.
const NEXT_FEW: u64 = 60;

/// Whether a number is as long as the tag of the cow before and a little higher.
fn follows(before: &[Item], digits: &str) -> bool {
    let last = before.iter().rev().take(LIST).find_map(Item::cow);
    last.is_some_and(|tag| {
        let (Ok(one), Ok(next)) = (tag.text.parse::<u64>(), digits.parse::<u64>()) else { return false };
        tag.text.len() == digits.len() && next > one && next - one <= NEXT_FEW
    })
}

/// Whether a list of cows goes on from here ("12, 13, 14 and 15"), or began before the cow before.
fn in_a_list(items: &[Item], i: usize) -> bool {
    let listed = |k: usize| items.get(k).is_some_and(|n| n.and || n.gap == Gap::Comma);
    let more = items.get(i + 1).is_some_and(|n| is_number(n) || n.is_cow()) && listed(i + 1);
    let begun = i >= 2 && items[i - 2].is_cow() && listed(i - 1);
    more || begun
}

fn says_something(item: &Item) -> bool {
    match &item.is {
        Phrase::Place(_) => true,
        is => matches!(
            is,
            Phrase::Finding(_)
                | Phrase::Clear
                | Phrase::ClearAll
                | Phrase::Deed(_)
                | Phrase::Score { .. }
                | Phrase::Same
                | Phrase::Not
                | Phrase::Stage(_)
                | Phrase::Severity(_)
        ),
    }
}

/// "cow 18, 42, left hind": a recogniser's comma within one number, or two cows.
fn join_split_numbers(text: &str, items: &mut Vec<Item>) {
    let mut i = 1;
    while i < items.len() {
        if let [Item { is: Phrase::Cow(first), .. }, Item { is: Phrase::Cow(second), gap: Gap::Comma, and: false, .. }] =
            &mut items[i - 1..=i]
            && second.bare
            && first.text.len() <= 2
            && second.text.len() == 2
        {
            let digits = second.text.clone();
            let joined = format!("{}{}", first.text, second.text);
            let (end, start) = (items[i].span, items[i - 1].span.end);
            let Phrase::Cow(first) = &mut items[i - 1].is else { unreachable!("matched above") };
            // "Cow 5,16": without a space it is one number.
            if text.get(start as usize..end.start as usize) == Some(",") {
                let alone = std::mem::replace(&mut first.text, joined);
                first.others.push(alone);
            } else {
                first.others.extend([joined, digits]);
            }
            items[i - 1].span = items[i - 1].span.to(end);
            items.remove(i);
        } else {
            i += 1;
        }
    }
}

fn words_between(text: &str, before: Span, after: Span) -> Vec<&str> {
    let between = text.get(before.end as usize..after.start as usize).unwrap_or_default();
    let letters = |c: char| !c.is_ascii_alphabetic();
    between.split(letters).filter(|w| !w.is_empty()).collect()
}
