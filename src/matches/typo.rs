//! "claen", "rto", "strawbery": what a thumb does to a word; `wrt`, `erosn`: what haste leaves of it. A recogniser
//! writes words that exist, so that only typed notes hold such words.

use std::borrow::Cow;

use crate::vocab::{Form, Kind, Style, Vocabulary, sound};
use crate::words::Word;

/// From so many letters on, a word with one letter too few, too many or wrong is hardly another one.
const LONG: usize = 7;

/// Capitals of so many letters are no code, but a note in capitals.
const CODE: usize = 5;

/// Consonants that a word without its vowels needs to be known again.
const SKELETON: usize = 3;

/// Gives words that nobody knows the letters that were meant; tells whether there were any.
pub fn mend(words: &mut [Word], vocab: &Vocabulary) -> bool {
    let mut mended = false;
    for word in words {
        let letters = word.text.len() >= 3 && word.text.bytes().all(|b| b.is_ascii_lowercase());
        if !letters || word.capitals && word.text.len() < CODE || vocab.knows(&word.text) || sound::is_known(&word.text)
        {
            continue;
        }
        if let Some(meant) = swapped(&word.text, vocab)
            .or_else(|| a_letter_off(&word.text, vocab))
            .or_else(|| without_vowels(&word.text, vocab))
        {
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

/// The one word of the trade that lost some of its vowels, or all: `wrt`, `swlln`, `outr`.
fn without_vowels(word: &str, vocab: &Vocabulary) -> Option<String> {
    let bare = skeleton(word);
    if bare.len() < SKELETON {
        return None;
    }
    let whole = |other: &&str| {
        other.len() > word.len()
            && other.as_bytes()[0] == word.as_bytes()[0]
            && is_within(word, other)
            && skeleton(other) == bare
            && has_a_vowel(other)
    };
    let mut meant = vocab.words().filter(whole).filter(|other| is_spoken(other, vocab));
    meant.next().filter(|_| meant.next().is_none()).map(str::to_owned)
}

/// The letters that are no vowels, two alike as one, with the first letter whatever it is.
fn skeleton(word: &str) -> Vec<u8> {
    let mut bare: Vec<u8> = Vec::with_capacity(word.len());
    for (i, b) in word.bytes().enumerate() {
        if (i == 0 || !b"aeiou".contains(&b)) && bare.last() != Some(&b) {
            bare.push(b);
        }
    }
    bare
}

fn has_a_vowel(word: &str) -> bool {
    word.bytes().skip(1).any(|b| b"aeiouy".contains(&b))
}

/// Whether the letters of `part` stand in `whole` in their order.
fn is_within(part: &str, whole: &str) -> bool {
    let mut letters = whole.bytes();
    part.bytes().all(|b| letters.any(|l| l == b))
}

/// Whether the word stands in a form that says something.
fn is_term(word: &str, vocab: &Vocabulary) -> bool {
    stands_in(word, vocab, |_| true)
}

/// Whether the word stands in a form that says something, and that people speak.
fn is_spoken(word: &str, vocab: &Vocabulary) -> bool {
    stands_in(word, vocab, |f| f.style == Style::Spoken)
}

fn stands_in(word: &str, vocab: &Vocabulary, of: impl Fn(&Form) -> bool) -> bool {
    let says = |kind: Kind| !matches!(kind, Kind::Filler | Kind::In | Kind::And | Kind::Unread);
    vocab.forms().iter().any(|f| says(f.kind) && of(f) && f.text.split(' ').any(|w| w == word))
}
