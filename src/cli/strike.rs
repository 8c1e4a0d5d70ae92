//! `strike`: take an entry back, or bring one back by striking its strike.

use chutescribe::log::{Book, Record, StrikeLine, fold};
use chutescribe::show;

use super::args::LogAt;
use super::clock;
use super::fail::Fail;
use super::out::Out;

#[derive(Debug, clap::Args)]
#[command(after_help = "Nothing is erased: the entry's line stays, and counts no more. To bring it back, strike the \
                        strike by its id.")]
pub(crate) struct Args {
    /// Id of the entry (its first characters will do), or `last`
    #[arg(value_name = "ID")]
    id: String,
    /// Why
    #[arg(long, value_name = "TEXT")]
    why: String,
    #[command(flatten)]
    log: LogAt,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let why = args.why.trim();
    if why.is_empty() {
        return Err(Fail::Told("a strike needs a reason: say it with `--why TEXT`".to_owned()));
    }
    let (mut writer, read) = args.log.open(out)?;
    let book = fold(read.records.into_iter().map(|r| r.1));
    let id = find(&book, &args.id)?;
    let line = StrikeLine::new(&id, why, clock::now()?, |id| writer.has(id));
    let strike = line.id.clone();
    let records = [Record::Strike(line)];
    writer.append(&records)?;
    match book.entries.iter().find(|e| e.line.id == id) {
        Some(entry) => {
            out.print(&show::entry(&entry.entry, &id))?;
            out.line(&format!("struck; `chutescribe strike {strike} --why TEXT` brings it back"))
        }
        None => out.line(&format!("the strike {id} is taken back; its entry counts again")),
    }
}

/// The id of the one entry or strike that is meant.
fn find(book: &Book, text: &str) -> Result<String, Fail> {
    if text == "last" {
        let last = book.entries.iter().rev().find(|e| e.struck.is_none());
        return last.map(|e| e.line.id.clone()).ok_or_else(|| Fail::Told("there is no entry to strike".to_owned()));
    }
    let ids = book.entries.iter().map(|e| &e.line.id).chain(book.strikes.iter().map(|s| &s.id));
    let mut found: Vec<&String> = ids.filter(|id| !text.is_empty() && id.starts_with(text)).collect();
    found.dedup();
    match found.as_slice() {
        [one] => match book.entries.iter().find(|e| e.line.id == **one).and_then(|e| e.struck.as_ref()) {
            Some(why) => Err(Fail::Told(format!("entry `{one}` is struck already: {why}"))),
            None => Ok((*one).clone()),
        },
        [] => Err(Fail::Told(format!("the log has no entry `{text}`"))),
        many => Err(Fail::Told(format!("`{text}` fits {} entries; give more of the id", many.len()))),
    }
}
