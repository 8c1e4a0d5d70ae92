//! Bytes of a file as lines of text: UTF-8, UTF-16 or Windows-1252, whatever ends a line, in bounded memory.

use std::io::{self, BufRead, Read};

use encoding_rs::{Decoder, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// A longer line is no line of a notebook.
pub use crate::read::LONGEST;

/// One line of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// From 1.
    pub number: usize,
    /// With plain blanks and quotes, without its end; or why it is no line.
    pub text: Result<String, BadLine>,
}

/// A line that cannot be read; those after it are.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BadLine {
    #[error("a line of {bytes} bytes; the longest is {LONGEST}: break it, one cow a line: `{start}…`")]
    TooLong { bytes: u64, start: String },
    #[error("a control character (`{shown}`), which no note has: take it out: `{text}`")]
    Control { shown: String, text: String },
}

/// A file that is no text.
#[derive(Debug, thiserror::Error)]
pub enum BadFile {
    #[error("this is {0}, and no text: type it up, or have it read by OCR")]
    Picture(&'static str),
    #[error("this is {0}, and no text: save it as CSV")]
    Sheet(&'static str),
    #[error("this is {0}, and no text")]
    Binary(&'static str),
    #[error(transparent)]
    Io(#[from] io::Error),
}

/// How files of other kinds begin.
const MAGIC: &[(&[u8], usize, &str, u8)] = &[
    (b"\xff\xd8\xff", 0, "a photo (JPEG)", b'p'),
    (b"\x89PNG", 0, "a picture (PNG)", b'p'),
    (b"GIF8", 0, "a picture (GIF)", b'p'),
    (b"II*\0", 0, "a scan (TIFF)", b'p'),
    (b"MM\0*", 0, "a scan (TIFF)", b'p'),
    (b"WEBP", 8, "a picture (WebP)", b'p'),
    (b"ftyp", 4, "a photo or a film (HEIC, MP4)", b'p'),
    (b"BM", 0, "a picture (BMP)", b'b'),
    (b"%PDF", 0, "a PDF", b'p'),
    (b"PK\x03\x04", 0, "a packed file such as a spreadsheet (XLSX, ODS) or a document (DOCX)", b's'),
    (b"\xd0\xcf\x11\xe0", 0, "an old spreadsheet or document (XLS, DOC)", b's'),
    (b"\x1f\x8b", 0, "a packed file (gzip)", b'x'),
    (b"{\\rtf", 0, "a document (RTF)", b'x'),
];

/// How many bytes at the start are looked at.
const LOOK: usize = 4096;

/// The lines of a file.
#[derive(Debug)]
pub struct Lines<R> {
    input: Utf8<R>,
    number: usize,
    bytes: Vec<u8>,
    /// The line before ended with `\r`: a `\n` that follows belongs to it.
    after_return: bool,
}

impl<R: Read> Lines<R> {
    /// # Errors
    /// Where the file cannot be read, or is no text.
    pub fn new(input: R) -> Result<Self, BadFile> {
        Ok(Self { input: Utf8::new(input)?, number: 0, bytes: Vec::new(), after_return: false })
    }

    /// # Errors
    /// Where the file cannot be read on.
    pub fn next_line(&mut self) -> io::Result<Option<Line>> {
        self.bytes.clear();
        let (mut length, mut any, mut ended) = (0_u64, false, false);
        while !ended {
            let chunk = self.input.fill_buf()?;
            if chunk.is_empty() {
                break;
            }
            if self.after_return {
                self.after_return = false;
                if chunk[0] == b'\n' {
                    self.input.consume(1);
                    continue;
                }
            }
            any = true;
            let end = chunk.iter().position(|b| matches!(b, b'\n' | b'\r'));
            let part = &chunk[..end.unwrap_or(chunk.len())];
            length += part.len() as u64;
            let room = (LONGEST + 1).saturating_sub(self.bytes.len());
            self.bytes.extend_from_slice(&part[..part.len().min(room)]);
            let used = part.len();
            if let Some(end) = end {
                self.after_return = chunk[end] == b'\r';
                ended = true;
            }
            self.input.consume(used + usize::from(ended));
        }
        if !any {
            return Ok(None);
        }
        self.number += 1;
        Ok(Some(Line { number: self.number, text: text(&self.bytes, length) }))
    }
}

/// One line; bytes that are no UTF-8 are taken as Windows-1252, in which every byte is a character.
fn text(bytes: &[u8], length: u64) -> Result<String, BadLine> {
    if length > LONGEST as u64 {
        let start = String::from_utf8_lossy(&bytes[..60]);
        return Err(BadLine::TooLong { bytes: length, start: plain(start.trim_end_matches('\u{fffd}')) });
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => plain(text),
        Err(_) => plain(&WINDOWS_1252.decode_without_bom_handling(bytes).0),
    };
    match text.chars().find(|c| c.is_control() && *c != '\t') {
        Some(bad) => Err(BadLine::Control {
            shown: bad.escape_default().to_string(),
            text: text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect(),
        }),
        None => Ok(text),
    }
}

/// Plain blanks, quotes and dashes, so that a word is the same however it was typed.
fn plain(text: &str) -> String {
    if text.is_ascii() && !text.contains('\u{c}') {
        return text.to_owned();
    }
    text.chars()
        .filter(|c| !matches!(c, '\u{feff}' | '\u{200b}' | '\u{200c}' | '\u{200d}' | '\u{ad}' | '\u{2060}'))
        .map(|c| match c {
            '\u{a0}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' | '\u{c}' => ' ',
            '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{ab}' | '\u{bb}' | '\u{2033}' | '\u{ff02}' => '"',
            '\u{2018}' | '\u{2019}' | '\u{201a}' | '\u{2032}' | '\u{b4}' => '\'',
            '\u{2010}' | '\u{2011}' | '\u{2012}' | '\u{2212}' => '-',
            c => c,
        })
        .collect()
}

/// A file's bytes as UTF-8 where it is UTF-16, and as they are elsewhere, without the mark at the start.
struct Utf8<R> {
    input: R,
    decoder: Option<Decoder>,
    raw: Vec<u8>,
    /// Bytes of `raw` that are there and not yet decoded.
    held: usize,
    buffer: Vec<u8>,
    at: usize,
    ended: bool,
}

impl<R> std::fmt::Debug for Utf8<R> {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.debug_struct("Utf8").field("at", &self.at).finish_non_exhaustive()
    }
}

impl<R: Read> Utf8<R> {
    fn new(mut input: R) -> Result<Self, BadFile> {
        let mut start = Vec::with_capacity(LOOK);
        input.by_ref().take(LOOK as u64).read_to_end(&mut start)?;
        let found = MAGIC.iter().find(|m| start.get(m.1..).is_some_and(|s| s.starts_with(m.0)));
        match found {
            Some((.., name, b'p')) => return Err(BadFile::Picture(name)),
            Some((.., name, b's')) => return Err(BadFile::Sheet(name)),
            // Two letters begin many a line.
            Some((.., name, b'b')) if start.contains(&0) => return Err(BadFile::Picture(name)),
            Some((.., name, b'x')) => return Err(BadFile::Binary(name)),
            _ => {}
        }
        let (mark, wide) = if start.starts_with(b"\xff\xfe") {
            (2, Some(UTF_16LE))
        } else if start.starts_with(b"\xfe\xff") {
            (2, Some(UTF_16BE))
        } else if start.starts_with(b"\xef\xbb\xbf") {
            (3, None)
        } else {
            (0, wide(&start))
        };
        if wide.is_none() && start.contains(&0) {
            return Err(BadFile::Binary("a file of bytes (it has a zero byte)"));
        }
        start.drain(..mark);
        let mut new = Self { input, decoder: None, raw: vec![], held: 0, buffer: start, at: 0, ended: false };
        if let Some(encoding) = wide {
            new.decoder = Some(encoding.new_decoder_without_bom_handling());
            new.held = new.buffer.len();
            new.raw = std::mem::take(&mut new.buffer);
        }
        Ok(new)
    }

    fn fill(&mut self) -> io::Result<()> {
        const SIZE: usize = 64 * 1024;
        let Some(decoder) = &mut self.decoder else {
            self.buffer.resize(SIZE, 0);
            let read = read_some(&mut self.input, &mut self.buffer)?;
            self.buffer.truncate(read);
            return Ok(());
        };
        loop {
            if self.held == 0 && !self.ended {
                self.raw.resize(SIZE, 0);
                self.held = read_some(&mut self.input, &mut self.raw)?;
                self.raw.truncate(self.held);
            }
            let last = self.held == 0;
            if last && self.ended {
                self.buffer.clear();
                return Ok(());
            }
            self.ended |= last;
            let raw = &self.raw[self.raw.len() - self.held..];
            self.buffer.resize(decoder.max_utf8_buffer_length(raw.len()).unwrap_or(SIZE * 3), 0);
            let (_, used, wrote, _) = decoder.decode_to_utf8(raw, &mut self.buffer, last);
            self.held -= used;
            self.buffer.truncate(wrote);
            if wrote > 0 {
                return Ok(());
            }
        }
    }
}

fn read_some(input: &mut impl Read, buffer: &mut [u8]) -> io::Result<usize> {
    loop {
        match input.read(buffer) {
            Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
            read => return read,
        }
    }
}

impl<R: Read> Read for Utf8<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let from = self.fill_buf()?;
        let n = from.len().min(into.len());
        into[..n].copy_from_slice(&from[..n]);
        self.consume(n);
        Ok(n)
    }
}

impl<R: Read> BufRead for Utf8<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.at >= self.buffer.len() {
            self.at = 0;
            self.fill()?;
        }
        Ok(&self.buffer[self.at..])
    }

    fn consume(&mut self, n: usize) {
        self.at += n;
    }
}

