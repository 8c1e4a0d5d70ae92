//! Sentences that go over the borders of cues become one note.

use std::time::Duration;

use super::cues::Read;
use super::{BadCue, Cue};
use crate::notes::Note;

/// A longer silence ends a sentence, whatever the recogniser wrote.
const SILENCE: Duration = Duration::from_secs(2);
/// A recogniser that writes no full stops must not make one note of a whole day: some two minutes of talk.
const LONGEST: usize = 2000;

/// Joins a cue with the next where it does not end a sentence, the next follows at once, and the same person
/// speaks. A note has the line and the time of its first cue.
pub(super) fn notes(cues: Vec<Read>) -> Vec<(usize, Result<Note, BadCue>)> {
    let mut out: Vec<(usize, Result<Note, BadCue>)> = Vec::with_capacity(cues.len());
    let mut last: Option<Cue> = None;
    for (line, read) in cues {
        match read {
            Err(bad) => {
                last = None;
                out.push((line, Err(bad)));
            }
            Ok(cue) => {
                match (&last, out.last_mut()) {
                    (Some(before), Some((_, Ok(note)))) if goes_on(before, &cue, note) => {
                        note.text.push(' ');
                        note.text.push_str(&cue.text);
                    }
                    _ => out.push((
                        line,
                        Ok(Note { line, text: cue.text.clone(), time: Some(cue.start), hearings: vec![] }),
                    )),
                }
                last = Some(cue);
            }
        }
    }
    out
}

fn goes_on(before: &Cue, next: &Cue, note: &Note) -> bool {
    let closed = before.text.trim_end_matches(['"', '\'', ')', '\u{201d}', '\u{2019}']);
    let gap = next.start.duration().saturating_sub(before.end.duration());
    !closed.ends_with(['.', '!', '?', '\u{2026}'])
        && gap < SILENCE
        && next.start >= before.start
        && before.voice == next.voice
        && note.text.len() + next.text.len() < LONGEST
}
