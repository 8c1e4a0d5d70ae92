//! `merge`: another log into this one.

use std::path::PathBuf;

use chutescribe::log::merge::{self, Conflict, Contradiction, Plan};
use chutescribe::log::{Record, Writer};
use chutescribe::show;

use super::args::{LogAt, no_log};
use super::fail::Fail;
use super::out::Out;

#[derive(Debug, clap::Args)]
#[command(after_help = "What is here already is known by its id and is not added again, so that a merge can be \
                        repeated. Where the two logs contradict each other the one here stays, and the contradiction \
                        is told (exit code 1). The other log is only read.")]
pub(crate) struct Args {
    /// The other log, such as the phone's
    #[arg(value_name = "FILE")]
    other: PathBuf,
    #[command(flatten)]
    log: LogAt,
    /// Write it; without this it is only shown
    #[arg(long)]
    write: bool,
    /// Where both logs answer one question differently, take the other log's answer
    #[arg(long)]
    theirs: bool,
    /// Show what comes as the lines that the log would have
    #[arg(long)]
    json: bool,
}

/// Lines that are written and synced at once.
const BATCH: usize = 1000;

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let path = args.log.path()?;
    LogAt::tell(&path, out)?;
    let plan = plan(args, &path, out)?;
    let mut writer = Writer::new(&path);
    writer.look()?;
    if args.json {
        writer.preview(&plan.new).iter().flatten().try_for_each(|line| out.line(line))?;
    } else if !args.write {
        plan.new.iter().try_for_each(|record| out.line(&row(record)))?;
    }
    if args.write {
        let mut writer = Writer::new(&path);
        for records in plan.new.chunks(BATCH) {
            writer.append(records)?;
        }
    }
    if args.json { Ok(()) } else { told(args, &plan, out) }
}

fn plan(args: &Args, path: &std::path::Path, out: &mut Out) -> Result<Plan, Fail> {
    let other = args.other.display();
    if let Err(e) = std::fs::File::open(&args.other) {
        return Err(Fail::Told(format!("`{other}` cannot be read: {}", show::trouble(&e))));
    }
    let plan = merge::plan(path, &args.other, args.theirs).map_err(|e| no_log(path, &e))?;
    for problem in &plan.problems {
        if !problem.warning {
            out.mark_troubled();
        }
        out.tell(problem)?;
    }
    for conflict in &plan.conflicts {
        out.mark_troubled();
        let (there, here) = (conflict.there, conflict.here);
        out.tell(format_args!("conflict: {other}:{there} and {}:{here}: {}", path.display(), what(conflict)))?;
    }
    Ok(plan)
}

fn what(conflict: &Conflict) -> String {
    match &conflict.what {
        Contradiction::Record { kind, id, fields } => {
            let fields: Vec<String> = fields.iter().map(|f| format!("`{f}`")).collect();
            let differ = show::plural(fields.len(), "differs", "differ");
            format!("{kind} {id}: {} {differ}; the one here stays", show::list_or(&fields).replace(" or ", " and "))
        }
        Contradiction::Answer { entry, field, there, here } => format!(
            "`{field}` of entry {entry} is answered {there} there and {here} here; the one here stays (`--theirs` \
             takes the other)"
        ),
    }
}

fn row(record: &Record) -> String {
    let (kind, text) = match record {
        Record::Visit(v) => {
            let farm = v.farm.as_ref().map_or(String::new(), |f| format!("{f}, "));
            ("visit", format!("{farm}{}", show::day(v.date)))
        }
        Record::Entry(e) => {
            let cow = e.entry.cow.as_ref().map_or("cow not known".to_owned(), |c| format!("cow {c}"));
            ("entry", format!("{} {cow}: {}", e.id, e.entry.said))
        }
        Record::Answer(a) => ("answer", format!("{} {}: {}", a.entry, a.field, a.value)),
        Record::Strike(s) => ("strike", format!("{}: {}", s.entry, s.why)),
        Record::Unknown { kind, raw, .. } => (kind.as_str(), raw.clone()),
    };
    let text: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let row = format!("{kind:<8} {text}");
    if row.chars().count() <= show::WIDTH { row } else { row.chars().take(show::WIDTH - 1).chain(['…']).collect() }
}

fn told(args: &Args, plan: &Plan, out: &mut Out) -> Result<(), Fail> {
    let new = show::count(plan.new.len(), "line", "lines");
    let known = match plan.known {
        0 => "none are here already".to_owned(),
        n => show::count(n, "is here already", "are here already"),
    };
    if args.write {
        return out.line(&format!("added {new}; {known}"));
    }
    out.line(&format!("{new} would be added; {known}"))?;
    if plan.new.is_empty() { Ok(()) } else { out.line("nothing is written yet: `--write` does it") }
}
