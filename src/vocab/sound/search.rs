//! Every stretch of a note that sounds like a form: an edit distance with weights, cut off where it gets
//! too dear, over the tree of forms.

use super::phone::{BREAK, Distances, Phone};
use super::trie::Trie;

/// A stretch `from..to` of the note's sounds that is near a form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Hit {
    pub(crate) from: u16,
    pub(crate) to: u16,
    pub(crate) form: u32,
    pub(crate) cost: u16,
}

/// Of hits that differ only in where they end, those that cost this much more are left out.
const WORSE: u16 = 60;

/// A form may have spent this much after its first sound, and `A_SOUND` more with each: one that begins
/// badly is dropped early.
const AT_ONCE: u16 = 50;
const A_SOUND: u16 = 34;

/// Columns of a row: no form is longer, with what may be heard besides.
const WIDTH: usize = 64;

/// A row of the distance table that costs nothing to throw away.
#[derive(Clone)]
struct Row {
    cells: [u16; WIDTH],
    /// The columns that are not too dear.
    low: usize,
    high: usize,
}

/// How many sounds ahead a form under way may hope for.
const AHEAD: usize = 5;

const FAR: u16 = u16::MAX / 2;

/// Finds all hits in a note.
///
/// `skip[p]` is what the note costs up to sound `p` without any hit, and `slack` how much dearer a hit may be
/// than the stretch it covers.
pub(crate) fn hits(trie: &Trie, distances: &Distances, note: &[Phone], skip: &[u32], slack: u32) -> Vec<Hit> {
    let mut out = Vec::new();
    let empty = Row { cells: [FAR; WIDTH], low: 0, high: 0 };
    let mut rows = vec![empty; trie.depth + 1];
    for from in 0..note.len() {
        if note[from] == BREAK {
            continue;
        }
        let heard = &note[from..];
        let heard = heard.iter().position(|p| *p == BREAK).map_or(heard, |n| &heard[..n]);
        let heard = &heard[..heard.len().min(WIDTH - 1)];
        // The empty form: nothing heard yet. A form does not begin with a sound too many.
        rows[0].cells[0] = 0;
        rows[0].low = 0;
        rows[0].high = 1;
        // A form under way may still gain by the sounds ahead of it.
        let mut limit = [FAR; WIDTH];
        for (j, cell) in limit.iter_mut().enumerate() {
            let ahead = (from + j + AHEAD).min(skip.len() - 1);
            *cell = (skip[ahead] - skip[from] + slack).min(u32::from(FAR)) as u16;
        }
        let mut search = Search { trie, distances, heard, from, limit, skip, slack, out: &mut out };
        search.children(0, &mut rows, 0);
    }
    out
}

struct Search<'a> {
    trie: &'a Trie,
    distances: &'a Distances,
    heard: &'a [Phone],
    from: usize,
    limit: [u16; WIDTH],
    skip: &'a [u32],
    slack: u32,
    out: &'a mut Vec<Hit>,
}

impl Search<'_> {
    fn children(&mut self, at: usize, rows: &mut [Row], depth: usize) {
        let trie = self.trie;
        for &(phone, next) in &trie.nodes[at].next {
            self.visit(next as usize, phone, rows, depth + 1);
        }
    }

    fn visit(&mut self, at: usize, phone: Phone, rows: &mut [Row], depth: usize) {
        let node = &self.trie.nodes[at];
        let ceiling = node.ceiling.min(AT_ONCE + A_SOUND * depth as u16);
        let lost = self.distances.lost[phone as usize];
        let (before, here) = rows.split_at_mut(depth);
        let before = &before[depth - 1];
        let row = &mut here[0];
        let (mut low, mut high) = (usize::MAX, 0);
        let last = self.heard.len();
        let mut left = FAR;
        let mut least = FAR;
        for j in before.low..=last {
            let up = if j < before.high { before.cells[j] } else { FAR };
            let mut cost = up + lost;
            if j > 0 {
                let heard = self.heard[j - 1];
                if j > before.low && j <= before.high {
                    cost = cost.min(before.cells[j - 1] + self.distances.change(phone, heard));
                }
                if left < FAR {
                    cost = cost.min(left + self.distances.added[heard as usize]);
                }
            }
            if cost > ceiling.min(self.limit[j]) {
                if j >= before.high {
                    break;
                }
                cost = FAR;
            } else {
                low = low.min(j);
                high = j + 1;
                if j > 0 {
                    least = least.min(cost);
                }
            }
            row.cells[j] = cost;
            left = cost;
        }
        if low == usize::MAX {
            return;
        }
        row.low = low;
        row.high = high;
        for &(form, ceiling) in &node.ends {
            for j in low.max(1)..high {
                let cost = row.cells[j];
                let worth = self.skip[self.from + j] - self.skip[self.from] + self.slack;
                if cost <= ceiling && cost <= least + WORSE && u32::from(cost) <= worth {
                    self.out.push(Hit { from: self.from as u16, to: (self.from + j) as u16, form, cost });
                }
            }
        }
        self.children(at, rows, depth);
    }
}
