//! The commands, one file each. What they know of hoof notes is in the library.

mod args;
mod asker;
mod asking;
mod bill;
mod check;
mod clock;
mod completions;
mod cow;
mod due;
mod export;
mod fail;
mod herd;
mod herd_report;
mod history;
mod inputs;
mod learning;
mod man;
mod meant;
mod merge;
mod note;
mod note_asking;
mod notebook;
mod notebook_asking;
mod notebook_page;
mod notebook_progress;
mod notebook_summary;
mod out;
mod own_words;
mod page;
mod read;
mod read_visits;
mod report;
mod settle;
mod sheet;
mod strike;
mod words;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use fail::Fail;
use out::Out;

/// Turns what a hoof trimmer says at the chute into typed records, and asks about exactly what is doubtful.
#[derive(Debug, Parser)]
#[command(name = "chutescribe", version, max_term_width = 80, after_help = AFTER)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

const AFTER: &str = "\
Exit codes: 0 all is done, 1 something could not be used (it is told on standard error; the rest is done), \
2 the command was not understood.

CHUTESCRIBE_LOG names the log where `--log` does not. CHUTESCRIBE_NOW sets the clock, so that tests and \
demonstrations come out the same; write it as 2026-03-12T09:41:07-05:00.

A record is not a diagnosis: disorders are recorded as the trimmer saw them; diagnosis, prescription medicines \
and surgery are for a veterinarian.";

#[derive(Debug, Subcommand)]
enum Command {
    /// Understand notes and show what they mean; writes nothing.
    Read(read::Args),
    /// Understand notes and keep them in the log; at a terminal, asks what is open.
    Note(note::Args),
    /// Bring an old notebook or a table in: shows what it comes to; writes with `--write`.
    Notebook(notebook::Args),
    /// Answer the questions that are still open in the log.
    Settle(settle::Args),
    /// Take an entry back, with a reason; the line itself stays in the log.
    Strike(strike::Args),
    /// Show what was said of one cow at one visit, asked, answered and struck, and when.
    History(history::Args),
    /// Bring another log into this one; shows first, writes with `--write`.
    Merge(merge::Args),
    /// Go over the whole log: what is broken, changed or missing.
    Check(check::Args),
    /// One cow's whole history: visits, the course of each lesion, blocks and wraps, where and how often.
    Cow(cow::Args),
    /// What must be seen to: blocks and wraps to come off, rechecks, vet calls, routine trims; overdue first.
    Due(due::Args),
    /// The page for the farmer: cows for the vet, counts, cow by cow, what is due and who sees to it.
    Sheet(sheet::Args),
    /// A herd in figures: prevalence with limits, new cases and repeats, healing, rechecks, where it is.
    Herd(herd_report::Args),
    /// Lines and sums from a price file, and the supplies used.
    Bill(bill::Args),
    /// What counts, for other programs: a flat CSV table, or events as ICAR ADE has them.
    Export(export::Args),
    /// The page for the phone at the chute: serve it on this machine, or write its files.
    Page(page::Args),
    /// Look words up in the vocabulary, or check a words file.
    Words(words::Args),
    /// Print completions for a shell.
    Completions(completions::Args),
    /// Print the manual page.
    Man(man::Args),
}

/// Runs the program.
pub(crate) fn run() -> ExitCode {
    let cli = Cli::parse();
    let mut out = Out::new();
    let ran = match &cli.command {
        Command::Read(args) => read::run(args, &mut out),
        Command::Note(args) => note::run(args, &mut out),
        Command::Notebook(args) => notebook::run(args, &mut out),
        Command::Settle(args) => settle::run(args, &mut out),
        Command::Strike(args) => strike::run(args, &mut out),
        Command::History(args) => history::run(args, &mut out),
        Command::Merge(args) => merge::run(args, &mut out),
        Command::Check(args) => check::run(args, &mut out),
        Command::Cow(args) => cow::run(args, &mut out),
        Command::Due(args) => due::run(args, &mut out),
        Command::Sheet(args) => sheet::run(args, &mut out),
        Command::Herd(args) => herd_report::run(args, &mut out),
        Command::Bill(args) => bill::run(args, &mut out),
        Command::Export(args) => export::run(args, &mut out),
        Command::Page(args) => page::run(args, &mut out),
        Command::Words(args) => words::run(args, &mut out),
        Command::Completions(args) => completions::run(args, &mut out),
        Command::Man(args) => man::run(args, &mut out),
    };
    match ran.and_then(|()| out.flush()) {
        Ok(()) if out.troubled() => ExitCode::FAILURE,
        Ok(()) => ExitCode::SUCCESS,
        // Whoever read the output has seen enough of it.
        Err(Fail::Io(e)) if e.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(fail) => {
            let _ = out.flush();
            eprintln!("error: {fail}");
            ExitCode::FAILURE
        }
    }
}
