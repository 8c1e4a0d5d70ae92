//! All that the log has about one entry.

use std::collections::HashSet;
use std::fs::File;
use std::io;
use std::path::Path;

use super::read::Lines;
use super::record::Record;

/// The entry's line, the answers and strikes of it, and the strikes of those strikes, in the log's order; lines that
/// cannot be read are left out.
///
/// # Errors
/// Where the log cannot be read.
pub fn of(path: &Path, entry: &str) -> io::Result<Vec<(usize, Record)>> {
    let mut about: HashSet<String> = HashSet::from([entry.to_owned()]);
    let mut history = Vec::new();
    let mut lines = Lines::new(File::open(path)?);
    while let Some(line) = lines.next_line()? {
        let Ok(record) = line.record() else { continue };
        let is = match &record {
            Record::Entry(e) => e.id == entry,
            Record::Answer(a) => a.entry == entry,
            Record::Strike(s) => about.contains(&s.entry),
            Record::Visit(_) | Record::Unknown { .. } => false,
        };
        if !is {
            continue;
        }
        if let Record::Strike(strike) = &record {
            about.insert(strike.id.clone());
        }
        history.push((line.number, record));
    }
    Ok(history)
}
