//! From words to the terms they most likely are: every stretch of the note that could be a term is an
//! edge with a cost, and the cheapest way through the whole note wins.

mod context;
mod everyday;
mod exact;
mod knife;
mod near;
mod path;
mod state;
mod tuning;
mod typo;
mod ways;

use std::sync::OnceLock;

use crate::vocab::sound::{Phone, Sounds, pronounce};
use crate::vocab::{Kind, Meaning, Period, Style, Vocabulary};
use crate::words::said::UNITS;
use crate::words::{Gap, Span, Word};

pub use context::{Context, count};
pub use everyday::{FAR, Nearness};
pub(crate) use exact::HEARD_AS_CUE;
pub(crate) use path::{Lattice, best};
pub use tuning::Tuning;
pub use typo::mend;
pub(crate) use ways::Ways;

/// A stretch of the note taken as one term; `meaning` is `None` for a word nobody knows.
#[derive(Clone, Debug, PartialEq)]
pub struct Tok {
    pub meaning: Option<Meaning>,
    pub span: Span,
    pub gap: Gap,
    /// How it was matched, and the form it was matched to.
    pub how: How,
    /// The form, an index into [`Vocabulary::forms`]; none for digits and unknown words.
    pub form: Option<u32>,
}

impl Tok {
    /// "weeks", and no "week", of a word for a time.
    pub(crate) fn is_plural(&self) -> bool {
        self.beyond("s")
    }

    /// "week", and no "weeks".
    pub(crate) fn is_singular(&self) -> bool {
        self.beyond("")
    }

    fn beyond(&self, ending: &str) -> bool {
        let singular = match self.meaning {
            Some(Meaning::Period(Period::Day)) => "day",
            Some(Meaning::Period(Period::Week)) => "week",
            Some(Meaning::Period(Period::Month)) => "month",
            _ => return false,
        };
        (self.span.end - self.span.start) as usize == singular.len() + ending.len()
    }
}

/// How a stretch was matched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Word for word, or a written number.
    Exact(Style),
    /// Near in letters or in sound: cost in hundredths of a phone, and the phones it covers.
    Near {
        cost: u16,
        phones: u16,
        /// What was heard are words of the dictionary, which people may well have said.
        known: bool,
    },
    Unread,
}

/// One way a stretch between two positions could be read.
#[derive(Clone, Debug)]
pub(crate) struct Edge {
    pub(crate) from: u16,
    pub(crate) to: u16,
    pub(crate) cost: u32,
    /// Kinds it must follow, as bits; 0 is any.
    pub(crate) after: u64,
    pub(crate) kind: Kind,
    pub(crate) tok: Tok,
}

/// A reading of a note: matches in order, and how much dearer it is than the best.
#[derive(Clone, Debug)]
pub struct Path {
    pub toks: Vec<Tok>,
    pub behind: u32,
}

/// The best reading of a note by sound, and the runners-up.
#[derive(Clone, Debug)]
pub struct Ranked {
    pub best: Vec<Tok>,
    /// Its price, and how many sounds it leaves unread.
    pub cost: u32,
    pub unread: usize,
    /// Readings within the margin that differ from the best, nearest first.
    pub rivals: Vec<Path>,
    /// For each dear correction in the best, where it is and the reading without it; no place where several were left out.
    pub without: Vec<(Option<Span>, Vec<Tok>)>,
}

