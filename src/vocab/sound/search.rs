//! Every stretch of a note that sounds like a form: an edit distance with weights, cut off where it gets
//! too dear, over the tree of forms.

use super::phone::{BREAK, Distances, Phone, Split};
use super::trie::{Node, Trie};

/// A stretch `from..to` of the note's sounds that is near a form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Hit {
    pub(crate) from: u16,
    pub(crate) to: u16,
    pub(crate) form: u32,
    pub(crate) cost: u16,
}

/// What a note allows a hit to cost.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Allowed<'a> {
    /// What the note costs up to each sound (and at its end) without any hit.
    pub(crate) skip: &'a [u32],
    /// What a hit pays for beginning or ending at each position.
    pub(crate) border: &'a [u32],
    /// Whether a hit may begin at each position.
    pub(crate) starts: &'a [bool],
    /// Sounds of the word that ends before each position, where that word is a term by itself; else 0.
    pub(crate) term: &'a [u16],
    /// What a hit pays for such a word unless it has the word too.
    pub(crate) toll: u32,
    /// How much dearer a hit may be than the stretch it covers.
    pub(crate) slack: u32,
}

/// Of hits that differ only in where they end, those that cost this much more are left out.
const WORSE: u16 = 60;

/// A form may have spent this much after its first sound, and `A_SOUND` more with each: one that begins
/// badly is dropped early.
const AT_ONCE: u32 = 60;
const A_SOUND: u32 = 28;

/// Columns of a row: no form is longer, with what may be heard besides.
const WIDTH: usize = 64;

/// A row of the distance table that costs nothing to throw away.
#[derive(Clone)]
struct Row {
    cells: [u16; WIDTH],
    /// The columns that are not too dear.
    low: usize,
    high: usize,
    /// Sounds, as bits, that a form may go on with after this row without getting too dear; most do not, and are
    /// not looked at one by one.
    follow: u64,
    /// The sound it ends with.
    phone: Phone,
}

/// How many sounds ahead a form under way may hope for.
const AHEAD: usize = 2;

const FAR: u32 = u16::MAX as u32 / 2;

/// Finds all hits in a note.
pub(crate) fn hits(trie: &Trie, distances: &Distances, note: &[Phone], allowed: Allowed) -> Vec<Hit> {
    let mut out = Vec::new();
    // The empty form: nothing heard yet. A form does not begin with a sound too many.
    let mut rows =
        vec![Row { cells: [FAR as u16; WIDTH], low: 0, high: 1, follow: u64::MAX, phone: BREAK }; trie.depth + 1];
    rows[0].cells[0] = 0;
    for from in 0..note.len() {
        if note[from] == BREAK || !allowed.starts[from] {
            continue;
        }
        let ahead = &note[from..];
        let ahead = ahead.iter().position(|p| *p == BREAK).map_or(ahead, |n| &ahead[..n]);
        let ahead = &ahead[..ahead.len().min(WIDTH - 2)];
        let columns = [Column { phone: BREAK, added: FAR as u16, limit: 0 }; WIDTH];
        let mut search = Search { trie, distances, columns, last: ahead.len(), from, allowed, out: &mut out };
        for j in 0..=ahead.len() {
            // A form under way may still gain by the sounds ahead of it.
            let worth = search.worth((j + AHEAD).min(allowed.skip.len() - 1 - from));
            // Sounds that come for nothing are the word itself, and pay no toll.
            search.columns[j].limit = worth.saturating_sub(search.toll(j));
            if let Some(phone) = j.checked_sub(1).map(|k| ahead[k]) {
                search.columns[j] = Column { phone, added: distances.added(phone), ..search.columns[j] };
            }
        }
        search.children(trie.node(0), &mut rows);
    }
    out
}

/// What a form may have spent after `depth` sounds.
fn so_far(ceiling: u16, depth: usize) -> u32 {
    u32::from(ceiling).min(AT_ONCE + A_SOUND * depth as u32)
}

/// What is known of a column of the table: that of so many sounds.
#[derive(Clone, Copy)]
struct Column {
    /// The last of them; [`BREAK`] for the first column, and past the end of what was heard.
    phone: Phone,
    /// What it costs as a sound too many.
    added: u16,
    /// What a form may have cost after so many sounds; nothing past the last.
    limit: u16,
}

struct Search<'a> {
    trie: &'a Trie,
    distances: &'a Distances,
    columns: [Column; WIDTH],
    /// How many sounds were heard from here on.
    last: usize,
    from: usize,
    allowed: Allowed<'a>,
    out: &'a mut Vec<Hit>,
}

