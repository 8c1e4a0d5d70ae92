//! What a word of the vocabulary stands for, in types the grammar can match on.

use crate::anatomy::{Claw, End, Foot, Side};
use crate::disorder::{Course, Disorder};
use crate::entry::{MeasureKind, Scale};
use crate::vocab::{Device, Kind};

/// A lesion named without its kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Vague {
    Ulcer,
    Abscess,
    WhiteLine,
    Crack,
    Separation,
    Vertical,
    Horizontal,
    /// A stone, nail or wire, as a rule in the white line.
    ForeignBody,
}

/// A part of the claw that a measure can be of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    Toe,
    Sole,
    Heel,
    Wall,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    Mm,
    Cm,
    Inch,
    Degree,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Period {
    Day,
    Week,
    Fortnight,
    Month,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Relative {
    Today,
    Tomorrow,
    Overmorrow,
    /// "next" or "this" before a weekday or a period.
    Next,
    /// "next visit": no date.
    Visit,
    /// "the end of the month".
    MonthEnd,
}

/// "end of April", "mid May", "the start of June".
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MonthPart {
    Start,
    Middle,
    End,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sign {
    NotBearingWeight,
    DeepInfection,
}

/// A piece of a number as it was said or written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Atom {
    /// 0 to 9; "oh" is 0.
    Unit(u8),
    /// 10 to 19.
    Teen(u8),
    /// 20, 30 … 90.
    Tens(u8),
    Hundred,
    Thousand,
    Point,
    Half,
    Quarter,
    Double,
    Treble,
    /// Written digits: value and how many there are (leading zeros count).
    Digits {
        value: u64,
        len: u8,
    },
    /// Written decimal, in thousandths, and how many places were written.
    Decimal {
        milli: u64,
        places: u8,
    },
    /// Written fraction or date part, `3/52`.
    Slash {
        left: u16,
        right: u16,
    },
    /// Written ISO date.
    Iso {
        year: u16,
        month: u8,
        day: u8,
    },
}

/// What a term stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Meaning {
    CowCue,
    /// "number", "id": a cow only at the start of a note.
    NumberCue,
    NextCue,
    Side(Side),
    End(End),
    /// Both feet of an end: "hinds", "both fronts".
    Ends(End),
    /// Both feet of a side.
    Sides(Side),
    Foot(Foot),
    Place(Foot, Claw),
    /// The same claw of both feet of an end, in one word: `BHO`.
    Places(End, Claw),
    AllFeet,
    Both,
    /// "the rest", "other feet".
    RestFeet,
    /// "the other foot".
    OtherFoot,
    FootNoun,
    Claw(Claw),
    /// Plural: one a foot ("outers").
    Claws(Claw),
    OtherClaw,
    /// Plural: one on each foot with a lesion.
    OtherClaws,
    BothClaws,
    ClawNoun,
    Part(Part),
    ZoneCue,
    Number(Atom),
    Disorder(Disorder),
    Vague(Vague),
    Severity(u8),
    GradeCue,
    StageCue,
    /// Stage and number in one: what a recogniser joined ("empty" for "M two") is found by its sound.
    Stage(u8),
    Course(Course),
    Device(Device),
    /// Plural: one on each foot with a lesion.
    Devices(Device),
    /// "unblocked".
    Undo(Device),
    /// "took it off": the device spoken of last.
    TakenOff,
    /// "had a": before a device, one that was on already.
    Had,
    /// "leave": before a device, one that stays.
    Leave,
    /// A shoe: a block whose material is "shoe".
    Shoe,
    /// Put on anew: "reblocked", "fresh wrap".
    Renewed(Device),
    /// "a new one": the device spoken of last.
    NewOne,
    Remove,
    Off,
    Lost,
    /// "still on", "leave it on": nothing was done.
    Stays,
    Pare,
    Drain,
    Trim,
    Topical,
    Vet,
    /// Index into [`super::Vocabulary::names`].
    Agent(u16),
    Material(u16),
    Scale(Scale),
    ScoreCue,
    OutOf,
    Afterwards,
    Measure(MeasureKind),
    /// "long", "thick": after a measure.
    Long,
    Unit(Unit),
    Period(Period),
    Weekday(u8),
    MonthName(u8),
    MonthDay(MonthPart, u8),
    /// Day of a month.
    Ordinal(u8),
    Relative(Relative),
    In,
    Ago,
    Couple,
    Recheck,
    /// "check": a recheck only with a time.
    Look,
    Clear,
    ClearAll,
    Otherwise,
    Except,
    And,
    Only,
    Not,
    Hedge,
    /// "if", "when it's": what follows is no fact yet.
    Condition,
    /// "scratch that": drops what was before unless something of its kind follows.
    Drop,
    /// "make that", "I mean": what follows replaces its like.
    Change,
    Same,
    RemarkCue,
    /// "tell the owner": a remark that keeps these words.
    TellCue,
    Sign(Sign),
    /// Looks like a word of the trade and is none ("dew claw").
    Aside,
    Filler,
}

