//! `notebook`: what it shows, writes, asks and refuses.

use crate::case::Case;

const PAGE: &str = "Tue 6/5/18  Juniper Flat, 22 hd\n231 LRO SU z4 blk\n18 ok\n19 \"\n22 trims @ 15 = 330\n";

fn entries(case: &Case) -> Vec<serde_json::Value> {
    case.log().into_iter().filter(|l| l["kind"] == "entry").collect()
}

#[test]
fn it_shows_and_writes_nothing() {
    let case = Case::new().with("old.txt", PAGE);
    case.run(&["notebook", "old.txt"])
        .code(0)
        .out_has("== Juniper Flat, tue 5 jun 2018, 22 head")
        .out_has("(sum: no hoof note, kept as it is)")
        .out_has("dates are month first: by the weekday in line 1")
        .out_has("1 visit, 3 cows, 1 finding; no entries are doubtful; 1 other line");
    assert_eq!(case.text("log.jsonl"), "");
}

#[test]
fn what_is_written_is_what_was_shown_and_is_written_once() {
    let case = Case::new().with("old.txt", PAGE);
    let shown = case.run(&["notebook", "old.txt", "--json"]).code(0);
    let shown: Vec<&str> = shown.stdout().lines().filter(|l| !l.contains("\"other\"")).collect();
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept 3 entries");
    let log = case.text("log.jsonl");
    // The seal of a line is the log's own.
    let unsealed = |l: &str| l.split_once(",\"seal\":").map(|(line, _)| format!("{line}}}"));
    let kept: Vec<String> = log.lines().filter(|l| !l.contains("\"other\"")).filter_map(unsealed).collect();
    assert_eq!(kept, shown);
    assert_eq!(log.lines().filter(|l| l.contains("\"kind\":\"other\"")).count(), 1);
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept no entries\n3 entries were in the log already");
    assert_eq!(case.text("log.jsonl"), log);
    let more = format!("{PAGE}17 RR DD\n");
    let case = case.with("old.txt", more);
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept 1 entry\n3 entries were in the log already");
}

#[test]
fn a_ditto_below_a_corrected_line_is_another_entry() {
    let case = Case::new().with("old.txt", "2018-06-05 Oak Lane\n231 LH DD\n19 \"\n");
    case.run(&["notebook", "old.txt", "--write"]).code(0);
    let case = case.with("old.txt", "2018-06-05 Oak Lane\n231 RH DD\n19 \"\n");
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept 2 entries");
    let last = entries(&case).pop().unwrap();
    assert_eq!(
        (&last["cow"], &last["findings"][0]["foot"], &last["said"]),
        (&"19".into(), &"RH".into(), &"19 \"".into())
    );
}

#[test]
fn the_same_line_twice_in_a_visit_is_two_entries_also_where_the_heading_stands_again() {
    let case = Case::new().with("old.txt", "2018-06-05 Oak Lane\n18 ok\n18 ok\n2018-06-05 Oak Lane\n18 ok\n");
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept 3 entries");
}

#[test]
fn a_date_that_nothing_decides_is_asked_and_held() {
    let case = Case::new().with("old.txt", "6/5/18 Oak Lane\n231 LH DD\n");
    let told = "error: 1 entry was not written: the day or the farm of the visit is in doubt\n";
    let ran = case.run(&["notebook", "old.txt", "--write"]).code(1).out_has("? day first or month first?");
    assert!(ran.stderr().ends_with(told), "{}", ran.stderr());
    assert!(entries(&case).is_empty());
    case.run(&["notebook", "old.txt", "--write", "--dates", "day-first"]).code(0).out_has("kept 1 entry");
    let visit = case.log().remove(0);
    assert_eq!(visit["date"], "2018-05-06");
}

#[test]
fn shorthand_is_asked_once_with_its_lines_and_can_be_kept() {
    let case = Case::new().with("old.txt", "2018-06-05 Oak Lane\n231 LH DD ?XY\n19 ok\n20 RH DD XY\n");
    let ran = case.talk(&["notebook", "old.txt", "--write", "--ask"], "wrap\ny\n").code(0);
    let ran =
        ran.out_has("? what is `XY`? it stands here 2 times\n    2: 231 LH DD ?XY\n    4: 20 RH DD XY\n    > wrap\n");
    ran.out_has("keep `XY` as `wrap`? y or n > y");
    for k in [0, 2] {
        let entry = &entries(&case)[k];
        assert_eq!(entry["actions"][0]["what"], "wrap", "{entry}");
        assert!(entry.get("flags").is_none(), "{entry}");
    }
    case.run(&["read", "--on", "2018-06-05", "--json", "old.txt"]).code(0).out_has("\"what\":\"wrap\"");
}

