//! The note as one string of sounds, free of word borders: exact terms, terms that sound near, and a price
//! for every sound left unread compete in one lattice.

use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet};

use super::exact;
use super::{Edge, How, Lattice, Tok, Tuning};
use crate::vocab::sound::{Allowed, BREAK, Hit, Phone, Sounds, is_vowel, pronounce};
use crate::vocab::{Atom, Kind, Meaning, Style, Vague, Vocabulary};
use crate::words::{Gap, Span, Word};

/// A note in sounds: where each word begins.
struct Sounded {
    phones: Vec<Phone>,
    /// Position of the first sound of each word, and the end.
    starts: Vec<u16>,
    /// Word of each sound.
    word: Vec<u16>,
    /// Words that stand in the dictionary: a recogniser writes those, but people say them too.
    known: Vec<bool>,
    /// Price of beginning or ending at each position, and at the end: free at a border of words.
    border: Vec<u32>,
}

impl Sounded {
    fn new(words: &[Word], sounds: &Sounds, tuning: &Tuning) -> Self {
        let mut own = Self { phones: vec![], starts: vec![0], word: vec![], known: vec![], border: vec![] };
        for (i, w) in words.iter().enumerate() {
            let digits = w.text.bytes().any(|b| b.is_ascii_digit());
            let said = if digits { None } else { Some(sounds.of(&w.text)).filter(|s| !s.phones.is_empty()) };
            match &said {
                Some(s) => own.phones.extend(&s.phones),
                None => own.phones.push(BREAK),
            }
            own.known.push(said.is_some_and(|s| s.known));
            own.word.resize(own.phones.len(), i as u16);
            own.starts.push(own.phones.len() as u16);
        }
        let inside = |word: &u16| if own.known[*word as usize] { tuning.inside_known } else { tuning.inside_word };
        let mut border: Vec<u32> = own.word.iter().map(inside).chain([0]).collect();
        for start in &own.starts {
            border[*start as usize] = 0;
        }
        own.border = border;
        own
    }

    /// For each position, how many sounds the term that ends there has; 0 where none does.
    fn ends_of_terms(&self, plain: &[Plain]) -> Vec<u16> {
        let mut out = vec![0; self.phones.len() + 1];
        for (w, is) in plain.iter().enumerate() {
            if *is == Plain::Term {
                let (start, end) = (self.starts[w], self.starts[w + 1]);
                out[end as usize] = end - start;
            }
        }
        out
    }
}

/// How plainly a word was heard.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Plain {
    /// A term of the vocabulary, word for word.
    Term,
    /// An everyday word that notes hold.
    Filler,
    /// An everyday word that never stands for a term.
    Everyday,
    /// An everyday word that notes rarely hold: dear to leave, dear to turn.
    Dear,
    Unknown,
}

/// A term of one sound ("oh") is a word, or it is none.
const ONE_SOUND: u16 = 1;

/// "left high natter": of "left hind outer", whose `n` is at the beginning of the next word; "left high" alone is no more
/// than the foot.
fn goes_on_with_its_n(words: &[Word], last: usize) -> bool {
    const OTHERS: [&str; 6] = ["and", "in", "on", "out", "outer", "inner"];
    let goes_on = |w: &Word| match w.gap {
        Gap::Glue | Gap::Space => w.text.starts_with('n') || OTHERS.contains(&&*w.text),
        // "left high, not or so walser"
        Gap::Comma => w.text.starts_with("no"),
        Gap::Stop => false,
    };
    words.get(last).is_some_and(|w| w.text == "high") && words.get(last + 1).is_some_and(goes_on)
}

/// Builds the lattice over the sounds of a note.
pub(super) fn lattice(words: &[Word], vocab: &Vocabulary, sounds: &Sounds, tuning: &Tuning) -> Lattice {
    let sounded = Sounded::new(words, sounds, tuning);
    let mut edges = Vec::new();
    exact::edges(words, vocab, &mut edges);
    let cut_short = |e: &Edge| e.kind == Kind::Foot && goes_on_with_its_n(words, (e.to as usize).saturating_sub(1));
    edges.retain(|e| e.kind != Kind::Unread && !cut_short(e));
    let whole = only_longest(words, &mut edges);
    let mut plain = plainness(words, &edges, vocab);
    before_its_noun(words, &mut plain);
    before_a_foot(words, &edges, &mut plain);
    for e in &mut edges {
        e.from = sounded.starts[e.from as usize];
        e.to = sounded.starts[e.to as usize];
    }
    let exact = Exact::new(&edges, sounded.phones.len(), whole);
    let talk = talk(&plain);
    for e in &mut edges {
        let word = sounded.word[e.from as usize] as usize;
        if e.tok.form.is_some_and(|f| vocab.forms()[f as usize].dear) && plain[word] != Plain::Everyday {
            e.cost = u32::from(e.to - e.from) * in_talk(tuning.dear_filler, talk[word], tuning);
        }
    }
    cow_cue(words, &sounded, &plain, tuning, &mut edges);
    let skip = skip_costs(words, &sounded, &plain, &talk, tuning, &edges, &exact);
    let term = sounded.ends_of_terms(&plain);
    // Within a word that was heard as a term, and before another one, nothing else begins.
    let starts: Vec<bool> = (0..sounded.phones.len())
        .map(|p| {
            let word = sounded.word[p] as usize;
            let terms = plain[word..].iter().take(2).all(|p| *p == Plain::Term);
            sounded.border[p] == 0 || !terms
        })
        .collect();
    let allowed = Allowed {
        starts: &starts,
        skip: &skip,
        border: &sounded.border,
        term: &term,
        toll: tuning.over_term,
        slack: tuning.slack,
    };
    let aside = asides(words, &plain, &sounded.known);
    let hits = sounds.hits(&sounded.phones, allowed);
    // Edges are large, and to move them as they grow costs as much as a tenth of all that is done with a hit.
    edges.reserve(hits.len() + hits.len() / 8 + sounded.phones.len());
    for hit in hits {
        let cue = vocab.forms()[hit.form as usize].kind == Kind::Cow;
        if hit.cost > LIKE_A_TERM.max(LIKE_A_TERM_EACH * (hit.to - hit.from))
            && !cue
            && aside[sounded.word[hit.from as usize] as usize]
            && aside[sounded.word[hit.to as usize - 1] as usize]
        {
            continue;
        }
        near(&hit, words, vocab, &sounded, &plain, &talk, tuning, &exact, &mut edges);
        if let Some(hit) = with_a_sound_shared(&hit, words, &sounded, &plain) {
            near(&hit, words, vocab, &sounded, &plain, &talk, tuning, &exact, &mut edges);
        }
    }
    for p in 0..sounded.phones.len() {
        edges.push(unread(p, words, &sounded, &plain, &talk, tuning));
    }
    without_worse_twins(&mut edges, tuning);
    Lattice { positions: sounded.phones.len() + 1, edges }
}

