//! The pronouncing dictionary for the browser: 2 MB as 276 kB, unpacked to the very same text.
//!
//! Binary arithmetic coding with adaptive odds (Howard and Vitter 1994 is an introduction). Words share their front
//! with the word before, letters are foretold by those before them, sounds by those of the word before as far as
//! the words are one, else by the letters about where they stand and by the sounds before. Each bit is foretold by more
//! and by less of what is known, and what these say is mixed (Mahoney 2005, "Adaptive weighing of context models"). One walk, [`Walk::line`], does both ways: a [`Coder`] either writes the bit that it is
//! given or gives the bit that was written.
//!
//! Also compiled by `vocab/sound/pack.rs`, which packs when the library is built for the browser.

/// The dictionary's letters for sounds, as in `vocab/sound/README.md`.
const SOUNDS: &[u8] = b"a@^xcWYERqeiIXoOuUbCdDfghJklmnGprsStTvwyzZ";

/// Lines `word<TAB>sounds[<SPACE>sounds]`, sorted, packed; the first four bytes tell how many.
#[cfg_attr(not(test), allow(dead_code, reason = "the library unpacks, its build script packs"))]
pub(crate) fn pack(text: &str) -> Vec<u8> {
    let mut walk =
        Walk::new(Encoder { low: 0, high: u32::MAX, out: (text.lines().count() as u32).to_le_bytes().to_vec() });
    for line in text.lines() {
        walk.line(&Line::of(line));
    }
    walk.coder.out.extend_from_slice(&walk.coder.low.wrapping_add(1).to_be_bytes());
    walk.coder.out
}

/// The text that was packed, line by line: a phone is slow, and somebody may be typing on it.
#[cfg_attr(not(any(test, target_family = "wasm")), allow(dead_code, reason = "only the browser unpacks"))]
pub(crate) struct Unpacking<'a> {
    walk: Walk<Decoder<'a>>,
    left: u32,
    text: String,
}

#[cfg_attr(not(any(test, target_family = "wasm")), allow(dead_code, reason = "only the browser unpacks"))]
impl<'a> Unpacking<'a> {
    pub(crate) fn new(packed: &'a [u8]) -> Self {
        let (count, bytes) = packed.split_first_chunk().expect("four bytes in front");
        let left = u32::from_le_bytes(*count);
        Self { walk: Walk::new(Decoder::new(bytes)), left, text: String::with_capacity(left as usize * 17) }
    }

    /// Goes on by so many lines; gives whether all are there.
    pub(crate) fn go_on(&mut self, lines: u32) -> bool {
        for _ in 0..lines.min(self.left) {
            self.walk.line(&Line::default()).write(&mut self.text);
        }
        self.left = self.left.saturating_sub(lines);
        self.left == 0
    }

    /// The whole text.
    pub(crate) fn whole(mut self) -> String {
        self.go_on(self.left);
        self.text
    }
}

/// A word and how it is said, as codes: letters from 1, the sounds' places in [`SOUNDS`].
#[derive(Clone, Debug, Default)]
struct Line {
    word: Vec<u8>,
    ways: Vec<Vec<u8>>,
}

impl Line {
    fn of(line: &str) -> Self {
        let (word, ways) = line.split_once('\t').expect("a tab in each line");
        let sound = |b: u8| SOUNDS.iter().position(|s| *s == b).expect("a known sound") as u8;
        Self {
            word: word.bytes().map(|b| if b == b'\'' { 27 } else { b - b'a' + 1 }).collect(),
            ways: ways.split(' ').map(|way| way.bytes().map(sound).collect()).collect(),
        }
    }

    fn write(&self, text: &mut String) {
        text.extend(self.word.iter().map(|l| if *l == 27 { '\'' } else { char::from(b'a' + l - 1) }));
        for (i, way) in self.ways.iter().enumerate() {
            text.push(if i == 0 { '\t' } else { ' ' });
            text.extend(way.iter().map(|s| char::from(SOUNDS[usize::from(*s)])));
        }
        text.push('\n');
    }
}

/// Writes bits, or gives those that were written.
trait Coder {
    /// `odds` are those of a one, of 65,536; `wanted` counts only where it is written.
    fn bit(&mut self, odds: u32, wanted: bool) -> bool;
}

struct Encoder {
    low: u32,
    high: u32,
    out: Vec<u8>,
}

