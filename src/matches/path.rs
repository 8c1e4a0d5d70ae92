//! The cheapest way through all edges of a note, and the cheapest way through any one of them.

use super::{Context, Edge};
use crate::vocab::Kind;

/// Positions `0..positions` and the edges between them.
#[derive(Debug)]
pub(crate) struct Lattice {
    pub(crate) positions: usize,
    pub(crate) edges: Vec<Edge>,
}

#[derive(Clone, Copy)]
struct Step {
    cost: u32,
    edge: u32,
    other: u8,
}

const NONE: Step = Step { cost: u32::MAX, edge: u32::MAX, other: 0 };

/// Best costs from the start (or to the end) for every position and kind of the last word that meant
/// something: fillers and unread words let the kind before them through.
type Table = Vec<[Step; Kind::COUNT]>;

/// All ways through a lattice, ranked from both ends.
pub(crate) struct Ways<'a> {
    lattice: &'a Lattice,
    context: &'a Context,
    forward: Table,
    backward: Table,
}

fn through(kind: Kind) -> bool {
    matches!(kind, Kind::Filler | Kind::Unread)
}

impl<'a> Ways<'a> {
    /// Ranks all ways from the start only: enough for the best.
    fn forward(lattice: &'a Lattice, context: &'a Context) -> Self {
        let starts = by_position(lattice, |e| e.from);
        let mut table: Table = vec![[NONE; Kind::COUNT]; lattice.positions];
        table[0][Kind::Start as usize].cost = 0;
        for at in 0..lattice.positions {
            let here = table[at];
            for &i in &starts[at] {
                let edge = &lattice.edges[i as usize];
                let to = edge.to as usize;
                for (before, step) in here.iter().enumerate() {
                    if let Some((cost, after)) = own_cost(context, edge, before, step.cost)
                        && cost < table[to][after].cost
                    {
                        table[to][after] = Step { cost, edge: i, other: before as u8 };
                    }
                }
            }
        }
        Self { lattice, context, forward: table, backward: vec![] }
    }

    /// Ranks all ways from both ends.
    pub(crate) fn new(lattice: &'a Lattice, context: &'a Context) -> Self {
        let mut own = Self::forward(lattice, context);
        let starts = by_position(lattice, |e| e.from);
        let last = lattice.positions - 1;
        let mut table: Table = vec![[NONE; Kind::COUNT]; lattice.positions];
        for (kind, step) in table[last].iter_mut().enumerate() {
            step.cost = context.end(kind);
        }
        for at in (0..last).rev() {
            for &i in &starts[at] {
                let edge = &lattice.edges[i as usize];
                for before in 0..Kind::COUNT {
                    if own.forward[at][before].cost == u32::MAX {
                        continue;
                    }
                    let Some((cost, after)) = own_cost(context, edge, before, 0) else { continue };
                    let rest = table[edge.to as usize][after].cost;
                    if rest < u32::MAX && cost + rest < table[at][before].cost {
                        table[at][before] = Step { cost: cost + rest, edge: i, other: after as u8 };
                    }
                }
            }
        }
        own.backward = table;
        own
    }

    /// Edges of the best way, in order.
    pub(crate) fn best(&self) -> Vec<usize> {
        let last = self.lattice.positions - 1;
        let total = |k: usize| self.forward[last][k].cost.saturating_add(self.context.end(k));
        let Some(kind) = (0..Kind::COUNT).filter(|k| self.forward[last][*k].cost < u32::MAX).min_by_key(|k| total(*k)) else {
            return vec![];
        };
        self.back(last, kind)
    }

    pub(crate) fn best_cost(&self) -> u32 {
        self.backward.first().map_or(u32::MAX, |row| row[Kind::Start as usize].cost)
    }

    fn back(&self, mut at: usize, mut kind: usize) -> Vec<usize> {
        let mut path = Vec::new();
        while at > 0 {
            let step = self.forward[at][kind];
            path.push(step.edge as usize);
            at = self.lattice.edges[step.edge as usize].from as usize;
            kind = step.other as usize;
        }
        path.reverse();
        path
    }

    /// The total of the best way through edge `i`, and the state before it.
    pub(crate) fn total(&self, i: usize) -> Option<(u32, usize)> {
        let edge = &self.lattice.edges[i];
        let mut best: Option<(u32, usize)> = None;
        for (before, step) in self.forward[edge.from as usize].iter().enumerate() {
            let Some((cost, after)) = own_cost(self.context, edge, before, step.cost) else { continue };
            let rest = self.backward[edge.to as usize][after].cost;
            if rest == u32::MAX {
                continue;
            }
            if best.is_none_or(|b| cost + rest < b.0) {
                best = Some((cost + rest, before));
            }
        }
        best
    }

    /// The best way through edge `i`, entered in the state that [`Self::total`] gave.
    pub(crate) fn way(&self, i: usize, before: usize) -> Vec<usize> {
        let edge = &self.lattice.edges[i];
        let mut path = self.back(edge.from as usize, before);
        path.push(i);
        let mut at = edge.to as usize;
        let mut kind = if through(edge.kind) { before } else { edge.kind as usize };
        while at < self.lattice.positions - 1 {
            let step = self.backward[at][kind];
            path.push(step.edge as usize);
            at = self.lattice.edges[step.edge as usize].to as usize;
            kind = step.other as usize;
        }
        path
    }
}

fn by_position(lattice: &Lattice, key: impl Fn(&Edge) -> u16) -> Vec<Vec<u32>> {
    let mut out: Vec<Vec<u32>> = vec![vec![]; lattice.positions];
    for (i, e) in lattice.edges.iter().enumerate() {
        out[key(e) as usize].push(i as u32);
    }
    out
}

/// Cost up to the end of `edge` when it is entered after kind `before`, and the kind it leaves.
fn own_cost(context: &Context, edge: &Edge, before: usize, so_far: u32) -> Option<(u32, usize)> {
    if so_far == u32::MAX || (edge.after != 0 && edge.after & (1 << before) == 0) {
        return None;
    }
    if through(edge.kind) {
        return Some((so_far + edge.cost, before));
    }
    Some((so_far + edge.cost + context.cost(before, edge.kind), edge.kind as usize))
}

/// Indices of the edges on the cheapest way, in order.
pub(crate) fn best(lattice: &Lattice, context: &Context) -> Vec<usize> {
    Ways::forward(lattice, context).best()
}
