//! From matches to phrases: nom parsers over the matches of a note.
//!
//! The language is written out for people in `grammar/*.md`. nom's types stay in this folder.

mod action;
mod cow;
mod due;
mod further;
mod item;
mod measure;
mod month;
mod number;
mod place;
mod pronoun;
mod time;
mod toks;
mod told;
mod withdrawal;

pub use action::material_in;
pub use item::{ClawWord, Deed, Item, Named, Phrase, Place, Tag, When, Where};

use crate::anatomy::Side;
use crate::disorder::Disorder;
use crate::entry::{Act, MeasureKind, Scale};
use crate::matches::{How, Tok, of_talk};
use crate::vocab::{Atom, Meaning, Part, Style, Vague, Vocabulary};
use crate::words::{self, Gap, Span};
use nom::Parser;
use toks::{Res, Toks};

/// Reads the matches of a note as phrases. Every match ends in a phrase or is a filler.
pub fn phrases(text: &str, toks: &[Tok], vocab: &Vocabulary) -> Vec<Item> {
    let led = is_led(toks, vocab);
    let all = toks;
    let toks = without_fillers(text, all);
    let mut rest = Toks(&toks);
    let mut items: Vec<Item> = Vec::new();
    let mut and = false;
    let mut skipped_gap = Gap::Glue;
    let (mut cow, mut measured, mut looked) = (false, false, 0);
    let (mut scale, mut foot, mut side) = (None, false, false);
    let (mut lesion, mut after_lesion) = (None, false);
    while let Some(first) = rest.first() {
        let gap = skipped_gap.max(first.gap);
        for item in &items[looked..] {
            cow |= matches!(item.is, Phrase::Cow(_));
            measured |= matches!(item.is, Phrase::Measure { .. } | Phrase::Amount { .. });
            match &item.is {
                Phrase::Cow(_) => (foot, side) = (false, false),
                Phrase::Place(p) => {
                    foot |= matches!(p.feet, Where::Feet(_));
                    side |= matches!(p.feet, Where::Side(_));
                }
                Phrase::Score { scale: s, .. } => scale = Some(*s),
                Phrase::Finding(named) => lesion = Some(*named),
                _ => {}
            }
            after_lesion = match item.is {
                Phrase::Finding(_) | Phrase::Measure { .. } | Phrase::Amount { .. } => true,
                Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_) | Phrase::Course(_) | Phrase::Hedge => {
                    after_lesion
                }
                _ => false,
            };
        }
        looked = items.len();
        let footed = foot && !side;
        let so_far = SoFar { cow, measured, and, led, scale, footed, lesion, after_lesion, ..SoFar::of(&items, gap) };
        let (after, is) = match phrase(text, vocab, rest, so_far) {
            Ok(read) => read,
            Err(_) => {
                // A word that no phrase covers.
                let skipped = rest.skip(1);
                and |= first.meaning == Some(Meaning::And);
                if let Some(is) = due::someday(text, first).or_else(|| alone(vocab, first)) {
                    items.push(Item { is, span: first.span, gap, and, or: or_before(text, &items, first.span) });
                    and = false;
                    skipped_gap = Gap::Glue;
                } else {
                    skipped_gap = gap;
                }
                rest = skipped;
                continue;
            }
        };
        debug_assert!(after.0.len() < rest.0.len(), "a phrase covers at least one match");
        // "for" before a number is none of it.
        let of_number = match &is {
            Phrase::Cow(Tag { told: true, .. }) if !matches!(first.how, How::Exact(_)) => rest.skip(1),
            _ => rest,
        };
        let span = of_number.span_to(after);
        let is = match is {
            Phrase::Cow(Tag { text: tag, .. }) if cow::is_same_as(text, span) => Phrase::SameAsCow(tag),
            Phrase::Number { text: tag, plain: true, .. } if tag.len() > 1 && cow::is_same_as(text, span) => {
                Phrase::SameAsCow(tag)
            }
            // "an M two wart between the claws": a stage is digital dermatitis's.
            Phrase::Finding(Named::Disorder(Disorder::IH))
                if span.of(text).to_lowercase().contains("wart")
                    && (matches!(items.last(), Some(Item { is: Phrase::Stage(_), .. }))
                        || matches!(after.meaning(), Some(Meaning::StageCue | Meaning::Stage(_)))) =>
            {
                Phrase::Finding(Named::Disorder(Disorder::DD))
            }
            // "two warts on the right hind, both M two"
            Phrase::Place(Place { feet: Where::Both, claw: None, .. })
                if so_far.footed
                    && matches!(after.meaning(), Some(Meaning::StageCue | Meaning::Stage(_) | Meaning::Course(_)))
                    && matches!(
                        &items[..],
                        [
                            ..,
                            Item { is: Phrase::Number { value: Some(2), .. }, .. },
                            Item { is: Phrase::Finding(_), .. },
                            Item { is: Phrase::Place(_), .. }
                        ]
                    ) =>
            {
                Phrase::Aside
            }
            // "left hind wart and corn both, wrapped": both lesions.
            Phrase::Place(Place { feet: Where::Both, claw: None, .. })
                if so_far.footed
                    && gap <= Gap::Space
                    && (after.0.is_empty() || after.gap() > Gap::Space)
                    && matches!(
                        &items[..],
                        [.., Item { is: Phrase::Finding(_), .. }, Item { is: Phrase::Finding(_), and: true, .. }]
                    ) =>
            {
                Phrase::Aside
            }
            // "zone one to three"
            Phrase::Zones(zones) => Phrase::Zones(zone_range(text, zones, span)),
            // `fronts r fine`: "are".
            Phrase::Place(Place { feet: Where::Side(Side::Right), claw: None, .. })
                if span.of(text) == "r"
                    && after.meaning() == Some(Meaning::Clear)
                    && after.gap() <= Gap::Space
                    && matches!(items.last(), Some(Item { is: Phrase::Place(p), .. }) if p.group) =>
            {
                Phrase::Aside
            }
            // "give me the other one the right hind has a wart": the foot.
            Phrase::Place(Place { feet: Where::Same, claw: Some(ClawWord::Other), .. })
                if words::ends_with(span.of(text), "other one")
                    && matches!(after.meaning(), Some(Meaning::Foot(_) | Meaning::Place(..)))
                    && after.gap() <= Gap::Space
                    && after.first().is_some_and(|t| t.span.start <= span.end + " the ".len() as u32) =>
            {
                Phrase::Aside
            }
            // "swollen on both sides": of the one foot.
            Phrase::Place(Place { feet: Where::Both, .. })
                if so_far.footed && one_foot_named(&items) && span.of(text).to_lowercase().ends_with("both sides") =>
            {
                Phrase::Aside
            }
            Phrase::Place(place) => Phrase::Place(place::one_of(text, place, span)),
            is => is,
        };
        skipped_gap = Gap::Glue;
        if matches!(is, Phrase::Place(_)) && compared(text, &items, span) {
            if let Some(course) = items.last_mut() {
                course.is = Phrase::Aside;
            }
            rest = after;
            continue;
        }
        // `SU(4)`
        if matches!(is, Phrase::Finding(_))
            && let Some((zone, behind)) = bracketed_zone(text, span, after)
        {
            let or = or_before(text, &items, span);
            items.push(Item { is, span, gap, and, or });
            let is = Phrase::Zones(vec![zone]);
            items.push(Item { is, span: after.span_to(behind), gap: Gap::Space, and: false, or: false });
            rest = behind;
            and = false;
            continue;
        }
        let heard_on = matches!(is, Phrase::Finding(_)) && so_far.footed && is_zone_heard(text, span, after);
        let after = if heard_on { after.skip(1) } else { after };
        if let Phrase::Finding(_) = is
            && !matches!(is, Phrase::Finding(Named::Vague(Vague::Vertical | Vague::Horizontal | Vague::ForeignBody)))
            && let Some(zones) = slashed_zones(after)
        {
            let or = or_before(text, &items, span);
            items.push(Item { is, span, gap, and, or });
            rest = after.skip(1);
            let is = Phrase::Zones(zones.to_vec());
            items.push(Item { is, span: after.span_to(rest), gap: Gap::Space, and: false, or: false });
        } else if let Phrase::Finding(_) = is
            && !matches!(is, Phrase::Finding(Named::Vague(Vague::Vertical | Vague::Horizontal | Vague::ForeignBody)))
            && let Some(zone) = bare_zone(after)
            && !is_also(text, after)
        {
            let or = or_before(text, &items, span);
            items.push(Item { is, span, gap, and, or });
            let second = another_zone(after.skip(1));
            let used = if second.is_some() { 3 } else { 1 };
            // `HHE 2`: heel horn erosion has grades and no zones.
            let graded = matches!(items.last(), Some(Item { is: Phrase::Finding(Named::Disorder(Disorder::HHE)), .. }));
            let is = match zone {
                1..=3 if graded && second.is_none() => Phrase::Severity(zone.into()),
                _ => Phrase::Zones(std::iter::once(zone).chain(second).collect()),
            };
            rest = after.skip(used);
            items.push(Item { is, span: after.span_to(rest), gap: Gap::Space, and: false, or: false });
        } else {
            let or = or_before(text, &items, span);
            let lesion = matches!(is, Phrase::Finding(_));
            let also = lesion && is_also(text, after) && items.iter().any(|i| matches!(i.is, Phrase::Finding(_)));
            items.push(Item { is, span, gap, and, or });
            rest = if also { after.skip(1) } else { after };
        }
        and = false;
    }
    let named = |i: &Item| matches!(i.is, Phrase::Cow(_) | Phrase::Place(_));
    if !items.iter().any(named)
        && let Some(talk) = all.iter().find(|t| of_talk(t, vocab))
    {
        items.push(Item { is: Phrase::Aside, span: talk.span, gap: Gap::Space, and: false, or: false });
    }
    let items = cow::left_over(text, cow::before_her_foot(cow::one_cow_at_the_start(text, cow::none_in_talk(items))));
    // A single letter is written by recognisers, too.
    let shorthand = |t: &Tok| t.how == How::Exact(Style::Written) && t.span.end - t.span.start > 1;
    let scribbled = all.iter().any(shorthand);
    let items = if scribbled { cow::scribbled(text, items) } else { items };
    let items = month::alone(text, items, scribbled);
    pronoun::without(text, further::further(text, items))
}

