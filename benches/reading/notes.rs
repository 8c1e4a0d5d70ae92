//! Notes, clean and heard: those of the corpus, which people made up, and generated ones, which are more.

use std::hint::black_box;
use std::time::{Duration, Instant};

use chutescribe::log::record::Stamp;
use chutescribe::log::{EntryLine, Intake, VisitLine};
use chutescribe::notes::Note;
use chutescribe::roster::Roster;
use chutescribe::{Reader, vocab::Vocabulary};
use criterion::{BenchmarkId, Criterion, Throughput};

use crate::floor;
use crate::inputs::notes::{DAY, Notes};

const TYPED: &str = include_str!("../../tests/corpus/typed.tsv");
const HEARD: &str = include_str!("../../tests/corpus/heard_sample.tsv");

fn cells(data: &str) -> impl Iterator<Item = Vec<&str>> {
    data.lines().filter(|l| !l.starts_with('#')).map(|l| l.split('\t').collect())
}

/// The dictated notes d001 to d060, as they were said.
fn corpus_clean() -> Vec<String> {
    cells(TYPED).filter(|c| ("d001"..="d060").contains(&c[0])).map(|c| c[1].to_owned()).collect()
}

/// What a recogniser wrote for them.
fn corpus_heard() -> Vec<String> {
    cells(HEARD).map(|c| c[3].to_owned()).collect()
}

pub(crate) fn bench(c: &mut Criterion) {
    let tags = cells(TYPED).flat_map(|c| c[2].split(['|', ' '])).filter_map(|w| w.strip_prefix("cow="));
    let with_tags = Reader::new(Vocabulary::built_in()).with_roster(Roster::new(tags.map(str::to_owned)));
    let mut group = c.benchmark_group("notes");
    for (name, notes) in [("clean", corpus_clean()), ("heard", corpus_heard())] {
        group.throughput(Throughput::Elements(notes.len() as u64));
        group.bench_with_input(BenchmarkId::from_parameter(name), &notes, |b, notes| {
            b.iter(|| read_all(&with_tags, notes));
        });
    }
    let slowest = corpus_heard().into_iter().max_by_key(|note| fastest_of_five(&with_tags, note)).expect("a note");
    group.throughput(Throughput::Elements(1));
    group.bench_function("slowest heard", |b| b.iter(|| read_all(&with_tags, std::slice::from_ref(&slowest))));
    group.finish();

    let reader = Reader::new(Vocabulary::built_in());
    let (mut clean, mut heard) = (Notes::new(7), Notes::new(7));
    made_up(c, &reader, "clean notes, made up", &(0..2000).map(|_| clean.clean().said).collect::<Vec<_>>());
    made_up(c, &reader, "heard notes, made up", &(0..200).map(|_| heard.heard().said).collect::<Vec<_>>());
}

/// From text to entries, from text to the lines of a log, and the floor.
fn made_up(c: &mut Criterion, reader: &Reader, name: &str, notes: &[String]) {
    let mut group = c.benchmark_group(name);
    group.throughput(Throughput::Elements(notes.len() as u64));
    group.bench_function("entries", |b| b.iter(|| read_all(reader, notes)));
    group.bench_function("lines of a log", |b| {
        b.iter(|| {
            let mut bytes = 0;
            each_entry(reader, notes, |line| bytes += line.line().len());
            bytes
        });
    });
    let mut records: Vec<EntryLine> = Vec::new();
    each_entry(reader, notes, |line| records.push(line));
    floor::beside(&mut group, notes.len(), (notes.join("\n") + "\n").as_bytes(), &records);
    group.finish();
}

fn read_all(reader: &Reader, notes: &[String]) -> usize {
    notes.iter().map(|note| reader.read(black_box(note), DAY, None).entries.len()).sum()
}

/// One after the other, as `read --json` takes them in.
fn each_entry(reader: &Reader, notes: &[String], mut with: impl FnMut(EntryLine)) {
    let at = Stamp::default();
    let visit = VisitLine::new(Some("Juniper Flat"), DAY, None, at);
    let mut intake = Intake::new(reader, &visit, Some("day.txt".to_owned()), None);
    for (line, text) in notes.iter().enumerate() {
        let note = Note { line: line + 1, text: text.clone(), ..Note::default() };
        intake.take(&note, at, |_| false).entries.into_iter().for_each(&mut with);
    }
}

fn fastest_of_five(reader: &Reader, note: &String) -> Duration {
    let once = |_| {
        let start = Instant::now();
        read_all(reader, std::slice::from_ref(note));
        start.elapsed()
    };
    (0..5).map(once).min().expect("five runs")
}
