//! Standard output, buffered, and the troubles that were told on standard error.

use std::fmt::Display;
use std::io::{BufWriter, StdoutLock, Write};

use super::fail::Fail;

/// Where a command writes.
#[derive(Debug)]
pub(crate) struct Out {
    stdout: BufWriter<StdoutLock<'static>>,
    troubled: bool,
}

impl Out {
    pub(crate) fn new() -> Self {
        Self { stdout: BufWriter::with_capacity(64 * 1024, std::io::stdout().lock()), troubled: false }
    }

    pub(crate) fn print(&mut self, text: &str) -> Result<(), Fail> {
        Ok(self.stdout.write_all(text.as_bytes())?)
    }

    pub(crate) fn line(&mut self, text: &str) -> Result<(), Fail> {
        self.print(text)?;
        self.print("\n")
    }

    pub(crate) fn flush(&mut self) -> Result<(), Fail> {
        Ok(self.stdout.flush()?)
    }

    /// Tells of something that could not be used; the command goes on and ends with exit code 1.
    pub(crate) fn trouble(&mut self, what: impl Display) -> Result<(), Fail> {
        self.troubled = true;
        self.tell(format_args!("error: {what}"))
    }

    /// Tells something beside the output, after all that was printed before it.
    pub(crate) fn tell(&mut self, what: impl Display) -> Result<(), Fail> {
        self.flush()?;
        let _ = writeln!(std::io::stderr(), "{what}");
        Ok(())
    }

    pub(crate) fn troubled(&self) -> bool {
        self.troubled
    }

    pub(crate) fn mark_troubled(&mut self) {
        self.troubled = true;
    }
}
