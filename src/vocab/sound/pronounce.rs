//! How a word sounds: the CMU Pronouncing Dictionary, our own additions, and letter rules for the rest.

use super::letters;
#[cfg(target_family = "wasm")]
use super::packed::Unpacking;
use super::phone::{self, Phone};
#[cfg(target_family = "wasm")]
use std::sync::{LazyLock, Mutex};

/// Sorted lines `word<TAB>phones[ phones]` (`vocab/sound/README.md`).
#[cfg(not(target_family = "wasm"))]
fn dictionary() -> &'static str {
    include_str!("../../../vocab/sound/dictionary.txt")
}

/// The same for the browser, which loads a sixth of it and unpacks it when it is first needed.
#[cfg(target_family = "wasm")]
static DICTIONARY: LazyLock<String> = LazyLock::new(|| {
    let begun = UNPACKING.lock().ok().and_then(|mut begun| begun.take());
    begun.unwrap_or_else(|| Unpacking::new(PACKED)).whole()
});

#[cfg(target_family = "wasm")]
fn dictionary() -> &'static str {
    &DICTIONARY
}

#[cfg(target_family = "wasm")]
static PACKED: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/dictionary.packed"));

/// What is unpacked ahead of need.
#[cfg(target_family = "wasm")]
static UNPACKING: Mutex<Option<Unpacking>> = Mutex::new(None);

/// Makes the dictionary ready by so many lines; gives whether it is.
#[cfg(target_family = "wasm")]
pub(crate) fn make_ready(lines: u32) -> bool {
    if LazyLock::get(&DICTIONARY).is_some() {
        return true;
    }
    let Ok(mut begun) = UNPACKING.lock() else { return true };
    begun.get_or_insert_with(|| Unpacking::new(PACKED)).go_on(lines)
}

#[cfg(not(target_family = "wasm"))]
pub(crate) fn make_ready(_: u32) -> bool {
    true
}

/// Words of the trade that the dictionary lacks, and how they are also said.
const ADDED: &str = include_str!("../../../vocab/sound/added.txt");

/// The sounds of a word, best first; letter rules where no dictionary has it.
pub(crate) fn pronounce(word: &str) -> Vec<Vec<Phone>> {
    let mut all: Vec<Vec<Phone>> = entry(ADDED, word).chain(entry(dictionary(), word)).collect();
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

/// Whether the word, or what it is the genitive of ("corner's"), stands in a dictionary.
pub(crate) fn is_known(word: &str) -> bool {
    let word = word.strip_suffix("'s").unwrap_or(word);
    find(dictionary(), word).is_some() || find(ADDED, word).is_some()
}

/// Whether the word is one of the trade that the general dictionary lacks.
pub(crate) fn is_added(word: &str) -> bool {
    find(dictionary(), word).is_none() && find(ADDED, word).is_some()
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
        for data in [dictionary(), ADDED] {
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
