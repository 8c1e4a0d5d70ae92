//! The phrases of a note, as values: what each says and where it stood.

use chrono::NaiveDate;

use crate::anatomy::{Claw, End, Foot, Side};
use crate::disorder::{Course, Disorder, Stage};
use crate::entry::{Act, DueWhat, MeasureKind, Scale};
use crate::vocab::{Device, Part, Sign, Unit, Vague};
use crate::words::{Gap, Span};

/// A phrase and where it stood.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    pub is: Phrase,
    pub span: Span,
    /// What stood before it.
    pub gap: Gap,
    /// Joined to the phrase before by "and".
    pub and: bool,
    /// Joined to the phrase before by "or".
    pub or: bool,
}

impl Item {
    pub fn is_cow(&self) -> bool {
        self.cow().is_some()
    }

    /// The tag of the cow that it names.
    pub(crate) fn cow(&self) -> Option<&Tag> {
        if let Phrase::Cow(tag) = &self.is { Some(tag) } else { None }
    }
}

/// A cow's number as it can be read, best first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tag {
    pub text: String,
    pub others: Vec<String>,
    /// Said with a cue ("cow", "tag", "next").
    pub cued: bool,
    /// Nothing but its place says that the number is a cow.
    pub bare: bool,
    /// The words around it say so ("a wart on four twelve"), and neither a cue nor its place.
    pub told: bool,
    /// What is glued to the number and was not understood ("5-8-E2").
    pub glued: Option<Span>,
}

impl Tag {
    /// A number without a cue; `bare` where nothing but its place says that it is a cow.
    pub(super) fn alone(text: String, bare: bool) -> Self {
        Self { text, others: vec![], cued: false, bare, told: false, glued: None }
    }
}

/// Feet as they were named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Where {
    /// Whole feet, each with its claw where said.
    Feet(Vec<(Foot, Option<Claw>)>),
    /// "left", "right": which end is open.
    Side(Side),
    /// A lone "hind" or "front".
    End(End),
    Both,
    /// The feet not named.
    Rest,
    OtherFoot,
    /// No foot said, only a claw.
    Same,
}

/// A claw as it was named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClawWord {
    One(Claw),
    /// Plural: one a foot.
    Each(Claw),
    Other,
    Both,
}

impl ClawWord {
    /// The claw that is named by itself.
    pub(crate) fn one(self) -> Option<Claw> {
        if let Self::One(claw) = self { Some(claw) } else { None }
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    pub feet: Where,
    pub claw: Option<ClawWord>,
    /// "all four", "hinds": several feet by one word.
    pub group: bool,
}

impl Place {
    /// The claw said with it, of the foot in the hand or of the one that it names.
    pub(crate) fn one_claw(&self) -> Option<ClawWord> {
        match self.feet {
            Where::Same => self.claw,
            _ => self.one_foot().and_then(|(_, claw)| claw),
        }
    }

    /// The one foot it names, with the claw said with it.
    pub(crate) fn one_foot(&self) -> Option<(Foot, Option<ClawWord>)> {
        match &self.feet {
            Where::Feet(feet) if feet.len() == 1 => Some((feet[0].0, feet[0].1.map(ClawWord::One).or(self.claw))),
            _ => None,
        }
    }
}

/// What a finding was called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Named {
    Disorder(Disorder),
    Vague(Vague),
}

/// Something done. Feet and claws are found later, from what stands around it.
#[derive(Clone, Debug, PartialEq)]
pub struct Deed {
    pub what: Act,
    pub lost: bool,
    pub plural: bool,
    /// A claw named as the block's own.
    pub claw: Option<ClawWord>,
    pub material: Option<String>,
    pub agent: Option<String>,
    /// "a new one": block or wrap, whichever was spoken of last.
    pub like_before: bool,
}

impl Deed {
    pub(crate) fn of(what: Act) -> Self {
        Self { what, lost: false, plural: false, claw: None, material: None, agent: None, like_before: false }
    }
}

/// When something is due, still to be counted from the visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    Days(u32),
    Months(u32),
    /// Monday is 1; `weeks` more than the next one.
    Weekday {
        day: u8,
        weeks: u32,
    },
    /// "next Friday", said on a Thursday: tomorrow, or the Friday of the week after.
    NextWeekday(u8),
    On(NaiveDate),
    DayMonth {
        day: u32,
        month: u32,
    },
    /// "in April", without a day.
    Month,
    /// "the fifteenth": of this month or the next.
    DayOfMonth(u32),
    /// The last day of the visit's month.
    MonthEnd,
    /// Written `9/4`: which is the month is open.
    Slash(u32, u32),
    /// "two or three weeks": the first and the last, in days.
    Between(u32, u32),
    /// "next visit": no date, and none is owed.
    Visit,
    /// A time that cannot be read or was not said.
    Open,
}

/// A phrase of a note.
#[derive(Clone, Debug, PartialEq)]
pub enum Phrase {
    Cow(Tag),
    /// The next cow, whose number is not said.
    Another,
    Place(Place),
    Zones(Vec<u8>),
    Finding(Named),
    Severity(u64),
    Stage(Stage),
    Course(Course),
    Deed(Deed),
    /// "still on": a device that stays; `None` is the one spoken of last.
    Stays(Option<Device>),
    Material(String),
    Agent(String),
    /// `whole` is false where a half was said.
    Score {
        scale: Scale,
        value: u64,
        whole: bool,
    },
    /// Said of how she walks away.
    Afterwards,
    /// `value` in mm or degrees, in thousandths.
    Measure {
        what: MeasureKind,
        milli: u64,
        at: Option<Part>,
    },
    /// An amount whose measure is not named.
    Amount {
        milli: u64,
        unit: Unit,
    },
    Part(Part),
    Due {
        what: DueWhat,
        when: When,
    },
    /// "… has fallen off": the device spoken of in the same breath.
    Lost,
    /// "off in five days": the device spoken of last.
    OffAt(When),
    /// A time that stands alone.
    Time(When),
    /// A time in the past.
    Past,
    Clear,
    ClearAll,
    Otherwise,
    Except,
    Not,
    Hedge,
    /// What follows in the same breath is no fact yet ("when it's healed").
    Condition,
    Drop,
    Change,
    Same,
    /// "same as cow eleven": what was found on the cow of that number.
    SameAsCow(String),
    Remark(Span),
    Sign(Sign),
    /// A number that belongs to nothing yet: as digits, and its value where it is one amount.
    Number {
        text: String,
        value: Option<u64>,
        /// Heard word for word; else a word was taken for it by its sound.
        plain: bool,
    },
    /// "just", "but": ends what "no" covers.
    Only,
    Aside,
    Unread,
}

impl Phrase {
    /// The place that it is.
    pub(crate) fn place(&self) -> Option<&Place> {
        if let Self::Place(place) = self { Some(place) } else { None }
    }

    /// The one foot that it names.
    pub(crate) fn one_foot(&self) -> Option<Foot> {
        self.place()?.one_foot().map(|(foot, _)| foot)
    }
}
