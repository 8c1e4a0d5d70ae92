//! All forms by their sounds, in one tree, so that a stretch of a note is compared with all of them at once.

use std::collections::HashMap;

use super::phone::Phone;
use super::pronounce::pronounce;
use crate::vocab::{Atom, Kind, Meaning, Style, Vocabulary};

/// The tree: node 0 is the root, and the children of a node stand side by side, so that a search reads them in
/// one go.
#[derive(Clone, Debug, Default)]
pub(crate) struct Trie {
    nodes: Vec<Node>,
    ends: Vec<(u32, u16)>,
    /// Sounds of the longest form.
    pub(crate) depth: usize,
}

/// Sixteen bytes, for a search goes from node to node and hardly ever finds the next one at hand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Node {
    /// The sounds that lead on, as bits, and above them the ceiling.
    bits: u64,
    /// Its first child; the others follow in the order of their sounds.
    first: u32,
    /// The first of the forms that are whole here, in the list of ends; they go on to the next node's first.
    ends: u32,
}

const CEILING: u32 = 48;

impl Node {
    /// The sounds that lead on, as bits.
    pub(crate) fn next(&self) -> u64 {
        self.bits & ((1 << CEILING) - 1)
    }

    /// The dearest distance any form below may still have.
    pub(crate) fn ceiling(&self) -> u16 {
        (self.bits >> CEILING) as u16
    }

    /// Those of its children whose sounds are among `phones`, in the order of their sounds.
    pub(crate) fn children(self, phones: u64) -> impl Iterator<Item = (Phone, usize)> {
        let mut left = self.next();
        let mut child = self.first as usize;
        // One after the other: to count the bits below each takes longer.
        std::iter::from_fn(move || {
            while left != 0 {
                let phone = left.trailing_zeros();
                left &= left - 1;
                child += 1;
                if phones >> phone & 1 == 1 {
                    return Some((phone as Phone, child - 1));
                }
            }
            None
        })
    }
}

impl Trie {
    pub(crate) fn node(&self, at: usize) -> Node {
        self.nodes[at]
    }

    /// Forms that end here (indices into the vocabulary's forms), with the dearest distance each may have.
    pub(crate) fn ends(&self, node: usize) -> &[(u32, u16)] {
        &self.ends[self.nodes[node].ends as usize..self.nodes[node + 1].ends as usize]
    }

    /// Puts every spoken form in that may be heard near.
    pub(crate) fn new(vocab: &Vocabulary) -> Self {
        let mut growing = Growing { nodes: vec![Young::default()], depth: 0 };
        let mut words = HashMap::new();
        for (id, form) in vocab.forms().iter().enumerate() {
            if form.style == Style::Written || form.after != 0 || !may_be_near(form.meaning.kind()) {
                continue;
            }
            for sounds in ways(&form.text, &mut words) {
                let ceiling = ceiling(&form.meaning, sounds.len());
                growing.add(&sounds, id as u32, ceiling);
            }
        }
        growing.laid_flat()
    }
}

/// The tree while it is filled.
struct Growing {
    nodes: Vec<Young>,
    depth: usize,
}

#[derive(Clone, Default)]
struct Young {
    next: Vec<(Phone, u32)>,
    ends: Vec<(u32, u16)>,
    ceiling: u16,
}

impl Growing {
    fn add(&mut self, sounds: &[Phone], form: u32, ceiling: u16) {
        let mut at = 0;
        self.depth = self.depth.max(sounds.len());
        for phone in sounds {
            self.nodes[at].ceiling = self.nodes[at].ceiling.max(ceiling);
            at = match self.nodes[at].next.iter().find(|n| n.0 == *phone) {
                Some(n) => n.1 as usize,
                None => {
                    let new = self.nodes.len();
                    self.nodes.push(Young::default());
                    self.nodes[at].next.push((*phone, new as u32));
                    new
                }
            };
        }
        self.nodes[at].ceiling = self.nodes[at].ceiling.max(ceiling);
        if !self.nodes[at].ends.iter().any(|e| e.0 == form) {
            self.nodes[at].ends.push((form, ceiling));
        }
    }

    /// Level by level, so that the children of a node stand side by side.
    fn laid_flat(mut self) -> Trie {
        let mut trie = Trie { nodes: vec![], ends: vec![], depth: self.depth };
        let mut order: Vec<u32> = vec![0];
        let mut k = 0;
        while k < order.len() {
            let young = &mut self.nodes[order[k] as usize];
            young.next.sort_unstable();
            let next = young.next.iter().fold(0, |bits, (phone, _)| bits | 1 << phone);
            let (first, ends) = (order.len() as u32, trie.ends.len() as u32);
            trie.nodes.push(Node { bits: next | u64::from(young.ceiling) << CEILING, first, ends });
            order.extend(young.next.iter().map(|n| n.1));
            trie.ends.append(&mut young.ends);
            k += 1;
        }
        // Where the ends of the last node end.
        trie.nodes.push(Node { bits: 0, first: 0, ends: trie.ends.len() as u32 });
        trie
    }
}

/// At most this many ways to say a form of several words.
const WAYS: usize = 4;

/// The sounds of a form of one or more words; `words` has those of the words that came by already.
fn ways<'a>(text: &'a str, words: &mut HashMap<&'a str, Vec<Vec<Phone>>>) -> Vec<Vec<Phone>> {
    let mut ways: Vec<Vec<Phone>> = vec![vec![]];
    for word in text.split(' ') {
        let said = words.entry(word).or_insert_with(|| pronounce(word));
        ways = ways
            .iter()
            .flat_map(|w| said.iter().map(move |s| w.iter().chain(s).copied().collect()))
            .take(WAYS)
            .collect();
    }
    ways.retain(|w| !w.is_empty());
    ways
}

/// Kinds of words that may be heard near; everyday words and cues that swallow what follows only exactly.
fn may_be_near(kind: Kind) -> bool {
    !matches!(
        kind,
        Kind::Filler | Kind::Remark | Kind::Only | Kind::And | Kind::In | Kind::Unread | Kind::NumberCue | Kind::OutOf
    )
}

/// How far a form of so many sounds may be off, in hundredths of a phone.
pub(crate) fn ceiling(meaning: &Meaning, sounds: usize) -> u16 {
    let share = match meaning.kind() {
        // Takes back what was said: a sound merely near it would take a number or a finding away unseen.
        Kind::Correction if *meaning == Meaning::Drop => 5,
        // "darling", barring: what leaves a foot out puts what was found on all others.
        _ if *meaning == Meaning::Except => 5,
        // Hardly ever said, and near to much.
        Kind::Number if *meaning == Meaning::Number(Atom::Quarter) => 10,
        // Short words that turn the meaning around: only their homophones.
        // What takes back or denies is heard word for word, or not at all.
        Kind::Not => 5,
        Kind::Same | Kind::Off | Kind::Stays if sounds <= 4 => 5,
        Kind::Clear | Kind::Hedge | Kind::Correction | Kind::Same if sounds <= 5 => 5,
        // Cow cues need no likeness: any word before a number can be one, at a price of its own.
        Kind::Cow => 10,
        _ => match sounds {
            0..=1 => 0,
            2 => 15,
            3 => 28,
            4 => 31,
            _ => 34,
        },
    };
    sounds as u16 * share
}
