//! The cow's number in the light of the herd.

use std::sync::{PoisonError, RwLock};

use rustc_hash::FxHashMap;

use crate::entry::Entry;
use crate::matches::{How, Tok};
use crate::meaning::{LooseNumber, Trace};
use crate::roster::Roster;
use crate::roster::said::sounds_as_a_digit;
use crate::vocab::Meaning;
use crate::words::{self, Span};

/// A tag this much nearer than the next, and this near, is taken for the cow's where no digit changes.
const NEAR_TAG: u32 = 170;
const CLEARLY: u32 = 40;
/// One this much nearer than the number as it was read comes first where it is asked.
const MUCH_NEARER: u32 = 80;
/// One this much nearer than a number that the herd has not comes first where it is asked.
const A_LITTLE: u32 = 10;
/// One this near is asked about.
const NEAR_ENOUGH_TO_ASK: u32 = 230;

/// A scanned number stands for the herd's tag; of two ways to read a number, one that the herd has is believed.
pub(super) fn of_herd(entry: &mut Entry, trace: &mut Trace, roster: Option<&Roster>) {
    let (Some(cow), Some(roster)) = (&entry.cow, roster) else { return };
    if let Some(tag) = roster.tag_of_chip(cow) {
        entry.cow = Some(tag.to_owned());
    } else if roster.has(cow) {
        trace.cow_others.retain(|other| roster.has(other));
    } else {
        let mut known = trace.cow_others.iter().filter(|other| roster.has(other));
        if let (Some(tag), None) = (known.next(), known.next()) {
            // `K404` of a herd with letters in its tags; "cow six, 14" and "5 or 9" of one that has no 6 and no 5.
            let lettered = tag.ends_with(cow.as_str()) && !tag.starts_with(|c: char| c.is_ascii_digit());
            if lettered || (!roster.is_soft() && (tag.starts_with(cow.as_str()) || is_sum(cow, tag))) {
                entry.cow = Some(tag.clone());
                trace.cow_others.clear();
            } else if !roster.is_soft() && cow.bytes().all(|b| b.is_ascii_digit()) {
                // "6-8" of a herd that has 608 and no 68: asked, and the herd's comes first.
                let tag = tag.clone();
                trace.cow_others.clear();
                rather(entry, trace, tag);
            }
        } else if !roster.is_soft()
            && let bare = cow.trim_end_matches('R').trim_start_matches('0')
            && bare != cow
            && roster.has(bare)
        {
            // "372R corkscrewed", 372 are; "0970", where an "oh" was another word. It is asked.
            let tag = bare.to_owned();
            trace.cow_others.clear();
            rather(entry, trace, tag);
        }
    }
}

/// Takes this tag for the cow's, and what was read for what else it may be: it is asked.
fn rather(entry: &mut Entry, trace: &mut Trace, tag: String) {
    trace.cow_others.extend(entry.cow.replace(tag));
}

/// "Nothing wrong with how 444": the one number in the note that nothing else took and the herd has as a tag is hers, and is
/// asked.
pub(super) fn among_the_rest(entry: &mut Entry, trace: &mut Trace, roster: Option<&Roster>) {
    let Some(roster) = roster.filter(|r| entry.cow.is_none() && !r.is_soft()) else { return };
    let tag = |n: &LooseNumber| n.tag.map(|(value, len)| format!("{value:0len$}", len = usize::from(len)));
    let mut known = trace.loose_numbers.iter().filter_map(|n| Some((tag(n).filter(|tag| roster.has(tag))?, n.span)));
    if let (Some((tag, span)), None) = (known.next(), known.next()) {
        trace.loose_numbers.retain(|n| n.span != span);
        entry.cow = Some(tag);
        trace.cow = Some(span);
        trace.cow_bare = true;
    }
}

/// "cow 92 for both hind feet": what was taken for her last digit is a word, where the herd has her without it.
pub(super) fn without_a_word(text: &str, toks: &[Tok], entry: &mut Entry, trace: &Trace, roster: Option<&Roster>) {
    let (Some(cow), Some(roster), Some(span)) = (&entry.cow, roster.filter(|r| !r.is_soft()), trace.cow) else {
        return;
    };
    let last = toks.iter().rev().find(|t| t.span.start >= span.start && t.span.end <= span.end);
    let word = last.is_some_and(|t| sounds_as_a_digit(t.span.of(text)));
    let Some(short) = cow.get(..cow.len().saturating_sub(1)) else { return };
    if word && !roster.has(cow) && roster.has(short) {
        entry.cow = Some(short.to_owned());
    }
}

