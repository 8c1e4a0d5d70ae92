//! What the machine could do at best with the same bytes and the same records, in the same run.

use std::hint::black_box;

use chutescribe::log::EntryLine;
use criterion::measurement::WallTime;
use criterion::{BenchmarkGroup, Throughput};

/// Four figures beside those of the group: copying and splitting `input`, writing `records` as JSON, reading it again.
/// All are counted in `elements`, what the group counts.
pub(crate) fn beside(group: &mut BenchmarkGroup<WallTime>, elements: usize, input: &[u8], records: &[EntryLine]) {
    group.throughput(Throughput::Elements(elements as u64));
    group.bench_function("floor: copy the bytes", |b| b.iter(|| black_box(input).to_vec()));
    group.bench_function("floor: split lines", |b| {
        b.iter(|| memchr::memchr_iter(b'\n', black_box(input)).fold(0, |_, at| at));
    });
    group.bench_function("floor: split and write the records as JSON", |b| {
        let mut out = Vec::new();
        b.iter(|| {
            out.clear();
            memchr::memchr_iter(b'\n', black_box(input)).for_each(|at| _ = black_box(at));
            for record in black_box(records) {
                serde_json::to_writer(&mut out, record).expect("memory does not fail");
                out.push(b'\n');
            }
            out.len()
        });
    });
    let lines: Vec<String> = records.iter().map(|r| serde_json::to_string(r).expect("a record")).collect();
    group.bench_function("floor: read that JSON", |b| {
        b.iter(|| {
            for line in black_box(&lines) {
                black_box(serde_json::from_str::<EntryLine>(line).expect("a record"));
            }
        });
    });
}
