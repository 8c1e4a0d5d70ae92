//! The trade's words as phrases: a text that primes a recogniser, and a list.

use std::collections::{BTreeSet, HashMap};

use super::talk::sayable;
use crate::roster::said::ways;
use crate::vocab::sound::{Distances, Phone, is_known, pronounce};
use crate::vocab::{Form, Style, Vocabulary};

/// The longest prompt, in words: recognisers forget the beginning of a longer one.
const PROMPT: usize = 200;

/// Kinds of words that everybody says.
const EVERYDAY: &[&str] = &[
    "filler",
    "loose",
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

/// At most 200 words: notes as they could be said, those first that hold most of what is easily misheard.
///
/// Notes and no list: a recogniser goes on in the manner of its prompt, and after words between commas it puts a
/// comma behind each word it hears.
pub fn prompt(vocab: &Vocabulary) -> String {
    let notes = super::notes(vocab, &[], TRIED);
    let mut worth = worth(vocab, &notes);
    let mut left: Vec<&Vec<String>> = notes.iter().filter(|n| (4..=LONGEST_NOTE).contains(&n.len())).collect();
    let mut words = 0;
    let mut said = Vec::new();
    loop {
        let of = |note: &[String]| -> u64 {
            let each: BTreeSet<&String> = note.iter().collect();
            each.iter().filter_map(|w| worth.get(*w)).sum::<u64>() / note.len() as u64
        };
        left.retain(|n| words + n.len() <= PROMPT);
        let Some(best) = left.iter().copied().max_by_key(|n| of(n)).filter(|n| of(n) > 0) else { break };
        words += best.len();
        said.push(best.join(" "));
        for word in best {
            worth.remove(word);
        }
    }
    said.join(". ") + "."
}

/// So many notes are looked at, and none longer is taken.
const TRIED: usize = 4_000;
const LONGEST_NOTE: usize = 14;

/// What each word of the trade is worth in a prompt: how often notes hold it, and how easily it is misheard. A
/// user's own word is worth the most.
fn worth(vocab: &Vocabulary, notes: &[Vec<String>]) -> HashMap<String, u64> {
    let ears = Ears::new(vocab);
    let mut often: HashMap<&str, u64> = HashMap::new();
    for word in notes.iter().flatten() {
        *often.entry(word).or_default() += 1;
    }
    let mut out = HashMap::new();
    for form in trade(vocab) {
        for word in form.text.split(' ').filter(|w| !ears.is_everyday(w)) {
            let count = often.get(word).copied().unwrap_or_default();
            let worth = match form.is_built_in() {
                true => count * 1000 / u64::from(ears.risk(word).min(200) + 25),
                false => u64::from(u32::MAX),
            };
            out.entry(word.to_owned()).and_modify(|w: &mut u64| *w = worth.max(*w)).or_insert(worth);
        }
    }
    out
}

fn trade(vocab: &Vocabulary) -> impl Iterator<Item = &Form> {
    vocab.forms().iter().filter(|f| {
        let kind = f.term.split('.').next().unwrap_or_default();
        f.style == Style::Spoken && !EVERYDAY.contains(&kind) && sayable(&f.text)
    })
}

/// Everyday words by their sounds.
struct Ears {
    everyday: Vec<(String, Vec<Phone>)>,
    distances: Distances,
}

impl Ears {
    fn new(vocab: &Vocabulary) -> Self {
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

    fn is_everyday(&self, word: &str) -> bool {
        self.everyday.iter().any(|(w, _)| w == word)
    }

    /// Hundredths of a phone a phone: 0 is what is sure to be misheard.
    fn risk(&self, phrase: &str) -> u32 {
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
    fn a_prompt_is_short_and_of_the_trade() {
        let vocab = Vocabulary::built_in();
        let text = prompt(&vocab);
        let words = text.split_whitespace().count();
        assert!((100..=200).contains(&words), "{words}: {text}");
        assert!(text.contains("ulcer"), "{text}");
    }

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
