//! Cuts a note into lower-case words with their byte spans.
//!
//! Punctuation is kept as a hint on the word after it, never as a law: recognisers invent it.

mod compose;
mod cut;
#[cfg(any(test, target_family = "wasm"))]
pub(crate) mod fronts;
mod number;
pub(crate) mod said;

use std::borrow::Cow;

#[cfg(target_family = "wasm")]
pub use compose::compose_by;

/// Byte span in the note, end exclusive.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    pub start: u32,
    pub end: u32,
}

impl Span {
    pub fn new(start: usize, end: usize) -> Self {
        Self { start: start as u32, end: end as u32 }
    }

    /// The smallest span that covers both.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    pub fn of(self, text: &str) -> &str {
        &text[self.start as usize..self.end as usize]
    }
}

/// What stood between a word and the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Gap {
    /// Nothing: glued, or a hyphen.
    Glue,
    Space,
    /// A comma, semicolon, colon, bracket or dash.
    Comma,
    /// The end of a sentence, or the start of the note.
    Stop,
}

/// A word of a note.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word<'a> {
    /// Normalised (NFKC) and lower case; curly apostrophes straightened. Most words stand so in the note: borrowed.
    pub text: Cow<'a, str>,
    pub span: Span,
    pub gap: Gap,
    /// Written in capitals: `OH` is off hind, "oh" a nought.
    pub capitals: bool,
}

impl Word<'_> {
    pub fn is_digits(&self) -> bool {
        !self.text.is_empty() && self.text.bytes().all(|b| b.is_ascii_digit())
    }
}

pub use number::atom;

/// Cuts `text` into words. Words with letters and digits are cut apart (`z4`, `75mm`) unless `whole`
/// knows them as they are.
pub fn cut(text: &str, whole: impl Fn(&str) -> bool) -> Vec<Word<'_>> {
    let raw = cut::raw(text);
    let mut words = Vec::with_capacity(raw.len() + raw.len() / 4);
    for raw in raw {
        let said = raw.span.of(text);
        // Most words are small letters, or figures: they are taken as they stand.
        let (mut letters, mut figures, mut other) = (false, false, false);
        for b in said.bytes() {
            letters |= b.is_ascii_lowercase();
            figures |= b.is_ascii_digit();
            other |= !(b.is_ascii_lowercase() || b.is_ascii_digit());
        }
        if !other && letters != figures {
            let text = Cow::Borrowed(with_apostrophe(said));
            words.push(Word { text, capitals: figures, span: raw.span, gap: raw.gap });
            continue;
        }
        let small = letters;
        let capitals = !small && (said.is_ascii() || !said.chars().any(char::is_lowercase));
        let word = Word { text: normal(said), capitals, span: raw.span, gap: raw.gap };
        if word.text.is_empty() {
            continue;
        }
        cut::shorthand(word, text, &whole, &mut words);
    }
    pass_over_the_commas_of_a_list(&mut words);
    join_at_slashes(&mut words);
    words
}

/// "26 slash 3": what was written with the sign and read aloud.
fn join_at_slashes(words: &mut Vec<Word>) {
    let short = |w: &Word| w.is_digits() && w.text.len() <= 2;
    let Some(first) = words.iter().position(|w| w.text == "slash") else { return };
    let mut i = first.saturating_sub(1);
    while let Some([left, slash, right]) = words.get(i..i + 3) {
        let close = slash.gap == Gap::Space && right.gap == Gap::Space;
        if slash.text == "slash" && close && short(left) && short(right) {
            let (text, span) = (format!("{}/{}", left.text, right.text), left.span.to(right.span));
            (words[i].text, words[i].span) = (Cow::Owned(text), span);
            words.drain(i + 1..i + 3);
        }
        i += 1;
    }
}

/// Typed in a hurry without it: `cant`, `shes`; all others stay as they are.
fn with_apostrophe(word: &str) -> &str {
    // Asked of every word.
    if !matches!(word.as_bytes(), [.., b'n', b't'] | [.., b'e' | b't', b's']) {
        return word;
    }
    match word {
        "cant" => "can't",
        "dont" => "don't",
        "didnt" => "didn't",
        "doesnt" => "doesn't",
        "isnt" => "isn't",
        "wasnt" => "wasn't",
        "werent" => "weren't",
        "hasnt" => "hasn't",
        "havent" => "haven't",
        "wont" => "won't",
        "couldnt" | "cldnt" => "couldn't",
        "wouldnt" | "wldnt" => "wouldn't",
        "shouldnt" | "shldnt" => "shouldn't",
        "shes" => "she's",
        "hes" => "he's",
        "thats" => "that's",
        "theres" => "there's",
        _ => word,
    }
}

/// Words of which most have a comma behind them, in hundredths; shorter notes are lists that somebody wrote.
const LISTED: usize = 60;
const FEWEST: usize = 8;

