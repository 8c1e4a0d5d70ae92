//! Notes said in one breath: the second cow is found where a sentence begins, or something is asked.

use std::collections::BTreeSet;

use chutescribe::Reader;
use chutescribe::vocab::Vocabulary;

use super::{VISIT, herd, lines};

/// Of a hundred pairs, so many may have to be asked about.
const ASKED: usize = 5;

#[test]
fn the_next_cow_begins_with_a_sentence() {
    let tags: BTreeSet<&str> = lines(include_str!("../corpus/typed.tsv"))
        .filter_map(|line| line.split('\t').nth(2))
        .flat_map(|meaning| meaning.split(" | ").filter_map(|item| item.trim().strip_prefix("cow=")))
        .collect();
    let reader = Reader::new(Vocabulary::built_in()).with_roster(herd(tags.iter().copied()));
    // Those whose one cow is certain when they stand alone.
    let heard: Vec<(&str, String)> = lines(include_str!("../corpus/heard_sample.tsv"))
        .filter_map(|line| line.split('\t').nth(3))
        .filter_map(|note| {
            let reading = reader.read(note, VISIT, None);
            let [entry] = &reading.entries[..] else { return None };
            let asked = entry.flags.iter().any(|f| f.asks() && f.field == "cow");
            entry.cow.clone().filter(|cow| !asked && tags.contains(cow.as_str())).map(|cow| (note, cow))
        })
        .collect();
    let pairs: Vec<_> = heard.iter().zip(heard.iter().skip(7)).filter(|((_, a), (_, b))| a != b).collect();
    assert!(pairs.len() > 80, "{} pairs", pairs.len());
    let mut asked = 0;
    for ((first, a), (second, b)) in &pairs {
        let note = format!("{}. {second}", first.trim_end_matches('.'));
        let entries = reader.read(&note, VISIT, None).entries;
        let cows: Vec<&str> = entries.iter().filter_map(|e| e.cow.as_deref()).collect();
        if cows != [a.as_str(), b.as_str()] {
            asked += 1;
            assert!(entries.iter().any(|e| e.flags.iter().any(chutescribe::flag::Flag::asks)), "{note}: {cows:?}");
        }
    }
    assert!(asked * 100 <= pairs.len() * ASKED, "{asked} of {}", pairs.len());
}
