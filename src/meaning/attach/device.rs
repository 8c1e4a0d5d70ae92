//! Blocks and wraps that are lost or stay on, what they are of, and what goes under them.

use super::{NEARBY, Pass};
use crate::anatomy::Foot;
use crate::disorder::Course;
use crate::entry::Act;
use crate::grammar::{ClawWord, Deed, Named, Phrase, Place, Where};
use crate::meaning::draft::{DraftAction, DraftFinding, Spot};
use crate::vocab::{Device, Vague};
use crate::words::{self, Gap, Span};

/// What is said of a block or a wrap that another takes the place of.
pub(super) const SWAPPED: [&str; 5] = ["swapped", "swopped", "replaced", "changed", "exchanged"];

impl Pass<'_> {
    /// "the block from last time has fallen off": it was there, and is lost.
    pub(super) fn lost(&mut self, i: usize) {
        // "a fresh wrap's gone on", "gone from an M two to an M four"
        let after = self.text.get(self.items[i].span.end as usize..).unwrap_or_default();
        // "block gone on 252"
        let number = |rest: &str| rest.starts_with(|c: char| c.is_ascii_digit());
        let cow = matches!(self.get(i + 1), Some(Phrase::Cow(_)))
            || after.trim_start().strip_prefix("on ").is_some_and(number);
        if ["on", "from", "to", "across", "onto"].iter().any(|w| after.trim_start().split(' ').next() == Some(w))
            && !self.is_from_a_foot(i)
            && !cow
        {
            return;
        }
        // "threw a wrap on it", and how that is heard: "through a wrap on it".
        let onto = |w: &str| words::ends_with(w, " on") || words::ends_with(w, " on it");
        let threw = ["threw", "through"].iter().any(|w| self.items[i].span.of(self.text).eq_ignore_ascii_case(w));
        if threw
            && self.gap(i + 1) <= Gap::Space
            && matches!(self.get(i + 1), Some(Phrase::Deed(d)) if matches!(d.what, Act::Block | Act::Wrap))
            && onto(self.items[i + 1].span.of(self.text))
        {
            return;
        }
        // "new block because the old one was worn through"
        if self.last_deed.is_some() && self.led_by(i, &["old"]) {
            return;
        }
        // "had a block on the left hind, that's fallen off"
        let before = (0..i).rev().find(|k| !matches!(self.items[*k].is, Phrase::Place(_)));
        if let Some(k) = before
            && let Phrase::Stays(Some(device)) = self.items[k].is
            && (k + 1..=i).all(|k| self.gap(k) <= Gap::Comma)
        {
            self.deed(i, &Deed { lost: true, ..Deed::of(device.taken_off()) }, self.items[i].span);
            return;
        }
        // "blocks on both hinds, she lost the left one": they were on already.
        let one = self.get(i + 1).and_then(Phrase::place).is_some_and(|p| matches!(p.feet, Where::Side(_)))
            && self.gap(i + 1) <= Gap::Space
            && words::ends_with(self.items[i + 1].span.of(self.text), " one");
        if one
            && let (Some(device), Some(at)) = (self.device, self.last_deed)
            && (at + 1..i).all(|k| matches!(self.items[k].is, Phrase::Place(_)))
        {
            let on = self.items[at].span;
            self.take_back(on);
            self.deed(i, &Deed { lost: true, ..Deed::of(device.taken_off()) }, self.items[i].span);
            return;
        }
        // "both hind outers had bruises, left one gone"
        let side = i > 0 && matches!(self.get(i - 1), Some(Phrase::Place(p)) if matches!(p.feet, Where::Side(_)));
        // "the left's gone hard"
        let part = after.split([',', '.', ';']).next().unwrap_or_default().trim();
        let alone = ["", "now", "too", "altogether", "completely", "as well"].contains(&part);
        if side && alone && self.gap(i) <= Gap::Space && self.out.findings.len() > 1 && self.narrowed_to(i).is_some() {
            return self.course(i, Course::Healed, self.items[i].span);
        }
        // "wart's gone"
        let span = self.items[i].span;
        let detail = |is: &Phrase| {
            matches!(is, Phrase::Place(_) | Phrase::Past | Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_))
        };
        let lesion = (0..i).rev().find(|k| !detail(&self.items[*k].is));
        // "sprayed the wart left hind last week, it's gone"
        let it = self.led_by(i, &["it's", "it", "that's", "they're", "both"]);
        // "foul in the right hind, gone"
        let alone = self.gap(i) == Gap::Comma && self.gap(i + 1) > Gap::Space;
        let pause = if it || alone { Gap::Comma } else { Gap::Space };
        // "wart, left hind gone"
        let between = if self.gap(i + 1) > Gap::Space { Gap::Comma } else { Gap::Space };
        if ["gone", "gn", "away"].iter().any(|w| span.of(self.text).to_lowercase().ends_with(w))
            && let Some(k) = lesion
            && matches!(self.items[k].is, Phrase::Finding(_))
            && (k + 1..i).all(|k| self.gap(k) <= between)
            && self.gap(i) <= pause
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
        // "I meant to take the wrap off but she'd lost it already"
        if self.followed_first(i, &["it", "them"])
            && let Some(device) = self.device
            && self.out.actions.iter().all(|a| Device::of(a.deed.what) != Some(device))
        {
            self.deed(i, &Deed { lost: true, ..Deed::of(device.taken_off()) }, span);
            return;
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

    /// "blocks good", "block inner okay": a block or a wrap that was looked at, and none that was put on.
    pub(super) fn is_found_good(&self, i: usize, deed: &Deed) -> bool {
        const DEVICES: [&str; 7] = ["block", "blocks", "blk", "blks", "wrap", "wraps", "bandage"];
        if !matches!(deed.what, Act::Block | Act::Wrap) || deed.material.is_some() {
            return false;
        }
        let span = self.items[i].span;
        let said = span.of(self.text).to_lowercase();
        let noun = said.split(' ').next().is_some_and(|w| DEVICES.contains(&w.trim_end_matches("'s")));
        let behind = words::behind(self.text, span.end as usize, " is sitting okay,".len()).to_lowercase();
        let is = [" is sitting", " sits", " is", " are", " sit"];
        let behind = is.iter().find_map(|w| behind.strip_prefix(w)).unwrap_or(&behind);
        let mut good = [" good", " okay", " ok", " fine", " solid"].iter().filter_map(|w| behind.strip_prefix(w));
        noun && good.any(|rest| rest.is_empty() || rest.starts_with([',', '.', ';']))
    }

    /// "gone from the left hind"
    fn is_from_a_foot(&self, i: usize) -> bool {
        matches!(self.get(i + 1), Some(Phrase::Place(_))) && self.gap(i + 1) <= Gap::Space
    }

    /// "the wrap I put on the right hind last week is gone": what was put on then has come off.
    pub(super) fn is_gone_since(&self, i: usize) -> Option<Device> {
        let put = i.checked_sub(3)?;
        let (Some(Phrase::Deed(deed)), Some(Phrase::Place(_)), Some(Phrase::Past)) =
            (self.get(put), self.get(put + 1), self.get(put + 2))
        else {
            return None;
        };
        let close = (put + 1..=i).all(|k| self.gap(k) <= Gap::Space);
        let mine = self.words_to_next(put).iter().any(|w| w == "i" || w == "we");
        Device::of(deed.what).filter(|d| close && mine && d.put_on() == deed.what)
    }

    /// "still on": nothing was done, and a block named just before was no new one.
    pub(super) fn stays(&mut self, i: usize, device: Option<Device>) {
        if let Some(d) = device {
            if d == Device::Block && self.is_on_now(i) {
                let said = self.items[i].span.of(self.text).to_lowercase();
                let claw = self.get(i + 1).and_then(|p| p.place()?.claw);
                let material = crate::grammar::material_in(&said).map(str::to_owned);
                self.used_up = Some(i + 1);
                return self.deed(i, &Deed { claw, material, ..Deed::of(Act::Block) }, self.items[i].span);
            }
            if d == Device::Block && self.is_of_this_claw(i) {
                let claw = self.get(i - 1).and_then(|p| p.place()?.claw);
                return self.deed(i, &Deed { claw, ..Deed::of(Act::Block) }, self.items[i].span);
            }
            self.device = Some(d);
            // "had a block on the near hind inner": where the block was, not where a lesion is.
            let placed = matches!(self.get(i + 1), Some(Phrase::Place(_))) && self.gap(i + 1) <= Gap::Space;
            if placed && !self.begins_another(i + 1) {
                self.told(i + 1..=i + 1);
                self.owned = Some(i + 1);
            }
            // "block is still tight on cow 815 right hind inner, ulcer on the outer"
            let cow = self.items.get(i + 1).is_some_and(|it| it.is_cow() && it.gap <= Gap::Space);
            if cow && matches!(self.get(i + 2), Some(Phrase::Place(_))) && self.gap(i + 2) <= Gap::Space {
                self.owned = Some(i + 2);
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
        // "used to have a corn on the left hind, it's still there"
        let said = self.items[i].span.of(self.text);
        let still = ["still there", "still does", "still has it", "still has one"];
        let there = still.iter().any(|w| said.eq_ignore_ascii_case(w));
        if there && self.last_deed.is_none() && self.out.findings.is_empty() && self.found_again(None) {
            return;
        }
        let Some(at) = self.last_deed else { return };
        // "replaced the block on the left hind inner, the old one had worn down", "she can stay on straw"
        if self.led_by(i, &["old", "she", "because"]) {
            return;
        }
        // "one block on each back foot, both still tight"
        let placed = at + 1 < i && (at + 1..i).all(|k| matches!(self.items[k].is, Phrase::Place(_)));
        // "the right one I wrapped, the left one I left alone"
        let done = self.out.actions.last().and_then(|a| a.spot.foot);
        let elsewhere = (at + 1..i).filter_map(|k| self.get(k)?.place()).any(|p| {
            let there: Vec<Foot> = self.spots(p).iter().filter_map(|s| s.foot).collect();
            !there.is_empty() && done.is_some_and(|foot| !there.contains(&foot))
        });
        if elsewhere {
            return;
        }
        let same_breath = (at + 1..=i).all(|k| self.gap(k) <= if placed { Gap::Comma } else { Gap::Space });
        if same_breath && let Some(last) = self.out.actions.last().map(|a| a.span) {
            self.out.actions.retain(|a| a.span != last || !matches!(a.deed.what, Act::Block | Act::Wrap));
            self.waiting_actions.clear();
        }
    }

    /// Whether the device spoken of last is on another foot than the one in the hand.
    pub(super) fn device_is_elsewhere(&self) -> bool {
        let of_it = |a: &&DraftAction| self.device.is_some() && Device::of(a.deed.what) == self.device;
        let at = self.out.actions.iter().rev().find(of_it).and_then(|a| a.spot.foot);
        at.is_some_and(|at| {
            !self.held.spots.is_empty() && self.held.spots.iter().all(|s| s.foot.is_some_and(|f| f != at))
        })
    }

    /// "it's an abscess in the outer claw, so she's got a rubber block on the inner now": because of what was found.
    fn is_on_now(&self, i: usize) -> bool {
        let claw = matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.feet == Where::Same && p.claw.is_some());
        let led = words::before(self.text, self.items[i].span.start as usize, NEARBY);
        let so = led.rsplit([',', '.', ';']).next().is_some_and(|part| part.split_whitespace().any(|w| w == "so"));
        let now = self.followed_first(i + 1, &["now"]);
        claw && so && now && self.out.findings.last().is_some_and(|f| f.course.is_none())
    }

    /// "the outer claw has the sole ulcer, the inner one has the block": told side by side, both as they are now.
    fn is_of_this_claw(&self, i: usize) -> bool {
        let claw = match i.checked_sub(1).and_then(|k| self.get(k)) {
            Some(Phrase::Place(p)) if p.feet == Where::Same && self.gap(i) <= Gap::Space => p.claw,
            _ => return false,
        };
        let has = ["has the block", "gets the block", "carries the block"];
        let other =
            |f: &DraftFinding| f.course.is_none() && f.spot.claw.is_some_and(|c| Some(ClawWord::One(c)) != claw);
        has.contains(&self.items[i].span.of(self.text).to_lowercase().as_str())
            && self.out.findings.last().is_some_and(other)
    }

    pub(super) fn material(&mut self, i: usize, name: &str, span: Span) {
        let block = Deed { material: Some(name.to_owned()), ..Deed::of(Act::Block) };
        // "both blocked, left wood, right rubber", "blocks both, wood left, rubber right"
        let before = i > 0 && self.gap(i) <= Gap::Space && self.used_up != Some(i - 1);
        if before && self.is_of_the_block_at(i - 1, name) {
            return;
        }
        if self.gap(i + 1) <= Gap::Space && self.is_of_the_block_at(i + 1, name) {
            self.used_up = Some(i + 1);
            return;
        }
        // "rubber on the right hind inner", `rubber in`: the block.
        if let Some(next) = self.items.get(i + 1)
            && let Phrase::Place(place) = &next.is
            && next.gap <= Gap::Space
            && !self.begins_another(i + 1)
            && (self.words(span.end, next.span.start).first().is_some_and(|w| w == "on")
                || place.feet == Where::Same && !self.out.findings.is_empty() && next.span.start <= span.end + 1)
        {
            return self.deed(i, &block, span);
        }
        // `blk R in wood, L in rubber`
        if self.is_another_block(i) {
            let claw = self.get(i - 1).and_then(|p| p.place()?.claw);
            return self.deed(i, &Deed { claw, ..block }, span);
        }
        // "swapped the rubber block for wood"
        let block_before = i > 0 && matches!(self.get(i - 1), Some(Phrase::Deed(d)) if d.what == Act::Block);
        if block_before && self.gap(i) <= Gap::Space && self.led_by(i, &["for", "with"]) && self.led_by(i - 1, &SWAPPED)
        {
            let on = self.items[i - 1].span;
            for action in self.out.actions.iter_mut().filter(|a| a.span == on) {
                action.deed.material = Some(name.to_owned());
            }
            return;
        }
        // "put wood on"
        let put_on = self.led_last(i, &["put", "stuck", "glued"]) && self.followed_first(i, &["on"]);
        if put_on && !self.out.actions.iter().any(|a| a.deed.what == Act::Block) {
            return self.deed(i, &block, span);
        }
        // "used a rubber one today"
        let one = [" one", " ones"].iter().any(|w| words::ends_with(span.of(self.text), w));
        if one
            && self.led_by(i, &["used", "got", "put", "glued", "stuck", "fitted", "gave", "given", "on"])
            && !self.is_another_s(i)
            && !self.out.actions.iter().any(|a| a.deed.what == Act::Block)
        {
            return self.deed(i, &block, span);
        }
        // `RH su z4 blk; LH su z4 blk; both plastic`
        if before && matches!(self.get(i - 1), Some(Phrase::Place(p)) if p.feet == Where::Both && p.claw.is_none()) {
            let open = |a: &&mut DraftAction| a.deed.what == Act::Block && a.deed.material.is_none();
            let mut blocks = self.out.actions.iter_mut().filter(open).peekable();
            if blocks.peek().is_some() {
                return blocks.for_each(|b| b.deed.material = Some(name.to_owned()));
            }
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

    /// Gives the material to the block on the foot that the place at `k` names, where there is one on another foot as well.
    fn is_of_the_block_at(&mut self, k: usize, name: &str) -> bool {
        let Some(place) = self.get(k).and_then(Phrase::place) else { return false };
        let feet: Vec<Option<Foot>> = self.spots(place).iter().map(|s| s.foot).collect();
        let block = |a: &DraftAction| a.deed.what == Act::Block && a.spot.foot.is_some();
        let here = |a: &DraftAction| block(a) && feet.contains(&a.spot.foot);
        let elsewhere = self.out.actions.iter().any(|a| block(a) && !here(a));
        let open = self.out.actions.iter().any(|a| here(a) && a.deed.material.is_none());
        if elsewhere && open {
            self.out.actions.iter_mut().filter(|a| here(a)).for_each(|a| a.deed.material = Some(name.to_owned()));
        }
        elsewhere && open
    }

    /// Whether a place with its claw stands right before a material, on another foot than the block before, which has its own.
    fn is_another_block(&self, i: usize) -> bool {
        let Some(Phrase::Place(place)) = i.checked_sub(1).and_then(|k| self.get(k)) else { return false };
        let Some(block) = self.out.actions.last().filter(|a| a.deed.what == Act::Block) else { return false };
        let spots = self.spots(place);
        self.gap(i) <= Gap::Space
            && block.deed.material.is_some()
            && matches!(&spots[..], [Spot { foot: Some(foot), claw: Some(_), .. }] if block.spot.foot != Some(*foot))
    }

    /// Whether the block spoken of is of another material after all.
    fn is_another_one(&self, i: usize, name: &str) -> bool {
        let Some(block) = self.out.actions.last().filter(|a| a.deed.what == Act::Block) else { return false };
        let behind = self.text.get(self.items[i].span.end as usize..).unwrap_or_default();
        let one = words::begins(behind, " one");
        let led = self.words(block.span.end, self.items[i].span.start);
        let instead = led.iter().any(|w| ["no", "got", "gets", "instead", "used"].contains(&w.as_str()));
        (one || led.last().is_some_and(|w| w == "used" || w == "no"))
            && instead
            && block.deed.material.as_deref().is_some_and(|m| m != name)
    }

    pub(super) fn agent(&mut self, i: usize, name: &str) {
        let span = self.items[i].span;
        // "wrapped with copper because the salicylic is finished"
        let behind = words::behind(self.text, span.end as usize, NEARBY).to_lowercase();
        let out = [" is finished", " is gone", " is all gone", " ran out", " has run out", " is out", " was finished"];
        if out.iter().any(|w| behind.starts_with(w)) {
            return;
        }
        // "that copper sulfate's done the job": what was put on another day.
        let worked = [
            " done the job",
            "'s done the job",
            " has done the job",
            " did the job",
            "'s done its job",
            "'s worked",
            " has worked",
            " worked",
        ];
        if worked.iter().any(|w| behind.starts_with(w)) {
            return;
        }
        // "formalin bath advised"
        let part = behind.split([',', '.', ';', ':']).next().unwrap_or_default();
        if part.split(' ').any(|w| ["advised", "recommended", "suggested"].contains(&w)) {
            return self.remark_of(i);
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

    /// "outer claw has a block on it now": put on today.
    pub(super) fn has_it_now(&self, i: usize) -> bool {
        let span = self.items[i].span;
        let behind = words::behind(self.text, span.end as usize, " on there now".len()).to_lowercase();
        span.of(self.text).to_lowercase().starts_with("has ")
            && ([" on it now", " on there now", " on now", " now"].iter().any(|w| behind.starts_with(w))
                || self.words_behind(i).last().is_some_and(|w| w == "now"))
    }

    /// "sole ulcer, and she's got a block on the inner": on the sound claw of a lesion that nothing was said of before today.
    pub(super) fn has_one_for(&self, i: usize) -> bool {
        let said = self.items[i].span.of(self.text).to_lowercase();
        let has = ["she's got a", "has a", "has got a", "have a", "have got a"].iter().any(|w| said.starts_with(w));
        let claw = match self.get(i + 1) {
            Some(Phrase::Place(Place { feet: Where::Same, claw: Some(ClawWord::One(claw)), .. })) => *claw,
            _ => return false,
        };
        let lesion = self.out.findings.last();
        has && self.gap(i + 1) <= Gap::Space
            && self.words_behind(i).last().is_none_or(|w| w != "now")
            && lesion.is_some_and(|f| f.course.is_none() && f.spot.claw == Some(claw.partner()))
            && !self.items.iter().any(|it| matches!(it.is, Phrase::Past | Phrase::Course(_)))
    }

    /// What is said aside may still tell which device is spoken of, and that it stays.
    pub(super) fn aside(&mut self, i: usize) {
        let span = self.items[i].span;
        let said = span.of(self.text).to_lowercase();
        // "two sixty one has one too, same claw, same block": a new one, where no lesion is seen again.
        if said.contains("same block") && self.out.findings.last().is_some_and(|f| f.course.is_none()) {
            self.deed(i, &Deed::of(Act::Block), span);
            return;
        }
        // "right hind outer, bruise in the same place"
        if ["in the same place", "in the same spot"].contains(&said.as_str())
            && self.last_finding_item.is_some_and(|f| f + 1 == i)
            && self.last_mention().all(|f| f.zones.is_empty())
            && self.out.findings.iter().any(|f| !f.zones.is_empty())
        {
            self.same_zone(span);
        }
        // "took her wrap off, nothing under it"
        let bare = i > 0 && matches!(self.get(i - 1), Some(Phrase::Deed(_))) && self.device == Some(Device::Wrap);
        if bare
            && ["nothing under", "nothing beneath"].iter().any(|w| said.starts_with(w))
            && self.out.findings.is_empty()
        {
            let feet: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
            self.clear_feet(&feet, true);
        }
        // "blk on both hinds, ulcers still open, blks stay"
        if ["blks stay", "blocks stay"].iter().any(|w| said.contains(w)) {
            self.out.actions.retain(|a| a.deed.what != Act::Block);
            self.waiting_actions.clear();
            self.device = Some(Device::Block);
        }
        // "left the block on, it comes off in two weeks"
        let left_on = said.starts_with("still has the ")
            || ["left ", "same "].iter().any(|w| said.starts_with(w)) && !said.ends_with("place");
        let holds = said.ends_with(" holds") || said.ends_with(" hold") || said.contains(" on leave");
        // "farmer wrapped it Monday, I took it off"
        let put_on = ["wrapped", "blocked", " wrap on", " block on"].iter().any(|w| said.ends_with(w));
        if left_on || holds || put_on {
            if said.contains("wrap") || said.contains("bandage") {
                self.device = Some(Device::Wrap);
            } else if said.contains("block") || said.contains("blk") {
                self.device = Some(Device::Block);
            }
        }
        self.out.asides += 1;
    }
}
