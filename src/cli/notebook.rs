//! `notebook`: old notes in bulk. Shows first, writes with `--write`.

use std::fs::File;
use std::io::{BufReader, Read};
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use chutescribe::jobs::Jobs;
use chutescribe::log::record::OTHER;
use chutescribe::log::{EntryLine, Record, Writer};
use chutescribe::notebook::table::{Row, Rows};
use chutescribe::notebook::text::{BadFile, Line, Lines};
use chutescribe::notebook::{
    self, Decision, Earlier, Given, Import, Item, Looker, Order, Plan, Prepared, Scan, answers,
};
use chutescribe::{Reader, show};
use serde_json::json;

use super::args::{Hearing, LogAt, no_log, text_of};
use super::asker::Asker;
use super::clock;
use super::fail::Fail;
use super::notebook_asking;
use super::notebook_page::Page;
use super::notebook_progress::Progress;
use super::out::Out;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Nothing is written without `--write`. What cannot be decided from the file is asked once: at a \
                        terminal, or in the file that `--answers` names, which is made where it is not there. Visits \
                        whose day or farm is in doubt are not written until that is answered."
)]
pub(crate) struct Args {
    /// The notebook, typed up or read by OCR; or a table (`.csv`, `.tsv`)
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Add to the log what it does not have yet
    #[arg(long)]
    write: bool,
    /// Print what would be written, one JSON object a line, and the lines that are no hoof notes
    #[arg(long, conflicts_with = "write")]
    json: bool,
    /// Which comes first in dates such as 6/5/18, where the file does not tell
    #[arg(long, value_name = "ORDER")]
    dates: Option<Dates>,
    /// The day of what stands before the first heading, such as 2018-06-05
    #[arg(long, value_name = "DATE")]
    on: Option<NaiveDate>,
    /// The farm of what stands before the first heading
    #[arg(long, value_name = "NAME")]
    farm: Option<String>,
    /// Who trimmed
    #[arg(long, value_name = "NAME")]
    trimmer: Option<String>,
    /// What was asked about the whole file, with the answers: read where it is there, and written with what is still open
    #[arg(long, value_name = "FILE")]
    answers: Option<PathBuf>,
    /// What the columns of a table are, by number from 1 or by name: `cow=2,date=1,farm=Place,note=5+6`
    #[arg(long, value_name = "LIST")]
    columns: Option<String>,
    /// How many threads read
    #[arg(long, value_name = "N", default_value_t = 1)]
    jobs: usize,
    /// Ask even where there is no terminal: answers come from standard input
    #[arg(long, hide = true)]
    ask: bool,
    #[command(flatten)]
    hearing: Hearing,
    #[command(flatten)]
    log: LogAt,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Dates {
    DayFirst,
    MonthFirst,
}

/// Lines that are held at once.
const BLOCK: usize = 1024;

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let now = clock::now()?;
    let mut given = args.given(out)?;
    let mut reader = args.hearing.reader(out)?;
    let source = Source::open(&args.file, args.columns.as_deref())?;
    if let Some(told) = source.columns() {
        out.tell(told)?;
    }
    let interactive = args.ask || (std::io::IsTerminal::is_terminal(&std::io::stdin()) && !args.json);
    let jobs = Jobs::new(args.jobs);
    let (scan, sums) = first_look(&source, &reader, &given, &jobs, out)?;
    let mut plan = scan.plan(&given, now.date_naive());
    let mut open = answers::questions(&scan, &plan, &given);
    if interactive && !open.is_empty() {
        let before = reader.vocabulary().forms().len();
        notebook_asking::ask(&open, &mut given, &reader, &args.hearing, &mut Asker::new()?, out)?;
        if let Ok(vocab) = args.hearing.vocabulary()
            && vocab.forms().len() != before
        {
            reader.set_vocabulary(vocab);
        }
        plan = scan.plan(&given, now.date_naive());
        open = answers::questions(&scan, &plan, &given);
        open.retain(|q| q.name.strip_prefix("word ").is_none_or(|w| !given.words.contains_key(w)));
    }
    if let Some(path) = &args.answers {
        let text = answers::write(&source.short, &given, &open);
        std::fs::write(path, text)
            .map_err(|e| Fail::Told(format!("`{}` cannot be written: {}", path.display(), show::trouble(&e))))?;
    }
    let mut page = Page::new(args.json, args.write, order_told(&scan, &plan, &given), &open);
    let path = args.log.path()?;
    if args.write {
        LogAt::tell(&path, out)?;
    }
    let mut writer = Writer::new(&path);
    writer.look()?;
    let look = |e: std::io::Error| no_log(&path, &e);
    let mut earlier = Earlier::of(&path, &source.short).map_err(look)?;
    let looker = Looker::new(&reader, given.words.clone().into_iter().collect());
    let import = Import::new(&looker, &plan, &source.short, args.trimmer.clone(), now);
    second_look(args, &jobs, &source, &sums, import, &looker, &mut writer, &mut earlier, &mut page, out)?;
    let (count, lines) = earlier.otherwise();
    let otherwise = (count, lines.to_vec());
    let (left, gone) = if page.held() == 0 {
        (earlier.left(), earlier.gone(&path, &source.short, GONE).map_err(look)?)
    } else {
        (0, vec![])
    };
    page.end(&open, args.answers.as_deref(), out)?;
    page.otherwise(otherwise.0, &otherwise.1, out)?;
    page.gone(left, &gone, out)
}

