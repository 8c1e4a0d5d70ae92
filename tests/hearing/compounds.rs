//! Two notes of one foot each, said in one breath of the same cow, are read as the two are by themselves: what is said of
//! a foot stays with it, whatever begins with the next. (Of the notes in `others.tsv`, joined as people join them.)

use std::collections::BTreeSet;

use chutescribe::vocab::Vocabulary;
use chutescribe::{Entry, Reader};

use super::score::slots;
use super::{VISIT, lines};

const TYPED: &str = include_str!("../corpus/others.tsv");
const NUMBERS: [&str; 31] = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
    "thirty",
    "forty",
    "fifty",
    "sixty",
    "seventy",
    "eighty",
    "ninety",
    "hundred",
    "thousand",
    "oh",
    "and",
];
/// Words that speak of more than the foot in the hand, or of what was said before.
const WIDER: [&str; 17] = [
    "other",
    "others",
    "rest",
    "same",
    "cow",
    "both",
    "all",
    "everything",
    "nothing",
    "feet",
    "last",
    "before",
    "fronts",
    "hinds",
    "again",
    "old",
    "too",
];
/// How the second is joined to the first where both have their stops and commas.
const WRITTEN: [&str; 11] = [
    ", ",
    ". ",
    ", and the ",
    ", then the ",
    ", on the ",
    ". On the ",
    "; ",
    ", the ",
    ". The ",
    " and the ",
    " then the ",
];
/// The same where neither has any.
const SPOKEN: [&str; 10] = [
    " ",
    " and ",
    " and the ",
    " then the ",
    " the ",
    " on the ",
    " and on the ",
    " next the ",
    " plus the ",
    " and then the ",
];

/// What people say between two feet in running talk, without a comma.
const TALK: [&str; 32] = [
    " and while i was there the ",
    " other than that the ",
    " anyway the ",
    " what else the ",
    " oh and the ",
    " right so the ",
    " okay right the ",
    " right well the ",
    " so that one is done and the ",
    " hold still girl the ",
    " and on the other side the ",
    " and now for the ",
    " okay next one is the ",
    " and when i got to the ",
    " and i had a look at the ",
    " and there was something on the ",
    " she was kicking so i took my time with the ",
    " good so the ",
    " perfect the ",
    " give me the other one the ",
    " one more thing the ",
    " job done the ",
    " last but not least the ",
    " turned her around and the ",
    " then i lifted the ",
    " and would you look at that the ",
    " got hold of the ",
    " but what's bothering her is the ",
    " i forgot the ",
    " of course the ",
    " luckily the ",
    " no more on that one the ",
];

/// What is said of her, without the cow: of one foot, and clear.
struct Part {
    said: String,
    foot: String,
    facts: BTreeSet<String>,
}

/// The note behind "cow four twelve,"; nothing where it begins otherwise.
fn without_cow(note: &str) -> Option<&str> {
    let mut rest = note.strip_prefix("cow ").or_else(|| note.strip_prefix("Cow "))?;
    loop {
        let word = rest.split([' ', ',', '.', ':']).next()?;
        let number = word.bytes().all(|b| b.is_ascii_digit()) || NUMBERS.contains(&word.to_lowercase().as_str());
        if word.is_empty() || !number {
            return Some(rest);
        }
        rest = rest[word.len()..].trim_start_matches([' ', ',', '.', ':']);
    }
}

fn begins_with_a_foot(said: &str) -> bool {
    let word = said.split(' ').next().unwrap_or_default().to_lowercase();
    ["left", "right", "near", "off", "back", "front", "hind"].contains(&word.as_str())
}

/// The note without stops, commas and capitals.
fn spoken(note: &str) -> String {
    let bare = note.to_lowercase().replace([',', '.', ';', ':', '!', '?'], " ");
    bare.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn facts(entries: &[Entry]) -> BTreeSet<String> {
    entries.iter().flat_map(slots).filter(|slot| !slot.starts_with("cow=")).collect()
}

/// The one foot that all of it is of.
fn one_foot(facts: &BTreeSet<String>) -> Option<String> {
    let foot = |slot: &String| slot.split(' ').find(|w| ["LF", "RF", "LH", "RH"].contains(w)).map(str::to_owned);
    let feet: Option<BTreeSet<String>> = facts.iter().map(foot).collect();
    feet.filter(|feet| feet.len() == 1)?.into_iter().next()
}

fn parts(reader: &Reader, said: impl Fn(&str) -> String) -> Vec<Part> {
    let clear = |line: &str| {
        let note = line.split('\t').nth(1)?;
        let said = said(without_cow(note)?.trim_end_matches('.'));
        let wider = said.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|w| WIDER.contains(&w));
        if wider || !begins_with_a_foot(&said) {
            return None;
        }
        let entries = reader.read(&format!("cow 12 {said}"), VISIT, None).entries;
        let facts = facts(&entries);
        let plain = facts.iter().all(|slot| !slot.starts_with("clear "));
        let asked = entries.iter().any(|e| e.questions().count() > 0);
        (entries.len() == 1 && plain && !asked).then_some(())?;
        Some(Part { foot: one_foot(&facts)?, said, facts })
    };
    lines(TYPED).filter_map(clear).collect()
}

