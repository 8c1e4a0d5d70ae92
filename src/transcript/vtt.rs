//! `WebVTT`: a header, then blocks; of these, comments, styles and regions hold no words of the speaker's.

use super::BadCue;
use super::cues::{self, Read};
use super::lines::Line;

pub(super) fn cues(lines: &[Line]) -> Vec<Read> {
    let mut out = Vec::new();
    let mut lines = lines;
    if lines.first().is_some_and(|l| starts(&l.text, "WEBVTT")) {
        // The header goes up to an empty line, or up to the first times where that line is missing.
        let end = lines.iter().position(|l| l.text.trim().is_empty() || l.text.contains("-->"));
        lines = &lines[end.unwrap_or(lines.len())..];
    } else if !lines.is_empty() {
        out.push((1, Err(BadCue::Header)));
    }
    for block in cues::blocks(lines) {
        let first = &block[0].text;
        let aside = starts(first, "NOTE") || ((starts(first, "STYLE") || starts(first, "REGION")) && !has_times(block));
        if !aside {
            cues::block(block, &mut out);
        }
    }
    out
}

fn has_times(block: &[Line]) -> bool {
    block.iter().any(|l| l.text.contains("-->"))
}

/// Whether the line is the word, or begins with it and a blank.
fn starts(line: &str, word: &str) -> bool {
    line.strip_prefix(word).is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t']))
}
