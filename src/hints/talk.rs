//! Notes as a trimmer could say them, out of the vocabulary's spoken forms and the grammar's kinds of phrases.

mod deeds;
mod lesions;
mod places;

use std::collections::BTreeMap;

use super::dice::Dice;
use super::numbers;
use crate::vocab::{Style, Vocabulary};

/// Forms with their weights summed up so far.
type Forms<'a> = Vec<(f64, &'a str)>;

/// Makes notes.
pub(super) struct Talker<'a> {
    /// By `kind.name`, and by `kind` for all of a kind.
    forms: BTreeMap<String, Forms<'a>>,
    tags: &'a [String],
    dice: Dice,
    note: Vec<String>,
    chatty: bool,
}

/// Whether the sounds of a form are those of words.
pub(super) fn sayable(form: &str) -> bool {
    form.split(' ').all(|word| {
        word.bytes().all(|b| b.is_ascii_lowercase() || b == b'\'')
            && (word.len() == 1 || word.contains(['a', 'e', 'i', 'o', 'u', 'y']))
    })
}

impl<'a> Talker<'a> {
    pub(super) fn new(vocab: &'a Vocabulary, tags: &'a [String], seed: u64) -> Self {
        let mut forms: BTreeMap<String, Forms<'a>> = BTreeMap::new();
        let spoken = vocab.forms().iter().filter(|f| f.style == Style::Spoken && sayable(&f.text));
        for form in spoken {
            // Short forms are said more often than long ones.
            let weight = match form.text.split(' ').count() {
                1 => 1.0,
                2 => 0.6,
                3 => 0.2,
                _ => 0.08,
            };
            let kind = form.term.split('.').next().unwrap_or_default();
            for key in [form.term.as_str(), kind] {
                let list = forms.entry(key.to_owned()).or_default();
                let before = list.last().map_or(0.0, |l| l.0);
                list.push((before + weight, &form.text));
            }
        }
        Self { forms, tags, dice: Dice::new(seed), note: vec![], chatty: false }
    }

    /// One more note, its words.
    pub(super) fn note(&mut self) -> Vec<String> {
        self.note.clear();
        self.chatty = self.dice.in_100(45);
        if self.dice.in_100(94) {
            self.cow();
        }
        self.talk(30);
        match self.dice.below(100) {
            0..16 => self.clear(),
            16..24 => self.whole_trim(),
            24..32 => self.had_one(),
            32..34 => self.remark(),
            34..38 => self.score(),
            38..42 => self.measure(),
            _ => self.lesions(),
        }
        self.ending();
        if self.dice.in_100(3) {
            // Several cows in one breath.
            self.cow();
            self.lesions();
        }
        // How people come to an end.
        self.talk(18);
        self.strew();
        std::mem::take(&mut self.note)
    }

    /// Everyday words anywhere: the model must not be sure that a trade word follows.
    fn strew(&mut self) {
        for word in std::mem::take(&mut self.note) {
            self.note.push(word);
            if self.dice.in_100(7) {
                self.say_one_of(&[(40, "filler.any"), (28, "loose.any"), (32, "everyday.any")]);
            }
        }
    }

    fn ending(&mut self) {
        let ends: [(u32, fn(&mut Self)); 8] = [
            (14, Self::score),
            (22, Self::due),
            (6, Self::vet),
            (6, Self::remark),
            (5, Self::clear),
            (7, Self::whole_trim),
            (4, Self::measure),
            (3, Self::sign),
        ];
        for (times, end) in ends {
            if self.dice.in_100(times) {
                self.glue(&["and", "then", "so", "and there's", "and she's", "and i"], 35);
                end(self);
                self.talk(18);
            }
        }
    }

    /// Words as they stand.
    fn put(&mut self, words: &str) {
        self.note.extend(words.split(' ').map(str::to_owned));
    }

    /// A form of a term or of a kind; nothing where the vocabulary has none.
    fn say(&mut self, key: &str) {
        let part = self.dice.part();
        let Some(list) = self.forms.get(key) else { return };
        let Some(last) = list.last() else { return };
        let at = list.partition_point(|l| l.0 <= part * last.0).min(list.len() - 1);
        let form = list[at].1;
        self.note.extend(form.split(' ').map(str::to_owned));
    }

    fn say_one_of(&mut self, keys: &[(u32, &str)]) {
        let key = self.dice.weighed(keys);
        self.say(key);
    }

    fn maybe(&mut self, times: u32, key: &str) {
        if self.dice.in_100(times) {
            self.say(key);
        }
    }

    /// In chatty notes, one of some small words.
    fn glue(&mut self, words: &[&str], times: u32) {
        if self.dice.in_100(if self.chatty { times } else { times / 8 }) {
            let words = self.dice.one_of(words);
            self.put(words);
        }
    }

    /// Everyday words.
    fn talk(&mut self, times: u32) {
        if self.dice.in_100(if self.chatty { times * 3 / 2 } else { times / 3 }) {
            for _ in 0..self.dice.between(1, 3) {
                self.say_one_of(&[
                    (55, "filler.any"),
                    (18, "loose.any"),
                    (12, "everyday.any"),
                    (8, "aside.any"),
                    (7, "lead.any"),
                ]);
            }
        }
    }

    fn amount(&mut self, n: usize) {
        for word in numbers::amount(n) {
            self.put(word);
        }
    }

    fn cow(&mut self) {
        self.maybe(if self.chatty { 30 } else { 6 }, "lead.any");
        match self.dice.below(100) {
            0..62 => self.cow_cue(),
            62..72 => {
                self.say("next.cue");
                self.cow_cue();
            }
            72..80 => self.say("next.cue"),
            80..86 => self.say("cow.number"),
            _ => {}
        }
        self.number();
        if self.dice.in_100(2) {
            self.say("correction");
            self.maybe(50, "cow.cue");
            self.number();
        }
    }

    fn cow_cue(&mut self) {
        if self.dice.in_100(65) { self.put("cow") } else { self.say("cow.cue") }
    }

    /// A cow's number: the roster's, but now and then another, since a roster is never whole.
    fn number(&mut self) {
        let tag = if !self.tags.is_empty() && self.dice.in_100(92) {
            let at = self.dice.below(self.tags.len());
            self.tags[at].clone()
        } else {
            let top = self.dice.weighed(&[(4, 9), (16, 99), (50, 999), (30, 9999)]);
            self.dice.between(top / 10, top).to_string()
        };
        for word in numbers::tag(&tag, &mut self.dice) {
            self.put(word);
        }
    }

    fn remark(&mut self) {
        self.say("remark");
        self.glue(&["she", "that she"], 50);
        for _ in 0..self.dice.between(2, 6) {
            self.say_one_of(&[(50, "filler.any"), (24, "loose.any"), (16, "everyday.any"), (10, "aside.any")]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_is_one_of_the_vocabulary() {
        let vocab = Vocabulary::built_in();
        let numbers: Vec<&str> = numbers::words().collect();
        let mut talker = Talker::new(&vocab, &[], 7);
        for _ in 0..3000 {
            for word in talker.note() {
                assert!(vocab.knows(&word) || numbers.contains(&word.as_str()), "{word}");
            }
        }
    }
}
