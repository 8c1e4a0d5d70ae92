//! Feet and claws.
//!
//! ```ebnf
//! place = foot , { "and" , foot } , [ claw ] | claw , [ ["of"] , foot ] ;
//! foot  = "left hind" | side , end | side | "hinds" | "both" | "all four" | "the rest" | "the other foot" ;
//! claw  = "outer" | "outers" | "other claw" | "both claws" ;
//! ```

use super::item::{ClawWord, Place, Where};
use super::toks::{Res, Toks};
use crate::anatomy::{Claw, End, Foot, Side};
use crate::matches::{How, Tok};
use crate::vocab::{Atom, Meaning, Part, Style};
use crate::words::{self, Gap, Span};

pub(super) fn place(input: Toks) -> Res<Place> {
    if let Ok((rest, claw)) = claw(input) {
        // "outer claw left hind"
        if rest.gap() <= Gap::Space
            && let Ok((after, mut place)) = feet(rest)
            && place.claw.is_none()
            && place.feet != Where::Same
            && claw_word(after).is_none()
            && !(place.feet == Where::Side(Side::Right) && is_exactly(rest, after))
            // "shoe on the medial the left hind …", "the other one then the right hind has a wart": but "outer of the left hind"
            && !input.bytes_before(rest).is_some_and(|n| n == " the ".len() as u32 || n > " of the ".len() as u32)
        {
            place.claw = Some(claw);
            return Ok((after, place));
        }
        // "the outer claw on the left hind"
        if rest.meaning() == Some(Meaning::In)
            && rest.gap() <= Gap::Space
            && rest.skip(1).gap() <= Gap::Space
            && let Ok((after, mut place)) = feet(rest.skip(1))
            && place.claw.is_none()
            && (!place.group || matches!(claw, ClawWord::Each(_)))
            && matches!(place.feet, Where::Feet(_))
            && claw_word(after).is_none()
        {
            place.claw = Some(claw);
            return Ok((after, place));
        }
        return Ok((rest, Place { feet: Where::Same, claw: Some(claw), group: false }));
    }
    feet(input)
}

/// "the outer claw right at zone four": `rest` begins with "right", which tells how exactly, and no side.
pub(super) fn is_exactly(rest: Toks, after: Toks) -> bool {
    let next = if after.meaning() == Some(Meaning::In) { after.skip(1) } else { after };
    let there = matches!(next.meaning(), Some(Meaning::ZoneCue | Meaning::Part(_))) && next.gap() <= Gap::Space;
    // A word stands between ("at", "in", "on").
    let apart = rest.first().zip(next.first()).is_some_and(|(right, zone)| zone.span.start > right.span.end + 1);
    there && apart
}

