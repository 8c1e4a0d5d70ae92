//! A slice of matches that nom can parse.

use std::iter::Enumerate;
use std::slice::Iter;

use nom::error::{Error, ErrorKind};
use nom::{IResult, Input, Needed};

use crate::matches::{How, Tok};
use crate::vocab::Meaning;
use crate::words::{Gap, Span};

/// Matches still to parse. Fillers are gone; what is left all may mean something.
#[derive(Clone, Copy, Debug)]
pub(super) struct Toks<'a>(pub(super) &'a [Tok]);

/// How far a parser has come: two rests of one note are the same where they are as long. (Compared match by match, a
/// note of ten thousand words would be gone over for each of them.)
impl PartialEq for Toks<'_> {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self.0, other.0)
    }
}

pub(super) type Res<'a, T> = IResult<Toks<'a>, T>;

impl<'a> Toks<'a> {
    pub(super) fn first(self) -> Option<&'a Tok> {
        self.0.first()
    }

    pub(super) fn meaning(self) -> Option<Meaning> {
        self.nth(0)
    }

    pub(super) fn nth(self, n: usize) -> Option<Meaning> {
        self.0.get(n).and_then(|t| t.meaning)
    }

    /// The gap before the next word; the end of the note is a stop.
    pub(super) fn gap(self) -> Gap {
        self.first().map_or(Gap::Stop, |t| t.gap)
    }

    pub(super) fn skip(self, n: usize) -> Self {
        Self(&self.0[n.min(self.0.len())..])
    }

    /// Span of the matches that `rest` no longer has.
    pub(super) fn span_to(self, rest: Self) -> Span {
        let used = &self.0[..self.0.len() - rest.0.len()];
        match (used.first(), used.last()) {
            (Some(a), Some(b)) => a.span.to(b.span),
            _ => Span::new(0, 0),
        }
    }

    /// How many bytes the note has between the last match read and the first of `rest`; words that say nothing are none.
    pub(super) fn bytes_before(self, rest: Self) -> Option<u32> {
        let last = self.0[..self.0.len() - rest.0.len()].last()?;
        rest.first()?.span.start.checked_sub(last.span.end)
    }

    /// Whether no word stands between the last match read and the first of `rest`: at most a comma.
    pub(super) fn only_pause_before(self, rest: Self) -> bool {
        self.bytes_before(rest).is_none_or(|n| n <= ", ".len() as u32)
    }

    pub(super) fn fail<T>(self) -> Res<'a, T> {
        Err(nom::Err::Error(Error::new(self, ErrorKind::Verify)))
    }
}

/// Takes one match whose meaning `f` accepts.
pub(super) fn one<'a, T>(f: impl Fn(Meaning) -> Option<T>) -> impl Fn(Toks<'a>) -> Res<'a, T> {
    move |input| match input.meaning().and_then(&f) {
        Some(value) => Ok((input.skip(1), value)),
        None => input.fail(),
    }
}

/// Whether the match was word for word.
pub(super) fn exact(tok: &Tok) -> bool {
    matches!(tok.how, How::Exact(_))
}

impl<'a> Input for Toks<'a> {
    type Item = &'a Tok;
    type Iter = Iter<'a, Tok>;
    type IterIndices = Enumerate<Iter<'a, Tok>>;

    fn input_len(&self) -> usize {
        self.0.len()
    }

    fn take(&self, index: usize) -> Self {
        Self(&self.0[..index])
    }

    fn take_from(&self, index: usize) -> Self {
        Self(&self.0[index..])
    }

    fn take_split(&self, index: usize) -> (Self, Self) {
        let (before, after) = self.0.split_at(index);
        (Self(after), Self(before))
    }

    fn position<P: Fn(Self::Item) -> bool>(&self, predicate: P) -> Option<usize> {
        self.0.iter().position(predicate)
    }

    fn iter_elements(&self) -> Self::Iter {
        self.0.iter()
    }

    fn iter_indices(&self) -> Self::IterIndices {
        self.0.iter().enumerate()
    }

    fn slice_index(&self, count: usize) -> Result<usize, Needed> {
        if self.0.len() >= count { Ok(count) } else { Err(Needed::new(count - self.0.len())) }
    }
}
