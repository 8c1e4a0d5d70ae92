//! Timed transcripts: `WebVTT` and SRT.

use serde_json::json;

use crate::case::Case;

const VTT: &str = "WEBVTT\n\nNOTE recorded at the chute\n\n1\n00:01:07.200 --> 00:01:09.000\n<v Ines>cow 412, right hind\n\n2\n\
                   00:01:09.500 --> 00:01:11.000\n<v Ines>outer ulcer, zone 4.\n\n3\n01:02:00.000 --> 01:02:02.000\ncow 5 clean\n";

#[test]
fn a_sentence_over_cues_is_one_note_with_the_time_of_its_first() {
    let case = Case::new().with("monday.vtt", VTT);
    case.run(&["note", "monday.vtt"]).code(0).out("kept 2 entries of 2 notes\n");
    let log = case.log();
    assert_eq!(log[1]["said"], "cow 412, right hind outer ulcer, zone 4.");
    assert_eq!(log[1]["source"], json!({"file": "monday.vtt", "line": 7, "time": "00:01:07.200"}));
    assert_eq!(log[1]["at"], "2026-03-12T09:41:07-05:00", "when the recording began is not known");
    let before = case.text("log.jsonl");
    case.run(&["note", "monday.vtt"]).code(0).out_has("2 entries were in the log already");
    assert_eq!(case.text("log.jsonl"), before);
}

#[test]
fn read_shows_the_time() {
    Case::new().with("monday.vtt", VTT).run(&["read", "monday.vtt"]).code(0).err("").out(
        "\
cow 412                                                     line 7, 00:01:07.200
  right hind   outer sole ulcer, zone 4

cow 5                                                      line 15, 01:02:00.000
  all four     clean

",
    );
}

#[test]
fn with_the_start_of_the_recording_notes_are_dated_by_the_clock() {
    let case = Case::new().with("monday.vtt", VTT);
    case.run(&["note", "--on", "2026-03-11", "--started", "23:30", "monday.vtt"]).code(0);
    let at: Vec<_> = case.log().iter().skip(1).map(|l| l["at"].clone()).collect();
    assert_eq!(at, ["2026-03-11T23:31:07-05:00", "2026-03-12T00:32:00-05:00"]);
    assert_eq!(case.log()[1]["source"]["time"], "00:01:07.200", "where it is in the recording stays");
}

#[test]
fn a_start_that_is_none_or_of_no_use_is_told() {
    let case = Case::new().with("monday.vtt", VTT).with("day.txt", "cow 5 clean\n");
    for bad in ["25:00", "9", "9:5", "half past nine", ""] {
        case.run(&["read", "--started", bad, "monday.vtt"]).code(2).out("");
    }
    case.run(&["read", "--started", "9:30", "monday.vtt"]).code(2);
    case.run(&["read", "--started", "09:30", "day.txt"])
        .code(1)
        .out_has("cow 5")
        .err("error: `--started` is for timed transcripts (WebVTT or SRT), and none was read\n");
    case.talk(&["note", "--ask", "--started", "09:30"], "cow 5 clean\n").code(1);
}

#[test]
fn a_transcript_is_known_by_name_or_by_its_beginning() {
    let srt = "1\r\n00:00:01,000 --> 00:00:02,000\r\ncow 5 clean\r\n\r\n2\r\n00:00:09,000 --> 00:00:10,000\r\ncow 6 clean\r\n";
    let case = Case::new().with("a.srt", srt).with("b.txt", srt);
    for args in [vec!["read", "a.srt"], vec!["read", "b.txt"]] {
        case.run(&args).code(0).out_has("line 3, 00:00:01.000").out_has("line 7, 00:00:09.000");
    }
    case.talk(&["read"], srt).code(0).out_has("line 7, 00:00:09.000");
    case.talk(&["read"], VTT).code(0).out_has("line 7, 00:01:07.200");
}

#[test]
fn a_bad_cue_names_file_and_line_and_the_rest_is_kept() {
    let case = Case::new().with(
        "bad.vtt",
        b"WEBVTT\n\n00:01.000 --> 00:0x.000\ncow 4 clean\n\n00:03.000 --> 00:02.000\ncow 5 clean\n\nno time at all\n\n\
          00:05.000 --> 00:06.000\ncow 6 br\xfbl\xe9\n\n00:07.000 --> 00:08.000\ncow 7 clean\n",
    );
    let err = "error: bad.vtt:3: `00:01.000 --> 00:0x.000` is no time of a cue, such as `00:01:07.200 --> \
               00:01:09.000`; left out: `cow 4 clean`\nerror: bad.vtt:6: the cue ends before it begins: `00:03.000 --> \
               00:02.000`; left out: `cow 5 clean`\nerror: bad.vtt:9: no time stands before these words; left out: \
               `no time at all`\nerror: bad.vtt:12: byte 130 (`\\xfb`) is not UTF-8: save the file as UTF-8 text; left \
               out: `cow 6 br\u{fffd}l\u{fffd}`\n";
    case.run(&["note", "bad.vtt"]).code(1).out("kept 1 entry of 1 note\n").err(&format!("log: log.jsonl\n{err}"));
    case.run(&["read", "bad.vtt"]).code(1).err(err).out_has("cow 7");
}

#[test]
fn a_file_without_its_header_is_read_all_the_same() {
    Case::new()
        .with("cut.vtt", "00:01.000 --> 00:02.000\ncow 5 clean\n")
        .run(&["read", "cut.vtt"])
        .code(1)
        .out_has("cow 5")
        .err("error: cut.vtt:1: the file does not begin with `WEBVTT`; it is read all the same\n");
}

#[test]
fn a_transcript_with_nothing_said() {
    let case = Case::new()
        .with("empty.vtt", "")
        .with("bare.vtt", "WEBVTT\n\nNOTE cow 5 clean\n")
        .with("dots.vtt", "WEBVTT\n\n00:01.000 --> 00:02.000\n...\n");
    case.run(&["read", "empty.vtt", "bare.vtt", "dots.vtt"]).code(1).out("").err(
        "error: empty.vtt: there is no note in it\nerror: bare.vtt: there is no note in it\nerror: dots.vtt:4: there is \
         no word in `...`\n",
    );
}
