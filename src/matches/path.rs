//! The cheapest way through all edges of a note, and the cheapest way through any one of them.

use super::state::{self, START, STATES, State};
use super::{Context, Edge};

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
    other: State,
}

const NONE: Step = Step { cost: u32::MAX, edge: u32::MAX, other: 0 };

/// Best costs from the start (or to the end) for every position and kind of the last word that meant
/// something: fillers and unread words let the kind before them through.
type Table = Vec<[Step; STATES]>;

/// All ways through a lattice, ranked from both ends.
pub(crate) struct Ways<'a> {
    lattice: &'a Lattice,
    context: &'a Context,
    forward: Table,
    /// At each position, the states that can be reached.
    live: Vec<Vec<State>>,
    backward: Table,
}

impl<'a> Ways<'a> {
    /// Ranks all ways from the start only: enough for the best.
    fn forward(lattice: &'a Lattice, context: &'a Context) -> Self {
        let starts = by_position(lattice, |e| e.from);
        let mut table: Table = vec![[NONE; STATES]; lattice.positions];
        table[0][START as usize].cost = 0;
        let mut live: Vec<Vec<State>> = Vec::with_capacity(lattice.positions);
        for at in 0..lattice.positions {
            let here: Vec<State> = (0..STATES as State).filter(|s| table[at][*s as usize].cost < u32::MAX).collect();
            for &i in &starts[at] {
                let edge = &lattice.edges[i as usize];
                let to = edge.to as usize;
                for &before in &here {
                    if let Some((cost, after)) = own_cost(context, edge, before, table[at][before as usize].cost)
                        && cost < table[to][after as usize].cost
                    {
                        table[to][after as usize] = Step { cost, edge: i, other: before };
                    }
                }
            }
            live.push(here);
        }
        Self { lattice, context, forward: table, live, backward: vec![] }
    }

    /// Ranks all ways from both ends.
    pub(crate) fn new(lattice: &'a Lattice, context: &'a Context) -> Self {
        let mut own = Self::forward(lattice, context);
        let starts = by_position(lattice, |e| e.from);
        let last = lattice.positions - 1;
        let mut table: Table = vec![[NONE; STATES]; lattice.positions];
        for (state, step) in table[last].iter_mut().enumerate() {
            step.cost = context.end(state as State);
        }
        for at in (0..last).rev() {
            for &i in &starts[at] {
                let edge = &lattice.edges[i as usize];
                for &before in &own.live[at] {
                    let Some((cost, after)) = own_cost(context, edge, before, 0) else { continue };
                    let rest = table[edge.to as usize][after as usize].cost;
                    if rest < u32::MAX && cost + rest < table[at][before as usize].cost {
                        table[at][before as usize] = Step { cost: cost + rest, edge: i, other: after };
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
        let total = |k: usize| self.forward[last][k].cost.saturating_add(self.context.end(k as State));
        let Some(state) = (0..STATES).filter(|k| self.forward[last][*k].cost < u32::MAX).min_by_key(|k| total(*k))
        else {
            return vec![];
        };
        self.back(last, state)
    }

    pub(crate) fn best_cost(&self) -> u32 {
        self.backward.first().map_or(u32::MAX, |row| row[START as usize].cost)
    }

    fn back(&self, mut at: usize, mut state: usize) -> Vec<usize> {
        let mut path = Vec::new();
        while at > 0 {
            let step = self.forward[at][state];
            path.push(step.edge as usize);
            at = self.lattice.edges[step.edge as usize].from as usize;
            state = step.other as usize;
        }
        path.reverse();
        path
    }

    /// The total of the best way through edge `i`, and the state before it.
    pub(crate) fn total(&self, i: usize) -> Option<(u32, State)> {
        let edge = &self.lattice.edges[i];
        let mut best: Option<(u32, State)> = None;
        let from = edge.from as usize;
        for &before in &self.live[from] {
            let so_far = self.forward[from][before as usize].cost;
            let Some((cost, after)) = own_cost(self.context, edge, before, so_far) else { continue };
            let rest = self.backward[edge.to as usize][after as usize].cost;
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
    pub(crate) fn way(&self, i: usize, before: State) -> Vec<usize> {
        let edge = &self.lattice.edges[i];
        let mut path = self.back(edge.from as usize, before as usize);
        path.push(i);
        let mut at = edge.to as usize;
        let word = state::seen_as(before, edge.kind);
        let mut state = state::next(before, word).unwrap_or(before);
        while at < self.lattice.positions - 1 {
            let step = self.backward[at][state as usize];
            path.push(step.edge as usize);
            at = self.lattice.edges[step.edge as usize].to as usize;
            state = step.other;
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

/// Cost up to the end of `edge` when it is entered in state `before`, and the state it leaves.
fn own_cost(context: &Context, edge: &Edge, before: State, so_far: u32) -> Option<(u32, State)> {
    if so_far == u32::MAX || (edge.after != 0 && edge.after & (1 << state::kind(before)) == 0) {
        return None;
    }
    let word = state::seen_as(before, edge.kind);
    match state::next(before, word) {
        None => Some((so_far + edge.cost, before)),
        Some(after) => Some((so_far + edge.cost + context.cost(before, word), after)),
    }
}

/// Indices of the edges on the cheapest way, in order.
pub(crate) fn best(lattice: &Lattice, context: &Context) -> Vec<usize> {
    Ways::forward(lattice, context).best()
}
