//! What tends to follow what: kinds of words that rarely stand side by side cost more together.
//!
//! The counts in `vocab/context.toml` were taken over typed notes by `examples/count_context.rs`.

use std::collections::BTreeMap;

use super::state::{self, START, STATES, State};
use super::{How, Tok, Tuning};
use crate::vocab::Kind;

/// Cost of a kind after another, in hundredths.
#[derive(Clone, Debug)]
pub struct Context {
    /// For each state, what each kind of word does in it: worked out once, since every way through a note asks.
    moves: Vec<[Move; Kind::COUNT]>,
    /// Cost of a note that ends after each kind.
    ends: [u16; Kind::COUNT],
}

/// What a word does in a state.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Move {
    pub(crate) cost: u16,
    /// The state after it; the same for a word that leaves it as it was.
    pub(crate) to: State,
}

/// `[after.Kind]` tables of counts; `Start` as what follows is the end of the note.
type Counts = BTreeMap<String, BTreeMap<String, BTreeMap<String, u32>>>;

/// How much the overall share of a kind counts beside its share after the one before it.
const SMOOTH: f64 = 4.0;

impl Context {
    /// From the counts that are built in.
    ///
    /// # Panics
    /// Never: a test reads the built-in counts.
    pub fn new(tuning: &Tuning) -> Self {
        let counts: Counts =
            toml::from_str(crate::vocab::built_in!("context.toml")).expect("the built-in counts are checked by a test");
        let count = |before: &Kind, kind: &Kind| {
            let n = counts.get("after").and_then(|t| t.get(before.name())).and_then(|t| t.get(kind.name()));
            f64::from(n.copied().unwrap_or(0))
        };
        let counts: Vec<Vec<f64>> = Kind::ALL.iter().map(|b| Kind::ALL.iter().map(|k| count(b, k)).collect()).collect();
        let overall: Vec<f64> = (0..Kind::COUNT).map(|k| counts.iter().map(|row| row[k]).sum()).collect();
        let total: f64 = overall.iter().sum();
        let costs: Vec<_> = counts
            .iter()
            .map(|counts| {
                let sum: f64 = counts.iter().sum();
                let mut row = [0; Kind::COUNT];
                for ((cell, count), overall) in row.iter_mut().zip(counts).zip(&overall) {
                    let share = (overall + 1.0) / (total + Kind::COUNT as f64);
                    let here = (count + SMOOTH * share) / (sum + SMOOTH);
                    *cell = (-here.ln() * f64::from(tuning.context)).round().clamp(0.0, 150.0) as u16;
                }
                row
            })
            .collect();
        Self::of(&costs)
    }

    fn of(costs: &[[u16; Kind::COUNT]]) -> Self {
        let moves = (0..STATES as State)
            .map(|before| {
                let mut row = [Move::default(); Kind::COUNT];
                for (cell, kind) in row.iter_mut().zip(Kind::ALL) {
                    let word = state::seen_as(before, *kind);
                    let after = |word: Kind, kind: Kind| costs[word as usize][kind as usize];
                    *cell = match state::next(before, word) {
                        _ if word == Kind::WholeStage => Move {
                            cost: after(Kind::ALL[state::row(before, word)], Kind::Stage)
                                + after(Kind::Stage, Kind::GradeNumber),
                            to: Kind::GradeNumber as State,
                        },
                        None => Move { cost: 0, to: before },
                        // One cow's note may end anywhere, and the next one's begin.
                        Some(to) if matches!(word, Kind::Cow | Kind::Next) => {
                            let before = state::row(before, word);
                            let anew = costs[before][Kind::Start as usize] + after(Kind::Start, word);
                            Move { cost: costs[before][word as usize].min(anew), to }
                        }
                        Some(to) => Move { cost: costs[state::row(before, word)][word as usize], to },
                    };
                }
                row
            })
            .collect();
        let mut ends = [0; Kind::COUNT];
        for (end, row) in ends.iter_mut().zip(costs) {
            *end = row[Kind::Start as usize];
        }
        Self { moves, ends }
    }

    /// Without counts: only what cannot stand side by side.
    pub fn flat() -> Self {
        let mut costs = vec![[0; Kind::COUNT]; Kind::COUNT];
        // "block in four weeks", "four oh four": a claw or a foot is not followed by a number.
        costs[Kind::Claw as usize][Kind::LooseNumber as usize] = 15;
        costs[Kind::Foot as usize][Kind::LooseNumber as usize] = 15;
        Self::of(&costs)
    }

    /// Cost of a note that ends after this kind.
    pub(crate) fn end(&self, state: State) -> u32 {
        u32::from(self.ends[state::kind(state)])
    }

    /// What a word of this kind does in this state.
    pub(crate) fn step(&self, before: State, word: Kind) -> Move {
        self.moves[before as usize][word as usize]
    }
}

/// Counts which kind follows which in notes that were read word for word, as a TOML text.
pub fn count<'a>(notes: impl IntoIterator<Item = &'a [Tok]>) -> String {
    let mut counts: BTreeMap<Kind, BTreeMap<Kind, u32>> = BTreeMap::new();
    for toks in notes {
        let mut before = START;
        for tok in toks.iter().filter(|t| matches!(t.how, How::Exact(_))) {
            let Some(kind) = tok.meaning.map(crate::vocab::Meaning::kind) else { continue };
            let word = state::seen_as(before, kind);
            let Some(after) = state::next(before, word) else { continue };
            *counts.entry(Kind::ALL[state::row(before, word)]).or_default().entry(word).or_default() += 1;
            before = after;
        }
        *counts.entry(Kind::ALL[state::kind(before)]).or_default().entry(Kind::Start).or_default() += 1;
    }
    let mut out =
        String::from("# Which kind of word followed which, counted over typed notes (examples/count_context.rs).\n");
    for (before, row) in counts {
        out += &format!("\n[after.{}]\n", before.name());
        for (kind, n) in row {
            out += &format!("{} = {n}\n", kind.name());
        }
    }
    out
}