/// How many entries of the log that are not in the file any more are named.
const GONE: usize = 20;

impl Args {
    fn given(&self, out: &mut Out) -> Result<Given, Fail> {
        let mut from_file = Given::default();
        if let Some(path) = self.answers.as_ref().filter(|p| p.exists()) {
            let (given, bad) = answers::read(&text_of(path)?);
            for (line, why) in bad {
                out.trouble(format_args!("{}:{line}: {why}", path.display()))?;
            }
            from_file = given;
        }
        let order = self.dates.map(|d| match d {
            Dates::DayFirst => Order::DayFirst,
            Dates::MonthFirst => Order::MonthFirst,
        });
        let over = Given { order, date: self.on, farm: self.farm.clone(), ..Given::default() };
        Ok(answers::merged(from_file, over))
    }
}

/// What the file is read through, each time anew.
struct Source {
    path: PathBuf,
    name: String,
    short: String,
    table: Option<notebook::table::Columns>,
}

impl Source {
    fn open(path: &Path, columns: Option<&str>) -> Result<Self, Fail> {
        let name = path.display().to_string();
        let short = path.file_name().map_or(name.clone(), |n| n.to_string_lossy().into_owned());
        let mut source = Self { path: path.to_owned(), name, short, table: None };
        let mut lines = source.lines(&source.progress("", false))?;
        let mut head = Vec::new();
        while head.len() < notebook::table::LOOK {
            let Some(line) = lines.next_line().map_err(|e| source.cannot(&e))? else { break };
            if let Ok(text) = line.text {
                head.push(text);
            }
        }
        source.table =
            notebook::table::Columns::guess(&head, columns).map_err(|e| Fail::Told(format!("{}: {e}", source.name)))?;
        Ok(source)
    }

    fn columns(&self) -> Option<String> {
        self.table.as_ref().map(|t| format!("a table: {t}; `--columns` changes it"))
    }

    fn cannot(&self, e: &std::io::Error) -> Fail {
        Fail::Told(format!("`{}` cannot be read: {}", self.name, show::trouble(e)))
    }

    fn progress(&self, what: &'static str, shown: bool) -> Progress {
        let length = std::fs::metadata(&self.path).map_or(0, |m| m.len());
        Progress::new(length, what, shown)
    }

    fn lines(&self, progress: &Progress) -> Result<Lines<Box<dyn Read>>, Fail> {
        let file = File::open(&self.path).map_err(|e| match e.kind() {
            std::io::ErrorKind::NotFound => Fail::Told(format!("there is no file `{}`", self.name)),
            _ => self.cannot(&e),
        })?;
        let meta = file.metadata().map_err(|e| self.cannot(&e))?;
        if meta.is_dir() {
            return Err(Fail::Told(format!("`{}` is a folder; name one file in it", self.name)));
        }
        if !meta.is_file() {
            return Err(Fail::Told(format!("`{}` is no file; it is read twice, so save it first", self.name)));
        }
        let file = BufReader::with_capacity(64 * 1024, progress.counted(file));
        Lines::new(Box::new(file) as Box<dyn Read>).map_err(|e| match e {
            BadFile::Io(e) => self.cannot(&e),
            bad => Fail::Told(format!("`{}`: {bad}", self.name)),
        })
    }

