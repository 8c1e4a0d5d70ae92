//! Lines of an old notebook: both looks at the file, to entries with ids.

use std::collections::HashMap;
use std::hint::black_box;

use chutescribe::jobs::Jobs;
use chutescribe::log::EntryLine;
use chutescribe::log::record::Stamp;
use chutescribe::notebook::text::Lines;
use chutescribe::notebook::{Given, Import, Item, Looker, Prepared, Scan};
use chutescribe::{Reader, vocab::Vocabulary};
use criterion::{Criterion, Throughput};

use crate::floor;
use crate::inputs::{self, notes::DAY};

const LINES: u64 = 5000;
/// As `notebook` takes them.
const BLOCK: usize = 2048;

pub(crate) fn bench(c: &mut Criterion) {
    let reader = Reader::new(Vocabulary::built_in());
    let mut text = Vec::new();
    inputs::notebook::write(LINES, 7, &mut text).expect("memory does not fail");
    let mut group = c.benchmark_group("notebook lines");
    group.throughput(Throughput::Elements(LINES));
    group.bench_function("entries", |b| b.iter(|| import(&reader, black_box(&text)).len()));
    floor::beside(&mut group, LINES as usize, &text, &import(&reader, &text));
    group.finish();
}

fn import(reader: &Reader, text: &[u8]) -> Vec<EntryLine> {
    let looker = Looker::new(reader, HashMap::new());
    let mut scan = Scan::default();
    for line in &look(&looker, text) {
        scan.add(line);
    }
    let plan = scan.plan(&Given::default(), DAY);
    let mut import = Import::new(&looker, &plan, "old.txt", None, Stamp::default());
    let mut lines = look(&looker, text);
    let mut all = Vec::new();
    while !lines.is_empty() {
        let rest = lines.split_off(lines.len().min(BLOCK));
        for item in import.block(std::mem::replace(&mut lines, rest), &Jobs::default()) {
            if let Item::Entries { entries, .. } = item {
                all.extend(entries);
            }
        }
    }
    all
}

fn look(looker: &Looker, text: &[u8]) -> Vec<Prepared> {
    let mut lines = Lines::new(text).unwrap_or_else(|e| panic!("{e}"));
    let mut all = Vec::new();
    while let Some(line) = lines.next_line().expect("memory does not fail") {
        all.push(looker.look(line));
    }
    all
}
