//! What was done, and what of it must come off again.
//!
//! ```ebnf
//! deed    = [ claw ] , [ material | agent ] , device , [ own claw ] , [ material | agent ]
//!         | "new wrap" | "a new one" | work , [ agent ] | "vet" ;
//! off     = [ "take" ] , device , "off" | device , "lost" | "lost" , device | "removed" , device ;
//! due off = off , time | device , "for" , time ;
//! stays   = device , "still on" ;
//! ```

use super::item::{ClawWord, Deed, Phrase, When};
use super::place::{claw, place};
use super::time::{dotted, time};
use super::toks::{Res, Toks};
use crate::entry::Act;
use crate::matches::Tok;
use crate::vocab::{Atom, Device, Meaning, Vocabulary};
use crate::words::Gap;

/// A device by name, and whether by a plural.
fn device(input: Toks) -> Option<(Device, bool)> {
    let tok = input.first()?;
    match tok.meaning? {
        Meaning::Device(d) => Some((d, false)),
        Meaning::Devices(d) => Some((d, true)),
        Meaning::Shoe => Some((Device::Block, false)),
        _ => None,
    }
}

pub(super) fn action<'a>(vocab: &Vocabulary, input: Toks<'a>) -> Res<'a, Phrase> {
    stays(vocab, input)
        .or_else(|_| taken_off(vocab, input))
        .or_else(|_| put_on(vocab, input))
        .or_else(|_| work(vocab, input))
}

/// "leave the block on", "she had a wrap": a device that is there already.
fn stays<'a>(vocab: &Vocabulary, input: Toks<'a>) -> Res<'a, Phrase> {
    if !matches!(input.meaning(), Some(Meaning::Leave | Meaning::Had)) {
        return input.fail();
    }
    let mut rest = input.skip(1);
    while matches!(
        rest.meaning(),
        Some(Meaning::Leave | Meaning::Had | Meaning::Material(_) | Meaning::Claw(_) | Meaning::Both)
    ) {
        rest = rest.skip(1);
    }
    match rest.meaning() {
        // "I have wrapped it"
        Some(Meaning::Device(_))
            if input.first().is_some_and(|t| form_of(vocab, t) == "have")
                && rest.first().is_some_and(|t| {
                    form_of(vocab, t).split(' ').any(|w| w.ends_with("ed") || ["set", "put", "stuck"].contains(&w))
                }) =>
        {
            input.fail()
        }
        Some(device @ (Meaning::Device(_) | Meaning::Devices(_) | Meaning::Shoe)) if rest.gap() <= Gap::Space => {
            let d = if let Meaning::Device(d) | Meaning::Devices(d) = device { d } else { Device::Block };
            let rest = rest.skip(1);
            // "had a block off": taken off after all.
            if matches!(rest.meaning(), Some(Meaning::Off | Meaning::Lost | Meaning::Remove))
                && rest.gap() <= Gap::Space
            {
                return input.fail();
            }
            Ok((rest, Phrase::Stays(Some(d))))
        }
        _ => input.fail(),
    }
}

