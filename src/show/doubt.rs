//! Doubts: the words that raised them underlined, the message, the choices.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use super::lines::{WIDTH, hang};
use crate::ask::Choice;
use crate::flag::Flag;

const INDENT: &str = "      ";

/// A doubt with its words underlined: `?` where it is asked, `!` where it is only shown.
pub fn doubt(flag: &Flag, said: &str) -> String {
    let sign = if flag.asks() { "  ? " } else { "  ! " };
    let mut out = hang(sign, &flag.message);
    if let Some([from, to]) = flag.at {
        out.push_str(&marked(said, from, to));
    } else if flag.asks() {
        out.push_str(&hang(INDENT, said));
    }
    out
}

/// A question: the doubt and its choices.
pub fn question(flag: &Flag, said: &str, choices: &[Choice]) -> String {
    let mut out = doubt(flag, said);
    let width = choices.iter().map(|c| c.key.width()).max().unwrap_or(0);
    for choice in choices {
        out.push_str(&hang(&format!("{INDENT}{:>width$}  ", choice.key), &choice.label));
    }
    out
}

/// What `?` tells: why it is asked, and how it can be answered.
pub fn help(why: &str, enter_is_safe: bool) -> String {
    let enter = if enter_is_safe { "Enter takes the first choice. " } else { "" };
    let how = format!(
        "answer with what stands before a choice, or with the value in words; `=` before it says that it is the \
         value. {enter}`<` goes back to the question before, `.` leaves this one open, `-` takes the thing out."
    );
    hang(INDENT, why) + &hang(INDENT, &how)
}

/// `said` with the bytes `from..to` underlined; of a long note only what stands around them. Nothing where the
/// span is no part of the text.
pub fn marked(said: &str, from: usize, to: usize) -> String {
    let (Some(before), Some(words), Some(after)) = (said.get(..from), said.get(from..to), said.get(to..)) else {
        return String::new();
    };
    let flat = |text: &str| text.replace(|c: char| c.is_control(), " ");
    let (before, words, after) = (flat(before), flat(words), flat(after));
    let room = WIDTH - INDENT.len();
    let words = head(&words, room - 2, "…");
    let left =
        room.saturating_sub(words.width() + 1).min(room / 2).max(room.saturating_sub(words.width() + after.width()));
    let before = tail(&before, left);
    let after = head(&after, room.saturating_sub(before.width() + words.width()), "…");
    let mark = "^".repeat(words.width().max(1));
    let line = format!("{INDENT}{before}{words}{after}");
    format!("{}\n{INDENT}{}{mark}\n", line.trim_end(), " ".repeat(before.width()))
}

/// As much of the start of `text` as fits, with a sign where something was left out.
fn head(text: &str, room: usize, sign: &str) -> String {
    if text.width() <= room {
        return text.to_owned();
    }
    let mut out = String::new();
    let mut wide = sign.width();
    for c in text.chars() {
        wide += c.width().unwrap_or(0);
        if wide > room {
            break;
        }
        out.push(c);
    }
    out + sign
}

/// As much of the end of `text` as fits.
fn tail(text: &str, room: usize) -> String {
    if text.width() <= room {
        return text.to_owned();
    }
    let mut out: Vec<char> = Vec::new();
    let mut wide = 1;
    for c in text.chars().rev() {
        wide += c.width().unwrap_or(0);
        if wide > room {
            break;
        }
        out.push(c);
    }
    std::iter::once('…').chain(out.into_iter().rev()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_stand_over_their_marks() {
        let said = "cow 430, ulcer left rear";
        assert_eq!(marked(said, 9, 14), "      cow 430, ulcer left rear\n               ^^^^^\n");
    }

    #[test]
    fn a_long_note_is_cut_to_what_stands_around() {
        let said = format!("{}ulcer{}", "word ".repeat(100), " word".repeat(100));
        let out = marked(&said, 500, 505);
        assert!(out.lines().all(|l| l.width() <= WIDTH), "{out}");
        let (line, mark) = out.split_once('\n').unwrap();
        let at = line.find("ulcer").unwrap();
        assert_eq!(line[..at].width(), mark.find('^').unwrap());
    }

    #[test]
    fn a_span_that_is_no_part_of_the_text_marks_nothing() {
        assert_eq!(marked("é", 1, 2), "");
        assert_eq!(marked("cow", 2, 9), "");
    }
}