fn feet(input: Toks) -> Res<Place> {
    let (mut rest, mut place) = foot(input)?;
    if rest.gap() <= Gap::Comma
        && let Some(c) = claw_word(rest)
        // "block off right rear, outer ulcer closed": behind a comma it is the lesion's.
        && (rest.gap() <= Gap::Space || !matches!(rest.nth(1), Some(Meaning::Disorder(_) | Meaning::Vague(_))))
        // "both hinds, outer on the left": one foot's claw.
        && !(place.group
            && rest.gap() > Gap::Space
            && rest.nth(1) == Some(Meaning::In)
            && matches!(rest.nth(2), Some(Meaning::Side(_) | Meaning::Foot(_))))
    {
        rest = claw(rest)?.0;
        place.claw = Some(c);
    }
    // `LF RF LH RH TS`: a list in a notebook
    if let Where::Feet(feet) = &mut place.feet {
        while rest.gap() <= Gap::Space
            && rest.first().is_some_and(|t| t.how == How::Exact(Style::Written))
            && let Some(Meaning::Foot(_) | Meaning::Place(..)) = rest.meaning()
        {
            let own = match place.claw.take() {
                Some(ClawWord::One(c)) => Some(c),
                _ => None,
            };
            if let Some(last) = feet.last_mut() {
                last.1 = last.1.or(own);
            }
            match rest.meaning() {
                Some(Meaning::Place(f, c)) => feet.push((f, Some(c))),
                Some(Meaning::Foot(f)) => feet.push((f, None)),
                _ => break,
            }
            place.group = true;
            rest = rest.skip(1);
        }
    }
    if let Some((after, feet)) = listed(rest, &place) {
        return Ok((after, Place { feet: Where::Feet(feet), claw: None, group: true }));
    }
    // "left hind outer and right hind inner", "left and right hind", but not "block off the left hind somewhere in the yard
    // and the right front …"
    let near = |rest: Toks| input.bytes_before(rest).is_none_or(|n| n <= NEAR_THE_FOOT);
    while rest.meaning() == Some(Meaning::And) && near(rest) {
        let next = rest.skip(1);
        let Ok((after, more)) = foot(next) else { break };
        // "behind left and right"
        if let (Where::Feet(a), Where::Side(side)) = (&place.feet, &more.feet)
            && let ([(first, None)], Some(Meaning::End(_)), None) = (&a[..], input.meaning(), place.claw)
            && *side != first.side()
        {
            let second = Foot::new(*side, first.end());
            place = Place { feet: Where::Feet(vec![(*first, None), (second, None)]), claw: None, group: true };
            rest = after;
            continue;
        }
        // "ulcers healed left and right": both, of the end spoken of.
        if let (Where::Side(a), Where::Side(b), None, None) = (&place.feet, &more.feet, place.claw, more.claw)
            && a != b
            && (after.0.is_empty() || after.gap() > Gap::Space)
        {
            return Ok((after, Place { feet: Where::Both, claw: None, group: true }));
        }
        let (Where::Feet(_) | Where::Side(_) | Where::End(_), Where::Feet(b)) = (&place.feet, &more.feet) else {
            break;
        };
        let mut feet = match &place.feet {
            Where::Feet(a) => a.clone(),
            Where::Side(side) => vec![(Foot::new(*side, b[0].0.end()), None)],
            // "front and left hind clean": both fronts
            Where::End(end) if after.meaning() == Some(Meaning::Clear) && b.iter().all(|f| f.0.end() != *end) => {
                both(*end).map(|f| (f, None)).to_vec()
            }
            _ => break,
        };
        // "scissor claws, both fronts, and the right hind is swollen"
        let told = claw(after).map_or(after, |(told, _)| told);
        let lesion = matches!(told.meaning(), Some(Meaning::Disorder(_) | Meaning::Vague(_)));
        // "foot rot on the left hind, and the right hind has a healed ulcer"
        let tells = place.group && lesion || matches!(told.meaning(), Some(Meaning::Had | Meaning::Part(_)));
        if rest.gap() > Gap::Space && tells && told.gap() <= Gap::Comma {
            break;
        }
        // "wart left hind, and the right hind I only cleaned, nothing there"; a bare "clean" may be of all feet.
        let clear = match told.meaning() {
            Some(Meaning::Only) => true,
            Some(Meaning::Clear) => told.first().is_some_and(|t| t.span.end - t.span.start > "clean".len() as u32),
            _ => false,
        };
        if rest.gap() > Gap::Space && clear && told.gap() <= Gap::Comma {
            break;
        }
        // "thin soles both hinds, and right hind outer a bruise": one of them by itself.
        if place.group && b.iter().any(|f| feet.iter().any(|a| a.0 == f.0)) {
            break;
        }
        let own = match place.claw {
            Some(ClawWord::One(c) | ClawWord::Each(c)) => Some(c),
            _ => None,
        };
        for f in &mut feet {
            f.1 = f.1.or(own);
        }
        let mut after = after;
        let mut theirs = None;
        if after.gap() <= Gap::Space
            && let Some(ClawWord::One(c) | ClawWord::Each(c)) = claw_word(after)
        {
            theirs = Some(c);
            after = claw(after)?.0;
        }
        let said_first = place.claw.is_some();
        if let Some(ClawWord::One(c) | ClawWord::Each(c)) = more.claw {
            theirs = Some(c);
        }
        feet.extend(b.iter().map(|f| (f.0, theirs)));
        if !said_first && theirs.is_some() {
            // "left and right hind outer": the claw is said once for both.
            for f in &mut feet {
                f.1 = theirs;
            }
        }
        place = Place { feet: Where::Feet(feet), claw: None, group: true };
        rest = after;
    }
    Ok((rest, place))
}

/// "left hind outer, right hind outer and right front inner": a list that ends with "and", with nothing else behind
/// it. Gives the feet with their claws, `first` among them.
fn listed<'a>(mut rest: Toks<'a>, first: &Place) -> Option<(Toks<'a>, Vec<(Foot, Option<Claw>)>)> {
    let one = |p: &Place| match (&p.feet, p.claw) {
        (Where::Feet(feet), claw) if feet.len() == 1 && !p.group => {
            let claw = if let Some(ClawWord::One(c)) = claw { Some(c) } else { None };
            Some((feet[0].0, claw.or(feet[0].1)))
        }
        _ => None,
    };
    let mut feet = vec![one(first)?];
    loop {
        let and = rest.meaning() == Some(Meaning::And);
        if !(and || rest.gap() == Gap::Comma) {
            return None;
        }
        let (mut after, mut next) = foot(if and { rest.skip(1) } else { rest }).ok()?;
        if after.gap() <= Gap::Space
            && let Ok((behind, c)) = claw(after)
        {
            next.claw = Some(c);
            after = behind;
        }
        feet.push(one(&next)?);
        rest = after;
        if and {
            break;
        }
    }
    (feet.len() > 2 && (rest.0.is_empty() || rest.gap() > Gap::Space)).then_some((rest, feet))
}