/// `cow, 394, left, hind, outer, ulcer`: a recogniser that puts a comma behind each word says nothing by it. Between
/// two numbers it stays: there may be one number, or two.
fn pass_over_the_commas_of_a_list(words: &mut [Word]) {
    let commas = words.iter().skip(1).filter(|w| w.gap == Gap::Comma).count();
    if words.len() < FEWEST || commas * 100 < LISTED * words.len() {
        return;
    }
    for i in 1..words.len() {
        if words[i].gap == Gap::Comma && !(words[i - 1].is_digits() && words[i].is_digits()) {
            words[i].gap = Gap::Space;
        }
    }
}

/// NFKC, lower case, straight apostrophes, no dots inside abbreviations ("n.a.d." is "nad").
fn normal(raw: &str) -> Cow<'_, str> {
    if raw.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()) {
        return Cow::Borrowed(raw);
    }
    let straight = |c: char| match c {
        '\u{2019}' | '\u{2018}' | '`' | '\u{b4}' => '\'',
        '\u{2044}' => '/',
        c => c,
    };
    let mut text: String = if raw.is_ascii() {
        // What NFKC leaves as it is.
        raw.chars().map(|c| straight(c.to_ascii_lowercase())).collect()
    } else {
        compose::composed(raw).chars().flat_map(char::to_lowercase).map(straight).collect()
    };
    if text.contains('.') && !text.bytes().any(|b| b.is_ascii_digit()) {
        text.retain(|c| c != '.');
    }
    Cow::Owned(text)
}

/// The letters right before a place in the text, at most so many bytes of them: what is looked for close by must not be
/// looked for in a whole book.
pub(crate) fn before(text: &str, at: usize, most: usize) -> &str {
    let at = at.min(text.len());
    let from = (at.saturating_sub(most)..=at).find(|i| text.is_char_boundary(*i)).unwrap_or(at);
    text.get(from..at).unwrap_or_default()
}

/// The letters right behind a place, at most so many bytes of them.
pub(crate) fn behind(text: &str, at: usize, most: usize) -> &str {
    let to = (at.saturating_add(most).min(text.len())..=text.len()).find(|i| text.is_char_boundary(*i));
    text.get(at..to.unwrap_or(text.len())).unwrap_or_default()
}

/// The last word before a place in the text, without capitals.
pub(crate) fn word_before(text: &str, at: usize) -> String {
    let before = text.get(..at).unwrap_or_default().trim_end();
    before.rsplit(' ').next().unwrap_or_default().to_lowercase()
}

/// What follows these words at the start of a text, in capitals or not.
pub(crate) fn without<'a>(text: &'a str, words: &str) -> Option<&'a str> {
    let (said, rest) = text.split_at_checked(words.len())?;
    said.eq_ignore_ascii_case(words).then_some(rest)
}

/// Whether a text begins with these words, in capitals or not, and with no longer one: " one", but not " onemore".
pub(crate) fn begins(text: &str, words: &str) -> bool {
    without(text, words).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
}

/// "… I didn't look at", "… she wouldn't let me near", "… weren't lifted": words right behind a place that say that nobody
/// looked at it. (Not "warts left hind and right hind I didn't wrap", "… she kicked".)
pub(crate) fn was_not_looked_at(behind: &str) -> bool {
    const LOOKED: [&str; 16] = [
        "look", "looked", "check", "checked", "lift", "lifted", "get", "got", "do", "done", "touch", "touched", "see",
        "seen", "pick", "picked",
    ];
    let part = behind.split([',', '.', ';', ':']).next().unwrap_or_default().to_lowercase();
    let words: Vec<&str> = part.split_whitespace().collect();
    let looked = |w: &str| LOOKED.contains(&w);
    behind.starts_with(' ')
        && match words[..] {
            ["i" | "we", "didn't" | "couldn't" | "haven't" | "never", verb, ..] => looked(verb),
            ["i" | "we", "did" | "could" | "have", "not", verb, ..] => looked(verb),
            ["wasn't" | "weren't", verb, ..] => looked(verb),
            ["i" | "we", "left", "alone" | "be", ..] | ["she", "wouldn't" | "won't", "let", ..] => true,
            // "the hinds were done a month ago"
            ["was" | "were", "done" | "trimmed" | "cut", .., "ago"] => true,
            ["i'll" | "we'll", "leave" | "do" | "look", ..] | ["not", "lifted" | "touched" | "checked", ..] => true,
            _ => false,
        }
}

/// Whether a text ends with these words, in capitals or not.
pub(crate) fn ends_with(text: &str, words: &str) -> bool {
    let from = text.len().checked_sub(words.len());
    from.is_some_and(|from| text.as_bytes()[from..].eq_ignore_ascii_case(words.as_bytes()))
}
