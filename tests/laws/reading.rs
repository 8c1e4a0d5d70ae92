//! Reading never fails, always says the same, and loses no word.

use chutescribe::vocab::Meaning;
use chutescribe::{Entry, Reading};
use proptest::prelude::*;

use crate::notes::{any_note, jumble};
use crate::{READER, cases, read};

/// What becomes of the words that nobody knows: a remark, a flag that points at them, or a tag with letters.
fn accounted(entries: &[Entry], word: &str) -> bool {
    entries.iter().any(|e| {
        let remark = e.remarks.iter().any(|r| r.contains(word));
        let flag = e.flags.iter().any(|f| f.message.contains(word));
        let tag = e.cow.as_ref().is_some_and(|c| c.contains(&word.to_uppercase()));
        remark || flag || tag
    })
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn any_note_is_read_twice_the_same(note in any_note()) {
        let (one, two) = (read(&note), read(&note));
        prop_assert_eq!(one.entries, two.entries);
        prop_assert_eq!(one.toks, two.toks);
    }

    /// The words of a note are shared out among its entries; a note of words has at least one.
    #[test]
    fn any_note_of_words_is_kept(note in any_note()) {
        let entries = read(&note).entries;
        prop_assert!(!entries.is_empty() || !note.chars().any(char::is_alphanumeric));
        let mut rest = note.as_str();
        for entry in &entries {
            let at = rest.find(entry.said.as_str());
            prop_assert!(at.is_some(), "`{}` is not in `{}`", entry.said, rest);
            rest = &rest[at.unwrap_or(0) + entry.said.len()..];
        }
        let kept: usize = entries.iter().map(|e| e.said.chars().filter(|c| c.is_alphanumeric()).count()).sum();
        prop_assert_eq!(kept, note.chars().filter(|c| c.is_alphanumeric()).count());
    }

    /// A correction ("scratch that", "no,") may take words back; without one nothing goes.
    #[test]
    fn no_unknown_word_is_lost(note in jumble()) {
        let reading = read(&note);
        let corrects = |m| matches!(m, Some(Meaning::Drop | Meaning::Change | Meaning::Not));
        prop_assume!(!reading.toks.iter().any(|t| corrects(t.meaning)));
        prop_assert_eq!(lost(&reading, &note), None, "{:?}", reading.entries);
    }

    /// A number between words that nobody knows is kept as something, or told to belong to nothing. Where the
    /// words sound like a time or a unit ("uqs" for weeks) it is counted in there, and that is asked about.
    #[test]
    fn no_number_is_lost(number in 100_u32..10_000, before in "[a-z]{3,8}", after in "[a-z]{3,8}") {
        prop_assume!([&before, &after].iter().all(|w| !READER.vocabulary().knows(w)));
        let note = format!("cow 12, left hind wart, {before} {number} {after}");
        let asked = |e: &Entry| e.questions().any(|f| f.field.starts_with("due") || f.field.starts_with("measures"));
        prop_assert!(kept(&note, &number.to_string()) || read(&note).entries.iter().any(asked), "{}", note);
    }
}

/// The first word that was not understood and is nowhere in what was made of the note.
fn lost<'a>(reading: &Reading, note: &'a str) -> Option<&'a str> {
    let unknown = reading.toks.iter().filter(|t| t.meaning.is_none());
    unknown.map(|t| t.span.of(note)).find(|word| !accounted(&reading.entries, word))
}

/// Found by chance: `º` is an `o` in a word, and two bytes in the note.
#[test]
fn a_sign_that_stands_for_a_letter_is_read() {
    for note in ["dºM0", "cow 12, LH ddºm2", "RHª z4"] {
        assert!(!read(note).entries.is_empty(), "{note}");
    }
}

/// Found by chance: what counts the cows to come took an unknown word with it.
#[test]
fn how_many_are_left_to_do_takes_no_word() {
    for note in [
        "two fores qak 0-two left to do worn to a wafer any of her feet",
        "blk on leave on 0.0\nkg, 18.0 — any of her feet",
    ] {
        assert_eq!(lost(&read(note), note), None, "{note}");
    }
}

/// Whether the words stand anywhere in what was made of the note, the note itself aside.
fn kept(note: &str, words: &str) -> bool {
    read(note).entries.into_iter().any(|mut entry| {
        entry.said.clear();
        serde_json::to_string(&entry).expect("an entry is JSON").contains(words)
    })
}

/// A month makes no date of any number: what is no day of it must be told.
#[test]
fn a_number_after_a_month_is_not_lost() {
    assert!(kept("cow 12, left hind wart, January 100", "100"));
}

/// Nonsense that sounds a little like "scratch it" takes nothing back.
#[test]
fn a_number_before_what_sounds_like_taking_back_is_not_lost() {
    for nonsense in ["cekrejt", "xryqzyt"] {
        assert!(kept(&format!("cow 12, left hind wart, aaa 100 {nonsense}"), "100"), "{nonsense}");
    }
}

/// A number in front of the cow's own is no cow, and is not lost for that.
#[test]
fn a_number_before_the_cow_is_not_lost() {
    assert!(kept("A17 cow 12, trimmed", "A17"));
}

/// Figures too large for any foot or calendar are no reason to stop.
#[test]
fn huge_numbers_are_read_without_a_panic() {
    for n in ["18446744073709551615", "99999999999999999", "4294967296", "9223372036854775807"] {
        for note in [
            format!("recheck in {n} weeks"),
            format!("recheck in {n} months"),
            format!("left hind toe length {n} inches"),
            format!("zone {n} wart left hind"),
            format!("locomotion {n}"),
            format!("cow {n} thousand"),
            format!("cow 12, {n} hundred thousand"),
            format!("M {n} left hind"),
            format!("recheck March {n}"),
        ] {
            read(&note);
        }
    }
}

/// Longer than any note: kept whole, and asked about.
#[test]
fn a_very_long_note_is_kept_whole_and_asked_about() {
    let note = format!("cow 12, {} left hind wart", "so ".repeat(70_000));
    let entries = read(&note).entries;
    assert_eq!(entries.len(), 1);
    assert_eq!(entries[0].remarks, [note.trim()]);
    assert!(entries[0].questions().next().is_some());
}
