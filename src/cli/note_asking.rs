//! `note` with somebody there: one note after the other, each shown, asked about and kept.

use chutescribe::flag::Flag;
use chutescribe::log::{EntryLine, Intake, Kept, Record, VisitLine, Writer};
use chutescribe::notes::Note;
use chutescribe::{Entry, Reader, show};

use super::asker::Asker;
use super::asking::{Asking, Tally};
use super::clock;
use super::fail::Fail;
use super::note::last_of;
use super::out::Out;
use super::read::reading;

const HELP: &str = "      say one cow a line, as you would at the chute; an empty line is nothing.
      what is doubtful is asked right away: answer with what stands before a
      choice, or with the value; `?` explains, `<` goes back, `.` leaves it open.
      `chutescribe strike last --why TEXT` takes the last entry back.
      Ctrl-D ends.
";

/// Takes notes until the input ends.
pub(super) fn run(
    reader: &Reader,
    visit: &VisitLine,
    writer: &mut Writer,
    why: bool,
    out: &mut Out,
) -> Result<(), Fail> {
    let mut asker = Asker::new()?;
    let (before, mut line) = last_of(writer.path(), visit);
    let mut intake = Intake::new(reader, visit, None, before);
    let mut last: Vec<Kept> = vec![];
    let mut trail: Vec<(usize, Flag)> = vec![];
    let (mut kept, mut open) = (0, 0);
    while let Some(text) = asker.line("note> ", out)? {
        let text = text.trim().to_owned();
        let mut tally = Tally::default();
        match text.as_str() {
            "" => continue,
            "?" => out.print(HELP)?,
            "<" => {
                open -= waiting(&last);
                let mut asking = Asking { asker: &mut asker, reader, writer, out, trail: &mut trail };
                match asking.back(&mut last, visit.date)? {
                    Some(told) => tally = told,
                    None => out.line("      the last note asked nothing; `chutescribe strike last` takes it back")?,
                }
                open += waiting(&last);
            }
            _ => {
                let note = Note { line: line + 1, text, ..Note::default() };
                let taken = intake.take(&note, clock::now()?, |id| writer.has(id));
                if taken.entries.is_empty() {
                    out.trouble(format_args!("there is no word in `{}`", note.text))?;
                    continue;
                }
                if why {
                    out.print(&show::why(&note.text, &taken.toks, reader.vocabulary()))?;
                }
                line += 1;
                last = keep(visit, writer, taken.entries)?;
                kept += last.len();
                for e in &last {
                    out.print(&reading(&without_questions(&e.entry), ""))?;
                }
                trail.clear();
                let mut asking = Asking { asker: &mut asker, reader, writer, out, trail: &mut trail };
                tally = asking.all(&mut last, |_| visit.date, |_| String::new())?;
                open += waiting(&last);
            }
        }
        if tally.answered > 0 {
            for e in &last {
                out.print(&show::entry(&e.entry, ""))?;
            }
        }
        if let Some(cow) = last.iter().rev().find_map(|e| e.entry.cow.as_deref()) {
            intake.cow_was(cow);
        }
        out.line("")?;
        if tally.ended {
            break;
        }
    }
    out.line(&format!("kept {}", show::count(kept, "entry", "entries")))?;
    if open > 0 {
        let open = show::count(open, "question is", "questions are");
        out.line(&format!("{open} open: `chutescribe settle` puts them again"))?;
    }
    Ok(())
}

/// A note is kept before anything is asked about it; the answers follow as lines of their own.
fn keep(visit: &VisitLine, writer: &mut Writer, entries: Vec<EntryLine>) -> Result<Vec<Kept>, Fail> {
    let mut records = vec![Record::Visit(visit.clone())];
    records.extend(entries.iter().map(|e| Record::Entry(Box::new(e.clone()))));
    writer.append(&records).map_err(|e| Fail::not_kept(&e, &records))?;
    Ok(entries.into_iter().map(Kept::new).collect())
}

fn waiting(entries: &[Kept]) -> usize {
    entries.iter().map(|e| e.open.len()).sum()
}

fn without_questions(entry: &Entry) -> Entry {
    let flags = entry.flags.iter().filter(|f| !f.asks()).cloned().collect();
    Entry { flags, ..entry.clone() }
}