/// "brew zone", bruise zone: two words share the sound between them, and it is written once. The hit that ends with
/// the first sound of a word, without it.
fn with_a_sound_shared(hit: &Hit, words: &[Word], sounded: &Sounded, plain: &[Plain]) -> Option<Hit> {
    const SHARED: u16 = 20;
    let to = hit.to - 1;
    let next = usize::from(sounded.word[usize::from(to)]);
    let begins = next > 0 && sounded.starts[next] == to && sounded.starts[next + 1] > hit.to;
    let strange = begins && plain[next - 1] == Plain::Unknown && words[next].gap <= Gap::Space;
    (strange && to > hit.from + 1 && !is_vowel(sounded.phones[usize::from(to)])).then(|| Hit {
        to,
        cost: hit.cost + SHARED,
        ..*hit
    })
}

/// Drops terms of a kind for which a cheaper one of that kind stands over the same sounds: context treats the two
/// alike, so beyond the margin the dearer is neither the best nor a rival.
fn without_worse_twins(edges: &mut Vec<Edge>, tuning: &Tuning) {
    let margin = tuning.margin.max(tuning.margin_more);
    let twins = |e: &Edge| (e.from, e.to, e.kind as u8, e.after);
    let mut least: FxHashMap<_, u32> = FxHashMap::with_capacity_and_hasher(edges.len(), FxBuildHasher);
    for e in edges.iter() {
        least.entry(twins(e)).and_modify(|c| *c = e.cost.min(*c)).or_insert(e.cost);
    }
    edges.retain(|e| e.cost <= least[&twins(e)] + margin);
}

/// The matches along a path: unread sounds joined to words, words half covered by a term left to it.
pub(super) fn toks(path: &[usize], lattice: &Lattice, words: &[Word], tuning: &Tuning) -> Vec<Tok> {
    let mut out: Vec<Tok> = Vec::new();
    let mut unread: Option<Span> = None;
    for (k, &i) in path.iter().enumerate() {
        let edge = &lattice.edges[i];
        if edge.kind == Kind::Unread {
            let word = edge.tok.span;
            if unread == Some(word) {
                continue;
            }
            unread = Some(word);
            // A word is unread only when no term has a part of it. Those that may have one stand beside it.
            let covers = |k: &usize| {
                let e = &lattice.edges[*k];
                e.kind != Kind::Unread && e.tok.span.start <= word.start && word.end <= e.tok.span.end
            };
            let meets = |k: &&usize| {
                let span = lattice.edges[**k].tok.span;
                span.start < word.end && word.start < span.end
            };
            if path[..k].iter().rev().take_while(meets).any(covers) || path[k..].iter().take_while(meets).any(covers) {
                continue;
            }
        }
        let mut tok = edge.tok.clone();
        if let How::Near { cost, phones, .. } = &mut tok.how
            && left_over(path, k, lattice) >= tuning.left_over
        {
            *cost = (*cost).max(u16::try_from(tuning.dear * u32::from(*phones) + 1).unwrap_or(u16::MAX));
        }
        out.push(tok);
    }
    // Two terms in one heard word: the gap stands before the first.
    for k in 1..out.len() {
        let near = words.partition_point(|w| w.span.end <= out[k].span.start);
        if words[near..]
            .iter()
            .take_while(|w| w.span.start < out[k].span.end)
            .any(|w| out[k - 1].span.end >= w.span.end && w.span.start >= out[k - 1].span.start)
        {
            out[k].gap = Gap::Space.min(out[k].gap);
        }
    }
    out
}

/// "claraped on", wrap on: how many sounds of its words stand unread beside a lesion, a deed or a verdict.
fn left_over(path: &[usize], k: usize, lattice: &Lattice) -> u32 {
    let edge = &lattice.edges[path[k]];
    let bears = matches!(
        edge.kind,
        Kind::Disorder | Kind::Vague | Kind::Block | Kind::Wrap | Kind::Work | Kind::Trim | Kind::Clear
    );
    if !bears {
        return 0;
    }
    let beside = |i: &&usize| {
        let e = &lattice.edges[**i];
        e.kind == Kind::Unread && edge.tok.span.start <= e.tok.span.start && e.tok.span.end <= edge.tok.span.end
    };
    let sounds = |i: &usize| u32::from(lattice.edges[*i].to - lattice.edges[*i].from);
    let before: u32 = path[..k].iter().rev().take_while(beside).map(sounds).sum();
    let behind: u32 = path[k + 1..].iter().take_while(beside).map(sounds).sum();
    before + behind
}

