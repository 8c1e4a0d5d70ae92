//! Lines become records: in the file's order, block by block, so that memory does not grow with the file.

use std::collections::HashMap;
use std::hash::BuildHasher;
use std::sync::Arc;

use chrono::NaiveDate;
use rustc_hash::FxBuildHasher;
use serde_json::json;

use super::calendar::Day;
use super::ditto::{self, Above};
use super::prepare::{Cow, Is, Looker, NoteLine, PERIOD, Prepared, UNKNOWN};
use super::rewrite::Rewrite;
use super::scan::Plan;
use super::sort::Why;
use super::text::BadLine;
use crate::entry::{DueWhat, Entry};
use crate::flag::{Flag, FlagKind, Level};
use crate::jobs::Jobs;
use crate::log::record::{EntryLine, LineKind, Source, Stamp, VERSION};
use crate::log::{VisitLine, id};
use crate::vocab::sound;

/// What a line of a notebook came to.
#[derive(Clone, Debug)]
pub enum Item {
    Visit(Box<Visit>),
    Entries { line: usize, text: String, entries: Vec<EntryLine>, held: bool },
    Other { line: usize, text: String, why: Why, visit: Option<String> },
    Bad { line: usize, why: BadLine },
}

/// A heading, or what stands before the first one.
#[derive(Clone, Debug)]
pub struct Visit {
    /// Of the heading; 0 before the first one.
    pub line: usize,
    pub text: String,
    pub day: Day,
    /// As the log will have it; none while the date is not known.
    pub record: Option<VisitLine>,
}

impl Visit {
    /// Whether it waits for an answer, and with it all its entries.
    pub fn held(&self) -> bool {
        self.record.is_none() || self.day.flags.iter().any(Flag::asks)
    }
}

/// Reads notes, each by itself: several threads may.
#[derive(Clone, Debug)]
pub struct Reads<'a> {
    looker: &'a Looker<'a>,
    /// Name of the file without its folders.
    file: String,
    at: Stamp,
}

/// Turns prepared lines into records.
#[derive(Debug)]
pub struct Import<'a> {
    reads: Reads<'a>,
    plan: &'a Plan,
    trimmer: Option<String>,
    visit: Arc<Open>,
    above: Option<Above>,
    cow_before: Option<String>,
    /// The last line of each cow of the visit.
    cows: HashMap<String, usize>,
    /// How often each entry has been named in `named`.
    seen: HashMap<u64, usize>,
    /// The visit whose entries got their ids last, and which time it was opened.
    named: (String, Option<usize>),
    /// How often each visit was opened.
    opened: HashMap<u64, usize>,
    shown_first: bool,
}

#[derive(Debug, Default)]
struct Open {
    id: String,
    /// Which time it is, where it is not the first.
    opened: Option<usize>,
    date: Option<NaiveDate>,
    held: bool,
}

/// A note that waits to be read.
struct Job {
    line: usize,
    text: String,
    note: Box<NoteLine>,
    full: Rewrite,
    cow_before: Option<String>,
    /// With the herd's tags known: a line of the visit, not the one above, that has this cow already.
    again: Option<usize>,
    visit: Arc<Open>,
}

/// A line on its way: what it came to, or a note that waits to be read.
pub struct Step(State);

enum State {
    Done(Box<Item>),
    Job(Box<Job>),
}

impl<'a> Import<'a> {
    pub fn new(looker: &'a Looker<'a>, plan: &'a Plan, file: &str, trimmer: Option<String>, at: Stamp) -> Self {
        Self {
            reads: Reads { looker, file: file.to_owned(), at },
            plan,
            trimmer,
            visit: Arc::default(),
            above: None,
            cow_before: None,
            cows: HashMap::new(),
            seen: HashMap::new(),
            named: Default::default(),
            opened: HashMap::new(),
            shown_first: false,
        }
    }

    /// The items of a block of lines, in order.
    pub fn block(&mut self, lines: Vec<Prepared>, jobs: &Jobs) -> Vec<Item> {
        let steps = self.steps(lines);
        let mut items = self.reads.items(steps, jobs);
        self.name(&mut items);
        items
    }

