//! Reads a roster: one tag a line, or CSV with a column named tag, cow, number or id.

use super::Roster;

/// A roster that cannot be used, or a line of it; the rest is still read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}: {what}")]
pub struct RosterError {
    pub file: String,
    pub line: usize,
    pub what: String,
}

/// Column names of the tag, and of the electronic number, lower case.
const TAG: &[&str] = &["tag", "cow", "number", "id", "cow number", "tag number", "management tag"];
const CHIP: &[&str] = &["eid", "electronic", "electronic number", "chip", "rfid", "electronic id"];

impl Roster {
    /// Reads a roster; lines that cannot be used are told and left out.
    pub fn read(file: &str, text: &str) -> (Self, Vec<RosterError>) {
        let mut errors = Vec::new();
        let mut tags = Vec::new();
        let mut chips = Vec::new();
        let mut columns: Option<(usize, Option<usize>)> = None;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let separator = separator(text);
        for (n, line) in text.lines().enumerate() {
            let mut fail = |what: String| errors.push(RosterError { file: file.to_owned(), line: n + 1, what });
            if line.trim().is_empty() || line.starts_with('#') {
                continue;
            }
            let cells: Vec<String> =
                line.split(separator).map(|c| c.trim().trim_matches('"').trim().to_owned()).collect();
            if columns.is_none() {
                let find = |names: &[&str]| cells.iter().position(|c| names.contains(&c.to_lowercase().as_str()));
                columns = Some((find(TAG).unwrap_or(0), find(CHIP)));
                if find(TAG).is_some() {
                    continue;
                }
            }
            let (tag_at, chip_at) = columns.unwrap_or((0, None));
            let Some(tag) = cells.get(tag_at).filter(|t| !t.is_empty()) else {
                fail("no tag in this line".to_owned());
                continue;
            };
            if tag.len() > 15 || !tag.chars().all(char::is_alphanumeric) {
                fail(format!("`{tag}` is no tag: letters and digits, 15 at most"));
                continue;
            }
            let tag = tag.to_uppercase();
            if let Some(chip) = chip_at.and_then(|c| cells.get(c)).filter(|c| !c.is_empty()) {
                if chip.len() == 15 && chip.bytes().all(|b| b.is_ascii_digit()) {
                    chips.push((chip.clone(), tag.clone()));
                } else {
                    fail(format!("`{chip}` is no electronic number: 15 digits (ISO 11784)"));
                }
            }
            tags.push(tag);
        }
        if tags.is_empty() && errors.is_empty() {
            errors.push(RosterError { file: file.to_owned(), line: 1, what: "no tag in this file".to_owned() });
        }
        chips.sort();
        (Self { chips, ..Self::new(tags) }, errors)
    }
}

/// Tab, semicolon or comma: whichever the first line has.
fn separator(text: &str) -> char {
    let first = text.lines().find(|l| !l.trim().is_empty() && !l.starts_with('#')).unwrap_or("");
    ['\t', ';'].into_iter().find(|c| first.contains(*c)).unwrap_or(',')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_tag_a_line_or_a_column() {
        let (a, errors) = Roster::read("herd.txt", "412\n0012\n\n# dry cows\nb7\n");
        assert_eq!((a.len(), errors.len()), (3, 0));
        assert!(a.has("0012") && a.has("B7") && !a.has("12"));
        let (b, errors) = Roster::read("herd.csv", "name,Tag,EID\nrose,412,840003123456789\nlily,,\n");
        assert!(b.has("412"));
        assert_eq!(b.tag_of_chip("840003123456789"), Some("412"));
        assert_eq!((errors[0].line, errors.len()), (3, 1));
    }

    #[test]
    fn a_bad_line_is_named_and_the_rest_is_read() {
        let (a, errors) = Roster::read("herd.txt", "412\n4 1 2!\n413\n");
        assert_eq!(a.len(), 2);
        assert_eq!(errors[0].to_string(), "herd.txt:2: `4 1 2!` is no tag: letters and digits, 15 at most");
    }
}
