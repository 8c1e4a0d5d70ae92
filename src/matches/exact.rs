//! Edges for what is written word for word, and for words nobody knows.

use super::everyday::is_everyday;
use super::{Edge, How, Tok, knife};
use crate::vocab::depends::LED_BY_RIGHT;
use crate::vocab::{Ending, Form, Kind, Meaning, Style, Unit, Vocabulary};
use crate::words::said::{BIG, TENS, UNITS};
use crate::words::{self, Gap, Word};

/// Every term costs a little, so that the longest form wins over its parts.
pub(super) const TERM: u32 = 9;
/// A shorthand form yields to a spoken one.
const WRITTEN: u32 = 3;
/// A listed mishearing yields to what was said plainly.
const HEARD: u32 = 15;
/// An everyday word.
const FILLER: u32 = 5;
/// A form that counts only after certain words, where it stands after one.
const PLACED: u32 = 2;
/// A comma, or the end of a sentence, within a term.
const COMMA_INSIDE: u32 = 30;
const STOP_INSIDE: u32 = 45;
/// Reading "soles" for "sole's".
const JOINED: u32 = 6;
/// A word left unread.
const UNREAD: u32 = 200;

/// No form of a foot or a number has more words.
const LONGEST: usize = 16;

/// Adds the exact edges between word positions.
pub(super) fn edges(words: &[Word], vocab: &Vocabulary, edges: &mut Vec<Edge>) {
    let looked_up = LookedUp::new(words, vocab);
    for (i, word) in words.iter().enumerate() {
        let first = edges.len();
        looked_up.walk(i, i, 0, 0, edges);
        edges.extend(knife::edge(words, i));
        // "fronts okay": a verdict behind a foot, and not how people begin to talk.
        let near = edges[..first].iter().rev().take_while(|b| usize::from(b.from) + LONGEST >= i);
        let behind = |e: &Edge| near.clone().any(|b| b.to == e.from && e.after >> b.kind as u8 & 1 == 1);
        if word.gap <= Gap::Space && edges[first..].iter().any(|e| e.kind == Kind::Clear && e.after != 0 && behind(e)) {
            let here = edges.split_off(first);
            edges.extend(here.into_iter().filter(|e| e.kind != Kind::Filler || e.to as usize > i + 1));
        }
        let mut alone = |cost, kind, meaning, how| {
            let tok = Tok { meaning, span: word.span, gap: word.gap, how, form: None };
            edges.push(Edge { from: i as u16, to: i as u16 + 1, cost, after: 0, kind, tok });
        };
        let plain = How::Exact(Style::Spoken);
        if let Some(atom) = words::atom(&word.text) {
            alone(TERM, Kind::Number, Some(Meaning::Number(atom)), plain);
        } else {
            // A common word of English that sounds like no term. Asked last: most words are forms.
            if !looked_up.is_form(i) && (is_everyday(&word.text) || looked_up.is_letter_of_tag(i)) {
                alone(FILLER, Kind::Filler, Some(Meaning::Filler), plain);
            }
            alone(UNREAD, Kind::Unread, None, How::Unread);
        }
    }
}

/// Letters that recognisers write for "cow", "tag", "eight" and "oh" before a number.
pub(crate) const HEARD_AS_CUE: [&str; 8] = ["a", "c", "g", "k", "l", "o", "q", "t"];

/// Whether the word is a part of a number.
fn is_number(word: &str) -> bool {
    let word = word.strip_suffix("'s").unwrap_or(word);
    UNITS.contains(&word) || TENS.contains(&word) || BIG.contains(&word)
}

/// The words of a note, each looked up once: this is gone through for each word of each note.
struct LookedUp<'a> {
    words: &'a [Word<'a>],
    vocab: &'a Vocabulary,
    /// For each word, its id in the vocabulary, and where forms go on that begin with it.
    ids: Vec<Option<(u32, Option<u32>)>>,
    /// Whether each word is a written form and no spoken one: what marks a scribbled note.
    shorthand: Vec<bool>,
}

impl<'a> LookedUp<'a> {
    fn new(words: &'a [Word], vocab: &'a Vocabulary) -> Self {
        let ids: Vec<_> = words.iter().map(|w| vocab.word(&w.text).map(|id| (id, vocab.step(0, id)))).collect();
        let shorthand = ids.iter().map(|id| id.and_then(|id| id.1).is_some_and(|n| vocab.is_shorthand(n))).collect();
        Self { words, vocab, ids, shorthand }
    }

