//! How far a long file is read: a bar on standard error, where that is a terminal.

use std::cell::Cell;
use std::io::{self, Read};
use std::rc::Rc;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// A shorter file is read before a bar could be looked at.
const LONG: u64 = 1 << 20;

/// Gone when it is dropped.
#[derive(Debug)]
pub(crate) struct Progress {
    bar: ProgressBar,
    read: Rc<Cell<u64>>,
}

impl Progress {
    /// For a file of `length` bytes; hidden where it is short, where `wanted` is not, and by itself where standard
    /// error is no terminal.
    pub(crate) fn new(length: u64, what: &'static str, wanted: bool) -> Self {
        let shown = wanted && length >= LONG;
        let target = if shown { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() };
        let bar = ProgressBar::with_draw_target(Some(length), target).with_message(what);
        if let Ok(style) = ProgressStyle::with_template("{msg} {bar:30} {percent} %, {eta} to go") {
            bar.set_style(style);
        }
        Self { bar, read: Rc::default() }
    }

    /// Counts what is read through it.
    pub(crate) fn counted<R: Read>(&self, input: R) -> Counted<R> {
        Counted { input, read: self.read.clone() }
    }

    /// Shows how much was read by now.
    pub(crate) fn show(&self) {
        self.bar.set_position(self.read.get());
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

pub(crate) struct Counted<R> {
    input: R,
    read: Rc<Cell<u64>>,
}

impl<R: Read> Read for Counted<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let n = self.input.read(into)?;
        self.read.set(self.read.get() + n as u64);
        Ok(n)
    }
}
