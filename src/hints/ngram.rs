//! Counts of words, pairs and triples, and the model made of them in the ARPA format.
//!
//! Smoothing: Witten-Bell, interpolated. After `h` there were `c` words, `t` of them different:
//! `p(w|h) = (c(hw) + t·p(w|h'))/(c + t)`, where `h'` is `h` without its first word, so a word never seen after
//! `h` gets `t/(c + t)` of what `h'` gives it: exactly the back-off weight of the format, and all sums are 1.
//! Triples seen once are left out of the file; what they had goes to the back-off.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

const START: u64 = 0;
const END: u64 = 1;
/// Bits of a word in the key of a triple.
const BITS: u32 = 21;

/// The model of these notes, three words deep.
pub(super) fn arpa(notes: &[Vec<String>]) -> String {
    let names: BTreeSet<&str> = notes.iter().flatten().map(String::as_str).collect();
    let names: Vec<&str> = ["<s>", "</s>"].into_iter().chain(names).collect();
    let id: BTreeMap<&str, u64> = names.iter().zip(0..).map(|(n, i)| (*n, i)).collect();
    let (mut singles, mut pairs, mut triples) = (vec![], vec![], vec![]);
    for note in notes {
        let ids: Vec<u64> = [START].into_iter().chain(note.iter().map(|w| id[w.as_str()])).chain([END]).collect();
        singles.extend_from_slice(&ids[1..]);
        pairs.extend(ids.windows(2).map(|w| w[0] << BITS | w[1]));
        triples.extend(ids.windows(3).map(|w| w[0] << (2 * BITS) | w[1] << BITS | w[2]));
    }
    let (singles, pairs, triples) = (counted(singles), counted(pairs), counted(triples));
    let after_none = After { count: singles.iter().map(|s| s.1).sum(), kinds: singles.len() as u32 };
    let even = 1.0 / (names.len() - 1) as f64;
    let single: BTreeMap<u64, f64> = singles.iter().map(|(w, c)| (*w, after_none.share(*c, even))).collect();
    let after_one = afters(&pairs, 0);
    let mask = (1 << BITS) - 1;
    let pair: BTreeMap<u64, f64> =
        pairs.iter().map(|(p, c)| (*p, after_one[&(p >> BITS)].share(*c, single[&(p & mask)]))).collect();
    let after_two = afters(&triples, 1);
    let kept: Vec<(u64, u32)> = triples.into_iter().filter(|t| t.1 > 1).collect();

    let mut text = String::new();
    let _ = writeln!(
        text,
        "\\data\\\nngram 1={}\nngram 2={}\nngram 3={}\n\n\\1-grams:",
        names.len(),
        pair.len(),
        kept.len()
    );
    for (name, i) in names.iter().zip(0..) {
        let p = single.get(&i).map_or(-99.0, |p| p.log10());
        let _ = match after_one.get(&i) {
            Some(after) => writeln!(text, "{p:.5} {name} {:.5}", after.rest().log10()),
            None => writeln!(text, "{p:.5} {name}"),
        };
    }
    text.push_str("\n\\2-grams:\n");
    let name = |i: u64| names[(i & mask) as usize];
    for (two, p) in &pair {
        let rest = after_two.get(two).map_or(0.0, |a| a.rest().log10());
        let _ = writeln!(text, "{:.5} {} {} {rest:.5}", p.log10(), name(two >> BITS), name(*two));
    }
    text.push_str("\n\\3-grams:\n");
    for (three, c) in &kept {
        let p = after_two[&(three >> BITS)].share(*c, pair[&(three & (1 << (2 * BITS)) - 1)]);
        let _ =
            writeln!(text, "{:.5} {} {} {}", p.log10(), name(three >> (2 * BITS)), name(three >> BITS), name(*three));
    }
    text.push_str("\n\\end\\\n");
    text
}

/// What came after something.
#[derive(Clone, Copy, Default)]
struct After {
    count: u32,
    /// How many different ones; of those left out, all.
    kinds: u32,
}

impl After {
    fn share(self, count: u32, below: f64) -> f64 {
        (f64::from(count) + f64::from(self.kinds) * below) / f64::from(self.count + self.kinds)
    }

    fn rest(self) -> f64 {
        f64::from(self.kinds) / f64::from(self.count + self.kinds)
    }
}

/// What came after each beginning; what was seen `rare` times or less is left to the back-off.
fn afters(runs: &[(u64, u32)], rare: u32) -> BTreeMap<u64, After> {
    let mut all: BTreeMap<u64, After> = BTreeMap::new();
    for (run, count) in runs {
        let after = all.entry(run >> BITS).or_default();
        after.kinds += 1;
        if *count > rare {
            after.count += count;
        }
    }
    all
}

fn counted(mut runs: Vec<u64>) -> Vec<(u64, u32)> {
    runs.sort_unstable();
    runs.chunk_by(|a, b| a == b).map(|same| (same[0], same.len() as u32)).collect()
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use std::collections::HashMap;

    /// The model as any reader of the format takes it.
    pub(crate) struct Read {
        runs: HashMap<Vec<String>, (f64, f64)>,
    }

    impl Read {
        pub(crate) fn new(text: &str) -> Self {
            let mut runs = HashMap::new();
            let mut length = 0;
            for line in text.lines() {
                if let Some(head) = line.strip_prefix('\\') {
                    length = head.as_bytes()[0].saturating_sub(b'0').min(4) as usize;
                } else if (1..4).contains(&length) && !line.is_empty() {
                    let cells: Vec<&str> = line.split(' ').collect();
                    let words = cells[1..=length].iter().map(|w| (*w).to_owned()).collect();
                    let rest = cells.get(length + 1).map_or(0.0, |r| r.parse().expect("a number"));
                    runs.insert(words, (cells[0].parse().expect("a number"), rest));
                }
            }
            Self { runs }
        }

        fn p(&self, run: &[String]) -> f64 {
            match self.runs.get(run) {
                Some((p, _)) => 10f64.powf(*p),
                None => 10f64.powf(self.runs.get(&run[..run.len() - 1]).map_or(0.0, |r| r.1)) * self.p(&run[1..]),
            }
        }

        /// The sum over all words after each `step`th beginning.
        pub(crate) fn sums(&self, step: usize) -> Vec<(Vec<String>, f64)> {
            let words: Vec<&String> =
                self.runs.keys().filter(|r| r.len() == 1 && r[0] != "<s>").map(|r| &r[0]).collect();
            let mut begins: Vec<Vec<String>> =
                self.runs.keys().filter(|r| r.len() < 3 && !r.contains(&"</s>".to_owned())).cloned().collect();
            begins.sort();
            begins.insert(0, vec![]);
            begins.retain(|b| b.last().is_none_or(|w| w != "<s>") || b.len() == 1);
            let sum =
                |b: &Vec<String>| words.iter().map(|w| self.p(&[b.as_slice(), &[(*w).clone()]].concat())).sum::<f64>();
            begins.into_iter().step_by(step).map(|b| (b.clone(), sum(&b))).collect()
        }
    }

    #[test]
    fn sums_to_1_after_every_beginning() {
        let notes = ["cow one clean", "cow two clean", "cow two ulcer", "cow one", "clean cow", "cow one clean"];
        let notes: Vec<Vec<String>> = notes.iter().map(|n| n.split(' ').map(str::to_owned).collect()).collect();
        let read = Read::new(&arpa(&notes));
        for (begin, sum) in read.sums(1) {
            assert!((sum - 1.0).abs() < 1e-3, "{begin:?} {sum}");
        }
    }
}
