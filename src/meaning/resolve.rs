//! Rules 3 and 4: what a vague word is by its zone, and which claw a block sits on.

use super::draft::{Draft, DraftFinding, Half, LooseNumber};
use crate::anatomy::{Claw, Foot};
use crate::disorder::{Course, Disorder, Stage};
use crate::entry::{Act, Action, Entry, Finding};
use crate::grammar::{ClawWord, Named};
use crate::vocab::Vague;
use crate::words::{self, Span};

/// How far before a foot it is looked for that she is to be looked at: "check her", "look at the".
const LED: usize = 16;

/// Where each part of an entry was said, for flags.
#[derive(Clone, Debug, Default)]
pub struct Trace {
    pub cow: Option<Span>,
    pub findings: Vec<FindingTrace>,
    pub actions: Vec<ActionTrace>,
    pub scores: Vec<Span>,
    pub measures: Vec<Span>,
    pub due: Vec<Span>,
    pub clear: Option<Span>,
    pub signs: Vec<Span>,
    pub unread: Vec<Span>,
    pub loose_numbers: Vec<LooseNumber>,
    pub loose_courses: Vec<(Course, Span)>,
    /// Zones and grades of a lesion that was not named.
    pub loose_parts: Vec<Span>,
    /// A foot was named, and nothing of it said.
    pub empty_place: Option<Span>,
    /// Corrections of which nothing could be found that they correct.
    pub corrections_open: Vec<Span>,
    pub same_open: Vec<Span>,
    /// Dates between which a due stands in doubt.
    pub date_doubts: Vec<(usize, Vec<chrono::NaiveDate>)>,
    /// Other ways to read the cow's number.
    pub cow_others: Vec<String>,
    /// Nothing but its place says that the cow's number is one.
    pub cow_bare: bool,
    /// What is glued to the cow's number and was not understood.
    pub cow_glued: Option<Span>,
    /// Among several cows, nothing was said of this one.
    pub empty_cow: bool,
    /// What is said holds for several cows of a list.
    pub shared: bool,
    /// Where she was said to be clean all round, beside a lesion.
    pub clear_lost: Option<Span>,
    /// Where in the note the entry's own part begins.
    pub offset: u32,
    /// Scores that were not whole numbers.
    pub broken_scores: Vec<usize>,
}

#[derive(Clone, Debug)]
pub struct FindingTrace {
    pub span: Span,
    /// "left" or "hind" by itself: the feet it could be.
    pub feet: Vec<Foot>,
    /// The kinds it could be, where that is open.
    pub kinds: Vec<Disorder>,
    /// A grade that is no severity.
    pub grade: Option<u64>,
}

#[derive(Clone, Debug)]
pub struct ActionTrace {
    pub span: Span,
    pub feet: Vec<Foot>,
    /// The block's claw was named.
    pub named: bool,
    /// It stands with a question mark.
    pub unsure: bool,
}

/// The disorder a finding is, or the ones it could be.
fn disorder(f: &DraftFinding) -> Result<Disorder, Vec<Disorder>> {
    let first = one_disorder(f.named, f);
    if f.instead.is_empty() {
        return first;
    }
    let mut all: Vec<Disorder> = Vec::new();
    for one in std::iter::once(first).chain(f.instead.iter().map(|n| one_disorder(*n, f))) {
        for d in one.map_or_else(|open| open, |d| vec![d]) {
            if !all.contains(&d) {
                all.push(d);
            }
        }
    }
    if let [one] = all[..] { Ok(one) } else { Err(all) }
}

