//! `cow`: one animal's whole history.

use std::path::PathBuf;

use chutescribe::report::cases::GAP;
use chutescribe::report::{Scope, cow};

use super::args::LogAt;
use super::clock;
use super::fail::Fail;
use super::out::Out;
use super::report::{foot, material};

#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    /// Her number
    #[arg(value_name = "TAG")]
    tag: String,
    /// Only at this farm: another farm may have a cow of that number
    #[arg(long, value_name = "NAME")]
    farm: Option<String>,
    #[command(flatten)]
    log: LogAt,
    /// Also draw the foot map into this file (SVG)
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
    /// Days after which the same lesion at the same place is a new one
    #[arg(long, value_name = "DAYS", default_value_t = GAP, value_parser = clap::value_parser!(i64).range(0..=3650))]
    repeat_days: i64,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let scope = Scope { farm: args.farm.clone(), cow: Some(args.tag.clone()), ..Scope::default() };
    let material = material(&args.log, scope, out)?;
    if let Some(why) = material.nothing() {
        out.line(&why)?;
        return foot(&material.left, out);
    }
    let today = clock::now()?.date_naive();
    out.print(&cow::text(&material, today, args.repeat_days))?;
    if let Some(why) = material.left.words() {
        out.line(&format!("\n{why}"))?;
    }
    let Some(path) = &args.svg else { return Ok(()) };
    if material.by_farm().len() > 1 {
        return out.trouble("several farms have a cow of that number; name one with `--farm` for a foot map");
    }
    let map = cow::map(&material.seen);
    if map.is_empty() {
        return out.tell("nothing was found on her feet: no foot map is drawn");
    }
    super::report::write(path, &map.svg(&format!("findings on the feet of cow {}", args.tag.trim())), out)
}
