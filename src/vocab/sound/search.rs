//! Every stretch of a note that sounds like a form: an edit distance with weights, cut off where it gets
//! too dear, over the tree of forms.

use std::sync::{PoisonError, RwLock};

use super::memo::{Find, Memo};
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

/// So many searches look into the memo at once, and add to it at once: all of a short note, but of a long one few enough
/// that it remembers its own words.
const AT_ONE_GO: usize = 256;

/// Finds all hits in a note, in the order of where they begin. `memo` is of earlier searches in the same tree; it is
/// looked into and added to seldom, for all threads share it.
pub(crate) fn hits(
    trie: &Trie,
    distances: &Distances,
    note: &[Phone],
    allowed: Allowed,
    memo: &RwLock<Memo>,
) -> Vec<Hit> {
    let starts: Vec<usize> = (0..note.len()).filter(|from| note[*from] != BREAK && allowed.starts[*from]).collect();
    let mut out = Vec::new();
    for some in starts.chunks(AT_ONE_GO) {
        let first = out.len();
        hits_from(some, trie, distances, note, allowed, memo, &mut out);
        out[first..].sort_by_key(|h: &Hit| h.from);
    }
    out
}

/// The hits that begin at these sounds.
fn hits_from(
    starts: &[usize],
    trie: &Trie,
    distances: &Distances,
    note: &[Phone],
    allowed: Allowed,
    memo: &RwLock<Memo>,
    out: &mut Vec<Hit>,
) {
    let heard = |from| Heard { note, from, allowed, distances, dearest: trie.node(0).ceiling() };
    let hit = |from: usize, f: &Find| Hit { from: from as u16, to: from as u16 + f.sounds, form: f.form, cost: f.cost };
    let mut new = Vec::new();
    {
        let memo = memo.read().unwrap_or_else(PoisonError::into_inner);
        for &from in starts {
            match heard(from).remembered(&memo) {
                Some(found) => out.extend(found.iter().map(|f| hit(from, f))),
                None => new.push(from),
            }
        }
    }
    if new.is_empty() {
        return;
    }
    // The empty form: nothing heard yet. A form does not begin with a sound too many.
    let mut rows =
        vec![Row { cells: [FAR as u16; WIDTH], low: 0, high: 1, follow: u64::MAX, phone: BREAK }; trie.depth + 1];
    rows[0].cells[0] = 0;
    let searched: Vec<(Vec<u64>, Vec<Find>)> = new
        .into_iter()
        .map(|from| {
            let (columns, last) = heard(from).columns();
            let mut search = Search { trie, distances, columns, last, read: 0, found: vec![] };
            search.children(trie.node(0), &mut rows);
            out.extend(search.found.iter().map(|f| hit(from, f)));
            (columns[..search.read].iter().map(|c| c.key()).collect(), search.found)
        })
        .collect();
    let mut memo = memo.write().unwrap_or_else(PoisonError::into_inner);
    for (columns, found) in searched {
        memo.keep(columns, found);
    }
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
    /// What a form may cost that ends here.
    most: u16,
}

impl Column {
    const PAST: Self = Self { phone: BREAK, added: FAR as u16, limit: 0, most: 0 };

    /// All that a search can tell of it (what a sound costs goes by the sound).
    fn key(self) -> u64 {
        u64::from(self.phone) | u64::from(self.limit) << 8 | u64::from(self.most) << 24
    }
}

/// What was heard from one sound of a note on.
struct Heard<'a> {
    note: &'a [Phone],
    from: usize,
    allowed: Allowed<'a>,
    distances: &'a Distances,
    /// No form may cost more, so that limits beyond it are all the same.
    dearest: u16,
}

