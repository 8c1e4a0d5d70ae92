//! `read --json --visits`: the notes of many visits through one pipe, each line with its day and farm before it.
//!
//! A filter for archives: a line in gives its entries out before the next line is waited for, and nothing is kept of a
//! visit once another begins, so that memory does not grow with the archive.

use std::collections::VecDeque;

use chrono::NaiveDate;
use chutescribe::jobs::Jobs;
use chutescribe::log::record::Stamp;
use chutescribe::log::{Intake, Record, VisitLine};
use chutescribe::notes::Note;
use chutescribe::{Reader, Reading};

use super::args;
use super::fail::Fail;
use super::inputs::Input;
use super::out::Out;
use super::read;

/// Day and farm, in the order in which visits must come.
type Head = (NaiveDate, String);

/// A note of a visit, and what it comes to by itself where it was read ahead.
type Line = (Head, Note, Option<Reading>);

/// Prints each visit of the input and its entries as the log has them: what comes out is a log.
pub(super) fn each(
    input: &mut Input,
    reader: &Reader,
    jobs: &Jobs,
    trimmer: Option<&str>,
    at: Stamp,
    out: &mut Out,
) -> Result<(), Fail> {
    let mut lines = Lines { jobs, reader, last: None, ahead: VecDeque::new() };
    let mut next = lines.next(input, out)?;
    while let Some((head, mut note, mut ahead)) = next {
        let farm = Some(head.1.as_str()).filter(|farm| !farm.is_empty());
        let visit = VisitLine::new(farm, head.0, trimmer, at);
        out.line(&Record::Visit(visit.clone()).line())?;
        let mut intake = Intake::new(reader, &visit, Some(input.file.clone()), None);
        next = loop {
            let taken = intake.take_ahead(&note, ahead, at, |_| false);
            if taken.entries.is_empty() {
                input.wordless(&note, out)?;
            }
            for line in taken.entries {
                out.line(&line.line())?;
            }
            match lines.next(input, out)? {
                Some((same, its, read)) if same == head => (note, ahead) = (its, read),
                other => break other,
            }
        };
    }
    Ok(())
}

/// The lines of an input; with several threads as many are read at once as can be had without waiting.
struct Lines<'a> {
    jobs: &'a Jobs,
    reader: &'a Reader,
    last: Option<Head>,
    ahead: VecDeque<Line>,
}

impl Lines<'_> {
    fn next(&mut self, input: &mut Input, out: &mut Out) -> Result<Option<Line>, Fail> {
        if self.ahead.is_empty() {
            let some = read::some(input, self.jobs, out, |input, out| self.line(input, out))?;
            let read = |(head, note): (Head, Note)| {
                let reading = (self.jobs.count() > 1).then(|| Intake::ahead(self.reader, head.0, &note));
                (head, note, reading)
            };
            self.ahead = self.jobs.in_order(some, read).into();
        }
        Ok(self.ahead.pop_front())
    }

    /// The next line that is a day, a farm and a note, and not of a visit that is over; others are told and left out.
    fn line(&mut self, input: &mut Input, out: &mut Out) -> Result<Option<(Head, Note)>, Fail> {
        loop {
            if !input.at_hand() {
                out.flush()?;
            }
            let Some(note) = input.next(out)? else { return Ok(None) };
            match apart(&note.text) {
                Err(bad) => out.trouble(format_args!("{}:{}: {bad}: `{}`", input.name, note.line, note.text))?,
                Ok((head, _)) if self.last.as_ref().is_some_and(|last| head < *last) => out.trouble(format_args!(
                    "{}:{}: {} at `{}` comes too late: sort the lines by day and farm: `{}`",
                    input.name, note.line, head.0, head.1, note.text
                ))?,
                Ok((head, text)) => {
                    let text = text.to_owned();
                    self.last = Some(head.clone());
                    return Ok(Some((head, Note { text, ..note })));
                }
            }
        }
    }
}

/// A line's columns; the message says what is missing.
fn apart(line: &str) -> Result<(Head, &str), String> {
    let mut columns = line.splitn(3, '\t').map(str::trim);
    let (Some(day), Some(farm), Some(note)) = (columns.next(), columns.next(), columns.next()) else {
        return Err("a line is a day, a tab, a farm, a tab and the note".to_owned());
    };
    let day = args::day(day).ok_or_else(|| format!("`{day}` is no day; write it as 2026-03-12 (year, month, day)"))?;
    Ok(((day, farm.to_owned()), note))
}
