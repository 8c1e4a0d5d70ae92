//! The inputs of a command: files, or standard input where none is named.

use std::fs::File;
use std::io::{BufReader, Read};
use std::path::PathBuf;

use chutescribe::notes::{Note, Notes};
use chutescribe::show;

use super::fail::Fail;
use super::out::Out;

/// One input.
pub(crate) struct Input {
    /// As the user named it, for messages.
    pub(crate) name: String,
    /// Name of the file without its folders; `-` for standard input.
    pub(crate) file: String,
    pub(crate) notes: Notes<BufReader<Box<dyn Read>>>,
    any: bool,
}

/// Opens the inputs one after the other; one that cannot be opened is told and left out.
pub(crate) fn each(
    files: &[PathBuf],
    out: &mut Out,
    mut with: impl FnMut(&mut Input, &mut Out) -> Result<(), Fail>,
) -> Result<(), Fail> {
    if files.is_empty() {
        let stdin: Box<dyn Read> = Box::new(std::io::stdin());
        return one(Input::new("standard input".to_owned(), "-".to_owned(), stdin), out, &mut with);
    }
    for path in files {
        let name = path.display().to_string();
        // A folder can be opened here and there, but not read.
        match File::open(path).and_then(|f| Ok((f.metadata()?.is_dir(), f))) {
            Ok((false, file)) => {
                let short = path.file_name().map_or(name.clone(), |n| n.to_string_lossy().into_owned());
                one(Input::new(name, short, Box::new(file)), out, &mut with)?;
            }
            Ok((true, _)) => out.trouble(format_args!("`{name}` is a folder; name the files in it"))?,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
                out.trouble(format_args!("there is no file `{name}`"))?;
            }
            Err(e) => out.trouble(format_args!("`{name}` cannot be read: {}", show::trouble(&e)))?,
        }
    }
    Ok(())
}

fn one(
    mut input: Input,
    out: &mut Out,
    with: &mut impl FnMut(&mut Input, &mut Out) -> Result<(), Fail>,
) -> Result<(), Fail> {
    with(&mut input, out)?;
    if !input.any {
        out.trouble(format_args!("{}: there is no note in it", input.name))?;
    }
    Ok(())
}

impl Input {
    fn new(name: String, file: String, from: Box<dyn Read>) -> Self {
        let notes = Notes::new(BufReader::with_capacity(64 * 1024, from));
        Self { name, file, notes, any: false }
    }

    /// The next note that can be read; lines that cannot are told and left out.
    pub(crate) fn next(&mut self, out: &mut Out) -> Result<Option<Note>, Fail> {
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
