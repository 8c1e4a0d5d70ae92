//! Makes `vocab/everyday/words.txt`: of the common words in a list (one a line), those far from every term and not in
//! `vocab/everyday/stood.txt`. `vocab/everyday/README.md` says where the list is from.
//! `cargo run --release --example everyday_words english-words.10 > words.txt`
//! With `--near` it shows the others, and what they are near to.

use std::collections::BTreeSet;

use chutescribe::matches::{FAR, Nearness};
use chutescribe::vocab::Vocabulary;

fn main() -> std::io::Result<()> {
    let vocab = Vocabulary::built_in();
    let nearness = Nearness::new(&vocab);
    let near = std::env::args().any(|a| a == "--near");
    let stood: BTreeSet<&str> = include_str!("../vocab/everyday/stood.txt").lines().collect();
    let mut words = BTreeSet::new();
    for path in std::env::args().skip(1).filter(|a| a != "--near") {
        let text = std::fs::read_to_string(path)?;
        words.extend(
            text.lines()
                .map(str::to_lowercase)
                .filter(|w| !vocab.is_form(w) && w.bytes().all(|b| b.is_ascii_lowercase())),
        );
    }
    for word in &words {
        match nearness.nearest(word) {
            Some((cost, term)) if near => println!("{cost}\t{word}\t{term}"),
            Some((cost, _)) if cost < FAR => {}
            _ if near || stood.contains(word.as_str()) => {}
            _ => println!("{word}"),
        }
    }
    Ok(())
}