/// UTF-16 without a mark: every other byte is zero where most letters are Latin.
fn wide(start: &[u8]) -> Option<&'static encoding_rs::Encoding> {
    let pairs = start.len() / 2;
    let zeros = |odd: usize| start.chunks_exact(2).filter(|p| p[odd] == 0 && p[1 - odd] != 0).count();
    let most = |n: usize| pairs > 2 && n * 10 > pairs * 8;
    if most(zeros(1)) {
        Some(UTF_16LE)
    } else if most(zeros(0)) {
        Some(UTF_16BE)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(bytes: &[u8]) -> Vec<String> {
        let mut lines = Lines::new(bytes).unwrap();
        let mut out = vec![];
        while let Some(line) = lines.next_line().unwrap() {
            assert_eq!(line.number, out.len() + 1);
            out.push(line.text.unwrap());
        }
        out
    }

    #[test]
    fn every_encoding_and_end_of_line_gives_the_same_lines() {
        let text = "12 LH DD\n\n13 \u{201d} \u{bd}\u{a0}x\n";
        let want = ["12 LH DD", "", "13 \" \u{bd} x"];
        assert_eq!(all(text.as_bytes()), want);
        assert_eq!(all(format!("\u{feff}{}", text.replace('\n', "\r\n")).as_bytes()), want);
        assert_eq!(all(text.replace('\n', "\r").as_bytes()), want);
        assert_eq!(all(b"12 LH DD\r\n\r\n13 \x94 \xbd\xa0x\r\n"), want);
        let wide = |swap: bool, mark: bool| -> Vec<u8> {
            let units = mark.then_some(0xfeff).into_iter().chain(text.encode_utf16());
            units.flat_map(|u| if swap { u.to_be_bytes() } else { u.to_le_bytes() }).collect()
        };
        for (swap, mark) in [(false, true), (true, true), (false, false), (true, false)] {
            assert_eq!(all(&wide(swap, mark)), want, "{swap} {mark}");
        }
    }

    #[test]
    fn long_files_are_read_through_small_buffers() {
        let text = (0..40_000).map(|n| format!("{n} LH DD \u{bd}")).collect::<Vec<_>>().join("\n");
        let units: Vec<u8> = [0xfeff].into_iter().chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect();
        assert_eq!(all(&units), all(text.as_bytes()));
        assert_eq!(all(&units).len(), 40_000);
    }

    #[test]
    fn what_is_no_text_is_named() {
        for (bytes, name) in [
            (&b"\xff\xd8\xff\xe0\0\x10JFIF"[..], "a photo (JPEG)"),
            (b"PK\x03\x04\x14\0", "spreadsheet (XLSX, ODS)"),
            (b"12 LH DD\n13\0\n", "zero byte"),
        ] {
            let told = Lines::new(bytes).unwrap_err().to_string();
            assert!(told.contains(name), "{told}");
        }
    }

    #[test]
    fn a_line_that_is_too_long_is_named_and_the_next_is_read() {
        let text = format!("12 ok\n{}\n13 ok\n", "LH ".repeat(100_000));
        let mut lines = Lines::new(text.as_bytes()).unwrap();
        lines.next_line().unwrap();
        assert!(matches!(lines.next_line().unwrap().unwrap().text, Err(BadLine::TooLong { bytes: 300_000, .. })));
        assert_eq!(lines.next_line().unwrap().unwrap().text, Ok("13 ok".to_owned()));
    }
}
