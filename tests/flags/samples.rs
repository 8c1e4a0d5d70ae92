//! A note for each kind of flag.

use chutescribe::flag::FlagKind;

macro_rules! samples {
    ($($kind:ident => $note:expr),+ $(,)?) => {
        pub(crate) const ALL: &[FlagKind] = &[$(FlagKind::$kind),+];

        /// The note that raises the flag. A kind that is missing here does not compile.
        pub(crate) fn sample(kind: FlagKind) -> Option<&'static str> {
            match kind { $(FlagKind::$kind => $note),+ }
        }
    };
}

samples! {
    CowMissing => Some("left hind wart, wrapped"),
    CowDoubtful => Some("cow 270 4, trimmed"),
    FootMissing => Some("cow 12, wart, wrapped"),
    FootHalf => Some("cow 12, left outer sole ulcer"),
    ClawMissing => Some("cow 12, left hind sole ulcer, block"),
    BlockClawMissing => Some("cow 12, block on the left hind"),
    BlockOnLesion => Some("cow 12, left hind outer sole ulcer, block on the outer"),
    DisorderOpen => Some("cow 12, left hind outer abscess"),
    ZoneMisfit => Some("cow 12, left hind outer sole ulcer zone six"),
    ZoneUnknown => Some("cow 12, left hind wart zone thirteen"),
    ZoneUnsure => Some("cow 12, left front outer vertical crack zone eight"),
    ScoreRange => Some("cow 12, locomotion six, trimmed"),
    ClearAndLesion => Some("cow 12, left hind clean, left hind wart"),
    DateOpen => Some("cow 12, left hind wart, recheck on 4/5"),
    MeasureRange => Some("cow 12, left hind toe length four hundred millimeters"),
    CorrectionOpen => None,
    SameOpen => Some("cow 12, ditto"),
    VetSign => Some("cow 12, left hind foul, not bearing weight"),
    Unread => Some("cow 12, left hind wart, brgl"),
    NumberLoose => Some("cow 12, left hind wart with 77 in it"),
    Misheard => None,
    TwoReadings => None,
    HearingsDiffer => None,
}
