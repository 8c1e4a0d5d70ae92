//! Input that cannot be used: told clearly, exit code 1, everything else done, nothing lost.

use crate::case::{Case, clean_cows};

const COW_5: &str =
    "cow 5                                                                     line 2\n  all four     clean\n\n";

#[test]
fn empty_input() {
    let case = Case::new().with("empty.txt", "").with("comments.txt", "# nothing yet\n\n");
    for command in ["read", "note"] {
        let log = if command == "note" { "log: log.jsonl\n" } else { "" };
        let ran = case.run(&[command]).code(1);
        ran.err(&format!("{log}error: standard input: there is no note in it\n"));
        let ran = case.run(&[command, "empty.txt", "comments.txt"]).code(1);
        ran.err(&format!(
            "{log}error: empty.txt: there is no note in it\nerror: comments.txt: there is no note in it\n"
        ));
    }
    assert!(!case.path("log.jsonl").exists());
}

#[test]
fn ten_megabytes_on_one_line() {
    let mut big = vec![b'a'; 10_000_000];
    big.extend(b"\ncow 5 clean\n");
    let start = "a".repeat(60);
    Case::new().talk(&["read"], big).code(1).out(COW_5).err(&format!(
        "error: standard input:1: a note of 10000000 bytes; the longest is 65536: break it into lines, one a cow: \
         `{start}…`\n"
    ));
}

#[test]
fn bytes_that_are_no_utf8_are_named_by_their_offset() {
    let case = Case::new().with("old.txt", b"cow 4 br\xfbl\xe9\ncow 5 clean\n");
    case.run(&["read", "old.txt"]).code(1).out(COW_5).err(
        "error: old.txt:1: byte 8 (`\\xfb`) is not UTF-8: save the file as UTF-8 text: `cow 4 br\u{fffd}l\u{fffd}`\n",
    );
}

#[test]
fn control_characters() {
    for (bad, shown) in [("\0", "\\u{0}"), ("\u{7}", "\\u{7}"), ("\u{1b}", "\\u{1b}"), ("\r", "\\r")] {
        Case::new().talk(&["read"], format!("cow 4{bad} clean\ncow 5 clean\n")).code(1).out(COW_5).err(&format!(
            "error: standard input:1: byte 5 is a control character (`{shown}`), which no note has: take it out: \
             `cow 4{shown} clean`\n"
        ));
    }
}

#[test]
fn tabs_and_windows_line_ends_are_no_fault() {
    Case::new().talk(&["read"], "\u{feff}# day\r\ncow 5\tclean\r\n").code(0).out(COW_5).err("");
}

#[test]
fn only_punctuation_or_emoji() {
    Case::new().talk(&["note"], "?!.,\n\u{1f404}\u{1f404}\ncow 5 clean\n").code(1).out("kept 1 entry of 1 note\n").err(
        "log: log.jsonl\nerror: standard input:1: there is no word in `?!.,`\n\
             error: standard input:2: there is no word in `\u{1f404}\u{1f404}`\n",
    );
}

#[test]
fn emoji_among_words_are_no_fault() {
    Case::new().talk(&["read"], "# x\ncow 5 clean \u{1f44d}\n").code(0).out(COW_5);
}

#[test]
fn files_that_cannot_be_read_are_named_and_the_others_are_read() {
    let case = Case::new().with("day.txt", "# x\ncow 5 clean\n");
    std::fs::create_dir(case.path("folder")).unwrap();
    case.run(&["read", "none.txt", "folder", "day.txt"])
        .code(1)
        .out(&COW_5.replace("   line 2", "day.txt:2"))
        .err("error: there is no file `none.txt`\nerror: `folder` is a folder; name the files in it\n");
}

#[test]
fn a_log_that_cannot_be_written_repeats_the_notes() {
    let case = Case::new().with("log", "").with("day.txt", "cow 5 clean\n");
    std::fs::create_dir(case.path("folder")).unwrap();
    case.talk(&["note", "--log", "folder"], "cow 5 clean\ncow 6, left hind wart. cow 7 clean\n").code(1).out("").err(
        "log: folder\nerror: the log `folder` cannot be written: is a directory\nnot kept:\n  cow 5 clean\n  \
         cow 6, left hind wart.\n  cow 7 clean\n",
    );
    case.run(&["note", "--log", "log/log.jsonl", "day.txt"]).code(1).out("").err(
        "log: log/log.jsonl\nerror: the log `log/log.jsonl` cannot be written: not a directory\nnot kept:\n  \
         cow 5 clean\n",
    );
}

