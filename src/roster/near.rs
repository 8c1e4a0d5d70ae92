//! Which tags a number that was heard may have been: by sound and by digits.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::NearTag;
use super::said::ways;
use crate::vocab::sound::{Distances, Phone, pronounce};
use crate::words::said::{TENS, UNITS};

/// The sounds of a tag in each way it is said.
pub(super) type Spoken = Vec<Vec<Phone>>;

/// How many tags are offered.
const OFFERED: usize = 4;

/// Tags nearest to what was said, by the sound of "cow" and the number, nearest first; `spoken` has the sounds of
/// each tag.
pub(super) fn nearest(tags: &[String], spoken: &[Spoken], said: &str, heard: &str) -> Vec<NearTag> {
    let sound = Sound::of(said);
    let lower = said.to_lowercase();
    // Figures stand for themselves; of number words the digits are those that were read.
    let in_words = lower.split(|c: char| !c.is_alphabetic()).any(|w| UNITS.contains(&w) || TENS.contains(&w));
    let digits = if in_words || !said.bytes().any(|b| b.is_ascii_digit()) { heard } else { said };
    let digits: Vec<u8> = digits.bytes().filter(u8::is_ascii_digit).collect();
    // A slip of one digit counts about as much as a lost word.
    let mut by_digits: Vec<(u32, usize)> = (0..tags.len())
        .filter(|i| tags[*i].len() + 2 >= heard.len() && heard.len() + 3 >= tags[*i].len())
        .map(|i| (strsim::osa_distance(&tags[i], heard) as u32 * 150, i))
        .collect();
    // Those near by their digits first: the rest need only be compared as far as the last one offered.
    by_digits.sort_unstable();
    let mut near: Vec<NearTag> = Vec::new();
    for (by_digits, i) in by_digits {
        let tag = &tags[i];
        let last = near.get(OFFERED - 1).map_or(u32::MAX, |n: &NearTag| n.cost);
        // Farther than the last one offered need not be told how far.
        let cost = sound.from(&spoken[i], by_digits.min(last)).unwrap_or(by_digits);
        if cost > last {
            continue;
        }
        let keeps_digits = subsequence(&digits, tag.as_bytes());
        near.push(NearTag { tag: tag.clone(), cost, keeps_digits });
        near.sort_by(|a, b| (a.cost, &a.tag).cmp(&(b.cost, &b.tag)));
        near.truncate(OFFERED);
    }
    near
}

/// How far the sound of "cow" and that number is from what was said.
pub(super) fn by_sound(said: &str, tag: &str) -> Option<u32> {
    Sound::of(said).from(&spoken(tag), u32::MAX)
}

/// What was said, in each way it can be.
struct Sound {
    ways: Vec<Vec<Phone>>,
    /// What may stand before the number.
    cues: Vec<Vec<Phone>>,
}

impl Sound {
    fn of(said: &str) -> Self {
        let lower = said.to_lowercase();
        let begins = ["cow", "tag", "number"].iter().filter_map(|cue| lower.rfind(cue)).max().unwrap_or(0);
        let cues = ["cow", "tag", ""]
            .iter()
            .map(|cue| cue.split_whitespace().flat_map(|w| pronounce(w).remove(0)).collect())
            .collect();
        Self { ways: sounds_of(&lower[begins..]), cues }
    }

    /// How far it is from a tag as it is spoken; nothing where that is more than `most`.
    fn from(&self, tag: &Spoken, most: u32) -> Option<u32> {
        static DISTANCES: OnceLock<Distances> = OnceLock::new();
        let distances = DISTANCES.get_or_init(Distances::new);
        let mut least = None;
        for number in tag {
            for cue in &self.cues {
                let form = [cue.as_slice(), number].concat();
                for way in &self.ways {
                    least = distances.apart(&form, way, least.unwrap_or(most)).or(least);
                }
            }
        }
        least
    }
}

fn subsequence(part: &[u8], whole: &[u8]) -> bool {
    let mut rest = whole.iter();
    part.iter().all(|p| rest.any(|w| w == p))
}

/// The sounds of words and digits as they stand; digits in each way they are said.
fn sounds_of(said: &str) -> Vec<Vec<Phone>> {
    let mut ways: Vec<Vec<Phone>> = vec![vec![]];
    let mut rest = said;
    while let Some(c) = rest.chars().next() {
        let digit = c.is_ascii_digit();
        if !c.is_alphanumeric() {
            rest = &rest[c.len_utf8()..];
            continue;
        }
        let end =
            rest.find(|x: char| !x.is_alphanumeric() && x != '\'' || x.is_ascii_digit() != digit).unwrap_or(rest.len());
        let end = end.max(c.len_utf8());
        let (word, after) = rest.split_at(end);
        rest = after;
        let options = if digit { spoken(word) } else { pronounce(word).into_iter().take(1).collect() };
        ways = ways.iter().flat_map(|w| options.iter().map(move |o| [w.as_slice(), o].concat())).take(4).collect();
    }
    ways
}

/// The ways a tag is said: digit by digit, in pairs, hundreds: "two thirty one", "ten sixty two".
pub(super) fn spoken(tag: &str) -> Spoken {
    static WORDS: OnceLock<HashMap<&str, Vec<Phone>>> = OnceLock::new();
    let words = WORDS.get_or_init(|| {
        UNITS.iter().chain(&TENS).chain(&["hundred", "thousand", "and"]).map(|w| (*w, pronounce(w).remove(0))).collect()
    });
    ways(tag).into_iter().map(|said| said.iter().flat_map(|w| words[w].iter().copied()).collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tags(list: &[&str]) -> Vec<String> {
        list.iter().map(|s| (*s).to_owned()).collect()
    }

    fn nearest(tags: &[String], said: &str, heard: &str) -> Vec<NearTag> {
        let spoken: Vec<Spoken> = tags.iter().map(|t| spoken(t)).collect();
        super::nearest(tags, &spoken, said, heard)
    }

    #[test]
    fn a_cue_grown_together_with_a_number_is_found_by_sound() {
        let herd = tags(&["678", "231", "1062", "18", "80"]);
        let near = |said: &str, heard: &str| nearest(&herd, said, heard).remove(0);
        assert_eq!(near("Cossack 78", "78").tag, "678");
        assert!(near("Cossack 78", "78").keeps_digits);
        assert_eq!(near("Kouten 62", "62").tag, "1062");
    }

    #[test]
    fn a_number_that_sounds_as_it_was_written_is_near_itself() {
        let far = |said: &str, tag: &str| by_sound(said, tag).unwrap();
        assert!(far("Cal 407", "407") < far("Cal 407", "1407"));
        assert!(far("Cossack 78", "678") < far("Cossack 78", "78"));
    }

    #[test]
    fn a_digit_that_would_change_is_not_kept() {
        let near = nearest(&tags(&["2028"]), "cow 2008", "2008");
        assert_eq!(near[0].tag, "2028");
        assert!(!near[0].keeps_digits);
        assert!(!nearest(&tags(&["16"]), "Cossack sixty", "60")[0].keeps_digits);
        assert!(nearest(&tags(&["678"]), "Cossack seventy eight", "78")[0].keeps_digits);
    }
}