    /// Whether the word by itself is a form.
    fn is_form(&self, at: usize) -> bool {
        self.ids[at].and_then(|id| id.1).is_some_and(|node| !self.vocab.spelt(node).is_empty())
    }

    /// Adds the forms that begin at `start`, from the word `at` on, whose words before it led to `node`.
    fn walk(&self, start: usize, at: usize, node: u32, inside: u32, edges: &mut Vec<Edge>) {
        let Some(word) = self.words.get(at) else { return };
        let inside = inside
            + if at == start {
                0
            } else {
                match word.gap {
                    Gap::Glue | Gap::Space => 0,
                    // "wart left hind, one on the right hind", "right hind, pair it out"
                    Gap::Comma if word.text == "one" || word.text == "pair" => return,
                    // "trimmed, back in three weeks"; "left, back" may be one foot.
                    Gap::Comma if word.text == "back" && self.words[at - 1].text.ends_with("ed") => return,
                    Gap::Comma => COMMA_INSIDE,
                    // `horiz. cracks`: the dot of an abbreviation.
                    Gap::Stop if self.shorthand[at - 1] => 0,
                    Gap::Stop => STOP_INSIDE,
                }
            };
        if let Some((id, first)) = self.ids[at] {
            self.go(start, at, if node == 0 { first } else { self.vocab.step(node, id) }, inside, edges);
        }
        // (In "on the left that's a wart" it is a verb.)
        let pronoun = |base: &&str| !["that", "it", "he", "she", "there", "what", "this"].contains(base);
        if let Some(base) = word.text.strip_suffix("'s").filter(pronoun) {
            let step = |text: &str| self.vocab.word(text).and_then(|w| self.vocab.step(node, w));
            self.go(start, at, step(base), inside, edges);
            self.go(start, at, step(&format!("{base}s")), inside + JOINED, edges);
        }
    }

    /// The forms that end with the word `at`, and those that go on after it.
    fn go(&self, start: usize, at: usize, next: Option<u32>, cost: u32, edges: &mut Vec<Edge>) {
        let Some(next) = next else { return };
        for ending in self.vocab.spelt(next) {
            let form = || &self.vocab.forms()[ending.form as usize];
            // "right the same, block both": talk swallows nothing over a comma.
            if cost >= COMMA_INSIDE && form().kind == Kind::Filler {
                continue;
            }
            if !ending.depends || self.counts(form(), start, at) {
                edges.push(edge(self.words, start, at, ending, cost));
            }
        }
        self.walk(start, at + 1, next, cost, edges);
    }