/// Whether the words were all heard plainly: only terms and common everyday words, each where its kind stands.
pub fn is_plain(toks: &[Tok], vocab: &Vocabulary) -> bool {
    // "locomotion to", "zone for", "ulcer for block": where a number is due, what sounds like one is listened to.
    let like_number = |t: &Tok| {
        matches!(t.meaning, Some(Meaning::Filler | Meaning::In))
            && t.form.is_some_and(|f| sounds_like_number(&vocab.forms()[f as usize].text))
    };
    let number_due = |i: usize| match toks[i].meaning {
        Some(Meaning::Scale(_) | Meaning::ScoreCue | Meaning::ZoneCue | Meaning::GradeCue | Meaning::StageCue) => {
            toks.get(i + 1).is_some_and(like_number)
        }
        // "cow to 15", two fifteen
        Some(Meaning::CowCue | Meaning::NumberCue) => {
            toks.get(i + 1).is_some_and(like_number)
                && toks.get(i + 2).is_some_and(|t| matches!(t.meaning, Some(Meaning::Number(_))) && t.gap <= Gap::Space)
        }
        // "left time", left hind
        Some(Meaning::Side(_)) => toks.get(i + 1).is_some_and(|t| {
            t.gap <= Gap::Space
                && t.form.is_some_and(|f| ["time", "times"].contains(&vocab.forms()[f as usize].text.as_str()))
        }),
        // "recheck for weeks"
        Some(Meaning::Recheck | Meaning::Look) => {
            toks.get(i + 1).is_some_and(like_number)
                && toks.get(i + 2).is_some_and(|t| matches!(t.meaning, Some(Meaning::Period(_))) && t.is_plural())
        }
        Some(Meaning::Disorder(_) | Meaning::Vague(_)) => {
            toks.get(i + 1).is_some_and(like_number)
                && toks.get(i + 2).is_some_and(|t| t.meaning.is_some_and(|m| m.kind() == Kind::Block))
        }
        _ => false,
    };
    let heard = &toks[..free_words(toks)];
    !(0..toks.len()).any(number_due)
        && heard.iter().enumerate().all(|(i, t)| match (t.meaning, t.form) {
            (None, _) => false,
            (_, Some(form)) => {
                let form = &vocab.forms()[form as usize];
                !form.dear
                    || form.lead && leads_to(&heard[i + 1..]).is_some_and(|t| is_led_to(t, vocab))
                    // "also right rear outer" may well have been "ulcer".
                    || form.text == "also"
                        && leads_to(&heard[i + 1..]).is_some_and(|t| !is_foot(t) && is_led_to(t, vocab))
            }
            _ => true,
        })
}

/// "block on the inside then the right rear", "outer, also a wart": what comes next, with no pause.
fn leads_to(behind: &[Tok]) -> Option<&Tok> {
    behind.iter().take_while(|t| t.gap <= Gap::Space).find(|t| t.meaning != Some(Meaning::Filler))
}

fn is_foot(tok: &Tok) -> bool {
    tok.meaning.is_some_and(|m| m.kind() == Kind::Foot)
}

/// Whether it is a foot or a lesion. (Not "then digital dermatitis", which was interdigital.)
fn is_led_to(next: &Tok, vocab: &Vocabulary) -> bool {
    let said = next.form.map_or("", |f| &vocab.forms()[f as usize].text);
    match next.meaning.map(Meaning::kind) {
        _ if is_foot(next) => true,
        Some(Kind::Disorder | Kind::Vague) => !said.starts_with("digital"),
        _ => false,
    }
}

/// Where words begin that are kept as they stand: after "note" or "tell the owner", with no term of the trade to come.
fn free_words(toks: &[Tok]) -> usize {
    let cue = |t: &Tok| matches!(t.meaning, Some(Meaning::RemarkCue | Meaning::TellCue));
    let free = |t: &Tok| matches!(t.meaning, None | Some(Meaning::Filler)) || cue(t);
    let begins = toks.iter().rposition(|t| !free(t)).map_or(0, |last| last + 1);
    toks[begins..].iter().position(cue).map_or(toks.len(), |cue| begins + cue)
}

/// Whether a word has the sound of a number below ten.
fn sounds_like_number(word: &str) -> bool {
    static NUMBERS: OnceLock<Vec<Vec<Phone>>> = OnceLock::new();
    let numbers = NUMBERS.get_or_init(|| UNITS.iter().map(|n| pronounce(n).remove(0)).collect());
    pronounce(word).first().is_some_and(|said| numbers.contains(said))
}

/// Talk, as far as it was heard plainly: no cow, no number, no foot or claw, at most two words of the trade,
/// and words that notes do not hold.
pub fn is_talk(toks: &[Tok], vocab: &Vocabulary) -> bool {
    let mut terms = 0;
    for tok in toks {
        match tok.meaning.map(Meaning::kind) {
            Some(Kind::End) if tok.meaning == Some(Meaning::FootNoun) => {}
            Some(
                Kind::Cow
                | Kind::NumberCue
                | Kind::Number
                | Kind::Foot
                | Kind::Side
                | Kind::End
                | Kind::Group
                | Kind::Claw
                | Kind::Zone,
            ) => return false,
            None | Some(Kind::Filler | Kind::In | Kind::And | Kind::Only) => {}
            Some(_) => terms += 1,
        }
    }
    terms <= 2 && toks.iter().any(|t| t.meaning.is_none() || of_talk(t, vocab))
}

