//! The user's own words files: where they are, what was learned into them, what is forgotten.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use chutescribe::learn::{self, EditError};
use chutescribe::show;
use chutescribe::vocab::Vocabulary;

use super::args::text_of;
use super::fail::Fail;
use super::out::Out;

/// `words.toml` in the user's data folder, there or not; `None` where there is no such folder.
pub(crate) fn own() -> Option<PathBuf> {
    use etcetera::BaseStrategy;
    Some(etcetera::choose_base_strategy().ok()?.data_dir().join("chutescribe").join("words.toml"))
}

/// The words files to lay over the built-in ones, in order: the user's own where it is there, then those named.
pub(crate) fn files(named: &[PathBuf]) -> Vec<PathBuf> {
    let same =
        |a: &Path, b: &Path| a == b || fs::canonicalize(a).ok().is_some_and(|a| fs::canonicalize(b).ok() == Some(a));
    let own = own().filter(|own| own.exists() && !named.iter().any(|n| same(n, own)));
    own.into_iter().chain(named.iter().cloned()).collect()
}

/// Their names and texts.
pub(crate) fn texts(files: &[PathBuf]) -> Result<Vec<(String, String)>, Fail> {
    files.iter().map(|path| Ok((path.display().to_string(), text_of(path)?))).collect()
}

/// The built-in words with these files laid over them.
pub(crate) fn layered(files: &[PathBuf]) -> Result<Vocabulary, Fail> {
    Vocabulary::layered(&texts(files)?).map_err(|e| Fail::Told(e.to_string()))
}

/// Changes the words file at `path`, one of `files` or a new one; only to what can be laid over the built-in words
/// together with the others. Gives whether `change` changed anything.
pub(crate) fn change(
    path: &Path,
    files: &[PathBuf],
    change: impl FnOnce(&str) -> Result<Option<String>, EditError>,
) -> Result<bool, Fail> {
    let old = if path.exists() { text_of(path)? } else { String::new() };
    let Some(text) = change(&old).map_err(|e| bad(path, &e))? else { return Ok(false) };
    let mut over = Vec::new();
    for file in files {
        let text = if file == path { text.clone() } else { text_of(file)? };
        over.push((file.display().to_string(), text));
    }
    if files.iter().all(|f| f != path) {
        over.push((path.display().to_string(), text.clone()));
    }
    Vocabulary::layered(&over).map_err(|e| Fail::Told(e.to_string()))?;
    write(path, &text)
        .map_err(|e| Fail::Told(format!("`{}` cannot be written: {}", path.display(), show::trouble(&e))))?;
    Ok(true)
}

/// Lists what the files have learned.
pub(crate) fn list(named: &[PathBuf], out: &mut Out) -> Result<(), Fail> {
    let mut any = false;
    for path in files(named) {
        for l in learn::learned(&text_of(&path)?).map_err(|e| bad(&path, &e))? {
            any = true;
            out.line(&format!("{:<34} {:<22} {}", l.heard, l.term, path.display()))?;
        }
    }
    if any { Ok(()) } else { out.line("nothing was learned yet") }
}

/// Takes heard words out of every file that has them.
pub(crate) fn forget(named: &[PathBuf], heard: &str, out: &mut Out) -> Result<(), Fail> {
    let mut any = false;
    let files = files(named);
    for path in &files {
        if change(path, &files, |text| learn::forget(text, heard))? {
            any = true;
            out.line(&format!("`{heard}` is taken out of {}", path.display()))?;
        }
    }
    if any {
        return Ok(());
    }
    Err(Fail::Told(format!("`{heard}` was not learned; `chutescribe words --learned` lists what was")))
}

fn bad(path: &Path, why: &EditError) -> Fail {
    let path = path.display();
    Fail::Told(match why {
        EditError::Toml(..) => format!("{path}:{why}"),
        EditError::Shape(_) => format!("{path}: {why}"),
    })
}

/// Through a file beside it that is synced and then takes its name: whatever happens, the old file or the new one is
/// there whole. A link stays a link, and who may read it stays so.
fn write(path: &Path, text: &str) -> io::Result<()> {
    let path = &fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs::create_dir_all(folder)?;
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{}.new", std::process::id()));
    let beside = folder.join(name);
    let write = || {
        let mut file = File::create(&beside)?;
        if let Ok(old) = fs::metadata(path) {
            file.set_permissions(old.permissions())?;
        }
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
        fs::rename(&beside, path)
    };
    write().inspect_err(|_| {
        let _ = fs::remove_file(&beside);
    })?;
    // So that the new name outlives a loss of power; not every system lets a folder be synced.
    #[cfg(unix)]
    File::open(folder)?.sync_all()?;
    Ok(())
}