fn one_disorder(named: Named, f: &DraftFinding) -> Result<Disorder, Vec<Disorder>> {
    use Disorder::{BU, DS, HFA, HFH, HFV, SU, TU, WL, WLA, WLF};
    let has = |z: u8| f.zones.contains(&z);
    match named {
        Named::Disorder(d) => Ok(d),
        Named::Vague(Vague::Ulcer) => match f.zones.as_slice() {
            [] => Ok(SU),
            _ if has(4) => Ok(SU),
            _ if has(5) || has(1) => Ok(TU),
            _ if has(6) => Ok(BU),
            _ => Err(vec![SU, BU, TU, WL]),
        },
        Named::Vague(Vague::Abscess) => match f.zones.as_slice() {
            [] => Err(vec![WLA, DS, SU]),
            zones if zones.iter().all(|z| (1..=3).contains(z)) => Ok(WLA),
            _ => Err(vec![WLA, DS, BU]),
        },
        // A nail at zone five is hardly in the white line.
        Named::Vague(Vague::ForeignBody) if f.zones.iter().any(|z| !WL.fits_zone(*z)) => Err(vec![WL, SU]),
        Named::Vague(Vague::WhiteLine | Vague::ForeignBody) => Ok(WL),
        Named::Vague(Vague::Separation) => Ok(WLF),
        Named::Vague(Vague::Vertical) => Ok(HFV),
        Named::Vague(Vague::Horizontal) => Ok(HFH),
        Named::Vague(Vague::Crack) => match f.zones.as_slice() {
            [] => Err(vec![HFV, HFH, WLF, HFA]),
            zones if zones.iter().all(|z| (1..=3).contains(z)) => Ok(WLF),
            _ => Err(vec![HFV, HFH, HFA]),
        },
    }
}

/// Makes the entry out of the draft.
pub(super) fn resolve(draft: Draft, text: &str, part: Span) -> (Entry, Trace) {
    let mut entry = Entry { said: part.of(text).trim().to_owned(), ..Entry::default() };
    let mut trace = Trace {
        clear: draft.clear_span,
        signs: draft.signs,
        unread: draft.unread,
        loose_numbers: draft.loose_numbers,
        loose_courses: draft.loose_courses,
        corrections_open: draft.corrections_open,
        same_open: draft.same_open,
        loose_parts: draft.loose_parts,
        date_doubts: draft.date_doubts,
        clear_lost: draft.clear_lost,
        ..Trace::default()
    };
    if let Some((tag, span)) = draft.cow {
        entry.cow = Some(tag.text);
        trace.cow_others = tag.others;
        trace.cow_bare = tag.bare;
        trace.cow_glued = tag.glued;
        trace.cow = Some(span);
    }
    for (k, (score, whole, span)) in draft.scores.into_iter().enumerate() {
        if !whole {
            trace.broken_scores.push(k);
        }
        entry.scores.push(score);
        trace.scores.push(span);
    }
    for f in draft.findings.iter().filter(|f| !said_precisely(f, &draft.findings)) {
        add_finding(f, &mut entry, &mut trace);
    }
    for (m, span) in draft.measures {
        entry.measures.push(m);
        trace.measures.push(span);
    }
    for (d, span) in draft.due {
        entry.due.push(d);
        trace.due.push(span);
    }
    for a in &draft.actions {
        let mut action = Action {
            foot: a.spot.foot,
            claw: a.spot.claw,
            material: a.deed.material.clone(),
            agent: a.deed.agent.clone(),
            lost: a.deed.lost,
            ..Action::new(a.deed.what)
        };
        let mut named = a.own.is_some();
        if action.what == Act::Block {
            named = block_claw(a.own, &mut action, &mut entry);
        } else if let Some(ClawWord::One(c) | ClawWord::Each(c)) = a.own {
            action.claw = Some(c);
        }
        let again = entry.actions.contains(&action)
            || (action.what == Act::Vet && entry.actions.iter().any(|b| b.what == Act::Vet));
        if again {
            if entry.assumed.last().is_some_and(|p| p.starts_with(&format!("actions[{}]", entry.actions.len()))) {
                entry.assumed.pop();
            }
            continue;
        }
        entry.actions.push(action);
        trace.actions.push(ActionTrace {
            span: a.span,
            feet: a.spot.half.map_or_else(Vec::new, Half::feet),
            named,
            unsure: a.unsure,
        });
    }
    entry.clear = draft.clear;
    entry.clear.sort_unstable();
    entry.remarks = draft.remarks;
    // "foot right on the left hand": an aside is no finding, where there is none.
    let aside = draft.asides > 0 && !entry.is_bare() || !trace.signs.is_empty();
    let remark = entry.remarks.len() > draft.remarks_apart;
    // "vet's been, look at her left hind": to be looked at yet, and the remark is of something else.
    let ahead = |place: Span| {
        let led = words::before(text, place.start as usize, LED).to_lowercase();
        let looked = ["look at", "check"].iter().any(|w| led.contains(w));
        looked && !entry.remarks.iter().any(|r| r.contains(place.of(text)))
    };
    if entry.cow.is_some() {
        let empty = |feet: &[Foot], place: Span| {
            // "pull block left hind when I come in April": of what is kept, or right behind it.
            let before = text[..place.start as usize].trim_end();
            let kept = entry.remarks.iter().any(|r| r.contains(place.of(text)) || before.ends_with(r.as_str()));
            is_empty(feet, &draft.told, &entry) && !aside && (!remark || ahead(place) || !kept)
                || draft.unexplained && is_treated_for_nothing(feet, &entry)
        };
        trace.empty_place = draft.places.iter().find(|(feet, place)| empty(feet, *place)).map(|p| p.1);
    }
    (entry, trace)
}

