//! The sounds of English as the CMU Pronouncing Dictionary writes them, and how far apart they are.
//!
//! Distances are in hundredths of a phone. Vowels differ by height and backness (IPA chart), consonants by
//! voicing, place and manner; the weights were chosen on what recognisers made of spoken notes.

/// One sound, an index into [`SYMBOLS`]; [`BREAK`] stands for a written number.
pub(crate) type Phone = u8;

/// A written number or sign in the string of sounds: no form reaches across it.
pub(crate) const BREAK: Phone = 63;

/// One letter a phone, as in `vocab/sound/README.md`.
const SYMBOLS: &[u8] = b"a@^xcWYERqeiIXoOuUbCdDfghJklmnGprsStTvwyzZ";

/// The phone that a dictionary letter stands for.
pub(crate) fn phone(letter: u8) -> Option<Phone> {
    SYMBOLS.iter().position(|s| *s == letter).map(|i| i as Phone)
}

/// The dictionary letter of a phone.
pub(crate) fn letter(phone: Phone) -> u8 {
    SYMBOLS.get(usize::from(phone)).copied().unwrap_or(b'-')
}

pub(crate) fn is_vowel(phone: Phone) -> bool {
    SYMBOLS.get(usize::from(phone)).is_some_and(|s| vowel(*s).is_some())
}

/// (height, backness, reduced) of a vowel, 0 to 100.
fn vowel(symbol: u8) -> Option<(i32, i32, bool)> {
    Some(match symbol {
        b'i' => (100, 0, false),
        b'I' => (80, 10, false),
        b'X' => (75, 20, true),
        b'e' => (65, 5, false),
        b'E' => (50, 10, false),
        b'@' => (20, 15, false),
        b'a' => (0, 70, false),
        b'c' => (30, 90, false),
        b'o' => (60, 95, false),
        b'U' => (80, 85, false),
        b'u' => (100, 95, false),
        b'^' => (35, 60, false),
        b'x' => (45, 50, true),
        b'R' => (55, 55, false),
        b'q' => (50, 55, true),
        b'Y' => (20, 40, false),
        b'W' => (20, 75, false),
        b'O' => (50, 60, false),
        _ => return None,
    })
}

#[derive(Clone, Copy, PartialEq)]
enum Manner {
    Stop,
    Affricate,
    Fricative,
    Nasal,
    Liquid,
    Glide,
}

/// (voiced, place from lips 0 to throat 60, manner) of a consonant.
fn consonant(symbol: u8) -> Option<(bool, i32, Manner)> {
    use Manner::{Affricate, Fricative, Glide, Liquid, Nasal, Stop};
    Some(match symbol {
        b'p' => (false, 0, Stop),
        b'b' => (true, 0, Stop),
        b't' => (false, 30, Stop),
        b'd' => (true, 30, Stop),
        b'k' => (false, 50, Stop),
        b'g' => (true, 50, Stop),
        b'C' => (false, 40, Affricate),
        b'J' => (true, 40, Affricate),
        b'f' => (false, 10, Fricative),
        b'v' => (true, 10, Fricative),
        b'T' => (false, 20, Fricative),
        b'D' => (true, 20, Fricative),
        b's' => (false, 30, Fricative),
        b'z' => (true, 30, Fricative),
        b'S' => (false, 40, Fricative),
        b'Z' => (true, 40, Fricative),
        b'h' => (false, 60, Fricative),
        b'm' => (true, 0, Nasal),
        b'n' => (true, 30, Nasal),
        b'G' => (true, 50, Nasal),
        b'l' => (true, 30, Liquid),
        b'r' => (true, 35, Liquid),
        b'w' => (true, 0, Glide),
        b'y' => (true, 45, Glide),
        _ => return None,
    })
}

/// Pairs that are nearer than their features say.
const NEAR: &[(u8, u8, u16)] = &[
    (b'T', b'f', 25),
    (b'n', b'G', 25),
    (b'C', b'S', 30),
    (b'q', b'r', 30),
    (b'R', b'r', 30),
    (b'd', b'D', 30),
    (b'm', b'n', 35),
    (b's', b'S', 35),
    (b't', b'C', 40),
    (b'd', b'J', 45),
    (b'w', b'u', 40),
    (b'y', b'i', 40),
    (b'l', b'o', 50),
    (b'l', b'U', 50),
    (b'l', b'r', 50),
    (b'q', b'x', 25),
    (b'R', b'^', 30),
    (b'v', b'b', 40),
    (b'v', b'D', 35),
    (b'z', b's', 25),
    (b't', b'd', 25),
    (b'l', b'w', 50),
    (b'c', b'a', 15),
    (b'X', b'x', 10),
    (b'X', b'I', 12),
    (b'x', b'^', 15),
    (b'q', b'R', 12),
];