    /// What reads the notes among the steps.
    pub fn reads(&self) -> Reads<'a> {
        self.reads.clone()
    }

    /// The lines of the next block, with what those before them tell.
    pub fn steps(&mut self, lines: Vec<Prepared>) -> Vec<Step> {
        lines.into_iter().flat_map(|l| self.step(l)).collect()
    }

    /// Gives the entries of the next items their ids.
    pub fn name(&mut self, items: &mut [Item]) {
        for item in items {
            self.name_entries(item);
        }
    }

    /// The ids of a line's entries. In the file's order: an id tells which of several alike it is.
    fn name_entries(&mut self, item: &mut Item) {
        let Item::Entries { entries, .. } = item else { return };
        if let Some(first) = entries.first() {
            let visit = (first.visit.clone(), first.source.as_ref().and_then(|s| s.opened));
            if visit != self.named {
                self.named = visit;
                self.seen.clear();
            }
        }
        for (cow, line) in entries.iter_mut().enumerate() {
            let reads = line.source.as_ref().and_then(|s| s.reads.as_deref());
            let nth = self.seen.entry(FxBuildHasher.hash_one((&line.entry.said, reads, cow))).or_default();
            *nth += 1;
            line.id = id::entry_of(&line.visit, &line.entry.said, line.source.as_ref(), cow, *nth);
        }
    }

    fn step(&mut self, line: Prepared) -> Vec<Step> {
        let Prepared { number, text, is } = line;
        let done = |item| vec![Step(State::Done(Box::new(item)))];
        match is {
            Is::Blank => vec![],
            Is::Bad(why) => done(Item::Bad { line: number, why }),
            Is::Heading(_) => {
                let day = self.plan.days.get(&number).map(|d| d.0.clone()).unwrap_or_default();
                done(Item::Visit(Box::new(self.open(number, text, day))))
            }
            Is::Other(_) if self.plan.consumed.contains(&number) => vec![],
            Is::Perhaps(_, why) | Is::Other(why) => {
                // What the whole file told to be a heading.
                if let Some((day, _)) = self.plan.days.get(&number) {
                    return done(Item::Visit(Box::new(self.open(number, text, day.clone()))));
                }
                let visit = (!self.visit.id.is_empty()).then(|| self.visit.id.clone());
                done(Item::Other { line: number, text, why, visit })
            }
            Is::Note(note) => {
                let mut steps = vec![];
                if self.visit.id.is_empty() && !self.shown_first {
                    let visit = self.open(0, String::new(), self.plan.first.clone());
                    steps.push(Step(State::Done(Box::new(Item::Visit(Box::new(visit))))));
                }
                steps.push(self.job(number, text, note));
                steps
            }
        }
    }

    fn open(&mut self, line: usize, text: String, day: Day) -> Visit {
        self.shown_first = true;
        let record = day.date.map(|date| {
            let mut record = VisitLine::new(day.farm.as_deref(), date, self.trimmer.as_deref(), self.reads.at);
            if let Some(head) = day.head {
                record.other.insert("head".to_owned(), json!(head));
            }
            if !day.flags.is_empty() {
                record.other.insert("flags".to_owned(), json!(day.flags));
            }
            if line > 0 {
                record.other.insert("said".to_owned(), json!(text));
                record.other.insert("source".to_owned(), json!({"file": self.reads.file, "line": line}));
            }
            record
        });
        let visit = Visit { line, text, day, record };
        let id = visit.record.as_ref().map_or_else(|| format!("line {line}"), |r| r.id.clone());
        let again = self.opened.entry(FxBuildHasher.hash_one(&id)).or_default();
        *again += 1;
        // The same visit opened twice: its lines are not those of the first time.
        let opened = (*again > 1).then_some(*again);
        self.cows.clear();
        self.above = None;
        self.visit = Arc::new(Open { id, opened, date: visit.record.as_ref().map(|r| r.date), held: visit.held() });
        visit
    }

    fn job(&mut self, line: usize, text: String, note: Box<NoteLine>) -> Step {
        let mut note = note;
        if note.ditto {
            let (of_her, vocab) = (!matches!(note.cow, Cow::None), self.reads.looker.reader.vocabulary());
            note.body = ditto::resolve(&note.body, of_her, self.above.as_ref(), vocab, &self.reads.looker.flat);
        }
        let mut full = Rewrite::default();
        let mut cow = None;
        match &note.cow {
            Cow::None => full = note.body.clone(),
            Cow::Ditto(mark) => match self.above.as_ref().map(|a| a.cow.clone()).filter(|c| !c.is_empty()) {
                Some(number) => {
                    cue(&mut full, &number, mark.clone(), &note.body, self.reads.looker);
                    cow = Some(number);
                }
                None => full = note.body.clone(),
            },
            Cow::Tags(tags) => {
                for (i, (number, at)) in tags.iter().enumerate() {
                    if i > 0 {
                        full.put(". ", at.clone());
                    }
                    cue(&mut full, number, at.clone(), &note.body, self.reads.looker);
                    cow = Some(number.clone());
                }
            }
        }
        let mut rest = note.body.text.as_str();
        if let Some(last) = &note.last_cow {
            rest = rest.rsplit_once(&format!("cow {last}")).map_or(rest, |r| r.1);
            cow = Some(last.clone());
        }
        self.above = Some(Above { cow: cow.clone().unwrap_or_default(), rest: rest.trim().to_owned() });
        let before = self.cow_before.clone();
        let listed = self.reads.looker.reader.roster().is_some_and(|r| !r.is_soft());
        let again =
            cow.as_ref().filter(|_| listed).and_then(|c| self.cows.insert(c.clone(), line)).filter(|_| cow != before);
        self.cow_before = cow.or(self.cow_before.take());
        Step(State::Job(Box::new(Job { line, text, note, full, cow_before: before, again, visit: self.visit.clone() })))
    }
}