/// "vote on the right rear, wrapped": a block or a wrap went on, and no lesion was named on any foot.
fn is_treated_for_nothing(feet: &[Foot], entry: &Entry) -> bool {
    let here = |a: &Action| a.foot.is_some_and(|f| feet.contains(&f));
    let on = |a: &Action| matches!(a.what, Act::Block | Act::Wrap) && here(a);
    // What comes off tells of a lesion of another day.
    let off = |a: &Action| matches!(a.what, Act::Unblock | Act::Unwrap);
    let quiet = entry.findings.is_empty() && entry.measures.is_empty() && entry.clear.is_empty();
    quiet && entry.actions.iter().any(on) && !entry.actions.iter().any(off)
}

/// Whether nothing was said of any of the feet.
fn is_empty(feet: &[Foot], told: &[Foot], entry: &Entry) -> bool {
    let any = |foot: Option<Foot>| foot.is_some_and(|f| feet.contains(&f));
    // "trimmed all four" is said of the whole cow; the vet is called for something.
    let of_cow = |what: Act| match what {
        Act::Trim => feet.len() == 4,
        Act::Vet => false,
        _ => true,
    };
    let whole = entry.actions.iter().any(|a| a.foot.is_none() && of_cow(a.what));
    let open = entry.findings.iter().any(|f| f.foot.is_none());
    let said = entry.findings.iter().any(|f| any(f.foot))
        || entry.actions.iter().any(|a| any(a.foot))
        || entry.measures.iter().any(|m| any(m.foot))
        || entry.due.iter().any(|d| any(d.foot))
        || entry.clear.iter().chain(told).any(|f| feet.contains(f));
    !(feet.is_empty() || said || whole || open)
}

/// "horn's cracked, a vertical crack": a vague word beside the precise one for the same thing.
fn said_precisely(f: &DraftFinding, all: &[DraftFinding]) -> bool {
    use Disorder::{DD, HFA, HFH, HFV, SH, SHC, SHD, WLA, WLF};
    let precise: &[Disorder] = match f.named {
        Named::Vague(Vague::Crack) if f.zones.is_empty() => &[HFV, HFH, HFA, WLF],
        Named::Vague(Vague::Abscess) => &[WLA],
        // "M4 with a red spot, so M4.1": that is an M4 with a small M1 in it (Berry and others 2012), and one lesion.
        Named::Disorder(DD) if f.stage == Some(Stage::M4) && f.course.is_none() => {
            let fresh = |g: &DraftFinding| g.named == f.named && g.stage == Some(Stage::M41);
            return all.iter().any(|g| fresh(g) && g.spot.foot == f.spot.foot && g.spot.claw == f.spot.claw);
        }
        // "a bruise across both outers, call it diffuse haemorrhage"
        Named::Disorder(SH) if f.zones.is_empty() && f.severity.is_none() => {
            let named = |g: &DraftFinding| matches!(g.named, Named::Disorder(SHC | SHD)) && g.mention == f.mention + 1;
            return all.iter().any(|g| named(g) && g.spot == f.spot && g.claw_held);
        }
        _ => return false,
    };
    all.iter().any(|g| {
        matches!(g.named, Named::Disorder(d) if precise.contains(&d))
            && (f.spot.foot.is_none() || g.spot.foot == f.spot.foot)
    })
}

