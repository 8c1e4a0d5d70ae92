//! One line by itself: what kind it is, what was mended in it, and which of its words nobody knows.

use std::collections::HashMap;
use std::ops::Range;

use super::ditto;
use super::heading::{self, Heading, Standing};
use super::rewrite::Rewrite;
use super::roles::{Role, Roles};
use super::slips;
use super::sort::{self, Why};
use super::tag::{self, Tag};
use super::text::{BadLine, Line};
use crate::flag::{Flag, FlagKind, Level};
use crate::matches::Context;
use crate::read::Reader;
use crate::vocab::{Kind, Meaning, Vocabulary};

/// A line, looked at by itself.
#[derive(Clone, Debug)]
pub struct Prepared {
    pub number: usize,
    /// As it stands, without blanks around it.
    pub text: String,
    pub is: Is,
}

/// What a line is.
#[derive(Clone, Debug)]
pub enum Is {
    /// Empty, or a rule drawn across.
    Blank,
    Bad(BadLine),
    Heading(Heading),
    /// Perhaps a heading, else a line of that kind: the whole file tells.
    Perhaps(Heading, Why),
    Note(Box<NoteLine>),
    Other(Why),
}

/// A hoof note, ready to be read.
#[derive(Clone, Debug)]
pub struct NoteLine {
    pub(super) cow: Cow,
    /// The last cow in the line, where it goes on to others behind semicolons.
    pub(super) last_cow: Option<String>,
    /// What is said of her; ditto marks still stand.
    pub(super) body: Rewrite,
    pub(super) ditto: bool,
    /// A foot, a zone or a severity is named.
    pub(super) place: bool,
    /// Flags of what was mended; places are in the line.
    pub(super) flags: Vec<Flag>,
    /// Shorthand that the vocabulary does not have.
    pub unknown: Vec<String>,
}

/// The line with blanks for what stands between two pairs of `~~`, as long as it was, and where that is.
fn struck_out(line: &str) -> (String, Vec<Range<usize>>) {
    const MARK: &str = "~~";
    let marks: Vec<usize> = line.match_indices(MARK).map(|(at, _)| at).collect();
    let mut struck: Vec<Range<usize>> = marks.chunks_exact(2).map(|pair| pair[0]..pair[1] + MARK.len()).collect();
    // `[crossed out] 25 LR DD`, `xxx 215 LHO SU xxx`: told in words.
    if is_crossed_out(line) {
        struck = std::iter::once(0..line.len()).collect();
    }
    let mut text = line.to_owned();
    for at in &struck {
        text.replace_range(at.clone(), &" ".repeat(at.len()));
    }
    (text, struck)
}

/// Asked of every line, of which few have such words: they are looked for without a copy.
fn is_crossed_out(line: &str) -> bool {
    let is = |part: Option<&str>, sign: &str| part.is_some_and(|p| p.eq_ignore_ascii_case(sign));
    let said = |words: &str| line.as_bytes().windows(words.len()).any(|w| w.eq_ignore_ascii_case(words.as_bytes()));
    let within = |begins: &str, ends: &str| {
        line.len() > begins.len() + ends.len()
            && is(line.get(..begins.len()), begins)
            && is(line.get(line.len() - ends.len()..), ends)
    };
    said("crossed out") || said("struck out") || within("xxx", "xxx") || within("xx ", " xx")
}

/// Whether a line may go on with the one above: it is indented, or begins with a dash, or "and".
fn is_continued(line: &str) -> bool {
    let text = line.trim_start();
    let indented = line.len() >= text.len() + 2 || line.starts_with('\t');
    let dash = ["- ", "\u{2013} ", "+ ", "& ", "and "].iter().any(|b| text.starts_with(b));
    indented && text.starts_with(|c: char| !c.is_ascii_digit()) || dash
}

/// Which cow a line is of.
#[derive(Clone, Debug)]
pub(super) enum Cow {
    None,
    /// Numbers in a list: `12, 13 & 14 ok`.
    Tags(Vec<(String, Range<usize>)>),
    /// A ditto mark in her place.
    Ditto(Range<usize>),
}

