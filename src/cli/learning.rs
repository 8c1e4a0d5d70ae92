//! Offers to remember what an answer taught.

use std::collections::HashSet;
use std::path::{Path, PathBuf};

use chutescribe::flag::Flag;
use chutescribe::learn::{self, Lesson};

use super::asker::Asker;
use super::fail::Fail;
use super::out::Out;
use super::own_words::{self, files};

/// What was offered and learned while questions are put.
#[derive(Debug)]
pub(crate) struct Learning {
    /// Where it is remembered: the first file that was named, else the user's own.
    path: Option<PathBuf>,
    named: Vec<PathBuf>,
    /// Each is offered once.
    offered: HashSet<Lesson>,
    /// What was learned, and from which question of which entry.
    learned: Vec<(String, Flag, Lesson)>,
    /// The words changed since somebody asked.
    changed: bool,
}

impl Learning {
    /// `named` are the words files in use, beside the user's own.
    pub(crate) fn new(named: &[PathBuf]) -> Self {
        let path = named.first().cloned().or_else(own_words::own);
        Self { path, named: named.to_vec(), offered: HashSet::new(), learned: vec![], changed: false }
    }

    /// Whether the words changed since this was asked last.
    pub(crate) fn take_changed(&mut self) -> bool {
        std::mem::take(&mut self.changed)
    }

    /// Asks whether to remember it, and does. A file that cannot be changed is told; the answers stand.
    pub(crate) fn offer(
        &mut self,
        lesson: &Lesson,
        entry: &str,
        flag: &Flag,
        asker: &mut Asker,
        out: &mut Out,
    ) -> Result<(), Fail> {
        let Some(path) = self.path.clone().filter(|_| !self.offered.contains(lesson)) else { return Ok(()) };
        let prompt = format!("    remember `{}` as `{}`? y or n > ", lesson.heard, lesson.meant);
        let Some(yes) = asker.yes(&prompt, out)? else { return Ok(()) };
        self.offered.insert(lesson.clone());
        if !yes {
            return Ok(());
        }
        match own_words::change(&path, &files(&self.named), |text| learn::add(text, lesson).map(Some)) {
            Ok(_) => {
                self.changed = true;
                self.learned.push((entry.to_owned(), flag.clone(), lesson.clone()));
                let (heard, path) = (&lesson.heard, path.display());
                out.line(&format!("      remembered in {path}; `chutescribe words --forget \"{heard}\"` takes it out"))
            }
            Err(why) => out.trouble(why),
        }
    }

    /// The question was answered again, and otherwise: what the first answer taught goes.
    pub(crate) fn unlearn(&mut self, entry: &str, flag: &Flag, out: &mut Out) -> Result<(), Fail> {
        let at = self.learned.iter().position(|l| l.0 == entry && l.1 == *flag);
        let (Some(at), Some(path)) = (at, self.path.clone()) else { return Ok(()) };
        let (_, _, lesson) = self.learned.remove(at);
        self.offered.remove(&lesson);
        match self.forget(&path, &lesson.heard) {
            Ok(()) => {
                self.changed = true;
                out.line(&format!("      `{}` is not remembered any more", lesson.heard))
            }
            Err(why) => out.trouble(why),
        }
    }

    fn forget(&self, path: &Path, heard: &str) -> Result<(), Fail> {
        own_words::change(path, &files(&self.named), |text| learn::forget(text, heard)).map(drop)
    }
}