fn plainness(words: &[Word], edges: &[Edge], vocab: &Vocabulary) -> Vec<Plain> {
    let mut out = vec![Plain::Unknown; words.len()];
    for e in edges {
        let dear = e.tok.form.is_some_and(|f| vocab.forms()[f as usize].dear);
        for w in &mut out[e.from as usize..e.to as usize] {
            let is = match e.kind {
                _ if dear => Plain::Dear,
                Kind::Filler if is_everyday(&e.tok, vocab) => Plain::Everyday,
                Kind::Filler | Kind::In => Plain::Filler,
                _ => Plain::Term,
            };
            *w = match (*w, is) {
                (Plain::Term, _) | (_, Plain::Term) => Plain::Term,
                (Plain::Dear, _) | (_, Plain::Dear) => Plain::Dear,
                (Plain::Filler, _) => Plain::Filler,
                (_, is) => is,
            };
        }
    }
    out
}

/// "get that dog out": before a word that is no term it was said as it stands, and is no vet.
fn before_its_noun(words: &[Word], plain: &mut [Plain]) {
    for w in 1..words.len() {
        let noun = words[w].gap <= Gap::Space && matches!(plain[w], Plain::Everyday | Plain::Unknown);
        if noun && words[w - 1].text == "that" && plain[w - 1] == Plain::Dear {
            plain[w - 1] = Plain::Everyday;
        }
    }
}

/// "block inner then the right hind", "then a wart": before a foot or a lesion that was heard word for word it is what leads
/// on, and no "thinned". ("then digital dermatitis" was interdigital.)
fn before_a_foot(words: &[Word], edges: &[Edge], plain: &mut [Plain]) {
    let told = |e: &&Edge| match e.kind {
        Kind::Foot => true,
        Kind::Disorder | Kind::Vague => !words[e.from as usize].text.starts_with("digital"),
        // "then sole six millimetres"
        Kind::Part | Kind::Measure => edges.iter().any(|n| n.from == e.to && n.kind == Kind::Number),
        _ => false,
    };
    for e in edges.iter().filter(told) {
        let from = e.from as usize;
        let the = usize::from(from > 0 && ["the", "her", "a", "an"].contains(&&*words[from - 1].text));
        let Some(then) = from.checked_sub(1 + the).filter(|then| words[*then].text == "then") else { continue };
        if (then + 1..=from).all(|w| words[w].gap <= Gap::Space) {
            plain[then..from].fill(Plain::Everyday);
        }
    }
}

fn is_everyday(tok: &Tok, vocab: &Vocabulary) -> bool {
    tok.form.is_none_or(|f| vocab.forms()[f as usize].everyday)
}

/// What the cheapest way costs up to each position if no near term is taken.
fn skip_costs(
    words: &[Word],
    sounded: &Sounded,
    plain: &[Plain],
    talk: &[u32],
    tuning: &Tuning,
    edges: &[Edge],
    exact: &Exact,
) -> Vec<u32> {
    let mut cost = vec![u32::MAX; sounded.phones.len() + 1];
    cost[0] = 0;
    // Cow cues stand behind the exact edges, in the note's order.
    let mut cues = edges[exact.end..].iter().peekable();
    for p in 0..sounded.phones.len() {
        let unread = cost[p] + unread(p, words, sounded, plain, talk, tuning).cost;
        cost[p + 1] = cost[p + 1].min(unread);
        let at = exact.from(p as u16, p as u16);
        let here = |e: &&Edge| e.from as usize == p;
        for e in edges[at].iter().filter(here).chain(std::iter::from_fn(|| cues.next_if(here))) {
            cost[e.to as usize] = cost[e.to as usize].min(cost[p] + e.cost);
        }
    }
    // Made monotone: a stretch never costs less than nothing.
    for p in (0..sounded.phones.len()).rev() {
        cost[p] = cost[p].min(cost[p + 1]);
    }
    cost
}

/// Drops what is only a part of a longer term that was said in one breath ("no" of "no lesions"), and tells where
/// the longer ones are.
fn only_longest(words: &[Word], edges: &mut Vec<Edge>) -> Whole {
    // "outer toe ulcer", "back foot rot": the noun is the lesion's, and the place ends before it.
    let lesions: Vec<(u16, u16)> =
        edges.iter().filter(|e| e.kind == Kind::Disorder && e.to - e.from > 1).map(|e| (e.from, e.to)).collect();
    let place = |e: &Edge| e.to - e.from > 1 && matches!(e.kind, Kind::Foot | Kind::End | Kind::Group | Kind::Claw);
    let crossed = |e: &Edge| {
        let inside = lesions.partition_point(|l| l.0 <= e.from);
        lesions[inside..].iter().take_while(|l| l.0 < e.to).any(|l| e.to < l.1)
    };
    edges.retain(|e| !(place(e) && crossed(e)));
    // "M one on the left": what counts only behind a block ("one on") takes nothing apart elsewhere.
    let counts = |e: &Edge| {
        e.after == 0
            || edges.iter().any(|b| b.to == e.from && b.kind != Kind::Filler && e.after >> b.kind as u8 & 1 == 1)
    };
    let terms: Vec<(u16, u16)> = edges
        .iter()
        .filter(|e| {
            e.to - e.from > 1
                && counts(e)
                && words[e.from as usize + 1..e.to as usize].iter().all(|w| w.gap <= Gap::Space)
        })
        .map(|e| (e.from, e.to))
        .collect();
    let longest = terms.iter().map(|t| t.1 - t.0).max().unwrap_or(0);
    let whole = Whole { terms, longest };
    edges.retain(|e| !whole.is_around(e.from, e.to));
    whole
}