    /// The lines in blocks, looked at; while a block is taken in, the next one is looked at.
    fn blocks(
        &self,
        looker: &Looker,
        jobs: &Jobs,
        progress: &Progress,
        mut with: impl FnMut(usize, u64, Vec<Prepared>) -> Result<(), Fail>,
    ) -> Result<(), Fail> {
        let rows = self.table.as_ref().map(notebook::table::Columns::rows);
        let mut blocks = Blocks { source: self, lines: self.lines(progress)?, rows, ended: false };
        let look = |(sum, rows)| (sum, jobs.in_order(rows, |row: Row| row.look(looker)));
        let mut next = blocks.next()?.map(look);
        let mut number = 0;
        while let Some((sum, block)) = next {
            let ahead = blocks.next();
            let (taken, looked) = jobs.beside(|| with(number, sum, block), || ahead.map(|rows| rows.map(look)));
            taken?;
            // What cannot be read is told after all that stands before it.
            next = looked?;
            progress.show();
            number += 1;
        }
        Ok(())
    }
}

/// The lines of a file, block by block.
struct Blocks<'a> {
    source: &'a Source,
    lines: Lines<Box<dyn Read>>,
    rows: Option<Rows<'a>>,
    ended: bool,
}

impl Blocks<'_> {
    /// The next block, and what its lines were; none at the end.
    fn next(&mut self) -> Result<Option<(u64, Vec<Row>)>, Fail> {
        if self.ended {
            return Ok(None);
        }
        let mut block: Vec<Line> = Vec::with_capacity(BLOCK);
        let mut sum = Sum::default();
        while block.len() < BLOCK {
            let Some(line) = self.lines.next_line().map_err(|e| self.source.cannot(&e))? else {
                self.ended = true;
                break;
            };
            sum.add(&line);
            block.push(line);
        }
        let rows = match &mut self.rows {
            Some(rows) => {
                let mut all: Vec<_> = block.into_iter().flat_map(|l| rows.take(l)).collect();
                if self.ended {
                    all.extend(rows.end());
                }
                all
            }
            None => block.into_iter().map(Row::Line).collect(),
        };
        Ok(Some((sum.0, rows)))
    }
}

/// What the lines of a block were, so that a change is seen before anything of it is written.
#[derive(Default)]
struct Sum(u64);

impl Sum {
    fn add(&mut self, line: &Line) {
        use std::hash::{DefaultHasher, Hash, Hasher};
        let mut hasher = DefaultHasher::new();
        self.0.hash(&mut hasher);
        match &line.text {
            Ok(text) => text.hash(&mut hasher),
            Err(bad) => bad.to_string().hash(&mut hasher),
        }
        self.0 = hasher.finish();
    }
}

fn first_look(
    source: &Source,
    reader: &Reader,
    given: &Given,
    jobs: &Jobs,
    out: &mut Out,
) -> Result<(Scan, Vec<u64>), Fail> {
    let looker = Looker::new(reader, given.words.clone().into_iter().collect());
    let (mut scan, mut sums) = (Scan::default(), vec![]);
    let progress = source.progress("looking", true);
    source.blocks(&looker, jobs, &progress, |_, sum, block| {
        sums.push(sum);
        for line in &block {
            scan.add(line);
        }
        Ok(())
    })?;
    if scan.lines == 0 {
        out.trouble(format_args!("{}: there is no line in it", source.name))?;
    }
    Ok((scan, sums))
}

