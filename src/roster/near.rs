//! Which tags a number that was heard may have been: by sound and by digits.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::NearTag;
use super::said::ways;
use crate::vocab::sound::{BREAK, Distances, Phone, pronounce};
use crate::words::said::{TENS, UNITS};

/// How many tags are offered.
const OFFERED: usize = 4;

/// Tags nearest to what was said, by the sound of "cow" and the number, nearest first, no farther than `most`;
/// `spoken` has the sounds of the tags.
pub(super) fn nearest(tags: &[String], spoken: &Spoken, said: &str, heard: &str, most: u32) -> Vec<NearTag> {
    let lower = said.to_lowercase();
    // Figures stand for themselves; of number words the digits are those that were read.
    let in_words = lower.split(|c: char| !c.is_alphabetic()).any(|w| UNITS.contains(&w) || TENS.contains(&w));
    let digits = if in_words || !said.bytes().any(|b| b.is_ascii_digit()) { heard } else { said };
    let digits: Vec<u8> = digits.bytes().filter(u8::is_ascii_digit).collect();
    // A slip of one digit counts about as much as a lost word; what is of another length is none of them.
    let by_digits = tags.iter().map(|tag| {
        let alike = tag.len() + 2 >= heard.len() && heard.len() + 3 >= tag.len();
        alike.then(|| strsim::osa_distance(tag, heard) as u32 * 150)
    });
    let mut costs = Costs::new(by_digits.collect(), most);
    Sound::of(said).each(spoken, &mut costs);
    let mut near: Vec<NearTag> = costs
        .within()
        .map(|(i, cost)| NearTag { tag: tags[i].clone(), cost, keeps_digits: subsequence(&digits, tags[i].as_bytes()) })
        .collect();
    near.sort_by(|a, b| (a.cost, &a.tag).cmp(&(b.cost, &b.tag)));
    near.truncate(OFFERED);
    near
}

/// What each tag costs so far; none where it cannot be meant.
struct Costs {
    of: Vec<Option<u32>>,
    /// Nothing farther is offered.
    most: u32,
}

impl Costs {
    fn new(of: Vec<Option<u32>>, most: u32) -> Self {
        let mut own = Self { of, most };
        own.narrow();
        own
    }

    /// Nothing farther than the last one offered needs to be told how far it is.
    fn narrow(&mut self) {
        let mut costs: Vec<u32> = self.within().map(|(_, cost)| cost).collect();
        if costs.len() >= OFFERED {
            self.most = *costs.select_nth_unstable(OFFERED - 1).1;
        }
    }

    fn within(&self) -> impl Iterator<Item = (usize, u32)> {
        let near = |cost: &u32| *cost <= self.most;
        self.of.iter().enumerate().filter_map(move |(i, cost)| Some((i, cost.filter(near)?)))
    }

    fn lower(&mut self, tag: usize, to: u32) {
        if let Some(cost) = &mut self.of[tag]
            && to < *cost
        {
            *cost = to;
            self.narrow();
        }
    }
}

/// How far the sound of "cow" and that number is from what was said.
pub(super) fn by_sound(said: &str, tag: &str) -> Option<u32> {
    let mut costs = Costs { of: vec![Some(u32::MAX)], most: u32::MAX };
    Sound::of(said).each(&Spoken::of(&[tag.to_owned()]), &mut costs);
    costs.of[0].filter(|cost| *cost < u32::MAX)
}

/// What was said, in each way it can be.
struct Sound {
    ways: Vec<Vec<Phone>>,
    /// What may stand before the number.
    cues: Vec<Vec<Phone>>,
}

impl Sound {
    fn of(said: &str) -> Self {
        let lower = without_double(&said.to_lowercase());
        let begins = ["cow", "tag", "number"].iter().filter_map(|cue| lower.rfind(cue)).max().unwrap_or(0);
        let cues = ["cow", "tag", ""]
            .iter()
            .map(|cue| cue.split_whitespace().flat_map(|w| pronounce(w).remove(0)).collect())
            .collect();
        Self { ways: sounds_of(&lower[begins..]), cues }
    }

