//! A log that was cut off and had bytes flipped anywhere: every line that is still whole is read, every other named.

use std::collections::HashSet;

use chutescribe::log::check::check_twice;
use chutescribe::log::read;
use chutescribe::log::seal::Parts;
use proptest::prelude::*;

use crate::{VISIT, cases};

const LOG: &[u8] = include_bytes!("../../demo/log.jsonl");

/// What happens to a file; places are in thousandths, so that they fit whatever is left of it.
#[derive(Clone, Copy, Debug)]
enum Rot {
    CutOff(usize),
    Flip(usize, u8),
    /// A run of zeros, as a file system leaves them after a loss of power.
    Zeros(usize, usize),
    /// A stretch is gone.
    Gone(usize, usize),
}

fn rot() -> impl Strategy<Value = Rot> {
    let place = || 0_usize..=100_000;
    prop_oneof![
        1 => place().prop_map(Rot::CutOff),
        6 => (place(), 1_u8..).prop_map(|(at, mask)| Rot::Flip(at, mask)),
        // Line ends matter most.
        2 => place().prop_map(|at| Rot::Flip(at, b'\n' ^ b'"')),
        1 => (place(), 1_usize..600).prop_map(|(at, n)| Rot::Zeros(at, n)),
        1 => (place(), 1_usize..600).prop_map(|(at, n)| Rot::Gone(at, n)),
    ]
}

fn rotten(rots: &[Rot]) -> Vec<u8> {
    let mut bytes = LOG.to_vec();
    for rot in rots {
        let len = bytes.len();
        let place = |at: usize| at * len / 100_001;
        match *rot {
            Rot::CutOff(at) => bytes.truncate(place(at)),
            Rot::Flip(at, mask) => {
                if let Some(byte) = bytes.get_mut(place(at)) {
                    *byte ^= mask;
                }
            }
            Rot::Zeros(at, n) => {
                let at = place(at);
                bytes[at..(at + n).min(len)].fill(0);
            }
            Rot::Gone(at, n) => {
                let at = place(at);
                bytes.drain(at..(at + n).min(len));
            }
        }
    }
    bytes
}

/// Whether neither this line nor one before it has a seal.
fn before_all_seals(bytes: &[u8], at: usize) -> bool {
    bytes.split(|b| *b == b'\n').take(at + 1).all(|line| Parts::of(line).seal.is_none())
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn what_is_whole_is_read_and_all_else_is_named(rots in prop::collection::vec(rot(), 1..6)) {
        let bytes = rotten(&rots);
        let log = read::read("log", bytes.as_slice()).unwrap();
        let report = check_twice(bytes.as_slice(), bytes.as_slice(), Some(VISIT)).unwrap();
        let read: HashSet<usize> = log.records.iter().map(|r| r.0).collect();
        let bad: HashSet<usize> = log.problems.iter().map(|p| p.line).collect();
        let found: HashSet<usize> = report.findings.iter().map(|f| f.line).collect();
        let sound: HashSet<&[u8]> = LOG.split(|b| *b == b'\n').collect();
        for (at, line) in bytes.split(|b| *b == b'\n').enumerate() {
            let number = at + 1;
            if line.trim_ascii().is_empty() {
                continue;
            }
            if sound.contains(line) {
                prop_assert!(read.contains(&number), "line {} is whole and was not read", number);
            } else if sound.contains(line.trim_ascii()) {
                // Blanks around a line are no change.
                prop_assert!(read.contains(&number) || bad.contains(&number));
            } else if before_all_seals(&bytes, at) {
                // These are named together.
                prop_assert!(found.iter().min() <= Some(&number));
            } else {
                prop_assert!(found.contains(&number), "line {} is not as it was and is not named", number);
            }
            prop_assert!(read.contains(&number) != bad.contains(&number), "line {} is read or named", number);
        }
    }

    /// Lines that are gone from the middle: the line after the hole is named.
    #[test]
    fn a_hole_is_noticed(from in 0_usize..34, many in 1_usize..5) {
        let lines: Vec<&[u8]> = LOG.split_inclusive(|b| *b == b'\n').collect();
        let to = (from + many).min(lines.len() - 1);
        let bytes = [&lines[..from], &lines[to..]].concat().concat();
        let report = check_twice(bytes.as_slice(), bytes.as_slice(), None).unwrap();
        prop_assert!(report.findings.iter().any(|f| f.line == from + 1), "after line {}", from);
    }
}
