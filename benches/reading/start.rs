//! Until it can begin: the library, and the program with one note, end to end.

use std::hint::black_box;
use std::io::Write;
use std::process::{Command, Stdio};

use chutescribe::{Reader, vocab::Vocabulary};
use criterion::Criterion;

use crate::inputs::notes::DAY;

pub(crate) fn bench(c: &mut Criterion) {
    let mut group = c.benchmark_group("start-up");
    group.bench_function("vocabulary and reader", |b| b.iter(|| Reader::new(Vocabulary::built_in())));
    group.bench_function("and the first heard note", |b| {
        b.iter(|| {
            let reader = Reader::new(Vocabulary::built_in());
            reader.read(black_box("cow 412, left hind outer, block enter"), DAY, None)
        });
    });
    group.bench_function("the program, one clean note", |b| b.iter(|| program("cow 412, all four clean\n")));
    group.bench_function("the program, one heard note", |b| {
        b.iter(|| program("cow 412, left hind outer, block enter\n"));
    });
    group.bench_function("floor: the program, its version", |b| {
        b.iter(|| Command::new(PROGRAM).arg("--version").output().expect("the program"));
    });
    group.finish();
}

const PROGRAM: &str = env!("CARGO_BIN_EXE_chutescribe");

/// What `read` prints for a note on its standard input.
fn program(note: &str) -> Vec<u8> {
    let mut child = Command::new(PROGRAM)
        .args(["read", "--on", "2026-03-12"])
        .env("XDG_DATA_HOME", "/nonexistent")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program");
    child.stdin.take().expect("a pipe").write_all(note.as_bytes()).expect("the program reads");
    let output = child.wait_with_output().expect("the program ends");
    assert!(output.status.success() && !output.stdout.is_empty());
    output.stdout
}