impl Coder for Encoder {
    fn bit(&mut self, odds: u32, wanted: bool) -> bool {
        split(&mut self.low, &mut self.high, odds, |_| wanted);
        while (self.low ^ self.high) >> 24 == 0 {
            self.out.push((self.high >> 24) as u8);
            (self.low, self.high) = (self.low << 8, self.high << 8 | 255);
        }
        wanted
    }
}

struct Decoder<'a> {
    low: u32,
    high: u32,
    at: u32,
    bytes: std::slice::Iter<'a, u8>,
}

impl<'a> Decoder<'a> {
    fn new(bytes: &'a [u8]) -> Self {
        let mut own = Self { low: 0, high: u32::MAX, at: 0, bytes: bytes.iter() };
        (0..4).for_each(|_| own.next());
        own
    }

    fn next(&mut self) {
        self.at = self.at << 8 | u32::from(self.bytes.next().copied().unwrap_or(0));
    }
}

impl Coder for Decoder<'_> {
    fn bit(&mut self, odds: u32, _: bool) -> bool {
        let at = self.at;
        let bit = split(&mut self.low, &mut self.high, odds, |middle| at <= middle);
        while (self.low ^ self.high) >> 24 == 0 {
            (self.low, self.high) = (self.low << 8, self.high << 8 | 255);
            self.next();
        }
        bit
    }
}

/// Takes the lower part of the range for a one, the upper for a nought.
fn split(low: &mut u32, high: &mut u32, odds: u32, one: impl Fn(u32) -> bool) -> bool {
    let range = *high - *low;
    let middle = *low + (range >> 16) * odds + (((range & 0xffff) * odds) >> 16);
    let one = one(middle);
    if one {
        *high = middle;
    } else {
        *low = middle + 1;
    }
    one
}

/// Odds are found by a hash of what is known; two that share a place cost size: with half as many, 7 %.
const PLACES: usize = 1 << PLACE_BITS;
const PLACE_BITS: u32 = 22;

/// What is foretold, so that the hashes of different things differ.
#[derive(Clone, Copy)]
enum Of {
    Dropped = 1,
    Letter,
    Ways,
    Length,
    Sound,
    SoundAsBefore,
}

/// A way that another one is likely to follow.
struct Model {
    way: Vec<u8>,
    /// Of the word that is said so.
    letters: usize,
    /// So many letters in front are those of the word at hand.
    shared: usize,
}

struct Walk<C> {
    coder: C,
    /// Odds of a one in the upper 22 bits, how often it was asked in the lower 10.
    odds: Vec<u32>,
    mixer: Mixer,
    /// The word of the line before, and how it is said.
    before: Vec<u8>,
    said_before: Vec<u8>,
}

impl<C: Coder> Walk<C> {
    fn new(coder: C) -> Self {
        Self { coder, odds: vec![1 << 31; PLACES], mixer: Mixer::new(), before: vec![], said_before: vec![] }
    }

    /// A line after the one before it; of what is unpacked, `line` is empty.
    fn line(&mut self, line: &Line) -> Line {
        let before = std::mem::take(&mut self.before);
        let shared = line.word.iter().zip(&before).take_while(|(a, b)| a == b).count();
        let ends = |n: usize| before.len().checked_sub(n).map_or(0, |i| u32::from(before[i]));
        let known = [before.len() as u32, 1 << 20 | ends(1) << 5 | ends(2)];
        let dropped = self.symbol(Of::Dropped, known, 5, (before.len() - shared) as u32);
        let kept = before.len() - dropped as usize;
        let mut word = before[..kept].to_vec();
        loop {
            let back = |n: usize| word.len().checked_sub(n).map_or(0, |i| u32::from(word[i]));
            let first = word.len() == kept;
            // The first letter that differs comes after the one that stood there, which tells more than the second
            // letter before it.
            let instead = if first { before.get(kept).map_or(0, |l| u32::from(*l)) } else { 0 };
            let second = if instead > 0 { 0 } else { back(2) };
            let known = ((back(1) << 5 | second) << 5 | instead) << 1 | u32::from(first);
            let wanted = line.word.get(word.len()).map_or(0, |l| u32::from(*l));
            match self.symbol(Of::Letter, [known, known << 5 | back(3)], 5, wanted) {
                0 => break,
                letter => word.push(letter as u8),
            }
        }
        let shared = word.iter().zip(&before).take_while(|(a, b)| a == b).count();
        let model = Model { way: std::mem::take(&mut self.said_before), letters: before.len(), shared };
        let ways = self.ways(&word, model, &line.ways);
        self.before.clone_from(&word);
        self.said_before.clone_from(&ways[0]);
        Line { word, ways }
    }