    /// Whether a form that depends on what stands around it (`vocab/depends.rs`) counts here.
    fn counts(&self, form: &Form, start: usize, end: usize) -> bool {
        let words = self.words;
        if form.capitals && !words[start..=end].iter().all(|w| w.capitals) {
            return false;
        }
        let number_at = |i: usize| words.get(i).is_some_and(|w| w.gap <= Gap::Space && is_number(&w.text));
        // "nine oh one here": the number is not over.
        let number = |i: usize| is_number(&words[i].text) || words::atom(&words[i].text).is_some();
        // (But "zone five one more thing".)
        let thing = form.text.ends_with(" thing") || form.text.ends_with(" things");
        if form.meaning == Meaning::Filler
            && start > 0
            && !thing
            && words[start].gap <= Gap::Space
            && is_number(&words[start].text)
            && number(start - 1)
        {
            return false;
        }
        // "cow seven oh two fronts clean", "forty two hinds": behind a nought or a ten the number goes on.
        let goes_on = |w: &Word| TENS.contains(&&*w.text) || ["oh", "o", "zero", "nought"].contains(&&*w.text);
        let led_on = start > 0 && words[start].gap <= Gap::Space && is_number(&words[start].text);
        if led_on && !thing && goes_on(&words[start - 1]) {
            return false;
        }
        // "on the left the outer has an ulcer"
        if form.meaning == Meaning::Aside && form.text == "left the" {
            let same = words.get(end + 1).is_some_and(|w| w.text == "same");
            return !same && (start == 0 || !["on", "the"].contains(&&*words[start - 1].text));
        }
        // "right three five two, she's …", "right number 67": how talk begins, and no side.
        if form.text == "right" {
            let cue = |w: &Word| ["number", "cow", "tag", "heifer"].contains(&&*w.text);
            let next = words.get(end + 1).filter(|w| w.gap <= Gap::Space);
            let tag = next.is_some_and(|w| w.text.len() >= 2 && w.text.bytes().all(|b| b.is_ascii_digit()))
                || number_at(end + 1) && number_at(end + 2);
            let begins = start == 0 && (tag || next.is_some_and(cue));
            if form.meaning == Meaning::Filler || begins {
                return begins && form.meaning == Meaning::Filler;
            }
        }
        // "there was a right squirt out of it", but "a right outer", "a right one"
        if matches!(form.meaning, Meaning::Side(_)) && form.text == "right" {
            const OF_A_COW: [Kind; 6] = [Kind::Claw, Kind::End, Kind::Foot, Kind::Side, Kind::Disorder, Kind::Vague];
            let next = words.get(end + 1).filter(|w| w.gap <= Gap::Space);
            let noun = next.is_some_and(|w| {
                !is_number(&w.text) && w.text != "one" && !OF_A_COW.iter().any(|kind| self.is_a(end + 1, *kind))
            });
            return !(noun && start > 0 && words[start - 1].text == "a" && words[start].gap <= Gap::Space);
        }
        // "trimmed back on the right rear a wart", but "she's back on her feet"; "trimmed back then the right hind"
        if form.meaning == Meaning::Aside && form.text == "back on" || form.text == "back then" {
            let done = |w: &Word| w.text.ends_with("ed") || ["cut", "took", "ground"].contains(&&*w.text);
            return !(start > 0 && words[start].gap <= Gap::Space && done(&words[start - 1]));
        }
        // "trimmed the lot", "the lot clean", but "a wrap over the lot" is one over all that was put on.
        if form.meaning == Meaning::AllFeet && form.text == "the lot" {
            let done = |w: &Word| w.text.ends_with("ed") || ["trim", "did", "do", "done", "cut"].contains(&&*w.text);
            let found = |w: &Word| ["clean", "fine", "good", "clear", "are", "is"].contains(&&*w.text);
            return start > 0 && done(&words[start - 1]) || words.get(end + 1).is_some_and(found);
        }
        // "right so cow 12", "wrapped it right so the left hind", but not "the same on the right so I left it".
        if form.meaning == Meaning::Filler && LED_BY_RIGHT.contains(&&*form.text) {
            const LEADS: [&str; 19] = [
                "the", "her", "on", "in", "to", "for", "of", "both", "left", "or", "and", "front", "hind", "rear",
                "back", "fore", "near", "from", "at",
            ];
            return words[start].gap > Gap::Space || start == 0 || !LEADS.contains(&&*words[start - 1].text);
        }
        // `blk I; 46 ok`: the claw, and nobody speaking of himself.
        if form.meaning == Meaning::Filler && form.text == "i" {
            let block = start > 0 && self.is_written(start - 1, &[Kind::Block]);
            return !(block && words[start].capitals && words.get(end + 1).is_none_or(|w| w.gap > Gap::Space));
        }
        // `SU-O healed`: the claw, and no zone.
        if matches!(form.meaning, Meaning::Number(_)) && form.text == "o" {
            let lesion = start > 0 && self.is_written(start - 1, &[Kind::Disorder, Kind::Vague]);
            return !(lesion && words[start].gap == Gap::Glue && words[start].capitals);
        }
        // `3in`, `toe 3 1/2 in`, `toe 3"`, but not "four nineteen in the chute", and no ditto mark.
        if form.meaning == Meaning::Unit(Unit::Inch) && form.after != 0 {
            return is_inch(words, start);
        }
        if form.text == "\"" && is_inch(words, start) {
            return false;
        }
        // `RH do.`
        if form.meaning == Meaning::Same && form.text == "do" {
            let ends = words.get(end + 1).is_none_or(|w| w.gap > Gap::Space);
            let tag = |i: usize| words::atom(&words[i].text).is_some() && i <= 1;
            return ends
                && start > 0
                && (tag(start - 1) || self.is_written(start - 1, &[Kind::Foot, Kind::Group, Kind::End, Kind::Claw]));
        }
        // `✗wrap`, but not `RH✗ M2`.
        if ["\u{2717}", "\u{2718}"].contains(&&*form.text) {
            let before = words.get(end + 1).is_some_and(|w| w.gap == Gap::Glue);
            return if form.meaning == Meaning::Off { !before && words[start].gap == Gap::Glue } else { before };
        }
        // "wart's bigger", but not "a bigger block".
        if matches!(form.meaning, Meaning::Course(_)) {
            let noun = |w: &Word| {
                w.gap <= Gap::Space
                    && !["than", "now", "again", "today", "and", "but", "left", "right"].contains(&&*w.text)
            };
            // "it's bigger than I thought"
            // "smaller than my fingernail"
            let thought = words.get(end + 1).is_some_and(|w| w.text == "than")
                && words.get(end + 2).is_some_and(|w| ["i", "my", "a", "an", "your"].contains(&&*w.text));
            return !words.get(end + 1).is_some_and(noun) && !thought;
        }
        // `blk in, 17 clean`: the claw, and no time to come.
        if form.meaning == Meaning::In && form.text == "in" {
            let ends = words.get(end + 1).is_some_and(|w| w.gap > Gap::Space);
            return !(ends
                && start > 0
                && words[start].gap == Gap::Space
                && self.is_written(start - 1, &[Kind::Block]));
        }
        if form.meaning == Meaning::And {
            return self.shorthand.contains(&true);
        }
        // "smaller but not closed": how it is, and nothing left out.
        if form.meaning == Meaning::Except {
            const HOW: [&str; 19] = [
                "closed", "healed", "gone", "better", "bleeding", "bad", "much", "worse", "yet", "deep", "open",
                "done", "severe", "hot", "sore", "lame", "infected", "quite", "fully",
            ];
            return !words.get(end + 1).is_some_and(|w| w.gap <= Gap::Space && HOW.contains(&&*w.text));
        }
        // "block inner okay next one is the left hind": how talk goes on, and neither kept nor clean.
        if ["ok", "okay"].contains(&&*form.text) && matches!(form.meaning, Meaning::Stays | Meaning::Clear) {
            return !words.get(end + 1).is_some_and(|w| w.gap <= Gap::Space && w.text == "next");
        }
        // "no lesions left", but not "no lesions left hind".
        if form.meaning == Meaning::Clear {
            let end_of = ["hind", "front", "rear", "back", "fore", "foot"];
            return !words.get(end + 1).is_some_and(|w| end_of.contains(&&*w.text));
        }
        // `bl. RHI`, `bl outer`, `bl. off`
        if form.text == "bl" && form.kind == Kind::Block {
            let off = words.get(end + 1).is_some_and(|w| ["off", "on"].contains(&&*w.text));
            let place = end + 1 < words.len() && (self.is_a(end + 1, Kind::Foot) || self.is_a(end + 1, Kind::Claw));
            return self.shorthand.contains(&true) && (off || place);
        }
        // "bandage off back left": it is off, and of the left.
        if matches!(form.meaning, Meaning::Foot(_)) {
            return !words.get(end + 1).is_some_and(|w| w.gap <= Gap::Space && ["left", "right"].contains(&&*w.text));
        }
        // "double sole all round left hind": the claw, and not all feet.
        if form.meaning == Meaning::AllFeet && form.after != 0 {
            let foot = ["left", "right", "near", "off", "lh", "rh", "lf", "rf", "lb", "rb"];
            // "soft all round", "trimmed the horn back all round": of that claw.
            let claw = ["soft", "hard", "sore", "tender", "raw", "wet", "dry", "loose", "back", "way"];
            if start > 0 && words[start].gap <= Gap::Space && claw.contains(&&*words[start - 1].text) {
                return false;
            }
            return !words.get(end + 1).is_some_and(|w| w.gap <= Gap::Space && foot.contains(&&*w.text));
        }
        // `F✓`
        if matches!(form.meaning, Meaning::Ends(_) | Meaning::End(_)) && form.text.len() == 1 {
            let checked = words.get(end + 1).is_some_and(|w| ["\u{2713}", "ok"].contains(&&*w.text));
            let scribbled = self.shorthand.contains(&true) && start > 0 && words[start].gap > Gap::Glue;
            return if matches!(form.meaning, Meaning::Ends(_)) { checked && start > 0 } else { scribbled && !checked };
        }
        // "had a look at the back left, an ulcer", "that's right hind": a foot, and no talk ("at the back left hind").
        if matches!(form.meaning, Meaning::Filler | Meaning::Aside) {
            const END: [&str; 6] = ["hind", "front", "rear", "fore", "back", "foot"];
            let is =
                |at: usize, of: &[&str]| words.get(at).is_some_and(|w| w.gap <= Gap::Space && of.contains(&&*w.text));
            if form.text.ends_with(" back") {
                return !is(end + 1, &["left", "right"]) || is(end + 2, &END);
            }
            if form.text.ends_with(" right") || form.text.ends_with(" left") {
                const CLAW: [&str; 8] = ["outer", "inner", "outside", "inside", "lateral", "medial", "one", "claw"];
                return !is(end + 1, &END[..4]) && !is(end + 1, &CLAW);
            }
        }
        // "trimmed back feet", "back feet trimmed": the feet, and not how they were trimmed.
        if form.text.ends_with(" back") {
            return !words.get(end + 1).is_some_and(|w| ["feet", "foot", "legs", "ones", "pair"].contains(&&*w.text));
        }
        if form.text == "feet trimmed" {
            return start == 0 || !["back", "hind", "front", "rear", "fore"].contains(&&*words[start - 1].text);
        }
        // "corns behind", but not "behind the heel".
        if form.after != 0 && form.text == "in front" {
            return !words.get(end + 1).is_some_and(|w| w.gap <= Gap::Space && w.text == "of");
        }
        if form.after != 0 && form.text == "behind" {
            // "fine on the fronts, behind, warts on both": behind a foot only where it stands by itself.
            let next = words.get(end + 1);
            let foot =
                |at: usize| [Kind::Foot, Kind::Group, Kind::End, Kind::Side].iter().any(|kind| self.is_a(at, *kind));
            let apart = words[start].gap == Gap::Comma && next.is_none_or(|w| w.gap == Gap::Comma);
            if start > 0 && foot(start - 1) && !apart {
                return false;
            }
            let of = |w: &Word| w.gap <= Gap::Space && ["the", "it", "her", "that"].contains(&&*w.text);
            return !words.get(end + 1).is_some_and(of);
        }
        // "she's a one", but not "she's a kicker".
        if form.meaning == Meaning::ScoreCue && form.text.ends_with(" a") {
            // "she's a three year old"
            let age = words.get(end + 2).is_some_and(|w| ["year", "yr", "month", "week", "day"].contains(&&*w.text));
            let number = |w: &Word| is_number(&w.text) || words::atom(&w.text).is_some();
            return !age && words.get(end + 1).is_some_and(|w| w.gap <= Gap::Space && number(w));
        }
        if form.kind == Kind::Claw && ["in", "out"].contains(&&*form.text) {
            return self.is_claw(form, start, end);
        }
        if form.kind == Kind::Claw && form.text.len() == 1 {
            return self.is_claw_letter(form, start);
        }
        // A question mark is a hedge in a scribbled note only: recognisers put one where a voice rises.
        if form.text != "?" {
            return true;
        }
        // `?toe necrosis OH lat`, `5 ? foul RH`: set apart from the word before it, it is nobody's question mark.
        if words[start].gap > Gap::Glue && end + 1 < words.len() {
            return true;
        }
        let near = |i: Option<usize>| i.and_then(|i| self.shorthand.get(i)).is_some_and(|s| *s);
        let bracketed = words[start].gap == Gap::Comma && words.get(end + 1).is_none_or(|w| w.gap >= Gap::Comma);
        let scribbled = self.shorthand[..start].contains(&true) && (words[start].gap == Gap::Glue || bracketed);
        scribbled || near(start.checked_sub(1)) || (near(Some(end + 1)) && words[end + 1].gap < Gap::Comma)
    }

