//! `settle`: answer what is open.

use std::collections::HashMap;

use chrono::NaiveDate;
use chutescribe::log::Kept;
use chutescribe::show;
use serde_json::json;

use super::args::{Hearing, LogAt};
use super::asker::Asker;
use super::asking::Asking;
use super::fail::Fail;
use super::learning::Learning;
use super::out::Out;

#[derive(Debug, clap::Args)]
#[command(after_help = "Answers come from the terminal, or one a line from standard input: what stands before a \
                        choice, or the value itself; `?` explains, `<` goes back, `.` leaves it open.")]
pub(crate) struct Args {
    #[command(flatten)]
    hearing: Hearing,
    #[command(flatten)]
    log: LogAt,
    /// List the open questions, one JSON object a line, and ask nothing
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let reader = args.hearing.reader(out)?;
    let waiting = |e: &&Kept| e.struck.is_none() && !e.open.is_empty();
    let mut entries = Vec::new();
    let (mut writer, rest) = args.log.open(out, |kept| entries.extend(Some(kept).filter(|e| waiting(&e))))?;
    for misfit in &rest.misfits {
        out.trouble(format_args!("{}:{}: {}", writer.path().display(), misfit.line, misfit.what))?;
    }
    let visits: HashMap<String, (NaiveDate, Option<String>)> =
        rest.visits.into_iter().map(|v| (v.id, (v.date, v.farm))).collect();
    if args.json {
        return entries.iter().try_for_each(|e| list(e, out));
    }
    let questions: usize = entries.iter().map(|e| e.open.len()).sum();
    if questions == 0 {
        return out.line("no question is open");
    }
    out.line(&format!(
        "{} open on {}",
        show::count(questions, "question is", "questions are"),
        show::count(entries.len(), "entry", "entries")
    ))?;
    let day = |e: &Kept| visits.get(&e.line.visit).map_or_else(|| e.line.at.date_naive(), |v| v.0);
    let head = |e: &Kept| {
        let farm = visits.get(&e.line.visit).and_then(|v| v.1.clone());
        let mark = [farm, Some(show::day(day(e)))].into_iter().flatten().collect::<Vec<_>>().join(", ");
        format!("\n{}", show::entry(&e.entry, &mark))
    };
    let mut asker = Asker::new()?;
    let mut asking = Asking {
        asker: &mut asker,
        reader: &reader,
        writer: &mut writer,
        out,
        trail: &mut vec![],
        learning: &mut Learning::new(&args.hearing.words),
    };
    let tally = asking.all(&mut entries, day, head)?;
    let open: usize = entries.iter().filter(waiting).map(|e| e.open.len()).sum();
    let answered = show::count(tally.answered, "answer", "answers");
    out.line(&format!("\nkept {answered}; {} open", show::count(open, "question is", "questions are")))
}

fn list(kept: &Kept, out: &mut Out) -> Result<(), Fail> {
    for flag in &kept.open {
        let mut object = json!({
            "entry": kept.line.id,
            "cow": kept.entry.cow,
            "field": flag.field,
            "kind": flag.kind,
            "message": flag.message,
            "options": flag.options,
            "said": kept.line.entry.said,
        });
        if let Some(at) = flag.at {
            object["at"] = json!(at);
        }
        out.line(&object.to_string())?;
    }
    Ok(())
}
