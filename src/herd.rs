//! The herd's tags: one a line, or a CSV table with a column `tag`, `cow` or `id`.

/// The tags of a herd, in the file's order, each once.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Herd {
    pub tags: Vec<String>,
}

/// A herd file that cannot be used, with where and why.
#[derive(Debug, thiserror::Error)]
#[error("{file}:{line}: {what}")]
pub struct HerdError {
    pub file: String,
    pub line: u64,
    pub what: String,
}

/// The names that a column of tags goes by.
const COLUMNS: [&str; 3] = ["tag", "cow", "id"];

impl Herd {
    /// Reads `text`, named `file` in errors. Empty lines and lines that start with `#` are no tags.
    ///
    /// # Errors
    /// A table without a column of tags, a broken table, a line that is no single tag, or no tag at all.
    ///
    /// ```
    /// use chutescribe::herd::Herd;
    /// assert_eq!(Herd::read("herd", "007\n412\n007\n").unwrap().tags, ["007", "412"]);
    /// assert_eq!(Herd::read("herd.csv", "name,Tag\nDaisy,12\n").unwrap().tags, ["12"]);
    /// assert_eq!(Herd::read("herd.csv", "a,b\n1,2\n").unwrap_err().to_string(),
    ///     "herd.csv:1: a table needs a column named `tag`, `cow` or `id`; these are `a`, `b`");
    /// ```
    pub fn read(file: &str, text: &str) -> Result<Self, HerdError> {
        let fail = |line, what: String| HerdError { file: file.to_owned(), line, what };
        let text = text.trim_start_matches('\u{feff}');
        let mut herd = Self::default();
        let mut seen = std::collections::HashSet::new();
        let mut add = |tag: &str| {
            let tag = tag.trim();
            if !tag.is_empty() && seen.insert(tag.to_owned()) {
                herd.tags.push(tag.to_owned());
            }
        };
        let first = text.lines().find(|l| is_tag_line(l)).unwrap_or_default();
        let is_column = |cell: &str| COLUMNS.contains(&cell.trim().to_lowercase().as_str());
        if let Some(sign) = [',', ';', '\t'].into_iter().find(|s| first.contains(*s)) {
            let mut table = csv::ReaderBuilder::new();
            table.delimiter(sign as u8).comment(Some(b'#')).flexible(true).trim(csv::Trim::All);
            let mut table = table.from_reader(text.as_bytes());
            let columns = table.headers().map_err(|e| fail(1, e.to_string()))?.clone();
            let Some(at) = columns.iter().position(is_column) else {
                let names: Vec<String> = columns.iter().map(|n| format!("`{n}`")).collect();
                let names = names.join(", ");
                let line = columns.position().map_or(1, csv::Position::line);
                return Err(fail(
                    line,
                    format!("a table needs a column named `tag`, `cow` or `id`; these are {names}"),
                ));
            };
            for row in table.records() {
                let row = row.map_err(|e| fail(e.position().map_or(1, csv::Position::line), e.to_string()))?;
                add(row.get(at).unwrap_or_default());
            }
        } else {
            let lines = text.lines().zip(1..).filter(|(l, _)| is_tag_line(l));
            for (i, (tag, line)) in lines.enumerate() {
                if tag.split_whitespace().count() > 1 {
                    return Err(fail(line, format!("`{}` is more than one tag; write one a line", tag.trim())));
                }
                if i > 0 || !is_column(tag) {
                    add(tag);
                }
            }
        }
        if herd.tags.is_empty() { Err(fail(1, "there is no tag in it".to_owned())) } else { Ok(herd) }
    }
}

fn is_tag_line(line: &str) -> bool {
    !line.trim().is_empty() && !line.starts_with('#')
}
