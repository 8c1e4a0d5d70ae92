//! The herd's tags: which cow numbers there are, and which are near one that is not.

pub(crate) mod file;
mod memo;
mod near;
pub(crate) mod said;
pub(crate) mod table;

pub use file::RosterError;

/// The tags of a herd, as text: leading zeros and letters count.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Roster {
    /// Sorted.
    tags: Vec<String>,
    /// 15-digit electronic numbers and the tags they stand for, sorted.
    chips: Vec<(String, String)>,
    /// Tags that were only seen in the log: a hint, and no list of all cows.
    soft: bool,
    /// What was found near before: the readings of one note ask for the same number again and again; and how each
    /// tag sounds.
    memo: memo::Memo,
}

/// A tag near a number that was heard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NearTag {
    pub tag: String,
    /// Distance in sound, in hundredths of a phone.
    pub cost: u32,
    /// All digits that were heard stand in the tag, in their order.
    pub keeps_digits: bool,
}

impl Roster {
    /// A roster of these tags.
    pub fn new(tags: impl IntoIterator<Item = String>) -> Self {
        let mut tags: Vec<String> = tags.into_iter().collect();
        tags.sort();
        tags.dedup();
        Self { tags, ..Self::default() }
    }

    /// The numbers that end in this one, up to four figures: what may have grown together with the word before it.
    pub(crate) fn grown(number: &str) -> Self {
        let most = match number.len() {
            0..=2 => 99,
            3 => 9,
            _ => 0,
        };
        Self::new((1..=most).map(|n| format!("{n}{number}")))
    }

    /// Tags seen before at a farm: known ones are believed, unknown ones are not questioned.
    pub fn soft(tags: impl IntoIterator<Item = String>) -> Self {
        Self { soft: true, ..Self::new(tags) }
    }

    pub fn is_soft(&self) -> bool {
        self.soft
    }

    pub fn len(&self) -> usize {
        self.tags.len()
    }

    pub fn is_empty(&self) -> bool {
        self.tags.is_empty()
    }

    /// All tags, sorted.
    pub fn tags(&self) -> &[String] {
        &self.tags
    }

    pub fn has(&self, tag: &str) -> bool {
        self.tags.binary_search_by(|t| t.as_str().cmp(tag)).is_ok()
    }

    /// The tag that a scanned electronic number stands for.
    pub fn tag_of_chip(&self, number: &str) -> Option<&str> {
        let at = self.chips.binary_search_by(|(chip, _)| chip.as_str().cmp(number)).ok()?;
        Some(&self.chips[at].1)
    }

    /// How far the sound of a cow's number is from what was said, in hundredths of a phone; nothing for a number
    /// without digits.
    pub(crate) fn sound_of(said: &str, tag: &str) -> Option<u32> {
        near::by_sound(said, tag)
    }

    /// The tags nearest to what was heard as the cow (`said`, cue and all) and read as `tag`, nearest first.
    pub fn near(&self, said: &str, tag: &str) -> Vec<NearTag> {
        self.near_within(said, tag, u32::MAX)
    }

    /// As [`Self::near`], those that cost no more than `most`.
    pub(crate) fn near_within(&self, said: &str, tag: &str, most: u32) -> Vec<NearTag> {
        let find = || near::nearest(&self.tags, self.memo.spoken(&self.tags), said, tag, most);
        self.memo.near(said, tag, memo::Among::Within(most), find)
    }

    /// The longer tags in which the digits of `tag` stand in their order, by how they sound beside what was said,
    /// nearest first.
    pub(crate) fn longer_than(&self, said: &str, tag: &str) -> Vec<NearTag> {
        let find = || {
            let longer = (tag.len() + 1)..=(tag.len() + 2);
            let ends = self
                .tags
                .iter()
                .filter(|t| longer.contains(&t.len()) && near::subsequence(tag.as_bytes(), t.as_bytes()));
            let cost =
                |t: &String| near::by_sound(said, t).map(|cost| NearTag { tag: t.clone(), cost, keeps_digits: true });
            let mut near: Vec<NearTag> = ends.filter_map(cost).collect();
            near.sort_by(|a, b| (a.cost, &a.tag).cmp(&(b.cost, &b.tag)));
            near
        };
        self.memo.near(said, tag, memo::Among::Longer, find)
    }
}
