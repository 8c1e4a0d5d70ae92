//! What searches found, by what they read: people and recognisers say the same words again and again, and while a
//! note is being said all but its last words are those of a moment ago.

use std::ops::Range;

use rustc_hash::FxHashMap;

/// So many steps are remembered; with more, it begins anew. A thousand heard notes of new words take some 150,000.
const STEPS: usize = 1 << 19;
/// So many finds, as well.
const FINDS: usize = 1 << 20;

/// A form that was found: how many sounds it covers from where the search began, and its distance.
#[derive(Clone, Copy, Debug)]
pub(super) struct Find {
    pub(super) sounds: u16,
    pub(super) cost: u16,
    pub(super) form: u32,
}

/// A place in the tree of what was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Place(u32);

/// Finds in a tree of what searches read, column by column. A search reads its columns in order and nothing else, so
/// where it once stopped reading, it finds the same again. No search reads on where another one stopped.
#[derive(Debug, Default)]
pub(super) struct Memo {
    steps: FxHashMap<(Place, u64), Place>,
    /// Where the finds of a search that stopped at a place are; none where all went on.
    stopped: Vec<Option<Range<u32>>>,
    finds: Vec<Find>,
}

impl Memo {
    pub(super) const START: Place = Place(0);

    /// What was found by a search that stopped reading here.
    pub(super) fn found(&self, at: Place) -> Option<&[Find]> {
        let range = self.stopped.get(at.0 as usize)?.clone()?;
        Some(&self.finds[range.start as usize..range.end as usize])
    }

    /// Where a search goes on that reads `column` at a place; none where none did so.
    pub(super) fn step(&self, at: Place, column: u64) -> Option<Place> {
        self.steps.get(&(at, column)).copied()
    }

    /// Remembers a search that read these columns from the start.
    pub(super) fn keep(&mut self, columns: impl IntoIterator<Item = u64>, finds: impl IntoIterator<Item = Find>) {
        if self.stopped.len() >= STEPS || self.finds.len() >= FINDS {
            *self = Self::default();
        }
        if self.stopped.is_empty() {
            self.stopped.push(None);
        }
        let mut at = Self::START;
        for column in columns {
            at = *self.steps.entry((at, column)).or_insert_with(|| {
                self.stopped.push(None);
                Place(self.stopped.len() as u32 - 1)
            });
        }
        let first = self.finds.len() as u32;
        self.finds.extend(finds);
        self.stopped[at.0 as usize] = Some(first..self.finds.len() as u32);
    }
}
