//! `note` killed at random moments, five hundred times.

use std::collections::HashSet;
use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use chutescribe::log::check::{self, Level};
use chutescribe::log::{Record, read_file};
use tempfile::TempDir;

use crate::note;

const RUNS: usize = 500;
/// So many at a time, each with a log of its own.
const WORKERS: usize = 4;
/// A log is begun anew after so many runs, so that it stays short enough to be read after each.
const RUNS_A_LOG: usize = 25;

#[test]
fn what_was_reported_as_saved_is_there_whenever_the_program_is_killed() {
    let folder = TempDir::new().unwrap();
    // As long as a run takes beside as many others: alone it is done in half the time.
    let whole = thread::scope(|scope| {
        let log = |worker: usize| folder.path().join(format!("first-{worker}.jsonl"));
        let runs: Vec<_> = (0..WORKERS).map(|w| scope.spawn(move || whole_run(&log(w)))).collect();
        runs.into_iter().map(|run| run.join().unwrap()).max().unwrap()
    });
    let saved: usize = thread::scope(|scope| {
        let workers: Vec<_> = (0..WORKERS)
            .map(|worker| {
                let folder = folder.path();
                scope.spawn(move || runs(folder, worker, whole))
            })
            .collect();
        workers.into_iter().map(|w| w.join().unwrap()).sum()
    });
    // Else most were killed before they began, or none while it wrote.
    assert!(saved > RUNS, "only {saved} notes were saved in {RUNS} runs");
}

/// How long a run takes that nobody kills.
fn whole_run(log: &Path) -> Duration {
    let start = Instant::now();
    let mut child = note(log).spawn().unwrap();
    child.stdin.take().unwrap().write_all(b"cow 1 clean\n").unwrap();
    assert!(child.wait_with_output().unwrap().status.success());
    start.elapsed()
}

/// Gives how many notes were reported as saved.
fn runs(folder: &Path, worker: usize, whole: Duration) -> usize {
    let mut total = 0;
    let mut chance = 0x9e37_79b9_7f4a_7c15_u64.wrapping_mul(worker as u64 + 1);
    let mut log = folder.to_owned();
    let (mut cow, mut saved, mut begun) = (0, HashSet::new(), 0);
    for run in 0..RUNS / WORKERS {
        if run.is_multiple_of(RUNS_A_LOG) {
            log = folder.join(format!("{worker}-{run}.jsonl"));
            total += saved.len();
            (saved, begun) = (HashSet::new(), cow);
        }
        // Any number whose bits are well mixed will do.
        chance ^= chance << 13;
        chance ^= chance >> 7;
        chance ^= chance << 17;
        let moment = whole.mul_f64(0.5 + 2.5 * (chance % 10_000) as f64 / 10_000.0);
        saved.extend(killed_after(moment, &log, &mut cow));
        look(&log, &saved, begun..cow);
    }
    total + saved.len()
}

/// Notes go in without a pause until the program is killed; gives the cows it reported as saved.
fn killed_after(moment: Duration, log: &Path, cow: &mut usize) -> Vec<usize> {
    let mut child = note(log).spawn().unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let mut stdout = child.stdout.take().unwrap();
    let out = thread::spawn(move || {
        let mut out = String::new();
        stdout.read_to_string(&mut out).unwrap();
        out
    });
    let first = *cow;
    let notes = thread::spawn(move || {
        // A whole line or nothing goes into a pipe; the end comes as an error.
        let mut cow = first;
        while stdin.write_all(format!("cow {cow} clean\n").as_bytes()).is_ok() && cow < first + 500 {
            cow += 1;
        }
        cow + 1
    });
    thread::sleep(moment);
    child.kill().unwrap();
    child.wait().unwrap();
    *cow = notes.join().unwrap();
    // How a note is shown once it is kept.
    let out = out.join().unwrap();
    let lines: Vec<&str> = out.lines().collect();
    let kept = lines.windows(2).filter(|pair| pair[1] == "  all four     clean");
    kept.map(|pair| pair[0].strip_prefix("cow ").unwrap().parse().unwrap()).collect()
}

/// All that was saved is read, each cow once, and all that is read was said.
fn look(log: &Path, saved: &HashSet<usize>, said: std::ops::Range<usize>) {
    if !log.exists() {
        assert!(saved.is_empty());
        return;
    }
    let read = read_file(log).unwrap();
    let mut there = HashSet::new();
    for (line, record) in &read.records {
        let Record::Entry(entry) = record else {
            assert!(matches!(record, Record::Visit(_)), "line {line}: {record:?}");
            continue;
        };
        let cow: usize = entry.entry.cow.as_ref().unwrap().parse().unwrap();
        assert_eq!(entry.entry.said, format!("cow {cow} clean"), "line {line}");
        assert_eq!(entry.entry.clear.len(), 4, "line {line}");
        assert!(said.contains(&cow) && there.insert(cow), "line {line}");
    }
    let lost: Vec<_> = saved.difference(&there).collect();
    assert!(lost.is_empty(), "lost: {lost:?} of {}", log.display());
    // A line may be torn, and the next run goes on behind it; nothing else is amiss.
    let report = check::check(log, None).unwrap();
    let bad: Vec<_> = report.findings.iter().filter(|f| f.level != Level::Warning).collect();
    assert!(bad.is_empty(), "{bad:?}\n{}", fs::read_to_string(log).unwrap());
}
