//! One sample for every kind of flag: its rendering is a snapshot, read by a person before it was kept.
//!
//! `INSTA_UPDATE=always cargo test --test flags` writes the snapshots anew; read every one that changed.

mod render;
mod samples;

use std::sync::LazyLock;

use chrono::NaiveDate;
use chutescribe::flag::{Flag, FlagKind, Level};
use chutescribe::{Entry, Reader, vocab::Vocabulary};

use samples::{ALL, sample};

const VISIT: NaiveDate = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();

/// Kinds that nothing can produce yet: they belong to hearing, and to corrections that find nothing.
const LATER: &[FlagKind] =
    &[FlagKind::HearingsDiffer, FlagKind::TwoReadings, FlagKind::Misheard, FlagKind::CorrectionOpen];

static READER: LazyLock<Reader> = LazyLock::new(|| Reader::new(Vocabulary::built_in()));

fn read(note: &str) -> Entry {
    let mut entries = READER.read(note, VISIT, Some("411")).entries;
    assert_eq!(entries.len(), 1, "a sample is about one cow: {note}");
    entries.remove(0)
}

/// The name of a kind as it stands in the log.
fn name(kind: FlagKind) -> String {
    serde_json::to_value(kind).expect("a kind").as_str().expect("a name").to_owned()
}

#[test]
fn every_kind_has_a_sample() {
    for kind in ALL {
        assert_eq!(sample(*kind).is_none(), LATER.contains(kind), "{kind:?}");
    }
}

/// A sample shows its flag and no other, so that nothing needless is asked beside it.
#[test]
fn every_sample_raises_its_flag_alone() {
    for kind in ALL {
        let Some(note) = sample(*kind) else { continue };
        let kinds: Vec<FlagKind> = read(note).flags.iter().map(|f| f.kind).collect();
        assert_eq!(kinds, [*kind], "{note}");
    }
}

#[test]
fn every_flag_is_rendered_as_it_was_read() {
    for kind in ALL {
        let Some(note) = sample(*kind) else { continue };
        let entry = read(note);
        let flag = entry.flags.iter().find(|f| f.kind == *kind).unwrap_or_else(|| panic!("{kind:?}: {note}"));
        insta::assert_snapshot!(name(*kind), render::render(&entry.said, flag));
    }
}

/// Every question but a few offers at least two answers.
#[test]
fn questions_offer_answers() {
    // What "ditto" repeats, which cow it is, and which zone was meant only a person can say.
    let open = [FlagKind::SameOpen, FlagKind::CowMissing, FlagKind::ZoneUnknown];
    for kind in ALL {
        let Some(note) = sample(*kind) else { continue };
        for flag in read(note).flags.iter().filter(|f| f.level == Level::Ask && !open.contains(&f.kind)) {
            assert!(flag.options.len() >= 2, "{kind:?}: {:?}", flag.options);
        }
    }
}

/// Bytes are not columns: the mark stands under the words even after letters of several bytes.
#[test]
fn the_mark_stands_under_the_words() {
    let entry = read("cow 12, señora — left hind sole ulcer");
    let flag = entry.flags.iter().find(|f| f.kind == FlagKind::ClawMissing).expect("the claw is asked");
    insta::assert_snapshot!("mark_after_wide_letters", render::render(&entry.said, flag));
}

/// A flag without a place marks nothing.
#[test]
fn no_place_no_mark() {
    let flag = Flag::ask(FlagKind::CowMissing, "cow", "which cow? none was named");
    assert_eq!(render::render("left hind wart", &flag), "left hind wart\n\nask cow: which cow? none was named\n");
}
