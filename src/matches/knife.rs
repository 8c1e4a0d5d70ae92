//! Knife work told with what was cut: "cut the tips back", "took the rotten stuff off". Any verb goes with any object.

use super::{Edge, How, Tok, exact};
use crate::vocab::{Kind, Meaning, Style};
use crate::words::{Gap, Word};

/// What knife, nippers and grinder do; the last three are said of a block, too: not of "it" without a name.
fn verb(word: &str) -> Option<Verb> {
    // Asked of every word.
    if !matches!(word.as_bytes(), [.., b'd' | b'g' | b'k' | b'n' | b't']) {
        return None;
    }
    Some(match word {
        "cut" | "ground" | "rasped" | "filed" | "trimmed" | "pared" | "clipped" | "nipped" | "scraped" | "shaved"
        | "dressed" | "dug" | "peeled" | "cleaned" => Verb::Cuts,
        // "healed the loose flap off": how "peeled" is heard; nobody says it of horn that goes away.
        "healed" => Verb::Heard,
        "took" | "brought" | "taken" => Verb::AlsoOfBlocks,
        _ => return None,
    })
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Verb {
    Cuts,
    AlsoOfBlocks,
    Heard,
}

/// What may stand before the name of what is cut.
const BEFORE: [&str; 44] = [
    "ragged",
    "jagged",
    "rough",
    "torn",
    "hanging",
    "crumbly",
    "uneven",
    "strip",
    "chunk",
    "flaky",
    "the",
    "her",
    "a",
    "all",
    "some",
    "most",
    "that",
    "this",
    "those",
    "its",
    "of",
    "bit",
    "little",
    "lot",
    "rest",
    "whole",
    "loose",
    "dead",
    "rotten",
    "old",
    "soft",
    "bad",
    "long",
    "black",
    "false",
    "diseased",
    "damaged",
    "underrun",
    "overgrown",
    "separated",
    "excess",
    "extra",
    "sharp",
    "thin",
];

/// What is cut, of the horn.
const HORN: [&str; 35] = [
    "ridges",
    "cap",
    "piece",
    "slipper",
    "growth",
    "growths",
    "horn",
    "sole",
    "soles",
    "heel",
    "heels",
    "toe",
    "toes",
    "tip",
    "tips",
    "wall",
    "walls",
    "flap",
    "flaps",
    "edge",
    "edges",
    "ridge",
    "rim",
    "lip",
    "spur",
    "overgrowth",
    "ledge",
    "hook",
    "corner",
    "corners",
    "bits",
    "pieces",
    "stuff",
    "layer",
    "layers",
];
const PRONOUNS: [&str; 4] = ["it", "them", "that", "those"];

/// Which way it goes.
const WAYS: [&str; 5] = ["back", "off", "away", "out", "down"];

/// Behind "back", these say that it is the hind end.
const OF_A_FOOT: [&str; 9] = ["feet", "foot", "legs", "leg", "left", "right", "outer", "inner", "claws"];

/// The knife work that begins with the word at `start`.
pub(super) fn edge(words: &[Word], start: usize) -> Option<Edge> {
    let word = &words[start];
    let verb = verb(&word.text)?;
    let end = end(words, start, verb)?;
    let (span, how) = (word.span.to(words[end].span), How::Exact(Style::Spoken));
    let tok = Tok { meaning: Some(Meaning::Pare), span, gap: word.gap, how, form: None };
    Some(Edge { from: start as u16, to: end as u16 + 1, cost: exact::TERM, after: 0, kind: Kind::Work, tok })
}

/// The last word of the work that begins with the verb at `start`.
fn end(words: &[Word], start: usize, verb: Verb) -> Option<usize> {
    let text = |k: usize| words.get(k).filter(|w| w.gap <= Gap::Space).map(|w| &*w.text);
    let is = |k: usize, all: &[&str]| text(k).is_some_and(|w| all.contains(&w));
    let mut at = start + 1;
    while is(at, &BEFORE) && !(is(at, &PRONOUNS) && is(at + 1, &WAYS)) {
        at += 1;
    }
    // "cut a lot away"
    let much = verb == Verb::Cuts && at > start + 1 && ["lot", "bit", "rest", "all"].contains(&&*words[at - 1].text);
    if much && is(at, &WAYS) && !is(at + 1, &OF_A_FOOT) {
        return Some(at);
    }
    // "a double sole, healed it"
    if verb == Verb::Heard
        && at == start + 1
        && is(at, &["it", "that"])
        && words.get(at + 1).is_none_or(|w| w.gap > Gap::Space)
    {
        return Some(at);
    }
    // "took off the dead horn", "cut back the toes"
    if at == start + 1 && is(at, &WAYS) && verb != Verb::Heard {
        let mut horn = at + 1;
        while is(horn, &BEFORE) {
            horn += 1;
        }
        let soles = ["horn", "flap", "flaps", "wall", "growth", "overgrowth", "stuff", "edges", "edge", "cap", "ledge"];
        if horn > at + 1 && is(horn, &soles) {
            return Some(horn);
        }
    }
    let pronoun = at == start + 1 && is(at, &PRONOUNS) && verb == Verb::Cuts;
    if !(is(at, &HORN) || pronoun) {
        return None;
    }
    at += 1;
    // "the loose heel horn"
    at += usize::from(is(at, &["horn"]));
    if is(at, &["right", "well", "hard"]) {
        at += 1;
    }
    // What was cut off or away may be a wrap.
    let way = is(at, &WAYS) && !(pronoun && is(at, &["off", "away"]));
    (way && !(is(at, &["back"]) && is(at + 1, &OF_A_FOOT))).then_some(at)
}
