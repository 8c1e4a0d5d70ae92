//! The ways a tag is said.

use std::sync::OnceLock;

use crate::vocab::sound::{Phone, pronounce};
use crate::words::said::{UNITS, pair};

/// In pairs, by hundreds or thousands and digit by digit, the most usual way first; letters are left out.
pub(crate) fn ways(tag: &str) -> Vec<Vec<&'static str>> {
    let digits: Vec<usize> = tag.bytes().filter(u8::is_ascii_digit).map(|b| usize::from(b - b'0')).collect();
    let one_by_one: Vec<&str> = digits.iter().map(|d| UNITS[*d]).collect();
    let mut out = Vec::new();
    match *digits.as_slice() {
        [a, b] => out.push(pair(a, b)),
        [a, b, c] => {
            let mut way = vec![UNITS[a]];
            way.extend(pair(b, c));
            out.push(way);
        }
        [a, b, c, d] => {
            let mut way = pair(a, b);
            way.extend(pair(c, d));
            out.push(way);
            if b == 0 && c == 0 {
                out.push(if d == 0 { vec![UNITS[a], "thousand"] } else { vec![UNITS[a], "thousand", "and", UNITS[d]] });
            }
        }
        _ => {}
    }
    if !out.contains(&one_by_one) {
        out.push(one_by_one);
    }
    out
}

/// "to", "for", "ate": a word that is none of a number and is said as one to nine is.
pub(crate) fn sounds_as_a_digit(word: &str) -> bool {
    static DIGITS: OnceLock<Vec<Vec<Phone>>> = OnceLock::new();
    if word.len() < 2 || UNITS.contains(&word.to_lowercase().as_str()) {
        return false;
    }
    let digits = DIGITS.get_or_init(|| UNITS[1..10].iter().flat_map(|w| pronounce(w)).collect());
    pronounce(&word.to_lowercase()).iter().any(|said| digits.contains(said))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_most_usual_way_comes_first() {
        let all = |tag: &str| ways(tag).iter().map(|w| w.join(" ")).collect::<Vec<_>>();
        assert_eq!(all("231"), ["two thirty one", "two three one"]);
        assert_eq!(all("1008"), ["ten oh eight", "one thousand and eight", "one oh oh eight"]);
        assert_eq!(all("7"), ["seven"]);
        assert_eq!(all("b12"), ["twelve", "one two"]);
    }
}
