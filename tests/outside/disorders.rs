//! Disorders against the ICAR Claw Health Atlas.
//!
//! The Atlas itself was not at hand. Where a code is marked `Read`, it was read in papers that use the
//! Atlas's codes (Heringstad et al. 2018: SH SU WL DD ID HHE; Capion et al. 2024: CC; van der Spek et al.
//! 2013, with the same letters: IH IP DS). The others, and the wording of the names, are from memory.

use std::collections::BTreeSet;

use chutescribe::disorder::Disorder;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    Read,
    Memory,
}
use Mark::{Memory, Read};

const ATLAS: &[(&str, &str, Mark)] = &[
    ("AC", "Asymmetric claws", Memory),
    ("CD", "Concave dorsal wall", Memory),
    ("CC", "Corkscrew claws", Read),
    ("DD", "Digital dermatitis", Read),
    ("ID", "Interdigital or superficial dermatitis", Read),
    ("DS", "Double sole", Read),
    ("HHE", "Heel horn erosion", Read),
    ("HFA", "Axial horn fissure", Memory),
    ("HFH", "Horizontal horn fissure", Memory),
    ("HFV", "Vertical horn fissure", Memory),
    ("IH", "Interdigital hyperplasia", Read),
    ("IP", "Interdigital phlegmon", Read),
    ("SC", "Scissor claws", Memory),
    ("SH", "Sole haemorrhage", Read),
    ("SHD", "Sole haemorrhage diffuse", Memory),
    ("SHC", "Sole haemorrhage circumscribed", Memory),
    ("SW", "Swelling of coronet and or bulb", Memory),
    ("TS", "Thin sole", Memory),
    ("SU", "Sole ulcer", Read),
    ("BU", "Bulb ulcer", Memory),
    ("TU", "Toe ulcer", Memory),
    ("TN", "Toe necrosis", Memory),
    ("WL", "White line disease", Read),
    ("WLF", "White line fissure", Memory),
    ("WLA", "White line abscess", Memory),
];

fn words(name: &str) -> BTreeSet<String> {
    name.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()).map(str::to_lowercase).collect()
}

#[test]
fn the_codes_are_the_atlas_s() {
    let ours: BTreeSet<&str> = Disorder::ALL.iter().map(|d| d.code()).collect();
    let theirs: BTreeSet<&str> = ATLAS.iter().map(|row| row.0).collect();
    assert_eq!(ours, theirs);
}

/// Our names may be shorter ("interdigital dermatitis"), but say nothing that the Atlas does not, and
/// never go to another code.
#[test]
fn the_names_are_the_atlas_s() {
    for (code, name, _) in ATLAS {
        let ours = words(Disorder::from_code(code).expect("a code of the Atlas").name());
        assert!(ours.is_subset(&words(name)), "{code}: {ours:?} is not `{name}`");
        let nearest = ATLAS
            .iter()
            .max_by_key(|row| {
                let theirs = words(row.1);
                (theirs.intersection(&ours).count(), usize::MAX - theirs.len())
            })
            .expect("the table is not empty");
        assert_eq!(nearest.0, *code, "{ours:?} is nearer to `{}`", nearest.1);
    }
}

/// The Atlas has codes of groups too; a finding is never recorded under one.
#[test]
fn groups_are_no_disorders() {
    assert_eq!(Disorder::from_code("U"), None);
    assert_eq!(Disorder::from_code("HF"), None);
}

/// The codes go into the log and must be the same when it is read again.
#[test]
fn the_codes_are_what_is_written() {
    for d in Disorder::ALL {
        assert_eq!(serde_json::to_value(d).expect("a code"), d.code());
    }
}

#[test]
fn the_vocabulary_knows_every_name() {
    for (code, name, _) in ATLAS {
        // "Interdigital or superficial": one of the two is said.
        let said = name.replace(" or superficial", "").replace(" and or bulb", "");
        let note = format!("left hind outer {}", said.to_lowercase());
        let entry = super::read(&note).expect("one entry");
        let got: Vec<&str> = entry.findings.iter().filter_map(|f| f.disorder).map(Disorder::code).collect();
        assert_eq!(got, [*code], "{note}");
    }
}

#[test]
fn what_was_read_is_told_from_what_is_remembered() {
    let read: Vec<&str> = ATLAS.iter().filter(|row| row.2 == Read).map(|row| row.0).collect();
    assert_eq!(read, ["CC", "DD", "ID", "DS", "HHE", "IH", "IP", "SH", "SU", "WL"]);
}
