//! What `WebVTT` and SRT have in common: a line of times, and words up to the next empty line.

use super::lines::{Fault, Line};
use super::{BadCue, Cue, text, time};

/// A cue or what could not be read, with its line.
pub(super) type Read = (usize, Result<Cue, BadCue>);

/// Reads the lines of one block, which may hold several cues where the empty line between two is missing.
///
/// The lines before the first times are a name or a number; they are words only where no times follow.
pub(super) fn block(lines: &[Line], out: &mut Vec<Read>) {
    let is_timing = |l: &Line| l.text.contains("-->");
    let Some(mut at) = lines.iter().position(is_timing) else {
        let text = words(lines).0;
        // A number alone is a cue that was emptied.
        if !text.is_empty() && !is_number(&text) {
            let first = lines.iter().find(|l| !l.text.trim().is_empty()).unwrap_or(&lines[0]);
            // Nothing is lost: times that were mangled stand in front of the words they are of.
            let bad = match first.fault.as_ref() {
                Some(fault) => fault.told(text),
                None => BadCue::NoTiming { text },
            };
            out.push((first.number, Err(bad)));
        }
        return;
    };
    loop {
        let after = lines[at + 1..].iter().position(is_timing).map(|n| at + 1 + n);
        let end = match after {
            // The number of the next cue, where no empty line stands before it.
            Some(next) if next > at + 1 && is_number(lines[next - 1].text.trim()) => next - 1,
            Some(next) => next,
            None => lines.len(),
        };
        out.extend(cue(&lines[at], &lines[at + 1..end]));
        match after {
            Some(next) => at = next,
            None => return,
        }
    }
}

fn cue(timing: &Line, said: &[Line]) -> Option<Read> {
    let (text, voice) = words(said);
    let bad_timing = timing.text.trim().to_owned();
    let Some((start, end)) = time::timing(&timing.text) else {
        return Some((timing.number, Err(BadCue::Timing { timing: bad_timing, text })));
    };
    if end < start {
        return Some((timing.number, Err(BadCue::Backwards { timing: bad_timing, text })));
    }
    if let Some((line, fault)) = said.iter().find_map(|l| Some((l, l.fault.as_ref()?))) {
        return Some((line.number, Err(fault.told(text))));
    }
    let line = said.iter().find(|l| !l.text.trim().is_empty())?.number;
    (!text.is_empty()).then_some((line, Ok(Cue { line, start, end, voice, text })))
}

/// Cut apart at empty lines, each part with something in it.
pub(super) fn blocks(lines: &[Line]) -> impl Iterator<Item = &[Line]> {
    lines.split(|l| l.text.trim().is_empty()).filter(|b| !b.is_empty())
}

fn words(lines: &[Line]) -> (String, Option<String>) {
    let markup: Vec<&str> = lines.iter().map(|l| l.text.as_str()).collect();
    text::plain(&markup.join(" "))
}

fn is_number(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())
}

impl Fault {
    fn told(&self, text: String) -> BadCue {
        match self {
            Self::NotUtf8 { offset, byte } => BadCue::NotUtf8 { offset: *offset, byte: *byte, text },
            Self::Control { offset, shown } => BadCue::Control { offset: *offset, shown: shown.clone(), text },
        }
    }
}
