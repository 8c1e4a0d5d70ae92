//! `note` with somebody there: one note after the other, each shown, asked about and kept.

use chutescribe::flag::Flag;
use chutescribe::log::{EntryLine, Intake, Kept, Record, VisitLine, Writer};
use chutescribe::notes::{Note, Notes};
use chutescribe::{Entry, Reader, show};

use super::args::Hearing;
use super::asker::Asker;
use super::asking::{Asking, Tally};
use super::clock;
use super::fail::Fail;
use super::learning::Learning;
use super::note::last_of;
use super::out::Out;
use super::read::reading;

const HELP: &str = "      say one cow a line, as you would at the chute; an empty line is nothing.
      what is doubtful is asked right away: answer with what stands before a
      choice, or with the value; `?` explains, `<` goes back, `.` leaves it open.
      `chutescribe strike last --why TEXT` takes the last entry back.
      Ctrl-D ends.

";

/// A talk at the chute.
struct Talk<'a> {
    hearing: &'a Hearing,
    /// Made anew when words are learned.
    reader: Reader,
    visit: &'a VisitLine,
    writer: &'a mut Writer,
    out: &'a mut Out,
    asker: Asker,
    learning: Learning,
    /// The cow of the last note that had one.
    cow_before: Option<String>,
    /// Show how each word was taken.
    why: bool,
    /// The number of the last note within the visit.
    line: usize,
    /// What the last note came to, and the questions that were put about it.
    last: Vec<Kept>,
    trail: Vec<(usize, Flag)>,
    kept: usize,
    open: usize,
}

/// Takes notes until the input ends.
pub(super) fn run(
    hearing: &Hearing,
    reader: Reader,
    visit: &VisitLine,
    writer: &mut Writer,
    why: bool,
    out: &mut Out,
) -> Result<(), Fail> {
    let (cow_before, line) = last_of(writer.path(), visit);
    let mut talk = Talk {
        hearing,
        reader,
        visit,
        writer,
        out,
        asker: Asker::new()?,
        learning: Learning::new(&hearing.words),
        cow_before,
        why,
        line,
        last: vec![],
        trail: vec![],
        kept: 0,
        open: 0,
    };
    let mut ended = false;
    while !ended {
        let Some(text) = talk.asker.note("note> ", talk.out)? else { break };
        ended = match text.trim() {
            "" => false,
            "?" => {
                talk.out.print(HELP)?;
                false
            }
            "<" => talk.back()?,
            // What is pasted can be several lines.
            text => talk.notes(text)?,
        };
    }
    talk.out.line(&format!("kept {}", show::count(talk.kept, "entry", "entries")))?;
    if talk.open > 0 {
        let open = show::count(talk.open, "question is", "questions are");
        talk.out.line(&format!("{open} open: `chutescribe settle` puts them again"))?;
    }
    Ok(())
}

impl Talk<'_> {
    /// Gives whether the input ended meanwhile.
    fn notes(&mut self, text: &str) -> Result<bool, Fail> {
        let mut notes = Notes::new(text.as_bytes());
        while let Some((_, note)) = notes.next_note()? {
            let ended = match note {
                Ok(note) => self.note(&Note { line: self.line + 1, ..note })?,
                Err(bad) => {
                    self.out.trouble(bad)?;
                    false
                }
            };
            if ended {
                return Ok(true);
            }
        }
        Ok(false)
    }

    fn note(&mut self, note: &Note) -> Result<bool, Fail> {
        // What is typed again is said again; that its id is new is seen from the log alone.
        let mut intake = Intake::new(&self.reader, self.visit, None, self.cow_before.clone());
        let taken = intake.take(note, clock::now()?, |id| self.writer.has(id));
        if taken.entries.is_empty() {
            self.out.trouble(format_args!("there is no word in `{}`", note.text))?;
            return Ok(false);
        }
        if self.why {
            self.out.print(&show::why(note.heard(taken.led), &taken.toks, &taken.rivals, self.reader.vocabulary()))?;
        }
        self.line = note.line;
        self.last = self.keep(taken.entries)?;
        self.kept += self.last.len();
        for kept in &self.last {
            self.out.print(&reading(&without_questions(&kept.entry), ""))?;
        }
        self.trail.clear();
        let date = self.visit.date;
        let (mut asking, last) = self.asking();
        let tally = asking.all(last, |_| date, |_| String::new())?;
        self.done(&tally, 0)
    }

    /// `<` where a note is expected: the last question once more.
    fn back(&mut self) -> Result<bool, Fail> {
        let before = waiting(&self.last);
        let date = self.visit.date;
        let (mut asking, last) = self.asking();
        if let Some(tally) = asking.back(last, date)? {
            return self.done(&tally, before);
        }
        self.out.line("      the last note asked nothing; `chutescribe strike last` takes it back\n")?;
        Ok(false)
    }

    fn asking(&mut self) -> (Asking<'_>, &mut [Kept]) {
        let asking = Asking {
            asker: &mut self.asker,
            reader: &self.reader,
            writer: self.writer,
            out: self.out,
            trail: &mut self.trail,
            learning: &mut self.learning,
        };
        (asking, &mut self.last)
    }

    /// Shows what the answers came to; `before` is how many questions of the note were counted as open.
    fn done(&mut self, tally: &Tally, before: usize) -> Result<bool, Fail> {
        self.open = self.open + waiting(&self.last) - before;
        if tally.answered > 0 {
            for kept in &self.last {
                self.out.print(&show::entry(&kept.entry, ""))?;
            }
        }
        if let Some(cow) = self.last.iter().rev().find_map(|e| e.entry.cow.clone()) {
            self.cow_before = Some(cow);
        }
        if self.learning.take_changed() {
            // What was learned counts from the next note on.
            match self.hearing.vocabulary() {
                Ok(vocab) => self.reader.set_vocabulary(vocab),
                Err(why) => self.out.trouble(why)?,
            }
        }
        self.out.line("")?;
        Ok(tally.ended)
    }

    /// A note is kept before anything is asked about it; the answers follow as lines of their own.
    fn keep(&mut self, entries: Vec<EntryLine>) -> Result<Vec<Kept>, Fail> {
        let mut records = vec![Record::Visit(self.visit.clone())];
        records.extend(entries.iter().map(|e| Record::Entry(Box::new(e.clone()))));
        self.writer.append(&records).map_err(|e| Fail::not_kept(&e, &records))?;
        Ok(entries.into_iter().map(Kept::new).collect())
    }
}

fn waiting(entries: &[Kept]) -> usize {
    entries.iter().map(|e| e.open.len()).sum()
}

fn without_questions(entry: &Entry) -> Entry {
    let flags = entry.flags.iter().filter(|f| !f.asks()).cloned().collect();
    Entry { flags, ..entry.clone() }
}