fn between(a: u8, b: u8) -> u16 {
    if a == b {
        return 0;
    }
    if let Some(n) = NEAR.iter().find(|n| (n.0, n.1) == (a, b) || (n.1, n.0) == (a, b)) {
        return n.2;
    }
    match (vowel(a), vowel(b), consonant(a), consonant(b)) {
        (Some(x), Some(y), _, _) => {
            let full = 12 + 30 * ((x.0 - y.0).abs() + (x.1 - y.1).abs()) / 100;
            let cost = if x.2 || y.2 { full * 3 / 4 } else { full };
            cost.min(60) as u16
        }
        (_, _, Some(x), Some(y)) => {
            let voice = if x.0 == y.0 { 0 } else { 25 };
            let place = ((x.1 - y.1).abs() * 3).min(50);
            let manner = if x.2 == y.2 { 0 } else { 55 };
            (voice + place + manner).clamp(20, 100) as u16
        }
        _ => 130,
    }
}

/// Cost of a phone of the form that was not heard.
fn lost(symbol: u8) -> u16 {
    match symbol {
        b'h' => 30,
        b'x' | b'X' | b'q' => 40,
        b'l' => 45,
        b't' | b'd' => 50,
        b'r' | b'w' | b'y' => 55,
        b'n' | b'm' | b's' | b'z' => 65,
        _ => 72,
    }
}

/// Cost of a phone heard that the form does not have.
fn added(symbol: u8) -> u16 {
    if symbol == b'l' { 35 } else { lost(symbol) * 9 / 10 }
}

/// Single sounds of a form that recognisers write as two: its symbol, what the first and the second may be, and
/// the cost. "Cow" becomes "Cal", "outer" "alter" or "out or".
const SPLITS: &[(u8, &[u8], u8, u16)] = &[(b'W', b"@caYe^o", b'l', 22), (b'q', b"ca", b'r', 32)];

/// The cost of a `d` that is not heard after `n`: "hine" for "hind".
const LOST_AFTER_N: u16 = 28;

/// A sound that may be heard as two.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Split {
    /// What the first may be, as bits.
    firsts: u64,
    second: Phone,
    pub(crate) cost: u16,
}

impl Split {
    /// That of most sounds.
    pub(crate) const NEVER: Self = Self { firsts: 0, second: BREAK, cost: 0 };

    pub(crate) fn is(&self, first: Phone, second: Phone) -> bool {
        second == self.second && self.firsts >> first & 1 == 1
    }
}

/// No sound too many or too few costs less.
const LEAST: u16 = 27;

/// All distances, looked up by phone.
#[derive(Clone, Debug)]
pub(crate) struct Distances {
    change: [[u16; 64]; 64],
    lost: [u16; 64],
    added: [u16; 64],
    splits: [Option<Split>; 64],
    n_d: (Phone, Phone),
    /// For each heard phone, the phones (as bits) that it may stand for at no more than a step's cost.
    may_stand_for: Vec<[u64; STEPS]>,
    /// The phones (as bits) that may go unheard at no more than a step's cost.
    may_be_lost: [u64; STEPS],
}

/// Costs in steps: the last is everything.
const STEP: u16 = 4;
const STEPS: usize = 34;

fn step(budget: u32) -> usize {
    budget.div_ceil(u32::from(STEP)).min(STEPS as u32 - 1) as usize
}

impl Distances {
    pub(crate) fn new() -> Self {
        let mut own = Self {
            change: [[1000; 64]; 64],
            lost: [1000; 64],
            added: [1000; 64],
            splits: [None; 64],
            n_d: (phone(b'n').unwrap_or(BREAK), phone(b'd').unwrap_or(BREAK)),
            may_stand_for: vec![[0; STEPS]; 64],
            may_be_lost: [0; STEPS],
        };
        for (i, a) in SYMBOLS.iter().enumerate() {
            own.lost[i] = lost(*a);
            own.added[i] = added(*a);
            for (j, b) in SYMBOLS.iter().enumerate() {
                own.change[i][j] = between(*a, *b);
            }
        }
        let bits = |of: &[u8]| of.iter().filter_map(|s| phone(*s)).fold(0, |bits, p| bits | 1 << p);
        for (symbol, firsts, second, cost) in SPLITS {
            if let (Some(form), Some(second)) = (phone(*symbol), phone(*second)) {
                own.splits[form as usize] = Some(Split { firsts: bits(firsts), second, cost: *cost });
            }
        }
        for form in 0..SYMBOLS.len() {
            for k in 0..STEPS {
                let most = if k == STEPS - 1 { u16::MAX } else { k as u16 * STEP };
                own.may_be_lost[k] |= u64::from(own.lost[form] <= most) << form;
                for heard in 0..SYMBOLS.len() {
                    own.may_stand_for[heard][k] |= u64::from(own.change[form][heard] <= most) << form;
                }
            }
        }
        own
    }

