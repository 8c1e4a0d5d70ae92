//! Words in the phones of the CMU dictionary, as pocketsphinx reads them.

use std::collections::BTreeSet;
use std::fmt::Write;

use crate::vocab::sound::{letter, pronounce};

/// `word PHONES`, one pronunciation a line; second ones are `word(2)`.
pub(super) fn dictionary(notes: &[Vec<String>]) -> String {
    let words: BTreeSet<&str> = notes.iter().flatten().map(String::as_str).collect();
    let mut text = String::new();
    for word in words {
        let mut before: Vec<String> = Vec::new();
        for sounds in pronounce(word) {
            let phones: Vec<&str> = sounds.into_iter().map(|p| arpabet(letter(p))).collect();
            let phones = phones.join(" ");
            if before.contains(&phones) {
                continue;
            }
            let _ = match before.len() {
                0 => writeln!(text, "{word} {phones}"),
                n => writeln!(text, "{word}({}) {phones}", n + 1),
            };
            before.push(phones);
        }
    }
    text
}

/// The table in `vocab/sound/README.md`; weak vowels are written as full ones.
fn arpabet(letter: u8) -> &'static str {
    match letter {
        b'a' => "AA",
        b'@' => "AE",
        b'^' | b'x' => "AH",
        b'c' => "AO",
        b'W' => "AW",
        b'Y' => "AY",
        b'E' => "EH",
        b'R' | b'q' => "ER",
        b'e' => "EY",
        b'I' | b'X' => "IH",
        b'i' => "IY",
        b'o' => "OW",
        b'O' => "OY",
        b'U' => "UH",
        b'u' => "UW",
        b'p' => "P",
        b't' => "T",
        b'k' => "K",
        b'C' => "CH",
        b'f' => "F",
        b'T' => "TH",
        b's' => "S",
        b'S' => "SH",
        b'h' => "HH",
        b'b' => "B",
        b'd' => "D",
        b'g' => "G",
        b'J' => "JH",
        b'v' => "V",
        b'D' => "DH",
        b'z' => "Z",
        b'Z' => "ZH",
        b'm' => "M",
        b'n' => "N",
        b'G' => "NG",
        b'l' => "L",
        b'r' => "R",
        b'w' => "W",
        b'y' => "Y",
        _ => "SIL",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_with_all_their_sounds() {
        let text = dictionary(&[vec!["wrap".to_owned(), "lesion".to_owned()]]);
        assert_eq!(text, "lesion L IY ZH AH N\nwrap R AE P\n");
    }
}
