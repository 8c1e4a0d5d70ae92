//! The cheapest way through all edges of a note.

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
    before: u8,
}

const NONE: Step = Step { cost: u32::MAX, edge: u32::MAX, before: 0 };

/// Indices of the edges on the cheapest way, in order.
///
/// State is the position and the kind of the last word that meant something: fillers let it through.
pub(crate) fn best(lattice: &Lattice, context: &Context) -> Vec<usize> {
    let mut starts: Vec<Vec<u32>> = vec![vec![]; lattice.positions];
    for (i, e) in lattice.edges.iter().enumerate() {
        starts[e.from as usize].push(i as u32);
    }
    let mut table = vec![[NONE; Kind::COUNT]; lattice.positions];
    table[0][Kind::Start as usize] = Step { cost: 0, ..NONE };
    for at in 0..lattice.positions {
        let here = table[at];
        for &i in &starts[at] {
            let edge = &lattice.edges[i as usize];
            let to = edge.to as usize;
            for (before, step) in here.iter().enumerate() {
                if step.cost == u32::MAX || (edge.after != 0 && edge.after & (1 << before) == 0) {
                    continue;
                }
                let through = matches!(edge.kind, Kind::Filler | Kind::Unread);
                let after = if through { before } else { edge.kind as usize };
                let cost = step.cost + edge.cost + if through { 0 } else { context.cost(before, edge.kind) };
                if cost < table[to][after].cost {
                    table[to][after] = Step { cost, edge: i, before: before as u8 };
                }
            }
        }
    }
    let last = &table[lattice.positions - 1];
    let Some(mut kind) = (0..Kind::COUNT).filter(|k| last[*k].cost < u32::MAX).min_by_key(|k| last[*k].cost) else {
        return vec![];
    };
    let mut at = lattice.positions - 1;
    let mut path = Vec::new();
    while at > 0 {
        let step = table[at][kind];
        path.push(step.edge as usize);
        at = lattice.edges[step.edge as usize].from as usize;
        kind = step.before as usize;
    }
    path.reverse();
    path
}