/// What lines are looked at with.
#[derive(Debug)]
pub struct Looker<'a> {
    pub(super) reader: &'a Reader,
    pub(super) flat: Context,
    /// What shorthand was answered to mean, in the trade's words; empty for nothing.
    words: HashMap<String, String>,
}

impl<'a> Looker<'a> {
    /// `words` are shorthand and what it means.
    pub fn new(reader: &'a Reader, words: HashMap<String, String>) -> Self {
        let words = words.into_iter().map(|(k, v)| (k.to_lowercase(), v)).collect();
        Self { reader, flat: Context::flat(), words }
    }

    fn vocab(&self) -> &Vocabulary {
        self.reader.vocabulary()
    }

    fn roles(&self, text: &str) -> Roles {
        Roles::of(text, self.vocab(), &self.flat)
    }

    /// Looks at a line.
    pub fn look(&self, line: Line) -> Prepared {
        let number = line.number;
        match line.text {
            Ok(text) => {
                let continued = is_continued(&text);
                let text = text.trim().to_owned();
                let is = self.is(&text, continued);
                Prepared { number, text, is }
            }
            Err(bad) => Prepared { number, text: String::new(), is: Is::Bad(bad) },
        }
    }

    /// What is struck through (`~~101~~ 110 …`) is not read, and told.
    fn is(&self, line: &str, continued: bool) -> Is {
        let (text, struck) = struck_out(line);
        if struck.is_empty() {
            return self.sorted(line, continued);
        }
        if !text.chars().any(char::is_alphanumeric) {
            return Is::Other(Why::Struck);
        }
        let mut is = self.sorted(&text, continued);
        if let Is::Note(note) = &mut is {
            note.flags.extend(struck.into_iter().map(|at| {
                let told = format!("struck out, and not read: `{}`", line[at.clone()].trim_matches('~'));
                Flag { at: Some([at.start, at.end]), ..Flag::note(FlagKind::Unread, "said", told) }
            }));
        }
        is
    }

    /// `continued`: it may go on with the line above.
    fn sorted(&self, text: &str, continued: bool) -> Is {
        if !text.chars().any(char::is_alphanumeric) && !text.contains('\u{2713}') {
            return Is::Blank;
        }
        let heading = heading::heading(text, || self.roles(text));
        let (sure, perhaps) = match heading {
            Some(h) if h.standing == Standing::Sure => (Some(h), None),
            perhaps => (None, perhaps),
        };
        if let Some(heading) = sure {
            return Is::Heading(heading);
        }
        if let Some(rest) = heading::page_mark(text)
            && rest.is_empty()
        {
            return Is::Other(Why::Page);
        }
        let known = |w: &str| self.vocab().knows(&w.to_lowercase()) || shorthand_with_number(w, self);
        let tag = tag::leading(text, self.reader.roster(), known);
        let trade = |text: &str| self.roles(text).starts_with_trade();
        let marks = ditto::marks(text, false, trade);
        let leading = marks.first().filter(|m| m.start == 0 && tag.is_none());
        let start = tag.as_ref().map_or_else(|| leading.map_or(0, |m| m.end), |t| t.at.end);
        let roles = self.roles(&text[start..]);
        let own_marks = marks.iter().any(|m| m.start >= start)
            || tag.is_some() && !ditto::marks(&text[start..], true, trade).is_empty();
        // `    wrp w/ copper sulfate, RC 4 wks`: of the cow in the line above.
        let goes_on = continued && tag.is_none() && leading.is_none() && perhaps.is_none() && roles.record();
        if goes_on {
            return Is::Note(Box::new(self.note(text, start, None, Some(0..0), own_marks, &roles)));
        }
        let why = sort::sort(text, tag.as_ref(), &roles, leading.is_some());
        match why {
            Some(why) if !(own_marks && tag.is_some() && why != Why::Sum) => match perhaps {
                Some(heading) if why != Why::Sum => Is::Perhaps(heading, why),
                _ => Is::Other(why),
            },
            _ => Is::Note(Box::new(self.note(text, start, tag, leading.cloned(), own_marks, &roles))),
        }
    }

