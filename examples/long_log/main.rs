//! Makes a long log, or folds one and says what that took:
//!
//!     cargo run --release --example long_log -- make 1000000 >/tmp/long.jsonl
//!     cargo run --release --example long_log -- fold /tmp/long.jsonl

mod generate;

use std::io::{self, BufWriter};
use std::path::Path;
use std::time::Instant;

use chutescribe::log::fold;

fn main() -> io::Result<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    match args.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["make", entries] => {
            let entries = entries.parse().map_err(io::Error::other)?;
            generate::generate(entries, BufWriter::new(io::stdout().lock()))
        }
        ["fold", path] => fold_log(Path::new(path)),
        _ => Err(io::Error::other("make ENTRIES, or fold FILE")),
    }
}

fn fold_log(path: &Path) -> io::Result<()> {
    let start = Instant::now();
    let (mut entries, mut open, mut struck, mut bad) = (0_usize, 0, 0, 0);
    let rest = fold::each(
        path,
        |_| bad += 1,
        |_, kept| {
            entries += 1;
            open += kept.open.len();
            struck += usize::from(kept.struck.is_some());
        },
    )?;
    let took = start.elapsed();
    println!(
        "{entries} entries of {} visits, {open} questions open, {struck} struck, {bad} bad lines, {} misfits",
        rest.visits.len(),
        rest.misfits.len()
    );
    println!("{took:.2?}, {:.2} µs an entry", took.as_secs_f64() * 1e6 / entries.max(1) as f64);
    // Linux says how much memory it took at most.
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    status.lines().filter(|l| l.starts_with("VmHWM")).for_each(|l| println!("{l}"));
    Ok(())
}