    /// How `word` is said: the first way after the `model` of the word before, each other one after the first.
    fn ways(&mut self, word: &[u8], mut model: Model, wanted: &[Vec<u8>]) -> Vec<Vec<u8>> {
        let count = 1 + self.symbol(
            Of::Ways,
            [0, word.last().map_or(0, |l| u32::from(*l))],
            1,
            wanted.len().saturating_sub(1) as u32,
        );
        let mut ways: Vec<Vec<u8>> = Vec::new();
        for n in 0..count as usize {
            let way = self.way(word, &model, n > 0, wanted.get(n).map_or(&[], |w| w));
            model = Model { way: ways.first().unwrap_or(&way).clone(), letters: word.len(), shared: word.len() };
            ways.push(way);
        }
        ways
    }

    fn way(&mut self, word: &[u8], model: &Model, another: bool, wanted: &[u8]) -> Vec<u8> {
        let letter = |i: Option<usize>| i.and_then(|i| word.get(i)).map_or(0, |l| u32::from(*l));
        // As long as the model, and longer or shorter by as much as the word: told as what differs from that.
        let expected = (model.way.len() + word.len()).saturating_sub(model.letters) as u32;
        let off = 32_u32.wrapping_sub(expected);
        let beside = (word.len() as u32).wrapping_add(off);
        let known = (beside << 5 | letter(word.len().checked_sub(1))) << 1 | u32::from(another);
        let known = [known, known << 5 | letter(word.len().checked_sub(2))];
        let length = self.symbol(Of::Length, known, 6, (wanted.len() as u32).wrapping_add(off) & 63);
        let length = (length.wrapping_sub(off) & 63) as usize;
        let mut way: Vec<u8> = Vec::with_capacity(length);
        for i in 0..length {
            let about = (2 * i + 1) * word.len() / (2 * length);
            let wanted = wanted.get(i).map_or(0, |s| u32::from(*s));
            let here = letter(Some(about));
            let follows = model.shared > about && i < model.way.len() && model.way.starts_with(&way);
            let sound = if follows {
                // Where the words part just behind, the sound may differ already.
                let at_the_end = u32::from(model.shared - about == 1);
                let known = (u32::from(model.way[i]) << 1 | at_the_end) << 5 | here;
                let beside = letter(Some(about + 1)) << 5 | letter(about.checked_sub(1));
                self.symbol(Of::SoundAsBefore, [known, known << 10 | beside], 6, wanted)
            } else {
                let letters = (letter(about.checked_sub(1)) << 5 | here) << 5 | letter(Some(about + 1));
                let said = |n: usize| way.len().checked_sub(n).map_or(63, |k| u32::from(way[k]));
                let known = letters << 6 | said(1);
                let less = 1 << 30 | (here << 6 | said(1)) << 6 | said(2);
                self.symbol(Of::Sound, [known, known << 5 | letter(Some(about + 2)), less], 6, wanted)
            };
            way.push(sound as u8);
        }
        way
    }

    /// A number of so many bits, foretold by each of what is `known`.
    fn symbol<const N: usize>(&mut self, of: Of, known: [u32; N], bits: u32, wanted: u32) -> u32 {
        let mut more = 0_u64;
        let known = known.map(|known| {
            more += 1 << 35;
            (more | u64::from(known) << 3 | of as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15)
        });
        let mut node = 1_u32;
        let (mut groups, mut inner) = ([0; N], 1);
        for i in (0..bits).rev() {
            // Three bits at a time stand side by side, which spares the processor's cache.
            if (bits - 1 - i).is_multiple_of(3) {
                let node = u64::from(node).wrapping_mul(0xD6E8_FEB8_6659_FD93);
                let place = |known: u64| (known ^ node).wrapping_mul(0x9E37_79B9_7F4A_7C15) >> (64 - PLACE_BITS);
                (groups, inner) = (known.map(|known| place(known) as usize & !7), 1);
            }
            let mixed = self.mixer.mix(of, groups.map(|group| self.odds[group | inner]));
            let bit = self.coder.bit(mixed.odds.clamp(24, 65_512), wanted >> i & 1 == 1);
            self.mixer.learn(&mixed, bit);
            for group in groups {
                learn(&mut self.odds[group | inner], bit);
            }
            node = node << 1 | u32::from(bit);
            inner = inner << 1 | usize::from(bit);
        }
        node - (1 << bits)
    }
}

