//! The herd's tags: from a file, or as far as the log has seen them.

use std::path::Path;

use chutescribe::log::{VisitLine, fold};
use chutescribe::roster::Roster;
use chutescribe::show;

use super::args::{no_log, tell_problems};
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

/// The tags that the log has of the visit's farm; what is wrong with the log is told.
///
/// The visit itself gives none: to read its notes again comes out as it did the first time.
pub(crate) fn seen_at(log: &Path, farm: &str, visit: &VisitLine, out: &mut Out) -> Result<Vec<String>, Fail> {
    let mut problems = Vec::new();
    let seen = fold::cows_at(log, farm, &visit.id, |p| problems.push(p)).map_err(|e| no_log(log, &e))?;
    tell_problems(&problems, out)?;
    Ok(seen)
}
