//! Takes an input apart into notes, one a line, and names the lines that cannot be notes.

use std::io::{self, BufRead, BufReader};

use crate::hearing::{self, BadHearings, Hearing};
pub use crate::read::LONGEST;
use crate::transcript::Offset;

/// One line of an input that is a note.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Note {
    /// From 1, of the input as it is: comments and empty lines count.
    pub line: usize,
    /// Without the end of the line and blanks around it; of several hearings, the first.
    pub text: String,
    /// When it was said, in a timed transcript.
    pub time: Option<Offset>,
    /// What was heard, where there are several hearings of it.
    pub hearings: Vec<Hearing>,
}

impl Note {
    /// What was said, by that one of several hearings.
    pub fn heard(&self, hearing: usize) -> &str {
        self.hearings.get(hearing).map_or(&self.text, |h| &h.text)
    }
}

/// A line that cannot be a note. Offsets are bytes from the start of the input.
#[derive(Debug, thiserror::Error, PartialEq, Eq)]
pub enum BadNote {
    #[error("a note of {bytes} bytes; the longest is {LONGEST}: break it into lines, one a cow: `{start}…`")]
    TooLong { bytes: u64, start: String },
    #[error("byte {offset} (`\\x{byte:02x}`) is not UTF-8: save the file as UTF-8 text: `{text}`")]
    NotUtf8 { offset: u64, byte: u8, text: String },
    #[error("byte {offset} is a control character (`{shown}`), which no note has: take it out: `{text}`")]
    Control { offset: u64, shown: String, text: String },
    #[error(transparent)]
    Hearings(#[from] BadHearings),
}

/// The notes of an input. Empty lines are skipped, and so are comments: a `#` that no digit follows
/// (`#412` is how a cow is written).
#[derive(Debug)]
pub struct Notes<R> {
    input: R,
    line: usize,
    /// Bytes before the line that comes next.
    offset: u64,
    bytes: Vec<u8>,
    hearings: bool,
}

impl<R: BufRead> Notes<R> {
    pub fn new(input: R) -> Self {
        Self { input, line: 0, offset: 0, bytes: Vec::new(), hearings: false }
    }

    /// Whether each line holds several hearings of one note (see [`hearing::parse`]).
    #[must_use]
    pub fn with_hearings(self, hearings: bool) -> Self {
        Self { hearings, ..self }
    }

    /// The next note with its line; `None` at the end of the input.
    ///
    /// # Errors
    /// Where the input cannot be read on. A line that is no note is not an error of the input.
    pub fn next_note(&mut self) -> io::Result<Option<(usize, Result<Note, BadNote>)>> {
        loop {
            let start = self.offset;
            let Some(length) = self.next_line()? else { return Ok(None) };
            self.line += 1;
            let note = self.note(start, length);
            if note != Ok(None) {
                return Ok(Some((self.line, note.map(Option::unwrap_or_default))));
            }
        }
    }

    /// One line into `bytes`, as much of it as a note may have; gives its true length.
    fn next_line(&mut self) -> io::Result<Option<u64>> {
        self.bytes.clear();
        let mut length = 0;
        let mut any = false;
        loop {
            let chunk = self.input.fill_buf()?;
            if chunk.is_empty() {
                break;
            }
            any = true;
            let end = chunk.iter().position(|b| *b == b'\n');
            let part = &chunk[..end.unwrap_or(chunk.len())];
            length += part.len() as u64;
            let room = (LONGEST + 1).saturating_sub(self.bytes.len());
            self.bytes.extend_from_slice(&part[..part.len().min(room)]);
            let used = part.len() + usize::from(end.is_some());
            self.input.consume(used);
            self.offset += used as u64;
            if end.is_some() {
                break;
            }
        }
        Ok(any.then_some(length))
    }