/// Whether the feet named since the cow are one.
fn one_foot_named(items: &[Item]) -> bool {
    let mut feet = items.iter().rev().take_while(|i| !i.is_cow()).filter_map(|i| i.is.one_foot());
    feet.next().is_some_and(|first| feet.all(|foot| foot == first))
}

/// "zone one to three", `z1-3` are three zones.
fn zone_range(text: &str, zones: Vec<u8>, span: Span) -> Vec<u8> {
    let said = |all: &[&str]| span.of(text).split_whitespace().any(|w| all.iter().any(|a| w.eq_ignore_ascii_case(a)));
    match zones[..] {
        // "zone three now, it was zone two", "zone two, now zone three"
        [first, _] if said(&["was"]) => vec![first],
        [_, last] if said(&["now", "today"]) => vec![last],
        [first, last] if first + 1 < last && last <= crate::anatomy::LAST_ZONE => {
            let to = span.of(text).split_whitespace().any(|w| w.eq_ignore_ascii_case("to"));
            // `z4-6`
            let dash = || span.of(text).trim_end_matches(|c: char| c.is_ascii_digit()).ends_with(['-', '–']);
            if to || dash() { (first..=last).collect() } else { zones }
        }
        _ => zones,
    }
}

/// "right worse than left": one foot beside another, and not since last time.
fn compared(text: &str, items: &[Item], span: Span) -> bool {
    let Some(Item { is: Phrase::Course(_), span: course, .. }) = items.last() else { return false };
    let said = text.get(course.start as usize..span.start as usize).unwrap_or_default();
    // "a bit better than it was at Christmas. Rear right, …"
    if said.contains(['.', ';', '!']) {
        return false;
    }
    // "worse on the left than on the right"
    let behind = text.get(span.end as usize..).unwrap_or_default().split_whitespace().next();
    said.split_whitespace().chain(behind).any(|w| w.eq_ignore_ascii_case("than"))
}

