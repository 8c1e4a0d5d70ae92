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

/// Some of the states, as bits.
#[derive(Clone, Copy, Default)]
struct States(u128);

const _: () = assert!(STATES <= 128, "states are bits of a u128");

impl States {
    fn add(&mut self, state: State) {
        self.0 |= 1 << state;
    }

    fn each(self) -> impl Iterator<Item = State> {
        let mut left = self.0;
        std::iter::from_fn(move || {
            let state = left.trailing_zeros();
            left &= left.wrapping_sub(1);
            (state < u128::BITS).then_some(state as State)
        })
    }
}

/// All ways through a lattice, ranked from both ends.
pub(crate) struct Ways<'a> {
    lattice: &'a Lattice,
    context: &'a Context,
    forward: Table,
    /// At each position, the states that can be reached by a way that is worth it.
    live: Vec<States>,
    backward: Table,
}

impl<'a> Ways<'a> {
    /// Ranks all ways from the start, without those that are sure to cost more than `most` in the end.
    fn forward(lattice: &'a Lattice, context: &'a Context, starts: &Starts, most: &Most) -> Self {
        let mut table: Table = vec![[NONE; STATES]; lattice.positions];
        let mut live = vec![States::default(); lattice.positions];
        table[0][START as usize].cost = 0;
        live[0].add(START);
        for at in 0..lattice.positions {
            for &i in starts.at(at) {
                let edge = &lattice.edges[i as usize];
                let to = edge.to as usize;
                let limit = most.at(edge.to);
                for before in live[at].each() {
                    let Some((cost, after)) = own_cost(context, edge, before, table[at][before as usize].cost) else {
                        continue;
                    };
                    if cost <= limit && cost < table[to][after as usize].cost {
                        table[to][after as usize] = Step { cost, edge: i, other: before };
                        live[to].add(after);
                    }
                }
            }
        }
        Self { lattice, context, forward: table, live, backward: vec![] }
    }

    /// Ranks all ways from both ends that cost up to `margin` more than the best; what others cost is not told
    /// rightly, only that it is more.
    pub(crate) fn new(lattice: &'a Lattice, context: &'a Context, margin: u32) -> Self {
        let starts = Starts::new(lattice);
        let most = Most::new(lattice, context, starts.edges.iter().map(|i| *i as usize), margin);
        let mut own = Self::forward(lattice, context, &starts, &most);
        let last = lattice.positions - 1;
        let mut table: Table = vec![[NONE; STATES]; lattice.positions];
        for (state, step) in table[last].iter_mut().enumerate() {
            step.cost = context.end(state as State);
        }
        for at in (0..last).rev() {
            for &i in starts.at(at) {
                let edge = &lattice.edges[i as usize];
                for before in own.live[at].each() {
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
        let total = |k: State| self.forward[last][k as usize].cost.saturating_add(self.context.end(k));
        let Some(state) = self.live[last].each().min_by_key(|k| total(*k)) else { return vec![] };
        self.back(last, state)
    }

    pub(crate) fn best_cost(&self) -> u32 {
        self.backward.first().map_or(u32::MAX, |row| row[START as usize].cost)
    }

    fn back(&self, mut at: usize, mut state: State) -> Vec<usize> {
        let mut path = Vec::new();
        while at > 0 {
            let step = self.forward[at][state as usize];
            path.push(step.edge as usize);
            at = self.lattice.edges[step.edge as usize].from as usize;
            state = step.other;
        }
        path.reverse();
        path
    }

    /// The total of the best way through edge `i`, and the state before it.
    pub(crate) fn total(&self, i: usize) -> Option<(u32, State)> {
        let edge = &self.lattice.edges[i];
        let mut best: Option<(u32, State)> = None;
        let from = edge.from as usize;
        for before in self.live[from].each() {
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
        let mut path = self.back(edge.from as usize, before);
        path.push(i);
        let mut at = edge.to as usize;
        let mut state = self.context.step(before, edge.kind).to;
        while at < self.lattice.positions - 1 {
            let step = self.backward[at][state as usize];
            path.push(step.edge as usize);
            at = self.lattice.edges[step.edge as usize].to as usize;
            state = step.other;
        }
        path
    }
}

/// The edges that begin at each position.
struct Starts {
    edges: Vec<u32>,
    first: Vec<u32>,
}

impl Starts {
    fn new(lattice: &Lattice) -> Self {
        let mut first = vec![0; lattice.positions + 2];
        for e in &lattice.edges {
            first[e.from as usize + 2] += 1;
        }
        for at in 2..first.len() {
            first[at] += first[at - 1];
        }
        let mut edges = vec![0; lattice.edges.len()];
        for (i, e) in lattice.edges.iter().enumerate() {
            let next = &mut first[e.from as usize + 1];
            edges[*next as usize] = i as u32;
            *next += 1;
        }
        Self { edges, first }
    }

    fn at(&self, position: usize) -> &[u32] {
        &self.edges[self.first[position] as usize..self.first[position + 1] as usize]
    }
}

/// What a way may cost at most to be looked at.
struct Most {
    total: u32,
    /// What is still to come from each position, at the least: the cheapest edges, whatever stands beside what.
    rest: Vec<u32>,
}

impl Most {
    /// Of ways that cost up to `margin` more than the best; `order` has all edges by where they begin.
    fn new(
        lattice: &Lattice,
        context: &Context,
        order: impl DoubleEndedIterator<Item = usize> + Clone,
        margin: u32,
    ) -> Self {
        let total = at_most(lattice, context, order.clone()).saturating_add(margin);
        Self { total, rest: rest(lattice, order) }
    }

    /// What the part of a way up to a position may cost.
    fn at(&self, to: u16) -> u32 {
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
fn own_cost(context: &Context, edge: &Edge, before: State, so_far: u32) -> Option<(u32, State)> {
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
/// word reaches two or three states at a position: they are kept in chains, where [`Ways`] has a table of all.
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
