//! A text that primes a recogniser: notes as they are said, made of the vocabulary's own words.
//!
//! Notes and no list: a recogniser goes on in the manner of its prompt, and after words between commas it puts a
//! comma behind each word it hears.

use std::collections::HashSet;

use super::phrases::{Ears, trade};
use crate::anatomy::LAST_ZONE;
use crate::disorder::Disorder;
use crate::vocab::{Form, Meaning, Style, Vocabulary};

/// The longest prompt, in words: recognisers forget the beginning of a longer one.
const PROMPT: usize = 200;

/// Made-up cows, as a recogniser writes them.
const COWS: [&str; 6] = ["231", "1062", "84", "407", "516", "930"];
/// Feet and claws in turn: those that are trimmed most, and misheard most, come first.
const FEET: [&str; 4] = ["foot.RH", "foot.LH", "foot.RH", "foot.LF"];
const CLAWS: [&str; 2] = ["claw.outer", "claw.inner"];
/// What is done to a lesion of the claw, and of the skin.
const FOR_HORN: [&[&str]; 4] = [&["device.block", "device.wrap"], &["drain.any"], &["pare.any"], &["device.block"]];
const FOR_SKIN: [&[&str]; 3] = [&["topical.any", "device.wrap"], &["device.wrap"], &["vet.any"]];

/// At most 200 words: notes, those with what is easily misheard first; a user's own words before ours.
pub fn prompt(vocab: &Vocabulary) -> String {
    let ears = Ears::new(vocab);
    let mut lesions: Vec<(&Form, Disorder)> = Vec::new();
    for form in trade(vocab) {
        if let Meaning::Disorder(d) = form.meaning
            && !lesions.iter().any(|(_, seen)| *seen == d)
        {
            lesions.push((form, d));
        }
    }
    lesions.sort_by_key(|(form, _)| ears.risk(&form.text));
    let mut text = Text::default();
    let mine: Vec<&Form> = trade(vocab).filter(|f| !f.is_built_in()).collect();
    for forms in mine.chunks(8) {
        text.add(forms.iter().map(|f| f.text.as_str()).collect::<Vec<_>>().join(" "));
    }
    for (k, (form, disorder)) in lesions.iter().enumerate() {
        text.add(note(vocab, k, &form.text, *disorder));
    }
    text.sentences.join(". ") + "."
}

/// "Cow 231, right hind outer, sole ulcer zone 4, block inner wrap"
fn note(vocab: &Vocabulary, k: usize, lesion: &str, disorder: Disorder) -> String {
    let word = |term: &str| shortest(vocab, term);
    let (cow, foot) = (capital(word("cow.cue")), first(vocab, FEET[k % FEET.len()]));
    let number = COWS[k % COWS.len()];
    if disorder.needs_claw() {
        let claw = |k: usize| word(CLAWS[k / 3 % CLAWS.len()]);
        // Of a disorder that has its zones.
        let zone = (1..=LAST_ZONE).find(|z| disorder.fits_zone(*z) && !disorder.fits_zone(LAST_ZONE));
        let zone = zone.map(|z| format!(" {} {z}", word("zone.cue"))).unwrap_or_default();
        let deeds = FOR_HORN[k % FOR_HORN.len()].iter().map(|deed| match *deed {
            block @ "device.block" => format!("{} {}", word(block), claw(k + 3)),
            deed => word(deed).to_owned(),
        });
        let deeds = deeds.collect::<Vec<_>>().join(", ");
        format!("{cow} {number}, {foot} {}, {lesion}{zone}, {deeds}", claw(k))
    } else {
        let stage = if disorder == Disorder::DD { " M2" } else { "" };
        let how = word(if k.is_multiple_of(2) { "course.healed" } else { "severity.1" });
        let deeds: Vec<&str> = FOR_SKIN[k % FOR_SKIN.len()].iter().map(|deed| word(deed)).collect();
        format!("{cow} {number}, {foot}, {lesion}{stage}, {how}, {}", deeds.join(", "))
    }
}

fn first<'a>(vocab: &'a Vocabulary, term: &str) -> &'a str {
    vocab.forms().iter().find(|f| f.term == term && f.style == Style::Spoken).map_or("", |f| &f.text)
}

/// The first form of a term that is one word, or its first.
fn shortest<'a>(vocab: &'a Vocabulary, term: &str) -> &'a str {
    let mut forms = vocab.forms().iter().filter(|f| f.term == term && f.style == Style::Spoken);
    forms.find(|f| !f.text.contains(' ')).map_or_else(|| first(vocab, term), |f| &f.text)
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map(|c| c.to_uppercase().chain(chars).collect()).unwrap_or_default()
}

/// Sentences, as long as there is room.
#[derive(Default)]
struct Text {
    sentences: Vec<String>,
    words: usize,
    seen: HashSet<String>,
}

impl Text {
    fn add(&mut self, sentence: String) {
        let words = sentence.split_whitespace().count();
        if self.words + words <= PROMPT && self.seen.insert(sentence.clone()) {
            self.words += words;
            self.sentences.push(sentence);
        }
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;
    use crate::read::Reader;

    #[test]
    fn a_prompt_is_short_and_of_the_trade() {
        let text = prompt(&Vocabulary::built_in());
        let words = text.split_whitespace().count();
        assert!((100..=PROMPT).contains(&words), "{words}: {text}");
        for word in ["outer", "inner", "hind", "block", "wrap", "ulcer", "zone"] {
            assert!(text.contains(word), "{word}: {text}");
        }
    }

    #[test]
    fn its_notes_are_read_as_notes() {
        let vocab = Vocabulary::built_in();
        let text = prompt(&vocab);
        let reader = Reader::new(vocab);
        let day = NaiveDate::from_ymd_opt(2026, 3, 12).expect("a day");
        for note in text.trim_end_matches('.').split(". ") {
            let reading = reader.read(note, day, None);
            let found = reading.entries.iter().all(|e| e.cow.is_some() && e.findings.iter().any(|f| f.foot.is_some()));
            assert!(found, "{note}: {:?}", reading.entries);
        }
    }
}
