//! How each word of a note was taken.

use unicode_width::UnicodeWidthStr;

use super::lines::hang;

use crate::matches::{How, Path, Tok};
use crate::vocab::{Meaning, Style, Vocabulary};

/// A table: the words as they were heard, the term they were taken for, how, and what that cost.
///
/// Below it the words that other readings, about as good, take otherwise.
pub fn why(text: &str, toks: &[Tok], rivals: &[Path], vocab: &Vocabulary) -> String {
    let rows: Vec<[String; 4]> = toks.iter().map(|tok| row(text, tok, vocab)).collect();
    let head = ["heard", "taken for", "how", "cost"].map(str::to_owned);
    let rows: Vec<[String; 4]> = std::iter::once(head).chain(rows).collect();
    let width = |k: usize| rows.iter().map(|r| r[k].width()).max().unwrap_or(0);
    let widths = [width(0), width(1), width(2)];
    let mut out = String::new();
    for row in &rows {
        let mut line = String::from("    ");
        for (cell, wide) in row.iter().zip(widths) {
            line.push_str(cell);
            line.push_str(&" ".repeat(wide - cell.width() + 2));
        }
        line.push_str(&row[3]);
        out.push_str(line.trim_end());
        out.push('\n');
    }
    for rival in rivals {
        let other = rival.toks.iter().filter(|t| !toks.contains(t) && t.meaning != Some(Meaning::Filler));
        let words: Vec<String> =
            other.map(|t| row(text, t, vocab)).map(|[heard, term, ..]| format!("`{heard}` {term}")).collect();
        let (whole, part) = (rival.behind / 100, rival.behind % 100);
        out.push_str(&hang("    ", &format!("or, {whole}.{part:02} dearer: {}", words.join(", "))));
    }
    out
}

fn row(text: &str, tok: &Tok, vocab: &Vocabulary) -> [String; 4] {
    let heard = text.get(tok.span.start as usize..tok.span.end as usize).unwrap_or_default().to_owned();
    let form = tok.form.and_then(|f| vocab.forms().get(f as usize));
    let term = match (form, tok.meaning) {
        (Some(form), _) if form.text == heard.to_lowercase() => form.term.clone(),
        (Some(form), _) => format!("{} `{}`", form.term, form.text),
        (None, Some(Meaning::Number(_))) => "number".to_owned(),
        (None, Some(meaning)) => format!("{:?}", meaning.kind()).to_lowercase(),
        (None, None) => "nothing".to_owned(),
    };
    let (how, cost) = match tok.how {
        _ if tok.meaning == Some(Meaning::Filler) => ("passed over", String::new()),
        How::Exact(Style::Spoken) => ("word for word", "0".to_owned()),
        How::Exact(Style::Written) => ("as written", "0".to_owned()),
        How::Exact(Style::Heard) => ("known mishearing", "0".to_owned()),
        How::Near { cost, phones, .. } => {
            ("by its sound", format!("{}.{:02} on {phones} sounds", cost / 100, cost % 100))
        }
        How::Unread => ("not understood", String::new()),
    };
    [heard, term, how.to_owned(), cost]
}