/// Whether "or" stands between the phrase before and what begins here.
fn or_before(text: &str, items: &[Item], span: Span) -> bool {
    let Some(before) = items.last() else { return false };
    let between = text.get(before.span.end as usize..span.start as usize).unwrap_or_default();
    between.len() >= " or ".len() && between.split_whitespace().any(|w| w.eq_ignore_ascii_case("or"))
}

/// What the phrases before allow.
#[derive(Clone, Copy)]
struct SoFar {
    /// Nothing has been said yet that means something.
    start: bool,
    /// A cow was named already.
    cow: bool,
    /// A measure was named already, so that the next may go without its unit.
    measured: bool,
    /// What was measured last, where nothing but its place was said since.
    measure: Option<MeasureKind>,
    gap: Gap,
    /// "and" stands right before.
    and: bool,
    /// The note begins with its first word that means something, or as people begin to talk.
    led: bool,
    /// The phrase right before is a cow.
    after_cow: bool,
    /// The phrase right before is a place.
    after_place: bool,
    /// The phrase right before corrects.
    corrects: bool,
    /// Something that was done stands right before, and whether it came off.
    after_deed: Option<bool>,
    /// Of the last score.
    scale: Option<Scale>,
    /// One whole foot was named since the cow, and no side by itself.
    footed: bool,
    /// The lesion named last.
    lesion: Option<Named>,
    /// A lesion or a measure stands right before, with at most what is told of it between.
    after_lesion: bool,
}

/// Whether the first word that means something stands first, or after how people begin to talk.
fn is_led(toks: &[Tok], vocab: &Vocabulary) -> bool {
    // The letter of `A17` is no word.
    let of_tag = |i: usize| toks.get(i + 1).is_some_and(|next| next.gap == Gap::Glue);
    let passed_over = |(i, t): &(usize, &Tok)| t.meaning == Some(Meaning::Filler) && !of_tag(*i);
    let leads = |t: &Tok| t.form.is_some_and(|f| vocab.forms()[f as usize].lead);
    toks.iter().enumerate().take_while(passed_over).all(|(_, t)| leads(t))
}

impl SoFar {
    /// In the midst of a note.
    fn within() -> Self {
        Self {
            start: false,
            cow: true,
            measured: false,
            measure: None,
            gap: Gap::Space,
            and: false,
            led: false,
            after_cow: false,
            after_place: false,
            corrects: false,
            after_lesion: false,
            lesion: None,
            after_deed: None,
            scale: None,
            footed: false,
        }
    }

    /// "let's see, eight sixty six, …": the first that means something, and set apart on both sides.
    fn apart(self, after: Toks) -> bool {
        self.start && self.gap > Gap::Space && after.gap() > Gap::Space && !after.0.is_empty()
    }

    fn of(items: &[Item], gap: Gap) -> Self {
        Self {
            start: items.is_empty(),
            and: false,
            led: false,
            after_cow: matches!(items.last(), Some(Item { is: Phrase::Cow(_), .. })),
            after_place: matches!(items.last(), Some(Item { is: Phrase::Place(_), .. })),
            corrects: matches!(items.last(), Some(Item { is: Phrase::Change | Phrase::Drop, .. })),
            after_deed: match items.last() {
                Some(Item { is: Phrase::Deed(deed), .. }) => Some(matches!(deed.what, Act::Unblock | Act::Unwrap)),
                Some(Item { is: Phrase::Clear, .. }) => Some(false),
                _ => None,
            },
            cow: false,
            measured: false,
            footed: false,
            scale: None,
            lesion: None,
            after_lesion: false,
            measure: measured_last(items),
            gap,
        }
    }
}

/// What was measured last, where nothing but its place was said since. A place has few words of its own.
fn measured_last(items: &[Item]) -> Option<MeasureKind> {
    if !matches!(items.last()?.is, Phrase::Place(_) | Phrase::Measure { .. } | Phrase::Amount { .. }) {
        return None;
    }
    let mut before = items.iter().rev().take(6).filter(|i| !matches!(i.is, Phrase::Place(_)));
    match (&before.next()?.is, before.next().map(|i| &i.is)) {
        (Phrase::Measure { what, .. }, _) => Some(*what),
        (Phrase::Amount { .. }, Some(Phrase::Part(part))) => Some(measure::of_part(*part)),
        _ => None,
    }
}

/// "a block on the inner because the outer's bruised": what is told of the claw or foot behind such a word is told
/// as if a comma stood there, which few write and no one says.
fn begins_a_clause(text: &str, toks: &[Tok]) -> bool {
    const WORDS: [&str; 7] = ["because", "cos", "coz", "whereas", "though", "although", "while"];
    let place = |t: &Tok| {
        matches!(t.meaning, Some(Meaning::Claw(_) | Meaning::Foot(_) | Meaning::Disorder(_) | Meaning::Vague(_)))
    };
    let word = toks[0].span.of(text);
    WORDS.iter().any(|w| word.eq_ignore_ascii_case(w))
        && toks[1..].iter().find(|t| t.meaning != Some(Meaning::Filler)).is_some_and(place)
}

