//! Compares what was wanted with what was read, both ways, and tells kinds of failure apart.

use chutescribe::Entry;
use chutescribe::flag::FlagKind;

use crate::got::{self, Ways};
use crate::wanted::Wanted;

/// What is wrong, in words; `None` where nothing is.
pub(crate) fn compare(wanted: &Wanted, entries: &[Entry]) -> Option<String> {
    if let Some(cows) = &wanted.cows {
        if cows.len() != entries.len() && !(entries.is_empty() && cows.iter().all(Vec::is_empty)) {
            return Some(format!("{} entries instead of {}", entries.len(), cows.len()));
        }
        let mut missing = Vec::new();
        let mut extra = Vec::new();
        let mut read = 0;
        for (want, entry) in cows.iter().zip(entries) {
            let (m, e, hits) = apart(want, entry);
            missing.extend(m);
            extra.extend(e);
            read += hits;
        }
        if let Some(verdict) = told(cows, &missing, &extra, read) {
            return Some(verdict);
        }
    }
    questions(wanted, entries)
}

/// What is missing, what is extra, and how many things are right.
fn apart(want: &[String], entry: &Entry) -> (Vec<String>, Vec<String>, usize) {
    let mut got: Vec<Ways> = got::items(entry);
    // A note that says nothing typed is kept as a remark: a line for nothing need not repeat it.
    if want.iter().all(|w| w.starts_with("cow=")) {
        got.retain(|ways| !ways[0].starts_with("remark "));
    }
    let mut missing = Vec::new();
    let mut hits = 0;
    for w in want {
        match got.iter().position(|ways| ways.contains(w)) {
            Some(at) => {
                got.remove(at);
                hits += 1;
            }
            None => missing.push(w.clone()),
        }
    }
    (missing, got.into_iter().map(|mut ways| ways.remove(0)).collect(), hits)
}

fn told(cows: &[Vec<String>], missing: &[String], extra: &[String], read: usize) -> Option<String> {
    let list = |items: &[String]| items.iter().map(|i| format!("`{i}`")).collect::<Vec<_>>().join(", ");
    Some(match (missing, extra) {
        ([], []) => return None,
        ([], _) if cows.iter().flatten().all(|w| w.starts_with("cow=")) => {
            format!("a reading where there is none: extra {}", list(extra))
        }
        ([], _) => format!("too much of a reading: extra {}", list(extra)),
        (_, []) if read == 0 => format!("no reading: missing {}", list(missing)),
        (_, []) => format!("half a reading: missing {}", list(missing)),
        (_, _) if extra.iter().all(|e| e.starts_with("remark ")) && read == 0 => {
            format!("no reading: missing {}", list(missing))
        }
        _ => format!("another reading: missing {}; extra {}", list(missing), list(extra)),
    })
}

/// Asked where it must be, and nowhere else.
fn questions(wanted: &Wanted, entries: &[Entry]) -> Option<String> {
    let named = |field: &str, name: &str| field == name || field.rsplit('.').next() == Some(name);
    let cow_wanted = wanted.asks.iter().any(|a| a == "cow");
    let asked: Vec<&str> = entries
        .iter()
        .flat_map(Entry::questions)
        // Where no cow matters, the line leaves her out.
        .filter(|q| cow_wanted || q.kind != FlagKind::CowMissing)
        .map(|q| q.field.as_str())
        .collect();
    if let Some(open) = wanted.asks.iter().find(|name| !asked.iter().any(|f| named(f, name))) {
        return Some(format!("does not ask for `{open}`"));
    }
    let needless = asked.iter().find(|f| !wanted.asks.iter().any(|name| named(f, name)))?;
    if wanted.asks.is_empty() {
        return Some(format!("two readings: asks for `{needless}`"));
    }
    Some(format!("asks for `{needless}` too"))
}