    /// Whether the word is a lesion by itself, or the number of its zone.
    fn ends_a_lesion(&self, at: usize) -> bool {
        let lesion = |kind: Kind| matches!(kind, Kind::Disorder | Kind::Vague);
        words::atom(&self.words[at].text).is_some()
            || self.ids[at]
                .and_then(|id| id.1)
                .is_some_and(|node| self.vocab.spelt(node).iter().any(|ending| lesion(ending.kind)))
    }

    /// Whether a written "in" or "out" names a claw: behind a foot or a block, or behind a lesion's code.
    fn is_claw(&self, form: &Form, start: usize, end: usize) -> bool {
        let next = self.words.get(end + 1);
        let inner = form.text == "in";
        // "pared both out": how it was done.
        let before = |back: usize| start.checked_sub(back).map(|at| &*self.words[at].text);
        // "pared them both out"
        if before(1) == Some("both") && before(2) == Some("them") {
            return false;
        }
        if !inner
            && before(1) == Some("both")
            && before(2).is_some_and(|w| w.ends_with("ed") || w == "cut" || w == "dug")
        {
            return false;
        }
        // "foul in the right front, so I've washed it out"
        if before(1).is_some_and(|w| ["it", "them", "that", "this", "her", "all"].contains(&w)) {
            return false;
        }
        if form.after >> Kind::Disorder as u8 & 1 == 1 {
            // `SU out healed`, `TU in z5`, but not `DD in both hinds`, `WLA in zone three`, `WLA in her left hind`.
            let zone = |w: &Word| w.text.strip_prefix('z').is_some_and(|n| n.bytes().all(|b| b.is_ascii_digit()));
            let ends = |w: &Word| {
                w.gap > Gap::Space || zone(w) || ["heal", "bl"].iter().any(|begins| w.text.starts_with(begins))
            };
            // `7045 block off RH, ulcer out is closed`, `z4 out`: in a scribbled note, where nothing goes on from it.
            const HOW: [&str; 10] =
                ["is", "now", "open", "deep", "bleeding", "healed", "healing", "closed", "bad", "raw"];
            let alone = next.is_none_or(|w| w.gap > Gap::Space || HOW.contains(&&*w.text));
            let scribbled = start > 0
                && !inner
                && alone
                && self.shorthand[..start].contains(&true)
                && self.ends_a_lesion(start - 1);
            // `LH: out WL z2, in bruise z4`
            let lesion = |at: usize| self.is_a(at, Kind::Disorder) || self.is_a(at, Kind::Vague);
            let outer_before = self.words[..start].iter().any(|w| w.text == "out");
            if inner
                && self.words[start].gap == Gap::Comma
                && outer_before
                && end + 1 < self.words.len()
                && lesion(end + 1)
            {
                return self.shorthand[..start].contains(&true);
            }
            // `362 RH in blk still on, out SU z4 healing`
            if !inner && self.words[start].gap == Gap::Comma && end + 1 < self.words.len() && lesion(end + 1) {
                return self.shorthand[..start].contains(&true);
            }
            // `LH - out: SU z4, in: SHC z4`
            let apart = self.words[start].gap == Gap::Comma && next.is_some_and(|w| w.gap == Gap::Comma);
            if apart && self.shorthand[..start].contains(&true) {
                return true;
            }
            return start > 0 && (scribbled || self.shorthand[start - 1]) && (!inner || next.is_none_or(ends));
        }
        // `blk in`, but not "blocked in January", "right in zone four" and "in a week".
        let goes_on = |w: &Word| {
            ["a", "an", "the", "about"].contains(&&*w.text)
                || w.text.starts_with("zone")
                || w.text.parse::<chrono::Month>().is_ok()
        };
        !(inner && next.is_some_and(goes_on))
    }

