//! `note` with somebody there: one note after the other, each shown, asked about and kept.

use chutescribe::log::{Intake, Kept, Record, VisitLine, Writer};
use chutescribe::notes::Note;
use chutescribe::{Reader, show};

use super::asker::Asker;
use super::asking::Asking;
use super::clock;
use super::fail::Fail;
use super::note::last_of;
use super::out::Out;
use super::read::reading;

const HELP: &str = "      say one cow a line, as you would at the chute; an empty line is nothing. what is doubtful
      is asked right away: answer with what stands before a choice or with the value, `?` explains,
      `<` goes back, `.` leaves it open. `chutescribe strike last --why TEXT` takes the last entry
      back. Ctrl-D ends.";

pub(super) fn run(
    reader: &Reader,
    visit: &VisitLine,
    writer: &mut Writer,
    why: bool,
    out: &mut Out,
) -> Result<(), Fail> {
    let mut asker = Asker::new()?;
    let (before, typed) = last_of(writer.path(), visit);
    let mut intake = Intake::new(reader, visit, None, before);
    let mut line = typed;
    let mut open = 0;
    let mut kept = 0;
    while let Some(text) = asker.line("note> ", out)? {
        let text = text.trim().to_owned();
        match text.as_str() {
            "" => continue,
            "?" => {
                out.line(HELP)?;
                continue;
            }
            _ => {}
        }
        line += 1;
        let note = Note { line, text };
        let taken = intake.take(&note, clock::now()?, |id| writer.has(id));
        if taken.entries.is_empty() {
            out.trouble(format_args!("there is no word in `{}`", note.text))?;
            continue;
        }
        if why {
            out.print(&show::why(&note.text, &taken.toks, reader.vocabulary()))?;
        }
        // First of all it is kept; the answers follow as lines of their own.
        let mut records = vec![Record::Visit(visit.clone())];
        records.extend(taken.entries.iter().map(|e| Record::Entry(Box::new(e.clone()))));
        writer.append(&records).map_err(|e| Fail::not_kept(&e, &records))?;
        kept += taken.entries.len();
        let mut entries: Vec<Kept> = taken.entries.into_iter().map(Kept::new).collect();
        for e in &entries {
            let settled = chutescribe::Entry {
                flags: e.entry.flags.iter().filter(|f| !f.asks()).cloned().collect(),
                ..e.entry.clone()
            };
            out.print(&reading(&settled, ""))?;
        }
        let mut asking = Asking { asker: &mut asker, reader, writer, out };
        let tally = asking.all(&mut entries, |_| visit.date, |_| String::new())?;
        if tally.answered > 0 {
            for e in &entries {
                out.print(&show::entry(&e.entry, ""))?;
            }
        }
        if let Some(cow) = entries.iter().rev().find_map(|e| e.entry.cow.as_deref()) {
            intake.cow_was(cow);
        }
        open += entries.iter().map(|e| e.open.len()).sum::<usize>();
        out.line("")?;
        if tally.ended {
            break;
        }
    }
    out.line(&format!("kept {}", show::count(kept, "entry", "entries")))?;
    if open > 0 {
        out.line(&format!(
            "{} open; `chutescribe settle` asks again",
            show::count(open, "question is", "questions are")
        ))?;
    }
    Ok(())
}
