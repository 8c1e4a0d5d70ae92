//! Lines that fit the width, and small helpers for words in messages.

use unicode_width::UnicodeWidthStr;

/// Columns of a line.
pub const WIDTH: usize = 80;

/// `text` broken at blanks, the first line after `first`, the others indented by as much.
pub(crate) fn hang(first: &str, text: &str) -> String {
    let indent = first.width();
    let mut out = String::from(first);
    let mut column = indent;
    for (i, word) in text.split(' ').enumerate() {
        let wide = word.width();
        if i > 0 && column + 1 + wide > WIDTH {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            column = indent;
        } else if i > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += wide;
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

/// `1 note`, `2 notes`, `no notes`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    match n {
        0 => format!("no {many}"),
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    }
}

/// The word that goes with `n`.
pub fn plural<'a>(n: usize, one: &'a str, many: &'a str) -> &'a str {
    if n == 1 { one } else { many }
}

/// `a`, `a or b`, `a, b or c`.
pub fn list_or(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [front @ .., last] => format!("{} or {last}", front.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_the_screen_unless_a_word_is() {
        let text = "word ".repeat(60);
        let out = hang("  remark       ", text.trim());
        assert!(out.lines().all(|l| l.width() <= WIDTH), "{out}");
        assert_eq!(out.split_whitespace().count(), 61);
    }

    #[test]
    fn lists_read_as_people_write_them() {
        let items = ["a", "b", "c"].map(str::to_owned);
        assert_eq!(list_or(&items), "a, b or c");
        assert_eq!(list_or(&items[..1]), "a");
    }
}
