//! What is kept: the typed records of one cow at one visit.
//!
//! The field names and their order are the log's contract (`README.md`, "The log").

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::anatomy::{Claw, Foot};
use crate::disorder::{Course, Disorder, Stage};
use crate::flag::Flag;

fn none<T>(list: &[T]) -> bool {
    list.is_empty()
}

/// One cow at one visit.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Entry {
    /// As said or written, `None` where no cow was named.
    pub cow: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub scores: Vec<Score>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub findings: Vec<Finding>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub actions: Vec<Action>,
    /// Feet looked at and free of lesions.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub clear: Vec<Foot>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measures: Vec<Measure>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub due: Vec<Due>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remarks: Vec<String>,
    /// Paths of fields that a rule of meaning filled, not the speaker.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub assumed: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub flags: Vec<Flag>,
    /// The part of the note that is hers, as it was said.
    #[serde(default)]
    pub said: String,
    /// Fields that this version does not know: kept and passed through.
    #[serde(flatten, default, skip_serializing_if = "Map::is_empty")]
    pub other: Map<String, Value>,
}

impl Entry {
    /// Whether nothing typed was understood (the words may still be a remark).
    pub fn is_bare(&self) -> bool {
        none(&self.scores)
            && none(&self.findings)
            && none(&self.actions)
            && none(&self.clear)
            && none(&self.measures)
            && none(&self.due)
    }

    /// The flags that wait for an answer.
    pub fn questions(&self) -> impl Iterator<Item = &Flag> {
        self.flags.iter().filter(|f| f.asks())
    }
}

/// Locomotion 1-5 (Sprecher et al. 1997) or mobility 0-3 (UK industry standard); never converted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Scale {
    Locomotion,
    Mobility,
}

impl Scale {
    pub fn words(self) -> &'static str {
        match self {
            Self::Locomotion => "locomotion",
            Self::Mobility => "mobility",
        }
    }

    pub fn range(self) -> std::ops::RangeInclusive<u64> {
        match self {
            Self::Locomotion => 1..=5,
            Self::Mobility => 0..=3,
        }
    }
}

/// How she walks; `when` is `after` where it was said of how she walks away.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Score {
    pub scale: Scale,
    pub value: u64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub when: Option<After>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum After {
    After,
}

/// A disorder at a place. `disorder` is `None` only while its kind is asked.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Finding {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foot: Option<Foot>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub claw: Option<Claw>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub zones: Vec<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub disorder: Option<Disorder>,
    /// 1 mild, 2 moderate, 3 severe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub severity: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage: Option<Stage>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub course: Option<Course>,
    /// `Some(false)` where the speaker was unsure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub certain: Option<bool>,
}

/// What was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Act {
    /// Routine trim; without a foot, the whole cow.
    Trim,
    /// Therapeutic: loose horn off, thinned, modelled, trimmed back.
    Pare,
    /// Opened, drained.
    Drain,
    Block,
    Unblock,
    Wrap,
    Unwrap,
    /// Sprayed, salved.
    Topical,
    /// Referred to the veterinarian.
    Vet,
}

impl Act {
    pub fn words(self) -> &'static str {
        match self {
            Self::Trim => "trim",
            Self::Pare => "pare",
            Self::Drain => "drain",
            Self::Block => "block",
            Self::Unblock => "block off",
            Self::Wrap => "wrap",
            Self::Unwrap => "wrap off",
            Self::Topical => "topical",
            Self::Vet => "vet",
        }
    }

    /// Whether it is done with knife or grinder to one claw; a wrap or a spray goes over the whole foot.
    pub(crate) fn is_knife_work(self) -> bool {
        matches!(self, Self::Pare | Self::Drain)
    }
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Action {
    pub what: Act,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foot: Option<Foot>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub claw: Option<Claw>,
    /// Of a block.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<String>,
    /// Of a wrap or a topical.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub agent: Option<String>,
    /// It came off by itself.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub lost: bool,
}

impl Action {
    pub fn new(what: Act) -> Self {
        Self { what, foot: None, claw: None, material: None, agent: None, lost: false }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum MeasureKind {
    ToeLength,
    SoleThickness,
    HeelHeight,
    ToeAngle,
}

impl MeasureKind {
    pub fn words(self) -> &'static str {
        match self {
            Self::ToeLength => "toe length",
            Self::SoleThickness => "sole thickness",
            Self::HeelHeight => "heel height",
            Self::ToeAngle => "toe angle",
        }
    }

    /// `mm` or `degrees`.
    pub fn unit(self) -> &'static str {
        if self == Self::ToeAngle { "degrees" } else { "mm" }
    }
}

/// A length in millimetres or an angle in degrees, one decimal.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Measure {
    pub what: MeasureKind,
    pub value: f64,
    pub unit: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foot: Option<Foot>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub claw: Option<Claw>,
    /// Where the sole was measured, `toe` or `heel`, when said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum DueWhat {
    Recheck,
    BlockOff,
    WrapOff,
}

impl DueWhat {
    pub fn words(self) -> &'static str {
        match self {
            Self::Recheck => "recheck",
            Self::BlockOff => "block off",
            Self::WrapOff => "wrap off",
        }
    }
}

/// Something to come back for. `on` is `None` only while the date is asked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Due {
    pub what: DueWhat,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<NaiveDate>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foot: Option<Foot>,
}
