//! The edges of a note, and the cheapest way through them.

use super::state::{self, START, State};
use super::{Context, Edge};

/// Positions `0..positions` and the edges between them.
#[derive(Debug)]
pub(crate) struct Lattice {
    pub(crate) positions: usize,
    pub(crate) edges: Vec<Edge>,
}

/// What a way may cost at most to be looked at.
pub(super) struct Most {
    total: u32,
    /// What is still to come from each position, at the least: the cheapest edges, whatever stands beside what.
    rest: Vec<u32>,
}

impl Most {
    /// Of ways that cost up to `margin` more than the best; `order` has all edges by where they begin.
    pub(super) fn new(
        lattice: &Lattice,
        context: &Context,
        order: impl DoubleEndedIterator<Item = usize> + Clone,
        margin: u32,
    ) -> Self {
        let total = at_most(lattice, context, order.clone()).saturating_add(margin);
        Self { total, rest: rest(lattice, order) }
    }

    /// What the part of a way up to a position may cost.
    pub(super) fn at(&self, to: u16) -> u32 {
        self.total.saturating_sub(self.rest[to as usize])
    }
}

fn rest(lattice: &Lattice, order: impl DoubleEndedIterator<Item = usize>) -> Vec<u32> {
    let mut rest = vec![u32::MAX; lattice.positions];
    rest[lattice.positions - 1] = 0;
    for edge in order.rev().map(|i| &lattice.edges[i]) {
        let here = edge.cost.saturating_add(rest[edge.to as usize]);
        let least = &mut rest[edge.from as usize];
        *least = here.min(*least);
    }
    rest
}

/// What the best way costs at most: that of a way that keeps one state at each position.
fn at_most(lattice: &Lattice, context: &Context, order: impl Iterator<Item = usize>) -> u32 {
    let mut so_far = vec![(u32::MAX, START); lattice.positions];
    so_far[0].0 = 0;
    for edge in order.map(|i| &lattice.edges[i]) {
        let (cost, state) = so_far[edge.from as usize];
        if let Some(next) = own_cost(context, edge, state, cost)
            && next.0 < so_far[edge.to as usize].0
        {
            so_far[edge.to as usize] = next;
        }
    }
    let (cost, state) = so_far[lattice.positions - 1];
    cost.saturating_add(context.end(state))
}

/// Cost up to the end of `edge` when it is entered in state `before`, and the state it leaves.
pub(super) fn own_cost(context: &Context, edge: &Edge, before: State, so_far: u32) -> Option<(u32, State)> {
    if so_far == u32::MAX || (edge.after != 0 && edge.after & (1 << state::kind(before)) == 0) {
        return None;
    }
    let step = context.step(before, edge.kind);
    Some((so_far + edge.cost + u32::from(step.cost), step.to))
}

/// A state reached at a position, and how: one of a chain of those at the same position, ordered by state.
#[derive(Clone, Copy)]
struct Reached {
    state: State,
    cost: u32,
    edge: u32,
    /// From which state this one was reached, and the next at this position.
    from: u32,
    next: u32,
}

/// The end of a chain.
const LAST: u32 = u32::MAX;

/// Indices of the edges on the cheapest way, in order. The edges are sorted by where they begin. A note read word for
/// word reaches two or three states at a position: they are kept in chains, where [`super::Ways`] has a table of all.
pub(crate) fn best(lattice: &Lattice, context: &Context) -> Vec<usize> {
    debug_assert!(lattice.edges.is_sorted_by_key(|e| e.from), "edges are found word by word");
    let most = Most::new(lattice, context, 0..lattice.edges.len(), 0);
    let mut first = vec![LAST; lattice.positions];
    let mut all = Vec::with_capacity(4 * lattice.positions);
    all.push(Reached { state: START, cost: 0, edge: LAST, from: LAST, next: LAST });
    first[0] = 0;
    for (i, edge) in lattice.edges.iter().enumerate() {
        let limit = most.at(edge.to);
        let mut from = first[edge.from as usize];
        while from != LAST {
            let before: Reached = all[from as usize];
            if let Some((cost, state)) = own_cost(context, edge, before.state, before.cost)
                && cost <= limit
            {
                let new = Reached { state, cost, edge: i as u32, from, next: LAST };
                reach(&mut all, &mut first[edge.to as usize], new);
            }
            from = before.next;
        }
    }
    let ends = std::iter::successors(all.get(first[lattice.positions - 1] as usize), |r| all.get(r.next as usize));
    let Some(mut here) = ends.min_by_key(|r| r.cost.saturating_add(context.end(r.state))) else { return vec![] };
    let mut path = Vec::with_capacity(lattice.positions);
    while here.edge != LAST {
        path.push(here.edge as usize);
        here = &all[here.from as usize];
    }
    path.reverse();
    path
}

/// Puts a state into the chain that begins at `first`, or the way to it in the place of a dearer one.
fn reach(all: &mut Vec<Reached>, first: &mut u32, new: Reached) {
    let (mut before, mut at) = (LAST, *first);
    while at != LAST && all[at as usize].state < new.state {
        (before, at) = (at, all[at as usize].next);
    }
    if let Some(there) = all.get_mut(at as usize).filter(|r| r.state == new.state) {
        if new.cost < there.cost {
            *there = Reached { next: there.next, ..new };
        }
        return;
    }
    let index = all.len() as u32;
    all.push(Reached { next: at, ..new });
    match all.get_mut(before as usize) {
        Some(before) => before.next = index,
        None => *first = index,
    }
}
