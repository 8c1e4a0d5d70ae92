//! The cow's number at the start of a line.

use std::ops::Range;

use super::slips;
use crate::roster::Roster;

/// A cow's number as a line begins with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Tag {
    /// In the text, with a cue or a sign before it.
    pub(super) at: Range<usize>,
    pub(super) number: String,
    /// `#412`, `cow 412`: it can be nothing else.
    pub(super) cue: bool,
    /// As it stands, where letters were taken for digits.
    pub(super) mended: Option<String>,
    /// The mended number is as good as the one that stands there.
    pub(super) doubtful: bool,
}

const CUES: &[&str] = &["cow", "tag", "no", "nr", "num", "number", "hfr", "heifer", "#"];

/// The tag that the text begins with. `known` tells whether a word is one of the trade.
pub(super) fn leading(text: &str, roster: Option<&Roster>, known: impl Fn(&str) -> bool) -> Option<Tag> {
    let start = text.len() - text.trim_start_matches(|c: char| c.is_whitespace() || "-*\u{2022}>.".contains(c)).len();
    let mut rest = &text[start..];
    let mut cue = false;
    loop {
        let lower = rest.to_ascii_lowercase();
        let found = CUES.iter().find(|c| {
            lower.starts_with(**c)
                && (**c == "#" || lower[c.len()..].starts_with(|n: char| n.is_ascii_digit() || " .:#".contains(n)))
        });
        let Some(found) = found else { break };
        let after = rest[found.len()..].trim_start_matches(|c: char| " .:".contains(c));
        // A cue with nothing to name is none.
        if !after.starts_with(|c: char| c.is_alphanumeric() || c == '#') {
            break;
        }
        cue = true;
        rest = after;
    }
    let from = text.len() - rest.len();
    let word: &str = &rest[..rest.find(|c: char| !c.is_alphanumeric() && c != '|').unwrap_or(rest.len())];
    let end = from + word.len();
    let after = &text[end..];
    // Part of a date, a time, a decimal, a telephone number.
    let glued = after.starts_with(['/', '\'']) && after[1..].starts_with(|c: char| c.is_ascii_alphanumeric())
        || after.starts_with(['.', ',', ':']) && after[1..].starts_with(|c: char| c.is_ascii_digit())
        || after.starts_with(['%', '\u{b0}', '£', '$']);
    let digits = word.bytes().filter(u8::is_ascii_digit).count();
    if glued || word.is_empty() || digits == 0 && !roster.is_some_and(|r| r.has(&word.to_uppercase())) {
        return None;
    }
    let at = start..end;
    let tag = |number: String, mended, doubtful| Some(Tag { at: at.clone(), number, cue, mended, doubtful });
    if roster.is_some_and(|r| r.has(word) || r.tag_of_chip(word).is_some()) {
        return tag(word.to_owned(), None, false);
    }
    if digits == word.len() {
        return (digits <= 6 || digits == 15).then(|| tag(word.to_owned(), None, false))?;
    }
    if word.len() > 7 {
        return None;
    }
    let mended: Option<String> = word.chars().map(slips::digit).collect();
    let upper = word.to_uppercase();
    // `M2`, `4wk`; what could be a number as well (`Z5`) is asked.
    if known(word) && mended.is_none() {
        return None;
    }
    if let Some(mended) = mended {
        let in_herd = roster.map(|r| (r.has(&upper), r.has(&mended)));
        return match in_herd {
            Some((true, _)) => tag(upper, None, false),
            Some((false, true)) => tag(mended, Some(word.to_owned()), false),
            _ => {
                // A letter between digits is no letter; one at the edge may belong to the tag.
                let edge = |c: char| matches!(c, 'S' | 'B' | 'Z' | 's' | 'z');
                let doubtful = word.starts_with(edge) || word.ends_with(edge);
                tag(mended, Some(word.to_owned()), doubtful)
            }
        };
    }
    // `A123`, `412B`: a letter or two, and at least as many digits.
    let letters = word.len() - digits;
    let outside = word.trim_matches(|c: char| c.is_ascii_alphabetic()).bytes().all(|b| b.is_ascii_digit());
    (letters <= 2 && digits >= letters && outside && word.starts_with(|c: char| !c.is_lowercase()) && word.is_ascii())
        .then(|| tag(upper, None, false))?
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> Option<(String, bool)> {
        leading(text, None, |w| matches!(w, "M2" | "z4")).map(|t| (t.number, t.doubtful))
    }

    #[test]
    fn tags_and_what_is_none() {
        for (text, tag) in [
            ("231 LR", "231"),
            ("#231", "231"),
            ("cow 0317: LH", "0317"),
            ("9S5 RRI", "955"),
            ("1O62", "1062"),
            ("- 44 ok", "44"),
            ("B7C LH", ""),
            ("A123 LH", "A123"),
            ("3/5 lame", ""),
            ("7:30 start", ""),
            ("1.5 bales", ""),
            ("M2 LH", ""),
            ("wrap", ""),
            ("5551234567", ""),
            ("l2 ok", "12"),
        ] {
            assert_eq!(of(text).map(|t| t.0).unwrap_or_default(), tag, "{text}");
        }
        assert_eq!(of("B7 LH"), Some(("87".to_owned(), false)).map(|(n, _)| (n, true)));
        let herd = Roster::new(["B7".to_owned(), "858".to_owned()]);
        let in_herd = |text| leading(text, Some(&herd), |_| false).map(|t| (t.number, t.doubtful));
        assert_eq!(in_herd("B7 LH"), Some(("B7".to_owned(), false)));
        assert_eq!(in_herd("8S8 LH"), Some(("858".to_owned(), false)));
    }
}