/// Something comes off: now, by itself, or at a later time.
fn taken_off<'a>(vocab: &Vocabulary, input: Toks<'a>) -> Res<'a, Phrase> {
    let close = |t: Toks| t.gap() <= Gap::Space;
    match input.meaning() {
        Some(Meaning::Undo(d)) => return Ok((input.skip(1), Phrase::Deed(Deed::of(d.taken_off())))),
        Some(Meaning::TakenOff) => {
            return Ok((input.skip(1), Phrase::Deed(Deed { like_before: true, ..Deed::of(Act::Unblock) })));
        }
        _ => {}
    }
    // "wrap still on left hind, cut off, M three"
    let alone = input.skip(1).0.is_empty() || !close(input.skip(1));
    if input.meaning() == Some(Meaning::Remove)
        && alone
        && input.first().is_some_and(|t| form_of(vocab, t) == "cut off")
    {
        return Ok((input.skip(1), Phrase::Deed(Deed { like_before: true, ..Deed::of(Act::Unblock) })));
    }
    let mut rest = input;
    let (mut removed, mut lost) = (false, false);
    // "off with the wrap"
    if let [Tok { meaning: Some(Meaning::Off), .. }, with @ Tok { meaning: Some(Meaning::And), .. }, ..] = input.0
        && input.gap() > Gap::Space
        && form_of(vocab, with) == "with"
    {
        rest = input.skip(2);
        removed = true;
    }
    loop {
        match rest.meaning() {
            Some(Meaning::Remove) => removed = true,
            Some(Meaning::Lost) => lost = true,
            Some(Meaning::Off) if removed => {}
            // "took off the worn block"
            Some(Meaning::Stays)
                if (removed || lost)
                    && rest
                        .first()
                        .is_some_and(|t| ["worn", "half worn", "well worn", "tight"].contains(&form_of(vocab, t))) => {}
            // "took both wraps off"
            // "lost both blocks"
            Some(Meaning::Both) if removed || lost => {}
            // "took off two wraps"
            Some(Meaning::Number(Atom::Unit(2..=4) | Atom::Digits { value: 2..=4, len: 1 }))
                if (removed || lost) && matches!(rest.nth(1), Some(Meaning::Devices(_))) => {}
            _ => break,
        }
        rest = rest.skip(1);
        // "shoe still on after seven weeks, took off"
        let took_off = || {
            removed
                && input.0.len() - rest.0.len() == 2
                && input.nth(1) == Some(Meaning::Off)
                && input.first().is_some_and(|t| ["took", "pulled", "cut", "taken"].contains(&form_of(vocab, t)))
        };
        // "I knocked that one off": said of what was spoken of, with words that mean nothing by themselves.
        let that_one = || {
            let object = |t: &[Tok]| t[1].span.start.saturating_sub(t[0].span.end) as usize >= " that ".len();
            input.meaning() == Some(Meaning::Remove)
                && input.nth(1) == Some(Meaning::Off)
                && close(input.skip(1))
                && input.0.len() - rest.0.len() == 2
                && object(input.0)
        };
        if !close(rest) && (took_off() || that_one()) {
            return Ok((rest, Phrase::Deed(Deed { like_before: true, ..Deed::of(Act::Unblock) })));
        }
        if !close(rest) {
            return input.fail();
        }
    }
    // "took the right one off": the one spoken of; its place is read next.
    if removed
        && let Ok((after, _)) = place(rest)
        && (after.meaning() == Some(Meaning::Off)
            && close(after)
            && (after.skip(1).0.is_empty() || !close(after.skip(1)))
            // "pulled the right one too"
            || input.first().is_some_and(|t| ["pulled", "removed"].contains(&form_of(vocab, t)))
                && rest.first().is_some_and(|t| form_of(vocab, t).ends_with(" one"))
                && (after.0.is_empty() || !close(after)))
    {
        return Ok((rest, Phrase::Deed(Deed { like_before: true, ..Deed::of(Act::Unblock) })));
    }
    // "took the old rubber block off"
    while matches!(rest.meaning(), Some(Meaning::Material(_)))
        && matches!(rest.nth(1), Some(Meaning::Device(_) | Meaning::Devices(_) | Meaning::Shoe))
        && close(rest.skip(1))
    {
        rest = rest.skip(1);
    }
    // "removed the inner block", "lost her inner block": where it was.
    let mut at_claw = None;
    if (removed || lost)
        && let Ok((after, c)) = claw(rest)
        && close(after)
        && device(after).is_some()
    {
        at_claw = Some(c);
        rest = after;
    }
    let named = rest.first();
    let Some((device, _)) = device(rest) else {
        return input.fail();
    };
    rest = rest.skip(1);
    // "the wart is gone wrap off": the wart is.
    let gone = |t: &Tok| ["gone", "is gone", "are gone", "has gone", "all gone"].contains(&form_of(vocab, t));
    if lost && !removed && input.first().is_some_and(gone) && rest.meaning() == Some(Meaning::Off) && close(rest) {
        return input.fail();
    }
    // `bl. off RHI`: a dot of an abbreviation.
    let abbreviated = named.is_some_and(|t| form_of(vocab, t) == "bl").then_some(rest.0.len());
    let close = |t: Toks| t.gap() <= Gap::Space || abbreviated == Some(t.0.len());
    // "block has two weeks left in it"
    if rest.meaning() == Some(Meaning::Had)
        && close(rest)
        && let Ok((after, Some(When::Days(_) | When::Months(_)))) = time(rest.skip(1))
        && is_noun(input)
    {
        return Ok((after, Phrase::Stays(Some(device))));
    }
    // "popped a rubber block on the inner", "threw a wrap on it"
    let on = |t: &Tok| form_of(vocab, t).ends_with(" on") || form_of(vocab, t).ends_with(" on it");
    let at = claw(rest).ok().map(|(after, _)| after);
    // "popped another shoe on the inner, off in four weeks" is put on.
    let behind = at.unwrap_or(rest);
    let off_behind = matches!(behind.meaning(), Some(Meaning::Lost | Meaning::Off | Meaning::Remove))
        && (at.is_none() || close(behind));
    // These are said of putting one on as well.
    let either = |t: &Tok| ["pop", "popped", "knocked", "threw"].contains(&form_of(vocab, t));
    // "pop the block on the inside"
    let pop = |t: &Tok| ["pop", "popped"].contains(&form_of(vocab, t));
    let put = named.is_some_and(on) || at.is_some() && input.first().is_some_and(pop);
    if input.first().is_some_and(either) && put && !off_behind {
        return input.fail();
    }
    // "put a wrap on it and that comes off Sunday": it was put on, and is due off.
    let put_on = |t: &Tok| {
        let text = form_of(vocab, t);
        text.ends_with(" on") || text.ends_with(" on it") || text.contains("ed")
    };
    if rest.meaning() == Some(Meaning::TakenOff) && !removed && !lost && named.is_some_and(put_on) {
        return input.fail();
    }
    // "block worn through, off"
    if rest.meaning() == Some(Meaning::Stays)
        && close(rest)
        && rest.nth(1) == Some(Meaning::Off)
        && rest.skip(1).gap() == Gap::Comma
        && (rest.skip(2).0.is_empty() || rest.skip(2).gap() > Gap::Space)
    {
        return Ok((rest.skip(2), Phrase::Deed(Deed::of(device.taken_off()))));
    }
    // "block still on", but not "wrapped, still has her block on the right hind"
    let thing = |t: Toks| matches!(t.nth(1), Some(Meaning::Device(_) | Meaning::Devices(_))) && close(t.skip(1));
    if rest.meaning() == Some(Meaning::Stays) && close(rest) && !thing(rest) {
        return Ok((rest.skip(1), Phrase::Stays(Some(device))));
    }
    // "blk ok"
    let end = |t: Toks| t.0.is_empty() || t.gap() > Gap::Space;
    // "block on good and tight, leave it be"
    let tight = named.is_some_and(on)
        && rest.skip(1).gap() <= Gap::Space
        && matches!(rest.nth(1), Some(Meaning::And | Meaning::Stays));
    if rest.meaning() == Some(Meaning::Clear) && close(rest) && (end(rest.skip(1)) && is_noun(input) || tight) {
        return Ok((rest.skip(1), Phrase::Stays(Some(device))));
    }
    // "ulcer still open, block kept"
    let kept = rest.first().is_some_and(|t| form_of(vocab, t) == "kept");
    if kept && close(rest) && is_noun(input) && end(rest.skip(1)) {
        return Ok((rest.skip(1), Phrase::Stays(Some(device))));
    }
    // "block on the inner is fine"
    if is_noun(input) || named.is_some_and(on) {
        let at = claw(rest).ok().filter(|(after, _)| close(rest) && close(*after)).map(|(after, _)| after);
        let fine =
            |t: &Tok| ["is fine", "is good", "is ok", "is okay", "looks good", "fine"].contains(&form_of(vocab, t));
        // "block on the inner and a tight wrap"
        if let Some(after) = at
            && after.meaning() == Some(Meaning::Stays)
            && !thing(after)
        {
            return Ok((after.skip(1), Phrase::Stays(Some(device))));
        }
        if let Some(after) = at
            && after.meaning() == Some(Meaning::Clear)
            && after.first().is_some_and(fine)
            && end(after.skip(1))
        {
            return Ok((after.skip(1), Phrase::Stays(Some(device))));
        }
    }
    // "block from last visit still solid", "the block I glued on in February came off"; "lost her block since I was here"
    if close(rest)
        && !lost
        && let Ok((mut after, None | Some(When::Month))) = time(rest)
    {
        if after.meaning() == Some(Meaning::Stays) && close(after) {
            after = after.skip(1);
        }
        // "wrapped but last time she had an ulcer on the other one": a tale of its own.
        let tale = after.meaning() == Some(Meaning::Had);
        if !tale && !matches!(after.meaning(), Some(Meaning::Off | Meaning::Lost | Meaning::Remove | Meaning::TakenOff))
        {
            return Ok((after, Phrase::Stays(Some(device))));
        }
        if !tale {
            rest = after;
        }
    }
    let mut off_said = false;
    let before_off = rest;
    // "block on the outer claw came off": the claw between device and "off" is where it was. "Block the inner to take the
    // load off" tells why.
    let to_do = |t: &Tok| ["take", "pull", "remove", "knock"].contains(&form_of(vocab, t));
    if let Ok((after, c)) = claw(rest)
        && close(rest)
        && close(after)
        && matches!(after.meaning(), Some(Meaning::Lost | Meaning::Off | Meaning::Remove))
        && !after.first().is_some_and(to_do)
        // "block on the inner to get her up off it"
        && (after.meaning() != Some(Meaning::Off) || rest.bytes_before(after).is_none_or(|n| n <= IS_NOW))
        // "block on the inner while I was there I knocked the toe back"
        && rest.bytes_before(after).is_none_or(|n| n <= WHICH_I)
    {
        at_claw = Some(c);
        rest = after;
    }
    // "block, off right rear": a recogniser's comma. `RH wrp: off`
    let parted = |t: Toks| {
        let foot = t.skip(1).gap() <= Gap::Space && matches!(t.nth(1), Some(Meaning::Foot(_) | Meaning::Side(_)));
        let told = is_noun(input) && matches!(t.meaning(), Some(Meaning::Off | Meaning::Lost)) && end(t.skip(1));
        // "wrap, farmer's off feeding calves": of something else.
        let near = input.bytes_before(t).is_none_or(|n| n <= ", it's ".len() as u32);
        near && t.gap() == Gap::Comma && (t.meaning() == Some(Meaning::Off) && foot || told)
    };
    let bidden_of_it = |rest: Toks| {
        let Some(first) = rest.first() else { return false };
        let form = form_of(vocab, first);
        let it = rest.0.get(1).is_some_and(|next| next.span.start > first.span.end + 1);
        let em = rest.nth(1) == Some(Meaning::StageCue);
        form.starts_with("pull ") || form.starts_with("take ") || ["pull", "take"].contains(&form) && (it || em)
    };
    let comes = |t: &Tok| ["comes", "come"].contains(&form_of(vocab, t));
    // "wrapped anyway lost the block off the right hind": it was another one.
    let another = |rest: Toks| {
        let thing = matches!(rest.nth(1), Some(Meaning::Device(_) | Meaning::Devices(_) | Meaning::Shoe));
        let verb = matches!(rest.meaning(), Some(Meaning::Lost | Meaning::Remove));
        thing && verb && rest.skip(1).gap() <= Gap::Space && input.bytes_before(rest).is_none_or(|n| n > 1)
    };
    while (close(rest) || parted(rest)) && !another(rest) {
        match rest.meaning() {
            // "wrapped pull it Monday": put on, and to be taken off then.
            Some(Meaning::TakenOff | Meaning::Remove) if bidden_of_it(rest) => break,
            Some(Meaning::Off | Meaning::TakenOff) => off_said = true,
            // "wrapped it till he comes"
            Some(Meaning::Remove)
                if rest.first().is_some_and(comes) && !matches!(rest.nth(1), Some(Meaning::Off | Meaning::Lost)) =>
            {
                break;
            }
            Some(Meaning::Remove) => removed = true,
            Some(Meaning::Lost) => lost = true,
            // "block and wrap both off the right hind"
            Some(Meaning::Both)
                if close(rest.skip(1))
                    && matches!(rest.nth(1), Some(Meaning::Off | Meaning::Remove | Meaning::Lost)) => {}
            _ => break,
        }
        rest = rest.skip(1);
    }
    if rest == before_off && !removed && !lost {
        // "wrap right hind removed", "block from the left hind off": its place stands between, and is read next.
        let noun = |t: &Tok| {
            let text = form_of(vocab, t);
            let text = text.strip_suffix(" on").unwrap_or(text);
            [
                "block",
                "blocks",
                "blk",
                "bl",
                "wrp",
                "wrap",
                "wraps",
                "bandage",
                "bandages",
                "shoe",
                "shoes",
                "claw shoe",
            ]
            .contains(&text)
        };
        let at = if rest.meaning() == Some(Meaning::In) { rest.skip(1) } else { rest };
        if named.is_some_and(noun)
            && close(rest)
            && close(at)
            && let Ok((after, _)) = place(at)
            && at.bytes_before(after).is_none_or(|n| n <= IS_NOW)
            // `blk RH(i) → off`
            && after.gap() <= Gap::Comma
            && matches!(after.meaning(), Some(Meaning::Off | Meaning::Remove | Meaning::TakenOff))
            && (end(after.skip(1)) || after.nth(1) == Some(Meaning::Off) && end(after.skip(2)))
        {
            return Ok((rest, Phrase::Deed(Deed::of(device.taken_off()))));
        }
        // "block left hind kept"
        let kept = |t: &Tok| ["kept", "stays", "stays on", "still on"].contains(&form_of(vocab, t));
        if named.is_some_and(noun)
            && close(rest)
            && let Ok((after, _)) = place(rest)
            && close(after)
            && after.first().is_some_and(kept)
            && end(after.skip(1))
        {
            return Ok((rest, Phrase::Stays(Some(device))));
        }
        return input.fail();
    }
    if lost {
        return Ok((rest, Phrase::Deed(Deed { lost: true, claw: at_claw, ..Deed::of(device.taken_off()) })));
    }
    // "took the block off after six weeks": how long it was on.
    let been = |t: &Tok| ["after", "for"].contains(&form_of(vocab, t));
    // "take the block off after five weeks" is still to be done.
    let bidden = |t: &Tok| ["take", "remove", "pull", "takes", "pulls", "comes", "come"].contains(&form_of(vocab, t));
    if removed
        && !input.first().is_some_and(bidden)
        && rest.gap() <= Gap::Space
        && matches!(rest.meaning(), Some(Meaning::In | Meaning::Afterwards))
        && rest.first().is_some_and(been)
        && let Ok((after, Some(_))) = time(rest)
    {
        return Ok((after, Phrase::Deed(Deed { claw: at_claw, ..Deed::of(device.taken_off()) })));
    }
    // "block off, see at dry off": a time of its own.
    let own_time = || rest.gap() > Gap::Space && !input.only_pause_before(rest);
    if rest.gap() <= Gap::Comma
        && !own_time()
        && let Ok((after, when)) = time(rest)
    {
        // "farmer pulled the wrap Sunday": it is off.
        let past = |t: &Tok| ["took", "pulled", "cut off", "yanked", "whipped"].contains(&form_of(vocab, t));
        let pulled = removed && !input.first().is_some_and(bidden) && (!off_said || input.first().is_some_and(past));
        match when {
            Some(When::Days(0)) => {}
            Some(When::Weekday { weeks: 0, .. }) if pulled => {
                return Ok((after, Phrase::Deed(Deed { claw: at_claw, ..Deed::of(device.taken_off()) })));
            }
            Some(when) => {
                return Ok((after, Phrase::Due { what: device.due_off(), when }));
            }
            // "should have had her wrap off last week"
            None if rest.gap() <= Gap::Space => return Ok((after, Phrase::Stays(Some(device)))),
            None => {}
        }
    }
    if off_said && let Some((after, when)) = dotted(rest) {
        return Ok((after, Phrase::Due { what: device.due_off(), when }));
    }
    if !off_said && !removed {
        return input.fail();
    }
    // "block was due off, left it on"
    let due = |t: &Tok| form_of(vocab, t).ends_with("due off");
    if !removed && input.0[..input.0.len() - rest.0.len()].iter().any(due) {
        return Ok((rest, Phrase::Stays(Some(device))));
    }
    Ok((rest, Phrase::Deed(Deed { claw: at_claw, ..Deed::of(device.taken_off()) })))
}

