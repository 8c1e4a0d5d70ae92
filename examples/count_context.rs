//! Counts which kind of word follows which over typed notes (`id<TAB>said…` files), as `vocab/context.toml`:
//! `cargo run --release --example count_context tests/corpus/typed.tsv > vocab/context.toml`

use chutescribe::matches;
use chutescribe::vocab::Vocabulary;
use chutescribe::words;

fn main() -> std::io::Result<()> {
    let vocab = Vocabulary::built_in();
    let mut notes = Vec::new();
    for path in std::env::args().skip(1) {
        for line in std::fs::read_to_string(path)?.lines().filter(|l| !l.starts_with('#')) {
            if let Some(said) = line.split('\t').nth(1) {
                notes.push(matches::exact(&words::cut(said, |w| vocab.knows(w)), &vocab, &matches::Context::flat()));
            }
        }
    }
    print!("{}", matches::count(notes.iter().map(Vec::as_slice)));
    Ok(())
}
