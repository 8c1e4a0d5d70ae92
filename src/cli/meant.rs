//! Which entry is meant: by its id, by the first characters of it, or as the last one.

use chutescribe::log::{Kept, StrikeLine};

use super::fail::Fail;

/// Looks at the entries of a log for the one that is meant.
pub(crate) struct Meant<'a> {
    text: &'a str,
    found: Vec<Kept>,
}

/// What is meant: an entry, or without one a strike.
pub(crate) struct Found {
    pub(crate) id: String,
    pub(crate) entry: Option<Kept>,
}

impl<'a> Meant<'a> {
    pub(crate) fn new(text: &'a str) -> Self {
        Self { text, found: vec![] }
    }

    fn fits(&self, id: &str) -> bool {
        !self.text.is_empty() && id.starts_with(self.text)
    }

    /// Looks at the next entry.
    pub(crate) fn look(&mut self, kept: Kept) {
        if self.text == "last" {
            if kept.struck.is_none() {
                self.found = vec![kept];
            }
        } else if self.fits(&kept.line.id) {
            self.found.push(kept);
        }
    }

    /// The one that is meant, among the entries that were looked at and these strikes.
    pub(crate) fn one(self, strikes: &[StrikeLine]) -> Result<Found, Fail> {
        let text = self.text;
        let ids: Vec<String> = strikes.iter().filter(|s| self.fits(&s.id)).map(|s| s.id.clone()).collect();
        let strikes = ids.into_iter().map(|id| Found { id, entry: None });
        let entries = self.found.into_iter().map(|e| Found { id: e.line.id.clone(), entry: Some(e) });
        let mut found: Vec<Found> = entries.chain(strikes).collect();
        found.dedup_by(|a, b| a.id == b.id);
        match (found.len(), found.pop()) {
            (1, Some(one)) => Ok(one),
            (n, Some(_)) => Err(Fail::Told(format!("`{text}` fits {n} entries; give more of the id"))),
            (_, None) if text == "last" => Err(Fail::Told("there is no entry to strike".to_owned())),
            (_, None) => Err(Fail::Told(format!("the log has no entry `{text}`"))),
        }
    }
}
