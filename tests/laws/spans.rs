//! Words and matches tile the note: in order, without overlap, nothing said left out.

use chutescribe::matches::How;
use chutescribe::words::{self, Span};
use proptest::prelude::*;

use crate::notes::any_note;
use crate::{READER, cases, read};

/// In order, not empty, without overlap, on the borders of characters.
fn tiles(note: &str, spans: &[Span]) -> Result<(), TestCaseError> {
    let mut end = 0;
    for span in spans {
        let (from, to) = (span.start as usize, span.end as usize);
        prop_assert!(end <= from, "{span:?} begins before {end}");
        prop_assert!(from < to, "{span:?} is empty");
        prop_assert!(note.is_char_boundary(from) && note.is_char_boundary(to), "{span:?} cuts a character");
        end = to;
    }
    prop_assert!(end <= note.len());
    Ok(())
}

/// Every letter and digit of the note is in one of the spans.
fn covers(note: &str, spans: &[Span]) -> Result<(), TestCaseError> {
    for (at, c) in note.char_indices().filter(|(_, c)| c.is_alphanumeric()) {
        let inside = spans.iter().any(|s| (s.start as usize..s.end as usize).contains(&at));
        prop_assert!(inside, "{c:?} at {at} is in no span");
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn words_tile_any_note(note in any_note()) {
        for known in [false, true] {
            let spans: Vec<Span> = words::cut(&note, |_| known).iter().map(|w| w.span).collect();
            tiles(&note, &spans)?;
            covers(&note, &spans)?;
        }
    }

    /// A match takes whole words, and every word is in one.
    #[test]
    fn matches_tile_the_words_of_any_note(note in any_note()) {
        // Terms that grew together in a heard word ("K62", "endother") share it: such matches count as one.
        let mut spans: Vec<Span> = Vec::new();
        for tok in &read(&note).toks {
            match spans.last_mut() {
                Some(last) if matches!(tok.how, How::Near { .. }) && tok.span.start < last.end => *last = last.to(tok.span),
                _ => spans.push(tok.span),
            }
        }
        tiles(&note, &spans)?;
        for word in words::cut(&note, |w| READER.vocabulary().knows(w)) {
            let whole = spans.iter().filter(|s| s.start <= word.span.start && word.span.end <= s.end).count();
            prop_assert_eq!(whole, 1, "`{}` is in {} matches", word.text, whole);
        }
    }

    /// A flag points into the words of its entry.
    #[test]
    fn flags_point_into_what_was_said(note in any_note()) {
        for entry in read(&note).entries {
            for flag in &entry.flags {
                if let Some([from, to]) = flag.at {
                    prop_assert!(from <= to);
                    prop_assert!(entry.said.get(from..to).is_some(), "{:?} in `{}`", flag, entry.said);
                }
            }
        }
    }
}

/// What a message quotes is what the flag points at, for the second cow of a note as for the first.
#[test]
fn a_flag_points_at_what_its_message_quotes() {
    for note in
        ["cow ten, left hind sole ulcer", "cow ten, clean. cow twelve, left hind sole ulcer", "  left hind sole ulcer"]
    {
        let entry = read(note).entries.pop().expect("an entry");
        let flag = entry.flags.iter().find(|f| f.message.contains("`sole ulcer`")).expect("the claw is asked");
        let [from, to] = flag.at.expect("a place");
        assert_eq!(entry.said.get(from..to), Some("sole ulcer"), "in `{}`", entry.said);
    }
}

/// White space before a note is no part of what was said: the doubt about its cows points behind it.
#[test]
fn a_doubt_about_the_cows_points_at_its_words() {
    let note = "\tºl0 \"À\u{e000}À{q\u{3347a}1";
    let entry = read(note).entries.remove(0);
    let flag = entry.flags.iter().find(|f| f.field == "cow" && f.at.is_some()).expect("how many cows is asked");
    let [from, to] = flag.at.expect("a place");
    let words = entry.said.get(from..to).expect("words of the entry");
    assert!(flag.message.starts_with(&format!("`{words}`")), "{} points at `{words}`", flag.message);
}
