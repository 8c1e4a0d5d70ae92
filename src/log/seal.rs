//! The seal at the end of a line: by it a changed line is noticed, and one that is lost.
//!
//! `"seal":"AFTER-OWN"`, each sixteen hex digits, is the last member of a line. OWN is the front of the SHA-256 of
//! AFTER, a line feed, and the line as it is without its seal:
//!
//! ```text
//! printf '0000000000000000\n{"v":1,"kind":"visit",…,"date":"2026-03-12"}' | sha256sum
//! ```
//!
//! AFTER is the OWN of the line before, zeros where there is none. A line before that has no seal (an older
//! program, or somebody's hand) counts as though it was sealed after zeros. No secret is in it: a seal shows what
//! happened to a log by accident or by hand, and is no signature.

use std::io::Write;

use sha2::{Digest, Sha256};

/// The name of the member.
pub const NAME: &str = "seal";

const OPEN: &[u8] = b",\"seal\":\"";
const CLOSE: &[u8] = b"\"}";
const DIGITS: usize = 16;
/// Bytes that a seal adds to a line.
const LENGTH: usize = OPEN.len() + DIGITS + 1 + DIGITS + CLOSE.len() - 1;

/// What the seal of a line says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seal {
    /// The seal of the line before, when this one was written; 0 where there was none.
    pub after: u64,
    pub own: u64,
}

/// A line taken apart.
#[derive(Clone, Copy, Debug)]
pub struct Parts<'a> {
    /// The line without its seal, and where it has one, without the brace that ends it.
    front: &'a [u8],
    pub seal: Option<Seal>,
}

impl<'a> Parts<'a> {
    /// `line` is without its end; blanks around it do not count.
    pub fn of(line: &'a [u8]) -> Self {
        let line = line.trim_ascii();
        match seal(line) {
            Some((front, seal)) => Self { front, seal: Some(seal) },
            None => Self { front: line, seal: None },
        }
    }

    /// The line as it was before it was sealed.
    pub fn unsealed(&self) -> Vec<u8> {
        let mut line = self.front.to_vec();
        line.extend_from_slice(self.brace());
        line
    }

    /// Whether the line still is what was sealed; one without a seal cannot say.
    pub fn fits(&self) -> bool {
        self.seal.is_none_or(|s| s.own == self.reckon(s.after))
    }

    /// What the line after this one is sealed with.
    pub fn link(&self) -> u64 {
        self.seal.map_or_else(|| self.reckon(0), |s| s.own)
    }

    fn brace(&self) -> &'static [u8] {
        if self.seal.is_some() { b"}" } else { b"" }
    }

    fn reckon(&self, after: u64) -> u64 {
        let mut hash = Sha256::new();
        hash.update(format!("{after:016x}\n"));
        hash.update(self.front);
        hash.update(self.brace());
        let hash = hash.finalize();
        let (front, _) = hash.split_first_chunk().expect("a SHA-256 has 32 bytes");
        u64::from_be_bytes(*front)
    }
}

/// `line` with its seal, written after the line whose link is `after`; gives its own link too.
///
/// A line that is no JSON object stays as it is.
///
/// # Panics
/// Never: what is put together is text, and a `Vec` takes all.
pub fn put(line: &str, after: u64) -> (String, u64) {
    let parts = Parts::of(line.as_bytes());
    let Some(front) = line.strip_suffix('}').filter(|_| parts.seal.is_none()) else {
        return (line.to_owned(), parts.link());
    };
    let own = parts.reckon(after);
    let mut sealed = Vec::with_capacity(line.len() + LENGTH);
    sealed.extend_from_slice(front.as_bytes());
    write!(sealed, ",\"{NAME}\":\"{after:016x}-{own:016x}\"}}").expect("a Vec takes all");
    (String::from_utf8(sealed).expect("it was made of text"), own)
}

fn seal(line: &[u8]) -> Option<(&[u8], Seal)> {
    let (front, tail) = line.split_at_checked(line.len().checked_sub(LENGTH + 1)?)?;
    let digits = tail.strip_prefix(OPEN)?.strip_suffix(CLOSE)?;
    let (after, own) = digits.split_at_checked(DIGITS)?;
    let seal = Seal { after: hex(after)?, own: hex(own.strip_prefix(b"-")?)? };
    Some((front, seal))
}

/// Lower case only: a seal has one way to be written.
pub(super) fn hex(digits: &[u8]) -> Option<u64> {
    if digits.len() != DIGITS {
        return None;
    }
    digits.iter().try_fold(0, |n, d| match d {
        b'0'..=b'9' => Some(n << 4 | u64::from(d - b'0')),
        b'a'..=b'f' => Some(n << 4 | u64::from(d - b'a' + 10)),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `printf '0000000000000000\n{"v":1}' | sha256sum`, and so on from there.
    #[test]
    fn a_seal_can_be_reckoned_by_other_means() {
        let (first, link) = put(r#"{"v":1}"#, 0);
        assert_eq!(first, r#"{"v":1,"seal":"0000000000000000-f2164d31fbae3b54"}"#);
        let (second, _) = put(r#"{"v":1}"#, link);
        assert_eq!(second, r#"{"v":1,"seal":"f2164d31fbae3b54-f03f67e023e3a4be"}"#);
    }

    #[test]
    fn a_line_comes_back_as_it_was_sealed() {
        let line = r#"{"v":1,"said":"a seal"}"#;
        let (sealed, own) = put(line, 7);
        let parts = Parts::of(sealed.as_bytes());
        assert_eq!((parts.seal, parts.fits()), (Some(Seal { after: 7, own }), true));
        assert_eq!((parts.unsealed(), parts.link()), (line.as_bytes().to_vec(), own));
        assert_eq!(put(&sealed, 9).0, sealed, "a line is sealed once");
    }

    #[test]
    fn blanks_and_the_ends_of_lines_are_no_change_and_all_else_is() {
        let (sealed, _) = put(r#"{"v":1,"why":"twice"}"#, 0);
        assert!(Parts::of(format!(" {sealed}\r\n").as_bytes()).fits());
        for at in 0..sealed.len() {
            let mut other = sealed.clone().into_bytes();
            other[at] ^= 1;
            let parts = Parts::of(&other);
            assert!(parts.seal.is_none() || !parts.fits(), "byte {at}");
        }
    }

    #[test]
    fn what_has_no_seal_stands_as_though_sealed_after_nothing() {
        let line = r#"{"v":1}"#;
        assert_eq!(Parts::of(line.as_bytes()).link(), put(line, 0).1);
        assert!(Parts::of(b"{\"v\":1,\"ki").fits());
    }
}