/// No two words are longer, in bytes.
const TWO_WORDS: usize = 128;

/// "Cowsick stew wonder": a number heard by its sound, with a word behind it that nothing else took. Where another tag sounds
/// clearly more like all of that, it is asked.
pub(super) fn with_the_words_behind(
    text: &str,
    toks: &[Tok],
    cow: Option<&str>,
    trace: &mut Trace,
    roster: Option<&Roster>,
) {
    let (Some(cow), Some(herd), Some(span)) = (cow, roster.filter(|r| !r.is_soft()), trace.cow) else { return };
    let behind = words::behind(text, span.end as usize, TWO_WORDS);
    let part = behind.split([',', '.', ';', ':', '!', '?']).next().unwrap_or_default();
    if !(1..=2).contains(&part.split_whitespace().count()) {
        return;
    }
    let end = span.end + part.len() as u32;
    let within = |t: &Tok| t.span.start < span.end && t.span.end > span.start;
    let near = |t: &Tok| matches!(t.how, How::Near { cost, .. } if cost > 0);
    let by_sound = toks.iter().any(|t| matches!(t.meaning, Some(Meaning::Number(_))) && within(t) && near(t));
    let taken = |t: &Tok| {
        let says_something = !matches!(t.meaning, None | Some(Meaning::Filler | Meaning::Aside));
        t.span.start >= span.end && t.span.start < end && says_something
    };
    if !by_sound || toks.iter().any(taken) {
        return;
    }
    let said = &text[span.start as usize..end as usize];
    let as_read = Roster::sound_of(said, cow).unwrap_or(u32::MAX);
    let nearer = herd.near_within(said, cow, as_read.saturating_sub(CLEARLY));
    if let Some(first) = nearer.iter().find(|n| n.tag != cow) {
        trace.cow_others.push(first.tag.clone());
    }
}

/// "next once for 48": what stands behind the words for the next one.
fn behind_next(said: &str) -> &str {
    let mut words = said.splitn(3, [' ', ',']);
    match (words.next(), words.next(), words.next()) {
        (Some(next), Some(one), Some(rest))
            if next.eq_ignore_ascii_case("next") && !one.bytes().any(|b| b.is_ascii_digit()) =>
        {
            rest
        }
        _ => said,
    }
}

/// "Technine 55", "cow four Osix": of the longer tags that hold the digits that were read, the one that sounds like all
/// that was said.
fn with_what_was_lost(herd: &Roster, said: &str, read: &str, as_read: u32) -> Option<String> {
    let near = herd.longer_than(said, read);
    let [first, rest @ ..] = near.as_slice() else { return None };
    let alone = rest.first().is_none_or(|next| first.cost.saturating_add(CLEARLY) <= next.cost);
    (alone && first.cost.saturating_add(A_LITTLE) <= as_read).then(|| first.tag.clone())
}

/// "270 4" is one number for 2704 and for 274.
fn is_sum(side_by_side: &str, tag: &str) -> bool {
    side_by_side.len() > tag.len()
        && (1..tag.len()).any(|k| {
            let (front, last) = tag.split_at(k);
            let zeros = side_by_side.strip_prefix(front).and_then(|rest| rest.strip_suffix(last));
            zeros.is_some_and(|zeros| zeros.len() == last.len() && zeros.bytes().all(|b| b == b'0'))
        })
}

/// Whether a word before or within the number that was passed over sounds as a digit: "cow to 40".
pub(super) fn hides_a_digit(text: &str, toks: &[Tok], span: Span) -> bool {
    let inside = |t: &&Tok| span.start <= t.span.start && t.span.end <= span.end;
    let passed = |t: &&Tok| matches!(t.meaning, None | Some(Meaning::Filler | Meaning::In));
    toks.iter().filter(inside).filter(passed).any(|t| t.span.of(text).split(' ').any(sounds_as_a_digit))
}