    /// How far two whole strings of sounds are apart; nothing where that is more than `most`.
    pub(crate) fn apart(&self, form: &[Phone], heard: &[Phone], most: u32) -> Option<u32> {
        let more = |a: usize, b: usize| a.saturating_sub(b) as u32;
        let at_least = (more(form.len(), heard.len()) + more(heard.len(), form.len())) * u32::from(LEAST);
        if at_least > most {
            return None;
        }
        let mut row = self.first_row(heard);
        let mut next = row.clone();
        let mut before = BREAK;
        for f in form {
            if self.next_row(before, *f, heard, &row, &mut next) > most {
                return None;
            }
            std::mem::swap(&mut row, &mut next);
            before = *f;
        }
        Some(row[heard.len()]).filter(|cost| *cost <= most)
    }

    /// What each beginning of `heard` costs before any sound of a form.
    pub(crate) fn first_row(&self, heard: &[Phone]) -> Vec<u32> {
        let mut row = Vec::with_capacity(heard.len() + 1);
        row.push(0);
        row.extend(heard.iter().scan(0, |so_far, h| {
            *so_far += u32::from(self.added(*h));
            Some(*so_far)
        }));
        row
    }

    /// What each beginning of `heard` costs after one sound more of a form, `form` after `before`; gives the least.
    pub(crate) fn next_row(&self, before: Phone, form: Phone, heard: &[Phone], row: &[u32], next: &mut [u32]) -> u32 {
        let loss = u32::from(self.lost_after(before, form));
        let split = self.split(form);
        let change = self.changes(form);
        let (mut corner, mut left) = (row[0], row[0] + loss);
        next[0] = left;
        let mut least = left;
        for ((h, up), out) in heard.iter().zip(&row[1..]).zip(&mut next[1..]) {
            left = (corner + u32::from(change[*h as usize & 63])).min(up + loss).min(left + u32::from(self.added(*h)));
            corner = *up;
            *out = left;
            least = least.min(left);
        }
        if let Some(split) = split {
            // Seldom: over again, with the sound heard as two.
            for j in 1..next.len() {
                let two = j > 1 && split.is(heard[j - 2], heard[j - 1]);
                let split = if two { row[j - 2] + u32::from(split.cost) } else { u32::MAX };
                next[j] = next[j].min(split).min(next[j - 1] + u32::from(self.added(heard[j - 1])));
                least = least.min(next[j]);
            }
        }
        least
    }

    /// Not hearing a phone of the form.
    pub(crate) fn lost(&self, form: Phone) -> u16 {
        self.lost[form as usize & 63]
    }

    /// Not hearing a phone of the form that comes after `before`.
    pub(crate) fn lost_after(&self, before: Phone, form: Phone) -> u16 {
        if (before, form) == self.n_d { LOST_AFTER_N } else { self.lost(form) }
    }

    /// A phone of the form that may be heard as two.
    pub(crate) fn split(&self, form: Phone) -> Option<Split> {
        self.splits[form as usize & 63]
    }

    /// Hearing a phone that the form does not have.
    pub(crate) fn added(&self, heard: Phone) -> u16 {
        self.added[heard as usize & 63]
    }

    /// Phones, as bits, that may have been meant where `heard` was heard for about `budget`; none is left out.
    pub(crate) fn may_stand_for(&self, heard: Phone, budget: u32) -> u64 {
        self.may_stand_for[heard as usize & 63][step(budget)]
    }

    /// Phones, as bits, that may go unheard for about `budget`; none is left out.
    pub(crate) fn may_be_lost(&self, budget: u32) -> u64 {
        self.may_be_lost[step(budget)]
    }

    /// Hearing each phone for `form`.
    pub(crate) fn changes(&self, form: Phone) -> &[u16; 64] {
        &self.change[form as usize & 63]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(a: u8, b: u8) -> u16 {
        Distances::new().changes(phone(a).unwrap())[phone(b).unwrap() as usize]
    }

    #[test]
    fn distances_are_even_handed_and_nothing_is_free_but_itself() {
        for a in SYMBOLS {
            for b in SYMBOLS {
                assert_eq!(d(*a, *b), d(*b, *a), "{} {}", *a as char, *b as char);
                assert_eq!(d(*a, *b) == 0, a == b);
            }
        }
        assert_eq!(SYMBOLS.len(), 42);
        assert_eq!(SYMBOLS.iter().map(|s| lost(*s).min(added(*s))).min(), Some(LEAST));
    }

    #[test]
    fn a_voiced_twin_is_nearer_than_another_place() {
        assert!(d(b't', b'd') < d(b't', b'k'));
        assert!(d(b'i', b'I') < d(b'i', b'a'));
    }
}