    fn note(
        &self,
        text: &str,
        start: usize,
        tag: Option<Tag>,
        leading: Option<Range<usize>>,
        ditto: bool,
        roles: &Roles,
    ) -> NoteLine {
        let mut flags = Vec::new();
        let mut start = start;
        let cow = match (tag, leading) {
            (Some(tag), _) => {
                if let Some(written) = &tag.mended {
                    flags.push(tag_flag(&tag, written));
                }
                let mut tags = vec![(tag.number.clone(), tag.at.clone())];
                start = more_tags(text, start, &mut tags);
                Cow::Tags(tags)
            }
            (None, Some(mark)) => Cow::Ditto(mark),
            (None, None) => Cow::None,
        };
        let rest = &text[start..];
        let skipped = rest.len()
            - rest
                .trim_start_matches(|c: char| {
                    c.is_whitespace() || ":.-\u{2013}\u{2014},;)=>|".contains(c) && !ditto_at(rest, c)
                })
                .len();
        let start = start + if matches!(cow, Cow::None) { 0 } else { skipped };
        let mut body = Rewrite::copy(&text[start..], start);
        let mut last_cow = None;
        if let Cow::Tags(tags) = &cow {
            let more = self.more_cows(&body.text, tags[0].0.len());
            last_cow = more.last().map(|at| body.text[at.clone()].to_owned());
            let edits: Vec<_> = more.into_iter().map(|at| (at.clone(), format!("cow {}", &body.text[at]))).collect();
            if !edits.is_empty() {
                body = body.with(&edits);
            }
        }
        let mut unknown = Vec::new();
        let edits = self.mend(&body.text, start, roles, &mut flags, &mut unknown);
        let place = roles.has(Role::Foot) || roles.has(Role::Detail);
        let body = if edits.is_empty() { body } else { body.with(&edits) };
        NoteLine { cow, last_cow, body, ditto, place, flags, unknown }
    }

    /// `54 OK; 55 LH ID mild`: the numbers at the start of the parts that semicolons make, where what follows is said of
    /// a cow. `size` is how many digits the line's first number has.
    fn more_cows(&self, body: &str, size: usize) -> Vec<Range<usize>> {
        let mut out = Vec::new();
        for (semicolon, _) in body.match_indices(';') {
            let part = body[semicolon + 1..].trim_start();
            let digits = part.bytes().take_while(u8::is_ascii_digit).count();
            let rest = part[digits..].trim_start();
            let apart = part[digits..].starts_with(char::is_whitespace);
            let of_her = || {
                let roles = self.roles(rest);
                let first = roles.toks.first().map(|t| t.1);
                matches!(first, Some(Role::Foot | Role::What | Role::Clear | Role::Score))
                    || rest.split_whitespace().next().is_some_and(ditto::is_mark)
            };
            if digits > 0 && digits.abs_diff(size) <= 1 && apart && of_her() {
                let from = body.len() - part.len();
                out.push(from..from + digits);
            }
        }
        out
    }