/// Letters of talk behind a foot that a list of feet reaches over ("foot", "one there").
const NEAR_THE_FOOT: u32 = 12;

/// A word of the dictionary that is only near to what it was read as: "write" is "right", "red" is not.
fn is_another_word(tok: Option<&Tok>) -> bool {
    let how = tok.map(|t| t.how);
    matches!(how, Some(How::Near { cost, phones, known: true }) if cost >= A_SOUND_APART.saturating_mul(phones))
}

/// In hundredths of a phone for each phone.
const A_SOUND_APART: u16 = 15;

/// "hinds", "fronts", and no "both hinds".
fn is_short(ends: &Tok) -> bool {
    ends.how == How::Exact(Style::Spoken) && ends.span.end - ends.span.start <= "fronts".len() as u32
}

fn foot(input: Toks) -> Res<Place> {
    let one = |f: Foot, claw: Option<Claw>| Place {
        feet: Where::Feet(vec![(f, None)]),
        claw: claw.map(ClawWord::One),
        group: false,
    };
    let many =
        |feet: &[Foot]| Place { feet: Where::Feet(feet.iter().map(|f| (*f, None)).collect()), claw: None, group: true };
    let plain = |feet: Where| Place { feet, claw: None, group: false };
    // "both hind", "both left and right hind"
    let Some(meaning) = input.meaning() else {
        return input.fail();
    };
    let (used, place) = match meaning {
        // "foul near 4", "lopsided claws off 4", "double sole near for inner": how a recogniser writes "fore".
        Meaning::Side(s) if is_fore(input) => (2, one(Foot::new(s, End::Front), None)),
        Meaning::Off if is_fore(input) => (2, one(Foot::new(Side::Right, End::Front), None)),
        Meaning::Foot(f) => (1, one(f, None)),
        Meaning::Place(f, c) => (1, one(f, Some(c))),
        Meaning::Places(e, c) => (1, Place { claw: Some(ClawWord::Each(c)), ..many(&both(e)) }),
        Meaning::Side(s) => match input.nth(1) {
            Some(Meaning::End(e)) if input.0[1].gap <= Gap::Space => (2, one(Foot::new(s, e), None)),
            // "the right hinds swollen": a recogniser's "hind's".
            Some(Meaning::Ends(e)) if input.0[1].gap <= Gap::Space && is_short(&input.0[1]) => {
                (2, one(Foot::new(s, e), None))
            }
            // "right outer hind", "left outer front": the claw between side and end
            Some(Meaning::Claw(c)) if input.0[1].gap <= Gap::Space => match input.nth(2) {
                Some(Meaning::End(e)) if input.0[2].gap <= Gap::Space => (3, one(Foot::new(s, e), Some(c))),
                _ => (1, plain(Where::Side(s))),
            },
            Some(Meaning::FootNoun) if input.0[1].gap <= Gap::Space => (2, plain(Where::Side(s))),
            // `left RR`: one of the two was meant, and nobody knows which.
            Some(Meaning::Foot(f)) if input.0[1].gap <= Gap::Space && f.side() != s => (2, plain(Where::End(f.end()))),
            Some(Meaning::Place(f, c)) if input.0[1].gap <= Gap::Space && f.side() != s => {
                (2, Place { claw: Some(ClawWord::One(c)), ..plain(Where::End(f.end())) })
            }
            // "bit red, sprayed": a word that people say does not turn into a side that stands alone.
            _ if is_another_word(input.first()) => return input.fail(),
            _ => (1, plain(Where::Side(s))),
        },
        Meaning::End(e) => match input.nth(1) {
            Some(Meaning::Side(s)) if input.0[1].gap <= Gap::Space => (2, one(Foot::new(s, e), None)),
            // "hind both: heel erosion"
            Some(Meaning::Both) if input.0[1].gap <= Gap::Space => (2, many(&both(e))),
            // "hind toes eighty mil"
            Some(Meaning::Part(p)) if input.0[1].gap <= Gap::Space && is_plural(p, &input.0[1]) => (1, many(&both(e))),
            _ => (1, plain(Where::End(e))),
        },
        Meaning::Ends(e) => {
            let more = usize::from(input.nth(1) == Some(Meaning::Both));
            (1 + more, many(&both(e)))
        }
        Meaning::Sides(s) => (1, many(&[Foot::new(s, End::Front), Foot::new(s, End::Hind)])),
        Meaning::AllFeet => (1, many(&Foot::ALL)),
        Meaning::Both => match (input.nth(1), input.nth(2)) {
            // "M4 on both. Fronts, clean."
            (Some(Meaning::End(e) | Meaning::Ends(e)), _) if input.0[1].gap < Gap::Stop => (2, many(&both(e))),
            (Some(Meaning::Claw(c) | Meaning::Claws(c)), Some(Meaning::End(e) | Meaning::Ends(e)))
                if input.0[2].gap <= Gap::Space =>
            {
                let mut p = many(&both(e));
                p.claw = Some(ClawWord::Each(c));
                (3, p)
            }
            // "on both outers": the feet spoken of
            // "both outers of the hinds"
            (Some(Meaning::Claws(c)), Some(Meaning::Ends(e) | Meaning::End(e))) if input.0[2].gap <= Gap::Space => {
                let mut p = many(&both(e));
                p.claw = Some(ClawWord::Each(c));
                (3, p)
            }
            // "both outsides on the rears"
            (Some(Meaning::Claws(c)), Some(Meaning::In))
                if input.0[2].gap <= Gap::Space && matches!(input.nth(3), Some(Meaning::Ends(_) | Meaning::End(_))) =>
            {
                let Some(Meaning::Ends(e) | Meaning::End(e)) = input.nth(3) else { return input.fail() };
                let mut p = many(&both(e));
                p.claw = Some(ClawWord::Each(c));
                (4, p)
            }
            (Some(Meaning::Claw(c) | Meaning::Claws(c)), _) => {
                (2, Place { feet: Where::Both, claw: Some(ClawWord::Each(c)), group: true })
            }
            (Some(Meaning::FootNoun), _) => (2, Place { group: true, ..plain(Where::Both) }),
            // `both RR`: one foot was written and two were said, and nobody knows which.
            (Some(Meaning::Foot(f)), _) if written(input.0.get(1)) && input.0[1].gap <= Gap::Space => {
                (2, plain(Where::End(f.end())))
            }
            _ => (1, Place { group: true, ..plain(Where::Both) }),
        },
        Meaning::RestFeet => (1, Place { group: true, ..plain(Where::Rest) }),
        Meaning::OtherFoot => (1, plain(Where::OtherFoot)),
        _ => return input.fail(),
    };
    Ok((input.skip(used), place))
}