/// "the inner is blocked since the outer has an ulcer": why, and no time.
fn is_since_it_has(text: &str, toks: &[Tok]) -> bool {
    let word = |t: &Tok| t.span.of(text).to_lowercase();
    let mut behind = toks[1..].iter().skip_while(|t| ["the", "her"].contains(&&*word(t)));
    let claw = behind.next().filter(|t| matches!(t.meaning, Some(Meaning::Claw(_))));
    let has = behind.next().is_some_and(|t| t.gap <= Gap::Space && ["has", "is"].contains(&&*word(t)));
    word(&toks[0]) == "since" && claw.is_some_and(|t| has || word(t).ends_with("'s"))
}

fn without_fillers(text: &str, toks: &[Tok]) -> Vec<Tok> {
    let mut out: Vec<Tok> = Vec::with_capacity(toks.len());
    let mut gap = Gap::Glue;
    for (i, tok) in toks.iter().enumerate() {
        let digits = |t: &Tok| matches!(t.meaning, Some(Meaning::Number(Atom::Digits { .. })));
        // `12A`
        let after_digits =
            i > 0 && tok.gap == Gap::Glue && digits(&toks[i - 1]) && toks[i - 1].span.end == tok.span.start;
        let glued = after_digits
            || toks
                .get(i + 1)
                .is_some_and(|next| next.gap == Gap::Glue && next.span.start == tok.span.end && digits(next));
        // "all good cow 413": an everyday phrase that ends with the cue of a number.
        let number = |t: &Tok| matches!(t.meaning, Some(Meaning::Number(_)));
        let number_next = toks.get(i + 1).is_some_and(|t| number(t) && t.gap <= Gap::Space);
        if number_next
            && matches!(tok.meaning, Some(Meaning::Filler | Meaning::Aside))
            && tok.span.of(text).to_lowercase().ends_with(" cow")
        {
            // What stands before the cue was said of the cow before.
            let (start, gap_before) = (tok.span.start, gap.max(tok.gap));
            let cue = Span { start: tok.span.end - "cow".len() as u32, ..tok.span };
            let good = tok.span.of(text).to_lowercase().starts_with("good");
            if good {
                let span = Span { start, end: cue.start - 1 };
                out.push(Tok { meaning: Some(Meaning::Clear), gap: gap_before, span, ..tok.clone() });
            }
            let gap_before = if good { Gap::Space } else { gap_before };
            out.push(Tok { meaning: Some(Meaning::CowCue), gap: gap_before, span: cue, ..tok.clone() });
            gap = Gap::Glue;
            continue;
        }
        // "number one sixty six": how talk is led on with, and here a cow's number.
        if number_next && tok.span.of(text).eq_ignore_ascii_case("number one") {
            let split = tok.span.start + "number".len() as u32;
            let cue = Span { end: split, ..tok.span };
            let one = Span { start: split + 1, ..tok.span };
            out.push(Tok { meaning: Some(Meaning::NumberCue), gap: gap.max(tok.gap), span: cue, ..tok.clone() });
            let meaning = Some(Meaning::Number(Atom::Unit(1)));
            out.push(Tok { meaning, gap: Gap::Space, span: one, ..tok.clone() });
            gap = Gap::Glue;
            continue;
        }
        // "took the vet's block off": whose it is.
        let whose = tok.meaning == Some(Meaning::Vet)
            && tok.span.of(text).to_lowercase().ends_with("'s")
            && toks.get(i + 1).is_some_and(|next| {
                next.gap <= Gap::Space
                    && matches!(
                        next.meaning,
                        Some(Meaning::Device(_) | Meaning::Devices(_) | Meaning::Shoe | Meaning::Material(_))
                    )
            });
        let since = tok.meaning == Some(Meaning::Ago) && is_since_it_has(text, &toks[i..]);
        if (tok.meaning == Some(Meaning::Filler) || whose || since) && !glued {
            gap = gap.max(tok.gap);
            if since || begins_a_clause(text, &toks[i..]) {
                gap = gap.max(Gap::Comma);
            }
            // "12 or 13": numbers with a word between them are two.
            if matches!(out.last(), Some(Tok { meaning: Some(Meaning::Number(_)), .. }))
                && matches!(toks.get(i + 1), Some(Tok { meaning: Some(Meaning::Number(_)), .. }))
            {
                gap = gap.max(Gap::Comma);
            }
        } else {
            out.push(Tok { gap: gap.max(tok.gap), ..tok.clone() });
            // "eight oh eight's feet": they are hers, and not counted.
            let hers = number(tok) && toks.get(i + 1).is_some_and(|t| t.meaning == Some(Meaning::FootNoun));
            gap = if hers && words::ends_with(tok.span.of(text), "'s") { Gap::Comma } else { Gap::Glue };
        }
    }
    out
}

/// "the other claw bruised too": what sounds like a zone, and ends what was said.
fn is_also(text: &str, rest: Toks) -> bool {
    rest.first().is_some_and(|t| t.span.of(text).eq_ignore_ascii_case("too")) && rest.skip(1).gap() > Gap::Space
        || rest.0.len() == 1 && rest.0[0].span.of(text).eq_ignore_ascii_case("too")
}

/// "WL 2/3": two zones side by side; a date has other numbers.
fn slashed_zones(rest: Toks) -> Option<[u8; 2]> {
    let Some(Meaning::Number(Atom::Slash { left, right })) = rest.meaning() else { return None };
    let (left, right) = (u8::try_from(left).ok()?, u8::try_from(right).ok()?);
    (rest.gap() <= Gap::Space && left > 0 && right == left + 1 && right <= 6).then_some([left, right])
}

