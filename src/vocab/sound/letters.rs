//! Letter-to-sound rules for words that no dictionary has: names and nonsense that recognisers write.
//!
//! Longest spelling first, left to right. Rough on purpose: such words are 2 % of what is heard.

use super::phone::{self, Phone};

/// Spellings and their sounds; `$` at the end of a spelling is the end of the word.
const RULES: &[(&str, &str)] = &[
    ("tion", "Sxn"),
    ("sion", "Zxn"),
    ("ough", "o"),
    ("augh", "c"),
    ("eigh", "e"),
    ("igh", "Y"),
    ("tch", "C"),
    ("sch", "sk"),
    ("ture$", "Cq"),
    ("que$", "k"),
    ("ous$", "xs"),
    ("ers$", "qz"),
    ("ing$", "XG"),
    ("ed$", "d"),
    ("es$", "z"),
    ("le$", "xl"),
    ("el$", "xl"),
    ("al$", "xl"),
    ("er$", "q"),
    ("or$", "q"),
    ("ar$", "q"),
    ("ure$", "q"),
    ("ee", "i"),
    ("ea", "i"),
    ("oo", "u"),
    ("ou", "W"),
    ("ow", "W"),
    ("oa", "o"),
    ("oe", "o"),
    ("oi", "O"),
    ("oy", "O"),
    ("ai", "e"),
    ("ay", "e"),
    ("ey", "i"),
    ("ei", "e"),
    ("ie", "i"),
    ("au", "c"),
    ("aw", "c"),
    ("ew", "u"),
    ("ue", "u"),
    ("ui", "u"),
    ("ar", "ar"),
    ("er", "R"),
    ("ir", "R"),
    ("ur", "R"),
    ("or", "cr"),
    ("ch", "C"),
    ("sh", "S"),
    ("th", "T"),
    ("ph", "f"),
    ("wh", "w"),
    ("gh", "g"),
    ("ck", "k"),
    ("ng", "G"),
    ("qu", "kw"),
    ("kn", "n"),
    ("wr", "r"),
    ("dg", "J"),
    ("ce", "s"),
    ("ci", "sI"),
    ("cy", "si"),
    ("ge", "J"),
    ("gi", "JI"),
    ("e$", ""),
    ("y$", "i"),
    ("a", "@"),
    ("b", "b"),
    ("c", "k"),
    ("d", "d"),
    ("e", "E"),
    ("f", "f"),
    ("g", "g"),
    ("h", "h"),
    ("i", "I"),
    ("j", "J"),
    ("k", "k"),
    ("l", "l"),
    ("m", "m"),
    ("n", "n"),
    ("o", "a"),
    ("p", "p"),
    ("q", "k"),
    ("r", "r"),
    ("s", "s"),
    ("t", "t"),
    ("u", "^"),
    ("v", "v"),
    ("w", "w"),
    ("x", "ks"),
    ("y", "Y"),
    ("z", "z"),
];

/// The sounds of a word by its letters; doubled letters sound once, other signs not at all.
pub(crate) fn sounds(word: &str) -> Vec<Phone> {
    let mut letters: Vec<u8> = word.bytes().map(|b| b.to_ascii_lowercase()).filter(u8::is_ascii_lowercase).collect();
    letters.dedup_by(|a, b| a == b && !matches!(a, b'e' | b'o'));
    let mut out: Vec<Phone> = Vec::new();
    let mut rest = letters.as_slice();
    while !rest.is_empty() {
        let rule = RULES.iter().find(|(spelling, _)| match spelling.strip_suffix('$') {
            Some(end) => rest == end.as_bytes() && (rest.len() < letters.len() || end.len() > 1),
            None => rest.starts_with(spelling.as_bytes()),
        });
        let Some((spelling, sounds)) = rule else {
            rest = &rest[1..];
            continue;
        };
        out.extend(sounds.bytes().filter_map(phone::phone));
        rest = &rest[spelling.trim_end_matches('$').len()..];
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(word: &str) -> Vec<Phone> {
        sounds(word)
    }

    fn said(symbols: &str) -> Vec<Phone> {
        symbols.bytes().filter_map(phone::phone).collect()
    }

    #[test]
    fn plain_words_come_out_as_they_are_said() {
        assert_eq!(text("block"), said("blak"));
        assert_eq!(text("outcher"), said("WCq"));
        assert_eq!(text("zone"), said("zan"));
    }
}
