//! Who is asked: a person at a terminal, or a script on standard input.

use std::io::{BufRead, IsTerminal};

use rustyline::error::ReadlineError;
use rustyline::history::MemHistory;
use rustyline::{Config, Editor};

use super::fail::Fail;
use super::out::Out;

/// Reads lines in answer to a prompt.
pub(crate) enum Asker {
    Terminal(Box<Editor<(), MemHistory>>),
    /// One line an answer; each is shown after its prompt, so that the output reads like a talk. A line that was
    /// looked at and not taken comes next.
    Script(Option<String>),
}

impl Asker {
    /// The terminal where there is one.
    pub(crate) fn new() -> Result<Self, Fail> {
        if !std::io::stdin().is_terminal() {
            return Ok(Self::Script(None));
        }
        let editor = Editor::with_history(Config::default(), MemHistory::new());
        editor.map(|e| Self::Terminal(Box::new(e))).map_err(|e| Fail::Told(format!("the terminal cannot be used: {e}")))
    }

    /// The next note, remembered for the up key; `None` where there is none any more.
    pub(crate) fn note(&mut self, prompt: &str, out: &mut Out) -> Result<Option<String>, Fail> {
        let line = self.line(prompt, out)?;
        if let (Self::Terminal(editor), Some(line)) = (self, &line) {
            editor.add_history_entry(line).map_err(|e| Fail::Told(format!("the terminal cannot be used: {e}")))?;
        }
        Ok(line)
    }

    /// The next line, without its end; `None` where there is none any more.
    pub(crate) fn line(&mut self, prompt: &str, out: &mut Out) -> Result<Option<String>, Fail> {
        match self {
            Self::Terminal(editor) => {
                out.flush()?;
                match editor.readline(prompt) {
                    Ok(line) => Ok(Some(line)),
                    Err(ReadlineError::Eof | ReadlineError::Interrupted) => Ok(None),
                    Err(e) => Err(Fail::Told(format!("the terminal cannot be read: {e}"))),
                }
            }
            Self::Script(kept) => {
                // Whoever feeds it sees what became of the line before.
                out.flush()?;
                let Some(line) = kept.take().map_or_else(script_line, |l| Ok(Some(l)))? else { return Ok(None) };
                out.line(&format!("{prompt}{line}"))?;
                Ok(Some(line))
            }
        }
    }

    /// A yes or a no to an offer. At a terminal Enter is a no, and what is neither is not passed over: it may have
    /// been meant for the log.
    ///
    /// A script was written for the questions: its next line is taken only where it is a yes or a no, and else there
    /// is no offer.
    pub(crate) fn yes(&mut self, prompt: &str, out: &mut Out) -> Result<Option<bool>, Fail> {
        let said = |line: &str| match line.trim().to_lowercase().as_str() {
            "y" | "yes" => Some(true),
            "n" | "no" | "" => Some(false),
            _ => None,
        };
        if let Self::Script(kept) = self {
            if kept.is_none() {
                *kept = script_line()?;
            }
            if kept.as_deref().is_none_or(|line| line.trim().is_empty() || said(line).is_none()) {
                return Ok(None);
            }
        }
        loop {
            let Some(line) = self.line(prompt, out)? else { return Ok(None) };
            if let Some(yes) = said(&line) {
                return Ok(Some(yes));
            }
            out.line(&format!("      `{}` is neither y nor n; nothing was kept of it", line.trim()))?;
        }
    }

    /// A script is not asked twice: its next line belongs to the next question.
    pub(crate) fn is_script(&self) -> bool {
        matches!(self, Self::Script(_))
    }
}

/// The next line of standard input, without its end.
fn script_line() -> Result<Option<String>, Fail> {
    let mut bytes = Vec::new();
    if std::io::stdin().lock().read_until(b'\n', &mut bytes)? == 0 {
        return Ok(None);
    }
    let line = std::str::from_utf8(&bytes)
        .map_err(|e| Fail::Told(format!("standard input: byte {} of a line is not UTF-8", e.valid_up_to())))?;
    Ok(Some(line.trim_end_matches(['\n', '\r']).to_owned()))
}