/// Whether a word tells that people talk.
pub fn of_talk(tok: &Tok, vocab: &Vocabulary) -> bool {
    tok.form.map_or(tok.meaning == Some(Meaning::Filler), |f| vocab.forms()[f as usize].talk)
}

/// Reads a note by its sounds; `plain` is how it reads word for word.
pub(crate) fn by_sound(
    words: &[Word],
    plain: &[Tok],
    vocab: &Vocabulary,
    sounds: &Sounds,
    context: &Context,
    tuning: &Tuning,
) -> Ranked {
    let lattice = near::lattice(words, vocab, sounds, tuning);
    let margin = tuning.margin.max(tuning.margin_more);
    let ways = Ways::new(&lattice, context, margin);
    let best = ways.best();
    let total = ways.best_cost();
    let toks = |path: &[usize]| near::toks(path, &lattice, words, tuning);
    let mut on_best = vec![false; lattice.edges.len()];
    for i in &best {
        on_best[*i] = true;
    }
    let mut rivals: Vec<(u32, usize, state::State)> = Vec::new();
    for (i, edge) in lattice.edges.iter().enumerate() {
        if on_best[i] || edge.kind == Kind::Filler {
            continue;
        }
        if let Some((cost, before)) = ways.total(i)
            && cost <= total + margin
        {
            rivals.push((cost - total, i, before));
        }
    }
    rivals.sort_by_key(|r| r.0);
    let best_toks = toks(&best);
    let mut seen: Vec<Vec<Option<Meaning>>> = vec![meanings(&best_toks)];
    let mut out = Vec::new();
    // Dropping a word is no other reading of it; what is too dear to trust is asked anyway (`without`).
    let unread = |path: &[usize]| path.iter().filter(|e| lattice.edges[**e].kind == Kind::Unread).count();
    let left = unread(&best);
    for (behind, i, before) in rivals.into_iter().take(tried(lattice.positions)) {
        let path = ways.way(i, before);
        let more = unread(&path) + SOME < left;
        if unread(&path) > left + SOME || behind > if more { tuning.margin_more } else { tuning.margin } {
            continue;
        }
        let toks = toks(&path);
        let means = meanings(&toks);
        if !seen.contains(&means) {
            seen.push(means);
            out.push(Path { toks, behind });
            if out.len() == RIVALS {
                break;
            }
        }
    }
    let talk = is_full_of_talk(&best_toks, tuning);
    let doubtful = |t: &Tok| {
        (is_dear(t, tuning) && !is_side_kept(t, words, vocab))
            || (talk && is_made_of_talk(t, tuning))
            || is_verdict_turned(t, words, vocab, tuning)
    };
    let dear: Vec<usize> = (0..best_toks.len())
        .filter(|i| {
            doubtful(&best_toks[*i]) || is_denied(&best_toks[..=*i]) || is_alone_in_talk(&best_toks, *i, tuning)
        })
        .collect();
    let without = dear
        .chunks(dear.len().div_ceil(DOUBTS).max(1))
        .map(|together| {
            let mut rest = Vec::with_capacity(best_toks.len());
            let mut left_out = together.iter().copied().peekable();
            for (i, tok) in best_toks.iter().enumerate() {
                if left_out.next_if_eq(&i).is_some() {
                    rest.extend(word_for_word(plain, tok));
                } else {
                    rest.push(tok.clone());
                }
            }
            let span = if let [one] = together { Some(best_toks[*one].span) } else { None };
            (span, rest)
        })
        .collect();
    Ranked { cost: total, unread: left, best: best_toks, rivals: out, without }
}

/// The words of a correction as they stand: of "swollen up over the coronet" the first two say the same without it.
fn word_for_word(plain: &[Tok], tok: &Tok) -> Vec<Tok> {
    let from = plain.partition_point(|t| t.span.start < tok.span.start);
    let inside = &plain[from..];
    let inside = &inside[..inside.partition_point(|t| t.span.end <= tok.span.end)];
    match (inside.first(), inside.last()) {
        (Some(first), Some(last)) if first.span.to(last.span) == tok.span => inside.to_vec(),
        _ => vec![Tok { meaning: None, form: None, how: How::Unread, ..tok.clone() }],
    }
}

