//! A herd settles what a number was, and what was heard twice.

use chutescribe::vocab::Vocabulary;
use chutescribe::{Entry, Reader};

use super::{VISIT, herd};

fn reader(tags: &[&str]) -> Reader {
    Reader::new(Vocabulary::built_in()).with_roster(herd(tags.iter().copied()))
}

fn only(mut entries: Vec<Entry>) -> Entry {
    assert_eq!(entries.len(), 1, "{entries:?}");
    entries.remove(0)
}

/// The cow, and what is asked about her.
fn cow(note: &str, tags: &[&str]) -> (Option<String>, Vec<String>) {
    let entry = only(reader(tags).read(note, VISIT, None).entries);
    let asked = entry.questions().filter(|f| f.field == "cow").flat_map(|f| &f.options);
    (entry.cow.clone(), asked.filter_map(|o| o.as_str().map(str::to_owned)).collect())
}

#[test]
fn a_word_that_sounds_like_the_beginning_of_a_tag_is_taken_for_it() {
    // "cow nine eighty eight", "cow nine fifty five", "cow one ninety eight", "cow four oh six"
    for (note, tag, read) in [
        ("Halmine 88, left hind wart", "988", "88"),
        ("Technine 5.5, left hind wart", "955", "55"),
        ("Cowan 98, left hind wart", "198", "98"),
        ("Cow four Osix, left hind wart", "406", "46"),
    ] {
        let (cow, asked) = cow(note, &[tag, "18", "355", "83", "818", "16", "36"]);
        assert_eq!(cow.as_deref(), Some(tag), "{note}");
        // Asked, where another tag is as near as a slip of one figure.
        assert_eq!(asked, [tag, read], "{note}");
    }
    // Two tags that sound as much like it: the nearest are only offered.
    let (cow, asked) = cow("Cow 98, left hind wart", &["198", "298"]);
    assert_eq!(cow.as_deref(), Some("98"));
    assert!(asked.contains(&"198".to_owned()) && asked.contains(&"298".to_owned()), "{asked:?}");
}

#[test]
fn a_word_before_a_number_may_be_a_digit_of_it() {
    assert_eq!(cow("Alright, next, once 448, left hind wart", &["448"]), (Some("448".to_owned()), vec![]));
    assert_eq!(cow("next once for 48, left hind wart", &["448", "12"]), (Some("448".to_owned()), vec![]));
}

#[test]
fn of_two_hearings_the_cow_of_the_herd_is_believed() {
    let two = ["Cal150, left hind wart", "cow one fifty nine left hind wart"];
    let entry = only(reader(&["150"]).read_hearings(&two, VISIT, None).entries);
    assert_eq!(entry.cow.as_deref(), Some("150"));
    assert_eq!(entry.questions().count(), 0, "{:?}", entry.flags);
    let entry = only(reader(&["150", "159"]).read_hearings(&two, VISIT, None).entries);
    assert!(entry.questions().any(|f| f.field == "cow"), "the herd has both");
}

#[test]
fn a_hearing_that_knows_everyday_words_leads_where_it_was_understood() {
    let reader = reader(&["426"]);
    let two = [
        "Cow 426, foul in both front feet. Vet's been told.",
        "cow four twenty six swollen both front feet wrapped thin sole",
    ];
    let reading = reader.read_hearings(&two, VISIT, None);
    assert_eq!(reading.led, 0);
    let feet: Vec<_> = only(reading.entries).findings.into_iter().filter_map(|f| f.disorder).collect();
    assert!(feet.iter().all(|d| format!("{d:?}") == "IP"), "{feet:?}");
    // One that leaves something to ask has lost it.
    let two = ["cow 5, right hind wart", "cow 5 right hind word"];
    assert_eq!(reader.read_hearings(&two, VISIT, None).led, 0);
    assert_eq!(reader.read_hearings(&[two[1], two[0]], VISIT, None).led, 1);
}

#[test]
fn two_words_may_share_the_sound_between_them() {
    let entry = only(reader(&["518"]).read("Cow 518, right hind outer, just a brew zone 4.", VISIT, None).entries);
    let found: Vec<_> =
        entry.findings.iter().map(|f| (f.disorder.map(|d| format!("{d:?}")), f.zones.clone())).collect();
    assert_eq!(found, [(Some("SH".to_owned()), vec![4])]);
}

#[test]
fn what_only_the_trade_s_words_have_is_laid_aside_and_asked() {
    let two = [
        "Cow 1008, growth between the claws right hind, leave it.",
        "cow one thousand and eight growth between the claws right hind the vet",
    ];
    let entry = only(reader(&["1008"]).read_hearings(&two, VISIT, None).entries);
    assert!(entry.actions.is_empty(), "{:?}", entry.actions);
    let vet = entry.questions().find(|f| f.field == "actions[0]").expect("it is asked");
    assert!(vet.options[0].is_null() && vet.options[1]["what"] == "vet", "{:?}", vet.options);
}
