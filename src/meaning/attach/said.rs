//! The words between the phrases, and those that are kept as a remark.

use super::{NEARBY, Pass};
use crate::grammar::Phrase;
use crate::vocab::Device;
use crate::words::{self, Gap, Span};

impl Pass<'_> {
    /// Whether one of these words stands between the item before and item `i`.
    pub(super) fn leads_from(&self, i: usize, words: &[&str]) -> bool {
        let led = |k: usize| self.words_before(k).iter().any(|w| words.contains(&w.as_str()));
        // "it was only a bruise last time"
        let only = i > 0 && self.get(i - 1) == Some(&Phrase::Only) && self.gap(i) <= Gap::Space;
        led(i) || only && led(i - 1)
    }

    /// Whether one of these words stands between the item before and item `i`.
    pub(super) fn led_by(&self, i: usize, words: &[&str]) -> bool {
        self.words_before(i).iter().any(|w| words.contains(&w.as_str()))
    }

    /// Whether the first word between the item before and item `i` is one of these.
    pub(super) fn led_first(&self, i: usize, words: &[&str]) -> bool {
        self.words_before(i).first().is_some_and(|w| words.contains(&w.as_str()))
    }

    /// Whether the last word between the item before and item `i` is one of these.
    pub(super) fn led_last(&self, i: usize, words: &[&str]) -> bool {
        self.words_before(i).last().is_some_and(|w| words.contains(&w.as_str()))
    }

    /// Whether one of these words stands between item `i` and the next one.
    pub(super) fn followed_by(&self, i: usize, words: &[&str]) -> bool {
        self.words_to_next(i).iter().any(|w| words.contains(&w.as_str()))
    }

    /// Whether the first word between item `i` and the next one is one of these.
    pub(super) fn followed_first(&self, i: usize, words: &[&str]) -> bool {
        self.words_to_next(i).first().is_some_and(|w| words.contains(&w.as_str()))
    }

    /// The part of the sentence before item `i`, from the last comma or stop on, in small letters.
    pub(super) fn part_before(&self, i: usize) -> String {
        let before = words::before(self.text, self.items[i].span.start as usize, NEARBY);
        before.rsplit([',', '.', ';']).next().unwrap_or_default().to_lowercase()
    }

    /// The words between the item before and item `i`.
    pub(super) fn words_before(&self, i: usize) -> Vec<String> {
        let from = i.checked_sub(1).and_then(|k| self.items.get(k)).map_or(0, |it| it.span.end);
        self.items.get(i).map_or_else(Vec::new, |it| self.words(from, it.span.start))
    }

    /// The words between item `i` and the next one, or the end of the note.
    pub(super) fn words_to_next(&self, i: usize) -> Vec<String> {
        let to = self.items.get(i + 1).map_or(self.text.len() as u32, |n| n.span.start);
        self.items.get(i).map_or_else(Vec::new, |it| self.words(it.span.end, to))
    }

    pub(super) fn words(&self, from: u32, to: u32) -> Vec<String> {
        let said = self.text.get(from as usize..to as usize).unwrap_or_default();
        // Mostly a space or a comma: nothing is made of it.
        if !said.bytes().any(|b| b.is_ascii_alphanumeric() || !b.is_ascii()) {
            return vec![];
        }
        let said = said.to_lowercase();
        let apart = |c: char| !c.is_alphanumeric() && c != '\'';
        said.split(apart).filter(|w| !w.is_empty()).map(str::to_owned).collect()
    }

    /// Whether a part of the sentence begins with item `i`.
    pub(super) fn begins(&self, i: usize) -> bool {
        i == 0 || self.gap(i) > Gap::Space || matches!(self.get(i - 1), Some(Phrase::Cow(_)))
    }

    /// Keeps the part of the sentence that item `i` stands in, once.
    pub(super) fn remark_of(&mut self, i: usize) {
        const ENDS: [char; 6] = [',', '.', ';', '(', ')', ':'];
        let span = self.items[i].span;
        let before = words::before(self.text, span.start as usize, NEARBY);
        let behind = words::behind(self.text, span.end as usize, NEARBY);
        let start = before.rfind(ENDS).map_or(before, |at| &before[at + 1..]);
        // `HHE gd 1 - formalin bath advised`
        let start = start.rfind(" - ").map_or(start, |at| &start[at + " -".len()..]);
        let end = behind.find(ENDS).map_or(behind, |at| &behind[..at]);
        // Of cows that were named, the number is no part of it.
        let cow = self.items[..i].iter().rev().find(|it| it.is_cow()).map_or(0, |it| it.span.end as usize);
        let from = (span.start as usize - start.len()).max(cow);
        let said = self.text.get(from..span.end as usize + end.len()).unwrap_or_default().trim().to_owned();
        if self.out.remarks.last() != Some(&said) {
            self.out.remarks.push(said);
        }
    }

    /// Takes back what was booked of the words at `span`: it was not done, or not today.
    pub(super) fn take_back(&mut self, span: Span) {
        self.out.actions.retain(|a| a.span != span);
        self.waiting_actions.clear();
    }

    /// "the vet put this bandage on, … it's off", "the vet put a wrap on last week, I took it off": what "it" is behind
    /// deeds that are only told of.
    pub(super) fn device_named(&self, from: usize, to: usize) -> Option<Device> {
        self.items[from..to].iter().rev().find_map(|it| match &it.is {
            Phrase::Deed(deed) if !deed.like_before => Device::of(deed.what),
            _ => None,
        })
    }

    pub(super) fn remark(&mut self, from: usize, to: usize) {
        self.device = self.device_named(from, to + 1).or(self.device);
        let span = self.items[from].span.to(self.items[to].span);
        self.out.remarks.push(span.of(self.text).to_owned());
    }
}