fn add_finding(f: &DraftFinding, entry: &mut Entry, trace: &mut Trace) {
    let (kind, kinds) = match disorder(f) {
        Ok(d) => (Some(d), vec![]),
        Err(open) => (None, open),
    };
    let severity = f.severity.filter(|s| (1..=3).contains(s)).map(|s| s as u8);
    let new = Finding {
        foot: f.spot.foot,
        // A claw held from a finding before is not the skin's.
        claw: f.spot.claw.filter(|_| !f.claw_held || kind.is_none_or(keeps_claw)),
        zones: f.zones.clone(),
        disorder: kind,
        severity,
        stage: f.stage,
        course: f.course,
        certain: f.unsure.then_some(false),
    };
    let grade = f.severity.filter(|s| !(1..=3).contains(s));
    let same = |old: &Finding| {
        old.disorder == new.disorder
            && new.disorder.is_some()
            && (old.foot == new.foot || new.foot.is_none() && f.spot.half.is_none())
            && (old.claw == new.claw || old.claw.is_none() || new.claw.is_none())
            && (old.stage.is_none() || new.stage.is_none() || old.stage == new.stage)
    };
    if let Some(at) = entry.findings.iter().position(same) {
        let old = &mut entry.findings[at];
        old.claw = old.claw.or(new.claw);
        old.severity = new.severity.or(old.severity);
        old.stage = new.stage.or(old.stage);
        old.course = new.course.or(old.course);
        // Named twice, it is as doubtful as where it was doubted.
        old.certain = old.certain.or(new.certain);
        trace.findings[at].grade = grade.or(trace.findings[at].grade);
        for z in new.zones {
            if !old.zones.contains(&z) {
                old.zones.push(z);
            }
        }
        return;
    }
    entry.findings.push(new);
    trace.findings.push(FindingTrace {
        span: f.span,
        feet: f.spot.half.map_or_else(Vec::new, Half::feet),
        kinds,
        grade,
    });
}

/// Disorders between the claws have none, even when a claw was held from before.
fn keeps_claw(d: Disorder) -> bool {
    use Disorder::{DD, HHE, ID, IH, IP, SC, SW};
    !matches!(d, ID | IH | IP | DD | SC | SW | HHE) || d.needs_claw()
}

/// Rule 3. Gives whether the claw was named.
fn block_claw(own: Option<ClawWord>, action: &mut Action, entry: &mut Entry) -> bool {
    let at = entry.actions.len();
    if let Some(ClawWord::One(c) | ClawWord::Each(c)) = own {
        action.claw = Some(c);
        return true;
    }
    if own == Some(ClawWord::Both) {
        return true;
    }
    action.claw = sound_claw(entry, action.foot);
    if action.claw.is_some() && own != Some(ClawWord::Other) {
        entry.assumed.push(format!("actions[{at}].claw"));
    }
    own == Some(ClawWord::Other)
}

/// The partner of the one claw of the foot that has a lesion.
pub(crate) fn sound_claw(entry: &Entry, foot: Option<Foot>) -> Option<Claw> {
    let foot = foot?;
    let mut claws: Vec<Claw> = entry.findings.iter().filter(|f| f.foot == Some(foot)).filter_map(|f| f.claw).collect();
    claws.sort_unstable();
    claws.dedup();
    match claws.as_slice() {
        [one] => Some(one.partner()),
        _ => None,
    }
}
