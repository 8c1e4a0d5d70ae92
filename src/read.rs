//! Reads one note: the whole road from text to entries with flags.

use chrono::NaiveDate;

use crate::check::{self, Known};
use crate::entry::Entry;
use crate::grammar;
use crate::matches::{self, Context, Tok};
use crate::meaning;
use crate::vocab::Vocabulary;
use crate::words;

/// Reads notes with one vocabulary.
#[derive(Clone, Debug)]
pub struct Reader {
    vocab: Vocabulary,
    context: Context,
}

/// What was made of one note.
#[derive(Clone, Debug)]
pub struct Reading {
    pub entries: Vec<Entry>,
    /// How each stretch of the note was taken, in order.
    pub toks: Vec<Tok>,
}

impl Reader {
    pub fn new(vocab: Vocabulary) -> Self {
        Self { vocab, context: Context::default() }
    }

    pub fn vocabulary(&self) -> &Vocabulary {
        &self.vocab
    }

    /// Reads a note said on the day of `visit`; `cow_before` is the cow of the note before.
    pub fn read(&self, text: &str, visit: NaiveDate, cow_before: Option<&str>) -> Reading {
        let words = words::cut(text, |w| self.vocab.knows(w));
        let toks = matches::exact(&words, &self.vocab, &self.context);
        let items = grammar::phrases(text, &toks, &self.vocab);
        let mut before = cow_before.map(str::to_owned);
        let mut from = 0;
        let entries = meaning::entries(text, items, visit)
            .into_iter()
            .map(|(mut entry, trace)| {
                entry.flags = check::flags(text, &entry, &trace, &Known { cow_before: before.as_deref() });
                from = count_from_said(text, from, &mut entry);
                before = entry.cow.clone().or(before.take());
                entry
            })
            .collect();
        Reading { entries, toks }
    }
}

/// Counts the flags' spans in the cow's own part of the note, which starts at or after `from`; gives its end.
/// A span outside her part (what was said for several cows) is dropped.
fn count_from_said(text: &str, from: usize, entry: &mut Entry) -> usize {
    let Some(start) = text[from..].find(&entry.said).map(|at| from + at) else { return from };
    let end = start + entry.said.len();
    for flag in &mut entry.flags {
        flag.at = flag.at.filter(|[a, b]| *a >= start && *b <= end).map(|[a, b]| [a - start, b - start]);
    }
    end
}