/// "wrap, never trust the quiet ones", dressed: words of the dictionary that take back what was said before.
fn is_denied(toks: &[Tok]) -> bool {
    let [.., not, last] = toks else { return false };
    let taken = matches!(last.how, How::Near { cost, known: true, .. } if cost > 0);
    let deed = last.meaning.is_some_and(|m| matches!(m.kind(), Kind::Block | Kind::Wrap | Kind::Work | Kind::Trim));
    not.meaning == Some(Meaning::Not) && taken && deed
}

/// "left timed", left hind: the side is there to the letter, an end of the cow must follow it, and no other is near.
fn is_side_kept(tok: &Tok, words: &[Word], vocab: &Vocabulary) -> bool {
    let (Some(Meaning::Foot(_)), How::Near { cost, .. }, Some(form)) = (tok.meaning, tok.how, tok.form) else {
        return false;
    };
    let at = words.partition_point(|w| w.span.start < tok.span.start);
    let form = vocab.forms()[form as usize].text.as_str();
    let two = words.get(at + 1).is_some_and(|w| w.gap <= Gap::Space && w.span.end == tok.span.end);
    let side = words
        .get(at)
        .is_some_and(|w| form.split_once(' ').is_some_and(|(side, end)| side == w.text && !end.contains(' ')));
    side && two && u32::from(cost) <= SIDE_KEPT
}

/// "all four sands", sound: all feet are clean by one word that was not said. ("All feet refined" has it.)
fn is_verdict_turned(tok: &Tok, words: &[Word], vocab: &Vocabulary, tuning: &Tuning) -> bool {
    let (How::Near { cost, .. }, Some(Meaning::Clear | Meaning::ClearAll), Some(form)) =
        (&tok.how, &tok.meaning, tok.form)
    else {
        return false;
    };
    let form = vocab.forms()[form as usize].text.as_str();
    let after = words.partition_point(|w| w.span.start < tok.span.end);
    let last = after.checked_sub(1).map_or("", |at| &*words[at].text);
    u32::from(*cost) > tuning.dear_record && form.rsplit(' ').next().is_none_or(|said| !last.contains(said))
}

/// Up to here an end of the cow behind its side is believed: "timed", "find", "high end"; "front" is twice as far.
const SIDE_KEPT: u32 = 130;

/// Sounds of a short word, and of one that is too short for a deed.
const SHORT: u16 = 4;
const SHORTER: u16 = 3;

/// Readings without a dear correction, each of which is read as a whole: a text of so many that it is no note has
/// several of them left out at once.
const DOUBTS: usize = 24;

/// How many ways to a runner-up are tried in a note of so many sounds: fewer in one as long as a book.
fn tried(sounds: usize) -> usize {
    (TRIED * LONG_NOTE / sounds.max(1)).clamp(RIVALS, TRIED)
}

/// Sounds of a long note; one that is spoken has some fifty.
const LONG_NOTE: usize = 1000;

/// How many runners-up are looked at, and how many ways to find them: those of a long note are many, and nearly all
/// of them one another's twins.
const RIVALS: usize = 12;
const TRIED: usize = 1000;

/// So many sounds more or less left unread make no difference.
const SOME: usize = 1;