    /// Whether the word by itself is a form of this kind.
    fn is_a(&self, at: usize, kind: Kind) -> bool {
        let node = self.ids[at].and_then(|id| id.1);
        node.is_some_and(|node| self.vocab.spelt(node).iter().any(|ending| ending.kind == kind))
    }

    /// Whether the word is a written form of one of these kinds, and no spoken one.
    fn is_written(&self, at: usize, kinds: &[Kind]) -> bool {
        let Some(node) = self.ids.get(at).and_then(|id| id.and_then(|id| id.1)) else { return false };
        // `OH` in capitals is a foot, and a nought otherwise.
        let written = |ending: &Ending| self.shorthand[at] || ending.capitals && self.words[at].capitals;
        self.vocab.spelt(node).iter().any(|ending| kinds.contains(&ending.kind) && written(ending))
    }

    /// `B14 RH SU`, `14B LH DD`: a letter that is glued to the number at the start of a scribbled note.
    fn is_letter_of_tag(&self, at: usize) -> bool {
        let [first, second, ..] = self.words else { return false };
        let glued = second.gap == Gap::Glue && first.span.end == second.span.start;
        let digits = |w: &Word| w.text.bytes().all(|b| b.is_ascii_digit());
        let letter = |w: &Word| w.text.len() == 1 && w.text.as_bytes()[0].is_ascii_alphabetic();
        let here = match at {
            // A recogniser does not write two abbreviations.
            0 => {
                let scribbled = self.shorthand.iter().filter(|s| **s).count() > 1;
                letter(first) && digits(second) && (scribbled || !HEARD_AS_CUE.contains(&&*first.text))
            }
            1 => digits(first) && letter(second),
            _ => false,
        };
        here && glued && self.shorthand.contains(&true)
    }