#[test]
fn shorthand_that_nobody_explains_stays_a_question() {
    let case = Case::new().with("old.txt", "2018-06-05 Oak Lane\n231 LH DD XY\n");
    case.run(&["notebook", "old.txt", "--write"]).code(0);
    let entry = entries(&case).remove(0);
    assert_eq!(entry["flags"][0]["level"], "ask", "{entry}");
    assert_eq!(entry["findings"][0]["disorder"], "DD");
}

#[test]
fn answers_go_by_a_file_and_come_back() {
    let case = Case::new().with("old.txt", "6/5/18 Oak Lane\n231 LH DD XY\n");
    case.run(&["notebook", "old.txt", "--answers", "a.txt"]).code(0).out_has("answer these in a.txt");
    let text = case.text("a.txt");
    assert!(text.contains("\ndates =\n") && text.contains("\nword XY =\n"), "{text}");
    let case = case
        .with("a.txt", text.replace("\ndates =\n", "\ndates = month first\n").replace("word XY =", "word XY = block"));
    case.run(&["notebook", "old.txt", "--answers", "a.txt", "--write"]).code(0).out_has("kept 1 entry");
    assert_eq!(case.log()[0]["date"], "2018-06-05");
    assert_eq!(entries(&case)[0]["actions"][0]["what"], "block");
}

#[test]
fn notes_before_any_heading_need_a_day() {
    let case = Case::new().with("old.txt", "231 LH DD\n");
    case.run(&["notebook", "old.txt", "--write"]).code(1).out_has("before any heading, from line 1 on: which day?");
    case.run(&["notebook", "old.txt", "--write", "--on", "2018-06-05", "--farm", "Oak Lane"])
        .code(0)
        .out_has("kept 1 entry");
}

#[test]
fn contradictory_headings_are_named() {
    let text = "13/6/18 Oak Lane\n1 ok\n6/14/18 Oak Lane\n2 ok\n6/5/18 Oak Lane\n3 ok\nMon 19 June 2018 Oak Lane\n4 ok\n31 June 2018 Oak Lane\n5 ok\n";
    let case = Case::new().with("old.txt", text);
    case.run(&["notebook", "old.txt"])
        .code(0)
        .out_has("line 1 can only be day first, line 3 only month first")
        .out_has("tue 19 jun 2018 is no Monday")
        .out_has("there is no such day: `31 June 2018 Oak Lane`");
    case.run(&["notebook", "old.txt", "--write"]).code(1).out_has("kept 2 entries");
}

#[test]
fn tables_are_read_and_their_columns_told() {
    let table = "Date,Farm,Cow,Comment\n13/6/18,Oak Lane,412,LH DD wrp\n13/6/18,Oak Lane,413,\"RHO SU z4, blk\"\n";
    let case = Case::new().with("old.csv", table);
    let ran = case.run(&["notebook", "old.csv", "--write"]).code(0);
    assert!(
        ran.stderr().starts_with(
            "a table: cow is column 3 `Cow`, date is column 1 `Date`, farm is column 2 `Farm`, note is column 4"
        ),
        "{}",
        ran.stderr()
    );
    let all = entries(&case);
    assert_eq!((all.len(), &all[1]["cow"], &all[1]["actions"][0]["what"]), (2, &"413".into(), &"block".into()));
    assert_eq!(all[1]["source"]["line"], 3);
    case.run(&["notebook", "old.csv", "--columns", "cow=9"]).code(1);
}

#[test]
fn every_encoding_gives_the_same_entries() {
    let text = "2018-06-05 Oak Lane\r\n231\u{a0}LH DD\r\n19 \u{201d}\r\n";
    let utf16: Vec<u8> = [0xfeff].into_iter().chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect();
    let win = b"2018-06-05 Oak Lane\r\n231\xa0LH DD\r\n19 \x94\r\n".to_vec();
    let bom = format!("\u{feff}{text}").into_bytes();
    let of = |bytes: Vec<u8>| {
        let case = Case::new().with("old.txt", bytes);
        case.run(&["notebook", "old.txt", "--json"]).code(0).stdout().to_owned()
    };
    let plain = of(text.as_bytes().to_vec());
    assert_eq!(plain.lines().count(), 3);
    for bytes in [utf16, win, bom] {
        assert_eq!(of(bytes), plain);
    }
}

