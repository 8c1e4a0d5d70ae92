//! Reads one note: the whole road from text to entries with flags.

mod cow;

use std::sync::OnceLock;

use chrono::NaiveDate;

use crate::check::{self, Known};
use crate::doubt::{self, Cause};
use crate::entry::Entry;
use crate::flag::{Flag, FlagKind};
use crate::grammar;
use crate::matches::{self, Context, How, Tok, Tuning};
use crate::meaning::{self, Trace};
use crate::roster::Roster;
use crate::vocab::sound::{self, Sounds};
use crate::vocab::{Kind, Meaning, Style, Vocabulary};
use crate::words::{self, Span};

/// Reads notes with one vocabulary.
#[derive(Debug)]
pub struct Reader {
    vocab: Vocabulary,
    flat: Context,
    tuning: Tuning,
    roster: Option<Roster>,
    /// Made when the first note needs it: most typed notes never do.
    hearing: OnceLock<Hearing>,
    grown: cow::Grown,
}

#[derive(Debug)]
struct Hearing {
    sounds: Sounds,
    context: Context,
}

/// What was made of one note.
#[derive(Clone, Debug, Default)]
pub struct Reading {
    pub entries: Vec<Entry>,
    /// How each stretch of the note was taken, in order.
    pub toks: Vec<Tok>,
    /// Price of the reading, in hundredths of a phone: how far what was written is from what it was taken for.
    pub cost: u32,
    /// Words were left unread, or taken for others.
    pub broken: bool,
    /// Other readings that were about as good, nearest first (only of notes that were not heard plainly).
    pub rivals: Vec<matches::Path>,
    /// Which of several hearings it follows: the words are that one's.
    pub led: usize,
    /// For each entry, where its parts were said; none of a note that was not looked into.
    traces: Vec<Trace>,
}

impl Reader {
    pub fn new(vocab: Vocabulary) -> Self {
        Self::tuned(vocab, Tuning::default())
    }

    /// A reader with other prices and margins than the built-in ones.
    pub fn tuned(vocab: Vocabulary, tuning: Tuning) -> Self {
        Self {
            vocab,
            flat: Context::flat(),
            tuning,
            roster: None,
            hearing: OnceLock::new(),
            grown: cow::Grown::default(),
        }
    }

    /// The same reader, knowing the herd's tags.
    #[must_use]
    pub fn with_roster(self, roster: Roster) -> Self {
        Self { roster: Some(roster), ..self }
    }

    /// Knows other tags from now on, or none.
    pub fn set_roster(&mut self, roster: Option<Roster>) {
        self.roster = roster;
    }

    /// Reads with other words from now on; the roster and the prices stay.
    pub fn set_vocabulary(&mut self, vocab: Vocabulary) {
        self.vocab = vocab;
        self.hearing = OnceLock::new();
    }

    pub fn vocabulary(&self) -> &Vocabulary {
        &self.vocab
    }

    /// The herd's tags, where they are known.
    pub fn roster(&self) -> Option<&Roster> {
        self.roster.as_ref()
    }

