//! Rule 3 and 11: what was done, and to which feet.

use super::amount::off;
use super::{NEARBY, Pass};
use crate::anatomy::Foot;
use crate::disorder::Course;
use crate::entry::Act;
use crate::grammar::{ClawWord, Deed, Named, Phrase, Place, Where};
use crate::meaning::draft::{Draft, DraftAction, DraftFinding, LooseNumber, Spot};
use crate::vocab::{Device, Vague};
use crate::words::{self, Gap, Span};

impl Pass<'_> {
    pub(super) fn deed(&mut self, i: usize, deed: &Deed, span: Span) {
        let mut deed = deed.clone();
        if self.is_removed_before(i) {
            deed.what = match deed.what {
                Act::Block => Act::Unblock,
                Act::Wrap => Act::Unwrap,
                what => what,
            };
        }
        // "give her six weeks, then it comes off": not today.
        let time = |is: &Phrase| matches!(is, Phrase::Time(_) | Phrase::Due { .. } | Phrase::OffAt(_));
        if self.is_others_to_do(i) || self.is_still_to_come_off(i, &deed) {
            // "the farmer put a wrap on, I took it off"
            match deed.what {
                Act::Block => self.device = Some(Device::Block),
                Act::Wrap => self.device = Some(Device::Wrap),
                _ => {}
            }
            self.out.remarks.push(self.said_of(i));
            self.claw_of_deed(i);
            return;
        }
        if deed.like_before
            && deed.what == Act::Unblock
            && i > 0
            && self.get(i - 1).is_some_and(time)
            && self.words(self.items[i - 1].span.end, span.start).iter().any(|w| w == "then")
        {
            return;
        }
        // "a nail in the sole, pulled it": the nail.
        if deed.like_before && self.device.is_none() && span.of(self.text).eq_ignore_ascii_case("pulled it") {
            return;
        }
        if deed.like_before && deed.what == Act::Unblock {
            deed.what = match self.device {
                Some(Device::Wrap) => Act::Unwrap,
                Some(Device::Block) => Act::Unblock,
                // "a double sole, took that off": the horn.
                None if !self.out.findings.is_empty() => Act::Pare,
                None => return,
            };
            // The block spoken of was there already: it was not put on today.
            let on = if deed.what == Act::Unwrap { Act::Wrap } else { Act::Block };
            self.out.actions.retain(|a| a.deed.what != on);
            self.waiting_actions.clear();
            // "block five weeks on the left hind, took it off": how long it was on.
            if let Some(device) = self.device.filter(|_| span.of(self.text).to_lowercase().starts_with("took")) {
                self.out.due.retain(|(d, _)| d.what != off(device));
            }
        } else if deed.like_before {
            // "white line fissure, fresh one": the lesion.
            let said = span.of(self.text).to_lowercase();
            let bare = !said
                .split(' ')
                .any(|w| ["put", "on", "stuck", "held"].contains(&w) || w.starts_with("replace") || w == "moved");
            let named = said.contains("block");
            if self.device.is_none() && !named && (self.out.findings.is_empty() || bare) {
                if ["another", "new one", "a new one", "fresh one", "one on"].iter().any(|w| said.starts_with(w)) {
                    self.another_finding(i, i + 1);
                }
                return;
            }
            deed.what = match self.device {
                Some(Device::Wrap) => Act::Wrap,
                _ => Act::Block,
            };
        }
        match deed.what {
            Act::Block | Act::Unblock => self.device = Some(Device::Block),
            Act::Wrap | Act::Unwrap => self.device = Some(Device::Wrap),
            _ => {}
        }
        if deed.what == Act::Block && deed.material.is_none() {
            deed.material = self.material.take().map(|m| m.0);
        }
        if matches!(deed.what, Act::Wrap | Act::Topical) && deed.agent.is_none() {
            deed.agent = self.agent.take().map(|a| a.0);
        }
        self.number_lost_before(i);
        self.last_deed = Some(i);
        let before = self.claw_before(i, &deed);
        if before.is_some() && self.is_for_a_lesion(i) {
            for spot in &mut self.held.spots {
                spot.claw = None;
            }
        }
        let own = deed.claw.or(before).or_else(|| self.claw_spoken_of(i, &deed));
        let push = |out: &mut Draft, spot: Spot| {
            out.actions.push(DraftAction { deed: deed.clone(), spot, own, unsure: false, span });
        };
        if deed.what == Act::Vet {
            push(&mut self.out, Spot::default());
            return;
        }
        if let Some(k) = self.place_of_object(i) {
            let Some(Phrase::Place(place)) = self.get(k).cloned() else { return };
            let keeps_claw = matches!(deed.what, Act::Pare | Act::Drain);
            for spot in self.spots(&place) {
                push(&mut self.out, Spot { claw: spot.claw.filter(|_| keeps_claw), ..spot });
            }
            return;
        }
        if let Some(spots) = self.stage_spoken_of(i).or_else(|| self.lesion_of_deed(i)) {
            for spot in spots {
                push(&mut self.out, Spot { claw: None, ..spot });
            }
            return;
        }
        let held_feet = self.held.spots.iter().any(|s| s.foot.is_some() || s.half.is_some());
        if let Some(k) = self.action_place(i, &deed, held_feet) {
            let Some(Phrase::Place(place)) = self.get(k).cloned() else {
                return;
            };
            let mut spots = self.spots(&place);
            // "left hind, ulcer on the outer, white line on the inner, pared both": both lesions.
            if place.feet == Where::Both
                && place.claw.is_none()
                && let Some(foot) = self.foot_of_two_lesions()
                && !self
                    .words(span.end, self.items[k].span.end)
                    .iter()
                    .any(|w| ["feet", "hinds", "legs"].contains(&w.as_str()))
            {
                spots = vec![Spot { foot: Some(foot), ..Spot::default() }];
            }
            // "left hind, double sole, a bruise behind it, pared the lot"
            let all = self.items[k].span.of(self.text).to_lowercase();
            if spots.len() == 4
                && deed.what != Act::Trim
                && ["lot", "everything"].iter().any(|w| all.ends_with(w))
                && let [foot] = self.lesion_feet(false)[..]
            {
                spots = vec![Spot { foot: Some(foot), ..Spot::default() }];
                self.used_up = Some(k);
            }
            // "sole ulcer right hind, wrap right": the one foot of that side that has a lesion.
            if let (Where::Side(side), [Spot { half: Some(_), claw, .. }]) = (&place.feet, &spots[..]) {
                let lesions = self.lesion_feet(false);
                let mut here = lesions.iter().filter(|f| f.side() == *side);
                if let (Some(foot), None) = (here.next(), here.next()) {
                    spots = vec![Spot { foot: Some(*foot), half: None, claw: *claw }];
                }
            }
            if deed.what == Act::Trim && (spots.len() == 4 || place.feet == Where::Rest) {
                spots = vec![Spot::default()];
            }
            let own = own.or(if deed.what == Act::Block { place.claw } else { None });
            for spot in spots {
                let claw = if deed.what == Act::Block { None } else { spot.claw };
                // Each foot of a list keeps the claw said with it.
                let own = match (own, spot.claw) {
                    (None, Some(c)) if deed.what == Act::Block => Some(ClawWord::One(c)),
                    (own, _) => own,
                };
                self.out.actions.push(DraftAction {
                    deed: deed.clone(),
                    spot: Spot { claw, ..spot },
                    own,
                    unsure: false,
                    span,
                });
            }
            self.block_on_another(i, k, &deed, span);
            // The claw of a block, on or off, is no lesion's; "blocked the inside on both hinds, outside ulcers" has both.
            let lesions_too = deed.claw.is_some() && place.claw.is_some();
            if matches!(deed.what, Act::Block | Act::Unblock) && !lesions_too {
                self.owned = Some(k);
            }
            return;
        }
        if deed.what == Act::Trim {
            // The whole cow, unless a foot stands right before it and is nobody's.
            let only = i > 0 && matches!(self.get(i - 1), Some(Phrase::Only));
            let fresh = !self.held.used
                && self.held.item.is_some_and(|h| h + 1 + usize::from(only) == i)
                && self.gap(i) <= Gap::Space;
            let spots = self.held.spots.clone();
            // "wart right hind, trimmed it"
            let after = self.text.get(span.end as usize..).unwrap_or_default();
            let it = [" it", " that"]
                .iter()
                .any(|w| after.strip_prefix(w).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric)));
            if (fresh || it && held_feet) && spots.len() < 4 {
                for s in spots {
                    push(&mut self.out, Spot { claw: None, ..s });
                }
            } else {
                push(&mut self.out, Spot::default());
            }
            return;
        }
        if deed.plural {
            let feet = self.lesion_feet(deed.what == Act::Block);
            if !feet.is_empty() {
                for f in feet {
                    push(&mut self.out, Spot { foot: Some(f), ..Spot::default() });
                }
                return;
            }
        }
        if held_feet {
            let keeps_claw = matches!(deed.what, Act::Pare | Act::Drain);
            let mut spots = self.held.spots.clone();
            // "wart right hind, other hind clean, wrapped it": a clean foot needs nothing.
            let clean = |s: &Spot| s.foot.is_some_and(|f| self.out.clear.contains(&f));
            if spots.iter().all(clean) && !self.out.findings.is_empty() {
                spots = self.last_mention().map(|f| f.spot).collect();
            }
            for s in &mut spots {
                if !keeps_claw {
                    s.claw = None;
                }
            }
            spots.dedup();
            for s in spots {
                push(&mut self.out, s);
            }
            return;
        }
        push(&mut self.out, Spot::default());
        self.waiting_actions.push(self.out.actions.len() - 1);
    }

    /// "back left M2, back right M4.1, wrapped the M2 only": where that one is.
    fn stage_spoken_of(&self, i: usize) -> Option<Vec<Spot>> {
        let Some(Phrase::Stage(stage)) = self.get(i + 1) else { return None };
        let the = self.words_to_next(i);
        let spots: Vec<Spot> = self.out.findings.iter().filter(|f| f.stage == Some(*stage)).map(|f| f.spot).collect();
        (self.gap(i + 1) <= Gap::Space && the.iter().any(|w| w == "the") && !spots.is_empty()).then_some(spots)
    }

    /// "LH outer ulcer, RH wart, put a wrap on the ulcer": where that one is.
    fn lesion_of_deed(&self, i: usize) -> Option<Vec<Spot>> {
        let Some(Phrase::Finding(named)) = self.get(i + 1) else { return None };
        let the = self.words_to_next(i);
        if self.gap(i + 1) > Gap::Space
            || the.last().is_none_or(|w| w != "the")
            || self.place_right_after(i + 1).is_some()
        {
            return None;
        }
        let spots: Vec<Spot> = self.out.findings.iter().filter(|f| f.named == *named).map(|f| f.spot).collect();
        let elsewhere =
            self.out.findings.iter().any(|f| f.named != *named && !spots.iter().any(|s| s.foot == f.spot.foot));
        (!spots.is_empty() && elsewhere).then_some(spots)
    }

    /// "abscess zone 2 outer, another one zone 3 inner", "ulcer left hind, another one on the right hind"
    pub(super) fn another_finding(&mut self, i: usize, at: usize) {
        let Some(model) = self.lesion_spoken_of(i) else { return };
        let placed =
            matches!(self.get(at), Some(Phrase::Place(p)) if p.feet != Where::Same) && self.gap(at) <= Gap::Space;
        let zoned = matches!(self.get(at), Some(Phrase::Zones(_) | Phrase::Place(_))) && self.gap(at) <= Gap::Space;
        if !zoned {
            return;
        }
        self.mentions += 1;
        let spot = if placed { Spot::default() } else { Spot { claw: None, ..model.spot } };
        self.out.findings.push(model.again_at(spot, self.mentions));
        self.last_finding_item = Some(i);
        if placed {
            self.waiting_findings.push(self.out.findings.len() - 1);
        }
    }

    /// "ulcer right hind outer healed, now the inner's got one": adds it, and tells whether it is so.
    pub(super) fn is_one_on_this_claw(&mut self, i: usize) -> bool {
        let Some(Phrase::Place(Place { feet: Where::Same, claw: Some(ClawWord::One(claw)), .. })) =
            i.checked_sub(1).and_then(|k| self.get(k))
        else {
            return false;
        };
        let claw = *claw;
        let got = self.words_before(i).iter().any(|w| ["got", "has", "have"].contains(&w.as_str()))
            || self.items[i - 1].span.of(self.text).ends_with("'s");
        let Some(model) = self.out.findings.last().filter(|f| f.spot.claw.is_some_and(|c| c != claw)).cloned() else {
            return false;
        };
        if !got || self.gap(i) > Gap::Space || self.gap(i + 1) <= Gap::Space {
            return false;
        }
        self.mentions += 1;
        let spot = Spot { claw: Some(claw), ..model.spot };
        self.out.findings.push(model.again_at(spot, self.mentions));
        self.last_finding_item = Some(i);
        true
    }

    /// "wart on the left hind and one on the right hind": gives the item of that place.
    pub(super) fn one_elsewhere(&self, i: usize) -> Option<usize> {
        let on = |w: &str| ["on", "in"].contains(&w);
        let unread = self.get(i + 1) == Some(&Phrase::Unread) && on(self.items[i + 1].span.of(self.text));
        let at = i + 1 + usize::from(unread);
        let place = self.items.get(at).filter(|it| matches!(&it.is, Phrase::Place(p) if p.feet != Where::Same))?;
        let led = self.words(self.items[i].span.end, place.span.start);
        let led = led.iter().all(|w| on(w) || ["the", "her"].contains(&w.as_str()));
        let known = self.lesion_spoken_of(i).is_some() || self.device.is_some();
        (led && known && (i + 1..=at).all(|k| self.gap(k) <= Gap::Space)).then_some(at)
    }

    /// The lesion named last before item `i`; one that was denied ("no wart on the left hind, but one on the right hind")
    /// has no place.
    fn lesion_spoken_of(&self, i: usize) -> Option<DraftFinding> {
        let last = (0..i)
            .rev()
            .find_map(|k| if let Phrase::Finding(named) = self.items[k].is { Some((k, named)) } else { None });
        let (at, named) = last?;
        match self.out.findings.last() {
            Some(f) if f.named == named || self.last_finding_item >= Some(at) => Some(f.clone()),
            _ => Some(DraftFinding::of(named, self.items[at].span)),
        }
    }

    /// "took off the left hind block", "removed both hind wraps": its place stands between.
    fn is_removed_before(&self, i: usize) -> bool {
        let noun = ["block", "blocks", "wrap", "wraps", "bandage", "bandages", "shoe"];
        let place = i.checked_sub(1).filter(|k| matches!(self.items[*k].is, Phrase::Place(_)));
        let Some(place) = place.filter(|_| self.gap(i) <= Gap::Space) else { return false };
        if !noun.contains(&self.items[i].span.of(self.text).to_lowercase().as_str()) {
            return false;
        }
        let start = self.items[place].span.start;
        let before = words::before(self.text, start as usize, NEARBY);
        let part = before.rsplit([',', '.', ';', ':']).next().unwrap_or_default();
        let led = self.words(start - part.len() as u32, start);
        let led: Vec<&str> =
            led.iter().map(String::as_str).filter(|w| !["the", "her", "old", "both"].contains(w)).collect();
        match led[..] {
            [.., "removed" | "removing"] => true,
            [.., verb, "off"] => ["took", "taking", "pulled", "cut", "knocked", "popped", "got"].contains(&verb),
            _ => false,
        }
    }

    /// "ulcer for block": a recogniser's "four", which may be its zone.
    fn number_lost_before(&mut self, i: usize) {
        let Some(before) = i.checked_sub(1) else { return };
        let Some(lesion) = self.last_finding_item.filter(|k| *k < i) else { return };
        let close = |k: usize| matches!(self.items[k].is, Phrase::Place(_)) && self.gap(k) <= Gap::Space;
        if !(lesion + 1..i).all(close) {
            return;
        }
        let (from, to) = (self.items[before].span.end, self.items[i].span.start);
        let zoned = self.out.findings.last().is_none_or(|f| !f.zones.is_empty());
        if zoned || self.gap(i) > Gap::Space || self.words(from, to) != ["for"] {
            return;
        }
        let said = self.text.get(from as usize..to as usize).unwrap_or_default();
        let start = from + said.find(['f', 'F']).unwrap_or(0) as u32;
        let span = Span { start, end: start + "for".len() as u32 };
        let after = self.out.findings.last().map(|f| (4, f.span));
        self.out.loose_numbers.push(LooseNumber { span, after, or: None, tag: None });
    }

    /// "block on the same claw", "block on that": the claw spoken of last.
    fn claw_spoken_of(&self, i: usize, deed: &Deed) -> Option<ClawWord> {
        let behind = self.words_to_next(i);
        let it = match behind.iter().map(String::as_str).collect::<Vec<_>>()[..] {
            ["the", "same", "claw" | "one", ..] | ["that" | "this", "claw" | "one", ..] => {
                deed.what == Act::Block && self.items[i].span.of(self.text).ends_with(" on")
            }
            ["on", "that" | "it"] => deed.what == Act::Block && self.gap(i + 1) > Gap::Space,
            ["on", "the", "same", "claw" | "one", ..]
            | ["on", "that" | "this", "claw" | "one", ..]
            | ["same", "claw", ..] => deed.what == Act::Block,
            _ => false,
        };
        let claw = self.held.spots.first().filter(|_| it && self.held.spots.len() == 1)?.claw?;
        Some(ClawWord::One(claw))
    }

    /// `LRO TU z5 LRI blk`: behind the lesion, and right before the block, the claw is the block's.
    fn claw_before(&self, i: usize, deed: &Deed) -> Option<ClawWord> {
        let place = i.checked_sub(1).filter(|_| deed.what == Act::Block)?;
        let Phrase::Place(p) = &self.items[place].is else { return None };
        if self.is_for_a_lesion(i) {
            return match &p.feet {
                Where::Feet(feet) if feet.len() == 1 => feet[0].1.map(ClawWord::One).or(p.claw),
                Where::Same => p.claw,
                _ => None,
            };
        }
        if self.held.item != Some(place) {
            return None;
        }
        let behind = self.last_finding_item.is_some_and(|lesion| lesion < place) && self.new_place_since();
        match p.feet {
            Where::Feet(ref feet) if behind && self.gap(i) <= Gap::Space && !self.finding_follows(i + 1) => {
                match feet[..] {
                    [(_, Some(claw))] => Some(ClawWord::One(claw)),
                    [_] => p.claw,
                    _ => None,
                }
            }
            _ => None,
        }
    }

    /// "inside claw is blocked because of an ulcer on the outside one": its lesion is named behind it.
    fn is_for_a_lesion(&self, i: usize) -> bool {
        let behind = self.words_to_next(i);
        let why = behind.iter().any(|w| ["for", "because", "over"].contains(&w.as_str()));
        let between = self.words_before(i);
        let is = between.iter().all(|w| ["is", "was", "got", "gets", "has", "been"].contains(&w.as_str()));
        why && is && self.gap(i) <= Gap::Space && self.finding_follows(i + 1)
    }

    /// "vet to cut it out", "farmer will spray it", "needs wrapping", "should be blocked": not done today, and not by us.
    fn is_others_to_do(&self, i: usize) -> bool {
        const WHO: [&str; 15] = [
            "he's", "they're", "farmer", "owner", "boss", "he", "he'll", "they", "they'll", "vet", "herdsman", "lad",
            "lads", "somebody", "someone",
        ];
        const TO: [&str; 5] = ["to", "will", "should", "must", "can"];
        if matches!(self.get(i), Some(Phrase::Deed(d)) if d.what == Act::Vet) {
            return false;
        }
        // "he's only going to forget to take it off"
        let before = (0..i).rev().find(|k| !matches!(self.items[*k].is, Phrase::Only | Phrase::Part(_)));
        let from = before.map_or(0, |k| self.items[k].span.end);
        let between = self.text.get(from as usize..self.items[i].span.start as usize).unwrap_or_default();
        let vet_will = self.is_of_the_vet(i) && i > 0 && self.items[i - 1].span.of(self.text).contains(' ');
        if !between.contains(char::is_alphabetic) && !vet_will {
            return false;
        }
        let part = between.rfind([',', '.', ';', ':']).map_or(0, |at| at + 1) as u32;
        let words = self.words(from + part, self.items[i].span.start);
        let vet = self.is_of_the_vet(i);
        let said = |w: &String, all: &[&str]| all.contains(&w.as_str());
        let will = vet && i > 0 && {
            let said = self.items[i - 1].span.of(self.text).to_lowercase();
            ["will", "will have to", "going to"].iter().any(|w| said.ends_with(w))
        };
        let bidden = will || words.last().is_some_and(|w| said(w, &TO) || said(w, &["he'll", "they'll"]));
        let passive = match &words[..] {
            [.., should, be] if be == "be" => said(should, &["should", "must", "to"]),
            [.., needs] if ["needs", "need", "wants", "want"].contains(&needs.as_str()) => {
                self.items[i].span.of(self.text).split(' ').next().is_some_and(|w| w.ends_with("ing"))
            }
            _ => false,
        };
        // "he wanted her trimmed"
        let wished =
            words.iter().any(|w| ["wanted", "wants"].contains(&w.as_str())) && words.iter().any(|w| said(w, &WHO));
        // "farmer wrapped it Monday"
        let did = words.last().is_some_and(|w| ["farmer", "owner", "boss", "herdsman", "lad"].contains(&w.as_str()))
            && self.items[i].span.of(self.text).split(' ').next().is_some_and(|w| w.ends_with("ed"));
        did || passive || wished || bidden && (vet || words.iter().any(|w| said(w, &WHO)))
    }

    /// "vet to cut it out", "the vet's coming Friday to take it off"
    fn is_of_the_vet(&self, i: usize) -> bool {
        let vet = |k: usize| matches!(self.get(k), Some(Phrase::Deed(d)) if d.what == Act::Vet);
        let time = |k: usize| matches!(self.get(k), Some(Phrase::Time(_))) && self.gap(k) <= Gap::Space;
        i > 0 && vet(i - 1) || i > 1 && time(i - 1) && vet(i - 2)
    }

    /// The part of the sentence up to and with item `i`, from the vet or from the last comma on.
    fn said_of(&self, i: usize) -> String {
        let end = self.items[i].span.end as usize;
        let vet = self.is_of_the_vet(i);
        let from = i.checked_sub(1).map_or(0, |k| if vet { self.items[k].span.start } else { self.items[k].span.end });
        let said = self.text.get(from as usize..end).unwrap_or_default();
        said.rsplit([',', '.', ';', ':']).next().unwrap_or_default().trim().to_owned()
    }

    /// "block can come off": it did not yet.
    fn is_still_to_come_off(&self, i: usize, deed: &Deed) -> bool {
        let begins = |said: String| ["can ", "could ", "to come"].iter().any(|w| said.starts_with(w));
        deed.like_before && begins(self.items[i].span.of(self.text).to_lowercase())
    }

    /// "wrapped the wart on the right hind", "pared the right hind ulcer": the place of the lesion it was done to.
    fn place_of_object(&self, i: usize) -> Option<usize> {
        let next = self.items.get(i + 1).filter(|n| n.gap <= Gap::Space)?;
        let the = self.words(self.items[i].span.end, next.span.start);
        if !the.last().is_some_and(|w| ["the", "that", "this", "her"].contains(&w.as_str())) {
            return None;
        }
        let foot = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if matches!(p.feet, Where::Feet(_)));
        let lesion = |k: usize| matches!(self.get(k), Some(Phrase::Finding(_) | Phrase::Stage(_)));
        if foot(i + 1) {
            let close = lesion(i + 2) && self.gap(i + 2) <= Gap::Space;
            // "blocked the left hind inner for an ulcer on the outer": the place is the deed's.
            let purpose =
                || self.words(next.span.end, self.items[i + 2].span.start).first().is_some_and(|w| w == "for");
            return (close && !purpose()).then_some(i + 1);
        }
        let behind = (i + 1..=self.items.len()).find(|k| !(lesion(*k) && self.gap(*k) <= Gap::Space))?;
        (behind > i + 1 && foot(behind) && self.gap(behind) <= Gap::Space).then_some(behind)
    }

    /// The place right after a deed, where it is the deed's.
    pub(super) fn action_place(&self, i: usize, deed: &Deed, held: bool) -> Option<usize> {
        // "block only on the left"
        let only = self.get(i + 1) == Some(&Phrase::Only) && self.gap(i + 1) <= Gap::Space;
        let k = i + 1 + usize::from(only);
        let Some(Phrase::Place(place)) = self.get(k) else {
            return None;
        };
        // "wrap, both"
        let both = place.feet == Where::Both && self.gap(k) == Gap::Comma && self.gap(k + 1) > Gap::Space;
        if place.feet == Where::Same || (self.gap(k) > Gap::Space && !both) {
            return None;
        }
        if place.feet == Where::Both {
            return Some(k);
        }
        let taken = self.place_is_taken(k);
        if taken
            && (held
                || deed.what != Act::Trim && !matches!(deed.what, Act::Block | Act::Wrap | Act::Unblock | Act::Unwrap))
        {
            return None;
        }
        Some(k)
    }

    /// `block LH lat, RH med`: another foot with its claw behind a comma, at the end of the part.
    fn block_on_another(&mut self, i: usize, first: usize, deed: &Deed, span: Span) {
        let own = |k: usize| match self.get(k) {
            Some(Phrase::Place(Place { feet: Where::Feet(feet), claw, .. })) if feet.len() == 1 => {
                let claw = feet[0].1.map(ClawWord::One).or(*claw);
                claw.map(|claw| (feet[0].0, claw))
            }
            _ => None,
        };
        let next = first + 1;
        let (Some(_), Some((foot, claw))) = (own(first), own(next)) else { return };
        let ends = self.gap(next) == Gap::Comma && self.gap(next + 1) == Gap::Stop;
        let lesion = self.out.findings.iter().any(|f| f.spot.foot == Some(foot));
        if deed.what == Act::Block && first == i + 1 && ends && lesion {
            let spot = Spot { foot: Some(foot), ..Spot::default() };
            self.out.actions.push(DraftAction { deed: deed.clone(), spot, own: Some(claw), unsure: false, span });
        }
    }

    /// The one foot that was named, where two lesions are on it.
    pub(super) fn foot_of_two_lesions(&self) -> Option<Foot> {
        let mut named = self.out.places.iter().flat_map(|(feet, _)| feet);
        let foot = self.held.spots.first()?.foot?;
        let first = self.out.findings.first()?;
        let several = self.out.findings.iter().any(|f| f.mention != first.mention);
        let all_here = named.all(|f| *f == foot) && self.out.findings.iter().all(|f| f.spot.foot == Some(foot));
        (several && all_here).then_some(foot)
    }

    /// Feet with lesions; for blocks, those whose disorder sits on a claw, or else any.
    pub(super) fn lesion_feet(&self, blocks: bool) -> Vec<Foot> {
        let feet = |claw_only: bool| -> Vec<Foot> {
            let mut feet: Vec<Foot> = self
                .out
                .findings
                .iter()
                .filter(|f| {
                    !claw_only || f.spot.claw.is_some() || !matches!(f.named, Named::Disorder(d) if !d.needs_claw())
                })
                .filter_map(|f| f.spot.foot)
                .collect();
            feet.sort_unstable();
            feet.dedup();
            feet
        };
        let horn = feet(blocks);
        if horn.is_empty() { feet(false) } else { horn }
    }

    /// "the block from last time has fallen off": it was there, and is lost.
    pub(super) fn lost(&mut self, i: usize) {
        // "a fresh wrap's gone on", "gone from an M two to an M four"
        let after = self.text.get(self.items[i].span.end as usize..).unwrap_or_default();
        if ["on", "from", "to"].iter().any(|w| after.trim_start().split(' ').next() == Some(w))
            && !self.is_from_a_foot(i)
        {
            return;
        }
        // "had a block on the left hind, that's fallen off"
        let before = (0..i).rev().find(|k| !matches!(self.items[*k].is, Phrase::Place(_)));
        if let Some(k) = before
            && let Phrase::Stays(Some(device)) = self.items[k].is
            && (k + 1..=i).all(|k| self.gap(k) <= Gap::Comma)
        {
            let what = if device == Device::Block { Act::Unblock } else { Act::Unwrap };
            self.deed(i, &Deed { lost: true, ..Deed::of(what) }, self.items[i].span);
            return;
        }
        // "both hind outers had bruises, left one gone"
        let side = i > 0 && matches!(self.get(i - 1), Some(Phrase::Place(p)) if matches!(p.feet, Where::Side(_)));
        if side && self.gap(i) <= Gap::Space && self.out.findings.len() > 1 && self.narrowed_to(i).is_some() {
            return self.course(i, Course::Healed, self.items[i].span);
        }
        // "wart's gone"
        let span = self.items[i].span;
        let lesion = (0..i).rev().find(|k| !matches!(self.items[*k].is, Phrase::Place(_) | Phrase::Past));
        if span.of(self.text).to_lowercase().ends_with("gone")
            && let Some(k) = lesion
            && matches!(self.items[k].is, Phrase::Finding(_))
            && (k + 1..=i).all(|k| self.gap(k) <= Gap::Space)
        {
            // "white line gone at zone three": it is open there.
            let opened = matches!(self.items[k].is, Phrase::Finding(Named::Vague(Vague::WhiteLine)))
                && (i + 1..i + 3).any(|k| matches!(self.get(k), Some(Phrase::Zones(_))))
                && (matches!(self.get(i + 1), Some(Phrase::Zones(_) | Phrase::Place(_)))
                    && self.gap(i + 1) <= Gap::Space
                    || self.gap(i + 1) == Gap::Comma && matches!(self.get(i + 1), Some(Phrase::Zones(_))));
            if opened {
                return;
            }
            return self.course(i, Course::Healed, span);
        }
        let Some(at) = self.last_deed else { return };
        let same_breath = (at + 1..=i).all(|k| self.gap(k) <= Gap::Space);
        let span = self.items[at].span;
        for action in self.out.actions.iter_mut().filter(|a| same_breath && a.span == span) {
            action.deed.what = match action.deed.what {
                Act::Block => Act::Unblock,
                Act::Wrap => Act::Unwrap,
                _ => continue,
            };
            action.deed.lost = true;
        }
    }

    /// "gone from the left hind"
    fn is_from_a_foot(&self, i: usize) -> bool {
        matches!(self.get(i + 1), Some(Phrase::Place(_))) && self.gap(i + 1) <= Gap::Space
    }

    /// "still on": nothing was done, and a block named just before was no new one.
    pub(super) fn stays(&mut self, i: usize, device: Option<Device>) {
        if let Some(d) = device {
            self.device = Some(d);
            // "had a block on the near hind inner": where the block was, not where a lesion is.
            if matches!(self.get(i + 1), Some(Phrase::Place(_))) && self.gap(i + 1) <= Gap::Space {
                self.owned = Some(i + 1);
            }
            // "the block still on from December, right hind inner, way overdue"
            let past = |is: &Phrase| matches!(is, Phrase::Past | Phrase::Time(_) | Phrase::Unread);
            let k = (i + 1..self.items.len()).find(|k| !past(&self.items[*k].is)).unwrap_or(self.items.len());
            let claw = matches!(self.get(k), Some(Phrase::Place(p)) if p.claw.is_some() && p.feet != Where::Same);
            if claw && self.gap(k) == Gap::Comma && self.gap(k + 1) > Gap::Space && self.out.findings.is_empty() {
                self.owned = Some(k);
            }
            // "left hind inner, block from last visit"
            if self.held.item == i.checked_sub(1) && !self.held.used {
                for spot in &mut self.held.spots {
                    spot.claw = None;
                }
            }
            return;
        }
        let Some(at) = self.last_deed else { return };
        // "one block on each back foot, both still tight"
        let placed = at + 1 < i && (at + 1..i).all(|k| matches!(self.items[k].is, Phrase::Place(_)));
        let same_breath = (at + 1..=i).all(|k| self.gap(k) <= if placed { Gap::Comma } else { Gap::Space });
        if same_breath && let Some(last) = self.out.actions.last().map(|a| a.span) {
            self.out.actions.retain(|a| a.span != last || !matches!(a.deed.what, Act::Block | Act::Wrap));
            self.waiting_actions.clear();
        }
    }

    pub(super) fn material(&mut self, i: usize, name: &str, span: Span) {
        // "rubber on the right hind inner", `rubber in`: the block.
        if let Some(next) = self.items.get(i + 1)
            && let Phrase::Place(place) = &next.is
            && next.gap <= Gap::Space
            && (self.words(span.end, next.span.start).first().is_some_and(|w| w == "on")
                || place.feet == Where::Same && !self.out.findings.is_empty() && next.span.start <= span.end + 1)
        {
            let deed = Deed { material: Some(name.to_owned()), ..Deed::of(Act::Block) };
            return self.deed(i, &deed, span);
        }
        if let Some(a) = self.out.actions.last_mut()
            && a.deed.what == Act::Block
            && a.deed.material.is_none()
        {
            let same = a.span;
            for a in self.out.actions.iter_mut().filter(|a| a.span == same) {
                a.deed.material = Some(name.to_owned());
            }
        } else if self.is_another_one(i, name) {
            // "wooden block, no, a rubber one", "but she got a plastic one"
            let last = self.out.actions.last().map(|a| a.span);
            for a in self.out.actions.iter_mut().filter(|a| Some(a.span) == last) {
                a.deed.material = Some(name.to_owned());
            }
        } else {
            self.material = Some((name.to_owned(), span));
        }
    }

    /// Whether the block spoken of is of another material after all.
    fn is_another_one(&self, i: usize, name: &str) -> bool {
        let Some(block) = self.out.actions.last().filter(|a| a.deed.what == Act::Block) else { return false };
        let behind = self.text.get(self.items[i].span.end as usize..).unwrap_or_default();
        let one = behind.strip_prefix(" one").is_some_and(|rest| !rest.starts_with(char::is_alphanumeric));
        let led = self.words(block.span.end, self.items[i].span.start);
        let instead = led.iter().any(|w| ["no", "got", "gets", "instead", "used"].contains(&w.as_str()));
        one && instead && block.deed.material.as_deref().is_some_and(|m| m != name)
    }

    pub(super) fn agent(&mut self, name: &str, span: Span) {
        // "wrapped with copper because the salicylic is finished"
        let behind = words::behind(self.text, span.end as usize, NEARBY).to_lowercase();
        let out = [" is finished", " is gone", " is all gone", " ran out", " has run out", " is out", " was finished"];
        if out.iter().any(|w| behind.starts_with(w)) {
            return;
        }
        let open = self
            .out
            .actions
            .iter()
            .rev()
            .find(|a| matches!(a.deed.what, Act::Wrap | Act::Topical) && a.deed.agent.is_none())
            .map(|a| a.span);
        if let Some(same) = open {
            for a in self.out.actions.iter_mut().filter(|a| a.span == same) {
                a.deed.agent = Some(name.to_owned());
            }
        } else {
            self.agent = Some((name.to_owned(), span));
        }
    }
}
