//! Options that several commands share.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use chutescribe::log::record::Stamp;
use chutescribe::log::{Kept, Problem, Rest, VisitLine, Writer};
use chutescribe::roster::Roster;
use chutescribe::vocab::Vocabulary;
use chutescribe::{Reader, log, show};
use etcetera::BaseStrategy;

use super::fail::Fail;
use super::herd;
use super::out::Out;
use super::own_words;

/// How notes are understood.
#[derive(Debug, clap::Args)]
pub(crate) struct Hearing {
    /// Your own words, laid over the built-in vocabulary; may be given more than once.
    /// `words.toml` in the user's data folder is laid over it first, where it is there
    #[arg(long, value_name = "FILE")]
    pub(crate) words: Vec<PathBuf>,
    /// The herd's tags: one a line, or a CSV table with a column named tag, cow, number or id
    #[arg(long, value_name = "FILE")]
    herd: Option<PathBuf>,
}

impl Hearing {
    /// The built-in words with the user's own laid over them.
    pub(crate) fn vocabulary(&self) -> Result<Vocabulary, Fail> {
        own_words::layered(&own_words::files(&self.words))
    }

    /// The reader; lines of the herd file that are no tags are told and left out.
    pub(crate) fn reader(&self, out: &mut Out) -> Result<Reader, Fail> {
        let reader = Reader::new(self.vocabulary()?);
        let Some(path) = &self.herd else { return Ok(reader) };
        let roster = herd::roster_of(path, out)?;
        Ok(if roster.is_empty() { reader } else { reader.with_roster(roster) })
    }

    /// The reader for the notes of a visit: without a herd file, the tags that the log has of that farm are a hint.
    pub(crate) fn reader_at(
        &self,
        visit: &VisitLine,
        out: &mut Out,
        seen_at: impl FnOnce(&str, &mut Out) -> Result<Vec<String>, Fail>,
    ) -> Result<Reader, Fail> {
        let reader = self.reader(out)?;
        let Some(farm) = visit.farm.as_deref().filter(|_| self.herd.is_none()) else { return Ok(reader) };
        let seen = Roster::soft(seen_at(farm, out)?);
        Ok(if seen.is_empty() { reader } else { reader.with_roster(seen) })
    }
}

/// A whole text file.
pub(crate) fn text_of(path: &Path) -> Result<String, Fail> {
    let name = path.display();
    let bytes =
        std::fs::read(path).map_err(|e| Fail::Told(format!("`{name}` cannot be read: {}", show::trouble(&e))))?;
    String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        Fail::Told(format!("`{name}`: byte {at} is not UTF-8: save the file as UTF-8 text"))
    })
}

/// Which visit the notes are of.
#[derive(Debug, clap::Args)]
pub(crate) struct Visit {
    /// The day of the visit, such as 2026-03-12 [default: today]
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The farm's name
    #[arg(long, value_name = "NAME")]
    farm: Option<String>,
    /// Who trims
    #[arg(long, value_name = "NAME")]
    trimmer: Option<String>,
}

impl Visit {
    pub(crate) fn line(&self, now: Stamp) -> Result<VisitLine, Fail> {
        let name = |n: &Option<String>| n.as_deref().map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned);
        let date = self.on.as_deref().map_or(Ok(now.date_naive()), |d| date("--on", d))?;
        Ok(VisitLine::new(name(&self.farm).as_deref(), date, name(&self.trimmer).as_deref(), now))
    }
}

/// A day as the log has it; any other form is refused, since day and month are easily mistaken.
pub(crate) fn date(option: &str, text: &str) -> Result<NaiveDate, Fail> {
    day(text)
        .ok_or_else(|| Fail::Told(format!("`{option} {text}`: no such day; write it as 2026-03-12 (year, month, day)")))
}

/// `2026-03-12`, in that form only.
pub(crate) fn day(text: &str) -> Option<NaiveDate> {
    let shape = text.len() == 10 && text.bytes().enumerate().all(|(i, b)| (b == b'-') == (i == 4 || i == 7));
    NaiveDate::parse_from_str(text, "%Y-%m-%d").ok().filter(|_| shape)
}

/// Where the log is.
#[derive(Debug, clap::Args)]
pub(crate) struct LogAt {
    /// The log [default: what `CHUTESCRIBE_LOG` names, else log.jsonl in the user's data folder, which is told]
    #[arg(long, value_name = "FILE")]
    log: Option<PathBuf>,
}

impl LogAt {
    pub(crate) fn path(&self) -> Result<PathBuf, Fail> {
        let set = || std::env::var_os("CHUTESCRIBE_LOG").map(PathBuf::from);
        if let Some(path) = self.log.clone().or_else(set).filter(|p| !p.as_os_str().is_empty()) {
            return Ok(path);
        }
        let folders = etcetera::choose_base_strategy()
            .map_err(|e| Fail::Told(format!("no data folder was found ({e}): name the log with `--log FILE`")))?;
        Ok(folders.data_dir().join("chutescribe").join("log.jsonl"))
    }

    /// Says on standard error where the log is.
    pub(crate) fn tell(path: &Path, out: &mut Out) -> Result<(), Fail> {
        out.tell(format_args!("log: {}", path.display()))
    }

    /// Reads the log entry by entry; its problems are told. Gives what adds to it, and what it holds beside.
    pub(crate) fn open(&self, out: &mut Out, mut with: impl FnMut(Kept)) -> Result<(Writer, Rest), Fail> {
        let path = self.path()?;
        Self::tell(&path, out)?;
        let mut problems = Vec::new();
        let rest = log::fold::each(&path, |p| problems.push(p), |_, kept| with(kept));
        let rest = rest.map_err(|e| no_log(&path, &e))?;
        tell_problems(&problems, out)?;
        let mut writer = Writer::new(&path);
        writer.look()?;
        Ok((writer, rest))
    }
}

/// Why a log cannot be read.
pub(crate) fn no_log(path: &Path, why: &std::io::Error) -> Fail {
    let path = path.display();
    Fail::Told(if why.kind() == std::io::ErrorKind::NotFound {
        format!("there is no log at `{path}`; `chutescribe note` starts one")
    } else {
        format!("the log `{path}` cannot be read: {}", show::trouble(why))
    })
}

/// Tells what is wrong with lines of a log.
pub(crate) fn tell_problems(problems: &[Problem], out: &mut Out) -> Result<(), Fail> {
    for problem in problems {
        if !problem.warning {
            out.mark_troubled();
        }
        out.tell(problem)?;
    }
    Ok(())
}