    /// Reads a note said on the day of `visit`; `cow_before` is the cow of the note before.
    pub fn read(&self, text: &str, visit: NaiveDate, cow_before: Option<&str>) -> Reading {
        if text.len() > LONGEST {
            let remark = text.trim().to_owned();
            let flag =
                Flag::ask(FlagKind::Unread, "said", format!("a note of {} bytes is too long to be read", text.len()));
            let entry = Entry { said: remark.clone(), remarks: vec![remark], flags: vec![flag], ..Entry::default() };
            return Reading { entries: vec![entry], ..Reading::default() };
        }
        let mut words = words::cut(text, |w| self.vocab.knows(w));
        let mut toks = matches::exact(&words, &self.vocab, &self.flat);
        let mut plain = matches::is_plain(&toks, &self.vocab);
        if !plain && matches::mend(&mut words, &self.vocab) {
            toks = matches::exact(&words, &self.vocab, &self.flat);
            plain = matches::is_plain(&toks, &self.vocab);
        }
        if plain {
            let (entries, traces) = self.entries(text, &toks, visit, cow_before);
            return Reading { entries, toks, traces, ..Reading::default() };
        }
        // Talk without a cow, a foot or a number is not listened to for what it may have meant.
        if matches::is_talk(&toks, &self.vocab) {
            let remark = text.trim().to_owned();
            let entry = Entry { said: remark.clone(), remarks: vec![remark], ..Entry::default() };
            let known = Known { visit: Some(visit), cow_before, roster: None };
            let flags = check::flags(text, &entry, &Trace::default(), &known);
            return Reading { entries: vec![Entry { flags, ..entry }], toks, ..Reading::default() };
        }
        if is_strange(text, &toks) {
            let told = "most of its words are none that people say; it is kept as a remark".to_owned();
            let flag = Flag::ask(FlagKind::Unread, "said", told);
            let remark = text.trim().to_owned();
            let entry = Entry { said: remark.clone(), remarks: vec![remark], flags: vec![flag], ..Entry::default() };
            return Reading { entries: vec![entry], toks, ..Reading::default() };
        }
        let ranked = self.ranked(&words, &toks);
        let (mut entries, traces) = self.entries(text, &ranked.best, visit, cow_before);
        let offsets: Vec<usize> = traces.iter().map(|t| t.offset as usize).collect();
        let other = |toks: &[Tok]| self.entries(text, toks, visit, cow_before).0;
        // Talk, for which the cow is asked: what else it might have been is not asked on top.
        let talk = |entries: &[Entry]| entries.iter().all(|e| e.cow.is_none());
        let bare = talk(&entries) && entries.iter().all(Entry::is_bare);
        for (at, without) in &ranked.without {
            let cause = Cause { kind: FlagKind::Misheard, text, at: *at, offsets: &offsets };
            doubt::ask(&mut entries, &other(without), cause);
        }
        for rival in &ranked.rivals {
            let at = parting(&ranked.best, &rival.toks);
            let cause = Cause { kind: FlagKind::TwoReadings, text, at, offsets: &offsets };
            let Some(other) = self.in_the_herd(&entries, other(&rival.toks)) else { continue };
            if !(bare && talk(&other)) {
                doubt::ask(&mut entries, &other, cause);
            }
        }
        self.much_unread(text, &ranked.best, &traces, &mut entries);
        let broken = ranked.unread > 2 || !ranked.without.is_empty();
        Reading { entries, toks: ranked.best, cost: ranked.cost, broken, rivals: ranked.rivals, led: 0, traces }
    }

    /// "Now 591 Fry Greer Outer, white line Fisher's own 23th, turned out": a note of one cow, not heard plainly, of which
    /// much says nothing is asked about, whatever was made of the rest; one of which nothing was made, for less, but not
    /// where people talk ("Ned says she is lame").
    fn much_unread(&self, text: &str, toks: &[Tok], traces: &[Trace], entries: &mut [Entry]) {
        let ([entry], [trace]) = (entries, traces) else { return };
        let talk = toks.iter().any(|t| t.meaning == Some(Meaning::Aside) || matches::of_talk(t, &self.vocab));
        if entry.cow.is_none() || entry.questions().count() > 0 {
            return;
        }
        let words = |said: &str| said.split_whitespace().count() as u32;
        let kept = |u: &&words::Span| !entry.is_bare() && entry.remarks.iter().any(|r| r.contains(u.of(text)));
        let spans: Vec<&words::Span> = trace.unread.iter().filter(|u| !kept(u)).collect();
        let (Some(first), Some(last)) = (spans.first(), spans.last()) else { return };
        let unread: u32 = spans.iter().map(|u| words(u.of(text))).sum();
        let much = unread >= self.tuning.unread_words && unread * 100 >= words(&entry.said) * self.tuning.unread_share;
        // "Now 407, walking, mobility streets": words of the trade that came to nothing.
        const TRADE: [Kind; 8] =
            [Kind::Foot, Kind::Side, Kind::End, Kind::Claw, Kind::Zone, Kind::Disorder, Kind::Vague, Kind::Scale];
        let trade = toks.iter().any(|t| t.meaning.is_some_and(|m| TRADE.contains(&m.kind())));
        // "pull block left hind when I come in April": kept, for what it is.
        let told = entry.remarks.iter().any(|r| words(r) * 2 < words(&entry.said));
        let bare =
            entry.is_bare() && !told && unread >= if trade { 1 } else { self.tuning.unread_bare } && (trade || !talk);
        if much && !entry.is_bare() || bare {
            let asked = "much of it was not understood: is that all that was found and done?".to_owned();
            entry.flags.push(Flag::ask(FlagKind::Unread, "said", asked).at(Some(first.to(**last))));
        }
    }