    /// Mends fractions and slips, and takes out shorthand that nobody knows; that is asked.
    fn mend(
        &self,
        body: &str,
        offset: usize,
        roles: &Roles,
        flags: &mut Vec<Flag>,
        unknown: &mut Vec<String>,
    ) -> Vec<(Range<usize>, String)> {
        let mut edits = Vec::new();
        let record = roles.record();
        let mut at = 0;
        for word in body.split_inclusive(|c: char| c.is_whitespace() || ",;:()".contains(c)) {
            let from = at;
            at += word.len();
            let bare =
                word.trim_end_matches(|c: char| c.is_whitespace() || ",;:().!".contains(c)).trim_start_matches('(');
            let lead = word.find(bare).unwrap_or(0);
            let range = from + lead..from + lead + bare.len();
            if bare.is_empty() {
                continue;
            }
            // `6/52` with nothing that says what is due then.
            if let Some(span) = period(bare).filter(|_| !due_before(roles, from)) {
                flags.push(Flag {
                    at: Some([range.start + offset, range.end + offset]),
                    ..Flag::ask(FlagKind::DateOpen, PERIOD, format!("`{span}`: to be seen again then?"))
                });
                edits.push((range, format!(", recheck {bare}")));
                continue;
            }
            if let Some(mended) = fraction(bare) {
                edits.push((range, mended));
                continue;
            }
            // `3"` is three inches.
            if let Some(inches) = bare
                .strip_suffix('"')
                .filter(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit() || b == b'.') && record)
            {
                edits.push((range, format!("{inches} inch")));
                continue;
            }
            // `?WL` is an unsure `WL`; `?XY` is shorthand that its writer may have forgotten.
            if let Some(known) = bare
                .strip_prefix('?')
                .filter(|k| self.vocab().knows(&k.to_lowercase()) && !self.words.contains_key(&k.to_lowercase()))
            {
                let unsure = self.roles(known).has(Role::What);
                edits.push((range, if unsure { format!("possible {known}") } else { known.to_owned() }));
                continue;
            }
            let asked = bare.starts_with('?') && bare.len() > 1;
            let bare = bare.trim_start_matches('?');
            let plain = bare.trim_end_matches('?');
            if plain.is_empty()
                || !plain.chars().all(|c| c.is_alphanumeric() || c == '|' || c == '/')
                || plain.bytes().all(|b| b.is_ascii_digit())
            {
                continue;
            }
            let range = range.end - bare.len()..range.end - (bare.len() - plain.len());
            let lower = plain.to_lowercase();
            if let Some(meant) = self.words.get(&lower) {
                let whole = if asked { range.start - 1..range.end } else { range };
                edits.push((whole, meant.clone()));
                continue;
            }
            if self.vocab().knows(&lower) && !asked {
                continue;
            }
            let own = self.roles(plain);
            let read = own.toks.iter().all(|t| t.1 != Role::Unread);
            let loose = own
                .toks
                .windows(2)
                .any(|t| t[1].1 == Role::Number && matches!(t[0].1, Role::Foot | Role::Claw | Role::Deed | Role::Talk));
            if read && !loose && !asked {
                continue;
            }
            let span = [range.start + offset, range.end + offset];
            if !asked && let Some(mended) = self.slip(plain) {
                flags.push(Flag {
                    at: Some(span),
                    ..Flag::note(FlagKind::Misheard, "said", format!("`{plain}` was taken for `{mended}`"))
                });
                edits.push((range, mended));
                continue;
            }
            if read && !asked {
                continue;
            }
            // Longer words may be near others in sound; what is short is asked, not guessed at.
            if is_shorthand(plain) || asked || (record && plain.len() <= 4) {
                unknown.push(plain.to_owned());
                flags.push(Flag {
                    at: Some(span),
                    ..Flag::ask(FlagKind::Unread, UNKNOWN, format!("`{plain}` {UNKNOWN_TOLD}"))
                });
                let whole = if asked { range.start - 1..range.end } else { range };
                edits.push((whole, String::new()));
            }
        }
        edits
    }

    /// The one written form of the trade that a word is by one or two slips, or by one letter.
    fn slip(&self, word: &str) -> Option<String> {
        if let Some(mended) = number_slip(word) {
            let roles = self.roles(&mended);
            if roles.toks.len() == 2
                && roles.toks[1].1 == Role::Number
                && matches!(roles.toks[0].1, Role::Detail | Role::Score)
            {
                return Some(mended);
            }
        }
        let trade = |w: &str| {
            let roles = self.roles(w);
            match roles.toks.as_slice() {
                [one] if !matches!(one.1, Role::Unread | Role::Talk | Role::Number | Role::Cow) => one.0.meaning,
                _ => None,
            }
        };
        let mut found: Vec<(String, _)> =
            slips::variants(word).into_iter().filter_map(|v| trade(&v).map(|m| (v, m))).collect();
        found.dedup_by(|a, b| a.1 == b.1);
        match found.len() {
            0 => {}
            1 => return found.pop().map(|f| f.0),
            _ => return None,
        }
        // One letter more, less or other, in a longer word; never one that names a foot or a claw.
        let lower = word.to_lowercase();
        if lower.len() < 5 || !lower.bytes().all(|b| b.is_ascii_lowercase()) {
            return None;
        }
        let mut near: Vec<(&str, _)> = Vec::new();
        for form in self.vocab().forms() {
            let single = !form.text.contains(' ') && form.text.len() >= 5 && form.text.len().abs_diff(lower.len()) <= 1;
            if single && strsim::osa_distance(&form.text, &lower) == 1 && near.iter().all(|n| n.1 != form.meaning) {
                near.push((&form.text, form.meaning));
            }
        }
        let [(one, _)] = near.as_slice() else { return None };
        let roles = self.roles(one);
        let fits = matches!(roles.toks.as_slice(), [t] if matches!(t.1, Role::What | Role::Deed | Role::Clear));
        fits.then(|| (*one).to_owned())
    }
}

