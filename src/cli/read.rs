//! `read`: understand and show; writes nothing.

use std::path::PathBuf;

use chutescribe::log::{Intake, Record};
use chutescribe::{ask, show};

use super::args::{Hearing, Visit};
use super::clock;
use super::fail::Fail;
use super::herd;
use super::inputs::{self, Holds};
use super::out::Out;
use super::read_visits;

#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    /// Notes, one a line; a line that starts with `#` and no digit is a comment; or timed
    /// transcripts (`.vtt`, `.srt`) [default: standard input]
    #[arg(value_name = "FILES")]
    files: Vec<PathBuf>,
    #[command(flatten)]
    holds: Holds,
    #[command(flatten)]
    visit: Visit,
    #[command(flatten)]
    hearing: Hearing,
    /// The log: without `--herd`, the tags that it has of the farm are a hint to how a number was meant
    #[arg(long, value_name = "FILE", requires = "farm")]
    log: Option<PathBuf>,
    /// One JSON object a cow, as the log has it
    #[arg(long)]
    json: bool,
    /// Each line begins with the day and the farm of its visit, a tab after each; lines sorted by them.
    /// For archives: prints a log of all visits, line by line
    #[arg(long, requires = "json", conflicts_with_all = ["on", "farm", "log", "hearings", "started"])]
    visits: bool,
    /// Show word by word how each note was taken
    #[arg(long, conflicts_with = "json")]
    why: bool,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let now = clock::now()?;
    let visit = args.visit.line(now)?;
    let reader = match &args.log {
        Some(log) => args.hearing.reader_at(&visit, out, |farm, out| herd::seen_at(log, farm, &visit, out))?,
        None => args.hearing.reader(out)?,
    };
    let several = args.files.len() > 1;
    inputs::each(&args.files, &args.holds, out, |input, out| {
        if args.visits {
            return read_visits::each(input, &reader, visit.trimmer.as_deref(), now, out);
        }
        let mut intake = Intake::new(&reader, &visit, Some(input.file.clone()), None);
        loop {
            if !input.at_hand() {
                out.flush()?;
            }
            let Some(note) = input.next(out)? else { return Ok(()) };
            let taken = intake.take(&note, args.holds.at(&note, visit.date, now), |_| false);
            if taken.entries.is_empty() {
                input.wordless(&note, out)?;
            }
            if args.why {
                out.line(&note.text)?;
                out.print(&show::why(&note.text, &taken.toks, &taken.rivals, reader.vocabulary()))?;
                out.line("")?;
            }
            for line in taken.entries {
                if args.json {
                    out.line(&Record::Entry(Box::new(line)).line())?;
                    continue;
                }
                let line_of =
                    if several { format!("{}:{}", input.file, note.line) } else { format!("line {}", note.line) };
                let mark = note.time.map_or(line_of.clone(), |t| format!("{line_of}, {t}"));
                out.print(&reading(&line.entry, &mark))?;
                out.line("")?;
            }
        }
    })
}

/// The entry with its notes and questions.
pub(super) fn reading(entry: &chutescribe::Entry, mark: &str) -> String {
    let mut text = show::entry(entry, mark);
    for flag in entry.flags.iter().filter(|f| !f.asks()) {
        text.push_str(&show::doubt(flag, &entry.said));
    }
    for flag in entry.questions() {
        text.push_str(&show::question(flag, &entry.said, &ask::choices(flag)));
    }
    text
}