impl Meaning {
    pub fn kind(self) -> Kind {
        match self {
            Self::CowCue => Kind::Cow,
            Self::NumberCue => Kind::NumberCue,
            Self::NextCue => Kind::Next,
            Self::Side(_) => Kind::Side,
            Self::End(_) | Self::FootNoun => Kind::End,
            Self::Foot(_) => Kind::Foot,
            Self::Place(..)
            | Self::Places(..)
            | Self::Claw(_)
            | Self::Claws(_)
            | Self::OtherClaw
            | Self::OtherClaws
            | Self::BothClaws => Kind::Claw,
            Self::Ends(_) | Self::Sides(_) | Self::AllFeet | Self::Both | Self::RestFeet | Self::OtherFoot => {
                Kind::Group
            }
            Self::ClawNoun => Kind::ClawNoun,
            Self::Part(_) => Kind::Part,
            Self::ZoneCue => Kind::Zone,
            Self::Number(_) | Self::Couple => Kind::Number,
            Self::Disorder(_) => Kind::Disorder,
            Self::Vague(_) => Kind::Vague,
            Self::Severity(_) => Kind::Severity,
            Self::GradeCue => Kind::Grade,
            Self::StageCue => Kind::Stage,
            Self::Stage(_) => Kind::WholeStage,
            Self::Course(_) => Kind::Course,
            Self::Device(Device::Block) | Self::Devices(Device::Block) | Self::Shoe | Self::Renewed(Device::Block) => {
                Kind::Block
            }
            Self::Device(Device::Wrap) | Self::Devices(Device::Wrap) | Self::Renewed(Device::Wrap) => Kind::Wrap,
            Self::Undo(_) | Self::TakenOff => Kind::Lost,
            Self::Had | Self::Leave => Kind::Filler,
            Self::NewOne => Kind::NewOne,
            Self::Remove => Kind::Remove,
            Self::Off => Kind::Off,
            Self::Lost => Kind::Lost,
            Self::Stays => Kind::Stays,
            Self::Pare | Self::Drain | Self::Topical => Kind::Work,
            Self::Trim => Kind::Trim,
            Self::Vet => Kind::Vet,
            Self::Agent(_) => Kind::Agent,
            Self::Material(_) => Kind::Material,
            Self::Scale(_) | Self::ScoreCue => Kind::Scale,
            Self::OutOf => Kind::OutOf,
            Self::Afterwards => Kind::Afterwards,
            Self::Measure(_) => Kind::Measure,
            Self::Long => Kind::Long,
            Self::Unit(_) => Kind::Unit,
            Self::Period(_) => Kind::Period,
            Self::Weekday(_)
            | Self::MonthName(_)
            | Self::MonthDay(..)
            | Self::Ordinal(_)
            | Self::Relative(_)
            | Self::Ago => Kind::Day,
            Self::In => Kind::In,
            Self::Recheck | Self::Look => Kind::Due,
            Self::Clear | Self::ClearAll | Self::Otherwise => Kind::Clear,
            Self::Except => Kind::Except,
            Self::And => Kind::And,
            Self::Only => Kind::Only,
            Self::Not => Kind::Not,
            Self::Hedge => Kind::Hedge,
            // Heard word for word only, as "but" is.
            Self::Condition => Kind::Only,
            Self::Drop | Self::Change => Kind::Correction,
            Self::Same => Kind::Same,
            Self::RemarkCue | Self::TellCue => Kind::Remark,
            Self::Sign(_) => Kind::Sign,
            Self::Aside | Self::Filler => Kind::Filler,
        }
    }

