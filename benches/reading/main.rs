//! How fast it is, and beside each figure what the machine could do at best: `cargo bench --bench reading`, or a
//! part of it, as `cargo bench --bench reading -- 'clean'`. The figures stand in DEVELOPERS.md; whole commands over
//! long inputs are timed by `benches/whole.sh`.

mod floor;
mod log;
mod notebook;
mod notes;
mod start;

#[path = "../inputs/mod.rs"]
#[allow(dead_code, reason = "long notes are for whole commands")]
mod inputs;

use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};

/// As in the program.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// Some thirty figures in some three minutes.
fn short() -> Criterion {
    Criterion::default().sample_size(20).warm_up_time(Duration::from_secs(1)).measurement_time(Duration::from_secs(4))
}

criterion_group!(name = benches; config = short(); targets = notes::bench, notebook::bench, log::bench, start::bench);
criterion_main!(benches);
