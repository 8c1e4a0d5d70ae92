//! Reads a roster: one tag a line, or a table (CSV) with a column of tags that has a name.

use super::Roster;
use super::table::{Row, rows};

/// A roster that cannot be used, or a line of it; the rest is still read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}: {what}")]
pub struct RosterError {
    pub file: String,
    /// From 1.
    pub line: usize,
    pub what: String,
}

/// Names of the column of tags, the surest first: where there is a `tag`, an `id` is something else.
pub(crate) const TAG: &[&str] = &[
    "tag",
    "tag number",
    "ear tag",
    "management tag",
    "cow",
    "cow number",
    "cow id",
    "animal",
    "animal number",
    "animal id",
    "number",
    "id",
];
/// Names of the column of electronic numbers.
const CHIP: &[&str] = &["eid", "electronic", "electronic number", "electronic id", "chip", "rfid"];

/// Where tags and electronic numbers stand.
struct Columns {
    tag: usize,
    chip: Option<usize>,
    /// The first row is their names.
    named: bool,
}

impl Roster {
    /// Reads a roster; lines that cannot be used are told and left out. A table that does not say which column has
    /// the tags is not guessed at.
    pub fn read(file: &str, text: &str) -> (Self, Vec<RosterError>) {
        let mut errors = Vec::new();
        let mut fail = |line: usize, what: String| errors.push(RosterError { file: file.to_owned(), line, what });
        let rows = rows(text);
        let columns = match columns(&rows) {
            Ok(columns) => columns,
            Err((line, what)) => {
                fail(line, what);
                return (Self::default(), errors);
            }
        };
        let (mut tags, mut chips) = (Vec::new(), Vec::new());
        for (i, row) in rows.iter().enumerate().skip(usize::from(columns.named)) {
            let tag = match tag(row, &columns).and_then(|tag| no_head(tag, i, &rows, &columns)) {
                Ok(tag) => tag,
                Err(what) => {
                    fail(row.line, what);
                    continue;
                }
            };
            if let Some(chip) = columns.chip.and_then(|c| row.cells.get(c)).filter(|c| !c.is_empty()) {
                if chip.len() == 15 && chip.bytes().all(|b| b.is_ascii_digit()) {
                    chips.push((chip.clone(), tag.clone()));
                } else {
                    fail(row.line, format!("`{chip}` is no electronic number: 15 digits (ISO 11784)"));
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

/// Where the tags stand: below their name, or in the only column. Else the line and what is missing there.
fn columns(rows: &[Row]) -> Result<Columns, (usize, String)> {
    let Some(first) = rows.first() else { return Ok(Columns { tag: 0, chip: None, named: false }) };
    let names: Vec<String> = first.cells.iter().map(|c| name(c)).collect();
    let find = |wanted: &[&str]| wanted.iter().find_map(|w| names.iter().position(|n| n == w));
    if let Some(tag) = find(TAG) {
        return Ok(Columns { tag, chip: find(CHIP), named: true });
    }
    if first.is_one_cell() {
        return Ok(Columns { tag: 0, chip: None, named: false });
    }
    let cells: Vec<String> = first.cells.iter().filter(|c| !c.is_empty()).map(|c| format!("`{c}`")).collect();
    let told = format!(
        "several columns, and none is known to have the tags; the first line has {}, and one of these was looked for: \
         {}; write `tag` over the tags",
        cells.join(", "),
        TAG.join(", ")
    );
    Err((first.line, told))
}

/// The name of a column as the lists have it: `Cow_No.` is `cow number`, `Tags` is `tag`.
pub(crate) fn name(cell: &str) -> String {
    let spaced = cell.to_lowercase().replace(['_', '-', '.'], " ");
    let word = |w| match w {
        "no" | "nr" => "number",
        "tags" => "tag",
        "cows" => "cow",
        "animals" => "animal",
        w => w,
    };
    spaced.split_whitespace().map(word).collect::<Vec<_>>().join(" ")
}

fn tag(row: &Row, columns: &Columns) -> Result<String, String> {
    if !columns.named && !row.is_one_cell() {
        return Err(format!("`{}` is more than one tag; one a line, or a table with names over it", row.text));
    }
    let tag = row.cells.get(columns.tag).map(|t| t.strip_prefix('#').unwrap_or(t)).filter(|t| !t.is_empty());
    let tag = tag.ok_or("no tag in this line")?;
    if tag.len() > 15 || !tag.chars().all(char::is_alphanumeric) {
        return Err(format!("`{tag}` is no tag: letters and digits, 15 at most"));
    }
    Ok(tag.to_uppercase())
}

/// A first word over nothing but numbers is no cow, whatever it says.
fn no_head(tag: String, row: usize, rows: &[Row], columns: &Columns) -> Result<String, String> {
    let digit = |row: &Row| row.text.bytes().any(|b| b.is_ascii_digit());
    let head = row == 0 && !columns.named && !digit(&rows[0]) && rows.len() > 1 && rows[1..].iter().all(digit);
    if !head {
        return Ok(tag);
    }
    let text = &rows[0].text;
    Err(format!("`{text}` stands over numbers and is left out as the column's name; write `tag` over it if it is one"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> (usize, Vec<String>) {
        let (roster, errors) = Roster::read("herd.csv", text);
        (roster.len(), errors.iter().map(ToString::to_string).collect())
    }

    #[test]
    fn one_tag_a_line_or_a_column() {
        let (a, errors) = Roster::read("herd.txt", "412\n0012\n\n# dry cows\nb7\n#413\n");
        assert_eq!((a.len(), errors.len()), (4, 0));
        assert!(a.has("0012") && a.has("B7") && a.has("413") && !a.has("12"));
        let (b, errors) = Roster::read("herd.csv", "name,Tag,EID\nrose,412,840003123456789\nlily,,\n");
        assert!(b.has("412"));
        assert_eq!(b.tag_of_chip("840003123456789"), Some("412"));
        assert_eq!((errors[0].line, errors.len()), (3, 1));
        assert_eq!(told("412,\n413,\n"), (2, vec![]), "an empty column is none");
        assert_eq!(told("rose\nlily\n12\n"), (3, vec![]), "cows may have names");
        assert_eq!(told("tag\nrose\n12\n"), (2, vec![]));
    }

    #[test]
    fn a_bad_line_is_named_and_the_rest_is_read() {
        let (a, errors) = Roster::read("herd.txt", "412\n4 1 2!\n413\n");
        assert_eq!(a.len(), 2);
        assert_eq!(errors[0].to_string(), "herd.txt:2: `4 1 2!` is no tag: letters and digits, 15 at most");
        let more = "herd.csv:2: `413,rose` is more than one tag; one a line, or a table with names over it".to_owned();
        assert_eq!(told("412\n413,rose\n"), (1, vec![more]));
    }

    #[test]
    fn a_table_without_a_column_of_tags_is_refused_with_what_was_looked_for() {
        for text in ["\n# dry cows\nname,born\nrose,2019\n", "\n\n412;rose\n413;lily\n"] {
            let (tags, told) = told(text);
            assert_eq!((tags, told.len()), (0, 1));
            assert!(
                told[0].starts_with("herd.csv:3: several columns, and none is known to have the tags; "),
                "{told:?}"
            );
            assert!(
                told[0].contains(" looked for: tag, ") && told[0].ends_with("write `tag` over the tags"),
                "{told:?}"
            );
        }
        assert!(told("name;born\nrose;2019\n").1[0].contains("the first line has `name`, `born`,"));
    }

    #[test]
    fn the_name_of_the_only_column_is_no_cow() {
        let told_of =
            "herd.csv:1: `Milkers` stands over numbers and is left out as the column's name; write `tag` over \
                       it if it is one"
                .to_owned();
        assert_eq!(told("Milkers\n412\nb7\n"), (2, vec![told_of]));
        assert_eq!(told("Cow_No.\n412\n413\n"), (2, vec![]));
    }

    #[test]
    fn the_surest_name_wins() {
        let (a, errors) = Roster::read("herd.csv", "id,cow,\"Ear-Tag\"\n1,rose,412\n2,\"lily, 13\",413\n");
        assert_eq!((a.tags(), errors.len()), (&["412".to_owned(), "413".to_owned()][..], 0));
    }
}
