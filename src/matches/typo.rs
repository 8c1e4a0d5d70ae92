//! "claen", "rto", "strawbery": what a thumb does to a word. A recogniser writes words that exist, so that only typed
//! notes hold such words.

use std::borrow::Cow;

use crate::vocab::{Kind, Vocabulary, sound};
use crate::words::Word;

/// From so many letters on, a word with one letter too few, too many or wrong is hardly another one.
const LONG: usize = 7;

/// Gives words that nobody knows the letters that were meant; tells whether there were any.
pub fn mend(words: &mut [Word], vocab: &Vocabulary) -> bool {
    let mut mended = false;
    for word in words {
        let letters = word.text.len() >= 3 && word.text.bytes().all(|b| b.is_ascii_lowercase());
        if !letters || word.capitals || vocab.knows(&word.text) || sound::is_known(&word.text) {
            continue;
        }
        if let Some(meant) = swapped(&word.text, vocab).or_else(|| a_letter_off(&word.text, vocab)) {
            word.text = Cow::Owned(meant);
            mended = true;
        }
    }
    mended
}

/// The one word that it is with two neighbouring letters in their order.
fn swapped(word: &str, vocab: &Vocabulary) -> Option<String> {
    let mut found = None;
    for i in 1..word.len() {
        let mut letters = word.as_bytes().to_vec();
        letters.swap(i - 1, i);
        let other = String::from_utf8(letters).ok()?;
        if other == word {
            continue;
        }
        if vocab.knows(&other) {
            if found.is_some() {
                return None;
            }
            found = Some(other);
        } else if sound::is_known(&other) {
            return None;
        }
    }
    found
}

/// The one long word of the trade that is a letter away; of words that begin alike.
fn a_letter_off(word: &str, vocab: &Vocabulary) -> Option<String> {
    if word.len() < LONG {
        return None;
    }
    let near = |other: &&str| {
        other.len() >= LONG && other.len().abs_diff(word.len()) <= 1 && other.as_bytes()[0] == word.as_bytes()[0]
    };
    let mut close = vocab.words().filter(near).filter(|other| strsim::osa_distance(word, other) == 1);
    let meant = close.next()?;
    (close.next().is_none() && is_term(meant, vocab)).then(|| meant.to_owned())
}

/// Whether the word stands in a form that says something.
fn is_term(word: &str, vocab: &Vocabulary) -> bool {
    let says = |kind: Kind| !matches!(kind, Kind::Filler | Kind::In | Kind::And | Kind::Unread);
    vocab.forms().iter().any(|f| says(f.kind) && f.text.split(' ').any(|w| w == word))
}
