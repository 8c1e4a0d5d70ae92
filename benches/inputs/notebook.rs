//! An old notebook: a heading every 25 lines; lesions, ditto marks, and lines that are no hoof notes.

use std::io::{self, Write};

use super::dice::Dice;

/// A line is a heading every so many lines.
pub(crate) const VISIT: u64 = 25;

/// Lines that are no hoof notes.
pub(crate) const OTHER: [&str; 5] =
    ["22 trims @ 15 = 330", "gate code 4471", "Bob 555 0134", "order more wrap", "p. 12"];

/// Writes so many lines.
pub(crate) fn write(lines: u64, seed: u64, mut out: impl Write) -> io::Result<()> {
    let mut dice = Dice::new(seed);
    let farms = ["Juniper Flat", "Oak Lane", "Cold Spring", "Thistle Hill", "Fen End"];
    let feet = ["LR out", "RRO", "LRI", "RH lat", "LHO", "NH lat", "OHI", "LF out", "RFO"];
    let found = ["SU z4", "WL z3", "SH z4", "TU z5", "WL z2,3", "DS"];
    let skin = ["LR DD", "BH DD", "RH DD M2", "LF FR", "BH HE gr 2", "OH foul", "RR DD M4"];
    let done = ["", " blk", " blk wrp", " blk RC 4wk", " wood blk", " pared", " drained blk"];
    let mut day = 0;
    for line in 0..lines {
        if line % VISIT == 0 {
            day += 1 + dice.below(5);
            let (year, month, dom) = (2000 + day / 336 % 25, day / 28 % 12 + 1, day % 28 + 1);
            writeln!(out, "{year}-{month:02}-{dom:02}  {}, {} hd", dice.one_of(&farms), 10 + dice.below(40))?;
            continue;
        }
        let cow = 1 + dice.below(2400);
        match dice.below(20) {
            0..=6 => writeln!(out, "{cow} {} {}{}", dice.one_of(&feet), dice.one_of(&found), dice.one_of(&done))?,
            7..=10 => writeln!(out, "{cow} {}{}", dice.one_of(&skin), dice.one_of(&[" wrp", ""]))?,
            11..=14 => writeln!(out, "{cow} {}", dice.one_of(&["ok", "NAD", "trim"]))?,
            15..=17 => writeln!(out, "{cow} \"")?,
            18 => writeln!(out, "{cow} MS{} {} SU", dice.below(4), dice.one_of(&feet))?,
            _ => writeln!(out, "{}", dice.one_of(&OTHER))?,
        }
    }
    out.flush()
}