fn is_dear(tok: &Tok, tuning: &Tuning) -> bool {
    match tok.how {
        How::Near { cost, phones, known } => {
            let dear = u32::from(cost) > tuning.dear * u32::from(phones.max(1));
            // A short lesion or deed out of an everyday word ("torn", corn; "thin", thinned): too easily wrong to go
            // unasked. ("that", vet: to call one for nothing does no harm, and to ask of each would be much.)
            let finding = matches!(tok.meaning, Some(Meaning::Disorder(_) | Meaning::Vague(_)));
            // What makes a record of its own out of a short word that was rather different.
            let bears = finding
                || matches!(
                    tok.meaning,
                    Some(
                        Meaning::Pare
                            | Meaning::Drain
                            | Meaning::Topical
                            | Meaning::Vet
                            | Meaning::Clear
                            | Meaning::Undo(_)
                    )
                );
            let far = bears && phones <= 2 * SHORT && u32::from(cost) > tuning.dear_record;
            let short = phones <= if finding { SHORT } else { SHORTER } && tok.meaning != Some(Meaning::Vet);
            // Words that are there, taken for rather different ones ("snowing sideways", inside one).
            let flips = matches!(
                tok.meaning,
                Some(Meaning::Claw(_) | Meaning::Foot(_) | Meaning::Side(_) | Meaning::Ends(_) | Meaning::Scale(_))
            );
            // "hearing", healing; "slept", slight; "wouldn't", wood: it goes unseen onto a lesion or a block.
            let part = matches!(
                tok.meaning,
                Some(
                    Meaning::Course(_)
                        | Meaning::Severity(_)
                        | Meaning::Stage(_)
                        | Meaning::Scale(_)
                        | Meaning::Material(_)
                        | Meaning::RestFeet
                        | Meaning::AllFeet
                )
            ) && u32::from(cost) > tuning.dear_part;
            // "jyx", check: a day to come out of hardly a word.
            let due = matches!(tok.meaning, Some(Meaning::Recheck | Meaning::Look))
                && phones <= SHORT
                && u32::from(cost) > tuning.dear_part;
            let turned = known && (part || flips && u32::from(cost) > tuning.dear_known);
            tok.form.is_some() && (dear || far || due || turned || (bears && known && cost > 0 && short))
        }
        _ => false,
    }
}

/// Whether a note holds so many words that are none of the trade's that people were talking.
fn is_full_of_talk(toks: &[Tok], tuning: &Tuning) -> bool {
    toks.iter().filter(|t| matches!(t.meaning, None | Some(Meaning::Filler))).count() >= tuning.talk_words as usize
}

/// Whether everyday words were taken for something that makes a record ("size as", scissors): in the midst of talk
/// they may well have been said as they stand.
fn is_made_of_talk(tok: &Tok, tuning: &Tuning) -> bool {
    let How::Near { cost, known, phones } = tok.how else { return false };
    // Of these the form that is there to the letter is often a part of a longer one ("wrap that").
    let dear = match tok.meaning.map(Meaning::kind) {
        None | Some(Kind::Filler | Kind::In | Kind::And | Kind::Only | Kind::Cow) => return false,
        Some(Kind::Foot | Kind::Wrap | Kind::Block) => tuning.dear_record,
        _ => tuning.dear_talk,
    };
    // "swelling above the cornet" is a term nearly to the letter.
    let to_the_letter = cost <= NEARLY * phones;
    known && tok.form.is_some() && u32::from(cost) > dear && !to_the_letter
}

/// "the generator's coughing again", cut off: words of the dictionary taken for a term in a part of the sentence that has
/// no other, and words of talk.
fn is_alone_in_talk(toks: &[Tok], i: usize, tuning: &Tuning) -> bool {
    const WORDS_OF_TALK: usize = 2;
    if !is_made_of_talk(&toks[i], tuning) {
        return false;
    }
    let talk = |t: &Tok| matches!(t.meaning, None | Some(Meaning::Filler | Meaning::In | Meaning::And | Meaning::Only));
    // From the correction outwards, so that a text without commas is not gone through for each of them.
    let (mut start, mut end) = (i, i + 1);
    while start > 0 && toks[start].gap < Gap::Comma && talk(&toks[start - 1]) {
        start -= 1;
    }
    while end < toks.len() && toks[end].gap < Gap::Comma && talk(&toks[end]) {
        end += 1;
    }
    let begins = start == 0 || toks[start].gap >= Gap::Comma;
    let ends = toks.get(end).is_none_or(|t| t.gap >= Gap::Comma);
    begins && ends && end - start > WORDS_OF_TALK
}

/// So much a sound is hardly a difference.
const NEARLY: u16 = 3;

fn meanings(toks: &[Tok]) -> Vec<Option<Meaning>> {
    toks.iter().map(|t| t.meaning).filter(|m| !matches!(m, None | Some(Meaning::Filler))).collect()
}

/// The words of a note read word for word; words nobody knows stay unread.
pub fn exact(words: &[Word], vocab: &Vocabulary, context: &Context) -> Vec<Tok> {
    if words.is_empty() {
        return vec![];
    }
    let mut edges = Vec::with_capacity(words.len() * 3);
    exact::edges(words, vocab, &mut edges);
    let lattice = Lattice { positions: words.len() + 1, edges };
    best(&lattice, context).into_iter().map(|e| lattice.edges[e].tok.clone()).collect()
}