    /// Whether a letter names a claw: `RH o SU`, `SU (o)`, `LH - o: SU z4, i: SHC`, `RH L TN`.
    fn is_claw_letter(&self, form: &Form, at: usize) -> bool {
        const LESION: &[Kind] = &[Kind::Disorder, Kind::Vague];
        let lesion = |at: usize| self.is_written(at, LESION);
        let gap = self.words[at].gap;
        let next = self.words.get(at + 1);
        let alone = next.is_none_or(|w| w.gap > Gap::Space);
        let goes_on = lesion(at + 1)
            || self.is_written(at + 1, &[Kind::Block])
            || next.is_some_and(|w| ["z", "&", "+", "sole", "toe", "heel", "wall"].contains(&&*w.text));
        let Some(before) = at.checked_sub(1) else { return goes_on && !["l", "m"].contains(&&*form.text) };
        // A comma before it is a bracket, or else it stands by itself.
        let closed = gap <= Gap::Space && (alone || goes_on) || gap == Gap::Comma && alone;
        if self.is_written(before, &[Kind::Foot, Kind::Group, Kind::Block]) && closed {
            return true;
        }
        // `LBO: ulcer z4 >> block O`
        if self.is_a(before, Kind::Block) && closed && self.shorthand[..at].contains(&true) {
            return true;
        }
        // Behind anything else these are "left", and the "M" of a stage.
        if ["l", "m"].contains(&&*form.text) || !self.shorthand[..at].contains(&true) {
            return false;
        }
        // `SU-O healed`
        if gap == Gap::Glue && self.words[at].capitals && self.is_written(before, LESION) {
            return true;
        }
        gap <= Gap::Comma && (lesion(at + 1) && next.is_some_and(|w| w.gap <= Gap::Space))
            || self.ends_a_lesion(before) && (closed || gap <= Gap::Space && self.shorthand.get(at + 1) == Some(&true))
            || gap == Gap::Comma && alone
    }
}

