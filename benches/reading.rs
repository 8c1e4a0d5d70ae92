//! How fast notes are read: `cargo bench --bench reading`. The figures stand in DEVELOPERS.md.

use std::hint::black_box;
use std::time::{Duration, Instant};

use chrono::NaiveDate;
use chutescribe::roster::Roster;
use chutescribe::{Reader, vocab::Vocabulary};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};

/// As in the program.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

const TYPED: &str = include_str!("../tests/corpus/typed.tsv");
const HEARD: &str = include_str!("../tests/corpus/heard_sample.tsv");
const VISIT: NaiveDate = NaiveDate::from_ymd_opt(2026, 3, 12).unwrap();

fn cells(data: &str) -> impl Iterator<Item = Vec<&str>> {
    data.lines().filter(|l| !l.starts_with('#')).map(|l| l.split('\t').collect())
}

/// The dictated notes d001 to d060, as they were said.
fn clean() -> Vec<&'static str> {
    cells(TYPED).filter(|c| ("d001"..="d060").contains(&c[0])).map(|c| c[1]).collect()
}

/// What a recogniser wrote for them.
fn heard() -> Vec<&'static str> {
    cells(HEARD).map(|c| c[3]).collect()
}

fn read_all(reader: &Reader, notes: &[&str]) -> usize {
    notes.iter().map(|note| reader.read(black_box(note), VISIT, None).entries.len()).sum()
}

fn notes(c: &mut Criterion) {
    let tags = cells(TYPED).flat_map(|c| c[2].split(['|', ' '])).filter_map(|w| w.strip_prefix("cow="));
    let reader = Reader::new(Vocabulary::built_in()).with_roster(Roster::new(tags.map(str::to_owned)));
    let mut group = c.benchmark_group("notes");
    for (name, notes) in [("clean", clean()), ("heard", heard())] {
        group.throughput(Throughput::Elements(notes.len() as u64));
        group.bench_with_input(BenchmarkId::from_parameter(name), &notes, |b, notes| {
            b.iter(|| read_all(&reader, notes));
        });
    }
    let slowest = heard().into_iter().max_by_key(|note| fastest_of_five(&reader, note)).expect("a note");
    group.throughput(Throughput::Elements(1));
    group.bench_function("slowest heard", |b| b.iter(|| read_all(&reader, &[slowest])));
    group.finish();
}

fn fastest_of_five(reader: &Reader, note: &str) -> Duration {
    let once = |_| {
        let start = Instant::now();
        read_all(reader, &[note]);
        start.elapsed()
    };
    (0..5).map(once).min().expect("five runs")
}

/// The built-in words and a reader; then also what hearing needs, which the first note that is not plain makes.
fn start_up(c: &mut Criterion) {
    let mut group = c.benchmark_group("start-up");
    group.bench_function("vocabulary and reader", |b| b.iter(|| Reader::new(Vocabulary::built_in())));
    group.bench_function("and the first heard note", |b| {
        b.iter(|| read_all(&Reader::new(Vocabulary::built_in()), &["cow 412, left hind outer, block enter"]));
    });
    group.finish();
}

criterion_group!(benches, notes, start_up);
criterion_main!(benches);
