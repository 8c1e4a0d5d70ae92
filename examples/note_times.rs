//! How long single notes take: `cargo run --release --example note_times -- NOTES [ROSTER]`, a note a line.
//! Each is read five times and the fastest counts: the rest is the machine's.

use std::time::{Duration, Instant};

use chrono::NaiveDate;
use chutescribe::roster::Roster;
use chutescribe::{Reader, vocab::Vocabulary};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let notes = std::fs::read_to_string(args.next().ok_or("notes, then a roster")?)?;
    let mut reader = Reader::new(Vocabulary::built_in());
    if let Some(herd) = args.next() {
        reader = reader.with_roster(Roster::read(&herd, &std::fs::read_to_string(&herd)?).0);
    }
    let visit = NaiveDate::from_ymd_opt(2026, 3, 12).ok_or("a date")?;
    let once = |note: &str| {
        let start = Instant::now();
        std::hint::black_box(reader.read(note, visit, None));
        start.elapsed()
    };
    // The first note that is listened to makes what listening needs.
    for note in notes.lines().take(20) {
        once(note);
    }
    let mut took: Vec<(Duration, &str)> =
        notes.lines().map(|note| ((0..5).map(|_| once(note)).min().unwrap_or_default(), note)).collect();
    took.sort();
    let at = |share: usize| took.get((took.len() * share).div_ceil(100).saturating_sub(1)).map(|t| t.0);
    if let (Some(p50), Some(p99), Some((most, slowest))) = (at(50), at(99), took.last()) {
        println!("{} notes: p50 {p50:?}, p99 {p99:?}, most {most:?}: {slowest}", took.len());
    }
    Ok(())
}
