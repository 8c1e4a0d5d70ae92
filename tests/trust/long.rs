//! A long log is read in little memory.

use std::fs::File;
use std::io::BufWriter;
use std::process::Command;

use tempfile::TempDir;

#[path = "../../examples/long_log/generate.rs"]
mod generate;

const ENTRIES: usize = 60_000;

/// What the program may take, its own size among it: a third of what these entries come to when they are all held.
#[cfg(target_os = "linux")]
const KILOBYTES: usize = 100_000;

#[cfg(target_os = "linux")]
#[test]
fn a_long_log_is_read_in_little_memory() {
    let folder = TempDir::new().unwrap();
    generate::generate(ENTRIES, BufWriter::new(File::create(folder.path().join("log.jsonl")).unwrap())).unwrap();
    let run = |args: &str| {
        let program = assert_cmd::cargo::cargo_bin!("chutescribe").display().to_string();
        let output = Command::new("sh")
            .args(["-c", &format!("ulimit -v {KILOBYTES}; exec '{program}' {args} --log log.jsonl")])
            .current_dir(folder.path())
            .output()
            .unwrap();
        assert!(output.status.success(), "{args}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    assert_eq!(run("check"), "600 visits, 60000 entries, 2940 answers, 120 strikes, 60 open questions: all is well\n");
    assert_eq!(run("settle --json").lines().count(), 60);
}
