//! `strike`: take an entry back, or bring one back by striking its strike.

use chutescribe::log::{Record, StrikeLine};
use chutescribe::show;

use super::args::LogAt;
use super::clock;
use super::fail::Fail;
use super::meant::Meant;
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
    let mut meant = Meant::new(&args.id);
    let (mut writer, rest) = args.log.open(out, |kept| meant.look(kept))?;
    let found = meant.one(&rest.strikes)?;
    if let Some(why) = found.entry.as_ref().and_then(|e| e.struck.as_ref()) {
        return Err(Fail::Told(format!("entry `{}` is struck already: {why}", found.id)));
    }
    let line = StrikeLine::new(&found.id, why, clock::now()?, |id| writer.has(id));
    let strike = line.id.clone();
    let records = [Record::Strike(line)];
    writer.append(&records)?;
    match found.entry {
        Some(kept) => {
            out.print(&show::entry(&kept.entry, &found.id))?;
            out.line(&format!("struck; `chutescribe strike {strike} --why TEXT` brings it back"))
        }
        None => out.line(&format!("the strike {} is taken back; its entry counts again", found.id)),
    }
}