impl Reads<'_> {
    /// The items of a block, in order.
    pub fn items(&self, steps: Vec<Step>, jobs: &Jobs) -> Vec<Item> {
        jobs.in_order(steps, |Step(step)| match step {
            State::Done(item) => *item,
            State::Job(job) => self.read(*job),
        })
    }

    fn read(&self, job: Job) -> Item {
        let fallback = self.at.date_naive();
        let date = job.visit.date.unwrap_or(fallback);
        let reading = self.looker.reader.read(&job.full.text, date, job.cow_before.as_deref());
        let mut entries = Vec::with_capacity(reading.entries.len());
        let several = reading.entries.len() > 1;
        let mut from = 0;
        for (k, entry) in reading.entries.into_iter().enumerate() {
            // Where her part stands in what was read.
            let start = job.full.text[from..].find(&entry.said).map_or(from, |s| s + from);
            let said = if several { said(&job, start, &entry.said) } else { job.text.clone() };
            let offset = if several { job.text.find(&said).unwrap_or(0) } else { 0 };
            let entry = self.finish(entry, &job, start, offset, said, k);
            from = start;
            entries.push(EntryLine {
                v: VERSION,
                kind: LineKind::Entry,
                // Given afterwards, in the file's order.
                id: String::new(),
                at: self.at,
                visit: job.visit.id.clone(),
                entry,
                source: Some(Source {
                    reads: job.note.ditto.then(|| job.full.text.clone()),
                    opened: job.visit.opened,
                    ..Source::line(Some(self.file.clone()), job.line)
                }),
            });
        }
        Item::Entries { line: job.line, text: job.text, entries, held: job.visit.held }
    }

    /// The entry with flags that point into the line, and with those of what was mended.
    fn finish(&self, mut entry: Entry, job: &Job, start: usize, offset: usize, said: String, k: usize) -> Entry {
        for flag in &mut entry.flags {
            // On paper nothing is heard.
            if let Some(told) = flag.message.strip_prefix("heard ") {
                flag.message = format!("read {told}");
            }
            flag.at = flag.at.and_then(|[a, b]| {
                let source = job.full.source(start + a..start + b);
                inside(source.start, source.end, offset, said.len())
            });
        }
        entry.said = said;
        if let (Cow::Tags(tags), Some(cow)) = (&job.note.cow, entry.cow.clone()) {
            // A letter after the digits is a part of the tag, though not of the number that was read.
            if let Some((number, _)) = tags.get(k).filter(|t| t.0 != cow && digits(&t.0) == cow) {
                entry.cow = Some(number.clone());
                let on_list = self.looker.reader.roster().is_none_or(|r| r.is_soft() || r.has(number));
                entry.flags.retain(|f| f.field != "cow" || !on_list);
            }
        }
        let mut asked = entry.findings.len();
        // On paper a word that was not understood is as likely a lesion misread as talk: it is asked.
        let record = !entry.is_bare();
        for flag in entry.flags.iter_mut().filter(|f| record && !f.asks() && is_word(f)) {
            flag.level = Level::Ask;
            flag.field = format!("findings[{asked}]");
            flag.options = vec![json!(null)];
            asked += 1;
        }
        // A foot or a zone with nothing that is wrong there, signs that no pen writes, words that nobody says: misread.
        let misread = job.note.place || job.text.contains(STRANGE) || entry.remarks.iter().any(|r| is_noise(r));
        let asked_anyway = !job.note.unknown.is_empty() || entry.questions().next().is_some();
        if !record && k == 0 && !asked_anyway && misread {
            let told = format!("kept as a remark, not understood: {}", entry.remarks.join(" "));
            entry.flags.push(Flag::ask(FlagKind::Unread, format!("findings[{asked}]"), told).options([json!(null)]));
            asked += 1;
        }
        if let (Some(before), Some(cow)) = (job.again, &entry.cow)
            && entry.flags.iter().all(|f| f.field != "cow")
        {
            let told = format!("cow {cow} stands in line {before} of this visit already");
            entry.flags.push(Flag::ask(FlagKind::CowDoubtful, "cow", told).options([json!(cow)]));
        }
        if k == 0 {
            for flag in &job.note.flags {
                let at = flag.at.and_then(|[a, b]| inside(a, b, offset, entry.said.len()));
                let mut flag = Flag { at, ..flag.clone() };
                if flag.field == UNKNOWN {
                    // It may be one finding more.
                    flag.field = format!("findings[{asked}]");
                    flag.options = vec![json!(null)];
                    asked += 1;
                }
                if flag.field == PERIOD {
                    let Some(k) = entry.due.iter().rposition(|d| d.what == DueWhat::Recheck) else { continue };
                    flag.field = format!("due[{k}].on");
                    flag.options = entry.due[k].on.iter().map(|d| json!(d)).collect();
                }
                let there = flag.field == "cow" && entry.flags.iter().any(|f| f.field == "cow" && f.asks());
                if !there {
                    entry.flags.push(flag);
                }
            }
        }
        if job.visit.date.is_none() {
            // Days are counted from a visit that has none yet.
            for due in &mut entry.due {
                due.on = None;
            }
        }
        if entry.is_bare() && !job.note.unknown.is_empty() {
            // What was taken out stands in the remark again.
            match entry.remarks.as_mut_slice() {
                [] => entry.remarks.push(job.note.unknown.join(" ")),
                [remark] if !job.note.ditto && offset == 0 => {
                    let body = job.note.body.source(0..job.note.body.text.len());
                    job.text.get(body.start..).unwrap_or_default().trim().clone_into(remark);
                }
                _ => {}
            }
        }
        entry
    }
}

