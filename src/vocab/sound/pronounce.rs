//! How a word sounds: the CMU Pronouncing Dictionary, our own additions, and letter rules for the rest.

use super::letters;
use super::phone::{self, Phone};

/// Sorted lines `word<TAB>phones[ phones]` (`vocab/sound/README.md`).
const DICTIONARY: &str = include_str!("../../../vocab/sound/dictionary.txt");

/// Words of the trade that the dictionary lacks, and how they are also said.
const ADDED: &str = include_str!("../../../vocab/sound/added.txt");

/// The sounds of a word, best first; letter rules where no dictionary has it.
pub(crate) fn pronounce(word: &str) -> Vec<Vec<Phone>> {
    let mut all: Vec<Vec<Phone>> = entry(ADDED, word).chain(entry(DICTIONARY, word)).collect();
    if all.is_empty() {
        if let Some(base) = word.strip_suffix("'s") {
            all = pronounce(base).into_iter().map(plural).collect();
        } else {
            all.push(letters::sounds(word));
        }
    }
    all.retain(|p| !p.is_empty());
    all
}

/// Whether the word stands in a dictionary.
pub(crate) fn is_known(word: &str) -> bool {
    find(DICTIONARY, word).is_some() || find(ADDED, word).is_some()
}

/// Whether the word is one of the trade that the general dictionary lacks.
pub(crate) fn is_added(word: &str) -> bool {
    find(DICTIONARY, word).is_none() && find(ADDED, word).is_some()
}

fn plural(mut phones: Vec<Phone>) -> Vec<Phone> {
    phones.extend(phone::phone(b'z'));
    phones
}

fn entry<'a>(data: &'a str, word: &str) -> impl Iterator<Item = Vec<Phone>> + 'a {
    find(data, word)
        .into_iter()
        .flat_map(|sounds| sounds.split(' '))
        .map(|sounds| sounds.bytes().filter_map(phone::phone).collect())
}

/// Binary search over lines sorted by their bytes.
fn find<'a>(data: &'a str, word: &str) -> Option<&'a str> {
    let bytes = data.as_bytes();
    let (mut low, mut high) = (0, bytes.len());
    while low < high {
        let mid = usize::midpoint(low, high);
        let start = memchr::memrchr(b'\n', &bytes[low..mid]).map_or(low, |i| low + i + 1);
        let tab = start + memchr::memchr(b'\t', &bytes[start..])?;
        match bytes[start..tab].cmp(word.as_bytes()) {
            std::cmp::Ordering::Greater => high = start,
            is => {
                let end = tab + memchr::memchr(b'\n', &bytes[tab..]).unwrap_or(bytes.len() - tab);
                if is.is_eq() {
                    return Some(&data[tab + 1..end]);
                }
                low = end + 1;
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dictionaries_are_sorted_and_every_line_is_found() {
        for data in [DICTIONARY, ADDED] {
            let mut before = "";
            for (n, line) in data.lines().enumerate() {
                let (word, sounds) = line.split_once('\t').expect("a tab in each line");
                assert!(before < word, "{word} after {before}");
                before = word;
                if n % 97 == 0 {
                    assert_eq!(find(data, word), Some(sounds));
                }
            }
        }
    }

    #[test]
    fn homophones_sound_alike_and_strangers_get_letter_rules() {
        assert_eq!(pronounce("heel")[0], pronounce("heal")[0]);
        assert!(!pronounce("outcher").is_empty());
        assert!(!is_known("outcher"));
    }
}
