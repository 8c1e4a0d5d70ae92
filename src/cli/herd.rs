//! The herd's tags: from a file, or as far as the log has seen them.

use std::path::Path;

use chutescribe::log::{ReadLog, VisitLine, fold};
use chutescribe::roster::Roster;
use chutescribe::show;

use super::fail::Fail;
use super::out::Out;

/// A herd file; lines that cannot be used are told, and the rest is used.
///
/// Letters that are no UTF-8 do no harm in columns that nobody reads.
pub(crate) fn roster_of(path: &Path, out: &mut Out) -> Result<Roster, Fail> {
    let name = path.display().to_string();
    let bytes =
        std::fs::read(path).map_err(|e| Fail::Told(format!("`{name}` cannot be read: {}", show::trouble(&e))))?;
    let (roster, errors) = Roster::read(&name, &String::from_utf8_lossy(&bytes));
    errors.iter().try_for_each(|e| out.trouble(e))?;
    Ok(roster)
}

/// The tags that the log has of the visit's farm.
///
/// The visit itself gives none: to read its notes again comes out as it did the first time.
pub(crate) fn seen_at(farm: &str, log: ReadLog, visit: &VisitLine) -> Roster {
    let book = fold(log.records);
    Roster::soft(book.cows_at(farm, &visit.id))
}
