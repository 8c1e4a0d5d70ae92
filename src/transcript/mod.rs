//! Timed transcripts, as dictation apps export them: `WebVTT` and SRT into notes with their times.
//!
//! A cue that cannot be read is told with its line and its words; the rest is read.

mod cues;
mod join;
mod lines;
mod srt;
mod text;
mod time;
mod vtt;

pub use time::Offset;

use crate::notes::Note;

/// How a transcript is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// <https://www.w3.org/TR/webvtt1/>
    Vtt,
    /// `SubRip`: no standard, but everybody writes it alike.
    Srt,
}

/// A part of a transcript that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BadCue {
    #[error("the file does not begin with `WEBVTT`; it is read all the same")]
    Header,
    #[error("`{timing}` is no time of a cue, such as `00:01:07.200 --> 00:01:09.000`{}", left_out(text))]
    Timing { timing: String, text: String },
    #[error("the cue ends before it begins: `{timing}`{}", left_out(text))]
    Backwards { timing: String, text: String },
    #[error("no time stands before these words{}", left_out(text))]
    NoTiming { text: String },
    #[error("byte {offset} (`\\x{byte:02x}`) is not UTF-8: save the file as UTF-8 text{}", left_out(text))]
    NotUtf8 { offset: usize, byte: u8, text: String },
    #[error("byte {offset} is a control character (`{shown}`), which no note has{}", left_out(text))]
    Control { offset: usize, shown: String, text: String },
}

fn left_out(text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("; left out: `{text}`") }
}

/// One cue with words in it. Lines count from 1.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Cue {
    line: usize,
    start: Offset,
    end: Offset,
    /// Who speaks, where it is said (`<v Name>`).
    voice: Option<String>,
    text: String,
}

impl Format {
    /// By the name's ending, else by how the input begins.
    pub fn of(name: &str, start: &[u8]) -> Option<Self> {
        let ending = name.rsplit_once('.').map(|e| e.1.to_ascii_lowercase());
        match ending.as_deref() {
            Some("vtt" | "webvtt") => return Some(Self::Vtt),
            Some("srt") => return Some(Self::Srt),
            _ => {}
        }
        let text = String::from_utf8_lossy(start);
        let mut lines = text.trim_start_matches('\u{feff}').lines().map(str::trim).skip_while(|l| l.is_empty());
        let first = lines.next()?;
        if first.strip_prefix("WEBVTT").is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t'])) {
            return Some(Self::Vtt);
        }
        let numbered = !first.is_empty() && first.bytes().all(|b| b.is_ascii_digit());
        (numbered && lines.next().is_some_and(|l| time::timing(l).is_some())).then_some(Self::Srt)
    }
}

/// The notes of a transcript with their times, in order, and what could not be read, each with its line.
pub fn notes(format: Format, bytes: &[u8]) -> Vec<(usize, Result<Note, BadCue>)> {
    let lines = lines::lines(bytes);
    join::notes(match format {
        Format::Vtt => vtt::cues(&lines),
        Format::Srt => srt::cues(&lines),
    })
}

#[cfg(test)]
mod tests;
