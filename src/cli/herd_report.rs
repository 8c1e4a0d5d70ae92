//! `herd`: prevalence with limits, new cases and repeats, healing, rechecks, and where it is.

use std::path::PathBuf;

use chutescribe::report::cases::GAP;
use chutescribe::report::due::Rules;
use chutescribe::report::herd::{Herd, herd};
use chutescribe::report::pile::Pile;
use chutescribe::report::{Scope, herd_html};
use rayon::prelude::*;

use super::args::LogAt;
use super::clock;
use super::fail::Fail;
use super::out::Out;
use super::report::{Form, Which, foot, stream, write};

#[derive(Debug, clap::Args)]
#[command(after_help = "A share is of cows examined: a foot was in the hand. Limits are Wilson's, 95 per cent. \
                        Locomotion and mobility scores are never converted into each other.\n\n\
                        --json and --csv give all figures as one table. Its column `table` says what a row is: \
                        `share` of cows, `score` (cows from that score on), `place` of findings, `visit`, `healing` \
                        (per cent still open after so many days), `recheck`, `lost`, `back` (a cow and her cases).")]
pub(crate) struct Args {
    #[command(flatten)]
    which: Which,
    #[command(flatten)]
    log: LogAt,
    #[command(flatten)]
    form: Form,
    /// Also write it as one HTML file with charts, which prints on A4 or Letter
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Days after which the same lesion at the same place is a new case
    #[arg(long, value_name = "DAYS", default_value_t = GAP, value_parser = clap::value_parser!(i64).range(0..=3650))]
    repeat_days: i64,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let scope = args.which.scope()?;
    let today = clock::now()?.date_naive();
    // What was before the period tells what is new in it.
    let bytes = args.log.path().ok().and_then(|log| log.metadata().ok()).map_or(0, |m| m.len());
    let mut pile = Pile::for_log(bytes);
    let all = stream(&args.log, Scope { from: None, ..scope.clone() }, out, |farm, cow, date, brief| {
        pile.add(farm, cow, date, brief);
    })?;
    let period = scope.from.map_or_else(|| all.clone(), |from| all.since(from));
    let until = scope.to.map_or(today, |to| to.min(today));
    let rules = Rules::default();
    let herds: Vec<Herd> = (0..pile.farms().len())
        .into_par_iter()
        .filter_map(|farm| herd(&pile, farm, scope.from, until, args.repeat_days, &rules))
        .collect();
    if herds.is_empty() {
        let why = period.why_nothing();
        if !args.form.is_text() {
            out.tell(why)?;
            return period.left.words().map_or(Ok(()), |told| out.tell(told));
        }
        out.line(&why)?;
        return foot(&period.left, out);
    }
    let about = |herd: &Herd| Scope { farm: herd.farm.clone(), ..scope.clone() }.words();
    if args.form.is_text() {
        let told: Vec<String> = herds.iter().map(|h| h.text(&about(h))).collect();
        out.print(&told.join("\n"))?;
        if period.left.words().is_some() {
            out.line("")?;
        }
        foot(&period.left, out)?;
    } else {
        let rows: Vec<_> = herds.iter().flat_map(Herd::figures).collect();
        args.form.rows(&rows, out)?;
        period.left.words().map_or(Ok(()), |told| out.tell(told))?;
    }
    let Some(path) = &args.html else { return Ok(()) };
    let herds: Vec<(String, Herd)> = herds.into_iter().map(|h| (about(&h), h)).collect();
    write(path, &herd_html::page(&herds, &period.left), out)
}
