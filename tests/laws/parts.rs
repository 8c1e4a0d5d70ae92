//! A note made of valid parts keeps its parts: foot, claw, zone and disorder come out as they went in.

use chutescribe::anatomy::{Claw, Foot, LAST_ZONE};
use chutescribe::disorder::Disorder;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};

use crate::{cases, read};

/// A finding as a speaker would put it, and what it is.
#[derive(Clone, Debug)]
struct Part {
    foot: Foot,
    claw: Option<Claw>,
    disorder: Disorder,
    zone: Option<u8>,
    words: Words,
}

/// Which of the ways to say it is taken.
#[derive(Clone, Debug)]
struct Words {
    foot: usize,
    claw: usize,
    /// The place stands after the disorder.
    after: bool,
    digits: bool,
}

fn foot_words(foot: Foot, way: usize) -> &'static str {
    let ways = match foot {
        Foot::LF => ["left front", "front left", "left fore", "near fore"],
        Foot::RF => ["right front", "front right", "right fore", "off fore"],
        Foot::LH => ["left hind", "back left", "left rear", "near hind"],
        Foot::RH => ["right hind", "back right", "right rear", "off hind"],
    };
    ways[way % ways.len()]
}

fn claw_words(claw: Claw, way: usize) -> &'static str {
    let ways = match claw {
        Claw::Outer => ["outer", "outside", "lateral", "outer claw"],
        Claw::Inner => ["inner", "inside", "medial", "inner claw"],
    };
    ways[way % ways.len()]
}

const NUMBERS: [&str; 13] =
    ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

impl Part {
    fn said(&self) -> String {
        let mut place = foot_words(self.foot, self.words.foot).to_owned();
        if let Some(claw) = self.claw {
            place = format!("{place} {}", claw_words(claw, self.words.claw));
        }
        let zone = match self.zone {
            Some(z) if self.words.digits => format!(" zone {z}"),
            Some(z) => format!(" zone {}", NUMBERS[usize::from(z)]),
            None => String::new(),
        };
        let name = self.disorder.name().replace(',', "");
        if self.words.after { format!("{name}{zone} {place}") } else { format!("{place} {name}{zone}") }
    }
}

fn part(foot: Foot) -> impl Strategy<Value = Part> {
    let words = (0_usize..4, 0_usize..4, any::<bool>(), any::<bool>()).prop_map(|(foot, claw, after, digits)| Words {
        foot,
        claw,
        after,
        digits,
    });
    // The name of this one holds the word "or", which no speaker would say.
    let named: Vec<Disorder> = Disorder::ALL.iter().copied().filter(|d| *d != Disorder::SW).collect();
    (select(named), select(vec![Claw::Outer, Claw::Inner]), any::<prop::sample::Index>(), any::<bool>(), words)
        .prop_map(move |(disorder, claw, zone, zoned, words)| {
            let zones: Vec<u8> = (0..=LAST_ZONE).filter(|z| disorder.fits_zone(*z)).collect();
            Part {
                foot,
                claw: disorder.needs_claw().then_some(claw),
                disorder,
                // The shape of a whole claw sits in none.
                zone: (zoned && !zones.is_empty()).then(|| *zone.get(&zones)),
                words,
            }
        })
}

/// What is compared of a finding.
type Facts = (Option<Foot>, Option<Claw>, Vec<u8>, Option<Disorder>);

/// One finding on each of some of the feet.
fn parts() -> impl Strategy<Value = Vec<Part>> {
    subsequence(Foot::ALL.to_vec(), 1..=4)
        .prop_shuffle()
        .prop_flat_map(|feet| feet.into_iter().map(part).collect::<Vec<_>>())
}

proptest! {
    #![proptest_config(cases(2000))]

    #[test]
    fn a_note_keeps_its_parts(cow in 1_u32..9999, parts in parts(), stop in any::<bool>()) {
        // Commas between findings only where every place stands before its finding.
        let stop = stop || parts.iter().any(|p| p.words.after);
        let said: Vec<String> = parts.iter().map(Part::said).collect();
        let note = format!("cow {cow}, {}", said.join(if stop { ". " } else { ", " }));
        let reading = read(&note);
        prop_assert_eq!(reading.entries.len(), 1, "{}", &note);
        let entry = &reading.entries[0];
        prop_assert_eq!(entry.cow.clone(), Some(cow.to_string()), "{}", &note);
        let mut got: Vec<Facts> =
            entry.findings.iter().map(|f| (f.foot, f.claw, f.zones.clone(), f.disorder)).collect();
        let mut wanted: Vec<Facts> =
            parts.iter().map(|p| (Some(p.foot), p.claw, p.zone.into_iter().collect(), Some(p.disorder))).collect();
        got.sort();
        wanted.sort();
        prop_assert_eq!(got, wanted, "{}", &note);
        let asks: Vec<&str> = entry.questions().map(|q| q.message.as_str()).collect();
        prop_assert!(asks.is_empty(), "{} asks {:?}", &note, asks);
    }
}
