//! Everyday English must not become a finding: `everyday.txt`, 2000 examples of use from `WordNet` 3.0.
//!
//! Nobody speaks of hooves in them, so whatever is read with certainty was made up. A word of the trade
//! ("corn", "block") may be asked about; that the cow is asked about does not count, as no sentence names
//! one.

use chutescribe::flag::FlagKind;

use super::{lines, none, read};

const SENTENCES: &str = include_str!("everyday.txt");

#[test]
fn the_sample_is_whole() {
    assert_eq!(lines(SENTENCES).count(), 2000);
}

#[test]
fn no_sentence_is_a_finding_for_certain() {
    let made_up = |said: &str| {
        let entry = read(said)?;
        let asked = entry.questions().any(|q| q.kind != FlagKind::CowMissing);
        let codes: Vec<&str> = entry.findings.iter().map(|f| f.disorder.map_or("?", |d| d.code())).collect();
        (!codes.is_empty() && !asked).then(|| format!("{}: `{said}`", codes.join(" ")))
    };
    none(&lines(SENTENCES).filter_map(made_up).collect::<Vec<_>>(), 2000);
}

/// "I'm supposed to be there at ten": a number is a cow only after a cue, or where the note begins with it.
#[test]
fn no_sentence_names_a_cow() {
    let made_up = |said: &str| {
        let cow = read(said)?.cow?;
        Some(format!("cow {cow}: `{said}`"))
    };
    none(&lines(SENTENCES).filter_map(made_up).collect::<Vec<_>>(), 2000);
}