    /// The other reading, where all cows of the first are the herd's: one that is not, since it took the next word for a
    /// digit ("36, or is on a wall crack": 364), is no doubt, and a long number of the herd's is no remark.
    fn in_the_herd(&self, entries: &[Entry], mut other: Vec<Entry>) -> Option<Vec<Entry>> {
        let Some(herd) = self.roster.as_ref().filter(|r| !r.is_soft() && !r.is_empty()) else { return Some(other) };
        let known = |e: &Entry| e.cow.as_deref().is_some_and(|cow| herd.has(cow));
        if !entries.iter().all(known) {
            return Some(other);
        }
        if other.len() == entries.len() {
            for (theirs, mine) in other.iter_mut().zip(entries) {
                let longer = theirs.cow.as_ref().zip(mine.cow.as_ref()).is_some_and(|(t, m)| t.starts_with(m.as_str()));
                // "Pound 977": a long number of the herd's is hers, whatever stands before it.
                let lost = theirs.cow.is_none() && mine.cow.as_ref().is_some_and(|cow| cow.len() >= 3);
                if lost || longer && !known(theirs) {
                    theirs.cow.clone_from(&mine.cow);
                }
            }
            return Some(other);
        }
        let lost = |e: &&Entry| !other.iter().any(|o| o.cow == e.cow);
        let long = |e: &Entry| e.cow.as_ref().is_some_and(|cow| cow.len() >= 3);
        let against = other.len() < entries.len() && entries.iter().filter(lost).all(long);
        (!against).then_some(other)
    }

    /// Makes ready, a step at a time, what only notes that are not plain need, so that the first of them need not
    /// wait for it; gives whether all is.
    pub fn warm(&self) -> bool {
        let ready = sound::make_ready(STEP);
        if ready {
            self.hearing();
        }
        ready
    }

    fn hearing(&self) -> &Hearing {
        self.hearing.get_or_init(|| Hearing { sounds: Sounds::new(&self.vocab), context: Context::new(&self.tuning) })
    }

    fn ranked(&self, words: &[words::Word], plain: &[Tok]) -> matches::Ranked {
        let hearing = self.hearing();
        matches::by_sound(words, plain, &self.vocab, &hearing.sounds, &hearing.context, &self.tuning)
    }

    /// Reads several hearings of one utterance together (an n-best list, or different recognisers).
    pub fn read_hearings(&self, hearings: &[&str], visit: NaiveDate, cow_before: Option<&str>) -> Reading {
        if let [one] = hearings {
            return self.read(one, visit, cow_before);
        }
        let readings: Vec<Reading> = hearings.iter().map(|h| self.priced(h, visit, cow_before)).collect();
        let heard = readings
            .iter()
            .zip(hearings)
            .map(|(r, said)| doubt::Heard {
                entries: r.entries.clone(),
                plain: r.traces.iter().map(|t| plain_fields(t, &r.toks)).collect(),
                cost: r.cost,
                broken: r.broken,
                open: r.toks.iter().any(|t| t.meaning.is_none() || matches!(t.how, How::Near { cost, .. } if cost > 0)),
                written: said.contains([',', '.']) && said.starts_with(char::is_uppercase),
            })
            .collect();
        let herd = self.roster.as_ref().filter(|r| !r.is_soft() && !r.is_empty());
        let known = |e: &Entry| e.cow.as_ref().zip(herd).is_none_or(|(cow, herd)| herd.has(cow));
        let judge = doubt::Judge { margin: self.tuning.hearings, lead: self.tuning.fluent, known: &known };
        let (entries, led) = doubt::together(heard, &judge);
        let lead = readings.into_iter().nth(led).unwrap_or_default();
        Reading { entries, led, ..lead }
    }

    /// Reads a hearing and prices it by its sounds, also where every word was plain: a closed vocabulary lies
    /// plausibly, and only what rarely stands side by side gives it away.
    fn priced(&self, text: &str, visit: NaiveDate, cow_before: Option<&str>) -> Reading {
        let mut reading = self.read(text, visit, cow_before);
        // What was read by its sounds has its price already; what is too long for a note is not listened to.
        if reading.cost == 0 && text.len() <= LONGEST {
            let words = words::cut(text, |w| self.vocab.knows(w));
            let plain = matches::exact(&words, &self.vocab, &self.flat);
            reading.cost = self.ranked(&words, &plain).cost;
        }
        reading
    }

