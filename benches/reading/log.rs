//! A log of 20,000 entries: its lines, the fold, and two reports.

use std::collections::HashMap;
use std::fs::{self, File};
use std::io::BufWriter;
use std::path::Path;

use chrono::NaiveDate;
use chutescribe::log::{Record, fold, read};
use chutescribe::report::cases::GAP;
use chutescribe::report::due::{Rules, due};
use chutescribe::report::herd::herd;
use chutescribe::report::pile::Pile;
use chutescribe::report::{Material, Scope};
use criterion::{Criterion, Throughput};

use crate::floor;

#[path = "../../examples/long_log/generate.rs"]
mod generate;

const ENTRIES: usize = 20_000;
/// The day after the last visit.
const TODAY: NaiveDate = NaiveDate::from_ymd_opt(2006, 4, 12).unwrap();

pub(crate) fn bench(c: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("log.jsonl");
    generate::generate(ENTRIES, BufWriter::new(File::create(&path).expect("a file"))).expect("room on the disk");
    let mut group = c.benchmark_group("a log, by its entries");
    group.throughput(Throughput::Elements(ENTRIES as u64));
    group.bench_function("read", |b| b.iter(|| read_all(&path)));
    group.bench_function("fold", |b| {
        b.iter(|| {
            let mut open = 0;
            fold::each(&path, |p| panic!("{p}"), |_, kept| open += kept.open.len()).expect("a log");
            open
        });
    });
    group.bench_function("herd", |b| b.iter(|| herds(&path)));
    group.bench_function("due", |b| {
        b.iter(|| {
            let material = Material::read(&path, Scope::default(), |p| panic!("{p}")).expect("a log");
            due(&material, &HashMap::new(), &Rules::default(), TODAY)
        });
    });
    let bytes = fs::read(&path).expect("a log");
    let records: Vec<_> = read::read_file(&path)
        .expect("a log")
        .records
        .into_iter()
        .filter_map(|(_, r)| if let Record::Entry(entry) = r { Some(*entry) } else { None })
        .collect();
    assert_eq!(records.len(), ENTRIES);
    floor::beside(&mut group, ENTRIES, &bytes, &records);
    group.finish();
}

fn read_all(path: &Path) -> usize {
    let mut lines = read::Lines::new(File::open(path).expect("a log"));
    let mut count = 0;
    while let Some(line) = lines.next_line().expect("a log") {
        line.record().unwrap_or_else(|e| panic!("{e}"));
        count += 1;
    }
    count
}

fn herds(path: &Path) -> usize {
    let mut pile = Pile::default();
    Material::stream(
        path,
        Scope::default(),
        |p| panic!("{p}"),
        |farm, cow, date, brief| {
            pile.add(farm, cow, date, brief);
        },
    )
    .expect("a log");
    let farms = 0..pile.farms().len();
    farms.filter_map(|farm| herd(&pile, farm, None, TODAY, GAP, &Rules::default())).map(|h| h.shares.len()).sum()
}
