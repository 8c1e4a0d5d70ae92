//! The log under ill treatment: programs killed while they write, and many that write at once.
#![cfg(unix)]

mod crash;
mod full;
mod long;
mod together;

use std::path::Path;
use std::process::{Command, Stdio};

/// `note` with its notes from standard input, each kept before the next is read.
fn note(log: &Path) -> Command {
    let mut command = Command::new(assert_cmd::cargo::cargo_bin!("chutescribe"));
    command
        .args(["note", "--ask", "--on", "2026-03-12", "--log"])
        .arg(log)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    command
}
