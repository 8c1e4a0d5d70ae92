//! What the margin trades: wrong readings that nobody is asked about against questions.
//!
//! `cargo test --release --test hearing -- --nocapture curve` prints it.

use std::collections::BTreeMap;

use chutescribe::matches::Tuning;
use chutescribe::{Reader, vocab::Vocabulary};

use crate::score::{self, Meant, Tally};
use crate::{VISIT, herd, lines};

const TYPED: &str = include_str!("../corpus/typed.tsv");
const HEARD: &str = include_str!("../corpus/heard_sample.tsv");

/// Margins in hundredths of a sound; `vocab/tuning.toml` has one of them.
const MARGINS: [u32; 5] = [20, 34, 50, 70, 100];

/// What the sample reaches with the built-in tuning, less a little.
const F1: f64 = 0.91;
const SILENT: usize = 5;
const NEEDLESS: usize = 21;

fn meanings() -> BTreeMap<&'static str, Vec<Meant>> {
    let cells = lines(TYPED).map(|l| l.split('\t').collect::<Vec<_>>());
    cells.map(|c| (c[0], score::meant(c[2], VISIT))).collect()
}

fn tally(reader: &Reader, meanings: &BTreeMap<&str, Vec<Meant>>) -> Tally {
    let mut tally = Tally::default();
    for line in lines(HEARD) {
        let cells: Vec<&str> = line.split('\t').collect();
        tally.add(&meanings[cells[0]], &reader.read(cells[3].trim(), VISIT, None).entries);
    }
    tally
}

#[test]
fn curve() {
    let meanings = meanings();
    let tags = lines(TYPED).flat_map(|l| l.split(['\t', '|', ' '])).filter_map(|w| w.strip_prefix("cow="));
    let herd = herd(tags);
    println!("margin     F1  exact  silent  needless  questions   of 150 heard notes");
    let mut before: Option<Tally> = None;
    for margin in MARGINS {
        let tuning = Tuning { margin, ..Tuning::default() };
        let own = tuning.margin == Tuning::default().margin;
        let reader = Reader::tuned(Vocabulary::built_in(), tuning).with_roster(herd.clone());
        let t = tally(&reader, &meanings);
        let mark = if own { "  built in" } else { "" };
        println!(
            "{margin:>6}  {:.3}  {:>5}  {:>6}  {:>8}  {:>9}{mark}",
            t.f1(),
            t.exact,
            t.silent,
            t.needless,
            t.questions
        );
        if let Some(less) = before {
            assert!(t.silent <= less.silent + 2, "margin {margin}: a wider margin asks about less: {t:?}");
            assert!(t.questions + 2 >= less.questions, "margin {margin}: a wider margin asks less: {t:?}");
            assert!(
                (t.f1() - less.f1()).abs() < 0.01,
                "margin {margin}: the margin decides what is asked, not what is read: {t:?}"
            );
        }
        if own {
            assert_eq!(t.notes, 150);
            assert!(t.f1() >= F1, "F1 {:.4} fell below {F1}", t.f1());
            assert!(t.silent <= SILENT, "{} silent errors, {SILENT} at most", t.silent);
            assert!(t.needless <= NEEDLESS, "{} needless questions, {NEEDLESS} at most", t.needless);
        }
        before = Some(t);
    }
    assert!(MARGINS.contains(&Tuning::default().margin), "the built-in margin is not on the curve");
}

/// A check of the scorer: typed, the same notes are right; each kind of fault is counted as what it is.
#[test]
fn faults_are_counted_as_what_they_are() {
    let reader = Reader::new(Vocabulary::built_in());
    let scored = |said: &str, meaning: &str| {
        let mut t = Tally::default();
        t.add(&score::meant(meaning, VISIT), &reader.read(said, VISIT, None).entries);
        (t.exact, t.silent, t.needless, t.missing_and_extra())
    };
    let said = "cow 231, left hind outer, ulcer zone four, block inner, wrap";
    assert_eq!(scored(said, "cow=231 | LH outer SU z4 | block LH inner | wrap LH"), (1, 0, 0, (0, 0)));
    assert_eq!(scored(said, "cow=231 | LH outer SU z4? | block LH inner | wrap LH?"), (1, 0, 0, (0, 0)));
    assert_eq!(scored(said, "cow=231 | LH outer SU z4 s2 | block LH inner"), (0, 1, 0, (1, 1)));
    assert_eq!(scored(said, "cow=231 | LH outer SU z4 | block LH inner | wrap LH | ask severity"), (0, 1, 0, (0, 0)));
    assert_eq!(scored("cow 231, left hind ulcer", "cow=231 | LH SU"), (1, 0, 1, (0, 0)));
    assert_eq!(scored("cow 231, left hind ulcer", "cow=231 | ask claw"), (1, 0, 0, (0, 0)));

    let mut typed = Tally::default();
    for line in lines(TYPED).filter(|l| l.starts_with('d')) {
        let cells: Vec<&str> = line.split('\t').collect();
        typed.add(&score::meant(cells[2], VISIT), &reader.read(cells[1], VISIT, None).entries);
    }
    assert!(typed.f1() >= 0.99 && typed.silent == 0 && typed.needless <= typed.notes / 50, "{typed:?}");
}
