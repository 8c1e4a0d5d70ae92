//! Reads one note: the whole road from text to entries with flags.

use std::sync::OnceLock;

use chrono::NaiveDate;

use crate::check::{self, Known};
use crate::doubt;
use crate::entry::Entry;
use crate::flag::FlagKind;
use crate::grammar;
use crate::matches::{self, Context, Tok, Tuning};
use crate::meaning;
use crate::vocab::Vocabulary;
use crate::vocab::sound::Sounds;
use crate::words;

/// Reads notes with one vocabulary.
#[derive(Debug)]
pub struct Reader {
    vocab: Vocabulary,
    flat: Context,
    tuning: Tuning,
    /// Made when the first note needs it: most typed notes never do.
    hearing: OnceLock<Hearing>,
}

#[derive(Debug)]
struct Hearing {
    sounds: Sounds,
    context: Context,
}

/// What was made of one note.
#[derive(Clone, Debug)]
pub struct Reading {
    pub entries: Vec<Entry>,
    /// How each stretch of the note was taken, in order.
    pub toks: Vec<Tok>,
    /// Other readings that were about as good, nearest first (only of notes that were not heard plainly).
    pub rivals: Vec<matches::Path>,
}

impl Reader {
    pub fn new(vocab: Vocabulary) -> Self {
        Self::tuned(vocab, Tuning::default())
    }

    /// A reader with other prices and margins than the built-in ones.
    pub fn tuned(vocab: Vocabulary, tuning: Tuning) -> Self {
        Self { vocab, flat: Context::flat(), tuning, hearing: OnceLock::new() }
    }

    pub fn vocabulary(&self) -> &Vocabulary {
        &self.vocab
    }

    /// Reads a note said on the day of `visit`; `cow_before` is the cow of the note before.
    pub fn read(&self, text: &str, visit: NaiveDate, cow_before: Option<&str>) -> Reading {
        let words = words::cut(text, |w| self.vocab.knows(w));
        let toks = matches::exact(&words, &self.vocab, &self.flat);
        if matches::is_plain(&toks, &self.vocab) {
            let entries = self.entries(text, &toks, visit, cow_before);
            return Reading { entries, toks, rivals: vec![] };
        }
        let hearing = self.hearing.get_or_init(|| Hearing {
            sounds: Sounds::new(&self.vocab),
            context: Context::new(&self.tuning),
        });
        let ranked = matches::by_sound(&words, &self.vocab, &hearing.sounds, &hearing.context, &self.tuning);
        let mut entries = self.entries(text, &ranked.best, visit, cow_before);
        for (tok, without) in &ranked.without {
            let other = self.entries(text, without, visit, cow_before);
            doubt::ask(&mut entries, &other, FlagKind::Misheard, text, Some(tok.span));
        }
        for rival in &ranked.rivals {
            let other = self.entries(text, &rival.toks, visit, cow_before);
            doubt::ask(&mut entries, &other, FlagKind::TwoReadings, text, None);
        }
        Reading { entries, toks: ranked.best, rivals: ranked.rivals }
    }

    fn entries(&self, text: &str, toks: &[Tok], visit: NaiveDate, cow_before: Option<&str>) -> Vec<Entry> {
        let items = grammar::phrases(text, toks, &self.vocab);
        let mut before = cow_before.map(str::to_owned);
        meaning::entries(text, items, visit)
            .into_iter()
            .map(|(mut entry, trace)| {
                entry.flags = check::flags(text, &entry, &trace, &Known { cow_before: before.as_deref() });
                before = entry.cow.clone().or(before.take());
                entry
            })
            .collect()
    }
}