#[test]
fn of_a_pipe_every_note_is_repeated_that_the_log_could_not_take() {
    let case = Case::new();
    std::fs::create_dir(case.path("folder")).unwrap();
    let notes = clean_cows(5000);
    let ran = case.talk(&["note", "--log", "folder"], notes.clone()).code(1);
    let told = format!(
        "log: folder\nerror: the log `folder` cannot be written: is a directory\nnot kept:\n{}",
        notes.replace("cow", "  cow")
    );
    ran.err(&told);
}

#[test]
fn a_broken_words_file_is_named_with_its_line() {
    let case = Case::new()
        .with("open.toml", "# mine\n[disorder.SU]\nsay = [\"x\"\n")
        .with("kind.toml", "[disorder.XX]\nsay = [\"x\"]\n")
        .with("latin.toml", b"[disorder.SU]\nsay = [\"\xe9\"]\n");
    for command in ["read", "note", "settle"] {
        let err = |file: &str, told: &str| {
            case.talk(&[command, "--words", file], "cow 5 clean").code(1).out("").err(told);
        };
        err("open.toml", "error: open.toml:3: unclosed array, expected `]`\n");
        err("kind.toml", "error: kind.toml:2: `[disorder.XX]` is no kind of word this program knows\n");
        err("latin.toml", "error: `latin.toml`: byte 22 is not UTF-8: save the file as UTF-8 text\n");
        err("none.toml", "error: `none.toml` cannot be read: no such file or directory\n");
    }
}

#[test]
fn a_day_that_is_none_is_never_replaced_by_today() {
    for day in ["2026-13-01", "2026-02-30", "12/3/26", "2026-3-1", "today", ""] {
        let ran = Case::new().talk(&["read", "--on", day], "cow 5 clean").code(1).out("");
        ran.err(&format!("error: `--on {day}`: no such day; write it as 2026-03-12 (year, month, day)\n"));
    }
}

#[test]
fn lines_of_a_herd_file_that_are_no_tags() {
    let case = Case::new().with("none.txt", "# none\n").with("herd.csv", "tag;name\n412;Daisy\n4 1!;Rose\n");
    case.talk(&["read", "--herd", "none.txt"], "# x\ncow 5 clean")
        .code(1)
        .out(COW_5)
        .err("error: none.txt:1: no tag in this file\n");
    case.talk(&["read", "--herd", "herd.csv"], "cow 412 clean")
        .code(1)
        .out_has("cow 412 ")
        .err("error: herd.csv:3: `4 1!` is no tag: letters and digits, 15 at most\n");
    // The cows of the lines that can be read are known all the same.
    case.talk(&["read", "--herd", "herd.csv"], "cow 413 clean").code(1).out_has("? cow 413 is not on the roster");
}

#[test]
fn a_herd_file_without_a_column_of_tags() {
    let case = Case::new().with("herd.csv", "name,born,dam\nrose,2019,301\n");
    case.talk(&["read", "--herd", "herd.csv"], "# x\ncow 5 clean").code(1).out(COW_5).err(
        "error: herd.csv:1: several columns, and none is known to have the tags; the first line has `name`, `born`, \
         `dam`, and one of these was looked for: tag, tag number, ear tag, management tag, cow, cow number, cow id, \
         animal, animal number, animal id, number, id; write `tag` over the tags\n",
    );
    let case = case.with("plain.txt", "412\n413\n").with("head.txt", "Milkers\n412\n413\n");
    case.talk(&["read", "--herd", "plain.txt"], "cow 412 clean").code(0).err("");
    case.talk(&["read", "--herd", "head.txt"], "cow 412 clean").code(1).out_has("cow 412 ").err(
        "error: head.txt:1: `Milkers` stands over numbers and is left out as the column's name; write `tag` over it if \
         it is one\n",
    );
    // A name that was saved in some old encoding spoils no tag.
    let case = case.with("old.csv", b"name;tag\nB\xe4rbel;412\nrose;4\xe43\n");
    case.talk(&["read", "--herd", "old.csv"], "cow 412 clean")
        .code(1)
        .out_has("cow 412 ")
        .err("error: old.csv:3: `4\u{fffd}3` is no tag: letters and digits, 15 at most\n");
}

#[test]
fn a_clock_that_cannot_be_read() {
    Case::new().at("yesterday").talk(&["read"], "cow 5 clean").code(1).out("").err(
        "error: CHUTESCRIBE_NOW is `yesterday`: premature end of input; write it as \
         2026-03-12T09:41:07-05:00\n",
    );
}
