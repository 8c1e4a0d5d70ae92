//! `note`: understand and keep.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use chutescribe::log::{Intake, Record, VisitLine, Writer};
use chutescribe::{Reader, log, show};

use super::args::{Hearing, LogAt, Visit};
use super::clock;
use super::fail::Fail;
use super::inputs::{self, Holds, Input};
use super::note_asking;
use super::out::Out;

#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    /// Notes, one a line; a line that starts with `#` and no digit is a comment; or timed
    /// transcripts (`.vtt`, `.srt`) [default: the terminal, one note after the other, or standard input]
    #[arg(value_name = "FILES")]
    files: Vec<PathBuf>,
    #[command(flatten)]
    holds: Holds,
    #[command(flatten)]
    visit: Visit,
    #[command(flatten)]
    hearing: Hearing,
    #[command(flatten)]
    log: LogAt,
    /// Print the lines that would be added to the log; write nothing
    #[arg(long)]
    dry_run: bool,
    /// Show word by word how each note was taken
    #[arg(long, conflicts_with = "dry_run")]
    why: bool,
    /// Ask even where there is no terminal: notes and answers come from standard input
    #[arg(long, hide = true, conflicts_with_all = ["dry_run", "files"])]
    ask: bool,
}

/// The longest list of lines that is held back before it is written.
const BATCH: usize = 1000;

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let now = clock::now()?;
    let visit = args.visit.line(now)?;
    let path = args.log.path()?;
    // A log that is not there yet has seen nobody; what is wrong with one is told when it is written or settled.
    let seen_at = |farm: &str, _: &mut Out| Ok(log::fold::cows_at(&path, farm, &visit.id, |_| {}).unwrap_or_default());
    let reader = args.hearing.reader_at(&visit, out, seen_at)?;
    LogAt::tell(&path, out)?;
    let mut writer = Writer::new(&path);
    if args.ask || (args.files.is_empty() && !args.dry_run && std::io::stdin().is_terminal()) {
        if args.holds.hearings || args.holds.started.is_some() {
            return Err(Fail::Told("`--hearings` and `--started` are for files and pipes".to_owned()));
        }
        writer.look()?;
        return note_asking::run(&args.hearing, reader, &visit, &mut writer, args.why, out);
    }
    if args.dry_run {
        writer.look()?;
    }
    let mut import = Import {
        reader: &reader,
        holds: &args.holds,
        visit: &visit,
        writer: &mut writer,
        dry: args.dry_run,
        tally: Tally::default(),
    };
    inputs::each(&args.files, &args.holds, out, |input, out| import.input(input, args.why, out))?;
    if args.dry_run { Ok(()) } else { import.told(out) }
}

/// The cow of the last note that the log has of this visit, and how many typed notes it has of it.
pub(super) fn last_of(path: &Path, visit: &VisitLine) -> (Option<String>, usize) {
    // A log that cannot be read is told when it is written to.
    let here = log::fold::of_visit(path, &visit.id).unwrap_or_default();
    let typed = here.iter().filter_map(|e| e.line.source.as_ref()).filter(|s| s.file.is_none()).map(|s| s.line).max();
    (here.into_iter().rev().find_map(|e| e.entry.cow), typed.unwrap_or(0))
}

#[derive(Default)]
struct Tally {
    notes: usize,
    added: usize,
    there: usize,
    questions: usize,
    doubtful: usize,
}

/// Notes from files into the log.
struct Import<'a> {
    reader: &'a Reader,
    holds: &'a Holds,
    visit: &'a VisitLine,
    writer: &'a mut Writer,
    dry: bool,
    tally: Tally,
}

impl Import<'_> {
    fn input(&mut self, input: &mut Input, why: bool, out: &mut Out) -> Result<(), Fail> {
        let piped = input.file == "-";
        let before = if piped { last_of(self.writer.path(), self.visit).0 } else { None };
        let mut intake = Intake::new(self.reader, self.visit, Some(input.file.clone()), before);
        let mut pending = Vec::new();
        loop {
            // What comes slowly is kept as it comes, what comes fast in batches.
            if pending.len() >= BATCH || !input.at_hand() {
                match self.keep(&mut pending, out) {
                    Err(why) if piped => return Err(with_the_rest(&why, input, out)),
                    kept => kept?,
                }
            }
            let Some(note) = input.next(out)? else { return self.keep(&mut pending, out) };
            let taken = intake.take(&note, self.holds.at(&note, self.visit.date, clock::now()?), |_| false);
            if taken.entries.is_empty() {
                input.wordless(&note, out)?;
                continue;
            }
            self.tally.notes += 1;
            if why {
                out.line(&note.text)?;
                out.line(&show::why(note.heard(taken.led), &taken.toks, &taken.rivals, self.reader.vocabulary()))?;
            }
            pending.extend(taken.entries.into_iter().map(|e| Record::Entry(Box::new(e))));
        }
    }

    fn keep(&mut self, pending: &mut Vec<Record>, out: &mut Out) -> Result<(), Fail> {
        if pending.is_empty() {
            return Ok(());
        }
        pending.insert(0, Record::Visit(self.visit.clone()));
        let added = if self.dry {
            let lines = self.writer.preview(pending);
            lines.iter().flatten().try_for_each(|line| out.line(line))?;
            lines.iter().map(Option::is_some).collect()
        } else {
            self.writer.append(pending).map_err(|e| Fail::not_kept(&e, pending))?
        };
        for (record, added) in pending.drain(..).zip(added) {
            let Record::Entry(line) = record else { continue };
            if !added {
                self.tally.there += 1;
                continue;
            }
            let questions = line.entry.questions().count();
            self.tally.added += 1;
            self.tally.questions += questions;
            self.tally.doubtful += usize::from(questions > 0);
        }
        out.flush()
    }

    /// Ends with a count, and with how to settle what is open.
    fn told(&self, out: &mut Out) -> Result<(), Fail> {
        let t = &self.tally;
        let entries = show::count(t.added, "entry", "entries");
        out.line(&format!("kept {entries} of {}", show::count(t.notes, "note", "notes")))?;
        if t.there > 0 {
            out.line(&format!("{} in the log already", show::count(t.there, "entry was", "entries were")))?;
        }
        if t.questions > 0 {
            let questions = show::count(t.questions, "question is", "questions are");
            let doubtful = show::count(t.doubtful, "entry", "entries");
            out.line(&format!(
                "{questions} open on {doubtful}; what they concern does not count until it is settled:"
            ))?;
            out.line("    chutescribe settle")?;
        }
        Ok(())
    }
}

/// What was piped in is nowhere else: what the log could not take is repeated to the last line.
fn with_the_rest(why: &Fail, input: &mut Input, out: &mut Out) -> Fail {
    let mut text = why.to_string();
    while let Ok(Some(note)) = input.next(out) {
        text.extend(["\n  ", &note.text]);
    }
    Fail::Told(text)
}
