//! Finds the lines of the book.

use std::path::Path;

/// One line of a `say` block.
#[derive(Debug)]
pub(crate) struct Line {
    /// `grammar/cows.md:12`.
    pub(crate) place: String,
    pub(crate) said: String,
    pub(crate) meaning: String,
}

/// All lines of all pages, in the order of their names.
pub(crate) fn all() -> Vec<Line> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar");
    let mut pages: Vec<_> = std::fs::read_dir(&folder)
        .expect("the folder grammar/")
        .map(|e| e.expect("an entry of grammar/").path())
        .filter(|p| p.extension().is_some_and(|x| x == "md"))
        .collect();
    pages.sort();
    let mut lines = Vec::new();
    for page in pages {
        let name = format!("grammar/{}", page.file_name().expect("a name").to_string_lossy());
        let text = std::fs::read_to_string(&page).expect("a page in UTF-8");
        lines.extend(lines_of(&name, &text));
    }
    lines
}

fn lines_of(name: &str, text: &str) -> Vec<Line> {
    let mut lines = Vec::new();
    // The fence that is open, by its word.
    let mut fence: Option<&str> = None;
    for (n, line) in text.lines().enumerate() {
        if let Some(word) = line.strip_prefix("```") {
            fence = if fence.is_some() { None } else { Some(word.trim()) };
            continue;
        }
        if fence != Some("say") || line.trim().is_empty() {
            continue;
        }
        let place = format!("{name}:{}", n + 1);
        let Some((said, meaning)) = line.split_once(" => ") else {
            panic!("{place}: a line of a `say` block without ` => `: {line}");
        };
        lines.push(Line { place, said: said.trim().to_owned(), meaning: meaning.trim().to_owned() });
    }
    assert!(fence.is_none(), "{name}: a block without its end");
    lines
}
