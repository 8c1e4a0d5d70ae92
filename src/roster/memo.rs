//! What a roster has worked out before; no part of its value.

use std::collections::HashMap;
use std::sync::{Mutex, OnceLock};

use super::NearTag;
use super::near::Spoken;

/// So many answers are kept before it starts afresh.
const KEPT: usize = 1_000;

/// Which tags were looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Among {
    /// Those no farther than this.
    Within(u32),
    /// Longer ones that hold the number as it was read.
    Longer,
}

#[derive(Debug, Default)]
pub(super) struct Memo {
    /// Tags found near a number, by what was said, how it was read and which were looked at.
    near: Mutex<HashMap<(String, String, Among), Vec<NearTag>>>,
    spoken: OnceLock<Spoken>,
}

impl Memo {
    /// The answer given before, or a new one.
    pub(super) fn near(
        &self,
        said: &str,
        tag: &str,
        among: Among,
        find: impl FnOnce() -> Vec<NearTag>,
    ) -> Vec<NearTag> {
        let key = (said.to_owned(), tag.to_owned(), among);
        let Ok(mut known) = self.near.lock() else { return find() };
        if known.len() >= KEPT {
            known.clear();
        }
        known.entry(key).or_insert_with(find).clone()
    }

    /// The sounds of each tag.
    pub(super) fn spoken(&self, tags: &[String]) -> &Spoken {
        self.spoken.get_or_init(|| Spoken::of(tags))
    }
}

impl Clone for Memo {
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl PartialEq for Memo {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Eq for Memo {}