impl Search<'_> {
    /// What a hit over the next `n` sounds may cost, whatever it pays where it ends.
    fn worth(&self, n: usize) -> u16 {
        let Allowed { skip, border, slack, .. } = self.allowed;
        let worth = skip[self.from + n] - skip[self.from] + slack;
        worth.saturating_sub(border[self.from]).min(FAR) as u16
    }

    /// What a hit that begins in a term pays where that ends, unless it is the same word so far; by the share that
    /// it covers. Of later words it cannot be told whether the hit has them too.
    fn toll(&self, n: usize) -> u16 {
        let term = u32::from(self.allowed.term[self.from + n]);
        let covered = n as u32;
        if covered > term { 0 } else { (self.allowed.toll * covered).checked_div(term).unwrap_or(0) as u16 }
    }

    /// Goes on from `node`, whose row is the first of `rows`.
    fn children(&mut self, node: Node, rows: &mut [Row]) {
        let Some((before, rest)) = rows.split_first_mut() else { return };
        let depth = self.trie.depth - rest.len() + 1;
        let mut left = node.next & before.follow;
        while left != 0 {
            let phone = left.trailing_zeros() as Phone;
            left &= left - 1;
            let next = self.trie.node(node.child(phone));
            if self.fill(before, &mut rest[0], phone, next, depth) {
                self.ends(next, &rest[0]);
                if next.next & rest[0].follow != 0 {
                    self.children(next, rest);
                }
            }
        }
    }

    /// The row of a form of `depth` sounds that goes on with `phone` to `node`; false where all of it is too dear.
    fn fill(&self, before: &Row, row: &mut Row, phone: Phone, node: Node, depth: usize) -> bool {
        match self.distances.split(phone) {
            None => self.cells::<false>(before, row, phone, node, depth, Split::NEVER),
            Some(split) => self.cells::<true>(before, row, phone, node, depth, split),
        }
    }

    /// As [`Self::fill`]; most sounds are never heard as two, and their rows need not look for it.
    ///
    /// A heard note fills some ten thousand rows of three or four columns: what can be worked out once a row is not
    /// worked out in each of them.
    fn cells<const SPLIT: bool>(
        &self,
        before: &Row,
        row: &mut Row,
        phone: Phone,
        node: Node,
        depth: usize,
        split: Split,
    ) -> bool {
        let lost = u32::from(self.distances.lost_after(before.phone, phone));
        let change = self.distances.changes(phone);
        let (now, then) = (so_far(node.ceiling, depth), so_far(node.ceiling, depth + 1));
        let (mut low, mut high, mut follow) = (0, 0, 0);
        // The most that is left over for a sound of the form that goes unheard.
        let mut over = 0;
        let mut j = before.low;
        let end = self.last + 1;
        // The first column has nothing beside it.
        let (mut left, mut corner, mut far_corner) = (FAR, FAR, FAR);
        while j < end {
            let column = self.columns[j % WIDTH];
            let up = if j < before.high { u32::from(before.cells[j % WIDTH]) } else { FAR };
            let mut cost = (up + lost)
                .min(corner + u32::from(change[column.phone as usize % 64]))
                .min(left + u32::from(column.added));
            if SPLIT {
                if far_corner < FAR && split.is(self.columns[(j - 1) % WIDTH].phone, column.phone) {
                    cost = cost.min(far_corner + u32::from(split.cost));
                }
                far_corner = corner;
            }
            corner = up;
            let limit = u32::from(column.limit);
            if cost <= limit && cost <= now {
                left = cost;
                row.cells[j % WIDTH] = cost as u16;
                if high == 0 {
                    low = j;
                }
                high = j + 1;
                over = over.max(then.min(limit) - cost);
                let next = self.columns[(j + 1) % WIDTH];
                let most = then.min(u32::from(next.limit));
                if cost <= most {
                    follow |= self.distances.may_stand_for(next.phone, most - cost);
                }
            } else {
                if j >= before.high + usize::from(SPLIT) {
                    break;
                }
                left = FAR;
                row.cells[j % WIDTH] = FAR as u16;
            }
            j += 1;
        }
        (row.low, row.high, row.phone) = (low, high, phone);
        row.follow = follow | self.distances.may_be_lost(over);
        high > 0
    }

    /// The forms that are whole after this row.
    fn ends(&mut self, node: Node, row: &Row) {
        let ends = self.trie.ends(node);
        if ends.is_empty() {
            return;
        }
        let heard = row.low.max(1)..row.high;
        let least = row.cells[heard.clone()].iter().copied().min().unwrap_or(FAR as u16);
        for j in heard {
            let cost = row.cells[j];
            let most = u32::from(self.worth(j)).saturating_sub(self.allowed.border[self.from + j]);
            if cost > 0 && (cost > least + WORSE || u32::from(cost + self.toll(j)) > most) {
                continue;
            }
            for &(form, ceiling) in ends {
                if cost <= ceiling {
                    self.out.push(Hit { from: self.from as u16, to: (self.from + j) as u16, form, cost });
                }
            }
        }
    }
}