#[test]
fn what_is_no_notebook_is_refused() {
    let case = Case::new()
        .with("page.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF")
        .with("herd.xlsx", b"PK\x03\x04\x14\0")
        .with("none.txt", "");
    for (file, told) in [
        ("page.jpg", "error: `page.jpg`: this is a photo (JPEG), and no text: type it up, or have it read by OCR\n"),
        (
            "herd.xlsx",
            "error: `herd.xlsx`: this is a packed file such as a spreadsheet (XLSX, ODS) or a document (DOCX), and no text: save it as CSV\n",
        ),
        (".", "error: `.` is a folder; name one file in it\n"),
        ("gone.txt", "error: there is no file `gone.txt`\n"),
        ("none.txt", "error: none.txt: there is no line in it\n"),
    ] {
        case.run(&["notebook", file]).code(1).err(told);
    }
}

#[test]
fn a_line_that_cannot_be_read_is_named_and_the_others_are_taken() {
    let text = format!("2018-06-05 Oak Lane\n1 ok\n{}\n2 ok\n3 \u{7}ok\n", "LH DD ".repeat(40_000));
    let case = Case::new().with("old.txt", text);
    let ran = case
        .run(&["notebook", "old.txt", "--write"])
        .code(1)
        .out_has("kept 2 entries")
        .out_has("2 lines could not be read");
    assert!(
        ran.stderr().contains("error: old.txt:3: a line of 240000 bytes; the longest is 65536"),
        "{}",
        ran.stderr()
    );
    assert!(ran.stderr().contains("error: old.txt:5: a control character (`\\u{7}`)"), "{}", ran.stderr());
}

#[test]
fn the_order_is_the_files_with_any_number_of_jobs() {
    let lines: Vec<String> = (0..5000).map(|n| format!("{} LH DD", n + 1)).collect();
    let case = Case::new().with("old.txt", format!("2018-06-05 Oak Lane\n{}\n", lines.join("\n")));
    let one = case.run(&["notebook", "old.txt", "--json"]).code(0);
    let three = case.run(&["notebook", "old.txt", "--json", "--jobs", "3"]).code(0);
    assert_eq!(one.stdout(), three.stdout());
    assert_eq!(one.stdout().lines().count(), 5001);
}

/// What an entry means, without where it was said and what was asked.
fn meaning(mut entry: serde_json::Value) -> serde_json::Value {
    for key in ["id", "at", "visit", "assumed", "flags", "said", "source", "v", "kind"] {
        entry.as_object_mut().unwrap().shift_remove(key);
    }
    // What was done stands foot by foot on the page.
    if let Some(actions) = entry["actions"].as_array_mut() {
        actions.sort_by_key(ToString::to_string);
    }
    entry
}

#[test]
fn the_demo_as_a_page_is_read_back_as_the_same_entries() {
    use chutescribe::log::{Record, fold, read::read};
    let demo = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/demo/log.jsonl")).unwrap();
    let book = fold(read("demo", demo.as_bytes()).unwrap().records);
    let visit = &book.visits[0];
    let mut page = format!("{}\n", chutescribe::notebook::print::heading(visit.date, visit.farm.as_deref()));
    // What waits for an answer waits in the line that was said.
    let settled: Vec<_> = book.entries.iter().filter(|e| e.open.is_empty()).collect();
    for kept in &settled {
        page.push_str(&chutescribe::notebook::print::line(&kept.entry));
        page.push('\n');
    }
    let case = Case::new().with("page.txt", &page);
    let ran = case.run(&["notebook", "page.txt", "--json"]).code(0);
    let got: Vec<serde_json::Value> = ran
        .stdout()
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .filter(|l: &serde_json::Value| l["kind"] == "entry")
        .collect();
    assert!(settled.len() >= 15, "{}", settled.len());
    for (kept, got) in settled.iter().zip(got) {
        let mut line = kept.line.clone();
        line.entry = kept.entry.clone();
        let want: serde_json::Value = serde_json::from_str(&Record::Entry(Box::new(line)).line()).unwrap();
        assert_eq!(meaning(got), meaning(want), "in\n{page}");
    }
}

