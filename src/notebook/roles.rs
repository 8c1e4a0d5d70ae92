//! What the words of a line are about, as far as it takes to sort lines and to repeat columns.

use std::ops::Range;

use crate::matches::{self, Context, Tok};
use crate::vocab::{Kind, Meaning, Vocabulary};
use crate::words;

/// What a word is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    /// A foot, or feet.
    Foot,
    /// A claw.
    Claw,
    /// A lesion or a sign.
    What,
    /// Zone, severity, stage, course.
    Detail,
    /// What was done, and with what.
    Deed,
    Clear,
    Score,
    Measure,
    Due,
    Same,
    Cow,
    Number,
    /// Words that carry nothing, and how things hang together.
    Talk,
    Unread,
}

/// The words of a line, each with its role.
#[derive(Debug, Default)]
pub(super) struct Roles {
    pub(super) toks: Vec<(Tok, Role)>,
}

impl Roles {
    pub(super) fn of(text: &str, vocab: &Vocabulary, flat: &Context) -> Self {
        let words = words::cut(text, |w| vocab.knows(w));
        let toks = matches::exact(&words, vocab, flat);
        Self {
            toks: toks
                .into_iter()
                .map(|t| {
                    let role = role(t.meaning);
                    (t, role)
                })
                .collect(),
        }
    }

    pub(super) fn has(&self, role: Role) -> bool {
        self.count(role) > 0
    }

    pub(super) fn count(&self, role: Role) -> usize {
        self.toks.iter().filter(|t| t.1 == role).count()
    }

    /// Whether something is said that a record could hold.
    pub(super) fn record(&self) -> bool {
        self.toks.iter().any(|t| {
            matches!(
                t.1,
                Role::Foot
                    | Role::What
                    | Role::Detail
                    | Role::Deed
                    | Role::Clear
                    | Role::Score
                    | Role::Measure
                    | Role::Due
                    | Role::Same
            )
        })
    }

    /// Whether the first word is one of the trade.
    pub(super) fn starts_with_trade(&self) -> bool {
        let first = Self { toks: self.toks.iter().take(1).cloned().collect() };
        first.record() || first.has(Role::Claw)
    }

    /// Whether a claw is named.
    pub(super) fn has_claw(&self) -> bool {
        self.has(Role::Claw)
            || self.toks.iter().any(|t| matches!(t.0.meaning, Some(Meaning::Place(..) | Meaning::Places(..))))
    }

    /// Where the first place named stands: feet and claws in a row. Empty where there is none.
    pub(super) fn first_place(&self) -> Range<usize> {
        let place = |t: &(Tok, Role)| matches!(t.1, Role::Foot | Role::Claw);
        let Some(first) = self.toks.iter().position(place) else { return 0..0 };
        let row = self.toks[first..].iter().take_while(|t| place(t)).count();
        self.span(first..first + row)
    }

    /// Where the place stands that the words end with.
    pub(super) fn last_place(&self) -> Range<usize> {
        let row = self.toks.iter().rev().take_while(|t| matches!(t.1, Role::Foot | Role::Claw)).count();
        if row == 0 { 0..0 } else { self.span(self.toks.len() - row..self.toks.len()) }
    }

    fn span(&self, toks: Range<usize>) -> Range<usize> {
        self.toks[toks.start].0.span.start as usize..self.toks[toks.end - 1].0.span.end as usize
    }

    /// Whether a foot is named with what is wrong there or was done.
    pub(super) fn trade(&self) -> bool {
        self.has(Role::Foot) && (self.has(Role::What) || self.has(Role::Deed) || self.has(Role::Clear))
    }
}

fn role(meaning: Option<Meaning>) -> Role {
    let Some(meaning) = meaning else { return Role::Unread };
    match meaning {
        Meaning::Severity(_) => return Role::Detail,
        Meaning::FootNoun | Meaning::TakenOff => return Role::Talk,
        // Foot and claw in one word.
        Meaning::Place(..) | Meaning::Places(..) => return Role::Foot,
        _ => {}
    }
    match meaning.kind() {
        Kind::Side | Kind::End | Kind::Foot | Kind::Group => Role::Foot,
        Kind::Claw | Kind::ClawNoun => Role::Claw,
        Kind::Disorder | Kind::Vague | Kind::Sign => Role::What,
        Kind::Zone | Kind::Severity | Kind::Grade | Kind::Stage | Kind::Course => Role::Detail,
        Kind::Block
        | Kind::Wrap
        | Kind::NewOne
        | Kind::Lost
        | Kind::Work
        | Kind::Trim
        | Kind::Vet
        | Kind::Agent
        | Kind::Material => Role::Deed,
        Kind::Clear => Role::Clear,
        Kind::Scale => Role::Score,
        Kind::Measure => Role::Measure,
        Kind::Due => Role::Due,
        Kind::Same => Role::Same,
        Kind::Cow | Kind::NumberCue => Role::Cow,
        Kind::Number => Role::Number,
        Kind::Unread => Role::Unread,
        _ => Role::Talk,
    }
}
