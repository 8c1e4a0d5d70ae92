//! All ways through the edges of a note, ranked from both ends: the cheapest, and the cheapest through any one edge.

use super::path::{Lattice, Most, own_cost};
use super::state::{START, STATES, State};
use super::{Context, Edge};
use crate::vocab::Kind;

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

/// A state that words of one kind lead to, and the cheapest way to it, up to the word itself.
#[derive(Clone, Copy)]
struct Lead {
    after: State,
    before: State,
    cost: u32,
}

/// Where words of one kind lead from a position: all of them alike, so it is worked out once for each kind.
#[derive(Clone, Copy)]
struct Group {
    kind: Kind,
    /// Its part of [`Ways::leads`].
    first: u32,
    end: u32,
}

/// The group of an edge that must follow certain kinds: it has none.
const ALONE: u32 = u32::MAX;

/// All ways through a lattice, ranked from both ends.
pub(crate) struct Ways<'a> {
    lattice: &'a Lattice,
    context: &'a Context,
    forward: Table,
    /// At each position, the states that can be reached by a way that is worth it.
    live: Vec<States>,
    leads: Vec<Lead>,
    groups: Vec<Group>,
    /// The group of each edge, or [`ALONE`].
    group: Vec<u32>,
    backward: Table,
}

impl<'a> Ways<'a> {
    /// Ranks all ways from both ends that cost up to `margin` more than the best; what others cost is not told
    /// rightly, only that it is more.
    pub(crate) fn new(lattice: &'a Lattice, context: &'a Context, margin: u32) -> Self {
        let starts = Starts::new(lattice);
        let mut own = Self {
            lattice,
            context,
            forward: vec![[NONE; STATES]; lattice.positions],
            live: vec![States::default(); lattice.positions],
            leads: vec![],
            groups: vec![],
            group: vec![ALONE; lattice.edges.len()],
            backward: vec![[NONE; STATES]; lattice.positions],
        };
        own.rank_from_the_start(&starts, margin);
        own.rank_from_the_end(&starts);
        own
    }

    /// Leaves out what is sure to cost too much in the end.
    fn rank_from_the_start(&mut self, starts: &Starts, margin: u32) {
        let lattice = self.lattice;
        let most = Most::new(lattice, self.context, starts.edges.iter().map(|i| *i as usize), margin);
        self.forward[0][START as usize].cost = 0;
        self.live[0].add(START);
        for at in 0..lattice.positions {
            let mut of_kind = [ALONE; Kind::COUNT];
            for &i in starts.at(at) {
                let edge = &lattice.edges[i as usize];
                let limit = most.at(edge.to);
                if edge.after != 0 {
                    for before in self.live[at].each() {
                        let so_far = self.forward[at][before as usize].cost;
                        if let Some((cost, after)) = own_cost(self.context, edge, before, so_far) {
                            self.reach(edge, limit, after, Step { cost, edge: i, other: before });
                        }
                    }
                    continue;
                }
                let group = &mut of_kind[edge.kind as usize];
                if *group == ALONE {
                    *group = self.groups.len() as u32;
                    self.lead(at, edge.kind);
                }
                self.group[i as usize] = *group;
                let Group { first, end, .. } = self.groups[*group as usize];
                for k in first..end {
                    let Lead { after, before, cost } = self.leads[k as usize];
                    self.reach(edge, limit, after, Step { cost: cost + edge.cost, edge: i, other: before });
                }
            }
        }
    }

    fn reach(&mut self, edge: &Edge, limit: u32, after: State, step: Step) {
        let there = &mut self.forward[edge.to as usize][after as usize];
        if step.cost <= limit && step.cost < there.cost {
            *there = step;
            self.live[edge.to as usize].add(after);
        }
    }

    /// Works out where words of a kind lead from a position.
    fn lead(&mut self, at: usize, kind: Kind) {
        let first = self.leads.len();
        for before in self.live[at].each() {
            let step = self.context.step(before, kind);
            let cost = self.forward[at][before as usize].cost + u32::from(step.cost);
            let new = Lead { after: step.to, before, cost };
            match self.leads[first..].iter_mut().find(|l| l.after == step.to) {
                Some(there) if cost < there.cost => *there = new,
                Some(_) => {}
                None => self.leads.push(new),
            }
        }
        self.groups.push(Group { kind, first: first as u32, end: self.leads.len() as u32 });
    }

    fn rank_from_the_end(&mut self, starts: &Starts) {
        let lattice = self.lattice;
        let last = lattice.positions - 1;
        for (state, step) in self.backward[last].iter_mut().enumerate() {
            step.cost = self.context.end(state as State);
        }
        // For each place in `leads`, what is to come at the least, and by which edge.
        let mut rest: Vec<(u32, u32)> = vec![(u32::MAX, u32::MAX); self.leads.len()];
        let mut groups: Vec<u32> = Vec::new();
        for at in (0..last).rev() {
            groups.clear();
            for &i in starts.at(at) {
                let edge = &lattice.edges[i as usize];
                let group = self.group[i as usize];
                if group == ALONE {
                    for before in self.live[at].each() {
                        let Some((cost, after)) = own_cost(self.context, edge, before, 0) else { continue };
                        let to_come = self.backward[edge.to as usize][after as usize].cost;
                        self.go_on(at, before, Step { cost: cost.saturating_add(to_come), edge: i, other: after });
                    }
                    continue;
                }
                if !groups.contains(&group) {
                    groups.push(group);
                }
                let Group { first, end, .. } = self.groups[group as usize];
                let range = first as usize..end as usize;
                for (lead, rest) in self.leads[range.clone()].iter().zip(&mut rest[range]) {
                    let to_come = self.backward[edge.to as usize][lead.after as usize].cost;
                    *rest = (*rest).min((to_come.saturating_add(edge.cost), i));
                }
            }
            for &group in &groups {
                let Group { kind, first, end } = self.groups[group as usize];
                for before in self.live[at].each() {
                    let step = self.context.step(before, kind);
                    let same = |l: &Lead| l.after == step.to;
                    let Some(k) = self.leads[first as usize..end as usize].iter().position(same) else { continue };
                    let (to_come, edge) = rest[first as usize + k];
                    let cost = to_come.saturating_add(u32::from(step.cost));
                    self.go_on(at, before, Step { cost, edge, other: step.to });
                }
            }
        }
    }

    /// Of ways that cost the same, that by the first edge is kept.
    fn go_on(&mut self, at: usize, before: State, step: Step) {
        let there = &mut self.backward[at][before as usize];
        if step.cost < u32::MAX && (step.cost, step.edge) < (there.cost, there.edge) {
            *there = step;
        }
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
        let from = edge.from as usize;
        let rest = |after: State| self.backward[edge.to as usize][after as usize].cost;
        let best = if self.group[i] == ALONE {
            let way = |before: State| {
                let so_far = self.forward[from][before as usize].cost;
                let (cost, after) = own_cost(self.context, edge, before, so_far)?;
                Some((cost.saturating_add(rest(after)), before))
            };
            self.live[from].each().filter_map(way).min()
        } else {
            let Group { first, end, .. } = self.groups[self.group[i] as usize];
            let way = |l: &Lead| ((l.cost + edge.cost).saturating_add(rest(l.after)), l.before);
            self.leads[first as usize..end as usize].iter().map(way).min()
        };
        best.filter(|b| b.0 < u32::MAX)
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
