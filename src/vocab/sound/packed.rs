//! The pronouncing dictionary for the browser: 2 MB as 302 kB, unpacked to the very same text.
//!
//! Binary arithmetic coding with adaptive odds (Howard and Vitter 1994 is an introduction). Words share their front
//! with the word before, letters are foretold by the two before them, sounds by those of the word before as far as
//! the words are one, else by the letters about where they stand and by the sound before. One walk, [`Walk::line`], does both ways: a [`Coder`] either writes the bit that it is
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

/// Odds are found by a hash of what is known; two that share a place cost a little size.
const PLACES: usize = 1 << 21;

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
    /// The word of the line before, and how it is said.
    before: Vec<u8>,
    said_before: Vec<u8>,
}

impl<C: Coder> Walk<C> {
    fn new(coder: C) -> Self {
        Self { coder, odds: vec![1 << 31; PLACES], before: vec![], said_before: vec![] }
    }

    /// A line after the one before it; of what is unpacked, `line` is empty.
    fn line(&mut self, line: &Line) -> Line {
        let before = std::mem::take(&mut self.before);
        let shared = line.word.iter().zip(&before).take_while(|(a, b)| a == b).count();
        let dropped = self.symbol(Of::Dropped, before.len() as u32, 5, (before.len() - shared) as u32);
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
            match self.symbol(Of::Letter, known, 5, wanted) {
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
        let count = 1 + self.symbol(Of::Ways, 0, 1, wanted.len().saturating_sub(1) as u32);
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
                self.symbol(Of::SoundAsBefore, known, 6, wanted)
            } else {
                let letters = (letter(about.checked_sub(1)) << 5 | here) << 5 | letter(Some(about + 1));
                let said = way.last().map_or(63, |s| u32::from(*s));
                self.symbol(Of::Sound, letters << 6 | said, 6, wanted)
            };
            way.push(sound as u8);
        }
        way
    }

    /// A number of so many bits, foretold by what is `known`.
    fn symbol(&mut self, of: Of, known: u32, bits: u32, wanted: u32) -> u32 {
        let known = (u64::from(known) << 3 | of as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        let mut node = 1_u32;
        let (mut group, mut inner) = (0, 1);
        for i in (0..bits).rev() {
            // Three bits at a time stand side by side, which spares the processor's cache.
            if (bits - 1 - i).is_multiple_of(3) {
                let place =
                    (known ^ u64::from(node).wrapping_mul(0xD6E8_FEB8_6659_FD93)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
                (group, inner) = ((place >> 43) as usize & !7, 1);
            }
            let odds = &mut self.odds[group | inner];
            let bit = self.coder.bit((*odds >> 16).clamp(24, 65_512), wanted >> i & 1 == 1);
            learn(odds, bit);
            node = node << 1 | u32::from(bit);
            inner = inner << 1 | usize::from(bit);
        }
        node - (1 << bits)
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
        assert!(packed.len() < 303_000, "{} bytes", packed.len());
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
