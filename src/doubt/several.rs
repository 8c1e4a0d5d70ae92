//! Several hearings of one utterance, read together.
//!
//! Recognisers rarely make the same mistake: what all hearings agree on is certain, even where each alone was
//! doubtful; what they differ on is exactly what to ask.

use serde_json::Value;

use super::aside::lay_aside;
use super::diff::{Difference, differences};
use super::wording::{self, parts};
use crate::entry::Entry;
use crate::flag::{Flag, FlagKind};

/// One hearing, read by itself.
#[derive(Clone, Debug)]
pub(crate) struct Heard {
    pub(crate) entries: Vec<Entry>,
    /// For each entry, the fields whose words were heard word for word.
    pub(crate) plain: Vec<Vec<String>>,
    /// Total price of the reading, in hundredths of a phone.
    pub(crate) cost: u32,
    /// Words were left unread, or taken for others at some distance: something may have been lost here.
    pub(crate) broken: bool,
    /// Words were heard that are none of the trade's: its recogniser knows others, and did not have to take one of
    /// the trade's for what it did not understand.
    pub(crate) open: bool,
    /// It has stops and capitals: its recogniser knows the language, and not the trade's words alone.
    pub(crate) written: bool,
}

impl Heard {
    /// Whether its recogniser knows other words than the trade's, and that of the other does not.
    fn freer_than(&self, other: &Self) -> bool {
        self.written && !other.written || self.open && !(other.open || other.written)
    }
}

/// What several hearings are judged by.
pub(crate) struct Judge<'a> {
    /// A hearing that costs so much more than the best contradicts it no longer, where the best was heard plainly.
    pub(crate) margin: u32,
    /// One that knows words other than the trade's, and was understood throughout, leads though it costs so much more
    /// than one that knows no others.
    pub(crate) lead: u32,
    /// Whether the herd has the cow: one that it has not gives way to one that it has.
    pub(crate) known: &'a dyn Fn(&Entry) -> bool,
}

/// Reads hearings together: the entries of the one that leads, with questions where another differs, and which it is.
pub(crate) fn together(heard: Vec<Heard>, judge: &Judge) -> (Vec<Entry>, usize) {
    let Some(led) = leader(&heard, judge) else { return (vec![], 0) };
    let best = &heard[led];
    let mut entries = best.entries.clone();
    let mut others: Vec<&Heard> = heard.iter().enumerate().filter(|(i, _)| *i != led).map(|(_, h)| h).collect();
    others.sort_by_key(|h| h.cost);
    let same_cows: Vec<&Heard> = others.iter().copied().filter(|o| o.entries.len() == entries.len()).collect();
    let doubted = |other: &Heard| !best.broken && other.cost > best.cost + judge.margin;
    if others.iter().any(|o| o.entries.len() != entries.len() && !doubted(o))
        && let Some(first) = entries.first_mut()
    {
        let flag = Flag::ask(FlagKind::HearingsDiffer, "cow", "how many cows are in this note? the hearings differ");
        first.flags.push(flag.options([Value::from(first.cow.clone())]));
    }
    if same_cows.is_empty() {
        return (entries, led);
    }
    for (k, entry) in entries.iter_mut().enumerate() {
        let mut differ: Vec<Difference> = Vec::new();
        let mut aside: Vec<String> = Vec::new();
        let stray = !(judge.known)(entry);
        for other in &same_cows {
            // Far dearer than a hearing without a fault: it is the one that misheard, and is believed only where
            // it would turn a side or a claw around.
            let doubted = doubted(other);
            let freer = other.freer_than(best);
            for d in differences(entry, &other.entries[k]) {
                let more = has_more(&d, other, k, freer);
                let made_up = freer && only_mine(&d);
                // "one fifty nine" and 150, of which the herd has only this.
                let cow = d.field == "cow";
                let known = (judge.known)(&other.entries[k]);
                if cow && stray && known {
                    believe_the_cow(entry, &other.entries[k]);
                } else if cow && !stray && !known {
                    // It is no doubt of one that the herd has.
                } else if !doubted || turns(&d) || more || made_up {
                    // What the other has more is taken, and asked about; so is that a block has no material, where only the
                    // trade's words could be heard.
                    let less = freer && d.theirs.is_null() && MADE_UP.iter().any(|part| d.field.ends_with(part));
                    let d = if (more || less) && take(entry, &d) {
                        Difference { mine: d.theirs, theirs: d.mine, ..d }
                    } else {
                        d
                    };
                    // Its recogniser had to put a word of the trade where the other wrote what was said.
                    let only_lesion = d.field.starts_with("findings") && other.entries[k].findings.is_empty();
                    if made_up && !more && !only_lesion {
                        aside.push(d.field.clone());
                    }
                    differ.push(d);
                }
            }
        }
        // "Cossacks 83" may be 83 or 683, and the other heard "six eighty three".
        let sure = |o: &&Heard| o.entries[k].cow == entry.cow && !o.entries[k].questions().any(|f| f.field == "cow");
        if same_cows.iter().any(sure) && !differ.iter().any(|d| d.field == "cow") {
            entry.flags.retain(|f| f.field != "cow");
        }
        agreed(entry, &differ);
        for d in differ {
            ask(entry, d);
        }
        lay_aside(entry, &aside);
    }
    (entries, led)
}

/// What of a thing a recogniser of the trade's words puts in where small words were said.
const MADE_UP: [&str; 2] = [".material", ".agent"];

