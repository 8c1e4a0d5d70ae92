//! `herd`: prevalence with limits, new cases and repeats, healing, rechecks, and where it is.

use chutescribe::report::Scope;
use chutescribe::report::cases::GAP;
use chutescribe::report::due::Rules;
use chutescribe::report::herd::herd;

use super::args::LogAt;
use super::clock;
use super::fail::Fail;
use super::out::Out;
use super::report::{Form, Which, foot, material, nothing};

#[derive(Debug, clap::Args)]
#[command(after_help = "A share is of cows examined: a foot was in the hand. Limits are Wilson's, 95 per cent. \
                        Locomotion and mobility scores are never converted into each other.")]
pub(crate) struct Args {
    #[command(flatten)]
    which: Which,
    #[command(flatten)]
    log: LogAt,
    #[command(flatten)]
    form: Form,
    /// Days after which the same lesion at the same place is a new case
    #[arg(long, value_name = "DAYS", default_value_t = GAP, value_parser = clap::value_parser!(i64).range(0..=3650))]
    repeat_days: i64,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let scope = args.which.scope()?;
    let today = clock::now()?.date_naive();
    // What was before the period tells what is new in it.
    let all = material(&args.log, Scope { from: None, ..scope.clone() }, out)?;
    let period = scope.from.map_or_else(|| all.clone(), |from| all.since(from));
    if nothing(&period, &args.form, out)? {
        return Ok(());
    }
    let until = scope.to.map_or(today, |to| to.min(today));
    let herd = herd(&all, scope.from, until, args.repeat_days, &Rules::default());
    if !args.form.is_text() {
        return args.form.rows(&herd.shares, out);
    }
    out.print(&herd.text(&scope.words()))?;
    if period.left.words().is_some() {
        out.line("")?;
    }
    foot(&period.left, out)
}