/// "ulcer four": a bare number right after a finding is its zone.
fn bare_zone(rest: Toks) -> Option<u8> {
    if rest.gap() > Gap::Space {
        return None;
    }
    let n = match rest.meaning()? {
        Meaning::Number(Atom::Unit(n) | Atom::Teen(n)) => n,
        Meaning::Number(Atom::Digits { value, len: 1 | 2 }) => u8::try_from(value).ok()?,
        _ => return None,
    };
    let counts = matches!(
        rest.nth(1),
        Some(Meaning::Unit(_) | Meaning::Period(_) | Meaning::OutOf | Meaning::Number(_) | Meaning::MonthName(_))
    );
    // "thought toe ulcer three weeks back"
    let ago = rest.nth(1) == Some(Meaning::Ago) && rest.skip(1).gap() <= Gap::Space;
    // "circumscribed 10-merge": half of a word; "wall cracked across oh and": an exclamation.
    let half = rest.0.get(1).is_some_and(|t| t.meaning.is_none() && t.gap == Gap::Glue);
    let oh = n == 0 && rest.first().is_some_and(|t| t.span.end - t.span.start == "oh".len() as u32);
    (n <= crate::anatomy::LAST_ZONE && !counts && !ago && !half && !oh).then_some(n)
}

/// `SU(4)`, `DD (10)`: a number in brackets right behind a lesion, and what is left behind it.
fn bracketed_zone<'a>(text: &str, lesion: Span, after: Toks<'a>) -> Option<(u8, Toks<'a>)> {
    let tok = after.first()?;
    let Some(Meaning::Number(Atom::Digits { value, len: 1 | 2 })) = tok.meaning else { return None };
    let opens = text.get(lesion.end as usize..tok.span.start as usize)?.trim_start() == "(";
    let closes = text.get(tok.span.end as usize..)?.starts_with(')');
    let zone = u8::try_from(value).ok().filter(|z| *z <= crate::anatomy::LAST_ZONE)?;
    (opens && closes).then_some((zone, after.skip(1)))
}

/// "ulcers on 4", "fishers on two": how recognisers write "ulcer zone 4", where the foot was named before.
fn is_zone_heard(text: &str, lesion: Span, after: Toks) -> bool {
    let on =
        after.first().is_some_and(|t| t.meaning == Some(Meaning::In) && t.span.of(text).eq_ignore_ascii_case("on"));
    let feet = matches!(after.nth(2), Some(Meaning::FootNoun | Meaning::Foot(_) | Meaning::Ends(_) | Meaning::End(_)));
    let close = after.gap() <= Gap::Space && after.skip(1).gap() <= Gap::Space;
    on && close && !feet && lesion.of(text).ends_with(['s', 'S']) && bare_zone(after.skip(1)).is_some()
}

/// "white line fissure two and three": a second one after "and", unless that begins something new ("and two on the
/// right").
fn another_zone(rest: Toks) -> Option<u8> {
    if rest.meaning() != Some(Meaning::And) || rest.gap() > Gap::Space {
        return None;
    }
    let ends = rest.skip(2).gap() > Gap::Space;
    bare_zone(rest.skip(1)).filter(|_| ends)
}

fn phrase<'a>(text: &str, vocab: &Vocabulary, input: Toks<'a>, so_far: SoFar) -> Res<'a, Phrase> {
    in_milk(text, input)
        .or_else(|_| withdrawal::withdrawal(text, input))
        .or_else(|_| right_at(input, so_far))
        .or_else(|_| cow::not_hers(text, input))
        .or_else(|_| clock(text, input))
        .or_else(|_| off_side(text, input))
        .or_else(|_| cow::cow(text, input, so_far))
        .or_else(|_| remark(text, input))
        .or_else(|_| measure::zones(input, |number| counts_something(text, number)))
        .or_else(|_| measure::stage(input))
        .or_else(|_| measure::score(input, so_far.scale))
        .or_else(|_| measure::measure(input, so_far.measured))
        .or_else(|_| due::due(input, so_far.start || so_far.after_cow))
        .or_else(|_| due::off_at(input))
        .or_else(|_| measure::grade(input))
        .or_else(|_| action::action(vocab, input))
        .or_else(|_| finding(input))
        .or_else(|_| place_of_its_clause(text, input, so_far))
        .or_else(|_| due::past_or_time(input))
        .or_else(|_| measure::another(input, so_far.measure, so_far.after_place))
        .or_else(|_| loose_number(input))
}

/// "left hind, ulcer on the outer right at zone four": where exactly, and no side. Only behind a foot that is whole.
fn right_at(input: Toks, so_far: SoFar) -> Res<Phrase> {
    let rest = input.skip(1);
    let right = input.meaning() == Some(Meaning::Side(Side::Right)) && so_far.footed;
    if right && place::is_exactly(input, rest) { Ok((rest, Phrase::Aside)) } else { input.fail() }
}

