//! Everyday words: the commonest words of English, as far as they sound like no word of the trade.
//!
//! A recogniser writes words that exist, so a common word that is near a term in sound may stand for it and is
//! listened to. One that is far from all of them was said as it stands, and is no reason to ask.

use std::sync::OnceLock;

use crate::matches::Tuning;
use crate::vocab::Vocabulary;
use crate::vocab::sound::{Allowed, Sounds};

/// One word a line, sorted by bytes: see `vocab/everyday/README.md`.
#[cfg(any(test, not(target_family = "wasm")))]
const WORDS: &str = include_str!("../../vocab/everyday/words.txt");

/// The same for the browser: each word behind a capital that tells how many letters of the one before it begins with
/// (`vocab/sound/pack.rs`).
#[cfg(target_family = "wasm")]
const FRONTS: &str = include_str!(concat!(env!("OUT_DIR"), "/everyday.front"));

/// How many hundredths of a phone a word must be from every term to be one of these.
pub const FAR: u32 = 130;

/// Whether a word is one of them.
pub(crate) fn is_everyday(word: &str) -> bool {
    static LIST: OnceLock<Vec<Word>> = OnceLock::new();
    LIST.get_or_init(words).binary_search_by(|listed| (**listed).cmp(word)).is_ok()
}

#[cfg(not(target_family = "wasm"))]
type Word = &'static str;
#[cfg(target_family = "wasm")]
type Word = Box<str>;

#[cfg(not(target_family = "wasm"))]
fn words() -> Vec<Word> {
    WORDS.lines().collect()
}

#[cfg(target_family = "wasm")]
fn words() -> Vec<Word> {
    crate::words::fronts::from_fronts(FRONTS)
}

/// Tells how far words are from the terms of a vocabulary.
#[derive(Debug)]
pub struct Nearness<'a> {
    vocab: &'a Vocabulary,
    sounds: Sounds,
    tuning: Tuning,
}

impl<'a> Nearness<'a> {
    pub fn new(vocab: &'a Vocabulary) -> Self {
        Self { vocab, sounds: Sounds::new(vocab), tuning: Tuning::default() }
    }

    /// How far the whole word is from the nearest term, in hundredths of a phone, and that term; none where the
    /// search for terms finds nothing.
    pub fn nearest(&self, word: &str) -> Option<(u32, &'a str)> {
        let phones = self.sounds.of(word).phones;
        let ends = phones.len() + 1;
        let skip: Vec<u32> = (0..ends as u32).map(|p| p * self.tuning.unread_known).collect();
        let (border, starts, term) = (vec![0; ends], vec![true; phones.len()], vec![0; ends]);
        let slack = self.tuning.slack;
        let allowed = Allowed { starts: &starts, skip: &skip, border: &border, term: &term, toll: 0, slack };
        let whole = |hit: &crate::vocab::sound::Hit| hit.from == 0 && usize::from(hit.to) == phones.len();
        let hits = self.sounds.hits(&phones, allowed);
        let near = hits.iter().filter(|h| whole(h)).min_by_key(|h| h.cost)?;
        Some((near.cost.into(), &self.vocab.forms()[near.form as usize].text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everyday_words_are_far_from_every_term() {
        let vocab = Vocabulary::built_in();
        let nearness = Nearness::new(&vocab);
        let again = "a term has come near: make the list again (vocab/everyday/README.md)";
        for word in WORDS.lines() {
            assert!(!vocab.is_form(word), "`{word}`: {again}");
            if let Some((cost, term)) = nearness.nearest(word) {
                assert!(cost >= FAR, "`{word}` is {cost} from `{term}`: {again}");
            }
        }
    }

    #[test]
    fn each_is_found_and_no_other_word_is() {
        assert!(WORDS.lines().is_sorted() && WORDS.lines().count() > 1_000);
        assert!(WORDS.lines().all(is_everyday));
        for word in ["", "ulcer", "outer", "enter", "hand", "zzz", "syzygy"] {
            assert!(!is_everyday(word), "{word}");
        }
    }

    /// "hand" for hind and "enter" for inner are what recognisers write: such words are near.
    #[test]
    fn words_that_stand_for_terms_are_near() {
        let vocab = Vocabulary::built_in();
        let nearness = Nearness::new(&vocab);
        for word in ["hand", "enter", "obsessed"] {
            assert!(nearness.nearest(word).is_some_and(|near| near.0 < FAR), "{word}");
        }
    }
}
