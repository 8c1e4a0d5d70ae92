//! Writes made-up notes, one a line, the same for the same seed: `spoken_notes clean|heard NOTES [SEED]`, or
//! `spoken_notes long NOTES SEED WORDS`: notes of many cows and at least so many words.

use std::io::{BufWriter, Error, Write};

#[path = "../benches/inputs/mod.rs"]
#[allow(dead_code, reason = "the suite needs the rest")]
mod inputs;

const USAGE: &str = "clean NOTES [SEED], heard NOTES [SEED] or long NOTES SEED WORDS";

fn main() -> std::io::Result<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let number = |at: usize| args.get(at).and_then(|a| a.parse::<usize>().ok());
    let (Some(count), seed) = (number(1), number(2).unwrap_or(1) as u64) else {
        return Err(Error::other(USAGE));
    };
    let mut out = BufWriter::new(std::io::stdout().lock());
    let mut some = inputs::notes::Notes::new(seed);
    match args[0].as_str() {
        "clean" => (0..count).try_for_each(|_| writeln!(out, "{}", some.clean().said))?,
        "heard" => (0..count).try_for_each(|_| writeln!(out, "{}", some.heard().said))?,
        "long" => (0..count).try_for_each(|_| writeln!(out, "{}", some.long(number(3).unwrap_or(1000))))?,
        _ => return Err(Error::other(USAGE)),
    }
    out.flush()
}