/// Which lines are visits, cows and others in the notebooks of two hands; how well they are understood is scored by `.ci/run`.
#[test]
fn two_hands_are_sorted() {
    for name in ["us", "uk"] {
        let text =
            std::fs::read_to_string(format!("{}/tests/notebook/{name}.tsv", env!("CARGO_MANIFEST_DIR"))).unwrap();
        let rows: Vec<(&str, &str)> = text.lines().map(|l| l.split_once('\t').unwrap()).collect();
        let page = rows.iter().map(|r| r.0).collect::<Vec<_>>().join("\n");
        let ran = Case::new().with("old.txt", page).run(&["notebook", "old.txt", "--json"]).code(0);
        let all: Vec<serde_json::Value> = ran.stdout().lines().map(|l| serde_json::from_str(l).unwrap()).collect();
        let at = |line: usize| {
            all.iter()
                .find(|o| o["source"]["line"] == line || o["line"] == line)
                .unwrap_or_else(|| panic!("{name}:{line}"))
        };
        for (i, (said, means)) in rows.iter().enumerate() {
            let got = at(i + 1);
            if let Some(visit) = means.strip_prefix("@visit ") {
                let (date, farm) = visit.split_once(' ').unwrap();
                assert_eq!(
                    (&got["kind"], &got["date"], &got["farm"]),
                    (&"visit".into(), &date.into(), &farm.into()),
                    "{said}"
                );
            } else if *means == "@other" {
                assert_eq!(got["kind"], "other", "{said}");
            } else {
                let cow = means.split(" | ").find_map(|m| m.strip_prefix("cow=")).unwrap();
                assert_eq!((&got["kind"], &got["cow"]), (&"entry".into(), &cow.into()), "{said}");
            }
        }
    }
}

#[test]
fn a_corrected_file_adds_what_is_new_and_names_what_it_was() {
    let page = "2018-06-05 Oak Lane\n231 LH DD\n18 ok\n19 RH DD\n";
    let case = Case::new().with("old.txt", page);
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept 3 entries");
    let old = entries(&case)[0]["id"].as_str().unwrap().to_owned();
    let case = case.with("old.txt", page.replace("231 LH", "231 RH").replace("18 ok\n", "17 ok\n18 ok\n"));
    let told = format!(
        "1 entry in the log came from a file of this name, and stands in it no more:\n  {old}  line 2: 231 LH DD\n        \
         now line 2: 231 RH DD\n"
    );
    let log = case.text("log.jsonl");
    case.run(&["notebook", "old.txt"])
        .code(0)
        .out_has("2 entries are new; 2 entries are in the log already")
        .out_has(&told);
    assert_eq!(case.text("log.jsonl"), log);
    case.run(&["notebook", "old.txt", "--write"])
        .code(0)
        .out_has("kept 2 entries\n2 entries were in the log already\n")
        .out_has(&told);
    case.run(&["strike", &old, "--why", "misread"]).code(0);
    let ran = case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept no entries");
    assert!(!ran.stdout().contains("no more"), "{}", ran.stdout());
}

#[test]
fn a_file_that_changes_while_it_is_read_is_told_and_taken_no_further() {
    use std::io::{BufRead, BufReader, Write};
    use std::process::{Command, Stdio};
    let line = "231 LH DD\n";
    let text = format!("2018-06-05 Oak Lane\n12 LH DD XY\n{}", line.repeat(3000));
    // Behind the lines that are taken at once, and before them.
    for (at, kept) in [(2500, 2047), (0, 0)] {
        let case = Case::new().with("old.txt", &text);
        let mut program = Command::new(assert_cmd::cargo::cargo_bin!("chutescribe"))
            .args(["notebook", "old.txt", "--write", "--ask"])
            .env("CHUTESCRIBE_LOG", "log.jsonl")
            .env("XDG_DATA_HOME", case.path("data"))
            .env("CHUTESCRIBE_NOW", "2026-03-12T09:41:07-05:00")
            .current_dir(case.path(""))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut shown = String::new();
        let mut stdout = BufReader::new(program.stdout.take().unwrap());
        // It has looked at the whole file once when it asks.
        while !shown.contains("what is `XY`?") {
            assert!(stdout.read_line(&mut shown).unwrap() > 0, "{shown}");
        }
        let mut changed: Vec<&str> = text.lines().collect();
        changed[at] = "2018-06-06 Elm End";
        std::fs::write(case.path("old.txt"), changed.join("\n")).unwrap();
        program.stdin.take().unwrap().write_all(b"-\n").unwrap();
        let ended = program.wait_with_output().unwrap();
        let told = String::from_utf8(ended.stderr).unwrap();
        assert_eq!(ended.status.code(), Some(1), "{told}");
        let kept_told = if kept > 0 {
            "2047 entries of the lines before are in the log, and will not be added twice; run it again"
        } else {
            "nothing from line 1 on was taken; run it again"
        };
        assert!(told.contains("error: `old.txt` changed while it was read") && told.contains(kept_told), "{told}");
        assert_eq!(entries(&case).len(), kept);
    }
}

