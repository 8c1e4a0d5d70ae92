//! Learns a voice: what a person confirmed is remembered as a `heard` form in a words file of their own.
//!
//! [`lesson`] tells what an answer teaches, [`add`] and [`forget`] change the text of a words file and keep its
//! comments, [`learned`] lists what it has.

mod edit;

pub use edit::{EditError, Learned, add, forget, learned};

use chrono::NaiveDate;
use serde_json::Value;

use crate::flag::{Flag, FlagKind};
use crate::log::Path;
use crate::matches::How;
use crate::read::Reader;
use crate::vocab::{Kind, Vocabulary};
use crate::words;

/// Heard words and the term they stood for.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Lesson {
    /// As the vocabulary has words: lower case, blanks between.
    pub heard: String,
    /// `kind.name`, as the vocabulary has it.
    pub term: String,
    /// The form of the term that was understood.
    pub meant: String,
}

/// What the answer to a question teaches: that the words in doubt were the term they were taken for.
///
/// Nothing where the answer was another one; where the term is one of a confusable pair (left and right, inner and
/// outer, front and hind, healed and not) or a number, since to be wrong there once is worse than to be asked for
/// ever; and where the words are in the vocabulary already, since they would lose their own meaning.
pub fn lesson(
    flag: &Flag,
    field: &str,
    value: &Value,
    said: &str,
    reader: &Reader,
    visit: NaiveDate,
) -> Option<Lesson> {
    let understood = flag.options.first().filter(|v| !v.is_null())?;
    if flag.kind != FlagKind::Misheard || flag.field != field || understood != value {
        return None;
    }
    let [start, end] = flag.at?;
    let heard = spelt(said.get(start..end)?)?;
    let vocab = reader.vocabulary();
    let reading = reader.read(said, visit, None);
    let tok = reading.toks.iter().find(|t| (t.span.start as usize, t.span.end as usize) == (start, end))?;
    let form = &vocab.forms()[tok.form? as usize];
    let near = matches!(tok.how, How::Near { .. });
    (near && confirms(field, form.meaning.kind()) && !is_form(vocab, &heard)).then(|| Lesson {
        heard,
        term: form.term.clone(),
        meant: form.text.clone(),
    })
}

/// The words as a form has them; none where a number is among them.
fn spelt(heard: &str) -> Option<String> {
    let words: Vec<String> = words::cut(heard, |_| true).into_iter().map(|w| w.text.into_owned()).collect();
    let text = words.join(" ");
    let fits =
        !text.is_empty() && !text.bytes().any(|b| b.is_ascii_digit()) && words.iter().all(|w| words::atom(w).is_none());
    fits.then_some(text)
}

fn is_form(vocab: &Vocabulary, text: &str) -> bool {
    vocab.forms().iter().any(|f| f.text == text)
}

/// Whether an answer to that field is about a word of that kind: who says that the block is on the inner claw has
/// not said that "adults" is an ulcer.
///
/// What has a partner that it could be mistaken for at a price is not here: feet, claws, numbers, courses, "not".
fn confirms(field: &str, kind: Kind) -> bool {
    let Ok(path) = field.parse::<Path>() else { return false };
    match kind {
        Kind::Cow => path.name == "cow",
        Kind::Disorder | Kind::Vague => path.name == "findings" && is_one_of(&path, &["disorder"]),
        Kind::Zone => path.name == "findings" && path.field.as_deref() == Some("zones"),
        Kind::Block | Kind::Wrap | Kind::Work | Kind::Trim | Kind::Vet => {
            path.name == "actions" && is_one_of(&path, &["what"])
        }
        Kind::Agent => path.name == "actions" && path.field.as_deref() == Some("agent"),
        Kind::Material => path.name == "actions" && path.field.as_deref() == Some("material"),
        Kind::Measure => path.name == "measures" && is_one_of(&path, &["what"]),
        Kind::Scale => path.name == "scores" && is_one_of(&path, &["scale"]),
        Kind::Due => path.name == "due" && is_one_of(&path, &["what"]),
        _ => false,
    }
}

/// Whether the path is of a whole thing, or of one of these fields of it.
fn is_one_of(path: &Path, fields: &[&str]) -> bool {
    path.field.as_deref().is_none_or(|f| fields.contains(&f))
}

#[cfg(test)]
mod tests;
