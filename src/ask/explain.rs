//! Why a question is asked, and what comes of the answer.

use crate::flag::FlagKind;

/// One or two sentences for `?`.
pub fn explain(kind: FlagKind) -> &'static str {
    match kind {
        FlagKind::CowMissing => {
            "no cow was named in this note. until she is known, nothing in it counts. say her number, or take the cow \
             before if it is about her too."
        }
        FlagKind::CowDoubtful => {
            "her number can be heard in more than one way. until it is known, nothing in this note counts."
        }
        FlagKind::FootMissing => "a lesion, a block or a wrap is on one foot, and none was named.",
        FlagKind::FootHalf => "only a side or an end was named, so two feet are possible.",
        FlagKind::ClawMissing => {
            "this lesion sits on one claw. the claw is needed to know the sound one, where a block belongs, and to \
             find the lesion again at the recheck."
        }
        FlagKind::BlockClawMissing => "a block goes on one claw, and which one could not be told.",
        FlagKind::BlockOnLesion => {
            "a block lifts the sore claw off the ground, so it goes on the sound one. either the claw of the block or \
             the claw of the lesion was said wrong."
        }
        FlagKind::DisorderOpen => {
            "the word can mean more than one lesion, and what was said with it does not settle which."
        }
        FlagKind::ZoneMisfit => "this lesion does not sit in that zone. either the zone or the lesion was said wrong.",
        FlagKind::ZoneUnknown => "there is no zone of that number.",
        FlagKind::ZoneUnsure => "the charts differ on where that zone lies.",
        FlagKind::ScoreRange => "the scale has no such number.",
        FlagKind::ClearAndLesion => "the foot was said to be clean, and a lesion was named on it.",
        FlagKind::DateOpen => "something has to be done again, and without the day it cannot be listed as due.",
        FlagKind::MeasureRange => "hardly any claw measures that, so it may have been misheard.",
        FlagKind::CorrectionOpen => "something was taken back, and what it was could not be found.",
        FlagKind::SameOpen => "\"same\" needs something before it that is repeated, and there was nothing.",
        FlagKind::VetSign => "such signs belong to a veterinarian.",
        FlagKind::Unread => "these words may mean something, and the vocabulary does not have them.",
        FlagKind::NumberLoose => "a number was said, and nothing tells what of.",
        FlagKind::Misheard => {
            "these words are not in the vocabulary as they stand, and were taken for others that sound alike."
        }
        FlagKind::TwoReadings => "the same words can be read in two ways that are about as good.",
        FlagKind::HearingsDiffer => "the two hearings of this note differ here.",
    }
}