    /// The meaning that a `[kind.name]` table of a vocabulary file stands for.
    ///
    /// `intern` keeps a free name (an agent, a material) and gives its index.
    pub(super) fn named(kind: &str, name: &str, intern: &mut impl FnMut(&str) -> u16) -> Option<Self> {
        let side = || match name {
            "left" => Some(Side::Left),
            "right" => Some(Side::Right),
            _ => None,
        };
        let end = || match name {
            "front" => Some(End::Front),
            "hind" => Some(End::Hind),
            _ => None,
        };
        let claw = |name: &str| match name {
            "outer" => Some(Claw::Outer),
            "inner" => Some(Claw::Inner),
            _ => None,
        };
        let device = || match name {
            "block" => Some(Device::Block),
            "wrap" => Some(Device::Wrap),
            _ => None,
        };
        // `clawshort`, `clawcode`, `clawletter`: forms of the same kind that count only after certain words.
        let plain = ["short", "code", "letter"].iter().find_map(|suffix| kind.strip_suffix(suffix));
        Some(match (plain.unwrap_or(kind), name) {
            ("cow", "cue") => Self::CowCue,
            ("cow", "number") => Self::NumberCue,
            ("next", _) => Self::NextCue,
            ("side", _) => Self::Side(side()?),
            ("end", _) => Self::End(end()?),
            ("ends", _) => Self::Ends(end()?),
            ("sides", _) => Self::Sides(side()?),
            ("foot", _) => Self::Foot(Foot::from_code(name)?),
            ("place", _) => {
                let (foot, which) = name.split_once(' ')?;
                Self::Place(Foot::from_code(foot)?, claw(which)?)
            }
            ("places", "front outer") => Self::Places(End::Front, Claw::Outer),
            ("places", "front inner") => Self::Places(End::Front, Claw::Inner),
            ("places", "hind outer") => Self::Places(End::Hind, Claw::Outer),
            ("places", "hind inner") => Self::Places(End::Hind, Claw::Inner),
            ("all", _) => Self::AllFeet,
            ("both", _) => Self::Both,
            ("rest", _) => Self::RestFeet,
            ("otherfoot", _) => Self::OtherFoot,
            ("footnoun", _) => Self::FootNoun,
            ("claw", _) => Self::Claw(claw(name)?),
            ("claws", _) => Self::Claws(claw(name)?),
            ("otherclaw", "each") => Self::OtherClaws,
            ("otherclaw", _) => Self::OtherClaw,
            ("bothclaws", _) => Self::BothClaws,
            ("clawnoun", _) => Self::ClawNoun,
            ("part", "toe") => Self::Part(Part::Toe),
            ("part", "sole") => Self::Part(Part::Sole),
            ("part", "heel") => Self::Part(Part::Heel),
            ("part", "wall") => Self::Part(Part::Wall),
            ("zone", "cue") => Self::ZoneCue,
            ("number", _) => Self::Number(atom(name)?),
            ("couple", _) => Self::Couple,
            ("disorder", _) => Self::Disorder(Disorder::from_code(name)?),
            ("vague", "ulcer") => Self::Vague(Vague::Ulcer),
            ("vague", "abscess") => Self::Vague(Vague::Abscess),
            ("vague", "white line") => Self::Vague(Vague::WhiteLine),
            ("vague", "crack") => Self::Vague(Vague::Crack),
            ("vague", "separation") => Self::Vague(Vague::Separation),
            ("vague", "vertical") => Self::Vague(Vague::Vertical),
            ("vague", "horizontal") => Self::Vague(Vague::Horizontal),
            ("vague", "foreign body") => Self::Vague(Vague::ForeignBody),
            ("severity", _) => Self::Severity(name.parse().ok().filter(|n| (1..=3).contains(n))?),
            ("grade", "cue") => Self::GradeCue,
            ("stage", "cue") => Self::StageCue,
            ("stage", _) => Self::Stage(name.parse().ok().filter(|n| (1..=4).contains(n))?),
            ("course", "healed") => Self::Course(Course::Healed),
            ("course", "healing") => Self::Course(Course::Healing),
            ("course", "open") => Self::Course(Course::Open),
            ("course", "worse") => Self::Course(Course::Worse),
            ("device", _) => Self::Device(device()?),
            ("devices", _) => Self::Devices(device()?),
            ("undo", _) => Self::Undo(device()?),
            ("takenoff", _) => Self::TakenOff,
            ("had", _) => Self::Had,
            ("leave", _) => Self::Leave,
            ("shoe", _) => Self::Shoe,
            ("reblock", _) => Self::Renewed(device()?),
            ("newone", _) => Self::NewOne,
            ("remove", _) => Self::Remove,
            ("off", _) => Self::Off,
            ("lost", _) => Self::Lost,
            ("stays", _) => Self::Stays,
            ("pare", _) => Self::Pare,
            ("drain", _) => Self::Drain,
            ("trim", _) => Self::Trim,
            ("topical", _) => Self::Topical,
            ("vet", _) => Self::Vet,
            ("agent", _) => Self::Agent(intern(name)),
            ("material", _) => Self::Material(intern(name)),
            ("scale", "locomotion") => Self::Scale(Scale::Locomotion),
            ("scale", "mobility") => Self::Scale(Scale::Mobility),
            ("score", "cue") => Self::ScoreCue,
            ("outof", _) => Self::OutOf,
            ("afterwards", _) => Self::Afterwards,
            ("measure", "toe_length") => Self::Measure(MeasureKind::ToeLength),
            ("measure", "sole_thickness") => Self::Measure(MeasureKind::SoleThickness),
            ("measure", "heel_height") => Self::Measure(MeasureKind::HeelHeight),
            ("measure", "toe_angle") => Self::Measure(MeasureKind::ToeAngle),
            ("long", _) => Self::Long,
            ("unit", "mm") => Self::Unit(Unit::Mm),
            ("unit", "cm") => Self::Unit(Unit::Cm),
            ("unit", "inch") => Self::Unit(Unit::Inch),
            ("unit", "degree") => Self::Unit(Unit::Degree),
            ("period", "day") => Self::Period(Period::Day),
            ("period", "week") => Self::Period(Period::Week),
            ("period", "fortnight") => Self::Period(Period::Fortnight),
            ("period", "month") => Self::Period(Period::Month),
            ("weekday", _) => Self::Weekday(name.parse().ok().filter(|n| (1..=7).contains(n))?),
            ("monthname", _) => Self::MonthName(month(name)?),
            ("monthend", _) => Self::MonthDay(MonthPart::End, month(name)?),
            ("monthmiddle", _) => Self::MonthDay(MonthPart::Middle, month(name)?),
            ("monthstart", _) => Self::MonthDay(MonthPart::Start, month(name)?),
            ("thismonth", "end") => Self::Relative(Relative::MonthEnd),
            ("ordinal", _) => Self::Ordinal(name.parse().ok().filter(|n| (1..=31).contains(n))?),
            ("relative", "today") => Self::Relative(Relative::Today),
            ("relative", "tomorrow") => Self::Relative(Relative::Tomorrow),
            ("relative", "overmorrow") => Self::Relative(Relative::Overmorrow),
            ("relative", "next") => Self::Relative(Relative::Next),
            ("relative", "visit") => Self::Relative(Relative::Visit),
            ("in", _) => Self::In,
            ("ago", _) => Self::Ago,
            ("due", "recheck") => Self::Recheck,
            ("due", "look") => Self::Look,
            ("clear", _) => Self::Clear,
            ("clearall", _) => Self::ClearAll,
            ("otherwise", _) => Self::Otherwise,
            ("except", _) => Self::Except,
            ("and", _) => Self::And,
            ("only", _) => Self::Only,
            ("not", _) => Self::Not,
            ("hedge", _) => Self::Hedge,
            ("condition", _) => Self::Condition,
            ("correction", "drop") => Self::Drop,
            ("correction", "change") => Self::Change,
            ("same", _) => Self::Same,
            ("remark", "cue") => Self::RemarkCue,
            ("remark", "tell") => Self::TellCue,
            ("sign", "nonweightbearing") => Self::Sign(Sign::NotBearingWeight),
            ("sign", "deep") => Self::Sign(Sign::DeepInfection),
            ("aside", _) => Self::Aside,
            ("filler" | "everyday" | "talk" | "loose" | "lead" | "looselead", _) => Self::Filler,
            _ => return None,
        })
    }
}

fn month(name: &str) -> Option<u8> {
    name.parse().ok().filter(|n| (1..=12).contains(n))
}

fn atom(name: &str) -> Option<Atom> {
    Some(match name {
        "hundred" => Atom::Hundred,
        "thousand" => Atom::Thousand,
        "point" => Atom::Point,
        "half" => Atom::Half,
        "quarter" => Atom::Quarter,
        "double" => Atom::Double,
        "treble" => Atom::Treble,
        digits => match digits.parse::<u8>().ok()? {
            n @ 0..=9 => Atom::Unit(n),
            n @ 10..=19 => Atom::Teen(n),
            n if n < 100 && n % 10 == 0 => Atom::Tens(n),
            _ => return None,
        },
    })
}
