//! The chain of seals: which lines were changed, and where lines are missing.

use std::collections::HashMap;

use super::{Finding, Kind, Level};
use crate::log::read::Line;
use crate::log::seal::{self, Parts};

/// Follows the seals from line to line.
#[derive(Debug, Default)]
pub(super) struct Chain {
    link: u64,
    /// The line before; 0 before the first.
    before: usize,
    /// Records without a seal before the first that has one: how many, the first and the last.
    unsealed: (usize, usize, usize),
    sealed: bool,
    gaps: Vec<Gap>,
}

/// A line that was written after another than the one that stands before it.
#[derive(Debug)]
struct Gap {
    line: usize,
    before: usize,
    after: u64,
}

impl Chain {
    /// Looks at the next line, which is a record or not; gives what is wrong with it by itself.
    pub(super) fn look(&mut self, line: &Line, record: bool) -> Option<Finding> {
        let parts = Parts::of(line.bytes);
        let changed = match parts.seal {
            Some(seal) => {
                self.sealed = true;
                if seal.after != self.link {
                    self.gaps.push(Gap { line: line.number, before: self.before, after: seal.after });
                }
                !parts.fits()
            }
            // A line that ends within its seal is an unfinished one.
            None => record && has_seal(line.bytes),
        };
        let unsealed = parts.seal.is_none() && !changed && record;
        self.link = parts.link();
        self.before = line.number;
        if changed {
            let told = "changed after it was written: its seal does not fit; it is read as it stands";
            return Some(Finding::new(Level::Error, line.number, Kind::Changed, told));
        }
        if unsealed && self.sealed {
            let told = "no seal: put in by hand or by another program; a change would not be noticed";
            return Some(Finding::new(Level::Warning, line.number, Kind::Unsealed, told));
        }
        if unsealed {
            let (count, first, _) = self.unsealed;
            self.unsealed = (count + 1, if count == 0 { line.number } else { first }, line.number);
        }
        None
    }

    /// Whether this line was written right after the one before as that one stands now.
    pub(super) fn follows(&self, line: &Line) -> bool {
        Parts::of(line.bytes).seal.is_some_and(|s| s.after == self.link)
    }

    /// What there is to say of the lines before the first seal: an older program wrote them, or somebody's hand.
    pub(super) fn unsealed(&self) -> Option<Finding> {
        let (count, first, last) = self.unsealed;
        let lines = match count {
            0 => return None,
            1 => "this line has".to_owned(),
            _ => format!("lines {first} to {last} have"),
        };
        let told = format!("{lines} no seal (written by an older program, or by hand): a change would not be noticed");
        Some(Finding::new(Level::Warning, first, Kind::Unsealed, told))
    }

    /// Ready to look for the lines that others were written after.
    pub(super) fn search(self) -> Search {
        let wanted = self.gaps.iter().map(|g| (g.after, None)).collect();
        Search { gaps: self.gaps, wanted }
    }
}

/// Whether there is a seal in another form than the program writes it: somebody's editor laid the line out anew.
fn has_seal(line: &[u8]) -> bool {
    let name = format!("\"{}\"", seal::NAME);
    line.windows(name.len())
        .enumerate()
        .any(|(at, window)| window == name.as_bytes() && line[at + name.len()..].trim_ascii_start().starts_with(b":"))
}

/// The second look: where the lines stand now that others were written after.
#[derive(Debug)]
pub(super) struct Search {
    gaps: Vec<Gap>,
    wanted: HashMap<u64, Option<usize>>,
}

impl Search {
    pub(super) fn find(&mut self, line: &Line) {
        if self.wanted.is_empty() {
            return;
        }
        if let Some(at) = self.wanted.get_mut(&Parts::of(line.bytes).link()) {
            at.get_or_insert(line.number);
        }
    }

    pub(super) fn gaps(self) -> impl Iterator<Item = Finding> {
        let Self { gaps, wanted } = self;
        gaps.into_iter().map(move |gap| {
            let told = match (gap.after, wanted.get(&gap.after).copied().flatten()) {
                (0, _) => "written as the first line of a log: what stands before it was put there later".to_owned(),
                (_, Some(at)) if at < gap.before => {
                    format!("written right after line {at}: what stands between was put in or moved there later")
                }
                (_, Some(at)) => format!("written right after what is line {at} now: lines were moved"),
                (_, None) if gap.before == 0 => "not written as the first line: lines before it are gone".to_owned(),
                (_, None) => format!(
                    "the line that it was written after is gone, or was changed and sealed anew: something is \
                     missing between lines {} and {}",
                    gap.before, gap.line
                ),
            };
            Finding::new(Level::Error, gap.line, Kind::Gap, told)
        })
    }
}
