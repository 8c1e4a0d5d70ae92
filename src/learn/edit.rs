//! Changes the text of a words file, and keeps all of it that is not changed: order, blanks, comments.

use toml_edit::{Array, DocumentMut, Item, Table, TableLike, Value};

use super::Lesson;

const HEARD: &str = "heard";

/// What a new file begins with.
const HEADER: &str = "\
# Words of your own, laid over the built-in ones. Change it as you like: vocab/README.md says how.
# What you confirm when asked is added under `heard`; `chutescribe words --learned` lists it,
# `chutescribe words --forget \"WORDS\"` takes it out.
";

/// A words file that cannot be changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    /// Line and what is wrong.
    #[error("{0}: {1}")]
    Toml(usize, String),
    #[error("`{0}` is not a table of lists, so nothing can be added to it")]
    Shape(String),
}

/// What a words file has under `heard`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Learned {
    pub heard: String,
    /// `kind.name`.
    pub term: String,
}

/// The text with one more lesson; an empty text becomes a new file.
///
/// # Errors
/// Where the text is no TOML, or the term is something else in it than a table.
pub fn add(text: &str, lesson: &Lesson) -> Result<String, EditError> {
    let text = if text.trim().is_empty() { HEADER } else { text };
    let mut doc = parse(text)?;
    let (kind, name) = lesson.term.split_once('.').unwrap_or((&lesson.term, ""));
    let shape = || EditError::Shape(lesson.term.clone());
    // A new table comes last: what stands below all others stays above it.
    let above = if doc.contains_key(kind) { None } else { doc.trailing().as_str().map(str::to_owned) };
    if above.is_some() {
        doc.set_trailing("");
    }
    let kinds = doc.as_table_mut();
    if !kinds.contains_key(kind) {
        let mut table = Table::new();
        table.set_implicit(true);
        kinds.insert(kind, Item::Table(table));
    }
    let names = kinds.get_mut(kind).and_then(Item::as_table_like_mut).ok_or_else(shape)?;
    if !names.contains_key(name) {
        let mut table = Table::new();
        if let Some(above) = above.filter(|a| !a.is_empty()) {
            table.decor_mut().set_prefix(format!("{}\n\n", above.trim_end()));
        }
        names.insert(name, Item::Table(table));
    }
    let term = names.get_mut(name).and_then(Item::as_table_like_mut).ok_or_else(shape)?;
    if !term.contains_key(HEARD) {
        term.insert(HEARD, Item::Value(Value::Array(Array::new())));
    }
    let list = term.get_mut(HEARD).and_then(Item::as_array_mut).ok_or_else(shape)?;
    if list.iter().all(|v| v.as_str() != Some(&lesson.heard)) {
        push(list, &lesson.heard);
    }
    Ok(doc.to_string())
}

/// The text without those heard words, whatever they stood for; `None` where it does not have them.
///
/// # Errors
/// Where the text is no TOML.
pub fn forget(text: &str, heard: &str) -> Result<Option<String>, EditError> {
    let mut doc = parse(text)?;
    let wanted = heard.trim().to_lowercase();
    let mut any = false;
    let mut bare_kinds = vec![];
    for (kind, names) in doc.as_table_mut().iter_mut() {
        let Some(names) = names.as_table_like_mut() else { continue };
        let mut bare = vec![];
        for (name, term) in names.iter_mut() {
            let commented = term.as_table().is_some_and(has_comment);
            let Some(term) = term.as_table_like_mut() else { continue };
            if !take_out(term, &wanted) {
                continue;
            }
            any = true;
            if term.is_empty() && !commented {
                bare.push(name.get().to_owned());
            }
        }
        for name in &bare {
            names.remove(name);
        }
        if !bare.is_empty() && names.is_empty() {
            bare_kinds.push(kind.get().to_owned());
        }
    }
    for kind in bare_kinds {
        doc.remove(&kind);
    }
    Ok(any.then(|| doc.to_string()))
}

/// All that stands under `heard`, in the order of the file.
///
/// # Errors
/// Where the text is no TOML.
pub fn learned(text: &str) -> Result<Vec<Learned>, EditError> {
    let doc = parse(text)?;
    let mut all = vec![];
    for (kind, names) in doc.as_table() {
        for (name, term) in names.as_table_like().into_iter().flat_map(TableLike::iter) {
            let list = term.as_table_like().and_then(|t| t.get(HEARD)).and_then(Item::as_array);
            let words = list.into_iter().flatten().filter_map(Value::as_str);
            all.extend(words.map(|heard| Learned { heard: heard.to_owned(), term: format!("{kind}.{name}") }));
        }
    }
    Ok(all)
}

fn parse(text: &str) -> Result<DocumentMut, EditError> {
    text.parse().map_err(|e: toml_edit::TomlError| {
        let at = e.span().map_or(0, |s| s.start).min(text.len());
        let line = text.get(..at).map_or(0, |before| before.matches('\n').count()) + 1;
        EditError::Toml(line, e.message().to_owned())
    })
}

/// Adds at the end, on a line of its own where the others are.
fn push(list: &mut Array, heard: &str) {
    let before = list.iter().last().and_then(|v| v.decor().prefix()?.as_str().map(str::to_owned));
    list.push(heard);
    let Some(indent) = before.as_deref().and_then(|b| b.rsplit_once('\n')).map(|b| b.1.to_owned()) else { return };
    if let Some(last) = list.iter_mut().last() {
        last.decor_mut().set_prefix(format!("\n{indent}"));
    }
}

/// Whether it had them. An empty list goes too.
fn take_out(term: &mut dyn TableLike, wanted: &str) -> bool {
    let Some(list) = term.get_mut(HEARD).and_then(Item::as_array_mut) else { return false };
    let before = list.len();
    list.retain(|v| v.as_str().is_none_or(|heard| heard.trim().to_lowercase() != wanted));
    let (after, gone) = (list.len(), list.len() < before);
    if gone && after == 0 {
        term.remove(HEARD);
    }
    gone
}

fn has_comment(table: &Table) -> bool {
    let decor = table.decor();
    [decor.prefix(), decor.suffix()].into_iter().flatten().any(|d| d.as_str().is_some_and(|d| d.contains('#')))
}
