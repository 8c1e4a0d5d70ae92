//! The disorders, by their ICAR English codes.
//!
//! Source: ICAR Claw Health Atlas (2nd ed. with appendices); the codes are from memory save CC, DD, ID,
//! DS, HHE, IH, IP, SC, SH, SU and WL, which were read in papers that use them.

use serde::{Deserialize, Serialize};

macro_rules! disorders {
    ($($(#[$doc:meta])* $code:ident $name:literal),+ $(,)?) => {
        /// A disorder of the claw or the skin around it.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[cfg_attr(test, derive(schemars::JsonSchema))]
        pub enum Disorder { $($(#[$doc])* $code),+ }

        impl Disorder {
            pub const ALL: &'static [Self] = &[$(Self::$code),+];

            /// The ICAR English code.
            pub fn code(self) -> &'static str {
                match self { $(Self::$code => stringify!($code)),+ }
            }

            /// The ICAR name, lower case.
            pub fn name(self) -> &'static str {
                match self { $(Self::$code => $name),+ }
            }
        }
    };
}

disorders! {
    AC "asymmetric claws",
    CD "concave dorsal wall",
    CC "corkscrew claws",
    DD "digital dermatitis",
    ID "interdigital dermatitis",
    DS "double sole",
    HHE "heel horn erosion",
    HFA "axial horn fissure",
    HFH "horizontal horn fissure",
    HFV "vertical horn fissure",
    IH "interdigital hyperplasia",
    IP "interdigital phlegmon",
    SC "scissor claws",
    SH "sole haemorrhage",
    SHD "sole haemorrhage, diffuse",
    SHC "sole haemorrhage, circumscribed",
    SW "swelling of coronet or bulb",
    TS "thin sole",
    SU "sole ulcer",
    BU "bulb ulcer",
    TU "toe ulcer",
    TN "toe necrosis",
    WL "white line disease",
    WLF "white line fissure",
    WLA "white line abscess",
}

impl Disorder {
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|d| d.code() == code)
    }

    /// Whether it sits on one claw, so that a claw must be known (design rule 5).
    pub fn needs_claw(self) -> bool {
        use Disorder::{BU, CC, DS, HFA, HFV, SH, SHC, SHD, SU, TN, TU, WL, WLA, WLF};
        matches!(self, SU | TU | BU | TN | WL | WLF | WLA | SH | SHC | SHD | DS | HFV | HFA | CC)
    }

    /// Whether the zone can be right for it (design rule 5; the shape of a whole claw sits in none: common practice);
    /// zones without a rule always fit.
    pub fn fits_zone(self, zone: u8) -> bool {
        use Disorder::{AC, BU, CC, CD, DD, ID, IH, IP, SC, SU, TU, WL, WLA, WLF};
        match self {
            SU => zone == 4,
            TU => matches!(zone, 1 | 5),
            BU => zone == 6,
            WL | WLF | WLA => matches!(zone, 1..=3),
            DD | ID | IP | IH => matches!(zone, 0 | 9 | 10),
            AC | CC | CD | SC => false,
            _ => true,
        }
    }
}

/// Stage of digital dermatitis (Döpfer et al. 1997; Berry et al. 2012).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub enum Stage {
    M0,
    M1,
    M2,
    M3,
    M4,
    #[serde(rename = "M4.1")]
    M41,
}

impl Stage {
    /// From the number after the M: `4.1` is given as whole 4 and tenth 1.
    pub fn new(whole: u64, tenth: Option<u64>) -> Option<Self> {
        match (whole, tenth) {
            (0, None) => Some(Self::M0),
            (1, None) => Some(Self::M1),
            (2, None) => Some(Self::M2),
            (3, None) => Some(Self::M3),
            (4, None) => Some(Self::M4),
            (4, Some(1)) => Some(Self::M41),
            _ => None,
        }
    }

    /// The number after the M, without its tenth.
    pub fn whole(self) -> u8 {
        self.code().as_bytes()[1] - b'0'
    }

    pub fn code(self) -> &'static str {
        match self {
            Self::M0 => "M0",
            Self::M1 => "M1",
            Self::M2 => "M2",
            Self::M3 => "M3",
            Self::M4 => "M4",
            Self::M41 => "M4.1",
        }
    }
}

/// How a known lesion goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Course {
    Healed,
    Healing,
    Open,
    Worse,
}

impl Course {
    pub fn words(self) -> &'static str {
        match self {
            Self::Healed => "healed",
            Self::Healing => "healing",
            Self::Open => "open",
            Self::Worse => "worse",
        }
    }
}
