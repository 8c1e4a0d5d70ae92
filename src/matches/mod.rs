//! From words to the terms they most likely are: every stretch of the note that could be a term is an
//! edge with a cost, and the cheapest way through the whole note wins.

mod context;
mod exact;
mod path;

use crate::vocab::{Kind, Meaning, Style, Vocabulary};
use crate::words::{Gap, Span, Word};

pub use context::Context;
pub(crate) use path::{Lattice, best};

/// A stretch of the note taken as one term; `meaning` is `None` for a word nobody knows.
#[derive(Clone, Debug, PartialEq)]
pub struct Tok {
    pub meaning: Option<Meaning>,
    pub span: Span,
    pub gap: Gap,
    /// How it was matched, and the form it was matched to.
    pub how: How,
    /// The form, an index into [`Vocabulary::forms`]; none for digits and unknown words.
    pub form: Option<u32>,
}

/// How a stretch was matched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Word for word, or a written number.
    Exact(Style),
    /// Near in letters or in sound: cost in hundredths of a phone, and the phones it covers.
    Near {
        cost: u16,
        phones: u16,
    },
    Unread,
}

/// One way a stretch between two positions could be read.
#[derive(Clone, Debug)]
pub(crate) struct Edge {
    pub(crate) from: u16,
    pub(crate) to: u16,
    pub(crate) cost: u32,
    /// Kinds it must follow, as bits; 0 is any.
    pub(crate) after: u64,
    pub(crate) kind: Kind,
    pub(crate) tok: Tok,
}

/// The words of a note read word for word; `None` where some word is known by nobody.
pub fn exact(words: &[Word], vocab: &Vocabulary, context: &Context) -> Vec<Tok> {
    let mut edges = Vec::with_capacity(words.len() * 2);
    exact::edges(words, vocab, &mut edges);
    let lattice = Lattice { positions: words.len() + 1, edges };
    best(&lattice, context).into_iter().map(|e| lattice.edges[e].tok.clone()).collect()
}
