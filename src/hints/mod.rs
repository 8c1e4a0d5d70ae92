//! Help for a speech recogniser: what it may expect to hear. All of it is made from the vocabulary and the
//! grammar's kinds of phrases.

mod dice;
mod ngram;
mod numbers;
mod phrases;
mod prompt;
mod sounds;
mod talk;

pub use phrases::list;
pub use prompt::prompt;

use crate::vocab::Vocabulary;

/// A language model with its pronouncing dictionary.
#[derive(Clone, Debug)]
pub struct Model {
    /// Words, pairs and triples with their probabilities, in the ARPA format.
    pub lm: String,
    /// `word PHONES`, in the phones of the CMU dictionary.
    pub dict: String,
}

/// So many notes make a model.
const NOTES: usize = 60_000;

/// The same vocabulary and the same tags make the same model.
const SEED: u64 = 2026;

/// A trigram model of notes as they could be said about these cows, or about any where there are no tags.
pub fn model(vocab: &Vocabulary, tags: &[String]) -> Model {
    let notes = notes(vocab, tags, NOTES);
    Model { lm: ngram::arpa(&notes), dict: sounds::dictionary(&notes) }
}

/// Notes that were never said, word by word.
fn notes(vocab: &Vocabulary, tags: &[String], count: usize) -> Vec<Vec<String>> {
    let mut talker = talk::Talker::new(vocab, tags, SEED);
    (0..count).map(|_| talker.note()).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;
    use crate::vocab::Style;

    #[test]
    fn a_model_of_the_trade_sums_to_1_and_every_word_has_sounds() {
        let vocab = Vocabulary::built_in();
        let notes = notes(&vocab, &["412".to_owned()], 2000);
        let lm = ngram::arpa(&notes);
        for (begin, sum) in ngram::tests::Read::new(&lm).sums(401) {
            assert!((sum - 1.0).abs() < 2e-3, "{begin:?} {sum}");
        }
        let dict = sounds::dictionary(&notes);
        let sounded: HashSet<&str> = dict.lines().filter_map(|l| l.split(' ').next()).collect();
        for word in notes.iter().flatten() {
            assert!(sounded.contains(word.as_str()), "{word}");
        }
    }

    #[test]
    fn everyday_words_have_their_share() {
        let vocab = Vocabulary::built_in();
        let everyday = |term: &str| {
            ["filler.any", "loose.any", "everyday.any", "talk.any", "aside.any", "lead.any"].contains(&term)
        };
        let words_of = |wanted: bool| -> HashSet<&str> {
            let forms = vocab.forms().iter().filter(|f| f.style == Style::Spoken && everyday(&f.term) == wanted);
            forms.flat_map(|f| f.text.split(' ')).collect()
        };
        let (everyday, trade) = (words_of(true), words_of(false));
        let notes = notes(&vocab, &[], 2000);
        let all = notes.iter().flatten().count() as f64;
        let some =
            notes.iter().flatten().filter(|w| everyday.contains(w.as_str()) && !trade.contains(w.as_str())).count()
                as f64;
        assert!((0.05..0.25).contains(&(some / all)), "{}", some / all);
    }
}
