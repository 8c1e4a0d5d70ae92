//! Places where nothing can be written.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::os::unix::fs::PermissionsExt;
use std::process::{Command, Stdio};

use tempfile::TempDir;

use crate::note;

fn told(log: &str, folder: &TempDir) -> (Option<i32>, String, String) {
    fs::write(folder.path().join("day.txt"), "cow 5 clean\ncow 6, left hind wart\n").unwrap();
    let output = Command::new(assert_cmd::cargo::cargo_bin!("chutescribe"))
        .args(["note", "--log", log, "day.txt"])
        .current_dir(folder.path())
        .output()
        .unwrap();
    (output.status.code(), String::from_utf8(output.stdout).unwrap(), String::from_utf8(output.stderr).unwrap())
}

/// Linux has a disk that is always full.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_and_the_notes_are_repeated() {
    let (code, out, err) = told("/dev/full", &TempDir::new().unwrap());
    assert_eq!((code, out.as_str()), (Some(1), ""));
    assert_eq!(
        err,
        "log: /dev/full\nerror: the log `/dev/full` cannot be written: no space left on device\nnot kept:\n  \
         cow 5 clean\n  cow 6, left hind wart\n"
    );
}

#[test]
fn a_log_that_may_only_be_read_is_told_and_stays_as_it_is() {
    let folder = TempDir::new().unwrap();
    let log = folder.path().join("log.jsonl");
    fs::write(&log, "").unwrap();
    fs::set_permissions(&log, fs::Permissions::from_mode(0o444)).unwrap();
    if fs::OpenOptions::new().append(true).open(&log).is_ok() {
        // Root may write to anything: there is nothing to see here.
        return;
    }
    let (code, _, err) = told("log.jsonl", &folder);
    assert_eq!(code, Some(1));
    assert!(err.contains("cannot be written: permission denied\nnot kept:\n  cow 5 clean\n"), "{err}");
    assert_eq!(fs::read(&log).unwrap(), b"");
}

/// A stick that is pulled out while notes are taken: another log is not begun in its place.
#[test]
fn a_folder_that_vanishes_is_told_and_the_note_is_repeated() {
    let folder = TempDir::new().unwrap();
    let stick = folder.path().join("stick");
    let mut child = note(&stick.join("log.jsonl")).stderr(Stdio::piped()).spawn().unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let mut out = BufReader::new(child.stdout.take().unwrap());
    stdin.write_all(b"cow 5 clean\n").unwrap();
    let mut line = String::new();
    while line != "  all four     clean\n" {
        line.clear();
        assert!(out.read_line(&mut line).unwrap() > 0, "the first note is not shown while the pipe is open");
    }
    fs::rename(&stick, folder.path().join("pulled out")).unwrap();
    stdin.write_all(b"cow 6 clean\n").unwrap();
    drop(stdin);
    let mut err = String::new();
    child.stderr.take().unwrap().read_to_string(&mut err).unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(1));
    assert!(
        err.ends_with(
            "cannot be written: it was there before and is gone: bring it back, or name another log\nnot kept:\n  \
             cow 6 clean\n"
        ),
        "{err}"
    );
    assert!(!stick.exists());
}