/// Letters between where a block was and the verb that takes it off.
const WHICH_I: u32 = " and that i now ".len() as u32;
/// Letters between where a block was and that it is off.
const IS_NOW: u32 = " is now ".len() as u32;

/// The form of the vocabulary that a match is, empty where it is none.
fn form_of<'a>(vocab: &'a Vocabulary, tok: &Tok) -> &'a str {
    tok.form.map_or("", |f| vocab.forms()[f as usize].text.as_str())
}

/// The material that words for a device name.
pub fn material_in(words: &str) -> Option<&'static str> {
    words.split(' ').find_map(material_in_a_form)
}

fn material_in_a_form(word: &str) -> Option<&'static str> {
    match word {
        "rubber" => Some("rubber"),
        "wood" | "wooden" => Some("wood"),
        "plastic" => Some("plastic"),
        _ => None,
    }
}

/// The bare word for a device, and not the verb for putting it on.
fn is_noun(input: Toks) -> bool {
    input.first().is_some_and(|t| t.span.end - t.span.start <= "block".len() as u32)
}

/// A block or wrap is put on.
fn put_on<'a>(vocab: &Vocabulary, input: Toks<'a>) -> Res<'a, Phrase> {
    if input.meaning() == Some(Meaning::NewOne) {
        let own = own_claw(input.skip(1));
        let (rest, claw) = own.unwrap_or((input.skip(1), None));
        return Ok((rest, Phrase::Deed(Deed { like_before: true, claw, ..Deed::of(Act::Block) })));
    }
    let mut rest = input;
    let mut claw_before = None;
    // "inner block": only where no claw follows the block.
    if let Ok((after, c)) = claw(rest)
        && after.gap() <= Gap::Space
    {
        claw_before = Some(c);
        rest = after;
    }
    let (mut material, mut agent) = (None, None);
    loop {
        match rest.meaning() {
            Some(Meaning::Material(m)) => material = Some(vocab.name(m).to_owned()),
            Some(Meaning::Agent(a)) => agent = Some(vocab.name(a).to_owned()),
            _ => break,
        }
        rest = rest.skip(1);
        if rest.gap() > Gap::Space {
            return input.fail();
        }
    }
    let what;
    let mut plural = false;
    let shoe = rest.meaning() == Some(Meaning::Shoe);
    if material.is_some() && rest.meaning() == Some(Meaning::NewOne) {
        // "and a rubber one on"
        what = Device::Block;
    } else if let Some(Meaning::Renewed(d)) = rest.meaning() {
        what = d;
        // "a new wooden one"
        let named = rest.first().and_then(|t| material_in(form_of(vocab, t)));
        material = material.or(named.map(str::to_owned));
    } else if let Some((d, many)) = device(rest) {
        what = d;
        plural = many;
    } else {
        return input.fail();
    }
    // `blk RRI wd wrp`: wood is the block's, and is put there.
    if what == Device::Wrap && material.is_some() {
        return input.fail();
    }
    rest = rest.skip(1);
    if shoe && material.is_none() {
        material = Some("shoe".to_owned());
    }
    let mut own = None;
    loop {
        if own.is_none()
            && what == Device::Block
            && let Some((after, claw)) = own_claw(rest).inspect(|(after, _)| plural |= others(rest, *after))
        {
            plural |= matches!(claw, Some(ClawWord::Each(_)));
            own = claw;
            rest = after;
        } else if rest.gap() <= Gap::Space
            && let Some(Meaning::Material(m)) = rest.meaning()
            && !matches!(rest.nth(1), Some(Meaning::Device(_) | Meaning::Shoe))
        {
            material = Some(vocab.name(m).to_owned());
            rest = rest.skip(1);
        } else if material.is_none()
            && rest.gap() <= Gap::Comma
            && let Some(Meaning::Material(m)) = rest.meaning()
            && rest.nth(1) == Some(Meaning::Device(what))
            && own_claw(rest.skip(2)).is_none()
        {
            // "blocked the inner with a wooden block": one block, said twice.
            material = Some(vocab.name(m).to_owned());
            rest = rest.skip(2);
        } else if agent.is_none()
            && let Some((after, a)) = wrapped_with(vocab, rest, what)
        {
            agent = Some(vocab.name(a).to_owned());
            rest = after;
        } else {
            break;
        }
    }
    if claw_before.is_some() && (own.is_some() || what != Device::Block) {
        return input.fail();
    }
    Ok((rest, Phrase::Deed(Deed { plural, claw: own.or(claw_before), material, agent, ..Deed::of(what.put_on()) })))
}

