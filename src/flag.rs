//! Doubts as data: what must be asked or shown about an entry.

use serde::{Deserialize, Serialize};
use serde_json::Value;

/// `Ask` keeps what it concerns out of every report until a person has answered; `Note` only shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Level {
    Ask,
    Note,
}

/// What kind of doubt it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum FlagKind {
    /// The note names no cow.
    CowMissing,
    /// The cow's number is not on the roster, or can be read in two ways.
    CowDoubtful,
    /// A finding or an action without a foot.
    FootMissing,
    /// "left" or "right" without front or hind.
    FootHalf,
    /// A disorder that sits on one claw, without the claw.
    ClawMissing,
    /// A block whose claw cannot be told.
    BlockClawMissing,
    /// A block named on the claw that has the lesion.
    BlockOnLesion,
    /// An abscess, crack or the like whose kind is open.
    DisorderOpen,
    /// A zone where that disorder does not sit.
    ZoneMisfit,
    /// A zone number that does not exist.
    ZoneUnknown,
    /// A zone whose place the sources disagree on.
    ZoneUnsure,
    /// A score outside its scale.
    ScoreRange,
    /// A foot said to be free of lesions that also has one.
    ClearAndLesion,
    /// Something is due, but the date was not said or cannot be read.
    DateOpen,
    /// A measure that cannot be right.
    MeasureRange,
    /// A correction that corrects nothing that can be found.
    CorrectionOpen,
    /// "same" or a ditto mark with nothing to repeat.
    SameOpen,
    /// Signs that belong to a veterinarian, and none was called.
    VetSign,
    /// Words that may carry meaning and were not understood.
    Unread,
    /// A number that belongs to nothing.
    NumberLoose,
    /// Words that were taken for others that sound or look alike.
    Misheard,
    /// Two readings of the same words are about equally good.
    TwoReadings,
    /// Two hearings of one utterance differ here.
    HearingsDiffer,
}

/// One doubt about an entry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Flag {
    pub level: Level,
    pub kind: FlagKind,
    /// Path of the field in the entry, such as `findings[0].claw`.
    pub field: String,
    /// In the trade's words, quoting what was heard.
    pub message: String,
    /// Values the field could take, best first; `null` takes the thing out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub options: Vec<Value>,
    /// Byte span in `said`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<[usize; 2]>,
}

impl Flag {
    pub fn ask(kind: FlagKind, field: impl Into<String>, message: impl Into<String>) -> Self {
        Self { level: Level::Ask, kind, field: field.into(), message: message.into(), options: vec![], at: None }
    }

    pub fn note(kind: FlagKind, field: impl Into<String>, message: impl Into<String>) -> Self {
        Self { level: Level::Note, ..Self::ask(kind, field, message) }
    }

    #[must_use]
    pub fn options(mut self, options: impl IntoIterator<Item = Value>) -> Self {
        self.options = options.into_iter().collect();
        self
    }

    #[must_use]
    pub fn at(mut self, span: Option<crate::words::Span>) -> Self {
        self.at = span.map(|s| [s.start as usize, s.end as usize]);
        self
    }

    pub fn asks(&self) -> bool {
        self.level == Level::Ask
    }
}
