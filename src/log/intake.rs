//! Turns the notes of one input into entry lines with ids.

use std::hash::BuildHasher;

use chrono::NaiveDate;
use rustc_hash::{FxBuildHasher, FxHashMap};
use serde_json::json;

use super::id;
use super::record::{EntryLine, LineKind, Source, Stamp, VERSION, VisitLine};
use crate::entry::Entry;
use crate::matches::{Path, Tok};
use crate::notes::Note;
use crate::read::{Reader, Reading};

/// The field of an entry that has the other hearings of its note.
const HEARD: &str = "heard";

/// Takes in the notes of one input, in order.
#[derive(Debug)]
pub struct Intake<'a> {
    reader: &'a Reader,
    visit: &'a VisitLine,
    /// Name of the file without its folders; `None` for notes typed at the terminal.
    file: Option<String>,
    cow_before: Option<String>,
    /// How often the words of a cow, at her place in a note, have come by; by their hash, as an archive has millions.
    seen: FxHashMap<u64, u32>,
}

/// What was made of one note.
#[derive(Clone, Debug)]
pub struct Taken {
    /// One a cow; none where the note has no words at all.
    pub entries: Vec<EntryLine>,
    /// How each stretch of the note was taken.
    pub toks: Vec<Tok>,
    /// Other readings that were about as good.
    pub rivals: Vec<Path>,
    /// Which of several hearings was followed.
    pub led: usize,
}

impl<'a> Intake<'a> {
    /// `cow_before` is the cow of the note before the first one, where that is known.
    pub fn new(reader: &'a Reader, visit: &'a VisitLine, file: Option<String>, cow_before: Option<String>) -> Self {
        Self { reader, visit, file, cow_before, seen: FxHashMap::default() }
    }

    /// Reads one note. `taken` tells whether the log has an id already; it matters for typed notes only: what is
    /// typed again is said again, while a line of a file that is read again is the same line.
    pub fn take(&mut self, note: &Note, at: Stamp, taken: impl Fn(&str) -> bool) -> Taken {
        let reading = read(self.reader, self.visit.date, note, self.cow_before.as_deref());
        self.keep(note, reading, at, taken)
    }

    /// What a note comes to by itself: notes can be read ahead, on several threads, and be taken in one by one.
    pub fn ahead(reader: &Reader, visit: NaiveDate, note: &Note) -> Reading {
        read(reader, visit, note, None)
    }

    /// As [`Self::take`], of a note that may have been read [`Self::ahead`].
    pub fn take_ahead(
        &mut self,
        note: &Note,
        ahead: Option<Reading>,
        at: Stamp,
        taken: impl Fn(&str) -> bool,
    ) -> Taken {
        // The note before matters only where a cow is asked for.
        let asks = |e: &Entry| e.cow.is_none() || e.flags.iter().any(|f| f.field == "cow");
        match ahead.filter(|ahead| !ahead.entries.iter().any(asks)) {
            Some(ahead) => self.keep(note, ahead, at, taken),
            None => self.take(note, at, taken),
        }
    }

    /// What a note would come to, while it is still being said: nothing has an id yet.
    pub fn look(&mut self, note: &Note) -> Vec<Entry> {
        let reading = read(self.reader, self.visit.date, note, self.cow_before.as_deref());
        if !has_words(note, &reading) {
            return vec![];
        }
        let last = reading.entries.iter().rev().find_map(|e| e.cow.clone());
        self.cow_before = last.or(self.cow_before.take());
        reading.entries
    }

    fn keep(&mut self, note: &Note, reading: Reading, at: Stamp, taken: impl Fn(&str) -> bool) -> Taken {
        if !has_words(note, &reading) {
            return Taken { entries: vec![], toks: reading.toks, rivals: vec![], led: reading.led };
        }
        // The one that was followed is what was said.
        let others: Vec<_> =
            note.hearings.iter().enumerate().filter(|(i, _)| *i != reading.led).map(|(_, h)| h).collect();
        let heard = Some(others).filter(|others| !others.is_empty()).map(|others| json!(others));
        let mut entries = Vec::with_capacity(reading.entries.len());
        for (cow, mut entry) in reading.entries.into_iter().enumerate() {
            self.cow_before = entry.cow.clone().or(self.cow_before.take());
            if let Some(heard) = &heard {
                entry.other.insert(HEARD.to_owned(), heard.clone());
            }
            let nth = self.seen.entry(FxBuildHasher.hash_one((cow, &entry.said))).or_default();
            *nth += 1;
            let file = self.file.as_deref();
            let mut id = id::entry(&self.visit.id, file, &entry.said, cow, *nth as usize);
            while file.is_none() && taken(&id) {
                *nth += 1;
                id = id::entry(&self.visit.id, None, &entry.said, cow, *nth as usize);
            }
            entries.push(EntryLine {
                v: VERSION,
                kind: LineKind::Entry,
                id,
                at,
                visit: self.visit.id.clone(),
                entry,
                source: Some(Source {
                    time: note.time.map(|t| t.to_string()),
                    ..Source::line(self.file.clone(), note.line)
                }),
            });
        }
        Taken { entries, toks: reading.toks, rivals: reading.rivals, led: reading.led }
    }

    /// The cow of the last note turned out to be this one.
    pub fn cow_was(&mut self, cow: &str) {
        self.cow_before = Some(cow.to_owned());
    }
}

/// Whether there is a word in it, or a sign that is one.
fn has_words(note: &Note, reading: &Reading) -> bool {
    note.text.chars().any(char::is_alphanumeric) || reading.toks.iter().any(|t| t.meaning.is_some())
}

fn read(reader: &Reader, visit: NaiveDate, note: &Note, before: Option<&str>) -> Reading {
    if note.hearings.is_empty() {
        return reader.read(&note.text, visit, before);
    }
    // Several hearings: the one place where they become a reading.
    let texts: Vec<&str> = note.hearings.iter().map(|h| h.text.as_str()).collect();
    reader.read_hearings(&texts, visit, before)
}
