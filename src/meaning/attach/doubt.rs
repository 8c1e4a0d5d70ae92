//! Rule 6: "no" and "maybe", and how far they reach.

use super::{NEARBY, Pass};
use crate::anatomy::{End, Side};
use crate::entry::Act;
use crate::grammar::{ClawWord, Deed, Phrase, Place, When, Where};
use crate::meaning::draft::DraftFinding;
use crate::vocab::Device;
use crate::words::{self, Gap, Span};

/// Words behind a "not" that deny the deed before it.
const NEEDED: [&str; 5] = ["needed", "necessary", "required", "wanted", "warranted"];

impl Pass<'_> {
    /// "no", "not": what follows in the same breath was not there, or was not done.
    pub(super) fn not(&mut self, i: usize) -> usize {
        // "not the same on the right hind, that one's clean"
        if self.get(i + 1) == Some(&Phrase::Same) && self.gap(i + 1) <= Gap::Space {
            return i + 2;
        }
        if let Some(next) = self.neither_foot(i) {
            return next;
        }
        // "ulcer's not on the outer, it's on the inner"
        let claw = |k: usize| match self.get(k) {
            Some(Phrase::Place(Place { feet: Where::Same, claw: Some(ClawWord::One(claw)), .. })) => Some(*claw),
            _ => None,
        };
        if let (Some(denied), Some(meant)) = (claw(i + 1), claw(i + 2))
            && denied != meant
            && self.gap(i + 1) <= Gap::Space
            && self.gap(i + 2) == Gap::Comma
        {
            return i + 2;
        }
        // "double sole right rear inner mild no outer"
        let other =
            claw(i + 1).is_some_and(|c| self.out.findings.last().is_some_and(|f| f.spot.claw == Some(c.partner())));
        let no = self.items[i].span.of(self.text).eq_ignore_ascii_case("no");
        if no
            && other
            && self.gap(i + 1) <= Gap::Space
            && self.gap(i + 2) > Gap::Space
            && self.words_to_next(i).is_empty()
        {
            self.out.corrections_open.push(self.items[i].span.to(self.items[i + 1].span));
            return i + 2;
        }
        // "near fore, not the hind, …": a place denied.
        const PLACED: [&str; 14] =
            ["the", "her", "on", "in", "at", "of", "both", "either", "any", "it", "was", "looking", "lame", "is"];
        if let Some(Phrase::Place(p)) = self.get(i + 1)
            && self.gap(i + 1) <= Gap::Space
            && !self.begins_next(i + 1)
            // "don't bother fronts are fine", "I don't like the look of the left hind"
            && self.words_to_next(i).iter().all(|w| PLACED.contains(&w.as_str()))
            && p.feet != Where::Same
            && !(matches!(self.get(i + 2), Some(Phrase::Finding(_))) && self.gap(i + 2) <= Gap::Space)
        {
            // "bruise left hind zone four mild, no right hind": hardly anything but a correction, which is asked.
            let ends = self.gap(i + 2) > Gap::Space || matches!(self.get(i + 2), Some(Phrase::Deed(_)));
            if no
                && ends
                && self.words_to_next(i).is_empty()
                && self.names_another_foot(i + 1)
                && !self.out.findings.is_empty()
            {
                self.out.corrections_open.push(self.items[i].span.to(self.items[i + 1].span));
                return i + 2;
            }
            // "owner thought she was lame on the right rear": the foot that is looked at.
            if self.was_thought(i) {
                return i + 1;
            }
            return i + 2;
        }
        // "the way it's swollen but it's not": what was just said is taken back.
        let word = self.items[i].span.of(self.text);
        // "he thinks it's foul, it isn't"
        let it = self.gap(i) >= Gap::Comma && i > 0 && {
            let said = self.words(self.items[i - 1].span.end, self.items[i].span.start);
            let comma = self.gap(i) == Gap::Comma;
            match said.iter().map(String::as_str).collect::<Vec<_>>()[..] {
                // "the lad thinks she has foot rot. She hasn't."
                ["she"] => ["hasn't", "has not", "doesn't", "hadn't"].iter().any(|w| word.eq_ignore_ascii_case(w)),
                ["it" | "it's" | "that"] => comma || ["isn't", "is not"].iter().any(|w| word.eq_ignore_ascii_case(w)),
                _ => comma && self.not_found(i),
            }
        };
        // "had her down for a sole ulcer. It isn't one"
        let one = it
            && self.gap(i + 1) <= Gap::Space
            && self.gap(i + 2) > Gap::Space
            && self.items.get(i + 1).is_some_and(|n| n.span.of(self.text).eq_ignore_ascii_case("one"));
        let next = i + 1 + usize::from(one);
        let ends = self.gap(i + 1) > Gap::Space || self.begins_next(i + 1);
        let denies = (one || ends && self.denies_itself(i) || it && self.not_found(i))
            && !word.eq_ignore_ascii_case("no")
            && (it || self.gap(i) <= Gap::Space);
        let but = usize::from(i > 1 && self.get(i - 1) == Some(&Phrase::Only) && self.gap(i - 1) <= Gap::Space);
        // Its place may stand between.
        let place = usize::from(it && i > 1 && matches!(self.get(i - 1), Some(Phrase::Place(_))));
        if denies
            && i > but
            && matches!(self.get(i - 1 - but - place), Some(Phrase::Finding(_)))
            && self.last_finding_item == Some(i - 1 - but - place)
        {
            let last = self.out.findings.last().map(|f| f.mention);
            self.out.findings.retain(|f| Some(f.mention) != last);
            self.waiting_findings.retain(|w| *w < self.out.findings.len());
            return next;
        }
        let put_on = |d: &Phrase| matches!(d, Phrase::Deed(d) if matches!(d.what, Act::Block | Act::Wrap | Act::Vet));
        let bare_before = |i: usize| self.gap(i) <= Gap::Space && self.words_before(i).is_empty();
        // "block not needed"
        let unneeded = self.words_to_next(i).first().is_some_and(|w| NEEDED.contains(&w.as_str())) && bare_before(i);
        let not_needed = (denies || unneeded) && !self.items[i].and;
        // `blk in, wrap no`
        // "… and told them no concrete for her": of something else.
        let bare = self.words_before(i).is_empty() && self.words_to_next(i).is_empty();
        let no = word.eq_ignore_ascii_case("no") && self.gap(i) <= Gap::Space && self.gap(i + 1) > Gap::Space && bare;
        if (not_needed || no) && i > 0 && self.get(i - 1).is_some_and(put_on) && self.last_deed == Some(i - 1) {
            self.take_back(self.items[i - 1].span);
            return i + 1;
        }
        // "recheck not needed"
        if i > 0
            && matches!(self.get(i - 1), Some(Phrase::Due { when: When::Open, .. }))
            && self.gap(i) <= Gap::Space
            && self.words_behind(i).first().is_some_and(|w| NEEDED.contains(&w.as_str()))
        {
            let due = self.items[i - 1].span;
            self.out.due.retain(|(_, span)| *span != due);
            return i + 1;
        }
        // "couldn't find much, just a bruise", "not touched it, just told him to ring the vet": what there is after all.
        let just = matches!(self.get(i + 1), Some(Phrase::Only | Phrase::Except)) && self.gap(i + 1) <= Gap::Comma;
        // "can't get the foot down and it's all swollen above the coronet": another clause, which denies nothing.
        const ITS: [&str; 8] = ["it's", "its", "she's", "there's", "there", "that's", "they're", "now"];
        let led = self.words_to_next(i);
        let another =
            led.windows(2).any(|w| ["and", "but", "so"].contains(&w[0].as_str()) && ITS.contains(&w[1].as_str()));
        if self.denies_no_more(i) || just && !led.is_empty() || another {
            return i + 1;
        }
        let mut k = i + 1;
        let mut hit = false;
        while let Some(is) = self.get(k) {
            let close = self.gap(k) <= Gap::Space;
            match is {
                // "no copper sulfate left, so just a wrap"
                Phrase::Agent(_) | Phrase::Material(_) if close && !hit => {
                    let left = self.get(k + 1).is_some_and(
                        |p| matches!(p, Phrase::Place(p) if p.feet == Where::Side(Side::Left) && p.claw.is_none()),
                    ) && self.gap(k + 1) <= Gap::Space;
                    return k + 1 + usize::from(left);
                }
                // "what the farmer called foot rot is a wart"
                Phrase::Finding(_) if hit && self.led_by(k, &["is", "it's"]) => {
                    break;
                }
                // "I thought 335 had foul"
                Phrase::Cow(tag) if close && k == i + 1 => {
                    let cow = Some((tag.clone(), self.items[k].span));
                    self.out.cow = self.out.cow.take().or(cow);
                }
                Phrase::Finding(named) if close => {
                    // "… but no, not an ulcer": taken back.
                    let named = *named;
                    let last = self.out.findings.last().map(|f| f.mention);
                    // "left hind ulcer, no ulcer on the right hind": of another foot.
                    let elsewhere = self.place_right_after(k).is_some_and(|p| match self.get(p) {
                        Some(Phrase::Place(place)) => {
                            let spots = self.spots(place);
                            let there: Vec<_> = spots.iter().filter_map(|s| s.foot).collect();
                            let here = self.out.findings.last().and_then(|f| f.spot.foot);
                            !there.is_empty() && here.is_some_and(|f| !there.contains(&f))
                        }
                        _ => false,
                    });
                    if !self.new_place_since() && !elsewhere {
                        // "zone four, no it's not an ulcer, it's a bruise": what it is after all sits there.
                        let gone = |f: &&DraftFinding| f.named == named && Some(f.mention) == last;
                        let zones = self.out.findings.iter().find(gone).map(|f| (f.zones.clone(), f.span));
                        let zones = zones.filter(|(z, _)| !z.is_empty() && self.finding_later(k));
                        self.zones = zones.or_else(|| self.zones.take());
                        self.out.findings.retain(|f| f.named != named || Some(f.mention) != last);
                        self.waiting_findings.retain(|w| *w < self.out.findings.len());
                    }
                    hit = true;
                }
                // "not just a bruise"
                Phrase::Only
                    if close && k == i + 1 && self.items[k].span.of(self.text).eq_ignore_ascii_case("just") => {}
                // "no need for a block"
                Phrase::Unread
                    if close
                        && k == i + 1
                        && ["a", "an", "the"]
                            .iter()
                            .any(|w| self.items[k].span.of(self.text).eq_ignore_ascii_case(w)) => {}
                // "no sign of last autumn's ulcer"
                Phrase::Past | Phrase::Unread
                    if close
                        && k == i + 1
                        && matches!(self.get(k + 1), Some(Phrase::Finding(_)))
                        && self.gap(k + 1) <= Gap::Space => {}
                Phrase::Stage(_) | Phrase::Sign(_) if close => hit = true,
                Phrase::Deed(deed) if close && !hit => {
                    let what = deed.what;
                    // "I meant to take the wrap off but she'd lost it already"
                    if matches!(what, Act::Unblock | Act::Unwrap) {
                        self.device = Device::of(what).or(self.device);
                    }
                    // "no block any more, lost somewhere in the pen"
                    let before = Device::of(what).filter(|_| {
                        let behind = words::behind(self.text, self.items[k].span.end as usize, " any more ".len());
                        matches!(what, Act::Block | Act::Wrap)
                            && [" any more", " anymore"].iter().any(|w| words::begins(behind, w))
                    });
                    if let Some(device) = before {
                        let deed = Deed { lost: true, ..Deed::of(device.taken_off()) };
                        self.deed(k, &deed, self.items[k].span);
                        return k + 1;
                    }
                    // "block inner … no block": taken back.
                    let mut spots = self.held.spots.clone();
                    // "blocked the left, couldn't get one on the right"
                    if let Some(Phrase::Place(p)) = self.get(k + 1)
                        && self.gap(k + 1) <= Gap::Space
                    {
                        spots = self.spots(p);
                    }
                    let held: Vec<_> = spots.iter().flat_map(|s| s.feet()).collect();
                    // "wrap off, warts down to an M3, no unwrap": how "no new wrap" is heard, and what came off is off.
                    let off = matches!(what, Act::Unblock | Act::Unwrap) && word.eq_ignore_ascii_case("no");
                    self.out.actions.retain(|a| {
                        off || a.deed.what != what
                            || (!held.is_empty() && a.spot.foot.is_some_and(|f| !held.contains(&f)))
                    });
                    self.waiting_actions.clear();
                    self.claw_of_deed(k);
                    return self.but_did(k).unwrap_or(k + 1);
                }
                // "thought there was an abscess in zone 3, just a crack": there it is all the same.
                Phrase::Zones(zones) if close && hit && self.was_thought(i) && self.finding_later(k) => {
                    self.zones = Some((zones.clone(), self.items[k].span));
                }
                // "inner claw, not the outer there's an ulcer zone four", "ulcer inner claw, not the outer block goes on the outer"
                Phrase::Place(Place { feet: Where::Same, .. })
                    if close
                        && k == i + 1
                        && (self.led_by(k + 1, &["there's", "there", "it's", "is"])
                            || matches!(self.get(k + 1), Some(Phrase::Deed(d)) if d.claw.is_some() || d.what != Act::Block)
                                && i > 0
                                && matches!(self.get(i - 1), Some(Phrase::Place(_) | Phrase::Past))) =>
                {
                    return k + 1;
                }
                Phrase::Zones(_)
                | Phrase::Severity(_)
                | Phrase::Hedge
                | Phrase::Part(_)
                | Phrase::Place(Place { feet: Where::Same, .. })
                    if close && (hit || k == i + 1) => {}
                // "no lesion I can't find back in a fortnight": that is not what is denied.
                Phrase::Due { .. } if close && !hit && self.words_to_next(i).first().is_some_and(|w| w == "find") => {
                    return k;
                }
                // "no need to look at it again"
                Phrase::Due { .. } if close && !hit => return k + 1,
                Phrase::Clear | Phrase::Course(_) | Phrase::Stays(_) if close && !hit => {
                    return k + 1;
                }
                _ => break,
            }
            k += 1;
        }
        // "M two on the left hind, no wart on the right, wrapped": where nothing is, nothing was done.
        if hit
            && let Some(Phrase::Place(p)) = self.get(k)
            && self.gap(k) <= Gap::Space
            && (matches!(self.get(k + 1), Some(Phrase::Deed(_)))
                || self.get(k + 1) == Some(&Phrase::Only) && matches!(self.get(k + 2), Some(Phrase::Place(_))))
            && self.gap(k + 1) > Gap::Space
        {
            let there: Vec<_> = self.spots(p).iter().filter_map(|s| s.foot).collect();
            let found = |f: &DraftFinding| f.spot.foot.is_some_and(|foot| there.contains(&foot));
            if !there.is_empty() && !self.out.findings.is_empty() && !self.out.findings.iter().any(found) {
                self.out.told.extend(there);
                return k + 1;
            }
        }
        // "no ulcer left hind, possible toe necrosis right hind": the first place was the ulcer's that is not there.
        if hit
            && let Some(Phrase::Place(p)) = self.get(k)
            && p.feet != Where::Same
            && self.gap(k) <= Gap::Space
            && !self.new_place_since()
            && !self.was_thought(i)
            && !self.is_just_another(k + 1)
        {
            self.owned = Some(k);
        }
        if hit && self.items[i].span.of(self.text).to_lowercase().starts_with("used to") {
            let end = k + usize::from(matches!(self.get(k), Some(Phrase::Place(_))) && self.gap(k) <= Gap::Space);
            self.remember(i + 1, end);
        }
        // "heel erosion, not severe": how bad it is not. "in zone five, not in zone four": where it is not.
        let mild = !hit
            && matches!(self.get(i + 1), Some(Phrase::Severity(_) | Phrase::Zones(_)))
            && self.gap(i + 1) <= Gap::Space;
        if hit { k } else { i + 1 + usize::from(mild) }
    }

    /// Whether what is denied is whole before the next item: "no bigger recheck in three months", "didn't touch it get the
    /// vet". (In "didn't want it wrapped" it is not.)
    fn denies_no_more(&self, i: usize) -> bool {
        const MORE: [&str; 11] = [
            "bigger", "smaller", "deeper", "wider", "hotter", "lamer", "sorer", "redder", "softer", "fatter", "larger",
        ];
        const TO_CALL: [&str; 22] = [
            "need", "needs", "needed", "to", "the", "a", "any", "want", "wants", "for", "think", "bother", "with",
            "have", "worth", "reason", "point", "call", "calling", "see", "it", "of",
        ];
        const NOUNS: [&str; 7] = ["pus", "smell", "heat", "blood", "depth", "hole", "pain"];
        let said = self.words_to_next(i);
        let next = self.items.get(i + 1);
        let text = next.map_or("", |it| it.span.of(self.text));
        let deed = next.and_then(|it| if let Phrase::Deed(deed) = &it.is { Some(deed) } else { None });
        let done = deed.is_some() && text.split(' ').next().is_some_and(|w| w.ends_with("ed"));
        // "won't put it down get the vet"
        let vet = deed.is_some_and(|d| d.what == Act::Vet) && text.to_lowercase().contains("vet");
        if vet && said.len() > 1 && said.iter().any(|w| !TO_CALL.contains(&w.as_str())) {
            return true;
        }
        // "I don't know how deep pared it": what is not known.
        if said.windows(2).any(|w| w[0] == "how" && ["deep", "far", "bad", "long"].contains(&w[1].as_str())) && done {
            return true;
        }
        // "not done so a new block": what follows from it.
        if said.iter().skip(1).any(|w| w == "so") && deed.is_some() {
            return true;
        }
        // "no pus pared to sound horn"
        let no = self.items[i].span.of(self.text).eq_ignore_ascii_case("no");
        if no && said.last().is_some_and(|w| NOUNS.contains(&w.as_str())) && (next.is_none() || done) {
            return true;
        }
        match said.iter().map(String::as_str).collect::<Vec<_>>()[..] {
            [more] if MORE.contains(&more) => !matches!(self.get(i + 1), Some(Phrase::Finding(_))),
            [more, ..] if MORE.contains(&more) => true,
            [_, .., "it" | "them"] => match self.get(i + 1) {
                Some(Phrase::Due { .. } | Phrase::Place(_) | Phrase::Finding(_)) => true,
                Some(Phrase::Deed(deed)) => deed.what == Act::Vet,
                _ => false,
            },
            _ => false,
        }
    }

    /// `no ulcer RHO jst bruisng`: what is there instead, at the place that was named.
    fn is_just_another(&self, i: usize) -> bool {
        let lesion = (i + 1..self.items.len()).find(|k| matches!(self.items[*k].is, Phrase::Finding(_)));
        let own = lesion.is_some_and(|k| self.place_right_after(k).is_some());
        self.get(i) == Some(&Phrase::Only) && self.gap(i) <= Gap::Comma && self.finding_follows(i + 1) && !own
    }

    /// "the left one I didn't wrap, the right one I did": the deed that was denied of one foot, done to another. Gives the
    /// index of the next item to read.
    fn but_did(&mut self, denied: usize) -> Option<usize> {
        let place = denied + 1;
        let (Some(Phrase::Deed(deed)), Some(Phrase::Place(p))) = (self.get(denied), self.get(place)) else {
            return None;
        };
        let did = matches!(self.words_behind(place).iter().map(String::as_str).collect::<Vec<_>>()[..], ["i", "did"]);
        if !did || self.gap(place) != Gap::Comma {
            return None;
        }
        let (deed, p, span) = (deed.clone(), p.clone(), self.items[place].span);
        self.place(place, &p);
        self.deed(place, &deed, span);
        Some(place + 1)
    }

    /// "neither front has anything wrong": both are clean. Gives the index of the next item to read.
    fn neither_foot(&mut self, i: usize) -> Option<usize> {
        const ANY: [&str; 14] = [
            "has", "had", "have", "got", "anything", "any", "wrong", "with", "it", "on", "to", "see", "lesions",
            "lesion",
        ];
        let words = self.items[i].span.of(self.text).to_lowercase();
        let has = |all: &[&str]| words.split(' ').any(|w| all.contains(&w));
        if !has(&["neither"]) {
            return None;
        }
        // The end is part of the word for "no" here and there.
        let (last, feet) = match self.get(i + 1) {
            _ if has(&["front", "fore"]) => (i, crate::grammar::both(End::Front).to_vec()),
            _ if has(&["hind", "rear", "back"]) => (i, crate::grammar::both(End::Hind).to_vec()),
            Some(Phrase::Place(Place { feet: Where::End(end), .. })) if self.gap(i + 1) <= Gap::Space => {
                (i + 1, crate::grammar::both(*end).to_vec())
            }
            _ => return None,
        };
        let said = self.words_behind(last);
        let nothing =
            said.iter().any(|w| w == "anything" || w == "any") && said.iter().all(|w| ANY.contains(&w.as_str()));
        if !nothing {
            return None;
        }
        self.clear_feet(&feet, false);
        let end = (last + 1..self.items.len()).find(|k| self.gap(*k) > Gap::Space).unwrap_or(self.items.len());
        Some(end)
    }

    /// "had it down as a bruise on the right hind outer, it's an ulcer": what it was taken for sat where it sits.
    fn was_thought(&self, i: usize) -> bool {
        let word = self.items[i].span.of(self.text).to_lowercase();
        ["thought", "down as", "down for", "called", "supposed", "meant to"].iter().any(|w| word.contains(w))
    }

    /// The words behind item `i` in its part of the sentence.
    pub(super) fn words_behind(&self, i: usize) -> Vec<String> {
        let end = self.items[i].span.end;
        let rest = words::behind(self.text, end as usize, NEARBY);
        let part = rest.find([',', '.', ';', ':', '(', ')', '!', '?', '\n']).unwrap_or(rest.len()) as u32;
        self.words(end, end + part)
    }

    /// "was down for an ulcer left hind outer, I can't find one"
    fn not_found(&self, i: usize) -> bool {
        let said = self.words_behind(i);
        let not = self.items[i].span.of(self.text).to_lowercase();
        (not.ends_with("n't") || not.ends_with("not"))
            && matches!(
                said.iter().map(String::as_str).collect::<Vec<_>>()[..],
                ["find" | "see", "it" | "one" | "any" | "that", ..] | ["find" | "see"]
            )
    }

    /// "it's not", and no "it's not bleeding": what was said before is denied, and not something else of it.
    fn denies_itself(&self, i: usize) -> bool {
        const IT: [&str; 35] = [
            "see",
            "look",
            "stick",
            "hold",
            "stay",
            "take",
            "needed",
            "required",
            "necessary",
            "wanted",
            "worth",
            "it",
            "that",
            "one",
            "an",
            "a",
            "is",
            "was",
            "really",
            "though",
            "after",
            "all",
            "no",
            "there",
            "sure",
            "today",
            "now",
            "need",
            "to",
            "be",
            "come",
            "called",
            "out",
            "back",
            "again",
        ];
        let joined = self.begins_next(i + 1);
        let said = if joined { self.words_to_next(i) } else { self.words_behind(i) };
        // "block not needed then cow 412"
        let leads = |w: &str| ["and", "then", "plus", "next"].contains(&w) || joined && ["on", "the"].contains(&w);
        said.iter().all(|w| leads(w) || IT.contains(&w.as_str()))
    }

    /// "was going to block the right hind inner": the claw behind a deed that was not done is the block's, and no lesion's.
    pub(super) fn claw_of_deed(&mut self, deed: usize) {
        // "no block because the inner has a bruise": the claw is what follows'.
        let why = || super::claw::tells_why(&self.words_before(deed + 1)) && self.finding_later(deed + 1);
        if let Some(Phrase::Place(place)) = self.get(deed + 1)
            && self.gap(deed + 1) <= Gap::Space
            && !self.begins_next(deed + 1)
            && !why()
        {
            if let Some(ClawWord::One(claw)) = place.claw {
                self.spared_claw = Some((deed + 1, claw));
            }
            self.owned = Some(deed + 1);
        }
        // The deed's own word may have taken the claw.
        if let Some(Phrase::Deed(Deed { claw: Some(ClawWord::One(claw)), .. })) = self.get(deed) {
            self.spared_claw = Some((deed, *claw));
        }
    }

    /// "take it off when it's healed", "if it gets worse call the vet": kept as a remark, to the end of the part of the
    /// sentence; gives the index of the next item to read.
    pub(super) fn condition(&mut self, i: usize) -> usize {
        // "last time no lesions and now a bruise": what is now is no part of it.
        let now = |k: usize| self.led_by(k, &["now", "today"]);
        // "the vet can cut it out if she stays lame and the left hind an ulcer": the next foot is no part of it either.
        let next = |k: usize| k > i + 1 && self.begins_next(k);
        // "last time she had an ulcer on the left hind that's healed": how it is now.
        let told = self.get(i) == Some(&Phrase::Past);
        let since = |k: usize| {
            told && matches!(self.get(k), Some(Phrase::Course(_)))
                && self.led_by(k, &["it's", "its", "that's", "they're", "has", "is", "all"])
                && self.items[i + 1..k].iter().any(|it| matches!(it.is, Phrase::Finding(_)))
        };
        let ends = |k: &usize| self.gap(*k) > Gap::Space || now(*k) || next(*k) || since(*k);
        let end = (i + 1..self.items.len()).find(ends).unwrap_or(self.items.len());
        let end = self.depends(i, end);
        let span = self.items[i].span.to(self.items[end - 1].span);
        self.out.remarks.push(span.of(self.text).to_owned());
        end
    }

    /// "stuck a block on the outside, she'll be alright": how it will be, on which nothing that was done depends.
    pub(super) fn is_foretold(&self, condition: usize) -> bool {
        let said = self.items[condition].span.of(self.text).to_lowercase();
        ["she'll", "it'll", "it will", "it's going"].iter().any(|w| said.starts_with(w))
    }

    /// "if worse → blk + vet", "if it's no better in two weeks, call the vet": what is to be done then is no deed of today
    /// either. Gives the end of it.
    fn depends(&self, condition: usize, end: usize) -> usize {
        let first = matches!(self.get(condition), Some(Phrase::Condition)) && self.gap(condition) > Gap::Space;
        let done = |k: usize| {
            let said = self.items[k].span.of(self.text).to_lowercase();
            said.split(' ').next().is_some_and(|w| w.ends_with('d'))
        };
        let to_do = matches!(self.get(end), Some(Phrase::Deed(_))) && !done(end) && self.gap(end) <= Gap::Comma;
        if !(first && to_do) || self.led_by(end, &["so", "i", "but"]) {
            return end;
        }
        (end + 1..self.items.len()).find(|k| self.gap(*k) > Gap::Space).unwrap_or(self.items.len())
    }

    /// `(-wrap)`, `LH -wr`: none, or taken off? What was done is asked.
    pub(super) fn minus(&mut self, deed: Span) {
        let before = self.text.get(..deed.start as usize).unwrap_or_default();
        if ["(-", "[-", " -"].iter().any(|sign| before.ends_with(sign)) {
            self.out.actions.iter_mut().filter(|a| a.span == deed).for_each(|a| a.unsure = true);
        }
    }

    /// "maybe": the next finding of the sentence is unsure, or the one right before.
    pub(super) fn hedge(&mut self, i: usize) -> usize {
        // `LHO SU? blk in`, `DD? LH`: it stands behind what is doubted.
        if self.is_behind(i) && self.doubt_before(i) {
            return i + 1;
        }
        // "possibly a sole ulcer, zone four, not sure and the left rear …": of what was said.
        let unsure = || words::begins(self.items[i].span.of(self.text), "not");
        let joined = self.items.get(i + 1).is_some_and(|next| next.and) && unsure() && self.gap(i) <= Gap::Comma;
        // "… not sure so that one is done and the back left …"
        let but = self.words_behind(i).first().is_some_and(|w| ["but", "so", "anyway"].contains(&w.as_str()));
        let joined = joined || unsure() && (self.begins_another(i + 1) || but && self.gap(i + 1) <= Gap::Space);
        if (self.begins_anew(i + 1) || joined) && !self.out.findings.is_empty() {
            self.last_mention().for_each(|f| f.unsure = true);
            return i + 1;
        }
        // "block maybe on"
        let last = i > 0 && self.last_deed == Some(i - 1) && self.gap(i) <= Gap::Space && self.gap(i + 1) > Gap::Space;
        if last
            && self.words_to_next(i).iter().all(|w| ["on", "it", "her"].contains(&w.as_str()))
            && self.words_before(i).is_empty()
        {
            let here = self.items[i - 1].span;
            self.out.actions.iter_mut().filter(|a| a.span == here).for_each(|a| a.unsure = true);
            return i + 1;
        }
        // "might block it next time" is no deed.
        if matches!(self.get(i + 1), Some(Phrase::Deed(d)) if d.what != Act::Vet) && self.gap(i + 1) <= Gap::Space {
            self.claw_of_deed(i + 1);
            return i + 2;
        }
        // "wrap is off, she has eaten it maybe, left hind wart": of what became of the wrap.
        let of_deed = i > 0
            && matches!(self.get(i - 1), Some(Phrase::Deed(_)))
            && self.gap(i + 1) > Gap::Space
            && self.words_before(i).len() > 2;
        if of_deed {
            return i + 1;
        }
        // "suspect joint trouble, left hind": said of what stands between.
        if let Some(next) = self.items.get(i + 1).filter(|n| n.gap > Gap::Space) {
            let between = self.text.get(self.items[i].span.end as usize..next.span.start as usize);
            if between.is_some_and(|t| t.contains(char::is_alphabetic)) {
                return i + 1;
            }
        }
        let said = self.items[i + 1..].iter().take_while(|n| n.is == Phrase::Unread && n.gap <= Gap::Space).count();
        if said > 0 && self.gap(i + 1 + said) > Gap::Space {
            return i + 1;
        }
        // "sole ulcer, maybe, left hind outer": set apart on both sides, of what stands before it.
        let said = |k: usize| {
            matches!(self.get(k), Some(Phrase::Finding(_) | Phrase::Zones(_) | Phrase::Stage(_) | Phrase::Severity(_)))
        };
        let apart = self.gap(i) == Gap::Comma && self.gap(i + 1) == Gap::Comma;
        if apart && i > 0 && said(i - 1) && matches!(self.get(i + 1), Some(Phrase::Place(_))) {
            self.last_mention().for_each(|f| f.unsure = true);
            return i + 1;
        }
        let mut k = i + 1;
        while let Some(is) = self.get(k) {
            if self.gap(k) == Gap::Stop {
                break;
            }
            match is {
                Phrase::Finding(_) | Phrase::Stage(_) => {
                    self.hedged = true;
                    return i + 1;
                }
                Phrase::Place(_)
                | Phrase::Severity(_)
                | Phrase::Zones(_)
                | Phrase::Not
                | Phrase::Unread
                | Phrase::Part(_)
                | Phrase::Only
                | Phrase::Hedge => k += 1,
                _ => break,
            }
        }
        let right_after = i > 0
            && self.gap(i) <= Gap::Comma
            && matches!(
                self.get(i - 1),
                Some(Phrase::Finding(_) | Phrase::Zones(_) | Phrase::Stage(_) | Phrase::Severity(_))
            )
            // "toe necrosis I suspect, left hind outer", "foul maybe left hind", "wart, maybe left hind"
            && !(matches!(self.get(i + 1), Some(Phrase::Place(_)))
                && self.gap(i) > Gap::Space
                && self.out.findings.last().is_some_and(|f| f.spot.foot.is_some()));
        if right_after {
            for f in self.last_mention() {
                f.unsure = true;
            }
        }
        i + 1
    }

    /// Whether the hedge is a question mark that is glued to the word before it, or at least not to the one after.
    fn is_behind(&self, i: usize) -> bool {
        let span = self.items[i].span;
        let spaced = |c: Option<char>| c.is_none_or(char::is_whitespace);
        let (before, after) =
            (self.text[..span.start as usize].chars().last(), self.text[span.end as usize..].chars().next());
        let deed = || matches!(self.get(i + 1), Some(Phrase::Deed(_)));
        span.of(self.text) == "?" && (!spaced(before) || after == Some(')') || spaced(after) && deed())
    }

    /// Doubts the lesion right before, whatever was said of it in the same breath; gives whether there is one.
    fn doubt_before(&mut self, i: usize) -> bool {
        let mut k = i;
        let bracket = self.text[..self.items[i].span.start as usize].ends_with('(');
        while k > 0 && (self.gap(k) <= Gap::Space || k == i && bracket) {
            k -= 1;
            let here = self.items[k].span;
            // `LH M2?`: the stage names the lesion.
            if matches!(self.get(k), Some(Phrase::Stage(_))) && self.out.findings.last().is_some_and(|f| f.span == here)
            {
                self.last_mention().for_each(|f| f.unsure = true);
                return true;
            }
            match self.get(k) {
                // `block?`: whether it was done is asked.
                Some(Phrase::Deed(_)) if k + 1 == i => {
                    self.out.actions.iter_mut().filter(|a| a.span == here).for_each(|a| a.unsure = true);
                    return true;
                }
                Some(Phrase::Finding(_)) => {
                    for f in self.last_mention() {
                        f.unsure = true;
                    }
                    return true;
                }
                Some(
                    Phrase::Place(_) | Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_) | Phrase::Part(_),
                ) => {}
                _ => return false,
            }
        }
        false
    }
}
