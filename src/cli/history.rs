//! `history`: what was said of one cow at one visit, asked, answered and struck, and when.

use chutescribe::log::{Record, history};
use chutescribe::show;

use super::args::{LogAt, no_log};
use super::fail::Fail;
use super::meant::Meant;
use super::out::Out;

#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    /// Id of the entry (its first characters will do), or `last`
    #[arg(value_name = "ID")]
    id: String,
    #[command(flatten)]
    log: LogAt,
    /// The lines, without their seals
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let mut meant = Meant::new(&args.id);
    let (writer, rest) = args.log.open(out, |kept| meant.look(kept))?;
    let found = meant.one(&[])?;
    let records = history::of(writer.path(), &found.id).map_err(|e| no_log(writer.path(), &e))?;
    let records: Vec<Record> = records.into_iter().map(|r| r.1).collect();
    if args.json {
        return records.iter().try_for_each(|r| out.line(&r.line()));
    }
    if let Some(kept) = &found.entry {
        out.print(&show::entry(&kept.entry, &found.id))?;
        if let Some(why) = &kept.struck {
            out.line(&format!("  struck       {why}"))?;
        }
        out.line("")?;
    }
    out.print(&show::history(&found.id, &records))?;
    for misfit in rest.misfits.iter().filter(|m| m.entry == found.id) {
        out.trouble(format_args!("{}:{}: {}", writer.path().display(), misfit.line, misfit.what))?;
    }
    Ok(())
}
