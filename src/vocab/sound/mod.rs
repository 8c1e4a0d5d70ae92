//! How words sound, and which forms of the vocabulary a stretch of sounds is near.

mod letters;
mod memo;
#[cfg(any(test, target_family = "wasm"))]
mod packed;
mod phone;
mod pronounce;
mod search;
mod trie;

pub(crate) use phone::{BREAK, Distances, Phone, is_vowel, letter};
pub(crate) use pronounce::{is_added, is_known, make_ready, pronounce};
pub(crate) use search::{Allowed, Hit};

use std::collections::HashMap;
use std::sync::RwLock;

use super::Vocabulary;

/// The vocabulary by its sounds.
#[derive(Debug)]
pub(crate) struct Sounds {
    trie: trie::Trie,
    distances: Distances,
    /// How words sound that were heard before: recognisers write the same words again and again.
    heard: RwLock<HashMap<String, Sounding>>,
    /// What searches found.
    memo: RwLock<memo::Memo>,
}

/// How a word sounds, and whether a dictionary has it.
#[derive(Clone, Debug)]
pub(crate) struct Sounding {
    pub(crate) phones: Vec<Phone>,
    pub(crate) known: bool,
}

/// So many words are remembered.
const REMEMBERED: usize = 20_000;

impl Sounds {
    pub(crate) fn new(vocab: &Vocabulary) -> Self {
        Self {
            trie: trie::Trie::new(vocab),
            distances: Distances::new(),
            heard: RwLock::default(),
            memo: RwLock::default(),
        }
    }

    /// How a heard word sounds.
    pub(crate) fn of(&self, word: &str) -> Sounding {
        if let Ok(heard) = self.heard.read()
            && let Some(known) = heard.get(word)
        {
            return known.clone();
        }
        let new = Sounding { phones: pronounce(word).into_iter().next().unwrap_or_default(), known: is_known(word) };
        if let Ok(mut heard) = self.heard.write()
            && heard.len() < REMEMBERED
        {
            heard.insert(word.to_owned(), new.clone());
        }
        new
    }

    /// All stretches of `note` that are near a form.
    pub(crate) fn hits(&self, note: &[Phone], allowed: Allowed) -> Vec<Hit> {
        search::hits(&self.trie, &self.distances, note, allowed, &self.memo)
    }
}
