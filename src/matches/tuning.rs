//! Prices and margins of hearing (`vocab/tuning.toml`).

use serde::Deserialize;

/// In hundredths of a phone; the file says how each was chosen.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tuning {
    pub unread: u32,
    pub unread_known: u32,
    pub unread_term: u32,
    pub unread_dear: u32,
    pub unread_number: u32,
    pub dear_filler: u32,
    pub inside_word: u32,
    pub inside_known: u32,
    pub over_known: u32,
    pub over_comma: u32,
    pub over_stop: u32,
    pub over_term: u32,
    pub over_filler: u32,
    pub over_everyday: u32,
    pub within_term: u32,
    pub any_cow_cue: u32,
    pub talk: u32,
    pub over_talk: u32,
    pub context: u32,
    pub slack: u32,
    pub margin: u32,
    pub margin_more: u32,
    pub dear: u32,
    pub hearings: u32,
    pub fluent: u32,
    pub dear_record: u32,
    pub left_over: u32,
    pub unread_words: u32,
    pub unread_share: u32,
    pub unread_bare: u32,
    pub dear_known: u32,
    pub dear_part: u32,
    pub talk_words: u32,
    pub dear_talk: u32,
}

impl Default for Tuning {
    fn default() -> Self {
        toml::from_str(crate::vocab::built_in!("tuning.toml")).expect("the built-in tuning is checked by a test")
    }
}
