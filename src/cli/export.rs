//! `export`: what counts, for other programs.

use std::collections::BTreeSet;

use chutescribe::report::export::{ade, electronic, rows};

use super::args::LogAt;
use super::fail::Fail;
use super::out::Out;
use super::report::{Form, Which, material};

#[derive(Debug, clap::Args)]
#[command(after_help = "Columns: entry, date, farm, trimmer, cow; kind (finding or action); foot, claw, zones (with \
                        blanks between them); disorder, severity, stage, course, certain of a finding; what, \
                        material, agent, lost of an action. An open question's matter is left out and told on \
                        standard error.")]
pub(crate) struct Args {
    #[command(flatten)]
    which: Which,
    #[command(flatten)]
    log: LogAt,
    /// Flat, one row a finding and one an action [default]
    #[arg(long)]
    csv: bool,
    /// Events of diagnosis and treatment as ICAR ADE 1.3 has them, one JSON array
    #[arg(long, conflicts_with = "csv")]
    ade: bool,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let material = material(&args.log, args.which.scope()?, out)?;
    if let Some(why) = material.nothing() {
        out.tell(why)?;
    }
    // Fifteen digits are meant to be an electronic number.
    let fifteen = |c: &&String| c.len() == 15 && c.bytes().all(|b| b.is_ascii_digit());
    let numbers: BTreeSet<&String> = material.seen.iter().map(|s| &s.cow).filter(fifteen).collect();
    for cow in numbers {
        if let Err(why) = electronic(cow) {
            out.tell(format_args!("{why}: it is given as a tag"))?;
        }
    }
    if args.ade {
        let all = ade(&material);
        out.line(&serde_json::to_string_pretty(&all.events).map_err(std::io::Error::from)?)?;
        all.words().map_or(Ok(()), |told| out.tell(told))?;
    } else {
        Form { json: false, csv: true }.rows(&rows(&material), out)?;
    }
    material.left.words().map_or(Ok(()), |told| out.tell(told))
}