/// "120 days in milk", "34 head", "12 more to go": what it counts says that it is no cow.
fn in_milk<'a>(text: &str, input: Toks<'a>) -> Res<'a, Phrase> {
    const SINCE: [&str; 27] = [
        "days in milk",
        "dim",
        "days fresh",
        "days calved",
        "weeks in milk",
        "weeks fresh",
        "weeks calved",
        "months in milk",
        "months old",
        "years",
        "years old",
        "liters",
        "litres",
        "liters a day",
        "litres a day",
        "head",
        "head today",
        "more to go",
        "more to do",
        "left to do",
        "left to go",
        "left in the",
        "minutes",
        "mins",
        "kilos",
        "kilo",
        "kg",
    ];
    const LONGEST: usize = "days in milk".len();
    if !matches!(input.meaning(), Some(Meaning::Number(_))) {
        return input.fail();
    }
    // Asked at each number: most have no such word behind them at all.
    let number = |t: &&Tok| matches!(t.meaning, Some(Meaning::Number(_) | Meaning::And));
    let figures = input.0.iter().take(NO_TAG).take_while(number).count();
    let after = text.get(input.span_to(input.skip(figures)).end as usize..).unwrap_or_default();
    let begins = |c: char| "dhmlkwy".contains(c.to_ascii_lowercase());
    if figures == NO_TAG || !after.trim_start().starts_with(begins) {
        return input.fail();
    }
    let (rest, _) = number::tag(input)?;
    let after = text.get(input.span_to(rest).end as usize..).unwrap_or_default().trim_start();
    let after: String = after.chars().take(LONGEST + 1).collect::<String>().to_lowercase();
    let word_ends = |since: &&str| {
        let behind = &after[since.len()..];
        // "both three years" is how "both the rears" is heard.
        let apart = || input.gap() > Gap::Space && (behind.is_empty() || behind.starts_with([',', '.', ';']));
        !behind.starts_with(char::is_alphanumeric) && (*since != "years" || apart())
    };
    let Some(since) = SINCE.iter().filter(|since| after.starts_with(**since)).find(|since| word_ends(since)) else {
        return input.fail();
    };
    // "twelve years": what it counts may have been heard as something else.
    let behind = text.get(input.span_to(rest).end as usize..).unwrap_or_default();
    let end = text.len() - behind.trim_start().len() + since.len();
    let heard = rest.0.iter().take_while(|t| (t.span.start as usize) < end).count();
    Ok((rest.skip(heard), Phrase::Aside))
}

/// A place; in "wart left hind and the fronts I didn't look at", "no wait, that's the off hind and the left hind bruise" and
/// "tyloma left hind, and the right hind thin sole" the one before "and", for a clause begins with the other.
fn place_of_its_clause<'a>(text: &str, input: Toks<'a>, so_far: SoFar) -> Res<'a, Phrase> {
    let (rest, place) = place::place(input)?;
    let used = &input.0[..input.0.len() - rest.0.len()];
    let and = used.iter().rposition(|t| t.meaning == Some(Meaning::And)).filter(|and| *and > 0);
    if let Some(and) = and
        && (so_far.corrects && is_told_of(rest)
            || so_far.after_lesion
                && rest.gap() <= Gap::Space
                && (is_told_of(rest) && !is_the_same(rest, so_far.lesion) || is_found_so(rest, used[and].gap > Gap::Space))
            // "wrap off back left, and the right rear foul"
            || so_far.after_deed.is_some_and(|off| off || used[and].gap > Gap::Space)
                && rest.gap() <= Gap::Space
                && (is_told_of(rest) || is_found_so(rest, true))
            // "didn't look at the left hind and the right front has a wart"
            || is_not_seen(text, used[0].span.start)
                && (is_told_of(rest) || rest.meaning() == Some(Meaning::Had) || is_found_so(rest, true))
            || words::was_not_looked_at(words::behind(text, input.span_to(rest).end as usize, NEAR_AND_OFF)))
        && let Ok((left, first)) = place::place(Toks(&input.0[..and]))
    {
        return Ok((input.skip(and - left.0.len()), Phrase::Place(first)));
    }
    Ok((rest, Phrase::Place(place)))
}

/// Whether the words before a foot tell that nobody looked at it: "couldn't get at the …".
fn is_not_seen(text: &str, foot: u32) -> bool {
    const SEEN: [&str; 9] = ["look at", "get at", "get to", "see to", "pick up", "lift", "touch", "check", "do"];
    const NOT: [&str; 6] = ["didn't", "couldn't", "haven't", "did not", "could not", "can't"];
    let before = words::before(text, foot as usize, NEAR_AND_OFF).to_lowercase();
    let before = before.trim_end();
    let before = ["the", "her"].iter().find_map(|w| before.strip_suffix(w)).unwrap_or(before).trim_end();
    let verb = SEEN.iter().find_map(|w| before.strip_suffix(w));
    verb.is_some_and(|rest| NOT.iter().any(|w| words::ends_with(rest.trim_end(), w)))
}

/// "concave dorsal wall right hind and left hind chronic laminitis": the same lesion by another name.
fn is_the_same(rest: Toks, lesion: Option<Named>) -> bool {
    match rest.meaning() {
        Some(Meaning::Disorder(disorder)) => lesion == Some(Named::Disorder(disorder)),
        Some(Meaning::Vague(vague)) => lesion == Some(Named::Vague(vague)),
        _ => false,
    }
}

/// Whether a verdict, a device that is off or a measure comes next; after a pause a verdict in one word, too, and a device.
/// ("wart left hind and right hind clean" may be of both.)
fn is_found_so(rest: Toks, paused: bool) -> bool {
    let long = rest.first().is_some_and(|t| t.span.end - t.span.start > "clean".len() as u32);
    match rest.meaning() {
        Some(Meaning::Measure(_)) => true,
        Some(Meaning::Clear) => paused || long,
        Some(Meaning::Device(_)) => paused || matches!(rest.nth(1), Some(Meaning::Off | Meaning::Lost)),
        Some(Meaning::Lost) => paused || matches!(rest.nth(1), Some(Meaning::Device(_))),
        Some(Meaning::Course(_)) => paused,
        _ => false,
    }
}

/// Whether a lesion comes next, behind its zone or its grade, or the part that has one.
fn is_told_of(mut rest: Toks) -> bool {
    loop {
        if rest.gap() == Gap::Stop {
            return false;
        }
        match rest.meaning() {
            Some(Meaning::ZoneCue | Meaning::Severity(_) | Meaning::Number(_)) => rest = rest.skip(1),
            told => {
                return matches!(
                    told,
                    Some(Meaning::Disorder(_) | Meaning::Vague(_) | Meaning::Part(_) | Meaning::StageCue)
                );
            }
        }
    }
}

