//! `sheet`: the page for the farmer, as text or as one HTML file.

use std::collections::HashMap;
use std::path::PathBuf;

use chutescribe::report::due::{Rules, due};
use chutescribe::report::sheet::sheet;
use chutescribe::report::{Material, Scope};

use super::args::LogAt;
use super::fail::Fail;
use super::out::Out;
use super::report::{day, foot, material, one_farm, write};

#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    /// The day [default: the last that the log has]
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The farm; needed where the log has more than one on that day
    #[arg(long, value_name = "NAME")]
    farm: Option<String>,
    #[command(flatten)]
    log: LogAt,
    /// Also write it as one HTML file, which prints on A4 or Letter
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let scope = Scope { farm: args.farm.clone(), to: day("--on", args.on.as_ref())?, ..Scope::default() };
    let mut all = material(&args.log, scope, out)?;
    let date = match (all.scope().to, all.last_day()) {
        (Some(date), _) | (None, Some(date)) => date,
        (None, None) => {
            out.line(&all.nothing().unwrap_or_default())?;
            return foot(&all.left, out);
        }
    };
    if all.scope().farm.is_none() {
        let of_day = all.on(date);
        if let Some(why) = of_day.nothing() {
            out.line(&why)?;
            return foot(&of_day.left, out);
        }
        let Some(farm) = one_farm(&of_day, out)? else { return Ok(()) };
        all = all.at(farm);
    }
    let of_day: Material = all.on(date);
    if let Some(why) = of_day.nothing() {
        out.line(&why)?;
        return foot(&of_day.left, out);
    }
    let due = due(&all, &HashMap::new(), &Rules::default(), date);
    let sheet = sheet(&of_day, date, &due.items);
    out.print(&sheet.text())?;
    args.html.as_ref().map_or(Ok(()), |path| write(path, &sheet.html(), out))
}
