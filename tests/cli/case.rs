//! A small builder: a folder of its own, a fixed clock, and what a run must come to.

use std::fs;
use std::path::PathBuf;

use assert_cmd::Command;
use tempfile::TempDir;

/// A folder to run the program in.
pub(crate) struct Case {
    folder: TempDir,
    now: &'static str,
    log: &'static str,
}

/// What a run came to.
pub(crate) struct Ran {
    stdout: String,
    stderr: String,
    code: Option<i32>,
}

impl Case {
    pub(crate) fn new() -> Self {
        Self { folder: TempDir::new().unwrap(), now: "2026-03-12T09:41:07-05:00", log: "log.jsonl" }
    }

    pub(crate) fn at(mut self, now: &'static str) -> Self {
        self.now = now;
        self
    }

    /// Another `CHUTESCRIBE_LOG`.
    pub(crate) fn log_at(mut self, log: &'static str) -> Self {
        self.log = log;
        self
    }

    pub(crate) fn with(self, name: &str, bytes: impl AsRef<[u8]>) -> Self {
        fs::write(self.path(name), bytes).unwrap();
        self
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// A file's text; empty where there is none.
    pub(crate) fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap_or_default()
    }

    /// Lines of the log `log.jsonl` as JSON.
    pub(crate) fn log(&self) -> Vec<serde_json::Value> {
        self.text("log.jsonl").lines().map(|l| serde_json::from_str(l).unwrap()).collect()
    }

    pub(crate) fn run(&self, args: &[&str]) -> Ran {
        self.talk(args, "")
    }

    /// Runs with `input` on standard input and `log.jsonl` as the log.
    pub(crate) fn talk(&self, args: &[&str], input: impl Into<Vec<u8>>) -> Ran {
        let output = Command::new(assert_cmd::cargo::cargo_bin!("chutescribe"))
            .args(args)
            .env("CHUTESCRIBE_LOG", self.log)
            .env("XDG_DATA_HOME", self.path("data"))
            .env("CHUTESCRIBE_NOW", self.now)
            .current_dir(self.folder.path())
            .write_stdin(input)
            .output()
            .unwrap();
        Ran {
            stdout: String::from_utf8(output.stdout).unwrap(),
            stderr: String::from_utf8(output.stderr).unwrap(),
            code: output.status.code(),
        }
    }
}

impl Ran {
    #[track_caller]
    pub(crate) fn code(self, code: i32) -> Self {
        assert_eq!(self.code, Some(code), "\nstdout:\n{}\nstderr:\n{}", self.stdout, self.stderr);
        self
    }

    #[track_caller]
    pub(crate) fn out(self, text: &str) -> Self {
        assert_eq!(self.stdout, text, "stderr:\n{}", self.stderr);
        self
    }

    #[track_caller]
    pub(crate) fn err(self, text: &str) -> Self {
        assert_eq!(self.stderr, text, "stdout:\n{}", self.stdout);
        self
    }

    #[track_caller]
    pub(crate) fn out_has(self, text: &str) -> Self {
        assert!(self.stdout.contains(text), "`{text}` is not in:\n{}", self.stdout);
        self
    }

    pub(crate) fn stdout(&self) -> &str {
        &self.stdout
    }

    pub(crate) fn stderr(&self) -> &str {
        &self.stderr
    }
}

/// So many notes, one a line.
pub(crate) fn clean_cows(n: usize) -> String {
    let lines: Vec<String> = (1..=n).map(|cow| format!("cow {cow} clean")).collect();
    lines.join("\n") + "\n"
}