/// What a device was put on with: "wrapped with salicylic acid powder" is one deed.
fn wrapped_with<'a>(vocab: &Vocabulary, rest: Toks<'a>, what: Device) -> Option<(Toks<'a>, u16)> {
    let wrap = what == Device::Wrap;
    let with = usize::from(wrap && rest.first().is_some_and(|t| form_of(vocab, t).starts_with("with")));
    let at = rest.skip(with);
    let Some(Meaning::Agent(agent)) = at.meaning() else { return None };
    // "bandage with copper sulphate, bandage off on Sunday": that one is the same.
    let next_one = matches!(at.nth(1), Some(Meaning::Device(_))) && at.nth(2) != Some(Meaning::Off);
    if rest.gap() > Gap::Space || at.gap() > Gap::Space || next_one {
        return None;
    }
    let mut after = at.skip(1);
    if wrap && after.meaning() == Some(Meaning::Topical) && after.gap() <= Gap::Space {
        after = after.skip(1);
    }
    Some((after, agent))
}

/// Whether "other claws", of each foot, stand in `rest` before `after`.
fn others(rest: Toks, after: Toks) -> bool {
    rest.0[..rest.0.len() - after.0.len()].iter().any(|t| t.meaning == Some(Meaning::OtherClaws))
}

/// A claw right after the block is the block's own, unless a finding follows that wants it.
fn own_claw(rest: Toks) -> Option<(Toks, Option<ClawWord>)> {
    if rest.gap() > Gap::Comma {
        return None;
    }
    let comma = rest.gap() == Gap::Comma;
    let (after, c) = claw(rest).ok()?;
    if after.gap() <= Gap::Space && matches!(after.meaning(), Some(Meaning::Disorder(_) | Meaning::Vague(_))) && !comma
    {
        // "block inner white line": the claw is the block's; the finding keeps its place.
        return Some((after, Some(c)));
    }
    let next = if after.meaning() == Some(Meaning::Had) { after.skip(1) } else { after };
    // "no block because the inner has a bruise": the lesion's.
    let lesion = matches!(next.meaning(), Some(Meaning::Disorder(_) | Meaning::Vague(_) | Meaning::Severity(_)));
    if next != after && after.gap() <= Gap::Space && lesion && next.gap() <= Gap::Space {
        return None;
    }
    if comma && matches!(next.meaning(), Some(Meaning::Disorder(_) | Meaning::Vague(_) | Meaning::ZoneCue)) {
        return None;
    }
    Some((after, Some(c)))
}