/// Whether a sign or a short word behind a number stands for inches: glued to it, or behind a toe's or a sole's.
fn is_inch(words: &[Word], at: usize) -> bool {
    let number = |w: &Word| w.text.starts_with(|c: char| c.is_numeric());
    let numbers = words[..at].iter().rev().take_while(|w| number(w)).count();
    let part = words[..at - numbers].last().is_some_and(|w| ["toe", "toes", "sole", "length"].contains(&&*w.text));
    let letters = words[at].text.starts_with(char::is_alphabetic);
    // `toe 85 in Jan`
    if words.get(at + 1).is_some_and(|w| w.text.parse::<chrono::Month>().is_ok()) {
        return false;
    }
    numbers > 0 && (part && words[at].gap <= Gap::Space || letters && words[at].gap == Gap::Glue)
}

fn edge(words: &[Word], start: usize, end: usize, form: &Ending, inside: u32) -> Edge {
    let cost = match (form.kind, form.style) {
        // "outer toe ulcer": the toe is the ulcer's.
        (Kind::Disorder, Style::Spoken) => TERM - 1,
        _ if form.after != 0 || form.capitals => PLACED,
        (Kind::Filler, _) => FILLER,
        (_, Style::Spoken) => TERM,
        (_, Style::Written) => TERM + WRITTEN,
        (_, Style::Heard) => TERM + HEARD,
    };
    Edge {
        from: start as u16,
        to: end as u16 + 1,
        cost: cost + inside,
        after: form.after,
        kind: form.kind,
        tok: Tok {
            meaning: Some(form.meaning),
            span: words[start].span.to(words[end].span),
            gap: words[start].gap,
            how: How::Exact(form.style),
            form: Some(form.form),
        },
    }
}