/// Signs that OCR makes of strokes.
const STRANGE: [char; 11] = ['[', ']', '{', '}', '|', '\\', '~', '^', '_', '<', '>'];

/// Whether most words of a remark are none that people say: OCR's, more likely than a remark.
fn is_noise(remark: &str) -> bool {
    let words = || remark.split(|c: char| !c.is_alphabetic()).filter(|w| w.len() > 1);
    words().filter(|w| !sound::is_known(&w.to_lowercase())).count() * 2 > words().count()
}

/// Words and numbers that were not understood; not those that only belong to nothing.
fn is_word(flag: &Flag) -> bool {
    flag.kind == FlagKind::NumberLoose || (flag.kind == FlagKind::Unread && flag.message.starts_with("not understood"))
}

/// The cow's cue before what is said of her.
fn cue(full: &mut Rewrite, number: &str, at: std::ops::Range<usize>, body: &Rewrite, looker: &Looker) {
    let first = body.text.split_whitespace().next().unwrap_or_default();
    let word = first.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase();
    let mixed = word.starts_with(|c: char| c.is_alphabetic()) && word.bytes().any(|b| b.is_ascii_digit());
    // "Do" would be a figure of her number.
    let apart = matches!(word.as_str(), "do" | "to" | "too" | "for")
        || !mixed && !looker.reader.vocabulary().knows(&word)
        || word.starts_with(|c: char| c.is_ascii_digit());
    let read = if number.bytes().next().is_some_and(|b| b.is_ascii_digit()) { digits(number) } else { number };
    full.put(&format!("cow {read}{} ", if apart && !word.is_empty() { "," } else { "" }), at);
    full.append(body);
}

/// The digits that a tag begins with.
fn digits(number: &str) -> &str {
    &number[..number.bytes().take_while(u8::is_ascii_digit).count()]
}

fn inside(start: usize, end: usize, offset: usize, len: usize) -> Option<[usize; 2]> {
    let (start, end) = (start.checked_sub(offset)?, end.checked_sub(offset)?);
    (end <= len && start <= end).then_some([start, end])
}

/// Her part of the line, of several cows.
fn said(job: &Job, start: usize, part: &str) -> String {
    let source = job.full.source(start..start + part.len());
    job.text.get(source).map_or_else(|| job.text.clone(), |s| s.trim().to_owned())
}
