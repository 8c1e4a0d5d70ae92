//! Turns the notes of one input into entry lines with ids.

use std::collections::HashMap;

use super::id;
use super::record::{EntryLine, LineKind, Source, Stamp, VERSION, VisitLine};
use crate::matches::{Path, Tok};
use crate::notes::Note;
use crate::read::Reader;

/// Takes in the notes of one input, in order.
#[derive(Debug)]
pub struct Intake<'a> {
    reader: &'a Reader,
    visit: &'a VisitLine,
    /// Name of the file without its folders; `None` for notes typed at the terminal.
    file: Option<String>,
    cow_before: Option<String>,
    /// How often each text has come by.
    seen: HashMap<String, usize>,
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
}

impl<'a> Intake<'a> {
    /// `cow_before` is the cow of the note before the first one, where that is known.
    pub fn new(reader: &'a Reader, visit: &'a VisitLine, file: Option<String>, cow_before: Option<String>) -> Self {
        Self { reader, visit, file, cow_before, seen: HashMap::new() }
    }

    /// Reads one note. `taken` tells whether the log has an id already; it matters for typed notes only: what is
    /// typed again is said again, while a line of a file that is read again is the same line.
    pub fn take(&mut self, note: &Note, at: Stamp, taken: impl Fn(&str) -> bool) -> Taken {
        let reading = self.reader.read(&note.text, self.visit.date, self.cow_before.as_deref());
        let words = note.text.chars().any(char::is_alphanumeric) || reading.toks.iter().any(|t| t.meaning.is_some());
        if !words {
            return Taken { entries: vec![], toks: reading.toks, rivals: vec![] };
        }
        let file = self.file.as_deref();
        let nth = self.seen.entry(note.text.clone()).or_default();
        *nth += 1;
        if let (None, Some(first)) = (file, reading.entries.first()) {
            while taken(&id::entry(&self.visit.id, None, &first.said, 0, *nth)) {
                *nth += 1;
            }
        }
        let mut entries = Vec::with_capacity(reading.entries.len());
        for (cow, entry) in reading.entries.into_iter().enumerate() {
            self.cow_before = entry.cow.clone().or(self.cow_before.take());
            entries.push(EntryLine {
                v: VERSION,
                kind: LineKind::Entry,
                id: id::entry(&self.visit.id, file, &entry.said, cow, *nth),
                at,
                visit: self.visit.id.clone(),
                entry,
                source: Some(Source { file: self.file.clone(), line: note.line }),
            });
        }
        Taken { entries, toks: reading.toks, rivals: reading.rivals }
    }

    /// The cow of the last note turned out to be this one.
    pub fn cow_was(&mut self, cow: &str) {
        self.cow_before = Some(cow.to_owned());
    }
}
