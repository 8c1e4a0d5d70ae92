//! The seeds of fuzzing, and what fuzzing found: each holds what `fuzz/bodies.rs` says must hold.

#[path = "../../fuzz/bodies.rs"]
mod bodies;

use std::fs;
use std::path::Path;

/// Runs the seeds of a target, of which there must be at least so many.
fn run(target: &str, least: usize, body: fn(&[u8])) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/seeds").join(target);
    let mut seeds: Vec<_> = fs::read_dir(&folder).unwrap().map(|e| e.unwrap().path()).collect();
    seeds.sort();
    assert!(seeds.len() >= least, "only {} seeds in {}", seeds.len(), folder.display());
    for seed in seeds {
        println!("{}", seed.display());
        body(&fs::read(&seed).unwrap());
    }
}

#[test]
fn notes() {
    run("note", 6, bodies::note);
}

#[test]
fn logs() {
    run("log", 6, bodies::log);
}

#[test]
fn words_files() {
    run("vocabulary", 5, bodies::vocabulary);
}

#[test]
fn transcripts() {
    run("transcript", 6, bodies::transcript);
}