#[test]
fn a_row_of_a_table_may_go_over_several_lines() {
    let table = "Cow,Farm,Date,Notes\n412,Oak Lane,13/6/18,\"LH DD\nwrp\"\n413,\",\",\"RH DD\n\n414,Oak Lane,13/6/18,LHO SU z4, blk\n";
    let case = Case::new().with("old.csv", table);
    case.run(&["notebook", "old.csv", "--write"]).code(0).out_has("1 visit, 3 cows, 3 findings");
    let all = entries(&case);
    let of = |k: usize| (&all[k]["cow"], &all[k]["findings"][0]["foot"], &all[k]["source"]["line"]);
    assert_eq!(of(0), (&"412".into(), &"LH".into(), &2.into()));
    assert_eq!(all[0]["actions"][0]["what"], "wrap");
    assert_eq!(of(1), (&"413".into(), &"RH".into(), &4.into()));
    assert_eq!(of(2), (&"414".into(), &"LH".into(), &6.into()));
    assert_eq!(all[2]["actions"][0]["what"], "block", "a comma too many loses nothing");
}

#[test]
fn headings_that_run_backwards_are_listed_with_their_lines() {
    let text = "2018-06-05 Oak Lane\n1 ok\n2018-06-01 Elm End\n2 ok\n4 Mar Elm End\n3 ok\n2081-06-05 Elm End\n4 ok\n";
    let case = Case::new().with("old.txt", text);
    case.run(&["notebook", "old.txt", "--write"])
        .code(1)
        .out_has("  ! line 3: it runs backwards: fri 1 jun 2018 is before tue 5 jun 2018 in line 1\n")
        .out_has(
            "no year, and it runs backwards: the heading before in line 3 is fri 1 jun 2018\n      5: 4 Mar Elm End\n",
        )
        .out_has("thu 5 jun 2081 is still to come: is the year right?\n      7: 2081-06-05 Elm End\n")
        .out_has("kept 2 entries");
}

/// The visits of a page whose first line is `Mon 5/10/09 Thornybank`, and which has `line` below a cow: day, farm, heads,
/// and the questions.
fn visit_of(line: &str) -> Vec<String> {
    let page = format!("Mon 5/10/09 Thornybank\n112 LRO SU\n{line}\n113 RRO SU\n");
    let ran = Case::new().with("old.txt", page).run(&["notebook", "old.txt", "--json"]).code(0);
    let all = ran.stdout().lines().map(|l| serde_json::from_str::<serde_json::Value>(l).unwrap());
    let told = |v: serde_json::Value| {
        let asks = v["flags"].as_array().into_iter().flatten().filter(|f| f["level"] == "ask");
        let asks: Vec<String> = asks.map(|f| format!(" ?{}", f["field"].as_str().unwrap())).collect();
        let head = v["head"].as_u64().map_or(String::new(), |h| format!(" {h}"));
        format!("{} {}{head}{}", v["date"].as_str().unwrap_or("-"), v["farm"].as_str().unwrap(), asks.concat())
    };
    all.filter(|v| v["kind"] == "visit").skip(1).map(told).collect()
}

#[test]
fn a_dated_line_is_a_heading_or_asked_and_never_drops_its_cows_into_the_visit_before() {
    for (line, visit) in [
        ("6/10 Thornybank 40 cows + 6 hfrs", "2009-10-06 Thornybank 46"),
        ("Tues 6/10 Thornybank 40c 6h", "2009-10-06 Thornybank 46"),
        ("Thornybank 6/10", "2009-10-06 Thornybank"),
        ("thornybank 6/10", "2009-10-06 Thornybank"),
        ("Thornybank 2nd day 6/10", "2009-10-06 Thornybank"),
        ("6/10 day 2", "2009-10-06 Thornybank"),
        ("6/10 do", "2009-10-06 Thornybank"),
        ("6/10 there again", "2009-10-06 Thornybank"),
        ("6/10 rechecks", "2009-10-06 Thornybank ?farm"),
        ("6th", "2009-10-06 Thornybank ?farm"),
        ("6/10 heifers at top", "2009-10-06 Thornybank ?farm"),
        ("Oak Lane 6/10", "2009-10-06 Oak Lane ?farm"),
        ("Oct 2009 Thornybank, 40 hd", "- Thornybank 40 ?date"),
        ("Oct 09 Thornybank", "2009-10-09 Thornybank ?date"),
        ("Thornybank", "2009-10-05 Thornybank ?date"),
        ("Thornybank rechecks", "2009-10-05 Thornybank ?date"),
    ] {
        assert_eq!(visit_of(line), [visit], "{line}");
    }
    for line in [
        "3/4 load hay",
        "1/2 ton nuts",
        "pick up blades 6/10",
        "new disc 6/10",
        "vet coming 12/6",
        "recheck 6/10",
        "Fri do rechecks Thornybank",
        "ring Thornybank",
        "Thornybank owes 330",
        "Thornybank 0555 0142",
        "12 @ 13 = 156",
        "10.30 start",
    ] {
        assert_eq!(visit_of(line), [""; 0], "{line}");
    }
}

