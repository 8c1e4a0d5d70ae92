//! Reads vocabulary files: strict TOML, so that a slip is told with file and line and never guessed at.

use std::collections::BTreeMap;
use std::ops::Range;

use serde::Deserialize;
use toml::Spanned;

/// One `[kind.name]` table.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TermTable {
    /// Forms as they are spoken; also found by their sound.
    #[serde(default)]
    say: Vec<Spanned<String>>,
    /// Written shorthand; only as written.
    #[serde(default)]
    write: Vec<Spanned<String>>,
    /// What a recogniser is known to write instead; exact, at a small cost.
    #[serde(default)]
    heard: Vec<Spanned<String>>,
    /// The forms count only right after one of these kinds.
    #[serde(default)]
    after: Vec<String>,
}

/// How a form came into the vocabulary.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Style {
    Spoken,
    Written,
    Heard,
}

/// One form of one term, as read from a file.
#[derive(Clone, Debug)]
pub struct RawForm {
    pub kind: String,
    pub name: String,
    pub text: String,
    pub style: Style,
    pub after: Vec<String>,
    /// Byte of the file at which it stands.
    pub at: usize,
}

/// A vocabulary file that cannot be used, with where and why.
#[derive(Debug, thiserror::Error)]
#[error("{file}:{line}: {what}")]
pub struct FileError {
    pub file: String,
    pub line: usize,
    pub what: String,
}

/// All forms of one file, in its order.
///
/// # Errors
/// Names the line of bad TOML, an unknown key, or an empty form.
pub(super) fn read(file: &str, text: &str) -> Result<Vec<RawForm>, FileError> {
    let fail = |at: Option<Range<usize>>, what: String| FileError {
        file: file.to_owned(),
        line: at.map_or(1, |r| line_of(text, r.start)),
        what,
    };
    let tables: BTreeMap<String, BTreeMap<String, TermTable>> =
        toml::from_str(text).map_err(|e| fail(e.span(), e.message().to_owned()))?;
    let mut forms = Vec::new();
    for (kind, names) in &tables {
        for (name, table) in names {
            let styles = [(Style::Spoken, &table.say), (Style::Written, &table.write), (Style::Heard, &table.heard)];
            for (style, list) in styles {
                for form in list {
                    if form.get_ref().trim().is_empty() {
                        return Err(fail(Some(form.span()), format!("an empty form in [{kind}.{name}]")));
                    }
                    forms.push(RawForm {
                        kind: kind.clone(),
                        name: name.clone(),
                        text: form.get_ref().clone(),
                        style,
                        after: table.after.clone(),
                        at: form.span().start,
                    });
                }
            }
        }
    }
    Ok(forms)
}

/// The line, from 1, that byte `at` stands in.
pub(super) fn line_of(text: &str, at: usize) -> usize {
    text.as_bytes()[..at.min(text.len())].iter().filter(|b| **b == b'\n').count() + 1
}
