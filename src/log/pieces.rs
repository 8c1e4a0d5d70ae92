//! A log of any length, taken apart in pieces on all cores; what comes of them is given in the log's order.

use std::fs::File;
use std::io::{self, BufRead, BufReader, Read, Seek, SeekFrom};
use std::path::Path;
use std::sync::mpsc;
use std::thread;

use super::read::{LONGEST, Line, MARK};

/// Bytes of a piece, which is taken apart by one core.
const PIECE: u64 = 64 * 1024;
/// Pieces that a core may be ahead of the one whose turn it is: with one, of four times the size, both waited for each
/// other a sixth of the time; with more, they hold more memory than they save time.
const AHEAD: usize = 20;
/// More threads than these only wait for whoever takes what they make.
const MOST: usize = 8;

/// Does `work` with every piece of the first `length` bytes, and gives what comes of it to `with`, in order.
///
/// # Errors
/// Where the file cannot be opened or read.
pub(super) fn in_order<T: Send>(
    path: &Path,
    length: u64,
    work: impl Fn(Lines<'_>) -> T + Sync,
    mut with: impl FnMut(T),
) -> io::Result<()> {
    let count = length.div_ceil(PIECE);
    let cores = thread::available_parallelism().map_or(1, usize::from).min(MOST).min(count as usize);
    if cores < 2 {
        let mut pieces = Pieces::open(path, length)?;
        return (0..count).try_for_each(|at| pieces.read(at).map(|bytes| with(work(Lines::new(bytes)))));
    }
    let work = &work;
    thread::scope(|scope| {
        let made: Vec<_> = (0..cores)
            .map(|first| {
                let (give, made) = mpsc::sync_channel(AHEAD);
                scope.spawn(move || {
                    let mut pieces = Pieces::open(path, length);
                    for at in (first as u64..count).step_by(cores) {
                        let piece = match &mut pieces {
                            Ok(pieces) => pieces.read(at).map(|bytes| work(Lines::new(bytes))),
                            Err(e) => Err(io::Error::from(e.kind())),
                        };
                        let failed = piece.is_err();
                        // Where an earlier piece failed, nobody waits for this one.
                        if give.send(piece).is_err() || failed {
                            return;
                        }
                    }
                });
                made
            })
            .collect();
        (0..count).try_for_each(|at| {
            let piece = made[(at % cores as u64) as usize].recv();
            // A worker that ends too early has panicked, and the scope panics with it.
            with(piece.map_err(io::Error::other)??);
            Ok(())
        })
    })
}

/// A file in pieces of whole lines: a line belongs to the piece in which it begins.
struct Pieces {
    file: File,
    length: u64,
    /// Kept from piece to piece: fresh memory costs as much as reading into it.
    bytes: Vec<u8>,
}

impl Pieces {
    fn open(path: &Path, length: u64) -> io::Result<Self> {
        Ok(Self { file: File::open(path)?, length, bytes: Vec::with_capacity(PIECE as usize + 64 * 1024) })
    }

    fn read(&mut self, at: u64) -> io::Result<&[u8]> {
        let (start, end) = (at * PIECE, ((at + 1) * PIECE).min(self.length));
        // The byte before tells whether a line begins here.
        let from = start.saturating_sub(1);
        self.bytes.clear();
        self.file.seek(SeekFrom::Start(from))?;
        self.file.by_ref().take(end - from).read_to_end(&mut self.bytes)?;
        let begin = match memchr::memchr(b'\n', &self.bytes) {
            _ if start == 0 => 0,
            Some(line) => line + 1,
            None => self.bytes.len(),
        };
        if begin < self.bytes.len() && self.bytes.last() != Some(&b'\n') {
            self.last_line(begin, end)?;
        }
        Ok(&self.bytes[begin..])
    }

    /// Reads on to the end of the line that the piece ends in. Of a line that is too long to be one of a log, enough is
    /// kept to see that.
    fn last_line(&mut self, begin: usize, end: u64) -> io::Result<()> {
        const STEP: usize = 4 * 1024;
        let mut rest = BufReader::with_capacity(STEP, (&self.file).take(self.length - end));
        let line = memchr::memrchr(b'\n', &self.bytes[begin..]).map_or(begin, |n| begin + n + 1);
        let room = (LONGEST + 1).saturating_sub(self.bytes.len() - line) as u64;
        let kept = rest.by_ref().take(room).read_until(b'\n', &mut self.bytes)?;
        if kept as u64 == room && self.bytes.last() != Some(&b'\n') {
            self.bytes.push(b'\n');
        }
        Ok(())
    }
}

/// The lines of a piece that are not empty, with their numbers within it, from 1.
pub(super) struct Lines<'a> {
    rest: &'a [u8],
    /// Lines so far, the empty ones among them.
    pub(super) count: usize,
}