/// Knife work, topicals, the vet.
fn work<'a>(vocab: &Vocabulary, input: Toks<'a>) -> Res<'a, Phrase> {
    let mut rest = input;
    let mut agent = None;
    if let Some(Meaning::Agent(a)) = rest.meaning()
        && rest.nth(1) == Some(Meaning::Topical)
    {
        agent = Some(vocab.name(a).to_owned());
        rest = rest.skip(1);
    }
    let what = match rest.meaning() {
        Some(Meaning::Pare) => Act::Pare,
        Some(Meaning::Drain) => Act::Drain,
        Some(Meaning::Trim) => Act::Trim,
        Some(Meaning::Topical) => Act::Topical,
        Some(Meaning::Vet) => Act::Vet,
        _ => return input.fail(),
    };
    rest = rest.skip(1);
    // "spray, gel and powder" is one treatment.
    while rest.meaning().is_some()
        && rest.meaning() == input.meaning()
        && what == Act::Topical
        && rest.gap() <= Gap::Space
    {
        rest = rest.skip(1);
    }
    if what == Act::Topical
        && rest.gap() <= Gap::Space
        && let Some(Meaning::Agent(a)) = rest.meaning()
    {
        agent = Some(vocab.name(a).to_owned());
        rest = rest.skip(1);
        if rest.meaning() == Some(Meaning::Topical) && rest.gap() <= Gap::Space {
            rest = rest.skip(1);
        }
    }
    Ok((rest, Phrase::Deed(Deed { agent, ..Deed::of(what) })))
}
