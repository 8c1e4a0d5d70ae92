//! Forms that count only in some surroundings: `matches/exact.rs` looks at those of these, and only of these.

use super::{Meaning, Unit};
use crate::words::said::{BIG, TENS, UNITS};

/// Whether a form depends on what stands around it, beyond what it comes `after`. Told once for each: few do.
pub(super) fn depends(form: &str, meaning: Meaning) -> bool {
    let begins_with = |numbers: &[&str]| numbers.iter().any(|n| form.starts_with(n));
    match meaning {
        // "cow seven oh two fronts clean"
        Meaning::Ends(_) | Meaning::ClearAll | Meaning::AllFeet | Meaning::Clear if begins_with(&UNITS) => true,
        // `blk I; 46 ok`
        Meaning::Filler => {
            form == "i"
                || form == "right"
                || LED_BY_RIGHT.contains(&form)
                || begins_with(&UNITS)
                || begins_with(&TENS)
                || begins_with(&BIG)
                || ENDS_IN_A_FOOT.iter().any(|w| form.ends_with(w))
                || SIGNS.contains(&form)
        }
        Meaning::Unit(Unit::Inch) | Meaning::ScoreCue => true,
        // "trimmed back feet", "back feet trimmed"
        Meaning::Device(_) => form == "bl",
        Meaning::And => form == "n",
        // "block inner okay next one is the left hind"
        Meaning::Stays | Meaning::Clear if ["ok", "okay"].contains(&form) => true,
        // "smaller but not closed"
        Meaning::Except => form == "but not",
        // "had a look at the back left"
        Meaning::Aside => ["left the", "back on"].contains(&form) || ENDS_IN_A_FOOT.iter().any(|w| form.ends_with(w)),
        // "trimmed back then the right hind"
        Meaning::Ago => form == "back then",
        Meaning::Course(_) => ["bigger", "deeper", "smaller"].contains(&form),
        Meaning::Clear => form.ends_with(" left"),
        Meaning::Ends(_) | Meaning::End(_) => form.len() == 1 || form == "in front" || SIGNS.contains(&form),
        // `SU-O healed`
        Meaning::Number(_) => form == "o",
        Meaning::Same => form == "do" || SIGNS.contains(&form),
        Meaning::Pare | Meaning::Trim => form.ends_with(" back") || form == "feet trimmed",
        // "double sole all round left hind"
        Meaning::AllFeet => form.starts_with("all ") || form == "the lot",
        // "there was a right squirt out of it"
        Meaning::Side(_) => form == "right",
        // "bandage off back left"
        Meaning::Foot(_) => form.starts_with("off "),
        Meaning::Claw(_) => form.len() == 1 || SIGNS.contains(&form),
        _ => SIGNS.contains(&form),
    }
}

/// How talk goes on, where no word before it makes a side of "right": "wrapped it right so the left hind".
pub(crate) const LED_BY_RIGHT: [&str; 6] =
    ["right so", "right okay", "right ok", "right well", "right oh", "right and the"];

/// With the word behind them these may be a foot: "had a look at the back left", "that's right hind".
const ENDS_IN_A_FOOT: [&str; 3] = [" back", " right", " left"];

const SIGNS: [&str; 7] = ["\"", "behind", "in", "out", "?", "\u{2717}", "\u{2718}"];