/// The field of a flag about shorthand that nobody knows, until the entry is there.
pub(super) const UNKNOWN: &str = "unknown";

/// What such a flag says of the word.
const UNKNOWN_TOLD: &str = "is not in the vocabulary";

/// The word that a flag is about, where nobody knows it: it is asked once for the whole file.
pub fn unknown_word(flag: &Flag) -> Option<&str> {
    let word = flag.message.strip_suffix(UNKNOWN_TOLD)?.trim_end();
    word.strip_prefix('`')?.strip_suffix('`').filter(|_| flag.kind == FlagKind::Unread)
}

/// The field of a flag about a time that may be when she is seen again.
pub(super) const PERIOD: &str = "period";

/// `6/52`, `3/12`, `10/7`: so many weeks, months, days.
fn period(word: &str) -> Option<&str> {
    let (n, of) = word.split_once('/')?;
    (n.len() <= 2 && n.parse::<u8>().is_ok_and(|n| n > 0) && matches!(of, "52" | "12" | "7")).then_some(word)
}

/// Whether something before that place says what is due, or the time is one of something.
fn due_before(roles: &Roles, at: usize) -> bool {
    roles.toks.iter().take_while(|t| (t.0.span.start as usize) < at).any(|t| {
        t.1 == Role::Due
            || matches!(
                t.0.meaning.map(Meaning::kind),
                Some(Kind::Off | Kind::Remove | Kind::Lost | Kind::In | Kind::Day)
            )
    })
}

fn tag_flag(tag: &Tag, written: &str) -> Flag {
    let told = format!("`{written}` was taken for cow {}", tag.number);
    let at = Some([tag.at.start, tag.at.end]);
    let level = if tag.doubtful { Level::Ask } else { Level::Note };
    let mut flag = Flag { level, at, ..Flag::note(FlagKind::CowDoubtful, "cow", told) };
    if tag.doubtful {
        flag.options = vec![tag.number.clone().into(), written.to_uppercase().into()];
    }
    flag
}

/// `12, 13 & 14 ok`: adds the numbers of a list, and gives where what is said of them begins.
fn more_tags(text: &str, start: usize, tags: &mut Vec<(String, Range<usize>)>) -> usize {
    let size = tags[0].0.len();
    let mut at = start;
    let mut found = Vec::new();
    loop {
        let rest = &text[at..];
        let trimmed = rest.trim_start();
        let sign = ["and ", "&", "+", ","].iter().find(|s| trimmed.starts_with(**s));
        let Some(sign) = sign else { break };
        let from = at + (rest.len() - trimmed.len()) + sign.len();
        let number = text[from..].trim_start().trim_start_matches('#');
        let from = text.len() - number.len();
        let digits = number.bytes().take_while(u8::is_ascii_digit).count();
        let ends = number[digits..].starts_with(|c: char| c.is_whitespace() || ",&+:".contains(c));
        if digits < 2 || digits.abs_diff(size) > 1 || !ends {
            break;
        }
        found.push((number[..digits].to_owned(), from..from + digits));
        at = from + digits;
    }
    if found.is_empty() {
        return row_of_tags(text, start, tags);
    }
    tags.append(&mut found);
    at
}

