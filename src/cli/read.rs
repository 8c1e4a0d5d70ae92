//! `read`: understand and show; writes nothing.

use std::path::PathBuf;

use chutescribe::jobs::Jobs;
use chutescribe::log::{Intake, Taken};
use chutescribe::notes::Note;
use chutescribe::{Reader, Reading, ask, show};

use super::args::{Hearing, Visit};
use super::clock;
use super::fail::Fail;
use super::herd;
use super::inputs::{self, Holds, Input};
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
    /// How many threads read; what comes out and its order are the same with any number
    #[arg(long, value_name = "N", default_value_t = 1)]
    jobs: usize,
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
    let jobs = Jobs::new(args.jobs);
    inputs::each(&args.files, &args.holds, out, |input, out| {
        if args.visits {
            return read_visits::each(input, &reader, &jobs, visit.trimmer.as_deref(), now, out);
        }
        let mut intake = Intake::new(&reader, &visit, Some(input.file.clone()), None);
        let read = |note: Note| {
            // One thread reads a note when it comes to it, and knows the cow before.
            let reading = (jobs.count() > 1).then(|| Intake::ahead(&reader, visit.date, &note));
            (note, reading)
        };
        let mut next: Vec<(Note, Option<Reading>)> = Vec::new();
        loop {
            if next.is_empty() {
                if !input.at_hand() {
                    out.flush()?;
                }
                next = jobs.in_order(some(input, &jobs, out, Input::next)?, read);
                if next.is_empty() {
                    return Ok(());
                }
            }
            // What is at hand is read while this is printed; what cannot be is told after it.
            let ahead =
                if jobs.count() > 1 && input.at_hand() { some(input, &jobs, out, Input::next) } else { Ok(vec![]) };
            let print = || -> Result<(), Fail> {
                for (note, reading) in std::mem::take(&mut next) {
                    let at = args.holds.at(&note, visit.date, now);
                    let taken = intake.take_ahead(&note, reading, at, |_| false);
                    if taken.entries.is_empty() {
                        input.wordless(&note, out)?;
                    }
                    let mark =
                        if several { format!("{}:{}", input.file, note.line) } else { format!("line {}", note.line) };
                    print(args, &note, &mark, taken, &reader, out)?;
                }
                Ok(())
            };
            let (printed, ahead) = jobs.beside(print, || ahead.map(|notes| jobs.in_order(notes, read)));
            printed?;
            next = ahead?;
        }
    })
}

/// Notes that a thread reads at a time.
const AT_A_TIME: usize = 256;

/// The next note, as `next` gives it, and with several threads those after it that can be had without waiting; nothing
/// at the end.
pub(super) fn some<T>(
    input: &mut Input,
    jobs: &Jobs,
    out: &mut Out,
    mut next: impl FnMut(&mut Input, &mut Out) -> Result<Option<T>, Fail>,
) -> Result<Vec<T>, Fail> {
    let mut notes = Vec::new();
    while let Some(note) = next(input, out)? {
        notes.push(note);
        if jobs.count() < 2 || notes.len() == jobs.count() * AT_A_TIME || !input.at_hand() {
            break;
        }
    }
    Ok(notes)
}

fn print(args: &Args, note: &Note, mark: &str, taken: Taken, reader: &Reader, out: &mut Out) -> Result<(), Fail> {
    if args.why {
        out.line(&note.text)?;
        out.print(&show::why(note.heard(taken.led), &taken.toks, &taken.rivals, reader.vocabulary()))?;
        out.line("")?;
    }
    for line in taken.entries {
        if args.json {
            out.line(&line.line())?;
            continue;
        }
        let mark = note.time.map_or(mark.to_owned(), |t| format!("{mark}, {t}"));
        out.print(&reading(&line.entry, &mark))?;
        out.line("")?;
    }
    Ok(())
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
