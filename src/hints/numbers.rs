//! The ways numbers are said.

use super::dice::Dice;
use crate::words::said::{TENS, UNITS, pair};

/// All words of numbers.
#[cfg(test)]
pub(super) fn words() -> impl Iterator<Item = &'static str> {
    UNITS.into_iter().chain(TENS).chain(["zero", "double", "hundred", "thousand", "and"])
}

/// An amount under 1,000: "seventy five", "a hundred and ten".
pub(super) fn amount(n: usize) -> Vec<&'static str> {
    match n {
        0 => vec!["zero"],
        1..20 => vec![UNITS[n]],
        20..100 if n.is_multiple_of(10) => vec![TENS[n / 10]],
        20..100 => vec![TENS[n / 10], UNITS[n % 10]],
        _ => {
            let mut said = vec![UNITS[n / 100 % 10], "hundred"];
            if !n.is_multiple_of(100) {
                said.push("and");
                said.extend(amount(n % 100));
            }
            said
        }
    }
}

/// A tag in one of the ways tags are said; letters are left out.
pub(super) fn tag(tag: &str, dice: &mut Dice) -> Vec<&'static str> {
    let digits: Vec<usize> = tag.bytes().filter(u8::is_ascii_digit).map(|b| usize::from(b - b'0')).collect();
    let way = dice.below(100);
    match *digits.as_slice() {
        [a, b] if a > 0 && way < 92 => amount(a * 10 + b),
        [a, 0, 0] if a > 0 && way < 85 => vec![UNITS[a], "hundred"],
        [a, b, c] if a > 0 && way < 68 => [vec![UNITS[a]], pair(b, c)].concat(),
        [a, b, c] if a > 0 && way < 82 => {
            let all = amount(a * 100 + b * 10 + c);
            if way < 76 { all } else { all.into_iter().filter(|w| *w != "and").collect() }
        }
        [a, 0, 0, d] if a > 0 && way < 45 => thousand(a, d, way < 25),
        [a, b, c, d] if a > 0 && way < 80 => [pair(a, b), pair(c, d)].concat(),
        [a, b, c, d, e] if a > 0 && way < 50 => [vec![UNITS[a]], pair(b, c), pair(d, e)].concat(),
        _ => one_by_one(&digits, dice),
    }
}

fn thousand(a: usize, d: usize, and: bool) -> Vec<&'static str> {
    let mut said = vec![UNITS[a], "thousand"];
    if d > 0 {
        said.extend(and.then_some("and"));
        said.push(UNITS[d]);
    }
    said
}

fn one_by_one(digits: &[usize], dice: &mut Dice) -> Vec<&'static str> {
    let mut said = Vec::new();
    let nought = if dice.in_100(15) { "zero" } else { "oh" };
    let doubles = dice.in_100(20);
    let mut at = 0;
    while at < digits.len() {
        let word = if digits[at] == 0 { nought } else { UNITS[digits[at]] };
        if doubles && digits.get(at + 1) == Some(&digits[at]) {
            said.push("double");
            at += 1;
        }
        said.push(word);
        at += 1;
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tag_is_said_in_its_ways() {
        let mut dice = Dice::new(1);
        let mut ways: Vec<String> = (0..500).map(|_| tag("1008", &mut dice).join(" ")).collect();
        ways.sort();
        ways.dedup();
        for way in ["ten oh eight", "one thousand and eight", "one oh oh eight", "one double oh eight"] {
            assert!(ways.iter().any(|w| w == way), "{way}: {ways:?}");
        }
        assert_eq!(amount(110).join(" "), "one hundred and ten");
    }
}