/// `34 35 38 40 all clean`: numbers of one length that rise, side by side; of two figures there are three or more.
fn row_of_tags(text: &str, start: usize, tags: &mut Vec<(String, Range<usize>)>) -> usize {
    let size = tags[0].0.len();
    let mut at = start;
    let mut found: Vec<(String, Range<usize>)> = Vec::new();
    while let Some(number) = text[at..].strip_prefix(' ') {
        let digits = number.bytes().take_while(u8::is_ascii_digit).count();
        let before = found.last().map_or(tags[0].0.as_str(), |t| t.0.as_str());
        if digits != size || !number[digits..].starts_with([' ', ',']) || number[..digits] <= *before {
            break;
        }
        found.push((number[..digits].to_owned(), at + 1..at + 1 + digits));
        at += 1 + digits;
    }
    let word = text[at..].trim_start_matches([' ', ',', '-']).starts_with(char::is_alphabetic);
    if size < 2 || found.len() < if size == 2 { 2 } else { 1 } || !word {
        return start;
    }
    tags.append(&mut found);
    at
}

fn ditto_at(rest: &str, c: char) -> bool {
    c == '-'
        && rest.trim_start().starts_with(['-'])
        && ditto::is_mark(rest.split_whitespace().next().unwrap_or_default())
        || c == ',' && rest.trim_start().starts_with(",,")
}

/// `3½` is 3.5.
fn fraction(word: &str) -> Option<String> {
    let last = word.char_indices().find(|(_, c)| matches!(c, '\u{bd}' | '\u{bc}' | '\u{be}'))?;
    let part = match last.1 {
        '\u{bd}' => "5",
        '\u{bc}' => "25",
        _ => "75",
    };
    let whole = &word[..last.0];
    let after = &word[last.0 + last.1.len_utf8()..];
    let digits = whole.len() - whole.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let zero = if digits == 0 { "0" } else { "" };
    Some(format!("{whole}{zero}.{part}{after}"))
}

/// `zS`: a number is expected after the letters.
fn number_slip(word: &str) -> Option<String> {
    let last = word.chars().last()?;
    let digit = slips::digit(last).filter(|_| !last.is_ascii_digit())?;
    let head = &word[..word.len() - last.len_utf8()];
    matches!(head.to_lowercase().as_str(), "z" | "zn" | "m" | "ls" | "ms" | "gr" | "g" | "x" | "wl")
        .then(|| format!("{head}{digit}"))
}

/// Short, and written as shorthand is: in capitals, or without a vowel.
fn is_shorthand(word: &str) -> bool {
    let letters = word.chars().filter(|c| c.is_alphabetic()).count();
    let capitals = word.chars().all(|c| !c.is_lowercase());
    let vowels = word.to_lowercase().contains(['a', 'e', 'i', 'o', 'u', 'y']);
    (2..=4).contains(&word.chars().count()) && letters >= 2 && (capitals || !vowels)
}

/// `z4`, `M2`, `x2`: letters of the trade with a number.
fn shorthand_with_number(word: &str, looker: &Looker) -> bool {
    let roles = looker.roles(word);
    matches!(roles.toks.as_slice(), [a, b] if matches!(a.1, Role::Detail | Role::Score | Role::What | Role::Foot) && b.1 == Role::Number)
        || matches!(roles.toks.as_slice(), [a, b] if a.1 == Role::Number && b.0.span.end - b.0.span.start > 1 && b.1 != Role::Unread)
        || matches!(roles.toks.as_slice(), [a] if !matches!(a.1, Role::Unread | Role::Number))
}
