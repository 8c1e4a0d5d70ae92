//! Written numbers as atoms.

use crate::vocab::Atom;

/// The number a written word stands for: digits, a decimal, a thousands-separated number, `3/52`, `½`.
pub fn atom(word: &str) -> Option<Atom> {
    // Asked of every word; most hold no digit.
    if !word.bytes().any(|b| b.is_ascii_digit()) {
        return None;
    }
    let digits = |s: &str| (!s.is_empty() && s.bytes().all(|b| b.is_ascii_digit())).then(|| s.to_owned());
    if let Some(d) = digits(word) {
        return Some(Atom::Digits { value: d.parse().ok()?, len: u8::try_from(d.len()).ok()? });
    }
    // `16.4.2026`
    if let [day, month, year] = word.split('.').collect::<Vec<_>>()[..]
        && year.len() == 4
    {
        return Some(Atom::Iso {
            year: digits(year)?.parse().ok()?,
            month: digits(month)?.parse().ok()?,
            day: digits(day)?.parse().ok()?,
        });
    }
    // `7,5 cm`
    let decimal = word.split_once(',').filter(|(_, part)| part.len() < 3);
    if let Some((whole, part)) = word.split_once('.').or(decimal) {
        let (whole, part) = (digits(whole)?, digits(part)?);
        if part.len() > 3 {
            return None;
        }
        let milli: u64 = format!("{part:0<3}").parse().ok()?;
        let value = whole.parse::<u64>().ok()?.checked_mul(1000)?.checked_add(milli)?;
        return Some(Atom::Decimal { milli: value, places: part.len() as u8 });
    }
    if let Some((left, right)) = word.split_once('/') {
        let (left, right) = (digits(left)?, digits(right)?);
        return Some(Atom::Slash { left: left.parse().ok()?, right: right.parse().ok()? });
    }
    if word.contains(',') {
        let joined: String = word.chars().filter(|c| *c != ',').collect();
        let d = digits(&joined)?;
        return Some(Atom::Digits { value: d.parse().ok()?, len: u8::try_from(d.len()).ok()? });
    }
    let mut parts = word.splitn(3, '-');
    if let (Some(y), Some(m), Some(d)) = (parts.next(), parts.next(), parts.next()) {
        return Some(Atom::Iso { year: y.parse().ok()?, month: m.parse().ok()?, day: d.parse().ok()? });
    }
    None
}
