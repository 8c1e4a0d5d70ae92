//! A line as it is read, beside the line as it stands: what was mended or repeated can be found again.

use std::ops::Range;

/// A text made out of another one, which remembers where each part of it comes from. Offsets are bytes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Rewrite {
    pub(super) text: String,
    pieces: Vec<Piece>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Piece {
    at: Range<usize>,
    from: Range<usize>,
    /// Letter by letter the same, so that a part of it is a part of the other.
    copied: bool,
}

impl Rewrite {
    /// The text as it stands, from byte `from` of the line.
    pub(super) fn copy(text: &str, from: usize) -> Self {
        let mut new = Self::default();
        new.keep(text, from);
        new
    }

    /// Adds a stretch of the line, which begins there at byte `from`.
    pub(super) fn keep(&mut self, text: &str, from: usize) {
        self.piece(text, from..from + text.len(), true);
    }

    /// Adds a text that stands for that stretch of the line.
    pub(super) fn put(&mut self, text: &str, from: Range<usize>) {
        self.piece(text, from, false);
    }

    fn piece(&mut self, text: &str, from: Range<usize>, copied: bool) {
        let start = self.text.len();
        self.text.push_str(text);
        if !text.is_empty() {
            self.pieces.push(Piece { at: start..self.text.len(), from, copied });
        }
    }

    /// The same text with other words at these places, which come in order and do not touch one another.
    #[must_use]
    pub(super) fn with(&self, edits: &[(Range<usize>, String)]) -> Self {
        let mut new = Self::default();
        let mut at = 0;
        for (range, text) in edits {
            new.take(self, at..range.start);
            new.put(text, self.source(range.clone()));
            at = range.end;
        }
        new.take(self, at..self.text.len());
        new
    }

    /// Adds another rewrite of the same line.
    pub(super) fn append(&mut self, other: &Self) {
        self.take(other, 0..other.text.len());
    }

    /// Adds a stretch of another rewrite, with where it comes from.
    fn take(&mut self, other: &Self, range: Range<usize>) {
        for piece in &other.pieces {
            let (start, end) = (piece.at.start.max(range.start), piece.at.end.min(range.end));
            if start < end {
                self.piece(&other.text[start..end], piece.source(&(start..end)), piece.copied);
            }
        }
    }

    /// Where in the line that stretch of the text comes from.
    pub(super) fn source(&self, range: Range<usize>) -> Range<usize> {
        let touched = |p: &&Piece| {
            if range.is_empty() {
                p.at.start <= range.start && range.start <= p.at.end
            } else {
                p.at.start < range.end && range.start < p.at.end
            }
        };
        let mut found = self.pieces.iter().filter(touched).map(|p| p.source(&range));
        let Some(first) = found.next() else { return 0..0 };
        found.fold(first, |all, one| all.start.min(one.start)..all.end.max(one.end))
    }
}

impl Piece {
    fn source(&self, range: &Range<usize>) -> Range<usize> {
        if !self.copied {
            return self.from.clone();
        }
        let clamp = |at: usize| at.clamp(self.at.start, self.at.end) - self.at.start + self.from.start;
        clamp(range.start)..clamp(range.end)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_changed_is_found_in_the_line() {
        let line = "  9S5 RRI WL";
        let one = Rewrite::copy(&line[2..], 2).with(&[(0..3, "cow 955".to_owned())]);
        assert_eq!(one.text, "cow 955 RRI WL");
        assert_eq!(&line[one.source(8..11)], "RRI");
        assert_eq!(&line[one.source(0..7)], "9S5");
        assert_eq!(&line[one.source(4..11)], "9S5 RRI");
        let two = one.with(&[(12..14, "WL z3".to_owned())]);
        assert_eq!((two.text.as_str(), &line[two.source(15..17)]), ("cow 955 RRI WL z3", "WL"));
    }
}