/// Terms of several words that were said in one breath, in the note's order.
struct Whole {
    terms: Vec<(u16, u16)>,
    /// Words of the longest: only those that begin no farther back can reach.
    longest: u16,
}

impl Whole {
    /// Whether the words `from..to` are a part of a longer one.
    fn is_around(&self, from: u16, to: u16) -> bool {
        let near = self.terms.partition_point(|t| t.0 < from.saturating_sub(self.longest));
        self.terms[near..].iter().take_while(|t| t.0 <= from).any(|t| to <= t.1 && t.1 - t.0 > to - from)
    }
}

/// Where the exact edges are: those of a long note are many, and only those nearby matter.
struct Exact {
    /// For each sound, the first edge that begins there or later; the exact ones stand in the note's order.
    first: Vec<u32>,
    /// Sounds of the longest.
    longest: u16,
    end: usize,
    whole: Whole,
}

impl Exact {
    fn new(edges: &[Edge], sounds: usize, whole: Whole) -> Self {
        let mut first = vec![edges.len() as u32; sounds + 2];
        for (i, e) in edges.iter().enumerate().rev() {
            first[e.from as usize] = i as u32;
        }
        for at in (0..first.len() - 1).rev() {
            first[at] = first[at].min(first[at + 1]);
        }
        let longest = edges.iter().map(|e| e.to - e.from).max().unwrap_or(0);
        Self { first, longest, end: edges.len(), whole }
    }

    /// The edges that begin from `from` up to and with `to`.
    fn from(&self, from: u16, to: u16) -> std::ops::Range<usize> {
        self.first[from as usize] as usize..self.first[to as usize + 1] as usize
    }

    /// The edges that may reach over what begins at `start`.
    fn over(&self, start: u16) -> std::ops::Range<usize> {
        self.from(start.saturating_sub(self.longest), start)
    }
}

/// How much of a run of words without any term each word stands in: one misheard word stands alone between
/// terms, people's talk comes in runs. Everyday words count half.
fn talk(plain: &[Plain]) -> Vec<u32> {
    let mut out = vec![0; plain.len()];
    let mut start = 0;
    while start < plain.len() {
        let end = (start..plain.len()).find(|i| plain[*i] == Plain::Term).unwrap_or(plain.len());
        let halves: u32 = plain[start..end].iter().map(|p| if *p == Plain::Filler { 1 } else { 2 }).sum();
        out[start..end].fill(halves / 2);
        start = end + 1;
    }
    out
}

/// Words of the dictionary from which on a part of a sentence without a term is talk.
const ASIDE: usize = 5;
/// The same where one of them is of [`OF_PEOPLE`].
const SHORT_ASIDE: usize = 3;
/// Farther than this from a term, no word of such a part is one.
const LIKE_A_TERM: u16 = 20;
/// A long one may be as much farther for each of its sounds.
const LIKE_A_TERM_EACH: u16 = 5;

/// The words of the parts of a sentence that hold no term to the letter, and several words of the dictionary:
/// people's talk, in which what sounds like a term is none.
fn asides(words: &[Word], plain: &[Plain], known: &[bool]) -> Vec<bool> {
    let mut out = vec![false; words.len()];
    let mut start = 0;
    while start < words.len() {
        let end = (start + 1..words.len()).find(|i| words[*i].gap >= Gap::Comma).unwrap_or(words.len());
        let of_people = |w: &Word| OF_PEOPLE.contains(&&*w.text);
        let term = words[start..end].iter().zip(&plain[start..end]).any(|(w, p)| *p == Plain::Term && !of_people(w));
        let said = known[start..end].iter().filter(|k| **k).count();
        let strange = end - start - said;
        let short = said >= SHORT_ASIDE && strange == 0;
        let talk = said >= ASIDE && strange <= 1 || short && words[start..end].iter().any(of_people);
        out[start..end].fill(!term && talk);
        start = end;
    }
    out
}

/// Words of people's talk. In 1,343 hearings that a recogniser wrote down, of 209 notes by five voices, none of these
/// stood for another word; "you", "he", "him" and "we" did nearly each time.
const OF_PEOPLE: [&str; 27] = [
    "me", "myself", "mine", "his", "himself", "he's", "he'd", "us", "our", "we'd", "who", "why", "don't", "doesn't",
    "didn't", "can't", "couldn't", "won't", "wouldn't", "isn't", "wasn't", "should", "i've", "i'd", "i'm", "says",
    "they've",
];

fn unread(p: usize, words: &[Word], sounded: &Sounded, plain: &[Plain], talk: &[u32], tuning: &Tuning) -> Edge {
    let w = sounded.word[p] as usize;
    let cost = if sounded.phones[p] == BREAK {
        tuning.unread_number
    } else {
        match plain[w] {
            // "no wrap needed" turns into its opposite without its "no".
            // So does "note bad eye" without its "note".
            Plain::Term if DENIES.contains(&&*words[w].text) || words[w].text == "note" || is_code(&words[w]) => {
                2 * tuning.unread_term
            }
            Plain::Term => tuning.unread_term,
            Plain::Dear => in_talk(tuning.unread_dear, talk[w], tuning),
            Plain::Unknown if !sounded.known[w] => in_talk(tuning.unread, talk[w], tuning),
            Plain::Filler | Plain::Everyday | Plain::Unknown => in_talk(tuning.unread_known, talk[w], tuning),
        }
    };
    let tok = Tok { meaning: None, span: words[w].span, gap: words[w].gap, how: How::Unread, form: None };
    Edge { from: p as u16, to: p as u16 + 1, cost, after: 0, kind: Kind::Unread, tok }
}

