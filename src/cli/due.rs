//! `due`: what must be seen to, overdue first.

use std::collections::HashMap;
use std::path::PathBuf;

use chutescribe::report::due::{Rules, due};
use chutescribe::report::{self, Scope, calendar, herd_file};
use chutescribe::show;

use super::args::LogAt;
use super::clock;
use super::fail::Fail;
use super::out::Out;
use super::report::{Form, day, foot, material};

#[derive(Debug, clap::Args)]
#[command(after_help = "Blocks, wraps and rechecks disappear when a later entry takes them off, finds the foot clean \
                        or healed, or looks at it in time; a call to the vet when the foot is clean or healed (or \
                        strike the entry). What nobody dated is due by rule.")]
pub(crate) struct Args {
    /// Only what is due up to this day
    #[arg(long, value_name = "DATE")]
    by: Option<String>,
    /// Only this farm
    #[arg(long, value_name = "NAME")]
    farm: Option<String>,
    /// The herd: a CSV table with a column of tags and columns `calved` and `dry off`, for routine trims
    #[arg(long, value_name = "FILE")]
    herd: Option<PathBuf>,
    #[command(flatten)]
    log: LogAt,
    #[command(flatten)]
    form: Form,
    /// A calendar file (iCalendar) for a phone
    #[arg(long, conflicts_with_all = ["json", "csv"])]
    ics: bool,
    /// Days after which a block comes off by rule
    #[arg(long, value_name = "FROM-TO", default_value = "28-42", value_parser = days)]
    block_days: (i64, i64),
    /// Days after which a wrap comes off by rule
    #[arg(long, value_name = "DAYS", default_value_t = 3, value_parser = clap::value_parser!(i64).range(0..=3650))]
    wrap_days: i64,
    /// Days after which an ulcer or white line abscess is looked at again by rule
    #[arg(long, value_name = "DAYS", default_value_t = 30, value_parser = clap::value_parser!(i64).range(0..=3650))]
    recheck_days: i64,
    /// Days in milk at which a routine trim is due
    #[arg(long, value_name = "FROM-TO", default_value = "60-150", value_parser = days)]
    milk_days: (i64, i64),
    /// Days before dry-off in which a routine trim is due
    #[arg(long, value_name = "DAYS", default_value_t = 28, value_parser = clap::value_parser!(i64).range(0..=3650))]
    dry_days: i64,
}

fn days(text: &str) -> Result<(i64, i64), String> {
    let two = text.split_once('-').and_then(|(a, b)| Some((a.trim().parse().ok()?, b.trim().parse().ok()?)));
    two.filter(|(a, b)| 0 <= *a && a <= b && *b <= 3650).ok_or_else(|| "no such days; write them as 28-42".to_owned())
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let now = clock::now()?;
    let by = day("--by", args.by.as_ref())?;
    let mut herd = HashMap::new();
    if let Some(path) = &args.herd {
        let name = path.display().to_string();
        let (dates, errors) = herd_file::read(&name, &super::args::text_of(path)?);
        errors.iter().try_for_each(|e| out.trouble(e))?;
        if dates.is_empty() && errors.is_empty() {
            out.tell(format_args!(
                "`{name}` has no columns `tag` and `calved` or `dry off`: no routine trims are shown"
            ))?;
        }
        herd = dates;
    }
    let scope = Scope { farm: args.farm.clone(), ..Scope::default() };
    let material = material(&args.log, scope, out)?;
    let rules = Rules {
        block: args.block_days,
        wrap: args.wrap_days,
        recheck: args.recheck_days,
        milk: args.milk_days,
        dry: args.dry_days,
        ..Rules::default()
    };
    let today = now.date_naive();
    let mut list = due(&material, &herd, &rules, by.unwrap_or(today));
    list.items.retain(|i| by.is_none_or(|by| i.on <= by));
    if args.ics || !args.form.is_text() {
        if let Some(why) = material.nothing().filter(|_| list.items.is_empty()) {
            out.tell(why)?;
        }
        material.left.words().map_or(Ok(()), |told| out.tell(told))?;
    }
    if args.ics {
        return out.print(&calendar::calendar(&list.items, now.to_utc()));
    }
    if !args.form.is_text() {
        return args.form.rows(&list.items, out);
    }
    match material.nothing() {
        _ if !list.items.is_empty() => {}
        Some(why) => out.line(&why)?,
        None => {
            let by = by.map_or(String::new(), |by| format!(" by {}", show::day(by)));
            out.line(&format!("nothing is due{}{by}", material.scope().words()))?;
        }
    }
    out.print(&report::due_text(&list, today))?;
    foot(&material.left, out)
}
