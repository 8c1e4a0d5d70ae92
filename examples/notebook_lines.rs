//! Writes a made-up notebook of so many lines, the same for the same seed: `notebook_lines LINES [SEED]`.

#[path = "../benches/inputs/mod.rs"]
#[allow(dead_code, reason = "the suite needs the rest")]
mod inputs;

fn main() -> std::io::Result<()> {
    let mut args = std::env::args().skip(1).filter_map(|a| a.parse::<u64>().ok());
    let (lines, seed) = (args.next().unwrap_or(1000), args.next().unwrap_or(1));
    inputs::notebook::write(lines, seed, std::io::BufWriter::new(std::io::stdout().lock()))
}
