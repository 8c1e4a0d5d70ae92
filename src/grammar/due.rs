//! What is due, and when.
//!
//! ```ebnf
//! due = recheck , { recheck } , [ time ] | time , [ "and" ] , recheck ;
//! off = ( "take off" | "off" ) , time ;
//! ```

use super::item::{Phrase, When};
use super::time;
use super::toks::{Res, Toks};
use crate::matches::{How, Tok};
use crate::vocab::{Meaning, Style};
use crate::words::{self, Gap};

/// "recheck in four weeks", "in four weeks recheck".
/// `here`: nothing but the cow was named before.
pub(super) fn due(input: Toks, here: bool) -> Res<Phrase> {
    use crate::entry::DueWhat::Recheck;
    let again = |m: Option<Meaning>| matches!(m, Some(Meaning::Recheck | Meaning::Look));
    if again(input.meaning()) {
        let mut strong = input.meaning() == Some(Meaning::Recheck);
        let mut rest = input.skip(1);
        while again(rest.meaning()) && rest.gap() <= Gap::Space {
            strong |= rest.meaning() == Some(Meaning::Recheck);
            rest = rest.skip(1);
        }
        if rest.gap() <= Gap::Comma
            && let Ok((after, Some(when))) = time::time(rest)
        {
            // "back for her six-week check"
            let check = again(after.meaning()) && after.gap() <= Gap::Space;
            if check && (matches!(when, When::DayOfMonth(_)) || here && is_singular(rest, after)) {
                return Ok((after.skip(1), Phrase::Aside));
            }
            return Ok((after, Phrase::Due { what: Recheck, when }));
        }
        if let Some((after, when)) = time::dotted(rest) {
            return Ok((after, Phrase::Due { what: Recheck, when }));
        }
        if !(strong || is_seen_again(rest)) {
            return input.fail();
        }
        return Ok((rest, Phrase::Due { what: Recheck, when: When::Open }));
    }
    let (mut rest, Some(when)) = time::time(input)? else {
        return input.fail();
    };
    // "three week check, left hind clean": why she is here.
    let ordinal = matches!(when, When::DayOfMonth(_)) && input.0.len() - rest.0.len() == 1;
    // "back for her third check": the visit's.
    let check = again(rest.meaning()) && rest.gap() <= Gap::Space;
    if check && (ordinal || here && is_singular(input, rest)) {
        return Ok((rest.skip(1), Phrase::Aside));
    }
    if rest.meaning() == Some(Meaning::And) && again(rest.nth(1)) {
        rest = rest.skip(1);
    }
    // "no block today, look again the nineteenth"
    let today = when == When::Days(0) && rest.gap() > Gap::Space;
    // "looked better for a month, crossing again": what stands between is what is again.
    let passed = rest.first().is_some_and(|t| {
        let from = input.span_to(rest).end;
        t.span.end - t.span.start == "again".len() as u32 && t.span.start > from + ", ".len() as u32
    });
    // "pared it today look at it again in two weeks", "wrap off in three days, recheck in a month"
    let later = (when == When::Days(0) || rest.gap() > Gap::Space)
        && rest.skip(1).gap() <= Gap::Space
        && time::time(rest.skip(1)).is_ok_and(|(_, when)| when.is_some());
    if again(rest.meaning()) && rest.gap() <= Gap::Comma && !today && !passed && !later {
        return Ok((rest.skip(1), Phrase::Due { what: Recheck, when }));
    }
    input.fail()
}

/// "see her before Easter", "look at her once she's dry": to be seen again, and the day is open.
pub(super) fn someday(text: &str, look: &Tok) -> Option<Phrase> {
    use crate::entry::DueWhat::Recheck;
    if look.meaning != Some(Meaning::Look) {
        return None;
    }
    let said = look.span.of(text).to_lowercase();
    let bidden = ["see ", "check ", "look "].iter().any(|w| said.starts_with(w)) && said.len() > "look ".len();
    let behind = words::behind(text, look.span.end as usize, " around ".len()).to_lowercase();
    let some = [" before ", " after ", " around ", " when ", " once "].iter().any(|w| behind.starts_with(w));
    (bidden && some).then_some(Phrase::Due { what: Recheck, when: When::Open })
}

/// "check the wrap in three days": what is to be seen again on a day that is told behind it.
fn is_seen_again(rest: Toks) -> bool {
    let close = |t: &&Tok| t.gap <= Gap::Space;
    let seen = |t: &&Tok| {
        use crate::vocab::Kind;
        let kind = t.meaning.map(Meaning::kind);
        matches!(
            kind,
            Some(Kind::Block | Kind::Wrap | Kind::Disorder | Kind::Vague | Kind::Foot | Kind::Claw | Kind::End)
        )
    };
    let things = rest.0.iter().take_while(close).take_while(seen).count();
    let day = rest.skip(things);
    let to_come = |when| when != When::Days(0);
    things > 0 && day.gap() <= Gap::Space && time::time(day).is_ok_and(|(_, when)| when.is_some_and(to_come))
}

/// "take it off in five days", "off Monday".
pub(super) fn off_at(input: Toks) -> Res<Phrase> {
    let mut rest = input;
    while matches!(rest.meaning(), Some(Meaning::Remove | Meaning::Off | Meaning::TakenOff))
        && (rest == input || rest.gap() <= Gap::Space)
    {
        rest = rest.skip(1);
        // "pull em Monday"
        if rest.meaning() == Some(Meaning::StageCue) && !matches!(rest.nth(1), Some(Meaning::Number(_))) {
            rest = rest.skip(1);
        }
    }
    if rest == input || rest.gap() > Gap::Space {
        return input.fail();
    }
    if let Some((after, when)) = time::dotted(rest) {
        return Ok((after, Phrase::OffAt(when)));
    }
    match time::time(rest)? {
        (after, Some(when)) if when != When::Days(0) => Ok((after, Phrase::OffAt(when))),
        _ => input.fail(),
    }
}

pub(super) fn past_or_time(input: Toks) -> Res<Phrase> {
    let (rest, when) = time::time(input)?;
    // "blocked in January": what is to be done has its word before it ("recheck in April").
    Ok((rest, when.filter(|when| *when != When::Month).map_or(Phrase::Past, Phrase::Time)))
}

/// "three week", and no "three weeks".
fn is_singular(input: Toks, rest: Toks) -> bool {
    let used = input.0.len() - rest.0.len();
    let unit = used.checked_sub(1).map(|last| &input.0[last]);
    // `3 wk chk 1130`
    let short = |t: &Tok| t.how == How::Exact(Style::Written) && t.span.end - t.span.start <= "wk".len() as u32;
    used > 1 && unit.is_some_and(|t| t.is_singular() || short(t))
}
