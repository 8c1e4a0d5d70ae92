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

/// Finds all hits that start at `from`.
pub(crate) fn hits(trie: &Trie, distances: &Distances, note: &[Phone], from: usize, out: &mut Vec<Hit>) {
    let heard: &[Phone] = match note[from..].iter().position(|p| *p == BREAK) {
        Some(0) => return,
        Some(n) => &note[from..from + n],
        None => &note[from..],
    };
    // Row of the empty form: every heard phone is one too many. A form may not begin with one.
    let mut row: Vec<u16> = vec![u16::MAX / 2; heard.len() + 1];
    row[0] = 0;
    let mut rows = Rows { trie, distances, heard, from, out };
    for &(phone, next) in &trie.nodes[0].next {
        rows.walk(next as usize, phone, &row);
    }
}

struct Rows<'a> {
    trie: &'a Trie,
    distances: &'a Distances,
    heard: &'a [Phone],
    from: usize,
    out: &'a mut Vec<Hit>,
}

impl Rows<'_> {
    fn walk(&mut self, at: usize, phone: Phone, before: &[u16]) {
        let node = &self.trie.nodes[at];
        let ceiling = node.ceiling;
        let lost = self.distances.lost[phone as usize];
        let mut row = Vec::with_capacity(before.len());
        let mut least = u16::MAX;
        for (j, &up) in before.iter().enumerate() {
            let mut cost = up.saturating_add(lost);
            if j > 0 {
                let heard = self.heard[j - 1];
                cost = cost.min(before[j - 1].saturating_add(self.distances.change(phone, heard)));
                let left: u16 = row[j - 1];
                cost = cost.min(left.saturating_add(self.distances.added[heard as usize]));
            }
            if cost > ceiling {
                cost = u16::MAX / 2;
            }
            least = least.min(cost);
            row.push(cost);
        }
        if least > ceiling {
            return;
        }
        for &(form, ceiling) in &node.ends {
            let best = row.iter().skip(1).min().copied().unwrap_or(u16::MAX);
            for (j, &cost) in row.iter().enumerate().skip(1) {
                if cost <= ceiling && cost <= best + WORSE {
                    self.out.push(Hit {
                        from: self.from as u16,
                        to: (self.from + j) as u16,
                        form,
                        cost,
                    });
                }
            }
        }
        for k in 0..node.next.len() {
            let (phone, next) = self.trie.nodes[at].next[k];
            self.walk(next as usize, phone, &row);
        }
    }
}
