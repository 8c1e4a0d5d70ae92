//! How words sound, and which forms of the vocabulary a stretch of sounds is near.

mod letters;
mod phone;
mod pronounce;
mod search;
mod trie;

pub(crate) use phone::{BREAK, Distances, Phone};
pub(crate) use pronounce::{is_known, pronounce};
pub(crate) use search::Hit;

use super::Vocabulary;

/// The vocabulary by its sounds.
#[derive(Clone, Debug)]
pub(crate) struct Sounds {
    trie: trie::Trie,
    distances: Distances,
}

impl Sounds {
    pub(crate) fn new(vocab: &Vocabulary) -> Self {
        Self { trie: trie::Trie::new(vocab), distances: Distances::new() }
    }

    /// All stretches of `note` that are near a form.
    pub(crate) fn hits(&self, note: &[Phone]) -> Vec<Hit> {
        search::hits(&self.trie, &self.distances, note)
    }
}
