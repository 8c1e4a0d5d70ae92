//! What the reports share: which entries they are of, and the forms in which they come.

use std::path::Path;

use chrono::NaiveDate;
use chutescribe::log::fold::Brief;
use chutescribe::log::read::Problem;
use chutescribe::report::{LeftOut, Material, Scope};
use serde::Serialize;

use super::args::{LogAt, date, no_log};
use super::fail::Fail;
use super::out::Out;

/// The form of a report's tables.
#[derive(Debug, clap::Args)]
pub(crate) struct Form {
    /// One JSON object a row
    #[arg(long, conflicts_with = "csv")]
    pub(crate) json: bool,
    /// A CSV table
    #[arg(long)]
    pub(crate) csv: bool,
}

impl Form {
    pub(crate) fn is_text(&self) -> bool {
        !self.json && !self.csv
    }

    /// The rows as JSON lines or CSV.
    pub(crate) fn rows<T: Serialize>(&self, rows: &[T], out: &mut Out) -> Result<(), Fail> {
        if self.json {
            return rows.iter().try_for_each(|r| out.line(&serde_json::to_string(r).map_err(std::io::Error::from)?));
        }
        let mut table = csv::Writer::from_writer(Vec::new());
        for row in rows {
            table.serialize(row).map_err(|e| Fail::Told(format!("a row of the table cannot be written: {e}")))?;
        }
        let bytes = table.into_inner().map_err(|e| Fail::Io(e.into_error()))?;
        out.print(&String::from_utf8_lossy(&bytes))
    }
}

/// A farm and a period.
#[derive(Debug, clap::Args)]
pub(crate) struct Which {
    /// Only visits to this farm
    #[arg(long, value_name = "NAME")]
    pub(crate) farm: Option<String>,
    /// Only visits from this day on, such as 2026-03-12
    #[arg(long, value_name = "DATE")]
    from: Option<String>,
    /// Only visits up to this day
    #[arg(long, value_name = "DATE")]
    to: Option<String>,
}

impl Which {
    pub(crate) fn scope(&self) -> Result<Scope, Fail> {
        Ok(Scope {
            farm: self.farm.clone(),
            cow: None,
            from: day("--from", self.from.as_ref())?,
            to: day("--to", self.to.as_ref())?,
        })
    }
}

/// The day that an option names, if it is given.
pub(crate) fn day(option: &str, text: Option<&String>) -> Result<Option<NaiveDate>, Fail> {
    text.map(|t| date(option, t)).transpose()
}

/// What the log has in that scope; its problems are told.
pub(crate) fn material(log: &LogAt, scope: Scope, out: &mut Out) -> Result<Material, Fail> {
    let path = log.path()?;
    LogAt::tell(&path, out)?;
    let mut problems: Vec<Problem> = Vec::new();
    let material = Material::read(&path, scope, |p| problems.push(p)).map_err(|e| no_log(&path, &e))?;
    told(&problems, out)?;
    Ok(material)
}

/// As [`material`], for a report that keeps no entries.
pub(crate) fn stream(
    log: &LogAt,
    scope: Scope,
    out: &mut Out,
    with: impl FnMut(Option<&str>, &str, NaiveDate, &Brief),
) -> Result<Material, Fail> {
    let path = log.path()?;
    LogAt::tell(&path, out)?;
    let mut problems: Vec<Problem> = Vec::new();
    let material = Material::stream(&path, scope, |p| problems.push(p), with).map_err(|e| no_log(&path, &e))?;
    told(&problems, out)?;
    Ok(material)
}

fn told(problems: &[Problem], out: &mut Out) -> Result<(), Fail> {
    for problem in problems {
        if !problem.warning {
            out.mark_troubled();
        }
        out.tell(problem)?;
    }
    Ok(())
}

/// The foot of a report: what is not in it.
pub(crate) fn foot(left: &LeftOut, out: &mut Out) -> Result<(), Fail> {
    left.words().map_or(Ok(()), |told| out.line(&told))
}

/// Says why a report is empty, where it is.
pub(crate) fn nothing(material: &Material, form: &Form, out: &mut Out) -> Result<bool, Fail> {
    let Some(why) = material.nothing() else { return Ok(false) };
    if form.is_text() {
        out.line(&why)?;
        foot(&material.left, out)?;
    } else {
        out.tell(&why)?;
        material.left.words().map_or(Ok(()), |told| out.tell(told))?;
    }
    Ok(true)
}

/// Writes a file of a report, and says so.
pub(crate) fn write(path: &Path, text: &str, out: &mut Out) -> Result<(), Fail> {
    let name = path.display();
    std::fs::write(path, text)
        .map_err(|e| Fail::Told(format!("`{name}` cannot be written: {}", chutescribe::show::trouble(&e))))?;
    out.tell(format_args!("written: {name}"))
}

/// The farm that all entries are of; where they are of several, they are told, and nothing can be said.
#[allow(clippy::option_option, reason = "no single farm, and the visits without a farm, are two things")]
pub(crate) fn one_farm(material: &Material, out: &mut Out) -> Result<Option<Option<String>>, Fail> {
    let farms: Vec<Option<String>> = material.by_farm().into_iter().map(|f| f.0).collect();
    if farms.len() < 2 {
        return Ok(Some(farms.into_iter().next().flatten()));
    }
    let names: Vec<String> = farms.iter().map(|f| f.clone().unwrap_or_else(|| "no farm".to_owned())).collect();
    out.trouble(format_args!("these are several farms: {}; name one with `--farm`", names.join(", ")))?;
    Ok(None)
}
