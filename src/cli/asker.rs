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
    /// One line an answer; each is shown after its prompt, so that the output reads like a talk.
    Script,
}

impl Asker {
    /// The terminal where there is one.
    pub(crate) fn new() -> Result<Self, Fail> {
        if !std::io::stdin().is_terminal() {
            return Ok(Self::Script);
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
            Self::Script => {
                // Whoever feeds it sees what became of the line before.
                out.flush()?;
                let mut bytes = Vec::new();
                if std::io::stdin().lock().read_until(b'\n', &mut bytes)? == 0 {
                    return Ok(None);
                }
                let line = std::str::from_utf8(&bytes)
                    .map_err(|e| {
                        Fail::Told(format!("standard input: byte {} of a line is not UTF-8", e.valid_up_to()))
                    })?
                    .trim_end_matches(['\n', '\r'])
                    .to_owned();
                out.line(&format!("{prompt}{line}"))?;
                Ok(Some(line))
            }
        }
    }

    /// A script is not asked twice: its next line belongs to the next question.
    pub(crate) fn is_script(&self) -> bool {
        matches!(self, Self::Script)
    }
}