    fn entries(
        &self,
        text: &str,
        toks: &[Tok],
        visit: NaiveDate,
        cow_before: Option<&str>,
    ) -> (Vec<Entry>, Vec<Trace>) {
        let items = grammar::phrases(text, toks, &self.vocab);
        let mut before = cow_before.map(str::to_owned);
        meaning::entries(text, items, visit)
            .into_iter()
            .map(|(mut entry, mut trace)| {
                let roster = self.roster.as_ref().filter(|r| !r.is_empty());
                cow::among_the_rest(&mut entry, &mut trace, roster);
                cow::of_herd(&mut entry, &mut trace, roster);
                cow::without_a_word(text, toks, &mut entry, &trace, roster);
                let unsure = |span| !word_for_word(toks, span) || cow::hides_a_digit(text, toks, span);
                if trace.cow.is_some_and(unsure) {
                    cow::grown_together(text, &mut entry, &mut trace, roster, &self.grown);
                    cow::with_the_words_behind(text, toks, entry.cow.as_deref(), &mut trace, roster);
                }
                entry.flags = check::flags(
                    text,
                    &entry,
                    &trace,
                    &Known { visit: Some(visit), cow_before: before.as_deref(), roster: self.roster.as_ref() },
                );
                for flag in &mut entry.flags {
                    flag.at = within(flag.at, trace.offset as usize, entry.said.len());
                }
                before = entry.cow.clone().or(before.take());
                (entry, trace)
            })
            .unzip()
    }
}

/// A span of the note as a span of the entry's own part of it; none where it lies outside.
pub(crate) fn within(at: Option<[usize; 2]>, offset: usize, len: usize) -> Option<[usize; 2]> {
    let [start, end] = at?;
    let (start, end) = (start.checked_sub(offset)?, end.checked_sub(offset)?);
    (end <= len).then_some([start, end])
}

/// Lines of the dictionary that are made ready at a time: some hundredths of a second on a slow phone.
const STEP: u32 = 1_500;

/// A longer note is no note; it is kept whole as a remark and asked about.
pub const LONGEST: usize = 64 * 1024;

/// Words from which on a text is looked at as a whole before each of its sounds is.
const MANY: usize = 200;

/// Whether a long text is no English: most of its words are neither the trade's nor a dictionary's. A recogniser
/// writes words that exist, and to listen to the others takes time for nothing.
fn is_strange(text: &str, toks: &[Tok]) -> bool {
    let strange = |t: &&Tok| t.meaning.is_none() && !sound::is_known(&t.span.of(text).to_lowercase());
    toks.len() > MANY && toks.iter().filter(strange).count() * 2 > toks.len()
}

/// Whether every match that touches the span was heard word for word.
fn word_for_word(toks: &[Tok], span: words::Span) -> bool {
    toks.iter()
        .filter(|t| t.span.start < span.end && span.start < t.span.end)
        .all(|t| matches!(t.how, How::Exact(Style::Spoken | Style::Written)))
}

/// The fields of an entry whose words were heard word for word.
fn plain_fields(trace: &Trace, toks: &[Tok]) -> Vec<String> {
    let of = |name: &str, spans: Vec<words::Span>| -> Vec<String> {
        let plain = spans.iter().enumerate().filter(|(_, span)| word_for_word(toks, **span));
        plain.map(|(i, _)| format!("{name}[{i}]")).collect()
    };
    let mut out = of("findings", trace.findings.iter().map(|f| f.span).collect());
    out.extend(of("actions", trace.actions.iter().map(|a| a.span).collect()));
    out.extend(of("scores", trace.scores.clone()));
    out.extend(of("measures", trace.measures.clone()));
    out.extend(of("due", trace.due.clone()));
    out.extend(trace.clear.filter(|span| word_for_word(toks, *span)).map(|_| "clear".to_owned()));
    out
}
/// No words that can be read in two ways are longer, in bytes: two that part in several places have no one place.
const PARTING: u32 = 40;

/// Where two readings part, from the first word to the last.
fn parting(best: &[Tok], other: &[Tok]) -> Option<Span> {
    let same = |(a, b): &(&Tok, &Tok)| a.span == b.span && a.meaning == b.meaning;
    let begin = best.iter().zip(other).take_while(same).count();
    let (best, other) = (&best[begin..], &other[begin..]);
    let end = best.iter().rev().zip(other.iter().rev()).take_while(same).count();
    let spans = best[..best.len() - end].iter().chain(&other[..other.len() - end]).map(|t| t.span);
    let span = spans.reduce(|a, b| Span { start: a.start.min(b.start), end: a.end.max(b.end) })?;
    (span.end - span.start <= PARTING).then_some(span)
}
