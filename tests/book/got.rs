//! What was read, in the notation of the book.

use chutescribe::Entry;
use chutescribe::anatomy::{Claw, Foot};
use chutescribe::entry::{Act, Action, Due, DueWhat, Finding, Measure, MeasureKind, Scale, Score};

/// The ways in which one thing may be written in the book, the fullest first.
pub(crate) type Ways = Vec<String>;

/// Everything typed in an entry, and its remarks.
pub(crate) fn items(entry: &Entry) -> Vec<Ways> {
    let mut out: Vec<Ways> = Vec::new();
    out.extend(entry.cow.iter().map(|c| vec![format!("cow={c}")]));
    out.extend(entry.scores.iter().map(|s| vec![score(s)]));
    out.extend(entry.findings.iter().map(|f| vec![finding(f)]));
    out.extend(entry.actions.iter().map(action));
    if !entry.clear.is_empty() {
        let feet: Vec<&str> = entry.clear.iter().map(|f| f.code()).collect();
        out.push(vec![format!("clear {}", feet.join(","))]);
    }
    out.extend(entry.measures.iter().map(|m| vec![measure(m)]));
    out.extend(entry.due.iter().map(due));
    out.extend(entry.remarks.iter().map(|r| vec![format!("remark {r}")]));
    out
}

/// An entry as it would stand in the book, with what is asked.
pub(crate) fn shown(entry: &Entry) -> String {
    let mut all: Vec<String> = items(entry).into_iter().map(|mut ways| ways.remove(0)).collect();
    all.extend(entry.questions().map(|q| format!("ask {}", q.field)));
    all.join(" | ")
}

fn join(parts: impl IntoIterator<Item = Option<String>>) -> String {
    parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn foot(f: Option<Foot>) -> Option<String> {
    f.map(|f| f.code().to_owned())
}

fn claw(c: Option<Claw>) -> Option<String> {
    c.map(|c| c.words().to_owned())
}

fn finding(f: &Finding) -> String {
    let zones: Vec<String> = f.zones.iter().map(u8::to_string).collect();
    join([
        Some(foot(f.foot).unwrap_or_else(|| "_".into())),
        claw(f.claw),
        Some(f.disorder.map_or("_", |d| d.code()).to_owned()),
        (!zones.is_empty()).then(|| format!("z{}", zones.join(","))),
        f.severity.map(|s| format!("s{s}")),
        f.stage.map(|s| s.code().to_owned()),
        f.course.map(|c| c.words().to_owned()),
        (f.certain == Some(false)).then(|| "maybe".to_owned()),
    ])
}

/// The claw is the block's own and always counts; of knife work it may be left out in the book.
fn action(a: &Action) -> Ways {
    let name = match a.what {
        Act::Trim => "trim",
        Act::Pare => "pare",
        Act::Drain => "drain",
        Act::Block => "block",
        Act::Unblock => "unblock",
        Act::Wrap => "wrap",
        Act::Unwrap => "unwrap",
        Act::Topical => "topical",
        Act::Vet => return vec!["vet".into()],
    };
    let first = |s: &Option<String>| s.as_deref().and_then(|s| s.split(' ').next()).map(str::to_owned);
    let with = |claw| {
        join([
            Some(name.to_owned()),
            foot(a.foot),
            claw,
            first(&a.material),
            first(&a.agent),
            a.lost.then(|| "lost".to_owned()),
        ])
    };
    let full = with(claw(a.claw));
    if a.what == Act::Block { vec![full] } else { vec![full, with(None)] }
}

fn score(s: &Score) -> String {
    let name = match s.scale {
        Scale::Locomotion => "loco",
        Scale::Mobility => "mob",
    };
    let after = if s.when.is_some() { " after" } else { "" };
    format!("{name} {}/{}{after}", s.value, s.scale.range().end())
}

fn measure(m: &Measure) -> String {
    let name = match m.what {
        MeasureKind::ToeLength => "toe",
        MeasureKind::SoleThickness => "sole",
        MeasureKind::HeelHeight => "heel",
        MeasureKind::ToeAngle => "angle",
    };
    join([Some(format!("{name} {}", m.value)), foot(m.foot), claw(m.claw), m.at.as_ref().map(|at| format!("at {at}"))])
}

/// The foot may be left out in the book.
fn due(d: &Due) -> Ways {
    let name = match d.what {
        DueWhat::Recheck => "recheck",
        DueWhat::BlockOff => "blockoff",
        DueWhat::WrapOff => "wrapoff",
    };
    let short = format!("{name} {}", d.on.map_or("_".to_owned(), |on| on.to_string()));
    match d.foot {
        Some(f) => vec![format!("{short} {}", f.code()), short],
        None => vec![short],
    }
}