/// The cheapest hearing, of equals the first; or one whose recogniser may know better.
fn leader(heard: &[Heard], judge: &Judge) -> Option<usize> {
    let cheapest = (0..heard.len()).min_by_key(|i| heard[*i].cost)?;
    // One that leaves more to ask has lost something.
    let asked = |h: &Heard| h.entries.iter().map(|e| e.questions().count()).sum::<usize>();
    let best = &heard[cheapest];
    let fluent = |h: &Heard| {
        h.freer_than(best)
            && !h.broken
            && h.cost <= best.cost + judge.lead
            && asked(h) <= asked(best)
            && !alike(&h.entries, &best.entries)
    };
    let other = (0..heard.len()).filter(|i| fluent(&heard[*i])).min_by_key(|i| heard[*i].cost);
    Some(other.unwrap_or(cheapest))
}

/// Whether two readings differ in nothing that counts.
fn alike(a: &[Entry], b: &[Entry]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| differences(a, b).is_empty())
}

/// Takes the cow of the other hearing, with what is to be asked of her.
fn believe_the_cow(entry: &mut Entry, other: &Entry) {
    entry.cow.clone_from(&other.cow);
    entry.flags.retain(|f| f.field != "cow");
    entry.flags.extend(other.flags.iter().filter(|f| f.field == "cow").cloned());
}

/// Whether the other hearing has something that this one lacks, and heard it word for word: what one hearing lost
/// may stand in the other, however badly the rest was heard. Not so where nothing of the other was misheard and
/// yet it is far dearer: then its recogniser knows the trade's words only, and puts them where others were said.
/// One that is `freer` wrote what it heard, misheard or not.
fn has_more(d: &Difference, other: &Heard, k: usize, freer: bool) -> bool {
    let plain = other.plain.get(k).is_some_and(|fields| fields.iter().any(|f| d.field.starts_with(f)));
    let asked = other.entries[k].questions().any(|f| f.field.starts_with(&d.field) || d.field.starts_with(&f.field));
    (other.broken || freer) && empty(&d.mine) && !empty(&d.theirs) && plain && !asked
}

/// Whether the other hearing lacks a whole finding, action, score, measure or due date. Where the best knows the
/// trade's words only, it may have put one where others were said, and the other would have written those.
fn only_mine(d: &Difference) -> bool {
    empty(&d.theirs) && !empty(&d.mine) && parts(&d.field).is_some_and(|(_, _, part)| part.is_none())
}

fn empty(value: &Value) -> bool {
    value.is_null() || value.as_array().is_some_and(Vec::is_empty)
}

/// Puts what the other hearing has into the entry; false where it does not fit there.
fn take(entry: &mut Entry, d: &Difference) -> bool {
    let Ok(mut all) = serde_json::to_value(&*entry) else { return false };
    if d.field == "clear" {
        all["clear"] = d.theirs.clone();
    } else {
        let Some((name, index, part)) = parts(&d.field) else { return false };
        // "healing", of a lesion that both have.
        if let Some(part) = part {
            let thing = index.parse::<usize>().ok().and_then(|at| all[name].get_mut(at));
            let Some(thing) = thing.and_then(Value::as_object_mut) else { return false };
            thing.insert(part.to_owned(), d.theirs.clone());
            return replace(entry, all);
        }
        // Only what comes after all that is there: the fields of flags count from the start.
        let list = &mut all[name];
        if list.is_null() {
            *list = Value::Array(vec![]);
        }
        let Some(list) = list.as_array_mut().filter(|l| l.len().to_string() == index) else { return false };
        list.push(d.theirs.clone());
    }
    replace(entry, all)
}

fn replace(entry: &mut Entry, by: Value) -> bool {
    serde_json::from_value(by).is_ok_and(|new| {
        *entry = new;
        true
    })
}

/// Whether the difference is another foot or another claw.
fn turns(d: &Difference) -> bool {
    let one = d.field.ends_with(".foot") || d.field.ends_with(".claw");
    let differs = |key: &str| {
        let (mine, theirs) = (d.mine.get(key), d.theirs.get(key));
        mine.is_some() && theirs.is_some() && mine != theirs
    };
    (one && !d.mine.is_null() && !d.theirs.is_null()) || differs("foot") || differs("claw")
}

/// Drops the doubts that the other hearings have settled; what is missing in all of them is still asked.
fn agreed(entry: &mut Entry, differ: &[Difference]) {
    entry.flags.retain(|f| {
        let of_hearing = matches!(f.kind, FlagKind::Misheard | FlagKind::TwoReadings | FlagKind::Unread);
        let open =
            differ.iter().any(|d| d.field == f.field || d.field.starts_with(&f.field) || f.field.starts_with(&d.field));
        !of_hearing || open || !f.asks()
    });
}

fn ask(entry: &mut Entry, d: Difference) {
    if let Some(flag) = entry.flags.iter_mut().find(|f| f.asks() && f.field == d.field) {
        for o in [d.mine, d.theirs] {
            if !flag.options.contains(&o) {
                flag.options.push(o);
            }
        }
        return;
    }
    let message = format!("the hearings differ: {}", wording::question(entry, &d.field, &d.mine, &d.theirs));
    entry.flags.push(Flag::ask(FlagKind::HearingsDiffer, d.field, message).options([d.mine, d.theirs]));
}
