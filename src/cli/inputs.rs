//! The inputs of a command: files, or standard input where none is named.

use std::fs::File;
use std::io::{BufRead, BufReader, Read};
use std::path::PathBuf;
use std::vec;

use chrono::{NaiveDate, NaiveTime};
use chutescribe::log::record::Stamp;
use chutescribe::notes::{Note, Notes};
use chutescribe::show;
use chutescribe::transcript::{self, BadCue, Format};

use super::clock;
use super::fail::Fail;
use super::out::Out;

/// What the inputs hold.
#[derive(Debug, clap::Args)]
pub(crate) struct Holds {
    /// Each line holds several hearings of one note: set apart by tabs, or as JSON,
    /// `{"alternatives":[{"text":"…","confidence":0.8,"from":"…"}]}`
    #[arg(long)]
    pub(crate) hearings: bool,
    /// When the recording of a timed transcript (`.vtt`, `.srt`) began: each note is then dated by the clock
    #[arg(long, value_name = "HH:MM", value_parser = started)]
    pub(crate) started: Option<NaiveTime>,
}

fn started(text: &str) -> Result<NaiveTime, String> {
    let shape = text.len() == 5 && text.bytes().enumerate().all(|(i, b)| (b == b':') == (i == 2));
    let time = NaiveTime::parse_from_str(text, "%H:%M").ok().filter(|_| shape);
    time.ok_or_else(|| "no such time; write it as 09:05".to_owned())
}

impl Holds {
    /// When the note was said, as far as that is known.
    pub(crate) fn at(&self, note: &Note, day: NaiveDate, now: Stamp) -> Stamp {
        let (Some(started), Some(time)) = (self.started, note.time) else { return now };
        let time =
            chrono::Duration::from_std(time.duration()).ok().and_then(|d| day.and_time(started).checked_add_signed(d));
        time.map_or(now, |t| clock::at(t, now))
    }

    /// Tells of a `--started` that no input had a use for.
    fn unused(&self, timed: bool, out: &mut Out) -> Result<(), Fail> {
        if self.started.is_none() || timed {
            return Ok(());
        }
        out.trouble("`--started` is for timed transcripts (WebVTT or SRT), and none was read")
    }
}

/// The longest transcript, in bytes: weeks of talk.
const LONGEST: u64 = 64 * 1024 * 1024;

/// One input.
pub(crate) struct Input {
    /// As the user named it, for messages.
    pub(crate) name: String,
    /// Name of the file without its folders; `-` for standard input.
    pub(crate) file: String,
    notes: Notes<BufReader<Box<dyn Read>>>,
    /// Of a timed transcript, what is still to come.
    timed: Option<vec::IntoIter<(usize, Result<Note, BadCue>)>>,
    begun: bool,
    any: bool,
}

/// Opens the inputs one after the other; one that cannot be opened is told and left out.
pub(crate) fn each(
    files: &[PathBuf],
    holds: &Holds,
    out: &mut Out,
    mut with: impl FnMut(&mut Input, &mut Out) -> Result<(), Fail>,
) -> Result<(), Fail> {
    let mut timed = false;
    if files.is_empty() {
        let stdin: Box<dyn Read> = Box::new(std::io::stdin());
        timed = one(Input::new("standard input".to_owned(), "-".to_owned(), stdin, holds), out, &mut with)?;
    }
    for path in files {
        let name = path.display().to_string();
        // A folder can be opened here and there, but not read.
        match File::open(path).and_then(|f| Ok((f.metadata()?.is_dir(), f))) {
            Ok((false, file)) => {
                let short = path.file_name().map_or(name.clone(), |n| n.to_string_lossy().into_owned());
                timed |= one(Input::new(name, short, Box::new(file), holds), out, &mut with)?;
            }
            Ok((true, _)) => out.trouble(format_args!("`{name}` is a folder; name the files in it"))?,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
                out.trouble(format_args!("there is no file `{name}`"))?;
            }
            Err(e) => out.trouble(format_args!("`{name}` cannot be read: {}", show::trouble(&e)))?,
        }
    }
    holds.unused(timed, out)
}

/// Whether it was a timed transcript.
fn one(
    mut input: Input,
    out: &mut Out,
    with: &mut impl FnMut(&mut Input, &mut Out) -> Result<(), Fail>,
) -> Result<bool, Fail> {
    with(&mut input, out)?;
    if !input.any {
        out.trouble(format_args!("{}: there is no note in it", input.name))?;
    }
    Ok(input.timed.is_some())
}

impl Input {
    fn new(name: String, file: String, from: Box<dyn Read>, holds: &Holds) -> Self {
        let notes = Notes::new(BufReader::with_capacity(64 * 1024, from)).with_hearings(holds.hearings);
        Self { name, file, notes, timed: None, begun: false, any: false }
    }

    /// Whether the next note is there without waiting for it.
    pub(crate) fn at_hand(&self) -> bool {
        self.timed.as_ref().map_or_else(|| self.notes.at_hand(), |t| !t.as_slice().is_empty())
    }

    /// Reads the whole input where it is a timed transcript: a sentence may go on in the next cue.
    fn begin(&mut self, out: &mut Out) -> Result<(), Fail> {
        self.begun = true;
        let input = self.notes.rest();
        // What cannot be read is told when the first note is.
        let Some(format) = input.fill_buf().ok().and_then(|start| Format::of(&self.file, start)) else { return Ok(()) };
        let mut bytes = Vec::new();
        let read = input.take(LONGEST + 1).read_to_end(&mut bytes);
        if let Err(e) = read {
            self.any = true;
            out.trouble(format_args!("{} cannot be read on: {}", self.name, show::trouble(&e)))?;
        }
        if bytes.len() as u64 > LONGEST {
            self.any = true;
            bytes.truncate(LONGEST as usize);
            out.trouble(format_args!(
                "{}: a transcript of more than {LONGEST} bytes; what is over is not read",
                self.name
            ))?;
        }
        self.timed = Some(transcript::notes(format, &bytes).into_iter());
        Ok(())
    }

    /// The next note that can be read; lines that cannot are told and left out.
    pub(crate) fn next(&mut self, out: &mut Out) -> Result<Option<Note>, Fail> {
        if !self.begun {
            self.begin(out)?;
        }
        if let Some(timed) = &mut self.timed {
            for (line, note) in timed {
                self.any = true;
                match note {
                    Ok(note) => return Ok(Some(note)),
                    Err(bad) => out.trouble(format_args!("{}:{line}: {bad}", self.name))?,
                }
            }
            return Ok(None);
        }
        loop {
            match self.notes.next_note() {
                Ok(None) => return Ok(None),
                Ok(Some((line, note))) => {
                    self.any = true;
                    match note {
                        Ok(note) => return Ok(Some(note)),
                        Err(bad) => out.trouble(format_args!("{}:{line}: {bad}", self.name))?,
                    }
                }
                Err(e) => {
                    self.any = true;
                    out.trouble(format_args!("{} cannot be read on: {}", self.name, show::trouble(&e)))?;
                    return Ok(None);
                }
            }
        }
    }

    /// Tells of a note without a word in it.
    pub(crate) fn wordless(&self, note: &Note, out: &mut Out) -> Result<(), Fail> {
        out.trouble(format_args!("{}:{}: there is no word in `{}`", self.name, note.line, note.text))
    }
}
