use super::*;

fn told(format: Format, text: &str) -> Vec<String> {
    notes(format, text.as_bytes())
        .into_iter()
        .map(|(line, read)| match read {
            Ok(note) => format!("{line} {} {}", note.time.unwrap(), note.text),
            Err(bad) => format!("{line} ! {bad}"),
        })
        .collect()
}

#[test]
fn webvtt_with_all_that_it_may_hold() {
    let text = "\u{feff}WEBVTT - monday\r\nKind: captions\r\n\r\nSTYLE\r\n::cue { color: white }\r\n\r\nREGION\r\nid:a\r\n\r\n\
                NOTE cow 99 clean\r\nover two lines\r\n\r\nfirst\r\n00:07.200 --> 00:09.000 align:start\r\n\
                <v Ines>cow 5,</v>\r\n<c>all clean.</c>\r\n\r\n01:00:00.000 --> 01:00:01.000\r\ncow 6 &amp; clean\r\n";
    assert_eq!(told(Format::Vtt, text), ["15 00:00:07.200 cow 5, all clean.", "19 01:00:00.000 cow 6 & clean"]);
}

#[test]
fn srt_with_and_without_numbers_and_empty_lines() {
    let text = "1\n00:00:07,200 --> 00:00:09,000\ncow 5 clean.\n2\n00:00:10,000 --> 00:00:11,000\ncow 6 clean.\n\n\n\
                00:00:12,000 --> 00:00:13,000\ncow 7 clean.\n\n4\n00:00:14,000 --> 00:00:15,000\n\n";
    let want = ["3 00:00:07.200 cow 5 clean.", "6 00:00:10.000 cow 6 clean.", "10 00:00:12.000 cow 7 clean."];
    assert_eq!(told(Format::Srt, text), want);
    assert_eq!(told(Format::Srt, &text.replace('\n', "\r")), want);
}

#[test]
fn a_sentence_over_cues_is_one_note() {
    let cues = |gap: u64, first: &str, second: &str| {
        let at = 2000 + gap;
        let text = format!(
            "WEBVTT\n\n00:00.000 --> 00:02.000\n{first}\n\n{} --> 01:00.000\n{second}\n",
            Offset::from_millis(at)
        );
        told(Format::Vtt, &text).len()
    };
    assert_eq!(cues(500, "cow 5, left hind", "outer ulcer."), 1);
    assert_eq!(cues(1999, "cow 5, left hind", "outer ulcer."), 1);
    assert_eq!(cues(2000, "cow 5, left hind", "outer ulcer."), 2);
    for end in [".", "!", "?", ".\"", "\u{2026}"] {
        assert_eq!(cues(0, &format!("cow 5 clean{end}"), "cow 6 clean"), 2, "{end}");
    }
    assert_eq!(cues(0, "<v Ines>cow 5", "<v Joe>nice weather"), 2, "another person speaks");
    assert_eq!(cues(0, &"a ".repeat(1000), "cow 6 clean"), 2, "a note has an end");
}

#[test]
fn a_bad_cue_is_told_and_the_rest_is_read() {
    let text = "1\n00:00:01,000 -> 00:00:02,000\ncow 4 clean\n\n2\n00:00:03,000 --> 00:00:2\ncow 5 clean\n\n3\n\
                00:00:05,000 --> 00:00:04,000\ncow 6 clean\n\n4\n00:00:06,000 --> 00:00:07,000\ncow 7 clean\n";
    assert_eq!(
        told(Format::Srt, text),
        [
            "1 ! no time stands before these words; left out: `1 00:00:01,000 -> 00:00:02,000 cow 4 clean`",
            "6 ! `00:00:03,000 --> 00:00:2` is no time of a cue, such as `00:01:07.200 --> 00:01:09.000`; left out: \
             `cow 5 clean`",
            "10 ! the cue ends before it begins: `00:00:05,000 --> 00:00:04,000`; left out: `cow 6 clean`",
            "15 00:00:06.000 cow 7 clean",
        ]
    );
    assert_eq!(
        told(Format::Vtt, "00:01.000 --> 00:02.000\ncow 4 clean\n"),
        ["1 ! the file does not begin with `WEBVTT`; it is read all the same", "2 00:00:01.000 cow 4 clean"]
    );
}

#[test]
fn bad_bytes_are_told_with_their_line() {
    let bytes = b"WEBVTT\n\n00:01.000 --> 00:02.000\ncow 4 bl\xe9\n\n00:03.000 --> 00:04.000\ncow 5\x07\n\n00:05.000 --> 00:06.000\ncow 6\n";
    let read = notes(Format::Vtt, bytes);
    let lines: Vec<usize> = read.iter().map(|r| r.0).collect();
    assert_eq!(lines, [4, 7, 10]);
    assert!(
        matches!(&read[0].1, Err(BadCue::NotUtf8 { offset: 40, byte: 0xe9, text }) if text == "cow 4 bl\u{fffd}"),
        "{:?}",
        read[0]
    );
    assert!(matches!(&read[1].1, Err(BadCue::Control { offset: 72, shown, .. }) if shown == "\\u{7}"), "{:?}", read[1]);
    assert!(read[2].1.is_ok());
}

#[test]
fn nothing_is_nothing() {
    for text in ["", "WEBVTT", "WEBVTT\n\n", "WEBVTT\n\nNOTE nothing said\n"] {
        assert_eq!(told(Format::Vtt, text), [""; 0], "{text:?}");
    }
    assert_eq!(told(Format::Srt, "\n\n1\n\n"), [""; 0]);
}

#[test]
fn a_transcript_is_known_by_its_name_or_its_beginning() {
    assert_eq!(Format::of("Monday.VTT", b""), Some(Format::Vtt));
    assert_eq!(Format::of("monday.srt", b""), Some(Format::Srt));
    assert_eq!(Format::of("-", "\u{feff}WEBVTT\n".as_bytes()), Some(Format::Vtt));
    assert_eq!(Format::of("monday.txt", b"1\r\n00:00:01,000 --> 00:00:02,000\r\n"), Some(Format::Srt));
    for plain in ["", "WEBVTTs are nice", "412 clean\n", "1\ncow 5 clean\n"] {
        assert_eq!(Format::of("monday.txt", plain.as_bytes()), None, "{plain}");
    }
}
