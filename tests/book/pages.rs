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

/// A fenced block of a page.
#[derive(Debug)]
pub(crate) struct Block {
    /// Where its first line stands.
    pub(crate) place: String,
    /// The words after the opening fence.
    pub(crate) fence: String,
    pub(crate) text: String,
    first_line: usize,
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

/// The lines of the `say` blocks of a page.
pub(crate) fn lines_of(name: &str, page: &str) -> Vec<Line> {
    let mut lines = Vec::new();
    for block in blocks(name, page).iter().filter(|b| b.fence == "say") {
        for (n, line) in block.text.lines().enumerate().filter(|(_, l)| !l.trim().is_empty()) {
            let place = format!("{name}:{}", block.first_line + n);
            let Some((said, meaning)) = line.split_once(" => ") else {
                panic!("{place}: a line of a `say` block without ` => `: {line}");
            };
            lines.push(Line { place, said: said.trim().to_owned(), meaning: meaning.trim().to_owned() });
        }
    }
    lines
}

/// The fenced blocks of a page.
pub(crate) fn blocks(name: &str, page: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    for (n, line) in page.lines().enumerate() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (Some(fence), None) => {
                let first_line = n + 2;
                let place = format!("{name}:{first_line}");
                open = Some(Block { place, fence: fence.trim().to_owned(), text: String::new(), first_line });
            }
            (None, Some(block)) => {
                block.text.push_str(line);
                block.text.push('\n');
            }
            (None, None) => {}
        }
    }
    assert!(open.is_none(), "{name}: a block without its end");
    blocks
}
