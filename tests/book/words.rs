//! Runs `vocab/README.md`: its own words, the lines that need them, and what is refused with which message.

use chutescribe::{Reader, vocab::Vocabulary};

use crate::pages::{self, Block};
use crate::trouble;

const PAGE: &str = include_str!("../../vocab/README.md");
const NAME: &str = "vocab/README.md";

fn laid_over(words: &Block) -> Result<Vocabulary, String> {
    Vocabulary::layered(&[("my-words.toml".to_owned(), words.text.clone())]).map_err(|e| e.to_string())
}

#[test]
fn the_worked_example_works() {
    let blocks = pages::blocks(NAME, PAGE);
    let words = blocks.iter().find(|b| b.fence == "toml").expect("a worked example");
    let reader = Reader::new(laid_over(words).expect("its words are accepted"));
    let lines = pages::lines_of(NAME, PAGE);
    assert!(lines.len() >= 4, "the example has lines");
    for line in &lines {
        if let Some(told) = trouble(&reader, line) {
            panic!("{told}");
        }
        let plain = Reader::new(Vocabulary::built_in());
        assert!(trouble(&plain, line).is_some(), "{}: understood without the words of the example", line.place);
    }
}

#[test]
fn what_is_refused_is_told_as_shown() {
    let blocks = pages::blocks(NAME, PAGE);
    let refused: Vec<_> = blocks.windows(2).filter(|pair| pair[0].fence == "toml refused").collect();
    assert!(refused.len() >= 6, "only {} refused examples", refused.len());
    for pair in refused {
        assert_eq!(pair[1].fence, "text", "{}: the message follows", pair[0].place);
        let told = laid_over(&pair[0]).err().unwrap_or_else(|| panic!("{}: it is accepted", pair[0].place));
        assert_eq!(told, pair[1].text.trim_end(), "{}", pair[0].place);
    }
}