/// "zone two near, zone three off": the off side, where the near one was just named so.
fn off_side<'a>(text: &str, input: Toks<'a>) -> Res<'a, Phrase> {
    let Some(tok) = input.first().filter(|t| t.meaning == Some(Meaning::Off)) else { return input.fail() };
    let before = words::before(text, tok.span.start as usize, NEAR_AND_OFF).to_lowercase();
    let near = before.rfind("near").filter(|at| {
        let behind = before[at + "near".len()..].trim_start();
        behind.starts_with([',', ';']) || behind.starts_with("and ")
    });
    let ends = input.0.len() == 1 || input.skip(1).gap() > Gap::Space || input.nth(1) == Some(Meaning::And);
    if !(near.is_some() && ends && tok.span.of(text).eq_ignore_ascii_case("off")) {
        return input.fail();
    }
    let place = Place { feet: Where::Side(Side::Right), claw: None, group: false };
    Ok((input.skip(1), Phrase::Place(place)))
}

/// Letters between "near" and "off", where the two are sides.
const NEAR_AND_OFF: usize = 40;

/// "started 8:40": the time of day.
fn clock<'a>(text: &str, input: Toks<'a>) -> Res<'a, Phrase> {
    let (Some(Meaning::Number(Atom::Digits { len: 1 | 2, .. })), Some(Meaning::Number(Atom::Digits { len: 2, .. }))) =
        (input.meaning(), input.nth(1))
    else {
        return input.fail();
    };
    let between = text.get(input.0[0].span.end as usize..input.0[1].span.start as usize);
    if between == Some(":") { Ok((input.skip(2), Phrase::Aside)) } else { input.fail() }
}

/// "5 days in milk", "2 calves": a number and, in the same breath, what we do not know.
fn counts_something(text: &str, number: Toks) -> bool {
    // "zone 4 too"
    if is_also(text, number) {
        return true;
    }
    if number.gap() != Gap::Comma {
        return false;
    }
    // "zone 4, 2 blocks worn already"
    if matches!(number.nth(1), Some(Meaning::Devices(_))) && number.skip(1).gap() <= Gap::Space {
        return true;
    }
    let unknown = number.nth(1).is_none() && number.0.len() > 1 && number.skip(1).gap() <= Gap::Space;
    let end = number.first().map_or(0, |t| t.span.end as usize);
    let behind = text.get(end..).and_then(|t| t.strip_prefix(' ')).unwrap_or_default();
    let word: &str = behind.split(|c: char| !c.is_alphabetic()).next().unwrap_or_default();
    let many = word.len() > 3
        && word.ends_with('s')
        && number.skip(1).first().is_none_or(|t| t.span.start as usize > end + word.len());
    unknown || many || in_milk(text, number).is_ok()
}

/// So many numbers in a row are no tag.
const NO_TAG: usize = 40;

/// A number that nothing claims, with all that was said of it.
fn loose_number(input: Toks) -> Res<Phrase> {
    let (rest, (text, _)) = number::tag(input)?;
    let value = match number::whole(input) {
        Ok((end, n)) if end.0.len() == rest.0.len() => Some(n),
        _ => None,
    };
    let plain = input.0[..input.0.len() - rest.0.len()].iter().all(toks::exact);
    Ok((rest, Phrase::Number { text, value, plain }))
}

/// "note …": the words to the end of the sentence, or to the next cow.
fn remark<'a>(text: &str, input: Toks<'a>) -> Res<'a, Phrase> {
    let cue = match input.meaning() {
        Some(Meaning::RemarkCue) => false,
        Some(Meaning::TellCue) => true,
        _ => return input.fail(),
    };
    let mut rest = input.skip(1);
    let mut vet = 0;
    // `BCS 2, LS 4`: so much of it and no more.
    let score = input.first().is_some_and(|t| t.span.of(text).eq_ignore_ascii_case("bcs"));
    let end = if score { Gap::Comma } else { Gap::Stop };
    while rest.first().is_some_and(|t| t.gap < end) {
        let new_cow = rest.meaning() == Some(Meaning::CowCue) && number::tag(rest.skip(1)).is_ok();
        // "tell the boss to ring the vet": the remark, and the vet.
        if rest.meaning() == Some(Meaning::Vet) && cue {
            vet = 1;
            break;
        }
        // "ask the farmer first, right hind outer, toe necrosis"
        if cue && rest.gap() == Gap::Comma && leads_to_a_lesion(rest) {
            break;
        }
        // "tell him wraps off Monday right hind outer has a bruise", with no comma said
        let said = rest.first().map_or(0, |t| t.span.start.saturating_sub(input.0[0].span.end));
        if said > REMARK_LETTERS && rest.gap() <= Gap::Space && begins_a_foot(text, rest) {
            break;
        }
        if new_cow || (rest.meaning() == Some(Meaning::NextCue) && cow::cow(text, rest, SoFar::within()).is_ok()) {
            break;
        }
        rest = rest.skip(1);
    }
    let end = rest.skip(vet);
    let whole = input.span_to(end);
    let start = if cue { whole.start } else { input.0[0].span.end };
    // Terms grown together in one heard word share it.
    let end = end.first().map_or(text.len(), |t| t.span.start as usize).max(start as usize);
    let words = text[start as usize..end].trim_matches(|c: char| c.is_whitespace() || ".,;:-".contains(c));
    let from = start as usize + text[start as usize..end].find(words).unwrap_or(0);
    Ok((rest, Phrase::Remark(Span::new(from, from + words.len()))))
}

/// Letters that a remark has at least before another foot may end it: some three words.
const REMARK_LETTERS: u32 = 14;