#[expect(clippy::too_many_arguments, reason = "one place where all of it comes together")]
fn second_look(
    args: &Args,
    jobs: &Jobs,
    source: &Source,
    sums: &[u64],
    mut import: Import,
    looker: &Looker,
    writer: &mut Writer,
    earlier: &mut Earlier,
    page: &mut Page,
    out: &mut Out,
) -> Result<(), Fail> {
    let mut known = chutescribe::log::id::Seen::default();
    // What is shown while it is read would run into a bar.
    let quiet = args.write || !std::io::IsTerminal::is_terminal(&std::io::stdout());
    let progress = source.progress(if args.write { "writing" } else { "reading" }, quiet);
    let reads = import.reads();
    let mut read: Vec<Item> = Vec::new();
    // While a block is read, the one before it is taken in.
    let mut take = |items: Vec<Item>, import: &mut Import, page: &mut Page, out: &mut Out| {
        let mut items = items;
        import.name(&mut items);
        let added = if args.write {
            let records = records(&items, &source.short, writer, &mut known);
            let added = writer.append(&records).map_err(|e| Fail::not_kept(&e, &records))?;
            let is_entry = |r: &&Record| matches!(r, Record::Entry(_));
            records.iter().zip(added).filter(|(r, _)| is_entry(r)).map(|(_, a)| a).collect()
        } else {
            entries(&items).map(|e| !writer.has(&e.id)).collect::<Vec<bool>>()
        };
        entries(&items).for_each(|e| earlier.came(e));
        page.items(items, &added, &source.name, out)
    };
    source.blocks(looker, jobs, &progress, |number, sum, block| {
        let before = std::mem::take(&mut read);
        if sums.get(number) != Some(&sum) {
            take(before, &mut import, page, out)?;
            return Err(changed(&source.name, number * BLOCK + 1, args.write, page.added()));
        }
        let steps = import.steps(block);
        let (taken, items) = jobs.beside(|| take(before, &mut import, page, out), || reads.items(steps, jobs));
        read = items;
        taken
    })?;
    take(read, &mut import, page, out)
}

/// Entries for the log, without what is held.
fn entries(items: &[Item]) -> impl Iterator<Item = &EntryLine> {
    let of = |item| match item {
        &Item::Entries { ref entries, held: false, .. } => entries.as_slice(),
        _ => &[],
    };
    items.iter().flat_map(of)
}

/// The file is another one than at the first look.
fn changed(name: &str, line: usize, write: bool, added: usize) -> Fail {
    let kept = if write && added > 0 {
        let (entries, are) = (show::count(added, "entry", "entries"), show::plural(added, "is", "are"));
        format!("; {entries} of the lines before {are} in the log, and will not be added twice")
    } else {
        String::new()
    };
    Fail::Told(format!("`{name}` changed while it was read: nothing from line {line} on was taken{kept}; run it again"))
}

/// The lines for the log, without what is held.
fn records(items: &[Item], file: &str, writer: &Writer, known: &mut chutescribe::log::id::Seen) -> Vec<Record> {
    let mut records = Vec::new();
    for item in items {
        match item {
            Item::Visit(v) if !v.held() => records.extend(v.record.clone().map(Record::Visit)),
            Item::Entries { entries, held: false, .. } => {
                records.extend(entries.iter().map(|e| Record::Entry(Box::new(e.clone()))));
            }
            Item::Other { line, text, why, visit } => {
                let (id, raw) = other(file, *line, text, *why, visit.as_deref(), known);
                if !writer.has(&id) {
                    records.push(Record::Unknown { kind: OTHER.to_owned(), id: Some(id), raw });
                }
            }
            _ => {}
        }
    }
    records
}

/// A line that is no hoof note, as the log keeps it.
fn other(
    file: &str,
    line: usize,
    text: &str,
    why: notebook::Why,
    visit: Option<&str>,
    known: &mut chutescribe::log::id::Seen,
) -> (String, String) {
    let id = known.other(visit, file, text);
    let mut object = json!({"v": 1, "kind": OTHER, "id": id});
    if let Some(visit) = visit {
        object["visit"] = json!(visit);
    }
    object["why"] = json!(why);
    object["said"] = json!(text);
    object["source"] = json!({"file": file, "line": line});
    (id, object.to_string())
}

/// How the order of day and month was decided, in words.
fn order_told(scan: &Scan, plan: &Plan, given: &Given) -> Option<String> {
    if let Some(order) = given.order {
        return Some(format!("dates are {}, as you said", order.words()));
    }
    match scan.order() {
        Decision::Found(order, why) => Some(format!("dates are {}: {why}", order.words())),
        Decision::Contradictory { day_first, month_first, .. } if plan.order.is_none() => Some(format!(
            "dates contradict: line {day_first} can only be day first, line {month_first} only month first"
        )),
        _ => None,
    }
}
