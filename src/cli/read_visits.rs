//! `read --json --visits`: the notes of many visits through one pipe, each line with its day and farm before it.
//!
//! A filter for archives: a line in gives its entries out before the next line is looked at, and nothing is kept of a
//! visit once another begins, so that memory does not grow with the archive.

use chrono::NaiveDate;
use chutescribe::Reader;
use chutescribe::log::record::Stamp;
use chutescribe::log::{Intake, Record, VisitLine};
use chutescribe::notes::Note;

use super::args;
use super::fail::Fail;
use super::inputs::Input;
use super::out::Out;

/// Day and farm, in the order in which visits must come.
type Head = (NaiveDate, String);

/// Prints each visit of the input and its entries as the log has them: what comes out is a log.
pub(super) fn each(
    input: &mut Input,
    reader: &Reader,
    trimmer: Option<&str>,
    at: Stamp,
    out: &mut Out,
) -> Result<(), Fail> {
    let mut next = next_note(input, None, out)?;
    while let Some((head, mut note)) = next {
        let farm = Some(head.1.as_str()).filter(|farm| !farm.is_empty());
        let visit = VisitLine::new(farm, head.0, trimmer, at);
        out.line(&Record::Visit(visit.clone()).line())?;
        let mut intake = Intake::new(reader, &visit, Some(input.file.clone()), None);
        next = loop {
            let taken = intake.take(&note, at, |_| false);
            if taken.entries.is_empty() {
                input.wordless(&note, out)?;
            }
            for line in taken.entries {
                out.line(&line.line())?;
            }
            match next_note(input, Some(&head), out)? {
                Some((same, its)) if same == head => note = its,
                other => break other,
            }
        };
    }
    Ok(())
}

/// The next line that is a day, a farm and a note, and not of a visit that is over; others are told and left out.
fn next_note(input: &mut Input, now_at: Option<&Head>, out: &mut Out) -> Result<Option<(Head, Note)>, Fail> {
    loop {
        if !input.at_hand() {
            out.flush()?;
        }
        let Some(note) = input.next(out)? else { return Ok(None) };
        match apart(&note.text) {
            Err(bad) => out.trouble(format_args!("{}:{}: {bad}: `{}`", input.name, note.line, note.text))?,
            Ok((head, _)) if now_at.is_some_and(|now| head < *now) => out.trouble(format_args!(
                "{}:{}: {} at `{}` comes too late: sort the lines by day and farm: `{}`",
                input.name, note.line, head.0, head.1, note.text
            ))?,
            Ok((head, text)) => {
                let text = text.to_owned();
                return Ok(Some((head, Note { text, ..note })));
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
