//! Puts the open questions of entries, one after the other, and appends what is answered.

use std::collections::HashSet;

use chrono::NaiveDate;
use chutescribe::ask::{self, Answer};
use chutescribe::flag::Flag;
use chutescribe::log::{AnswerLine, Kept, Record, Writer};
use chutescribe::{Reader, learn, show};

use super::asker::Asker;
use super::clock;
use super::fail::Fail;
use super::learning::Learning;
use super::out::Out;

/// What questions need.
pub(crate) struct Asking<'a> {
    pub(crate) asker: &'a mut Asker,
    pub(crate) reader: &'a Reader,
    pub(crate) writer: &'a mut Writer,
    pub(crate) out: &'a mut Out,
    /// The questions put so far, for `<`.
    pub(crate) trail: &'a mut Vec<(usize, Flag)>,
    pub(crate) learning: &'a mut Learning,
}

/// What came of them.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    pub(crate) answered: usize,
    /// The input ended before the questions did.
    pub(crate) ended: bool,
}

/// What a line in answer to a question means.
enum Reply {
    Answer(Answer),
    /// `<`
    Back,
    /// `.`, or an answer of a script that does not fit.
    Later,
    End,
}

impl Asking<'_> {
    /// Puts the last question once more, and then what is open; gives nothing where there was none.
    pub(crate) fn back(&mut self, entries: &mut [Kept], visit: NaiveDate) -> Result<Option<Tally>, Fail> {
        let Some(last) = self.trail.pop() else { return Ok(None) };
        self.ask(entries, Some(last), |_| visit, |_| String::new()).map(Some)
    }

    /// Asks all that is open in `entries`; `visit` gives the day of an entry's visit, `head` what is shown before
    /// the first question of one.
    pub(crate) fn all(
        &mut self,
        entries: &mut [Kept],
        visit: impl Fn(&Kept) -> NaiveDate,
        head: impl Fn(&Kept) -> String,
    ) -> Result<Tally, Fail> {
        self.ask(entries, None, visit, head)
    }

    fn ask(
        &mut self,
        entries: &mut [Kept],
        mut again: Option<(usize, Flag)>,
        visit: impl Fn(&Kept) -> NaiveDate,
        head: impl Fn(&Kept) -> String,
    ) -> Result<Tally, Fail> {
        let mut tally = Tally::default();
        let mut later: HashSet<(usize, String)> = HashSet::new();
        let mut shown = None;
        let mut at = 0;
        loop {
            let Some((k, flag)) = again.take().or_else(|| next(entries, &mut at, &later)) else { return Ok(tally) };
            if shown != Some(k) {
                self.out.print(&head(&entries[k]))?;
                shown = Some(k);
            }
            match self.one(&entries[k], &flag, visit(&entries[k]))? {
                Reply::Answer(answer) => {
                    if self.keep(&mut entries[k], &answer)? {
                        self.learn(&entries[k], &flag, &answer, visit(&entries[k]))?;
                    }
                    tally.answered += 1;
                    self.trail.push((k, flag));
                    at = at.min(k);
                }
                Reply::Back => {
                    again = self.trail.pop();
                    if again.is_none() {
                        self.out.line("      this is the first question")?;
                        again = Some((k, flag));
                    }
                }
                Reply::Later => {
                    later.insert((k, flag.field.clone()));
                    self.trail.push((k, flag));
                }
                Reply::End => {
                    tally.ended = true;
                    return Ok(tally);
                }
            }
        }
    }

    fn one(&mut self, kept: &Kept, flag: &Flag, visit: NaiveDate) -> Result<Reply, Fail> {
        let choices = ask::choices(flag);
        self.out.print(&show::question(flag, &kept.line.entry.said, &choices))?;
        loop {
            let Some(line) = self.asker.line("    > ", self.out)? else { return Ok(Reply::End) };
            match line.trim() {
                "?" => {
                    self.out.print(&show::help(ask::explain(flag.kind), ask::enter_is_safe(flag)))?;
                    continue;
                }
                "<" => return Ok(Reply::Back),
                "." => return Ok(Reply::Later),
                "" if ask::enter_is_safe(flag) => {
                    return Ok(Reply::Answer(Answer { field: flag.field.clone(), value: choices[0].value.clone() }));
                }
                "" => {
                    self.out.line("      Enter takes nothing here: it has to be said. `.` leaves it open")?;
                }
                text => match ask::parse(text, flag, &choices, self.reader, visit, &kept.entry) {
                    Ok(answer) => return Ok(Reply::Answer(answer)),
                    Err(why) if self.asker.is_script() => self.out.trouble(why)?,
                    Err(why) => self.out.line(&format!("      {why}"))?,
                },
            }
            if self.asker.is_script() {
                return Ok(Reply::Later);
            }
        }
    }

    /// Offers to remember what the answer teaches.
    fn learn(&mut self, kept: &Kept, flag: &Flag, answer: &Answer, visit: NaiveDate) -> Result<(), Fail> {
        let (id, said) = (&kept.line.id, &kept.line.entry.said);
        if flag.options.first() != Some(&answer.value) || flag.field != answer.field {
            return self.learning.unlearn(id, flag, self.out);
        }
        match learn::lesson(flag, &answer.field, &answer.value, said, self.reader, visit) {
            Some(lesson) => self.learning.offer(&lesson, id, flag, self.asker, self.out),
            None => Ok(()),
        }
    }

    /// Whether the answer was kept.
    fn keep(&mut self, kept: &mut Kept, answer: &Answer) -> Result<bool, Fail> {
        let (entry, value, now) = (&kept.line.id, answer.value.clone(), clock::now()?);
        let line = AnswerLine::new(entry, &answer.field, value, now, |id| self.writer.has(id));
        let mut next = kept.clone();
        if let Err(why) = next.answer(line.clone()) {
            self.out.trouble(why)?;
            return Ok(false);
        }
        let records = [Record::Answer(line)];
        self.writer.append(&records).map_err(|e| Fail::not_kept(&e, &records))?;
        *kept = next;
        Ok(true)
    }
}

/// The first open question that was not put off, from entry `at` on.
fn next(entries: &[Kept], at: &mut usize, later: &HashSet<(usize, String)>) -> Option<(usize, Flag)> {
    while let Some(kept) = entries.get(*at) {
        let waits = |f: &&Flag| kept.struck.is_none() && !later.contains(&(*at, f.field.clone()));
        if let Some(flag) = kept.open.iter().find(waits) {
            return Some((*at, flag.clone()));
        }
        *at += 1;
    }
    None
}
