//! `check`: goes over the whole log.

use chutescribe::log::check::{self, Level, Report};
use chutescribe::show;

use super::args::{LogAt, no_log};
use super::clock;
use super::fail::Fail;
use super::out::Out;

#[derive(Debug, clap::Args)]
#[command(after_help = "Exit code 0 where all is well (warnings do no harm), 1 where something was found. Nothing \
                        is written: a line that was changed is named and read as it stands now. What the seals \
                        cannot show is an end that was cut off: keep a copy.")]
pub(crate) struct Args {
    #[command(flatten)]
    log: LogAt,
    /// Also tell what the trade finds odd: a cow twice in a visit, something due before it, blocks and wraps
    /// never taken off
    #[arg(long)]
    strict: bool,
    /// One JSON object a finding
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let path = args.log.path()?;
    LogAt::tell(&path, out)?;
    let today = if args.strict { Some(clock::now()?.date_naive()) } else { None };
    let report = check::check(&path, today).map_err(|e| no_log(&path, &e))?;
    let name = path.display();
    for finding in &report.findings {
        if args.json {
            out.line(&serde_json::to_string(finding).map_err(std::io::Error::from)?)?;
        } else {
            out.line(&format!("{}: {name}:{}: {}", finding.level, finding.line, finding.message))?;
        }
    }
    if report.is_bad() {
        out.mark_troubled();
    }
    if args.json { Ok(()) } else { out.line(&summary(&report)) }
}

fn summary(report: &Report) -> String {
    let t = &report.tally;
    let mut holds = vec![
        show::count(t.visits, "visit", "visits"),
        show::count(t.entries, "entry", "entries"),
        show::count(t.answers, "answer", "answers"),
        show::count(t.strikes, "strike", "strikes"),
    ];
    if t.no_notes > 0 {
        holds.push(show::count(t.no_notes, "line that is no hoof note", "lines that are no hoof notes"));
    }
    if t.other > 0 {
        holds.push(show::count(t.other, "line of a kind unknown here", "lines of kinds unknown here"));
    }
    holds.push(show::count(t.open, "open question", "open questions"));
    let of = |level| report.findings.iter().filter(|f| f.level == level).count();
    let mut found = vec![];
    for (level, one, many) in [
        (Level::Error, "error", "errors"),
        (Level::Odd, "odd thing", "odd things"),
        (Level::Warning, "warning", "warnings"),
    ] {
        if of(level) > 0 {
            found.push(show::count(of(level), one, many));
        }
    }
    let found = if found.is_empty() { "all is well".to_owned() } else { found.join(", ") };
    format!("{}: {found}", holds.join(", "))
}
