//! Columns that align at a terminal: wide characters counted, the last column broken between words.

use unicode_width::UnicodeWidthStr;

use crate::show::lines::hang;

/// Rows of text cells.
#[derive(Clone, Debug, Default)]
pub struct Table {
    rows: Vec<Vec<String>>,
    /// Blanks before each row.
    indent: usize,
    /// Columns (from 0) that hold numbers and stand to the right.
    right: Vec<usize>,
}

impl Table {
    pub fn new(indent: usize) -> Self {
        Self { indent, ..Self::default() }
    }

    /// Columns, counted from 0, that stand to the right.
    #[must_use]
    pub fn right(mut self, columns: &[usize]) -> Self {
        self.right = columns.to_vec();
        self
    }

    pub fn row<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) {
        self.rows.push(cells.into_iter().map(Into::into).collect());
    }

    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

impl std::fmt::Display for Table {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        let columns = self.rows.iter().map(Vec::len).max().unwrap_or(0);
        let widths: Vec<usize> = (0..columns)
            .map(|c| self.rows.iter().filter_map(|r| r.get(c)).map(|t| t.width()).max().unwrap_or(0))
            .collect();
        for row in &self.rows {
            let mut line = " ".repeat(self.indent);
            let last = row.len().saturating_sub(1);
            for (c, cell) in row.iter().enumerate() {
                let pad = " ".repeat(widths[c].saturating_sub(cell.width()));
                if self.right.contains(&c) {
                    line += &pad;
                }
                if c == last {
                    f.write_str(&hang(&line, cell))?;
                    break;
                }
                line += cell;
                if !self.right.contains(&c) {
                    line += &pad;
                }
                line += "  ";
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wide_characters_align_and_numbers_stand_to_the_right() {
        let mut table = Table::new(1).right(&[1]);
        table.row(["牛", "7", "x"]);
        table.row(["a", "412", "y"]);
        assert_eq!(table.to_string(), " 牛    7  x\n a   412  y\n");
    }
}
