//! A reader remembers what it found in sounds: that makes it faster and changes nothing.

use chutescribe::vocab::Vocabulary;
use chutescribe::{Entry, Reader};

use super::{VISIT, lines};

/// Entries of notes that one reader reads in their order.
fn read<'a>(notes: impl Iterator<Item = &'a str>) -> Vec<Vec<Entry>> {
    let reader = Reader::new(Vocabulary::built_in());
    notes.map(|note| reader.read(note, VISIT, None).entries).collect()
}

#[test]
fn notes_read_before_have_no_say() {
    let heard: Vec<&str> =
        lines(include_str!("../corpus/heard_sample.tsv")).filter_map(|line| line.split('\t').nth(3)).collect();
    assert!(heard.len() > 100);
    // Each note word by word before it is whole, as it is read while it is said.
    let grown: Vec<&str> =
        heard.iter().flat_map(|note| note.match_indices(' ').map(|(at, _)| &note[..at]).chain([*note])).collect();
    let mut last_first = read(grown.iter().rev().copied());
    last_first.reverse();
    let first_first = read(grown.iter().copied());
    for (note, (a, b)) in grown.iter().zip(first_first.iter().zip(&last_first)) {
        assert_eq!(a, b, "{note}");
    }
}