#[test]
fn what_stands_behind_a_farm_is_no_part_of_its_name() {
    for (line, visit) in [
        ("6/10 same place, last 19", "2009-10-06 Thornybank 19"),
        ("6/10 same place, 19 left", "2009-10-06 Thornybank 19"),
        ("6/10 same again, 12 dry cows", "2009-10-06 Thornybank 12"),
        ("6th Oct same place heifers", "2009-10-06 Thornybank"),
        ("6/10 - rechecks only, same place", "2009-10-06 Thornybank"),
        ("Tues 6/10 Thornybank (rechecks)", "2009-10-06 Thornybank"),
        ("6/10 Thornybank pm", "2009-10-06 Thornybank"),
        ("6/10 Thornybank - dry cows", "2009-10-06 Thornybank"),
        ("6/10 Thornybank lame cows", "2009-10-06 Thornybank"),
        ("6/10/09 Thornybank wet ones", "2009-10-06 Thornybank"),
        ("6/10 Thornybank day 2", "2009-10-06 Thornybank"),
        ("6/10 Thornybank 40 + 6", "2009-10-06 Thornybank 46"),
        ("6/10 Thornybank, milkers 40, dry 6", "2009-10-06 Thornybank 46"),
        ("6/10/09 Oak Lane rechecks", "2009-10-06 Oak Lane"),
        ("6/10/09 Thornybank East", "2009-10-06 Thornybank East ?farm"),
        ("6/10/09 heifers at top", "2009-10-06 top ?farm"),
    ] {
        assert_eq!(visit_of(line), [visit], "{line}");
    }
}

#[test]
fn a_line_that_may_open_a_visit_is_settled_by_its_answer() {
    let page = "Mon 5/10/09 Thornybank\n112 LRO SU\nDave 6/10\n113 RRO SU\nThornybank Farm 7/10\n114 ok\nThornybank Farm 8/10\n115 ok\n";
    let case = Case::new().with("old.txt", page);
    let ran = case.run(&["notebook", "old.txt", "--answers", "a.txt", "--write"]).code(1).out_has("kept 1 entry");
    ran.out_has("is `Thornybank Farm` the farm `Thornybank`? it stands in 2 headings");
    let text = case.text("a.txt").replace("line 3 farm =", "line 3 farm = no visit");
    let case = case.with("a.txt", text.replace("farm Thornybank Farm =", "farm Thornybank Farm = Thornybank"));
    case.run(&["notebook", "old.txt", "--answers", "a.txt", "--write"]).code(0).out_has("kept 3 entries");
    let visits: Vec<_> = case.log().into_iter().filter(|l| l["kind"] == "visit").collect();
    let told: Vec<String> = visits.iter().map(|v| format!("{} {}", v["date"], v["farm"])).collect();
    assert_eq!(told, ["2009-10-05", "2009-10-07", "2009-10-08"].map(|d| format!("\"{d}\" \"Thornybank\"")));
    assert_eq!(entries(&case)[1]["visit"], visits[0]["id"]);
    assert!(case.text("a.txt").contains("line 3 date = no visit"), "it is still answered");
}