/// Words that turn what follows into its opposite.
const DENIES: [&str; 5] = ["no", "not", "without", "never", "nothing"];

/// `DD`, `rv`: a code in capitals, or one that nobody can say, is hardly written by chance.
fn is_code(word: &Word) -> bool {
    let vowel = |b: u8| b"aeiouy".contains(&b);
    word.text.len() > 1 && (word.capitals || word.text.bytes().all(|b| b.is_ascii_alphabetic() && !vowel(b)))
}

/// The price of leaving a sound unread, lower the longer the talk it stands in.
fn in_talk(price: u32, run: u32, tuning: &Tuning) -> u32 {
    let less = run.saturating_sub(2).min(4) * tuning.talk;
    price * (100 - less.min(90)) / 100
}

/// Whether a foot, an end or a claw ends right before this word, and another begins right behind it, after "the" or "a".
fn is_between_places(sounded: &Sounded, words: &[Word], word: usize, exact: &Exact, edges: &[Edge]) -> bool {
    let place = |e: &Edge| matches!(e.kind, Kind::Foot | Kind::End | Kind::Side | Kind::Claw);
    let (start, end) = (sounded.starts[word], sounded.starts[word + 1]);
    let article = words.get(word + 1).is_some_and(|w| ["the", "a"].contains(&&*w.text));
    let before = edges[exact.over(start)].iter().any(|e| e.to == start && place(e));
    let behind = |from: u16| edges[exact.from(from, from)].iter().any(place);
    before && (behind(end) || article && (end..end + 4).any(behind))
}

/// Whether a clause begins with the word.
fn is_subject(word: &str) -> bool {
    ["i", "we", "she", "he", "they", "it", "you", "i've", "she's", "he's", "it's", "we've", "they're"].contains(&word)
}

/// Words that tell something of what "that" points at.
const TELLS: [&str; 17] = [
    "had", "has", "was", "is", "were", "can", "i", "i've", "i'd", "we", "we've", "takes", "goes", "comes", "hurts",
    "bears", "carries",
];

/// Whether a lesion, a block or a wrap begins right behind these sounds.
fn is_before_a_thing(hit: &Hit, exact: &Exact, edges: &[Edge]) -> bool {
    let thing = |e: &Edge| {
        matches!(e.kind, Kind::Disorder | Kind::Vague | Kind::Block | Kind::Wrap | Kind::Stage | Kind::WholeStage)
    };
    edges[exact.from(hit.to, hit.to)].iter().any(thing)
}

/// Farther than this from a number, a common small word is none.
const LIKE_A_NUMBER: u32 = 40;