/// The same numbers each time, below what is asked for.
fn dice() -> impl FnMut(usize) -> usize {
    let mut seed = 1_u64;
    move |n| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(seed >> 33).unwrap_or_default() % n
    }
}

/// How many of so many pairs are read otherwise than their parts, and nothing is asked.
fn silent(reader: &Reader, parts: &[Part], joins: &[&str], pairs: usize) -> usize {
    let mut below = dice();
    let (mut done, mut wrong) = (0, 0);
    while done < pairs {
        let (a, b) = (&parts[below(parts.len())], &parts[below(parts.len())]);
        let join = joins[below(joins.len())];
        if a.foot == b.foot {
            continue;
        }
        done += 1;
        let note = format!("cow 12 {}{join}{}", a.said, b.said);
        let entries = reader.read(&note, VISIT, None).entries;
        let both: BTreeSet<String> = a.facts.union(&b.facts).cloned().collect();
        if facts(&entries) != both && entries.iter().all(|e| e.questions().count() == 0) {
            println!("{note}\n    {:?}", both.symmetric_difference(&facts(&entries)).collect::<Vec<_>>());
            wrong += 1;
        }
    }
    wrong
}

/// How the next cow follows in one breath.
const NEXT_COW: [&str; 8] =
    [", cow ", ". Cow ", " cow ", ", then cow ", ". Next one, cow ", ", and cow ", "; cow ", " number "];

/// How many of so many pairs of cows in one breath are read otherwise than each by herself, and nothing is asked.
fn silent_cows(reader: &Reader, parts: &[Part], pairs: usize) -> usize {
    let mut below = dice();
    let mut wrong = 0;
    for _ in 0..pairs {
        let (a, b) = (&parts[below(parts.len())], &parts[below(parts.len())]);
        let note = format!("cow 12 {}{}412 {}", a.said, NEXT_COW[below(NEXT_COW.len())], b.said);
        let entries = reader.read(&note, VISIT, None).entries;
        let cows: Vec<Option<&str>> = entries.iter().map(|e| e.cow.as_deref()).collect();
        let read: Vec<BTreeSet<String>> = entries.iter().map(|e| facts(std::slice::from_ref(e))).collect();
        let same = cows == [Some("12"), Some("412")] && read[0] == a.facts && read[1] == b.facts;
        if !same && entries.iter().all(|e| e.questions().count() == 0) {
            println!("{note}");
            wrong += 1;
        }
    }
    wrong
}

#[test]
fn two_cows_in_one_breath_are_read_as_by_themselves() {
    let reader = Reader::new(Vocabulary::built_in());
    let written = parts(&reader, str::to_owned);
    let pairs = 2000;
    let wrong = silent_cows(&reader, &written, pairs);
    println!("of {pairs} pairs of cows silently otherwise: {wrong}");
    assert!(wrong <= 3, "{wrong}");
}

#[test]
fn two_feet_in_one_breath_are_read_as_by_themselves() {
    let reader = Reader::new(Vocabulary::built_in());
    let written = parts(&reader, str::to_owned);
    let bare = parts(&reader, spoken);
    assert!(written.len() > 100 && bare.len() > 100, "{} and {} parts", written.len(), bare.len());
    let pairs = 2000;
    let talk = silent(&reader, &bare, &TALK, pairs);
    let (written, bare) = (silent(&reader, &written, &WRITTEN, pairs), silent(&reader, &bare, &SPOKEN, pairs));
    println!("of {pairs} pairs silently otherwise: with commas {written}, without {bare}, with talk between {talk}");
    assert!(written <= 2 && bare <= 8 && talk <= 4, "{written}, {bare}, {talk}");
}