impl<'a> Lines<'a> {
    pub(super) fn new(piece: &'a [u8]) -> Self {
        Self { rest: piece, count: 0 }
    }

    /// Bytes of the lines to come.
    pub(super) fn left(&self) -> usize {
        self.rest.len()
    }
}

impl<'a> Iterator for Lines<'a> {
    type Item = Line<'a>;

    fn next(&mut self) -> Option<Line<'a>> {
        while !self.rest.is_empty() {
            self.count += 1;
            let end = memchr::memchr(b'\n', self.rest);
            let (bytes, whole) = (&self.rest[..end.unwrap_or(self.rest.len())], end.is_some());
            self.rest = end.map_or(&[], |end| &self.rest[end + 1..]);
            let bytes = bytes.strip_prefix(MARK).unwrap_or(bytes);
            if !bytes.trim_ascii().is_empty() {
                return Some(Line { number: self.count, bytes, whole, too_long: bytes.len() > LONGEST });
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the standard library's lines, for files that end in all ways and lines longer than a piece.
    #[test]
    fn pieces_give_every_line_once_and_in_order() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("log.jsonl");
        let piece = PIECE as usize;
        let line = |n: usize, len: usize| format!("{n}{}", "x".repeat(len));
        let near_the_border = (0..9).map(|n| line(n, piece - 12 + n)).collect::<Vec<_>>().join("\n");
        let short = (0..200_000).map(|n| line(n, n % 13)).collect::<Vec<_>>().join("\n");
        let long = [line(1, 5), line(2, 3 * piece), String::new(), line(3, piece), line(4, 7)].join("\n");
        for text in [near_the_border, short, long, String::new(), "\n".repeat(3 * piece)] {
            for end in ["", "\n", "\n\n"] {
                let text = format!("{text}{end}");
                std::fs::write(&path, &text).unwrap();
                let (mut before, mut got) = (0, Vec::new());
                let work = |mut lines: Lines| {
                    let own: Vec<(usize, Vec<u8>, bool)> =
                        lines.by_ref().map(|l| (l.number, l.bytes.to_vec(), l.whole)).collect();
                    (lines.count, own)
                };
                in_order(&path, text.len() as u64, work, |(count, own)| {
                    got.extend(own.into_iter().map(|(number, bytes, whole)| (before + number, bytes, whole)));
                    before += count;
                })
                .unwrap();
                let want: Vec<(usize, Vec<u8>, bool)> = text
                    .split_inclusive('\n')
                    .zip(1..)
                    .filter(|(l, _)| !l.trim_ascii().is_empty())
                    .map(|(l, n)| (n, l.trim_end_matches('\n').as_bytes().to_vec(), l.ends_with('\n')))
                    .collect();
                assert!(got == want, "{} lines of {} bytes", want.len(), text.len());
                assert_eq!(before, text.split_inclusive('\n').count());
            }
        }
    }

    #[test]
    fn what_is_appended_meanwhile_is_left_out_and_a_line_beyond_all_bounds_is_cut() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("log.jsonl");
        std::fs::write(&path, format!("a\n{}\nb\nc\n", "y".repeat(LONGEST + 9))).unwrap();
        let length = std::fs::metadata(&path).unwrap().len() - 2;
        let mut got = Vec::new();
        let work = |lines: Lines| lines.map(|l| (l.bytes.len(), l.too_long)).collect::<Vec<_>>();
        in_order(&path, length, work, |lines| got.extend(lines)).unwrap();
        assert_eq!(got, [(1, false), (LONGEST + 1, true), (1, false)]);
        assert!(in_order(&folder.path().join("none"), 2 * PIECE, |_| (), |()| ()).is_err());
    }
}
