//! One cow's record while it is being put together, with where each part was said.

use crate::anatomy::{Claw, End, Foot, Side};
use crate::disorder::{Course, Stage};
use crate::entry::{Due, Measure, Score};
use crate::grammar::{ClawWord, Deed, Named, Tag};
use crate::words::Span;

/// A foot that was only half named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Half {
    Side(Side),
    End(End),
}

impl Half {
    pub(crate) fn holds(self, foot: Foot) -> bool {
        match self {
            Self::Side(side) => foot.side() == side,
            Self::End(end) => foot.end() == end,
        }
    }

    /// The feet it may be, the likeliest first.
    pub(crate) fn feet(self) -> Vec<Foot> {
        match self {
            // Nine lesions in ten are on hind feet (Murray et al. 1996): those come first.
            Self::Side(s) => vec![Foot::new(s, End::Hind), Foot::new(s, End::Front)],
            Self::End(e) => crate::grammar::both(e).to_vec(),
        }
    }
}

/// Where a finding or an action is, as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Spot {
    pub(crate) foot: Option<Foot>,
    pub(crate) half: Option<Half>,
    pub(crate) claw: Option<Claw>,
}

impl Spot {
    /// The foot, or those it may be.
    pub(crate) fn feet(self) -> Vec<Foot> {
        self.foot.map_or_else(|| self.half.map_or_else(Vec::new, Half::feet), |f| vec![f])
    }

    /// Whether both are of one foot, and not of two claws of it.
    pub(crate) fn may_be(self, other: Self) -> bool {
        self.foot == other.foot && (self.claw == other.claw || self.claw.is_none() || other.claw.is_none())
    }
}

#[derive(Clone, Debug)]
pub(crate) struct DraftFinding {
    pub(crate) named: Named,
    /// What it could be instead ("foul or a wart").
    pub(crate) instead: Vec<Named>,
    pub(crate) spot: Spot,
    pub(crate) zones: Vec<u8>,
    pub(crate) severity: Option<u64>,
    pub(crate) stage: Option<Stage>,
    pub(crate) course: Option<Course>,
    pub(crate) unsure: bool,
    pub(crate) span: Span,
    /// Findings that came from one mention ("both hinds warts") share it.
    pub(crate) mention: usize,
    /// Its claw was not said for it, but held from a finding before.
    pub(crate) claw_held: bool,
}

impl DraftFinding {
    /// A lesion of which nothing but its name is known.
    pub(crate) fn of(named: Named, span: Span) -> Self {
        Self {
            named,
            instead: vec![],
            spot: Spot::default(),
            zones: vec![],
            severity: None,
            stage: None,
            course: None,
            unsure: false,
            span,
            mention: 0,
            claw_held: false,
        }
    }

    /// The same lesion at another place, of which nothing more was said yet.
    pub(crate) fn again_at(&self, spot: Spot, mention: usize) -> Self {
        let (severity, stage, course) = (None, None, None);
        Self { spot, zones: vec![], severity, stage, course, claw_held: false, mention, ..self.clone() }
    }
}

#[derive(Clone, Debug)]
pub(crate) struct DraftAction {
    pub(crate) deed: Deed,
    pub(crate) spot: Spot,
    /// The claw word that names the block's own claw.
    pub(crate) own: Option<ClawWord>,
    /// Whether it was done is doubted (`block?`).
    pub(crate) unsure: bool,
    pub(crate) span: Span,
}

/// A number that nothing took.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LooseNumber {
    pub span: Span,
    /// Its value and the finding right before it (where that was said): it may have been her zone or stage.
    pub after: Option<(u8, Span)>,
    /// What else it could be ("M one or M two").
    pub or: Option<u8>,
    /// Its digits, where they are three or more, as most tags have: the value and how many.
    pub tag: Option<(u64, u8)>,
}

/// One cow's record, before the rules that need the whole of it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Draft {
    pub(crate) cow: Option<(Tag, Span)>,
    pub(crate) scores: Vec<(Score, bool, Span)>,
    pub(crate) findings: Vec<DraftFinding>,
    pub(crate) actions: Vec<DraftAction>,
    pub(crate) clear: Vec<Foot>,
    pub(crate) clear_span: Option<Span>,
    /// Where she was said to be clean all round, beside a lesion.
    pub(crate) clear_lost: Option<Span>,
    pub(crate) measures: Vec<(Measure, Span)>,
    pub(crate) due: Vec<(Due, Span)>,
    pub(crate) date_doubts: Vec<(usize, Vec<chrono::NaiveDate>)>,
    pub(crate) remarks: Vec<String>,
    /// How many of the remarks are no word on the foot named before them.
    pub(crate) remarks_apart: usize,
    pub(crate) signs: Vec<Span>,
    pub(crate) unread: Vec<Span>,
    pub(crate) loose_numbers: Vec<LooseNumber>,
    pub(crate) loose_courses: Vec<(Course, Span)>,
    /// Zones and grades that no lesion took.
    pub(crate) loose_parts: Vec<Span>,
    /// Feet of which something was denied, or said to stay as it is: that leaves no record, and is no question.
    pub(crate) told: Vec<Foot>,
    /// Feet as they were named, each place once.
    pub(crate) places: Vec<(Vec<Foot>, Span)>,
    /// Corrections of which nothing could be found that they correct.
    pub(crate) corrections_open: Vec<Span>,
    pub(crate) same_open: Vec<Span>,
    pub(crate) asides: usize,
    /// Something was said before a block or a wrap went on that no phrase took.
    pub(crate) unexplained: bool,
}