    /// Lowers the cost of each tag to how far it is by its sound.
    fn each(&self, spoken: &Spoken, costs: &mut Costs) {
        static DISTANCES: OnceLock<Distances> = OnceLock::new();
        let distances = DISTANCES.get_or_init(Distances::new);
        for heard in &self.ways {
            let width = heard.len() + 1;
            // One row a sound of a tag; the first is what is best of all cues.
            let mut rows = vec![u32::MAX; width];
            for cue in &self.cues {
                let row = after(distances, cue, heard);
                rows.iter_mut().zip(row).for_each(|(least, cost)| *least = cost.min(*least));
            }
            rows.resize(width * (spoken.longest + 1), 0);
            // Tags that begin alike share their rows; past `dead` sounds all were too far.
            let mut dead = usize::MAX;
            for way in &spoken.ways {
                if way.shared >= dead {
                    continue;
                }
                dead = usize::MAX;
                for (k, phone) in way.phones.iter().enumerate().skip(way.shared) {
                    let before = k.checked_sub(1).map_or(BREAK, |k| way.phones[k]);
                    let (done, rest) = rows.split_at_mut(width * (k + 1));
                    let least = distances.next_row(before, *phone, heard, &done[width * k..], &mut rest[..width]);
                    if least > costs.most {
                        dead = k + 1;
                        break;
                    }
                }
                if dead == usize::MAX {
                    costs.lower(way.tag, rows[width * (way.phones.len() + 1) - 1]);
                }
            }
        }
    }
}

/// What each beginning of `heard` costs after a cue.
fn after(distances: &Distances, cue: &[Phone], heard: &[Phone]) -> Vec<u32> {
    let mut row = distances.first_row(heard);
    let mut next = row.clone();
    let mut before = BREAK;
    for phone in cue {
        distances.next_row(before, *phone, heard, &row, &mut next);
        std::mem::swap(&mut row, &mut next);
        before = *phone;
    }
    row
}

pub(super) fn subsequence(part: &[u8], whole: &[u8]) -> bool {
    let mut rest = whole.iter();
    part.iter().all(|p| rest.any(|w| w == p))
}

/// "double seven" as the two digits that it is.
fn without_double(said: &str) -> String {
    let mut words: Vec<&str> = Vec::new();
    let mut times = 1;
    for word in said.split_whitespace() {
        match word {
            "double" => times = 2,
            "treble" | "triple" => times = 3,
            _ => {
                let digit = times > 1 && UNITS.contains(&word.trim_matches(','));
                words.extend(std::iter::repeat_n(word, if digit { times } else { 1 }));
                times = 1;
            }
        }
    }
    words.join(" ")
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

/// Tags by their sounds.
#[derive(Debug)]
pub(super) struct Spoken {
    /// Each way to say each tag, in the order of the sounds, so that those that begin alike are neighbours.
    ways: Vec<Way>,
    longest: usize,
}

#[derive(Debug)]
struct Way {
    phones: Vec<Phone>,
    /// How many sounds it has in common with the one before.
    shared: usize,
    tag: usize,
}

impl Spoken {
    pub(super) fn of(tags: &[String]) -> Self {
        let said = tags.iter().enumerate().flat_map(|(tag, t)| spoken(t).into_iter().map(move |phones| (phones, tag)));
        let mut said: Vec<(Vec<Phone>, usize)> = said.collect();
        said.sort_unstable();
        let mut ways: Vec<Way> = Vec::with_capacity(said.len());
        for (phones, tag) in said {
            let alike = |w: &Way| w.phones.iter().zip(&phones).take_while(|(a, b)| a == b).count();
            let shared = ways.last().map_or(0, alike);
            ways.push(Way { phones, shared, tag });
        }
        let longest = ways.iter().map(|w| w.phones.len()).max().unwrap_or(0);
        Self { ways, longest }
    }
}

/// The ways a tag is said: digit by digit, in pairs, hundreds: "two thirty one", "ten sixty two".
fn spoken(tag: &str) -> Vec<Vec<Phone>> {
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
        super::nearest(tags, &Spoken::of(tags), said, heard, u32::MAX)
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