#[test]
fn words_behind_the_number_repeat_the_line_above() {
    let page = "Mon 5/10/09 Thornybank\n163 LR DD M2, wrp\n164 do both rears\n171 LRO WL\n172 ditto RR\n\
        33 RRI SH gr1\n34 do LRO gr2\n77 LH DD M1, RH \" M4\n160 RRO SU z4, blk RRI\n161 \" LRO\n29 do next time\n\
        35 LF IP\n36 same\n188 same again RF\n189 as above\n";
    let case = Case::new().with("old.txt", page);
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept 14 entries");
    let told = |cow: &str| {
        let all = entries(&case);
        let entry = all.iter().find(|e| e["cow"] == cow).unwrap_or_else(|| panic!("{cow}"));
        let text = |v: &serde_json::Value| v.as_str().map(str::to_owned).unwrap_or_default();
        let of = |list: &str, keys: [&str; 4]| {
            let all = entry[list].as_array().into_iter().flatten();
            all.map(|f| keys.map(|k| text(&f[k])).join(" ").trim().replace("  ", " ")).collect::<Vec<_>>()
        };
        [of("findings", ["foot", "claw", "disorder", "stage"]), of("actions", ["what", "foot", "claw", "agent"])]
            .concat()
    };
    for (cow, means) in [
        ("164", &["LH DD M2", "RH DD M2", "wrap LH", "wrap RH"][..]),
        ("172", &["RH outer WL"]),
        ("34", &["LH outer SH"]),
        ("77", &["LH DD M1", "RH DD M4"]),
        ("161", &["LH outer SU", "block LH inner"]),
        ("29", &[]),
        ("36", &["LF IP"]),
        ("188", &["RF IP"]),
        ("189", &["RF IP"]),
    ] {
        assert_eq!(told(cow), means, "{cow}");
    }
}

#[test]
fn what_was_used_up_is_no_cow_and_what_came_off_her_is_no_count() {
    let stock =
        ["12 wood blks, 2 glue used", "6 blks used", "8 blks left in van", "9 dry, 4 hfrs", "3 rubber blks 2 wraps"];
    let cows = [
        "193 shoes off",
        "12 shoes on both fronts",
        "12 blks both hinds",
        "12 blks in",
        "186 sold",
        "231 left hind DD",
    ];
    for (lines, kind) in [(&stock[..], "other"), (&cows[..], "entry")] {
        let case = Case::new().with("old.txt", format!("2009-10-05 Thornybank\n{}\n", lines.join("\n")));
        let ran = case.run(&["notebook", "old.txt", "--json"]).code(0);
        let all = ran.stdout().lines().map(|l| serde_json::from_str::<serde_json::Value>(l).unwrap());
        let kinds: Vec<_> = all.skip(1).filter(|l| l["kind"] != "question").map(|l| l["kind"].clone()).collect();
        assert_eq!(kinds, vec![kind; lines.len()], "{lines:?}");
    }
}

#[test]
fn cows_behind_semicolons_are_cows() {
    let page = "2009-10-05 Thornybank\n54 OK; 55 LH ID mild; 56 RHO CC\n57 \"\n7 ok; 8 LH DD; 9 \"\n60 LHO SU; 4 wks recheck\n";
    let case = Case::new().with("old.txt", page);
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("no entries are doubtful");
    let told: Vec<String> = entries(&case)
        .iter()
        .map(|e| {
            let found = &e["findings"][0];
            [&e["cow"], &found["foot"], &found["disorder"]].map(|v| v.as_str().unwrap_or("-")).join(" ")
        })
        .collect();
    let want = ["54 - -", "55 LH ID", "56 RH CC", "57 RH CC", "7 - -", "8 LH DD", "9 LH DD", "60 LH SU"];
    assert_eq!(told, want);
}

#[test]
fn a_word_that_nobody_knows_is_asked_once_and_the_end_tells_what_it_came_to() {
    let page = "2009-10-05 Thornybank, 41 hd\n144 LRO xv z4\n147 RRO xv z4 blk\n22 RR SU, LR SU\n23 RR SU\n151 NAD kicks\n\
        vet coming 12/6\n2009-10-06 Thornybank\n118 ok\n";
    let ran = Case::new().with("old.txt", page).run(&["notebook", "old.txt"]).code(0);
    let ran = ran
        .out_has(
            "     2  144 LRO xv z4\n        cow 144\n          remark       LRO xv z4\n          ? `xv` is asked below\n",
        )
        .out_has("          right hind   block\n          ? `xv` is asked below\n")
        .out_has("  Thornybank: 2 visits, 6 cows; 41 head counted, 5 read\n")
        .out_has("  ! 1 other line holds a day, and opens no visit:\n      7: vet coming 12/6\n")
        // Three questions, but only two lines.
        .out_has("  3 questions about the claw of a lesion: lines 4, 5\n")
        .out_has("  ? what is `xv`? it stands here 2 times\n")
        .out_has("what else is asked at the lines is written with its questions: `settle` puts them one by one\n");
    for jargon in ["is not in the vocabulary", "disorder open", "claw missing", "heard"] {
        assert!(!ran.stdout().contains(jargon), "{jargon} in\n{}", ran.stdout());
    }
}