#[allow(clippy::too_many_arguments)] // all of it is read-only context
fn near(
    hit: &Hit,
    words: &[Word],
    vocab: &Vocabulary,
    sounded: &Sounded,
    plain: &[Plain],
    talk: &[u32],
    tuning: &Tuning,
    exact: &Exact,
    edges: &mut Vec<Edge>,
) {
    let form = &vocab.forms()[hit.form as usize];
    let (first, last) = (sounded.word[hit.from as usize] as usize, sounded.word[hit.to as usize - 1] as usize);
    let said = |e: &Edge| e.to == hit.to && e.tok.meaning == Some(form.meaning);
    if edges[exact.from(hit.from, hit.from)].iter().any(said) {
        return;
    }
    // "Condemned to ten years": no cue is half of an everyday word, unless it is there to the letter ("cowboy").
    let border = |p: u16| sounded.border[p as usize];
    let part = |p: u16| border(p) == tuning.inside_known;
    if form.kind == Kind::Cow && hit.cost > 0 && (part(hit.from) || part(hit.to)) {
        return;
    }
    // "the vet cut a corn out": the vet, and what he did.
    let did = |w: &Word| ["cut", "did", "took", "put", "gave", "had", "said", "got"].contains(&&*w.text);
    if hit.cost > 0 && (first..last).any(|w| words[w].text == "vet" && did(&words[w + 1])) {
        return;
    }
    if form.kind == Kind::Foot && hit.to == sounded.starts[last + 1] && goes_on_with_its_n(words, last) {
        return;
    }
    // "it's the inner that's bad": the claw, and no "inner side".
    let told = |e: &Edge| {
        let rest = sounded.word.get(e.to as usize).map_or(last + 1, |w| *w as usize);
        e.tok.meaning == Some(form.meaning)
            && first < rest
            && rest <= last
            && (rest..=last).all(|w| plain[w] == Plain::Filler || words[w].text == "that's")
    };
    if form.kind == Kind::Claw && hit.cost > 0 && edges[exact.from(hit.from, hit.from)].iter().any(told) {
        return;
    }
    // "hard and healed" is not denied by a sound.
    let course = |e: &Edge| e.kind == Kind::Course && e.tok.meaning != Some(form.meaning);
    let denies = || form.text.contains("n't") || form.text.starts_with("not ");
    let own = sounded.starts[last];
    if form.kind == Kind::Course && hit.cost > 0 && denies() && edges[exact.from(own, own)].iter().any(course) {
        return;
    }
    // "took the old block off": it is the block that is old.
    let old = || ["old", "new", "worn"].contains(&&*words[last].text);
    if form.kind == Kind::Work && old() && is_before_a_thing(hit, exact, edges) {
        return;
    }
    // "ulcer on the outer" is no "ulcer on toe": what stands before a term is its article, and no half of it is another.
    let small = ["the", "a", "her"].contains(&&*words[last].text)
        && words.get(last + 1).is_some_and(|w| w.gap <= Gap::Space && plain[last + 1] == Plain::Term);
    let half = border(hit.to) > 0 && plain[last] == Plain::Term;
    if form.kind == Kind::Disorder && hit.cost > 0 && first < last && (small || half) {
        return;
    }
    // "the inner claw is healthy so the block went on that one": a term, and how talk goes on ("double so", double sole).
    if hit.cost > 0 && first < last && words[last].text == "so" && plain[last - 1] == Plain::Term {
        let sole = form.text.ends_with("sole") || form.text.ends_with("soles");
        if !sole && border(hit.to) == 0 {
            return;
        }
    }
    // "right, so eight five five": the end of a word is no "oh".
    if hit.to - hit.from <= ONE_SOUND && (border(hit.from) > 0 || border(hit.to) > 0) {
        return;
    }
    // "four beautiful feet"
    let feet = |w: &Word| ["feet", "claws", "hooves", "legs"].contains(&&*w.text);
    if form.kind == Kind::End
        && first == last
        && words[first].text == "four"
        && words[first + 1..].iter().take(3).take_while(|w| w.gap <= Gap::Space).any(feet)
    {
        return;
    }
    // "glute a shoe on" is no light one.
    if form.kind == Kind::Severity && hit.to - hit.from <= 4 && (border(hit.from) > 0 || border(hit.to) > 0) {
        return;
    }
    // "pulling them off in the cubicles": no off hind.
    let article = |w: &Word| w.gap <= Gap::Space && ["the", "a", "an", "her", "my", "one"].contains(&&*w.text);
    let small = match form.kind {
        Kind::Foot => "in",
        // "nothing for the left"
        Kind::End => "for",
        _ => "",
    };
    // "right in zone four"
    let zone = |w: &Word| form.kind == Kind::Foot && ["zone", "zones"].contains(&&*w.text);
    if words[last].text == small && words.get(last + 1).is_some_and(|w| article(w) || zone(w)) {
        return;
    }
    // "wash that off for me": no off fore.
    let whom = |w: &Word| w.gap <= Gap::Space && ["me", "us", "you", "him"].contains(&&*w.text);
    if form.kind == Kind::Foot
        && words[last].text == "for"
        && ["that", "it", "this"].contains(&&*words[first].text)
        && words.get(last + 1).is_some_and(whom)
    {
        return;
    }
    // "cow 1208 for her recheck" is no 12084; "lateral claw, on number 219" is no zone.
    let hers =
        |w: &Word| w.gap <= Gap::Space && ["her", "the", "a", "an", "his", "my", "this", "that"].contains(&&*w.text);
    if form.kind == Kind::Number
        && first == last
        && ["for", "to"].contains(&&*words[first].text)
        && words.get(last + 1).is_some_and(hers)
    {
        return;
    }
    let long = |w: &Word| w.text.len() >= TAG && w.text.bytes().all(|b| b.is_ascii_digit());
    if form.kind == Kind::Zone && words.get(last + 1).is_some_and(long) {
        return;
    }
    // "her hind feet are a pair"
    let paired = words[first].text == "pair" && first > 0 && ["a", "the"].contains(&&*words[first - 1].text);
    if paired && first == last && form.kind == Kind::Work {
        return;
    }
    // "block inner, then three thirty had a wart": what comes next, and no zone.
    if form.kind == Kind::Zone && words[first].text == "then" && words[first].gap >= Gap::Comma {
        return;
    }
    // "cow 51 vet saw her yesterday" is no 518.
    if form.kind == Kind::Number && words[first].text == "vet" {
        return;
    }
    // "has a healed ulcer": that it may have been a heel's is asked of what it is of (`check/kind.rs`).
    if words[first].text == "healed" && first < last && form.kind == Kind::Disorder {
        return;
    }
    // "smaller than my fingernail"
    let my = |w: &Word| ["my", "a", "an", "your"].contains(&&*w.text);
    let than = |w: usize| words.get(w).is_some_and(|w| w.text == "than") && words.get(w + 1).is_some_and(my);
    if form.kind == Kind::Course && (first..=last + 1).any(than) {
        return;
    }
    // "I also found a bruise"
    let found = |w: &Word| ["found", "has", "had", "have", "got", "a", "an", "saw"].contains(&&*w.text);
    if words[last].text == "also" && words.get(last + 1).is_some_and(found) {
        return;
    }
    // "wood on the inner claw": what is there word for word is no longer for the small words behind it.
    let there = |e: &Edge| e.to < hit.to && e.tok.meaning == Some(form.meaning);
    if hit.cost > 0
        && first < last
        && (first + 1..=last).all(|w| matches!(plain[w], Plain::Filler))
        && edges[exact.from(hit.from, hit.from)].iter().any(there)
    {
        return;
    }
    // "when I opened it" is no one.
    let when = |w: usize| words[w].text == "when" && words.get(w + 1).is_some_and(|next| is_subject(&next.text));
    if (first..=last).any(when) {
        return;
    }
    // "block's gone" is no "blocks on"; "washed it out" is no outer.
    let it = first > 0 && ["it", "them", "that", "this", "both"].contains(&&*words[first - 1].text);
    if words[last].text == "gone" && form.text.ends_with(" on") || words[first].text == "out" && it {
        return;
    }
    // "cow 316. Note bad eye": what is to be noted, where no term follows.
    let noted = |w: usize| words[w].text == "note" && plain.get(w + 1).is_some_and(|p| *p != Plain::Term);
    if hit.cost > 0 && (first..=last).any(noted) {
        return;
    }
    // "326 thin on the outers": two words are no thousand.
    if first < last && matches!(form.meaning, Meaning::Number(Atom::Hundred | Atom::Thousand)) {
        return;
    }
    // "in a month", ten, "they do", thirty: common small words are a number only where it sounds just like one ("for", "to").
    let said = |w: usize| sounded.known[w] && plain[w] != Plain::Term;
    let small = plain[first] == Plain::Filler && first == last || first < last && (first..=last).all(said);
    if form.kind == Kind::Number && small && u32::from(hit.cost) > LIKE_A_NUMBER {
        return;
    }
    // "brindled, wrap" is no "foot wrap": what the term says stands there without the words before the comma.
    let over = words[first + 1..=last].iter().any(|w| w.gap >= Gap::Comma);
    let inside = |e: &Edge| hit.from <= e.from && e.to <= hit.to && e.tok.meaning == Some(form.meaning);
    // "first trim of her life, feet fine": a word people say, a comma, and a term to the letter are no "left feet".
    let joined = |w: usize| {
        words[w].gap >= Gap::Comma
            && edges[exact.from(sounded.starts[w], sounded.starts[w])]
                .iter()
                .any(|e| e.kind != Kind::Filler && e.tok.meaning.is_some())
    };
    if hit.cost > 0 && sounded.known[first] && (first + 1..=last).any(joined) {
        return;
    }
    // "right hind inner that I opened" is no "inner side", and "that wrap" no "foot wrap".
    let that = first < last && words[first].text == "that";
    if that && ["foot", "claw", "leg", "one"].contains(&&*words[last].text) {
        return;
    }
    let points = form.kind == Kind::Claw && words[last].text == "that" || that;
    if (over || points) && edges[exact.from(hit.from, hit.to)].iter().any(inside) {
        return;
    }
    // "left hind natter toll ulcer", "outer toe ulcer": the toe is the ulcer's, and no "outer toe".
    if form.kind == Kind::Claw && [" toe", " toes"].iter().any(|toe| form.text.ends_with(toe)) {
        let ulcer = |e: &Edge| matches!(e.tok.meaning, Some(Meaning::Vague(Vague::Ulcer)));
        let over = |e: &Edge| e.kind == Kind::Disorder && e.from < hit.to && hit.to < e.to;
        // "on the left hind outer too"
        if words[last].text == "too" {
            return;
        }
        if edges[exact.from(hit.to, hit.to)].iter().any(ulcer) || edges[exact.from(hit.from, hit.to)].iter().any(over) {
            return;
        }
    }
    // "the ulcer's on the outer" is no "ulcer on the toe". ("inner digital" may be one word.)
    let outer = |w: usize| {
        let at = exact.from(sounded.starts[w], sounded.starts[w]);
        words[w].text != "inner"
            && edges[at].iter().any(|e| {
                e.kind == Kind::Claw && e.to == sounded.starts[w + 1] && e.tok.how == How::Exact(Style::Spoken)
            })
    };
    if form.kind == Kind::Disorder && hit.cost > 0 && first < last && (first + 1..=last).any(outer) {
        return;
    }
    // "left hind or right hind", "outer or inner": it stands between two places as what it is.
    if (first..=last).any(|w| words[w].text == "or" && is_between_places(sounded, words, w, exact, edges)) {
        return;
    }
    // "it's bigger than I thought": what does not count there word for word does not by its sound.
    let spelt = || words[first..=last].iter().map(|w| &*w.text).eq(form.text.split(' '));
    if hit.cost == 0 && form.depends() && spelt() {
        return;
    }
    // "she's still tender"
    let on = |w: &Word| w.gap > Gap::Space || ["on", "off"].contains(&&*w.text);
    if first == last
        && words[first].text == "she's"
        && form.meaning == Meaning::Shoe
        && !words.get(last + 1).is_none_or(on)
    {
        return;
    }
    // "that block comes off", "that toe ulcer": it points at what follows.
    let points =
        || is_before_a_thing(hit, exact, edges) || words.get(last + 1).is_some_and(|w| TELLS.contains(&&*w.text));
    if words[last].text == "that" && (first == last && points() || is_before_a_thing(hit, exact, edges)) {
        return;
    }
    // "that's 613"
    let figure = |w: &Word| w.text.bytes().all(|b| b.is_ascii_digit()) && w.gap <= Gap::Space;
    let leads_to_figure = match &*words[first].text {
        "that's" => true,
        // "then 1231": what comes next, and no zone.
        "then" => matches!(form.kind, Kind::Zone | Kind::Number),
        // "so 900 was good": no figure of it.
        "so" => form.kind == Kind::Number,
        _ => false,
    };
    if first == last && leads_to_figure && words.get(last + 1).is_some_and(figure) {
        return;
    }
    let mut cost = u32::from(hit.cost) + exact::TERM;
    cost += border(hit.from) + border(hit.to);
    // An everyday word for one term: people may well have said it.
    if first == last && sounded.known[first] && hit.cost > 0 && plain[first] != Plain::Term {
        cost += tuning.over_known;
    }
    // "left, find outer": an end of the cow that was not understood, for its claw stands behind it.
    let claw = |e: &Edge| e.kind == Kind::Claw && e.tok.how == How::Exact(Style::Spoken);
    let parted = form.kind == Kind::Foot
        && first < last
        && words[last].gap == Gap::Comma
        && edges[exact.from(hit.to, hit.to)].iter().any(claw);
    let mut fillers = 0;
    for (w, word) in words.iter().enumerate().take(last + 1).skip(first) {
        if w > first {
            cost += match word.gap {
                Gap::Glue | Gap::Space => 0,
                Gap::Comma if parted => 0,
                Gap::Comma => tuning.over_comma,
                Gap::Stop => tuning.over_stop,
            };
        }
        let (start, end) = (sounded.starts[w], sounded.starts[w + 1]);
        let covered = u32::from(hit.to.min(end) - hit.from.max(start));
        // "left tying" for "left hind": what the form has too is not turned.
        let kept = || {
            let is = word.text.as_bytes();
            let bare = is.strip_suffix(b"'s").unwrap_or(is);
            // Byte by byte: words are too short for anything quicker.
            form.text.as_bytes().split(|b| *b == b' ').any(|f| f == is || f == bare)
        };
        match plain[w] {
            // "ulcers" for "ulcer" turns nothing.
            Plain::Term
                if kept()
                    || edges[exact.over(start)].iter().any(|e| end <= e.to && e.tok.meaning == Some(form.meaning)) => {}
            // "no blocks" is hardly "new blocks": what turns it around must be much nearer.
            Plain::Term if word.text == "no" || is_code(word) => {
                cost += 2 * tuning.over_term * covered / u32::from(end - start);
            }
            Plain::Term => cost += tuning.over_term * covered / u32::from(end - start),
            Plain::Filler | Plain::Everyday if parted => {}
            Plain::Filler if !kept() => fillers = fillers.max(tuning.over_filler),
            Plain::Everyday if !kept() => {
                fillers = fillers.max(tuning.over_everyday * covered / u32::from(end - start));
            }
            Plain::Filler | Plain::Everyday | Plain::Dear | Plain::Unknown => {}
        }
    }
    cost += fillers;
    // The "ulcer" of "toe ulcer" is no term of its own.
    let (begins, ends) = (first as u16, last as u16 + 1);
    // "left front" of "left front foot" is the same: "left front foot ride", foot rot.
    let same = |e: &Edge| e.from <= hit.from && hit.to <= e.to && e.tok.meaning == Some(form.meaning);
    if exact.whole.is_around(begins, ends) && !edges[exact.over(hit.from)].iter().any(same) {
        cost += tuning.within_term;
    }
    let run = talk[first..=last].iter().copied().max().unwrap_or(0);
    cost += run.saturating_sub(2).min(4) * tuning.over_talk;
    let phones = hit.to - hit.from;
    let known = sounded.known[first..=last].iter().all(|k| *k);
    let how = How::Near { cost: hit.cost, phones, known };
    let tok = Tok {
        meaning: Some(form.meaning),
        span: words[first].span.to(words[last].span),
        gap: words[first].gap,
        how,
        form: Some(hit.form),
    };
    edges.push(Edge { from: hit.from, to: hit.to, cost, after: form.after, kind: form.kind, tok });
}

