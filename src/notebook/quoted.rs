//! Cells of a table: quotes, line breaks between them, and ditto marks that stand alone in a cell.

use super::text::{LONGEST, Line};

/// A row of more lines is none: its quote was never closed.
const MOST: usize = 50;

/// Puts the lines of a table together to rows.
#[derive(Debug)]
pub(super) struct Joiner {
    separator: u8,
    /// How many cells a row has, where that is known.
    cells: Option<usize>,
    held: Vec<Line>,
    bytes: usize,
}

impl Joiner {
    pub(super) fn new(separator: u8, cells: Option<usize>) -> Self {
        Self { separator, cells, held: vec![], bytes: 0 }
    }

    /// The rows that are whole with this line, each with the number of its first line.
    pub(super) fn take(&mut self, line: Line) -> Vec<Line> {
        let inside = !self.held.is_empty();
        let Ok(text) = &line.text else {
            let mut out = self.end();
            out.push(line);
            return out;
        };
        let open = scan(text, self.separator, inside, |_| {});
        if !inside && !open {
            return vec![line];
        }
        self.bytes += text.len() + 1;
        self.held.push(line);
        if open {
            return if self.held.len() < MOST && self.bytes < LONGEST { vec![] } else { self.apart() };
        }
        let joined = self.held.iter().filter_map(|l| l.text.as_deref().ok()).collect::<Vec<_>>().join("\n");
        if self.cells.is_some_and(|n| cells(&joined, self.separator).len() != n) {
            return self.apart();
        }
        self.bytes = 0;
        let number = self.held.drain(..).next().map_or(0, |l| l.number);
        vec![Line { number, text: Ok(joined) }]
    }

    /// What is left at the end of the table.
    pub(super) fn end(&mut self) -> Vec<Line> {
        let mut out = vec![];
        while !self.held.is_empty() {
            out.extend(self.apart());
        }
        out
    }

    /// The quote was never closed: its line is one row, and those after it are looked at anew.
    fn apart(&mut self) -> Vec<Line> {
        self.bytes = 0;
        let mut lines = std::mem::take(&mut self.held).into_iter();
        let mut out: Vec<Line> = lines.next().into_iter().collect();
        for line in lines {
            out.extend(self.take(line));
        }
        out
    }
}

/// The cells of a row; a break inside one is a comma in what it says.
pub(super) fn cells(row: &str, separator: u8) -> Vec<String> {
    let mut alone = vec![];
    scan(row, separator, false, |at| alone.push(at));
    let mut text = row.to_owned();
    for at in alone.into_iter().rev() {
        // As a spreadsheet writes a cell with one quote in it.
        text.replace_range(at..=at, "\"\"\"\"");
    }
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let one_line = |c: &str| c.lines().map(str::trim).filter(|l| !l.is_empty()).collect::<Vec<_>>().join(", ");
    match reader.records().next() {
        Some(Ok(record)) => record.iter().map(one_line).collect(),
        _ => row.split(separator as char).map(one_line).collect(),
    }
}

/// Whether a quote is open at the end of the text; `alone` is told of quotes that fill a cell by themselves, which
/// open nothing: they are ditto marks.
fn scan(text: &str, separator: u8, mut inside: bool, mut alone: impl FnMut(usize)) -> bool {
    let bytes = text.as_bytes();
    let mut starts = !inside;
    let mut i = 0;
    while i < bytes.len() {
        match bytes[i] {
            b'"' if inside && bytes.get(i + 1) == Some(&b'"') => i += 1,
            // What goes on behind it was no end of a cell.
            b'"' if inside => inside = !ends(&bytes[i + 1..], separator),
            b'"' if starts => {
                inside = !ends(&bytes[i + 1..], separator);
                if !inside {
                    alone(i);
                }
            }
            b if !inside && b == separator => {
                starts = true;
                i += 1;
                continue;
            }
            b'\n' if !inside => {
                starts = true;
                i += 1;
                continue;
            }
            _ => {}
        }
        starts = false;
        i += 1;
    }
    inside
}

/// Whether a cell ends here.
fn ends(bytes: &[u8], separator: u8) -> bool {
    bytes.iter().find(|b| **b != b' ').is_none_or(|b| *b == separator || *b == b'\n')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(table: &str, cells: usize) -> Vec<(usize, String)> {
        let mut joiner = Joiner::new(b',', Some(cells));
        let lines = table.lines().enumerate().map(|(i, l)| Line { number: i + 1, text: Ok(l.to_owned()) });
        let mut out: Vec<Line> = lines.flat_map(|l| joiner.take(l)).collect();
        out.extend(joiner.end());
        out.into_iter().map(|l| (l.number, l.text.unwrap())).collect()
    }

    #[test]
    fn a_break_between_quotes_does_not_end_the_row() {
        let got = rows("412,\"LH DD\nwrap, \"\"bad\"\"\n\nsee again\",x\n413,ok,y\n", 3);
        assert_eq!(got.iter().map(|r| r.0).collect::<Vec<_>>(), [1, 5]);
        assert_eq!(cells(&got[0].1, b','), ["412", "LH DD, wrap, \"bad\", see again", "x"]);
    }

    #[test]
    fn a_quote_that_is_never_closed_swallows_nothing() {
        let table = format!("411,ok,x\n412,\"LH DD,x\n{}", "413,ok,y\n".repeat(200));
        let got = rows(&table, 3);
        assert_eq!(got.len(), 202);
        assert!(got.iter().enumerate().all(|(i, r)| r.0 == i + 1));
        // Nor does one that the next row's would close.
        assert_eq!(rows("412,\"LH DD,x\n413,\"RH DD,y\n", 3).len(), 2);
    }

    #[test]
    fn a_quote_alone_in_a_cell_is_a_ditto_mark() {
        assert_eq!(rows("412,LH DD,wrap\n413,\",wrap\n414,\",\"\n", 3).len(), 3);
        assert_eq!(cells("413,\",wrap", b','), ["413", "\"", "wrap"]);
        assert_eq!(cells("413,\"\",\"\"\"\"", b','), ["413", "", "\""]);
        assert_eq!(cells("413,toe 3\",x", b','), ["413", "toe 3\"", "x"]);
    }
}