    fn note(&self, start: u64, length: u64) -> Result<Option<Note>, BadNote> {
        let mark = if start == 0 && self.bytes.starts_with("\u{feff}".as_bytes()) { 3 } else { 0 };
        let bytes = &self.bytes[mark..];
        let lossy = || shown(&String::from_utf8_lossy(bytes));
        if length > LONGEST as u64 {
            return Err(BadNote::TooLong { bytes: length, start: lossy().chars().take(60).collect() });
        }
        let offset = |at: usize| start + (mark + at) as u64;
        let text = std::str::from_utf8(bytes).map_err(|e| BadNote::NotUtf8 {
            offset: offset(e.valid_up_to()),
            byte: bytes[e.valid_up_to()],
            text: lossy(),
        })?;
        let line = text.strip_suffix('\r').unwrap_or(text);
        if let Some((at, c)) = line.char_indices().find(|(_, c)| c.is_control() && *c != '\t') {
            return Err(BadNote::Control { offset: offset(at), shown: c.escape_default().to_string(), text: lossy() });
        }
        let comment = line.strip_prefix('#').is_some_and(|rest| !rest.starts_with(|c: char| c.is_ascii_digit()));
        if comment || line.trim().is_empty() {
            return Ok(None);
        }
        let note = Note { line: self.line, text: line.trim().to_owned(), ..Note::default() };
        if !self.hearings {
            return Ok(Some(note));
        }
        let hearings = hearing::parse(line)?;
        Ok(Some(Note { text: hearing::text_of_best(&hearings).to_owned(), hearings, ..note }))
    }
}

impl<R: io::Read> Notes<BufReader<R>> {
    /// The input from where it stands, for what is no list of notes.
    pub fn rest(&mut self) -> &mut BufReader<R> {
        &mut self.input
    }

    /// Whether a whole line is at hand, so that the next one is there without waiting.
    pub fn at_hand(&self) -> bool {
        self.input.buffer().contains(&b'\n')
    }
}

/// A line fit to be shown: control characters are written out.
fn shown(text: &str) -> String {
    text.trim_end_matches('\r')
        .chars()
        .map(|c| if c.is_control() { c.escape_default().to_string() } else { c.to_string() })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(bytes: &[u8]) -> Vec<(usize, Result<String, BadNote>)> {
        let mut notes = Notes::new(bytes);
        let mut out = vec![];
        while let Some((line, note)) = notes.next_note().unwrap() {
            out.push((line, note.map(|n| n.text)));
        }
        out
    }

    #[test]
    fn comments_and_empty_lines_are_no_notes_but_count() {
        let got = all("\u{feff}# day\r\n\r\ncow 1\r\n #412 lh dd\n#412 rh dd".as_bytes());
        let got: Vec<_> = got.into_iter().map(|(n, t)| (n, t.unwrap())).collect();
        assert_eq!(got, [(3, "cow 1".into()), (4, "#412 lh dd".into()), (5, "#412 rh dd".into())]);
    }

    #[test]
    fn bad_bytes_are_named_by_their_offset_and_the_rest_is_read() {
        let got = all(b"cow 1\ncow \xff2\ncow 3\0\ncow 4\n");
        assert!(matches!(got[1].1, Err(BadNote::NotUtf8 { offset: 10, byte: 0xff, .. })), "{got:?}");
        assert!(matches!(got[2].1, Err(BadNote::Control { offset: 18, .. })), "{got:?}");
        assert_eq!(got[3], (4, Ok("cow 4".into())));
    }

    #[test]
    fn a_recogniser_that_heard_nothing_leaves_its_part_empty() {
        let mut notes = Notes::new("\tcow 5 clean\ncow 6 clean\tcow 6 green\n".as_bytes()).with_hearings(true);
        let mut next = || notes.next_note().unwrap().unwrap().1.unwrap();
        let (first, second) = (next(), next());
        assert_eq!((first.text.as_str(), first.hearings.len()), ("cow 5 clean", 1));
        assert_eq!((second.text.as_str(), second.hearings.len()), ("cow 6 clean", 2));
    }

    #[test]
    fn the_longest_note_is_read_and_one_byte_more_is_not() {
        let longest = "a".repeat(LONGEST);
        let got = all(format!("{longest}\n{longest}b\ncow 3\n").as_bytes());
        assert_eq!(got[0].1.as_ref().unwrap().len(), LONGEST);
        assert!(matches!(got[1].1, Err(BadNote::TooLong { bytes: 65537, .. })));
        assert_eq!(got[2].0, 3);
    }
}
