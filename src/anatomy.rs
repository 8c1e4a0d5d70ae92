//! Feet, claws and zones: the places a finding can be at.

use serde::{Deserialize, Serialize};

/// Left or right, as the animal stands; trimmers also say near (left) and off (right).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    Left,
    Right,
}

impl Side {
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// Front or hind end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum End {
    Front,
    Hind,
}

/// One of the four feet, left front to right hind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub enum Foot {
    LF,
    RF,
    LH,
    RH,
}

impl Foot {
    pub const ALL: [Self; 4] = [Self::LF, Self::RF, Self::LH, Self::RH];

    pub fn new(side: Side, end: End) -> Self {
        match (side, end) {
            (Side::Left, End::Front) => Self::LF,
            (Side::Right, End::Front) => Self::RF,
            (Side::Left, End::Hind) => Self::LH,
            (Side::Right, End::Hind) => Self::RH,
        }
    }

    pub fn side(self) -> Side {
        match self {
            Self::LF | Self::LH => Side::Left,
            Self::RF | Self::RH => Side::Right,
        }
    }

    pub fn end(self) -> End {
        match self {
            Self::LF | Self::RF => End::Front,
            Self::LH | Self::RH => End::Hind,
        }
    }

    /// All feet but these.
    pub(crate) fn all_but(feet: &[Self]) -> Vec<Self> {
        Self::ALL.into_iter().filter(|foot| !feet.contains(foot)).collect()
    }

    /// The foot of the same end on the other side.
    pub fn across(self) -> Self {
        Self::new(self.side().other(), self.end())
    }

    pub fn code(self) -> &'static str {
        match self {
            Self::LF => "LF",
            Self::RF => "RF",
            Self::LH => "LH",
            Self::RH => "RH",
        }
    }

    /// The foot in words, for people.
    pub fn words(self) -> &'static str {
        match self {
            Self::LF => "left front",
            Self::RF => "right front",
            Self::LH => "left hind",
            Self::RH => "right hind",
        }
    }

    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|f| f.code() == code)
    }
}

/// Outer (lateral) or inner (medial) claw of a foot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Claw {
    Outer,
    Inner,
}

impl Claw {
    /// The partner: the other claw of the same foot.
    pub fn partner(self) -> Self {
        match self {
            Self::Outer => Self::Inner,
            Self::Inner => Self::Outer,
        }
    }

    pub fn words(self) -> &'static str {
        match self {
            Self::Outer => "outer",
            Self::Inner => "inner",
        }
    }
}

/// The highest zone number (facts: claw zones 0 to 12).
pub const LAST_ZONE: u8 = 12;
