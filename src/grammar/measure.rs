//! Scores, grades, stages, measures: a word and a number.
//!
//! ```ebnf
//! score   = scale , [ "score" ] , n , [ "out of" , n ] | "score" , n | n , "out of" , n ;
//! grade   = "grade" , n ;
//! stage   = "M" , n , [ "point" , n ] ;
//! measure = ( measure | part ) , amount , [ unit ] , [ "long" ] | amount , unit , [ part | "long" ] ;
//! zones   = "zone" , n , { [ "and" ] , n } ;
//! ```

use super::item::Phrase;
use super::number::{amount, list, whole};
use super::toks::{Res, Toks};
use crate::anatomy::Side;
use crate::disorder::Stage;
use crate::entry::{MeasureKind, Scale};
use crate::matches::{How, Tok};
use crate::vocab::{Atom, Meaning, Part, Style, Unit};
use crate::words::Gap;

/// `counts`: whether a number behind a comma counts something else ("zone 4, 5 days in milk").
pub(super) fn zones<'a>(input: Toks<'a>, counts: impl Fn(Toks<'a>) -> bool) -> Res<'a, Phrase> {
    if input.meaning() != Some(Meaning::ZoneCue) {
        return input.fail();
    }
    let (rest, zones) = list(input.skip(1), counts)?;
    // "then 15 had a wart": an everyday word that sounds like the cue, and no zone.
    let everyday = input.first().is_some_and(|t| matches!(t.how, How::Near { known: true, .. }));
    // "seen three weeks ago"
    if everyday && matches!(rest.meaning(), Some(Meaning::Period(_))) && rest.gap() <= Gap::Space {
        return input.fail();
    }
    let most = if everyday { crate::anatomy::LAST_ZONE.into() } else { 99 };
    if zones.iter().any(|z| *z > most) {
        return input.fail();
    }
    Ok((rest, Phrase::Zones(zones.into_iter().map(|z| u8::try_from(z).unwrap_or(u8::MAX)).collect())))
}

/// `before`: the scale of the score before, which one without a name goes on with.
pub(super) fn score(input: Toks, before: Option<Scale>) -> Res<Phrase> {
    let mut rest = input;
    let scale = match rest.meaning() {
        Some(Meaning::Scale(s)) => {
            rest = rest.skip(1);
            if rest.meaning() == Some(Meaning::ScoreCue) {
                rest = rest.skip(1);
            }
            Some(s)
        }
        Some(Meaning::ScoreCue) => {
            rest = rest.skip(1);
            if let Some(Meaning::Scale(s)) = rest.meaning() {
                rest = rest.skip(1);
                Some(s)
            } else {
                before.or(Some(Scale::Locomotion))
            }
        }
        _ => None,
    };
    while scale.is_some() && matches!(rest.meaning(), Some(Meaning::Only | Meaning::In | Meaning::Afterwards)) {
        rest = rest.skip(1);
    }
    // "locomotion not four, three"
    if scale.is_some()
        && rest.meaning() == Some(Meaning::Not)
        && let Ok((after, _)) = whole(rest.skip(1))
        && after.gap() <= Gap::Comma
        && whole(after).is_ok()
    {
        rest = after;
    }
    // "mobility improved from three to one"
    let mut from = scale.is_some() && input.bytes_before(rest) == Some(" from ".len() as u32);
    if scale.is_some() && matches!(rest.meaning(), Some(Meaning::Course(_))) && whole(rest.skip(1)).is_ok() {
        rest = rest.skip(1);
        from = true;
    }
    // `loco 3/5`
    if let (Some(scale), Some(Meaning::Number(Atom::Slash { left, right }))) = (scale, rest.meaning()) {
        let value = u64::from(left);
        let fits = *scale.range().end() == u64::from(right);
        return Ok((rest.skip(1), Phrase::Score { scale, value, whole: fits }));
    }
    // "one on the mobility"
    if scale.is_none()
        && let Ok((after, n)) = whole(rest)
        && let (Some(Meaning::In), Some(Meaning::Scale(s))) = (after.meaning(), after.nth(1))
        && after.gap() <= Gap::Space
        && after.skip(1).gap() <= Gap::Space
        && s.range().contains(&n)
    {
        let score = usize::from(after.nth(2) == Some(Meaning::ScoreCue));
        return Ok((after.skip(2 + score), Phrase::Score { scale: s, value: n, whole: true }));
    }
    let (mut rest, milli) = amount(rest)?;
    let (mut value, whole_number) = (milli / 1000, milli % 1000 == 0);
    let mut scale = scale;
    let mut fits = true;
    // "locomotion three to four", "loco 3 down to 2": which of them is asked.
    if from
        && let Ok((after, now)) = whole(rest)
        && input.bytes_before(rest) == Some(" to ".len() as u32)
        && !counts(after)
    {
        (rest, value) = (after, now);
    } else if scale.is_some()
        && let Some(after) = to_next(input, rest, value).or_else(|| down_to(input, rest, value))
    {
        rest = after;
        fits = false;
    }
    if rest.meaning() == Some(Meaning::OutOf)
        && let Ok((after, top)) = whole(rest.skip(1))
    {
        rest = after;
        let by_top = match top {
            5 => Some(Scale::Locomotion),
            3 => Some(Scale::Mobility),
            _ => None,
        };
        // "locomotion three out of three" contradicts itself.
        fits = scale.is_none_or(|s| by_top == Some(s));
        scale = scale.or(by_top);
    }
    // "score her a two for mobility"
    let named = if rest.meaning() == Some(Meaning::In) { rest.skip(1) } else { rest };
    if input.meaning() == Some(Meaning::ScoreCue)
        && let Some(Meaning::Scale(s)) = named.meaning()
        && rest.gap().max(named.gap()) <= Gap::Space
        && s.range().contains(&value)
        && amount(named.skip(1)).is_err()
    {
        scale = Some(s);
        rest = named.skip(1);
    }
    match scale {
        Some(scale) if !counts(rest) => Ok((rest, Phrase::Score { scale, value, whole: whole_number && fits })),
        _ => input.fail(),
    }
}

/// Whether the number before counts what follows.
fn counts(rest: Toks) -> bool {
    rest.gap() <= Gap::Space && matches!(rest.meaning(), Some(Meaning::Unit(_) | Meaning::Period(_)))
}

pub(super) fn grade(input: Toks) -> Res<Phrase> {
    match input.meaning() {
        // `sev 2` is short for "severity two".
        Some(Meaning::Severity(_))
            if input.first().is_some_and(|t| t.how == How::Exact(Style::Written))
                && input.skip(1).gap() <= Gap::Space
                && graded(input.skip(1))
                    .is_ok_and(|(rest, n)| ((1..=3).contains(&n) || n > BETWEEN) && !counts(rest)) =>
        {
            let (rest, n) = graded(input.skip(1))?;
            Ok((rest, Phrase::Severity(n)))
        }
        // "mild to moderate", "moderate or severe"
        Some(Meaning::Severity(s @ 1..=2))
            if input.nth(1) == Some(Meaning::Severity(s + 1))
                && input.bytes_before(input.skip(1)) == Some(" or ".len() as u32) =>
        {
            Ok((input.skip(2), Phrase::Severity(BETWEEN + u64::from(s))))
        }
        Some(Meaning::Severity(s)) => Ok((input.skip(1), Phrase::Severity(u64::from(s)))),
        Some(Meaning::GradeCue) => {
            if let Some(Meaning::Severity(s)) = input.nth(1) {
                return Ok((input.skip(2), Phrase::Severity(u64::from(s))));
            }
            let (rest, n) = graded(input.skip(1))?;
            Ok((rest, Phrase::Severity(n)))
        }
        _ => input.fail(),
    }
}

/// The number of a grade: `2`, `1/3` (of three), or two side by side ("2-3", "two to three", `1/2`), which of them
/// is asked ([`BETWEEN`]).
fn graded(input: Toks) -> Res<u64> {
    if let Some(Meaning::Number(Atom::Slash { left, right })) = input.meaning() {
        let (left, right) = (u64::from(left), u64::from(right));
        return match (left, right) {
            (1 | 3, 3) => Ok((input.skip(1), left)),
            (1, 2) | (2, 3) => Ok((input.skip(1), BETWEEN + left)),
            _ => input.fail(),
        };
    }
    let (rest, n) = whole(input)?;
    match to_next(input, rest, n) {
        Some(after) if (1..=2).contains(&n) => Ok((after, BETWEEN + n)),
        _ => Ok((rest, n)),
    }
}

/// What comes behind the next number, where `rest` goes on with it after `n`: "two to three", "two or three", `2-3`.
fn to_next<'a>(input: Toks<'a>, rest: Toks<'a>, n: u64) -> Option<Toks<'a>> {
    let to = if matches!(rest.meaning(), Some(Meaning::In)) { rest.skip(1) } else { rest };
    // A short word stands between.
    let joined = rest != to || rest.gap() == Gap::Glue || input.bytes_before(rest) == Some(" to ".len() as u32);
    let (after, m) = whole(to).ok()?;
    (joined && to.gap() <= Gap::Comma && m == n + 1 && !counts(after)).then_some(after)
}

/// What comes behind a smaller number that "to" leads to.
fn down_to<'a>(input: Toks<'a>, rest: Toks<'a>, n: u64) -> Option<Toks<'a>> {
    let (after, m) = whole(rest).ok()?;
    let between = input.bytes_before(rest)?;
    let led = [" to ", " down to "].iter().any(|w| between == w.len() as u32);
    (rest.gap() <= Gap::Comma && led && m < n && !counts(after)).then_some(after)
}

/// Added to a grade that lies between it and the next; nobody says a number so large.
pub(crate) const BETWEEN: u64 = u64::MAX - 4;

pub(super) fn stage(input: Toks) -> Res<Phrase> {
    if let Some(Meaning::Stage(n)) = input.meaning() {
        // "M four point one", where a recogniser's "M four" is one word
        let close = input.skip(1).gap() <= Gap::Space && input.skip(2).gap() <= Gap::Space;
        let tenth = match (input.nth(1), input.nth(2)) {
            (Some(Meaning::Number(Atom::Point)), Some(Meaning::Number(tenth))) if close => match tenth {
                Atom::Unit(tenth) => Some(u64::from(tenth)),
                Atom::Digits { value, len: 1 } => Some(value),
                _ => None,
            },
            _ => None,
        };
        let used = if tenth.is_some() { 3 } else { 1 };
        return match Stage::new(u64::from(n), tenth) {
            Some(s) => Ok((input.skip(used), Phrase::Stage(s))),
            None => input.fail(),
        };
    }
    // `M.2`
    let dotted = |t: &Tok| input.first().is_some_and(|cue| t.span.start == cue.span.end + 1);
    if input.meaning() != Some(Meaning::StageCue) || input.0.get(1).is_none_or(|t| t.gap > Gap::Space && !dotted(t)) {
        return input.fail();
    }
    if let Some(Meaning::Number(Atom::Decimal { milli, .. })) = input.nth(1) {
        return match Stage::new(milli / 1000, Some(milli % 1000 / 100)) {
            Some(s) => Ok((input.skip(2), Phrase::Stage(s))),
            None => input.fail(),
        };
    }
    let (rest, milli) = amount(input.skip(1))?;
    let tenth = (milli % 1000 > 0).then_some(milli % 1000 / 100);
    match Stage::new(milli / 1000, tenth) {
        Some(s) if !counts(rest) => Ok((rest, Phrase::Stage(s))),
        _ => input.fail(),
    }
}

pub(super) fn of_part(part: Part) -> MeasureKind {
    match part {
        Part::Toe | Part::Wall => MeasureKind::ToeLength,
        Part::Sole => MeasureKind::SoleThickness,
        Part::Heel => MeasureKind::HeelHeight,
    }
}

/// To thousandths of a millimetre or of a degree.
pub(crate) fn convert(milli: u64, unit: Unit) -> u64 {
    match unit {
        Unit::Mm | Unit::Degree => milli,
        Unit::Cm => milli.saturating_mul(10),
        Unit::Inch => milli.saturating_mul(254) / 10,
    }
}

/// `measured`: another measure stands before, so that this one may go without its unit ("sole six").
pub(super) fn measure(input: Toks, measured: bool) -> Res<Phrase> {
    named(input, measured).or_else(|_| amount_first(input))
}

/// No toe, sole or heel is as long, in thousandths of a millimetre: half a metre.
const NO_LENGTH: u64 = 500_000;

fn named(input: Toks, measured: bool) -> Res<Phrase> {
    let (mut rest, what, needs_unit) = match input.meaning() {
        Some(Meaning::Measure(m)) => (input.skip(1), m, false),
        Some(Meaning::Part(p)) => match input.nth(1) {
            Some(Meaning::Measure(m)) => (input.skip(2), m, false),
            Some(Meaning::Long) => (input.skip(2), of_part(p), false),
            _ => (input.skip(1), of_part(p), !measured),
        },
        _ => return input.fail(),
    };
    // (Not "took it off the wall, sole is four millimetres".)
    while matches!(rest.meaning(), Some(Meaning::Only | Meaning::In | Meaning::ScoreCue | Meaning::Long))
        || matches!(rest.meaning(), Some(Meaning::Part(_))) && rest.gap() <= Gap::Space
    {
        rest = rest.skip(1);
    }
    let (rest, milli, unit) = one_and_a_part(rest).map_or_else(
        || {
            let (rest, milli) = amount(rest)?;
            Ok(match rest.meaning() {
                Some(Meaning::Unit(u)) if rest.gap() <= Gap::Space => (rest.skip(1), milli, Some(u)),
                _ => (rest, milli, None),
            })
        },
        Ok,
    )?;
    // `toe 78 heel 35`, but not "erosion at the heel, 45 clean".
    let close = input.skip(1).gap() <= Gap::Space;
    let mut rest = rest;
    let plausible = is_plausible(what, milli, close);
    let part = matches!(input.meaning(), Some(Meaning::Part(_)));
    let ulcer = part && unit.is_none() && !plausible && milli > 20_000;
    if unit.is_none() && (needs_unit && !plausible || ulcer || matches!(rest.meaning(), Some(Meaning::Period(_)))) {
        return input.fail();
    }
    // "toe length on 1009": the cow.
    if unit.is_none() && milli > NO_LENGTH {
        return input.fail();
    }
    if rest.meaning() == Some(Meaning::Long) && rest.gap() <= Gap::Space {
        rest = rest.skip(1);
    }
    // "sole seven millimetres at the toe"
    let mut at = None;
    if what == MeasureKind::SoleThickness
        && rest.gap() <= Gap::Space
        && let Some(Meaning::Part(p @ (Part::Toe | Part::Heel))) = rest.meaning()
        && !(rest.skip(1).gap() <= Gap::Space && matches!(rest.nth(1), Some(Meaning::Number(_))))
    {
        at = Some(p);
        rest = rest.skip(1);
    }
    let degrees = unit == Some(Unit::Degree);
    let what = if degrees { MeasureKind::ToeAngle } else { what };
    if what == MeasureKind::ToeAngle && !degrees && unit.is_some() {
        return input.fail();
    }
    Ok((rest, Phrase::Measure { what, milli: convert(milli, unit.unwrap_or(Unit::Mm)), at }))
}

/// "inch and a half"
fn one_and_a_part(input: Toks) -> Option<(Toks, u64, Option<Unit>)> {
    let Some(Meaning::Unit(unit)) = input.meaning() else { return None };
    if input.nth(1) != Some(Meaning::And) {
        return None;
    }
    let (rest, part) = amount(input.skip(2)).ok()?;
    (part < 1000).then_some((rest, 1000 + part, Some(unit)))
}

/// No sole is so thick, in thousandths of a millimetre; a toe or a heel is longer.
const THICK: u64 = 25_000;

/// "toe 90" in a notebook: digits that such a length can have, so that they need no unit.
fn is_plausible(what: MeasureKind, milli: u64, close: bool) -> bool {
    match what {
        MeasureKind::ToeLength => (50_000..=130_000).contains(&milli),
        MeasureKind::HeelHeight => close && (25_000..=80_000).contains(&milli),
        _ => false,
    }
}

/// What such a measure comes to, so that a number by itself may be one (common practice).
fn is_likely(what: MeasureKind, milli: u64) -> bool {
    match what {
        MeasureKind::ToeLength => is_plausible(what, milli, true),
        MeasureKind::HeelHeight => (20_000..=80_000).contains(&milli),
        MeasureKind::ToeAngle => (30_000..=70_000).contains(&milli),
        MeasureKind::SoleThickness => (2_000..THICK).contains(&milli),
    }
}

/// "toe eighty on the left and eighty five on the right": the same measure again, elsewhere.
/// `placed`: its place stands right before ("right hind lateral, fifty").
pub(super) fn another(input: Toks, what: Option<MeasureKind>, placed: bool) -> Res<Phrase> {
    let Some(what) = what else { return input.fail() };
    let (rest, milli) = amount(input)?;
    let there = if rest.meaning() == Some(Meaning::In) { rest.skip(1) } else { rest };
    // "sole six millimetres at the toe and eight at the heel"
    if what == MeasureKind::SoleThickness
        && milli < THICK
        && there.gap() <= Gap::Space
        && let Some(Meaning::Part(p @ (Part::Toe | Part::Heel))) = there.meaning()
    {
        return Ok((there.skip(1), Phrase::Measure { what, milli, at: Some(p) }));
    }
    let before = placed && input.gap() <= Gap::Comma && rest.gap() > Gap::Space;
    let placed = before
        || there.gap() <= Gap::Space
            && matches!(
                there.meaning(),
                Some(Meaning::Side(_) | Meaning::Foot(_) | Meaning::Place(..) | Meaning::Claw(_))
            );
    if placed && is_likely(what, milli) { Ok((rest, Phrase::Measure { what, milli, at: None })) } else { input.fail() }
}

/// "four mil left": what is left of it, where the part of the sentence ends there and no right comes after.
fn left_over(rest: Toks) -> Toks {
    let left = rest.meaning() == Some(Meaning::Side(Side::Left)) && rest.gap() <= Gap::Space;
    // "five mil of sole left and the left rear …"
    let foot = rest.nth(1) == Some(Meaning::And) && matches!(rest.nth(2), Some(Meaning::Foot(_) | Meaning::Place(..)));
    let ends = rest.0.len() == 1 || rest.skip(1).gap() > Gap::Space || foot;
    let right = rest.0.iter().any(|t| matches!(t.meaning, Some(Meaning::Side(Side::Right))));
    if left && ends && !right { rest.skip(1) } else { rest }
}

fn amount_first(input: Toks) -> Res<Phrase> {
    let (rest, milli) = amount(input)?;
    let Some(Meaning::Unit(unit)) = rest.meaning() else {
        return input.fail();
    };
    if rest.gap() > Gap::Space {
        return input.fail();
    }
    let mut rest = left_over(rest.skip(1));
    if rest.gap() <= Gap::Space {
        match rest.meaning() {
            // (In "eighty five millimetres, the sole is four" the part is the next one's.)
            Some(Meaning::Part(p))
                if unit != Unit::Degree
                    && !(matches!(rest.nth(1), Some(Meaning::Number(_))) && rest.skip(1).gap() <= Gap::Space) =>
            {
                let milli = convert(milli, unit);
                // "three millimetres at the toe" is the sole there; a toe or heel is longer.
                let thin = matches!(p, Part::Toe | Part::Heel) && milli < THICK;
                let (what, at) = if thin { (MeasureKind::SoleThickness, Some(p)) } else { (of_part(p), None) };
                return Ok((left_over(rest.skip(1)), Phrase::Measure { what, milli, at }));
            }
            Some(Meaning::Measure(m)) if (unit == Unit::Degree) == (m == MeasureKind::ToeAngle) => {
                return Ok((rest.skip(1), Phrase::Measure { what: m, milli: convert(milli, unit), at: None }));
            }
            Some(Meaning::Long) => rest = rest.skip(1),
            _ => {}
        }
    }
    if unit == Unit::Degree {
        return Ok((rest, Phrase::Measure { what: MeasureKind::ToeAngle, milli, at: None }));
    }
    Ok((rest, Phrase::Amount { milli, unit }))
}
