//! Writes a made-up notebook of so many lines, the same for the same seed: `notebook_lines LINES [SEED]`.

use std::io::Write;

fn main() -> std::io::Result<()> {
    let mut args = std::env::args().skip(1).filter_map(|a| a.parse::<u64>().ok());
    let (lines, mut state) = (args.next().unwrap_or(1000), args.next().unwrap_or(1));
    let mut dice = move |n: usize| {
        // xorshift64*
        state ^= state >> 12;
        state ^= state << 25;
        state ^= state >> 27;
        (state.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33) as usize % n
    };
    let farms = ["Juniper Flat", "Oak Lane", "Cold Spring", "Thistle Hill", "Fen End"];
    let feet = ["LR out", "RRO", "LRI", "RH lat", "LHO", "NH lat", "OHI", "LF out", "RFO"];
    let found = ["SU z4", "WL z3", "SH z4", "TU z5", "WL z2,3", "DS"];
    let skin = ["LR DD", "BH DD", "RH DD M2", "LF FR", "BH HE gr 2", "OH foul", "RR DD M4"];
    let done = ["", " blk", " blk wrp", " blk RC 4wk", " wood blk", " pared", " drained blk"];
    let other = ["22 trims @ 15 = 330", "gate code 4471", "Bob 555 0134", "order more wrap", "p. 12"];
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    let mut day = 0;
    for line in 0..lines {
        if line % 25 == 0 {
            day += 1 + dice(5);
            let (year, month, dom) = (2000 + day / 336 % 25, day / 28 % 12 + 1, day % 28 + 1);
            writeln!(out, "{year}-{month:02}-{dom:02}  {}, {} hd", farms[dice(farms.len())], 10 + dice(40))?;
            continue;
        }
        let cow = 1 + dice(2400);
        match dice(20) {
            0..=6 => writeln!(
                out,
                "{cow} {} {}{}",
                feet[dice(feet.len())],
                found[dice(found.len())],
                done[dice(done.len())]
            )?,
            7..=10 => writeln!(out, "{cow} {}{}", skin[dice(skin.len())], if dice(2) == 0 { " wrp" } else { "" })?,
            11..=14 => writeln!(out, "{cow} {}", ["ok", "NAD", "trim"][dice(3)])?,
            15..=17 => writeln!(out, "{cow} \"")?,
            18 => writeln!(out, "{cow} MS{} {} SU", dice(4), feet[dice(feet.len())])?,
            _ => writeln!(out, "{}", other[dice(other.len())])?,
        }
    }
    out.flush()
}