impl Heard<'_> {
    /// The finds of an earlier search that read the same.
    fn remembered<'m>(&self, memo: &'m Memo) -> Option<&'m [Find]> {
        let mut at = Memo::START;
        for j in 0..=WIDTH {
            if let Some(found) = memo.found(at) {
                return Some(found);
            }
            at = memo.step(at, self.column(j).key())?;
        }
        None
    }

    /// All columns, and how many sounds there are.
    fn columns(&self) -> ([Column; WIDTH], usize) {
        let mut columns = [Column::PAST; WIDTH];
        let last = (1..WIDTH - 1).find(|j| !self.is_heard(*j)).unwrap_or(WIDTH - 1) - 1;
        for (j, column) in columns[..=last].iter_mut().enumerate() {
            *column = self.column(j);
        }
        (columns, last)
    }

    /// Whether there are `j` sounds before the next break.
    fn is_heard(&self, j: usize) -> bool {
        j == 0 || self.note.get(self.from + j - 1).is_some_and(|p| *p != BREAK)
    }

    fn column(&self, j: usize) -> Column {
        if !self.is_heard(j) || j > WIDTH - 2 {
            return Column::PAST;
        }
        // A form under way may still gain by the sounds ahead of it. Sounds that come for nothing are the word
        // itself, and pay no toll.
        let ahead = self.worth((j + AHEAD).min(self.allowed.skip.len() - 1 - self.from));
        let toll = self.toll(j);
        let limit = ahead.saturating_sub(toll).min(self.dearest);
        if j == 0 {
            return Column { limit, ..Column::PAST };
        }
        let border = self.allowed.border[self.from + j].min(FAR) as u16;
        let most = self.worth(j).saturating_sub(border).saturating_sub(toll).min(self.dearest);
        let phone = self.note[self.from + j - 1];
        Column { phone, added: self.distances.added(phone), limit, most }
    }

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
}

struct Search<'a> {
    trie: &'a Trie,
    distances: &'a Distances,
    columns: [Column; WIDTH],
    /// How many sounds were heard from here on.
    last: usize,
    /// How many columns were read.
    read: usize,
    found: Vec<Find>,
}

impl Search<'_> {
    /// Goes on from `node`, whose row is the first of `rows`.
    fn children(&mut self, node: Node, rows: &mut [Row]) {
        let Some((before, rest)) = rows.split_first_mut() else { return };
        let depth = self.trie.depth - rest.len() + 1;
        for (phone, at) in node.children(before.follow) {
            let next = self.trie.node(at);
            if self.fill(before, &mut rest[0], phone, next.ceiling(), depth) {
                self.ends(at, &rest[0]);
                if next.next() & rest[0].follow != 0 {
                    self.children(next, rest);
                }
            }
        }
    }

    /// The row of a form of `depth` sounds that goes on with `phone`; false where all of it is too dear.
    fn fill(&mut self, before: &Row, row: &mut Row, phone: Phone, ceiling: u16, depth: usize) -> bool {
        match self.distances.split(phone) {
            None => self.cells::<false>(before, row, phone, ceiling, depth, Split::NEVER),
            Some(split) => self.cells::<true>(before, row, phone, ceiling, depth, split),
        }
    }

    /// As [`Self::fill`]; most sounds are never heard as two, and their rows need not look for it.
    ///
    /// A heard note fills some ten thousand rows of three or four columns: what can be worked out once a row is not
    /// worked out in each of them.
    fn cells<const SPLIT: bool>(
        &mut self,
        before: &Row,
        row: &mut Row,
        phone: Phone,
        ceiling: u16,
        depth: usize,
        split: Split,
    ) -> bool {
        let distances = self.distances;
        let lost = u32::from(distances.lost_after(before.phone, phone));
        let change = distances.changes(phone);
        let (now, then) = (so_far(ceiling, depth), so_far(ceiling, depth + 1));
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
                    follow |= distances.may_stand_for(next.phone, most - cost);
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
        // The column it stopped at, and the one beside the last that was filled.
        self.read = self.read.max(j + 1).max(high + 1).min(WIDTH);
        (row.low, row.high, row.phone) = (low, high, phone);
        row.follow = follow | distances.may_be_lost(over);
        high > 0
    }

    /// The forms that are whole after this row.
    fn ends(&mut self, node: usize, row: &Row) {
        let ends = self.trie.ends(node);
        if ends.is_empty() {
            return;
        }
        let heard = row.low.max(1)..row.high;
        let least = row.cells[heard.clone()].iter().copied().min().unwrap_or(FAR as u16);
        for j in heard {
            let cost = row.cells[j];
            if cost > 0 && (cost > least + WORSE || cost > self.columns[j % WIDTH].most) {
                continue;
            }
            for &(form, ceiling) in ends {
                if cost <= ceiling {
                    self.found.push(Find { sounds: j as u16, cost, form });
                }
            }
        }
    }
}
