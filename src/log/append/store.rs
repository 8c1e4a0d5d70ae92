//! What a log is kept in: a file, or in tests a disk that fails.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;

/// Bytes that can be read, added to at their end, and made to last. All writes go to the end.
pub trait Store: Read + Seek + Write {
    /// Makes all that was written outlive a loss of power.
    ///
    /// # Errors
    /// Where it cannot; what was written since the last time may then be there or not.
    fn sync(&mut self) -> io::Result<()>;

    /// Takes back what is beyond the first `length` bytes.
    ///
    /// # Errors
    /// Where it cannot; all stays as it is.
    fn cut(&mut self, length: u64) -> io::Result<()>;

    /// Bytes that are there.
    ///
    /// # Errors
    /// Where it cannot be told.
    fn length(&mut self) -> io::Result<u64> {
        self.seek(SeekFrom::End(0))
    }
}

impl Store for File {
    fn sync(&mut self) -> io::Result<()> {
        self.sync_data()
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.set_len(length)
    }
}

/// Opens the log; makes it, and the folders above it, where they are missing. One that was there before is not
/// made again: whatever took it away (a stick pulled out, a folder moved) has the day's notes.
pub(super) fn open(path: &Path, was_there: bool) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true).append(true);
    match options.open(path) {
        Err(e) if e.kind() == io::ErrorKind::NotFound && was_there => {
            return Err(io::Error::new(
                e.kind(),
                "it was there before and is gone: bring it back, or name another log",
            ));
        }
        Err(e) if e.kind() == io::ErrorKind::NotFound => {}
        opened => return opened,
    }
    let folder = folder_of(path);
    let missing: Vec<&Path> =
        folder.ancestors().take_while(|f| !f.as_os_str().is_empty() && !f.exists()).map(folder_of).collect();
    fs::create_dir_all(folder)?;
    let file = options.create(true).open(path)?;
    // So that the names of the file and of the folders made for it outlive a loss of power.
    std::iter::once(folder).chain(missing).try_for_each(sync_folder)?;
    Ok(file)
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Not every system lets a folder be synced.
#[cfg(not(unix))]
#[expect(clippy::unnecessary_wraps, reason = "as where it can fail")]
fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