/// So many are remembered.
const REMEMBERED: usize = 5_000;

/// What numbers have grown together with, by what was said and what was read: every reading of a note asks again, and
/// while it is being said so does every word.
#[derive(Debug, Default)]
pub(super) struct Grown(RwLock<FxHashMap<(String, String), Option<String>>>);

impl Grown {
    fn of(&self, said: &str, cow: &str, find: impl FnOnce() -> Option<String>) -> Option<String> {
        let key = (said.to_owned(), cow.to_owned());
        if let Some(found) = self.0.read().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return found.clone();
        }
        let found = find();
        let mut known = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if known.len() < REMEMBERED {
            known.insert(key, found.clone());
        }
        found
    }
}

/// Lets the roster decide between ways to write a number whose cue or words were not heard word for word: which
/// digits belong to it, and what grew together with it. A digit that was heard is never changed.
pub(super) fn grown_together(text: &str, entry: &mut Entry, trace: &mut Trace, roster: Option<&Roster>, grown: &Grown) {
    let Some(cow) = entry.cow.clone() else { return };
    let known = roster.is_some_and(|r| r.has(&cow));
    let Some(span) = trace.cow else { return };
    // "cow 3505" of a herd with a 355, said as three fifty and five; it is asked.
    if let Some(herd) = roster.filter(|r| !known && !r.is_soft()) {
        let mut sums = herd.tags().iter().filter(|tag| is_sum(&cow, tag));
        if let (Some(tag), None) = (sums.next(), sums.next()) {
            return rather(entry, trace, tag.clone());
        }
    }
    let said = behind_next(span.of(text));
    // "Cal 407" is 407, on the roster or not, and no 1407; "Cossack 78" is hardly 78.
    let as_read = Roster::sound_of(said, &cow).unwrap_or(u32::MAX);
    if as_read < CLEARLY {
        return;
    }
    let clearly = |cost: u32| cost.saturating_add(CLEARLY) <= as_read;
    // The one tag that keeps every digit and sounds clearly more like what was said, and whether it stands alone.
    let better = |herd: &Roster, most: u32| {
        // Those that are farther change nothing.
        let near = herd.near_within(said, &cow, (most + CLEARLY).min(as_read.saturating_sub(CLEARLY)));
        let kept: Vec<_> = near.iter().filter(|n| n.keeps_digits && n.tag != cow && clearly(n.cost)).collect();
        let [first, rest @ ..] = kept.as_slice() else { return None };
        let nearest = first.cost <= most && near.iter().all(|n| n.cost >= first.cost || n.tag == cow);
        let alone = rest.first().is_none_or(|n| n.cost >= first.cost + CLEARLY);
        nearest.then(|| (first.tag.clone(), alone, first.cost))
    };
    let most = if known { NEAR_ENOUGH_TO_ASK } else { NEAR_TAG };
    match (roster, roster.and_then(|herd| better(herd, most))) {
        (Some(herd), Some((tag, true, _))) if !known => {
            entry.cow = Some(tag);
            trace.cow_others.clear();
            // A cow that was never seen here is as likely as a word grown together with the number.
            trace.cow_others.extend(herd.is_soft().then_some(cow));
        }
        // "Halmine 88" is 988 rather than 88, which the herd has not; it is asked.
        (Some(herd), _)
            if !known
                && !herd.is_soft()
                && let Some(tag) = with_what_was_lost(herd, said, &cow, as_read) =>
        {
            rather(entry, trace, tag);
        }
        // "Calmine 70" is 970 rather than 70, where the herd has both; it is asked.
        (Some(_), Some((tag, true, cost))) if known && cost.saturating_add(MUCH_NEARER) <= as_read => {
            rather(entry, trace, tag);
        }
        (Some(_), Some((tag, ..))) if known => trace.cow_others.push(tag),
        (Some(herd), _) if known || !herd.is_soft() => {}
        _ => {
            let find = || better(&Roster::grown(&cow), NEAR_ENOUGH_TO_ASK).map(|(tag, ..)| tag);
            trace.cow_others.extend(grown.of(said, &cow, find));
        }
    }
}
