//! The trade's words as a list of phrases, and how easily each is misheard.

use std::collections::BTreeSet;

use super::talk::sayable;
use crate::roster::said::ways;
use crate::vocab::sound::{Distances, Phone, is_known, pronounce};
use crate::vocab::{Form, Style, Vocabulary};

/// Kinds of words that everybody says.
const EVERYDAY: &[&str] = &[
    "filler",
    "loose",
    "everyday",
    "talk",
    "aside",
    "lead",
    "and",
    "only",
    "in",
    "not",
    "had",
    "leave",
    "number",
    "ordinal",
    "monthname",
    "weekday",
    "had",
    "remove",
    "off",
    "relative",
    "couple",
    "ago",
    "outof",
    "long",
];

/// All spoken forms of the trade and the tags in the ways they are said, each once, sorted.
pub fn list(vocab: &Vocabulary, tags: &[String]) -> Vec<String> {
    let forms = trade(vocab).map(|f| f.text.clone());
    let numbers = tags.iter().flat_map(|tag| ways(tag)).map(|way| way.join(" ")).filter(|way| !way.is_empty());
    let phrases: BTreeSet<String> = forms.chain(numbers).collect();
    phrases.into_iter().collect()
}

pub(super) fn trade(vocab: &Vocabulary) -> impl Iterator<Item = &Form> {
    vocab.forms().iter().filter(|f| {
        let kind = f.term.split('.').next().unwrap_or_default();
        f.style == Style::Spoken && !EVERYDAY.contains(&kind) && sayable(&f.text)
    })
}

/// Everyday words by their sounds.
pub(super) struct Ears {
    everyday: Vec<(String, Vec<Phone>)>,
    distances: Distances,
}

impl Ears {
    pub(super) fn new(vocab: &Vocabulary) -> Self {
        let everyday: BTreeSet<&str> = vocab
            .forms()
            .iter()
            .filter(|f| EVERYDAY.contains(&f.term.split('.').next().unwrap_or_default()))
            .flat_map(|f| f.text.split(' '))
            .filter(|w| sayable(w))
            .collect();
        let everyday = everyday.into_iter().filter_map(|w| Some((w.to_owned(), pronounce(w).into_iter().next()?)));
        Self { everyday: everyday.collect(), distances: Distances::new() }
    }

    /// Hundredths of a phone a phone: 0 is what is sure to be misheard.
    pub(super) fn risk(&self, phrase: &str) -> u32 {
        if phrase.split(' ').any(|w| !is_known(w) || crate::vocab::sound::is_added(w)) {
            return 0;
        }
        let sounds: Vec<Phone> =
            phrase.split(' ').flat_map(|w| pronounce(w).into_iter().next().unwrap_or_default()).collect();
        let near = self
            .everyday
            .iter()
            .filter(|(w, _)| w != phrase)
            .filter_map(|(_, e)| self.distances.apart(&sounds, e, u32::MAX))
            .min();
        near.unwrap_or(u32::MAX) / sounds.len().max(1) as u32
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_has_each_phrase_once() {
        let vocab = Vocabulary::built_in();
        let all = list(&vocab, &["412".to_owned(), "rose".to_owned()]);
        let has = |phrase: &str| all.iter().filter(|p| *p == phrase).count();
        for phrase in ["heel wart", "sole ulcer", "four twelve", "four one two"] {
            assert_eq!(has(phrase), 1, "{phrase}");
        }
        assert_eq!((has("the"), has("")), (0, 0));
        assert!(!list(&vocab, &[]).contains(&"four twelve".to_owned()));
    }
}