#[test]
fn a_long_file_shows_no_bar_where_there_is_no_terminal() {
    let text = format!("2018-06-05 Oak Lane\n{}", "412 LH DD, a wrap on it, and so on\n".repeat(32_000));
    assert!(text.len() > 1 << 20);
    let case = Case::new().with("old.txt", text);
    case.run(&["notebook", "old.txt", "--write"]).code(0).err("log: log.jsonl\n").out_has("kept 32000 entries");
}

#[test]
fn an_entry_that_shorthand_would_change_now_is_named_and_not_doubled() {
    let case = Case::new().with("old.txt", "2018-06-05 Oak Lane\n18 ok\n231 LH DD XY\n");
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept 2 entries");
    let case = case.with("a.txt", "word XY = wrap\n");
    let ran = case.run(&["notebook", "old.txt", "--write", "--answers", "a.txt"]).code(0).out_has("kept no entries");
    ran.out_has("1 entry in the log is understood otherwise now (line 3), and stays there as before: `settle`");
    assert_eq!(entries(&case).len(), 2);
}

/// Ids come from what the lines say: a log that `check` calls changed is one that nobody trusts.
#[test]
fn every_kind_of_line_is_kept_so_that_check_finds_all_well() {
    let page = "Tue 6/5/18  Juniper Flat, 22 hd\n231 LRO SU z4 blk\n18 ok\n19 \"\n12, 13 & 14 ok\n12, 13 & 14 ok\n\
        22 trims @ 15 = 330\nWed 6/6/18 Oak Lane\n18 ok\nTue 6/5/18 Juniper Flat\n18 ok\n18 ok\n21 RR DD\n";
    let case = Case::new().with("old.txt", page);
    case.run(&["notebook", "old.txt", "--write"]).code(0).out_has("kept 13 entries");
    case.run(&["check"]).code(0).out_has("13 entries").out_has("1 line that is no hoof note").out_has("all is well");
    let log = case.text("log.jsonl");
    case.run(&["notebook", "old.txt", "--write"])
        .code(0)
        .out_has("kept no entries\n13 entries were in the log already");
    assert_eq!(case.text("log.jsonl"), log);
    let table =
        "Date,Farm,Tag,Notes\n2018-06-05,Oak Lane,12,LH DD\n2018-06-05,Oak Lane,13,ok\n2018-06-05,Oak Lane,12,ok\n";
    let case = Case::new().with("old.csv", table);
    case.run(&["notebook", "old.csv", "--write"]).code(0).out_has("kept 3 entries");
    case.run(&["check"]).code(0).out_has("all is well");
}

#[test]
fn the_log_of_a_whole_notebook_is_well() {
    for notebook in ["us", "uk"] {
        let lines = std::fs::read_to_string(format!("{}/tests/notebook/{notebook}.tsv", env!("CARGO_MANIFEST_DIR")));
        let page: Vec<String> = lines.unwrap().lines().map(|l| l.split('\t').next().unwrap().to_owned()).collect();
        let case = Case::new().with("old.txt", page.join("\n") + "\n");
        case.run(&["notebook", "old.txt", "--write"]);
        case.run(&["check"]).code(0).out_has("all is well");
    }
}

#[test]
fn what_is_struck_out_is_not_read_and_told() {
    let page = "Tue 6/5/18  Juniper Flat\n~~101~~ 110 RR heel ulcer outer, blk\n~~118 LR wart wrp~~\n12 ok\n";
    let case = Case::new().with("old.txt", page);
    case.run(&["notebook", "old.txt"])
        .code(0)
        .out_has("struck out, and not read: `101`")
        .out_has("(struck out: no hoof note, kept as it is)");
    case.run(&["notebook", "old.txt", "--write"]).code(0);
    let cows: Vec<String> = entries(&case).iter().map(|e| e["cow"].as_str().unwrap_or_default().to_owned()).collect();
    assert_eq!(cows, ["110", "12"]);
    // Struck out as a whole, the line is kept as it stands.
    assert!(case.text("log.jsonl").contains("~~118 LR wart wrp~~"));
}

#[test]
fn a_visit_that_is_planned_opens_none() {
    for plan in ["Next: Wed Jul 17", "Come back 17 July", "back Wed Jul 17"] {
        let page = format!("Tue 6/5/18  Juniper Flat\n231 LRO SU z4\n{plan}\n18 ok\n");
        let case = Case::new().with("old.txt", page);
        case.run(&["notebook", "old.txt"]).code(0).out_has("1 visit, 2 cows");
    }
}