/// Whether a four stands behind a side, or "for" before a claw, that belongs to nothing else.
fn is_fore(input: Toks) -> bool {
    let rest = input.skip(1);
    let four = matches!(rest.meaning(), Some(Meaning::Number(Atom::Unit(4) | Atom::Digits { value: 4, len: 1 })));
    let preposition = rest.meaning() == Some(Meaning::In)
        && rest.first().is_some_and(|t| t.span.end - t.span.start == "for".len() as u32);
    let behind = rest.skip(1);
    let claw = behind.gap() <= Gap::Space && claw_word(behind).is_some();
    let ends = behind.0.is_empty() || behind.gap() > Gap::Space;
    rest.gap() == Gap::Space && (four && (ends || claw) || preposition && claw)
}

/// "ulcer outside claw, one of the backs": which of them was not said.
pub(super) fn one_of(text: &str, place: Place, span: Span) -> Place {
    let before = words::before(text, span.start as usize, "one of the ".len() + 1).trim_end();
    let one =
        place.group && ["one of", "one of the", "one of her", "one of his"].iter().any(|w| words::ends_with(before, w));
    match &place.feet {
        Where::Feet(feet) if one && feet.len() == 2 && feet[0].0.end() == feet[1].0.end() => {
            Place { feet: Where::End(feet[0].0.end()), group: false, ..place }
        }
        _ => place,
    }
}

/// "toes", and no "toe".
fn is_plural(part: Part, tok: &Tok) -> bool {
    let one = match part {
        Part::Toe => "toe",
        Part::Sole => "sole",
        Part::Heel => "heel",
        Part::Wall => "wall",
    };
    (tok.span.end - tok.span.start) as usize == one.len() + 1
}

fn written(tok: Option<&Tok>) -> bool {
    tok.is_some_and(|t| t.how == How::Exact(Style::Written))
}

pub(crate) fn both(end: End) -> [Foot; 2] {
    [Foot::new(Side::Left, end), Foot::new(Side::Right, end)]
}

/// A claw word, with a claw noun after it.
pub(super) fn claw(input: Toks) -> Res<ClawWord> {
    let Some(c) = claw_word(input) else {
        return input.fail();
    };
    let noun = input.nth(1) == Some(Meaning::ClawNoun) && input.0[1].gap <= Gap::Space;
    Ok((input.skip(1 + usize::from(noun)), c))
}

fn claw_word(input: Toks) -> Option<ClawWord> {
    Some(match input.meaning()? {
        Meaning::Claw(c) => ClawWord::One(c),
        Meaning::Claws(c) => ClawWord::Each(c),
        Meaning::OtherClaw | Meaning::OtherClaws => ClawWord::Other,
        Meaning::BothClaws => ClawWord::Both,
        _ => return None,
    })
}
