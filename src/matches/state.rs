//! What the context remembers at a place in the note: the kind of the last word that meant something, what
//! the last number counts, and whether "in", "on" or "for" stands right before.

use crate::vocab::Kind;

/// Number of states: a kind (or a kind of number), with and without an "in" after it.
pub(crate) const STATES: usize = 2 * PLAIN;
const PLAIN: usize = Kind::COUNT;

/// A state, below [`STATES`].
pub(crate) type State = u8;

pub(crate) const START: State = Kind::Start as State;

/// The kind a state stands for.
pub(crate) fn kind(state: State) -> usize {
    state as usize % PLAIN
}

fn after_in(state: State) -> bool {
    state as usize >= PLAIN
}

/// What a number counts, from what stands before it.
fn number(state: State) -> Kind {
    if after_in(state) {
        return Kind::CountNumber;
    }
    match Kind::ALL[kind(state)] {
        Kind::Start | Kind::Cow | Kind::Next | Kind::NumberCue | Kind::Number => Kind::Number,
        Kind::Zone | Kind::ZoneNumber => Kind::ZoneNumber,
        Kind::Measure | Kind::Part | Kind::Long | Kind::SizeNumber => Kind::SizeNumber,
        Kind::Scale | Kind::Stage | Kind::Grade | Kind::OutOf | Kind::GradeNumber => Kind::GradeNumber,
        Kind::Due | Kind::Day | Kind::CountNumber => Kind::CountNumber,
        _ => Kind::LooseNumber,
    }
}

/// The kind a word counts as in this state: a number by what it counts.
pub(crate) fn seen_as(before: State, word: Kind) -> Kind {
    if word == Kind::Number { number(before) } else { word }
}

/// The row of the context that holds for a word after this state.
pub(crate) fn row(before: State, word: Kind) -> usize {
    let timed = matches!(word, Kind::CountNumber | Kind::Period | Kind::Day | Kind::Unit | Kind::LooseNumber);
    if after_in(before) && timed { Kind::In as usize } else { kind(before) }
}

/// The state after a word; `None` where the word leaves it as it was.
pub(crate) fn next(before: State, word: Kind) -> Option<State> {
    match word {
        Kind::Filler | Kind::Unread | Kind::Only => None,
        Kind::In => Some((kind(before) + PLAIN) as State),
        // "zones four and five"
        Kind::And if is_number(kind(before)) => Some(kind(before) as State),
        word => Some(word as State),
    }
}

fn is_number(kind: usize) -> bool {
    matches!(
        Kind::ALL[kind],
        Kind::Number | Kind::ZoneNumber | Kind::SizeNumber | Kind::GradeNumber | Kind::CountNumber
    )
}
