//! The rows of a table: tabs, semicolons or commas between the cells, quotes around those that hold one.

/// A line with something in it that is no comment.
pub(crate) struct Row {
    /// From 1.
    pub(crate) line: usize,
    pub(crate) text: String,
    pub(crate) cells: Vec<String>,
}

impl Row {
    /// Only the first cell holds anything.
    pub(crate) fn is_one_cell(&self) -> bool {
        self.cells.iter().skip(1).all(String::is_empty)
    }
}

/// All rows; a line that starts with `#` and no digit is a comment.
pub(crate) fn rows(text: &str) -> Vec<Row> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let comment = |line: &str| line.strip_prefix('#').is_some_and(|l| !l.starts_with(|c: char| c.is_ascii_digit()));
    let lines = || text.lines().enumerate().filter(|(_, l)| !l.trim().is_empty() && !comment(l));
    let first = lines().next().map_or("", |l| l.1);
    let separator = ['\t', ';', ','].into_iter().find(|s| cells(first, *s).len() > 1).unwrap_or(',');
    lines().map(|(n, line)| Row { line: n + 1, text: line.trim().to_owned(), cells: cells(line, separator) }).collect()
}

/// The cells of a line without blanks and quotes around them; within quotes a doubled one is one.
fn cells(line: &str, separator: char) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        let cell = cells.last_mut().expect("there is a first one");
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => cell.extend(chars.next()),
            '"' if quoted => quoted = false,
            '"' if cell.trim().is_empty() => quoted = true,
            c if c == separator && !quoted => cells.push(String::new()),
            c => cell.push(c),
        }
    }
    cells.into_iter().map(|c| c.trim().to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_as_they_were_meant() {
        assert_eq!(
            cells(r#" 412 , "Rose, the old" ,"5"" long",5" "#, ','),
            ["412", "Rose, the old", "5\" long", "5\""]
        );
        assert_eq!(cells("a;;b;", ';'), ["a", "", "b", ""]);
    }

    #[test]
    fn the_first_row_tells_what_is_between_cells() {
        let all = |text: &str| rows(text).into_iter().map(|r| (r.line, r.cells)).collect::<Vec<_>>();
        assert_eq!(all("\u{feff}# a, b\r\n\"a,b\";c\r\n1,2;3\r\n")[1], (3, vec!["1,2".to_owned(), "3".to_owned()]));
        assert_eq!(all("a\tb\n1,2\t3\n")[1].1, ["1,2", "3"]);
        assert_eq!(all("#412\n# 413\n"), [(1, vec!["#412".to_owned()])]);
    }
}