/// Whether a whole foot comes next that nothing before it leads to ("about the", "on her"), and its lesion right behind it.
fn begins_a_foot(text: &str, rest: Toks) -> bool {
    const LEADS: [&str; 13] =
        ["the", "her", "that", "on", "in", "of", "for", "with", "to", "about", "from", "this", "a"];
    const NEAR: usize = 5;
    const GOES_ON: [&str; 9] = ["so", "then", "but", "now", "and", "next", "anyway", "that", "alone"];
    const HAS: [&str; 8] = [" has ", " had ", "'s got ", " is ", " looks ", " needs ", " got ", " shows "];
    let Some(foot) = rest.first().filter(|t| matches!(t.meaning, Some(Meaning::Foot(_) | Meaning::Place(..)))) else {
        return false;
    };
    let at = foot.span.start as usize;
    let word = words::word_before(text, at);
    let near = rest.0.iter().enumerate().take(NEAR).take_while(|(k, t)| *k == 0 || t.gap <= Gap::Space);
    let lesion = |t: &Tok| {
        matches!(t.meaning, Some(Meaning::Disorder(_) | Meaning::Vague(_) | Meaning::StageCue | Meaning::Stage(_)))
    };
    // "…, so I left that alone the hind left has a wart"
    let the = ["the", "her"].contains(&word.as_str()) && {
        let led = words::word_before(text, at.saturating_sub(word.len() + 1));
        let behind = words::behind(text, foot.span.end as usize, " shows ".len());
        GOES_ON.contains(&led.as_str())
            || HAS.iter().any(|w| words::without(behind, w).is_some())
                && ![LEADS.as_slice(), &SAYS].concat().contains(&&*led)
    };
    (the || !LEADS.contains(&word.as_str())) && near.into_iter().any(|(_, t)| lesion(t))
}

/// Words behind which another tells of a foot: "the vet says the left hind has an ulcer".
const SAYS: [&str; 12] =
    ["says", "said", "thinks", "thought", "reckons", "reckoned", "him", "them", "if", "why", "when", "whether"];

/// Whether a foot comes next, and a lesion in the same sentence.
fn leads_to_a_lesion(rest: Toks) -> bool {
    let foot =
        matches!(rest.meaning(), Some(Meaning::Foot(_) | Meaning::Place(..) | Meaning::Places(..) | Meaning::Ends(_)));
    let lesion = |t: &Tok| {
        matches!(t.meaning, Some(Meaning::Disorder(_) | Meaning::Vague(_) | Meaning::StageCue | Meaning::Stage(_)))
    };
    foot && rest.0.iter().enumerate().take_while(|(k, t)| *k == 0 || t.gap < Gap::Stop).any(|(_, t)| lesion(t))
}

/// finding = disorder | vague ;
fn finding(input: Toks) -> Res<Phrase> {
    let disorder = toks::one(|m| if let Meaning::Disorder(d) = m { Some(Named::Disorder(d)) } else { None });
    let vague = toks::one(|m| if let Meaning::Vague(v) = m { Some(Named::Vague(v)) } else { None });
    nom::branch::alt((disorder, vague)).map(Phrase::Finding).parse(input)
}

/// A single match that is a phrase by itself; `None` for one that means nothing alone.
fn alone(vocab: &Vocabulary, tok: &Tok) -> Option<Phrase> {
    Some(match tok.meaning {
        None => Phrase::Unread,
        Some(Meaning::Course(c)) => Phrase::Course(c),
        Some(Meaning::Clear) => Phrase::Clear,
        Some(Meaning::ClearAll) => Phrase::ClearAll,
        Some(Meaning::Otherwise) => Phrase::Otherwise,
        Some(Meaning::Except) => Phrase::Except,
        Some(Meaning::Not) => Phrase::Not,
        Some(Meaning::Only) => Phrase::Only,
        Some(Meaning::Hedge) => Phrase::Hedge,
        Some(Meaning::Condition) => Phrase::Condition,
        Some(Meaning::Drop) => Phrase::Drop,
        Some(Meaning::Change) => Phrase::Change,
        Some(Meaning::Same) => Phrase::Same,
        Some(Meaning::Sign(s)) => Phrase::Sign(s),
        Some(Meaning::Part(p)) => Phrase::Part(p),
        // "toe length right hind outer 78 millimetres": the amount comes behind the place.
        Some(Meaning::Measure(MeasureKind::ToeLength)) => Phrase::Part(Part::Toe),
        Some(Meaning::Measure(MeasureKind::HeelHeight)) => Phrase::Part(Part::Heel),
        Some(Meaning::Measure(MeasureKind::SoleThickness)) => Phrase::Part(Part::Sole),
        Some(Meaning::Afterwards) => Phrase::Afterwards,
        Some(Meaning::Aside) => Phrase::Aside,
        Some(Meaning::Material(m)) => Phrase::Material(vocab.name(m).to_owned()),
        Some(Meaning::Agent(a)) => Phrase::Agent(vocab.name(a).to_owned()),
        Some(Meaning::Stays) => Phrase::Stays(None),
        Some(Meaning::Lost) => Phrase::Lost,
        // Said, and joined to nothing: not lost.
        Some(
            Meaning::MonthName(_)
            | Meaning::MonthDay(..)
            | Meaning::Ordinal(_)
            | Meaning::Unit(_)
            | Meaning::OutOf
            | Meaning::Scale(_)
            | Meaning::ScoreCue
            | Meaning::Measure(_)
            | Meaning::ZoneCue
            | Meaning::GradeCue
            | Meaning::Number(_),
        ) => Phrase::Unread,
        _ => return None,
    })
}

pub(crate) use measure::BETWEEN;
pub(crate) use measure::convert;
pub(crate) use place::both;