/// Figures from which on a number is more likely a tag than a zone, a grade or a length.
const TAG: usize = 3;

/// At the start of a note, any word right before a number may be the cow cue ("Count 231"); later, one that
/// begins like "cow" or is the one used before (`K930`, "Cal 421 … Cal 422").
fn cow_cue(words: &[Word], sounded: &Sounded, plain: &[Plain], tuning: &Tuning, edges: &mut Vec<Edge>) {
    let mut first: Option<usize> = None;
    let cow = pronounce("cow").remove(0)[0];
    let first_cow = edges.iter().filter(|e| e.kind == Kind::Cow).map(|e| e.to).min().unwrap_or(u16::MAX);
    let number_after: FxHashSet<usize> = edges
        .iter()
        .filter(|e| e.kind == Kind::Number)
        .filter_map(|e| usize::from(sounded.word[e.from as usize]).checked_sub(1))
        .collect();
    for (w, word) in words.iter().enumerate() {
        let sounds = &sounded.phones[sounded.starts[w] as usize..sounded.starts[w + 1] as usize];
        // "So 731 has been lame": how people begin to talk, and no cue misheard.
        if plain[w] == Plain::Term || sounds[0] == BREAK || word.text == "so" {
            continue;
        }
        let begins = first.is_none() && w < 4 && plain[..w].iter().all(|p| *p != Plain::Unknown);
        let before_number =
            words.get(w + 1).is_some_and(|n| n.gap <= Gap::Space && n.text.bytes().all(|b| b.is_ascii_digit()));
        let like_cow = before_number && sounds.len() <= 4 && sounds[0] == cow;
        let again = before_number && first.is_some_and(|f| words[f].text == word.text);
        let numbered =
            words.get(w + 1).is_some_and(|n| n.text.bytes().any(|b| b.is_ascii_digit())) || number_after.contains(&w);
        // "he called four times": not after words that begin a tale.
        let at_once = w < 4 && plain[..w].iter().all(|p| matches!(p, Plain::Filler | Plain::Everyday | Plain::Term));
        let sounds_so = w == 0 && sounds[0] == cow;
        // "…, wrap. Cossack 78, right rear outer …": where a sentence begins, the next one's note may.
        let next_one = before_number
            && word.gap >= Gap::Stop
            && (first.is_some() || first_cow <= sounded.starts[w])
            && (sounds[0] == cow || words[w + 1].text.len() >= TAG)
            && words[w + 1].text.len() > 1
            && !matches!(plain[w], Plain::Filler | Plain::Everyday);
        let (cost, after) =
            if begins && !matches!(plain[w], Plain::Filler | Plain::Everyday) && ((numbered && at_once) || sounds_so) {
                first = Some(w);
                (tuning.any_cow_cue, 1 << Kind::Start as u8 | 1 << Kind::Next as u8 | 1 << Kind::Due as u8)
            } else if like_cow || again || next_one {
                (tuning.any_cow_cue, 0)
            } else {
                continue;
            };
        let (from, to) = (sounded.starts[w], sounded.starts[w + 1]);
        let how = How::Near { cost: 0, phones: to - from, known: false };
        let tok = Tok { meaning: Some(Meaning::CowCue), span: word.span, gap: word.gap, how, form: None };
        edges.push(Edge { from, to, cost, after, kind: Kind::Cow, tok });
    }
}