/// Odds as several foretellers say together, and what each said.
struct Mixed<const N: usize> {
    odds: u32,
    said: [i32; N],
    /// Where their weights stand.
    set: usize,
}

/// Weighs foretellers by how well they did: for each thing foretold, and by how often the first two were asked.
struct Mixer {
    /// Of 65,536.
    weights: Vec<i32>,
    /// Odds of 65,536 for each 256th of their logarithm, from -8 on.
    odds: Vec<u32>,
    /// The other way round, for each 4,096th of odds.
    logarithms: Vec<i32>,
}

/// How often odds were asked: never, once, a few times, often, very often.
const ASKED: usize = 5;
/// Room for so many foretellers.
const FORETELLERS: usize = 4;

impl Mixer {
    fn new() -> Self {
        // The 256th root of e, upside down, of 2^40: no two machines round whole numbers otherwise.
        const STEP: u64 = 1_095_225_038_175;
        let mut odds = vec![0; 4096];
        let mut power = 1_u64 << 40;
        for i in 0..2048 {
            let one = ((1_u64 << 56) / ((1 << 40) + power)) as u32;
            (odds[2048 + i], odds[2048 - i]) = (one, (1 << 16) - one);
            power = ((u128::from(power) * u128::from(STEP)) >> 40) as u64;
        }
        odds[0] = odds[1];
        let mut at = 0_u32;
        let logarithm = |share: u32| {
            at += odds[at as usize..4095].iter().take_while(|odds| **odds < share * 16 + 8).count() as u32;
            at.cast_signed() - 2048
        };
        let logarithms = (0..4096).map(logarithm).collect();
        Self { weights: vec![30_000; 8 * ASKED * ASKED * FORETELLERS], odds, logarithms }
    }

    fn mix<const N: usize>(&self, of: Of, odds: [u32; N]) -> Mixed<N> {
        let asked = |odds: u32| match odds & 1023 {
            0 => 0,
            1 => 1,
            2..=3 => 2,
            4..=15 => 3,
            _ => 4,
        };
        let set = odds.iter().take(2).fold(of as usize, |set, odds| set * ASKED + asked(*odds)) * FORETELLERS;
        let said = odds.map(|odds| self.logarithms[(odds >> 20) as usize]);
        let together = |(said, weight): (&i32, &i32)| i64::from(*said) * i64::from(*weight);
        let sum: i64 = said.iter().zip(&self.weights[set..]).map(together).sum();
        let place = ((sum >> 16).clamp(-2047, 2047) + 2048) as usize;
        Mixed { odds: self.odds[place], said, set }
    }

    /// Who was right gains weight.
    fn learn<const N: usize>(&mut self, mixed: &Mixed<N>, bit: bool) {
        const RATE: i64 = 20;
        let off = if bit { 65_535 } else { 0 } - i64::from(mixed.odds);
        for (weight, said) in self.weights[mixed.set..].iter_mut().zip(mixed.said) {
            *weight += ((i64::from(said) * off * RATE) >> 20) as i32;
        }
    }
}

/// By how much odds move, of 65,536, by how often they were asked.
const STEPS: [i64; 96] = {
    let mut steps = [0; 96];
    let (mut asked, mut share) = (0, 3);
    while asked < steps.len() {
        steps[asked] = 2 * 65_536 / share;
        (asked, share) = (asked + 1, share + 2);
    }
    steps
};

/// The odds move towards what came, the less the oftener they were asked.
fn learn(odds: &mut u32, bit: bool) {
    let (is, asked) = (i64::from(*odds >> 10), (*odds & 1023) as usize);
    let to = if bit { (1 << 22) - 1 } else { 0 };
    let now = is + (((to - is) * STEPS[asked]) >> 16);
    let asked = (asked + 1).min(STEPS.len() - 1);
    *odds = (now as u32) << 10 | asked as u32;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dictionary_comes_back_byte_for_byte_and_is_small() {
        let text = include_str!("../../../vocab/sound/dictionary.txt");
        let packed = pack(text);
        assert!(packed.len() < 277_000, "{} bytes", packed.len());
        assert!(Unpacking::new(&packed).whole() == text);
    }

    #[test]
    fn words_that_share_nothing_or_all_come_back() {
        for text in ["", "a\tx e\n", "a\tx\nab\tab\nabb's\tabz abs\nb\tb\n"] {
            let packed = pack(text);
            let mut unpacking = Unpacking::new(&packed);
            while !unpacking.go_on(1) {}
            assert_eq!(unpacking.whole(), text);
        }
    }
}
