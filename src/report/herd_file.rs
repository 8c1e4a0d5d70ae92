//! Calving and dry-off dates of the herd: a table with named columns.

use std::collections::HashMap;

use chrono::NaiveDate;

use super::material::key;
use crate::roster::RosterError;
use crate::roster::file::{TAG, name};
use crate::roster::table::rows;

/// Names of the column of calving dates.
const CALVED: &[&str] = &["calved", "calving", "calving date", "last calving", "fresh", "fresh date"];
/// Names of the column of dry-off dates.
const DRY: &[&str] = &["dry", "dry off", "dry off date", "to dry", "dried", "due dry"];

/// What the herd's table says of a cow.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dates {
    /// As the table has it, upper case.
    pub tag: String,
    pub calved: Option<NaiveDate>,
    /// When she is or was to be dried off.
    pub dry: Option<NaiveDate>,
}

/// Reads the dates by tag (as [`key`]); cells that are no date are told. A table without a column of dates gives
/// none: it is a list of tags.
pub fn read(file: &str, text: &str) -> (HashMap<String, Dates>, Vec<RosterError>) {
    let mut all = HashMap::new();
    let mut errors = Vec::new();
    let rows = rows(text);
    let names: Vec<String> = rows.first().map_or(vec![], |r| r.cells.iter().map(|c| name(c)).collect());
    let find = |wanted: &[&str]| wanted.iter().find_map(|w| names.iter().position(|n| n == w));
    let (calved, dry) = (find(CALVED), find(DRY));
    let (Some(tag), true) = (find(TAG), calved.is_some() || dry.is_some()) else { return (all, errors) };
    for row in rows.iter().skip(1) {
        let Some(tag) = row.cells.get(tag).map(|t| t.trim_start_matches('#').to_uppercase()).filter(|t| !t.is_empty())
        else {
            continue;
        };
        let mut date = |column: Option<usize>| {
            let cell = column.and_then(|c| row.cells.get(c)).filter(|c| !c.is_empty())?;
            let date = NaiveDate::parse_from_str(cell, "%Y-%m-%d").ok().filter(|_| cell.len() == 10);
            if date.is_none() {
                let what = format!("`{cell}` is no date; write it as 2026-03-12 (year, month, day)");
                errors.push(RosterError { file: file.to_owned(), line: row.line, what });
            }
            date
        };
        let dates = Dates { tag: tag.clone(), calved: date(calved), dry: date(dry) };
        all.insert(key(&tag), dates);
    }
    (all, errors)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_known_by_their_names_and_bad_dates_are_told() {
        let (all, errors) = read("herd.csv", "Tag;Calving date;Dry-off\nb7;2026-01-02;2026-10-01\n8;3/4/26;\n");
        assert_eq!(all["b7"].calved, NaiveDate::from_ymd_opt(2026, 1, 2));
        assert_eq!((all["b7"].dry, all["8"].calved), (NaiveDate::from_ymd_opt(2026, 10, 1), None));
        assert_eq!(errors[0].to_string(), "herd.csv:3: `3/4/26` is no date; write it as 2026-03-12 (year, month, day)");
        assert!(read("herd.txt", "412\n413\n").0.is_empty());
    }
}
