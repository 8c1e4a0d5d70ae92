//! Random notes: any text at all, and jumbles of what the trade says.

use proptest::prelude::*;
use proptest::sample::select;

use crate::READER;

/// Any text, with line breaks, control characters and all of Unicode.
pub(crate) fn text() -> impl Strategy<Value = String> {
    any::<Vec<char>>().prop_map(|chars| chars.into_iter().collect())
}

/// Words of the vocabulary, numbers and signs in any order: far more of it is read than of random text.
pub(crate) fn jumble() -> impl Strategy<Value = String> {
    let forms: Vec<String> = READER.vocabulary().forms().iter().map(|f| f.text.clone()).collect();
    let word = prop_oneof![
        8 => select(forms),
        2 => (0_u64..=20_000).prop_map(|n| n.to_string()),
        1 => any::<u64>().prop_map(|n| n.to_string()),
        1 => (0_u16..200, 0_u16..200).prop_map(|(a, b)| format!("{a}/{b}")),
        1 => (0_u32..100_000, 0_u32..1000).prop_map(|(a, b)| format!("{a}.{b}")),
        1 => "[a-zA-Z]{1,3}[0-9]{1,3}",
        1 => "[a-zé]{1,9}",
        1 => select(vec!["cow", "left hind", "outer", "zone", "ulcer", "weeks", "no", "scratch that", "same", "note"])
            .prop_map(str::to_owned),
    ];
    let gap = select(vec![" ", " ", " ", ", ", ". ", "\n", "-", "", " \u{2014} ", "? ", "\u{a0}"]);
    prop::collection::vec((word, gap), 0..24)
        .prop_map(|parts| parts.into_iter().flat_map(|(word, gap)| [word, gap.to_owned()]).collect())
}

pub(crate) fn any_note() -> impl Strategy<Value = String> {
    prop_oneof![2 => jumble(), 1 => text()]
}
