//! Rule 3 and 11: what was done, and to which feet.

use super::device::SWAPPED;
use super::whose::in_a_season;
use super::{NEARBY, Pass};
use crate::anatomy::Foot;
use crate::entry::Act;
use crate::grammar::{ClawWord, Deed, Phrase, Place, Where};
use crate::meaning::draft::{Draft, DraftAction, LooseNumber, Spot};
use crate::vocab::Device;
use crate::words::{self, Gap, Span};

impl Pass<'_> {
    pub(super) fn deed(&mut self, i: usize, deed: &Deed, span: Span) {
        let mut deed = deed.clone();
        // "the block came off by itself, left hind inner, the ulcer looks good": where the block was.
        let apart = self.gap(i + 1) == Gap::Comma && self.gap(i + 2) > Gap::Space;
        if deed.lost
            && deed.what == Act::Unblock
            && apart
            && matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.one_foot().is_some_and(|(_, claw)| claw.is_some()))
        {
            self.owned = Some(i + 1);
        }
        if self.is_removed_before(i) {
            deed.what = Device::of(deed.what).map_or(deed.what, Device::taken_off);
            // "lost her left hind block"
            deed.lost = self.get(i.saturating_sub(2)) == Some(&Phrase::Lost);
        }
        if self.is_there_already(i, &deed) {
            return self.stays(i, Device::of(deed.what));
        }
        // "block's come off the left hind on its own"
        if matches!(deed.what, Act::Unblock | Act::Unwrap) && !deed.like_before {
            let behind = words::behind(self.text, span.end as usize, NEARBY).to_lowercase();
            let part = behind.split([',', '.', ';']).next().unwrap_or_default();
            deed.lost |= ["on its own", "by itself", "on their own", "by themselves"].iter().any(|w| part.contains(w));
        }
        // "was supposed to get her block off today"
        if matches!(deed.what, Act::Unblock | Act::Unwrap) && self.led_by(i, &["supposed"]) {
            self.device = Device::of(deed.what).or(self.device);
            self.out.asides += 1;
            return;
        }
        // "the block's gone across to the outer"
        let behind = words::behind(self.text, span.end as usize, " across to".len());
        if deed.lost && [" across to", " over to", " onto"].iter().any(|w| behind.starts_with(w)) {
            deed.what = Device::of(deed.what).map_or(deed.what, Device::put_on);
            (deed.lost, deed.claw) = (false, None);
        }
        // "removed the wrap and the block"
        if self.goes_with_it(i, &deed) {
            deed.what = Device::of(deed.what).map_or(deed.what, Device::taken_off);
        }
        // "give her six weeks, then it comes off": not today.
        let time = |is: &Phrase| matches!(is, Phrase::Time(_) | Phrase::Due { .. } | Phrase::OffAt(_));
        if self.is_others_to_do(i) || self.is_still_to_come_off(i, &deed) {
            // "the farmer put a wrap on, I took it off"
            let named = Device::of(deed.what).filter(|_| !deed.like_before);
            self.device = named.or(self.device);
            // "farmer's going to wrap 73 tomorrow"
            let breath = (i + 1..self.items.len()).take_while(|k| self.gap(*k) <= Gap::Space);
            let day = breath.clone().any(|k| matches!(self.items[k].is, Phrase::Time(_)))
                && breath.clone().all(|k| self.items[k].is_cow() || matches!(self.items[k].is, Phrase::Time(_)));
            if self.is_for_later(i) || day {
                self.remark_of(i);
            } else {
                self.out.remarks.push(self.said_of(i));
            }
            self.claw_of_deed(i);
            return;
        }
        if self.off_then(i, &deed, span) {
            return;
        }
        // "the abscess that I opened on Monday is healing": not today.
        if deed.what.is_knife_work() || matches!(deed.what, Act::Topical) {
            let led = self.words_before(i);
            let told =
                matches!(led.iter().map(String::as_str).collect::<Vec<_>>()[..], [.., "that" | "which", "i" | "we"]);
            if told && self.gap(i + 1) <= Gap::Space && matches!(self.get(i + 1), Some(Phrase::Time(_) | Phrase::Past))
            {
                self.used_up = Some(i + 1);
                return self.remark_of(i);
            }
        }
        if self.is_for_a_season(i) {
            return self.remark_of(i);
        }
        if matches!(deed.what, Act::Unblock | Act::Unwrap) && self.is_what_it_is_for(i) {
            return self.out.unread.push(span);
        }
        // "check her in two weeks, off with it in six": read with its number.
        if deed.like_before && matches!(self.get(i + 1), Some(Phrase::Number { .. })) && self.words_to_next(i) == ["in"]
        {
            return;
        }
        self.off_with_it(i, &deed);
        if deed.like_before
            && deed.what == Act::Unblock
            && i > 0
            && self.get(i - 1).is_some_and(time)
            && self.words(self.items[i - 1].span.end, span.start).iter().any(|w| w == "then")
        {
            return;
        }
        // "block was due off today, still needed": told of.
        let due = |words: &[String]| matches!(words, [.., was, due] if was == "was" && due == "due");
        if deed.like_before && deed.what == Act::Unblock && due(&self.words_before(i)) {
            let on = self.device.unwrap_or(Device::Block).put_on();
            self.out.actions.retain(|a| a.deed.what != on);
            self.waiting_actions.clear();
            self.out.asides += 1;
            return;
        }
        // "block swapped for a new rubber one": one block, of rubber.
        if matches!(deed.what, Act::Block | Act::Wrap) && self.is_what_for(i) {
            let before = self.items[i - 1].span;
            let other = matches!(&self.items[i - 1].is, Phrase::Deed(d) if d.what != deed.what);
            for action in self.out.actions.iter_mut().filter(|a| a.span == before) {
                if other && let Some(device) = Device::of(action.deed.what) {
                    // "block replaced by a wrap"
                    action.deed = Deed::of(device.taken_off());
                    action.own = None;
                } else {
                    action.deed.material = deed.material.clone().or(action.deed.material.take());
                    action.own = action.own.or(deed.claw);
                }
            }
            if !other {
                return;
            }
        }
        // "a nail in the sole, pulled it": the nail.
        if deed.like_before && self.device.is_none() && span.of(self.text).eq_ignore_ascii_case("pulled it") {
            return;
        }
        // "a flap of loose horn hanging over it, took that off": the horn, which is pared already.
        let horn = |d: usize| {
            let pared = matches!(&self.items[d].is, Phrase::Deed(d) if d.what == Act::Pare);
            let aside = self.items[d + 1..i].iter().all(|it| matches!(it.is, Phrase::Aside | Phrase::Unread));
            pared && aside && words::ends_with(self.items[d].span.of(self.text), "horn")
        };
        if deed.like_before && self.gap(i) == Gap::Comma && self.last_deed.is_some_and(horn) {
            return;
        }
        if deed.like_before && deed.what == Act::Unblock {
            deed.what = match self.device {
                Some(device) => device.taken_off(),
                // "a double sole, took that off": the horn.
                None if !self.out.findings.is_empty() => Act::Pare,
                None => return,
            };
            // The block spoken of was there already: it was not put on today.
            let on = Device::of(deed.what).unwrap_or(Device::Block).put_on();
            // "the old one on the right hind I've taken off": another than today's.
            let old = self.told_by_others(i).to_lowercase().contains("old one");
            if !old {
                // "wrapped it, last week's wrap on the right hind taken off": that of another foot stays on.
                let held: Vec<_> = self.held.spots.iter().filter_map(|s| s.foot).collect();
                let elsewhere = |a: &DraftAction| a.spot.foot.is_some_and(|f| !held.is_empty() && !held.contains(&f));
                self.out.actions.retain(|a| a.deed.what != on || elsewhere(a));
                self.waiting_actions.clear();
            }
            // "block five weeks on the left hind, took it off": how long it was on.
            if let Some(device) = self
                .device
                .filter(|_| ["took", "pulled", "off"].iter().any(|w| span.of(self.text).to_lowercase().starts_with(w)))
            {
                let held: Vec<_> = self.held.spots.iter().filter_map(|s| s.foot).collect();
                let elsewhere = |foot: Option<Foot>| foot.is_some_and(|f| !held.is_empty() && !held.contains(&f));
                self.out.due.retain(|(d, _)| d.what != device.due_off() || elsewhere(d.foot));
            }
        } else if deed.like_before {
            // "white line fissure, fresh one": the lesion.
            let said = span.of(self.text).to_lowercase();
            // "wood block on one": of two feet, and no second block.
            let put_on = |d: &Deed| matches!(d.what, Act::Block | Act::Wrap);
            if said == "one"
                && self.gap(i) <= Gap::Space
                && i > 0
                && matches!(self.get(i - 1), Some(Phrase::Deed(d)) if put_on(d))
            {
                return;
            }
            if self.device.is_none() && said.starts_with("got one on") && self.one_on_the_other_claw(i, deed.claw) {
                return;
            }
            // "the left hind outer has a new one starting": the lesion, though a block was spoken of.
            let begins = ["starting", "coming", "forming", "beginning", "developing", "started"];
            if said.ends_with("new one") && self.followed_first(i, &begins) && !self.out.findings.is_empty() {
                // "… zone four, just a bruise so far": it is named behind.
                if !self.finding_follows(i + 1) {
                    self.another_finding(i, i + 1);
                }
                return;
            }
            // "healed but a new one on the outer zone four": a block has no zone.
            let claw = usize::from(matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.feet == Where::Same));
            let zoned = matches!(self.get(i + 1 + claw), Some(Phrase::Zones(_)))
                && (i + 1..=i + 1 + claw).all(|k| self.gap(k) <= Gap::Space);
            if zoned && said.contains("new one") && !self.out.findings.is_empty() {
                self.another_finding(i, i + 1);
                if let Some(ClawWord::One(claw)) = deed.claw {
                    self.last_mention().for_each(|f| f.spot.claw = Some(claw));
                }
                return;
            }
            let bare = !said.split(' ').any(|w| {
                ["put", "on", "stuck", "held", "glued"].contains(&w)
                    || w.starts_with("replace")
                    || w == "moved"
                    || w == "swapped"
            });
            let named = said.contains("block");
            if self.device.is_none() && !named && (self.out.findings.is_empty() || bare) {
                if ["another", "new one", "a new one", "fresh one", "one on"].iter().any(|w| said.starts_with(w)) {
                    self.another_finding(i, i + 1);
                }
                return;
            }
            deed.what = self.device.unwrap_or(Device::Block).put_on();
        }
        // "old block on the outer loose, so I swapped it for a rubber one": one block, where the old one was.
        if deed.what == Act::Block && span.of(self.text).to_lowercase().starts_with("swapped it") {
            let old = self.out.actions.iter().rposition(|a| a.deed.what == Act::Block);
            if let Some(old) = old.map(|at| self.out.actions.remove(at)) {
                deed.claw = deed.claw.or(old.own);
                self.waiting_actions.clear();
            }
        }
        // "right front outer, sand crack, tidied up": that claw.
        let tidied = || ["tidied", "tidied up", "tidy up"].iter().any(|w| span.of(self.text).eq_ignore_ascii_case(w));
        if deed.what == Act::Trim
            && self.held.used
            && self.held.spots.iter().any(|s| s.claw.is_some())
            && self
                .last_finding_item
                .is_some_and(|f| f + 1 == i || self.out.findings.iter().any(|x| x.span == self.items[f].span))
            && tidied()
        {
            deed.what = Act::Pare;
        }
        // "trimmed the outer claw to balance it": of the foot in the hand.
        let one_claw =
            matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.feet == Where::Same && p.one_claw().is_some());
        if deed.what == Act::Trim
            && one_claw
            && self.gap(i + 1) <= Gap::Space
            && matches!(self.held.spots[..], [Spot { foot: Some(_), .. }])
        {
            deed.what = Act::Pare;
        }
        self.device = Device::of(deed.what).or(self.device);
        if deed.what == Act::Block && deed.material.is_none() {
            deed.material = self.material.take().map(|m| m.0);
        }
        if matches!(deed.what, Act::Wrap | Act::Topical) && deed.agent.is_none() {
            deed.agent = self.agent.take().map(|a| a.0);
        }
        self.number_lost_before(i);
        self.last_deed = Some(i);
        // "dry, so I left them and wrapped": how "unwrapped" is heard.
        let unwrapped = deed.what == Act::Wrap && self.items[i].and && i > 0 && self.left_alone(i - 1);
        // "sprayed unwrapped": how "and wrapped" is.
        let and_wrapped = deed.what == Act::Unwrap
            && span.of(self.text).eq_ignore_ascii_case("unwrapped")
            && i > 0
            && self.gap(i) <= Gap::Space
            && self.words_before(i).is_empty()
            && matches!(self.get(i - 1), Some(Phrase::Deed(d)) if matches!(d.what, Act::Topical | Act::Pare | Act::Drain | Act::Block));
        if and_wrapped {
            deed.what = Act::Wrap;
        }
        let unwrapped = unwrapped || and_wrapped;
        let before = self.claw_before(i, &deed);
        if before.is_some() && self.is_for_a_lesion(i) {
            for spot in &mut self.held.spots {
                spot.claw = None;
            }
        }
        let own =
            deed.claw.or(before).or_else(|| self.claw_spoken_of(i, &deed)).or_else(|| self.claw_set_apart(i, &deed));
        if self.is_what_with(i, &deed, own) {
            return;
        }
        let unsure = unwrapped || deed.what == Act::Vet && self.is_only_mentioned(i);
        let push = |out: &mut Draft, spot: Spot| {
            out.actions.push(DraftAction { deed: deed.clone(), spot, own, unsure, span });
        };
        if deed.what == Act::Vet {
            push(&mut self.out, Spot::default());
            return;
        }
        if let Some(k) = self.place_of_object(i, &deed) {
            let Some(Phrase::Place(place)) = self.get(k).cloned() else { return };
            for spot in self.spots(&place) {
                push(&mut self.out, Spot { claw: spot.claw.filter(|_| deed.what.is_knife_work()), ..spot });
            }
            return;
        }
        if let Some(spots) = self.place_shared(i, &deed) {
            for spot in spots {
                push(&mut self.out, spot);
            }
            return;
        }
        if let Some(spots) = self.stage_spoken_of(i).or_else(|| self.lesion_of_deed(i)) {
            for spot in spots {
                push(&mut self.out, Spot { claw: spot.claw.filter(|_| deed.what.is_knife_work()), ..spot });
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
                self.used_up = Some(k);
            }
            // "left hind, double sole, a bruise behind it, pared the lot"
            let all = self.items[k].span.of(self.text).to_lowercase();
            if spots.len() == 4 && deed.what != Act::Trim && ["lot", "everything"].iter().any(|w| all.ends_with(w)) {
                match self.lesion_feet(false)[..] {
                    [foot] => {
                        spots = vec![Spot { foot: Some(foot), ..Spot::default() }];
                        self.used_up = Some(k);
                    }
                    // "a wrap over the lot", and no foot was heard: which is asked.
                    [] if matches!(deed.what, Act::Block | Act::Wrap) => {
                        spots = vec![Spot::default()];
                        self.used_up = Some(k);
                    }
                    _ => {}
                }
            }
            // "sole ulcer right hind, wrap right", "… sprayed the front": the one foot of that side or end that has a lesion.
            if let (Where::Side(_) | Where::End(_), [Spot { half: Some(half), claw, .. }]) = (&place.feet, &spots[..])
                && let Some(foot) = self.lesion_foot_of(*half)
            {
                spots = vec![Spot { foot: Some(foot), half: None, claw: *claw }];
            }
            // "trimmed both hinds clean, both fronts clean": she was trimmed, and each pair is clean.
            let clean = |k: usize| self.get(k + 1) == Some(&Phrase::Clear) && self.gap(k + 1) <= Gap::Space;
            let pairs = spots.len() == 2
                && clean(k)
                && matches!(self.get(k + 2), Some(Phrase::Place(p)) if p.group)
                && clean(k + 2);
            if deed.what == Act::Trim && pairs {
                spots = vec![Spot::default()];
            }
            if deed.what == Act::Trim && (spots.len() == 4 || place.feet == Where::Rest) {
                spots = vec![Spot::default()];
            }
            // "blocks on both sides", and no foot was named: it was done, and where is asked.
            if spots.is_empty() {
                self.waiting_actions.push(self.out.actions.len());
                spots = vec![Spot::default()];
            }
            let own = own.or(if deed.what == Act::Block { place.claw } else { None });
            for spot in spots {
                let claw = if deed.what == Act::Block { None } else { spot.claw };
                // Each foot of a list keeps the claw said with it; in "ulcers on both hind outers, blocks on both" it
                // is the lesion's.
                let lesions = place.feet == Where::Both
                    && place.claw.is_none()
                    && self.out.findings.iter().any(|f| f.spot.foot == spot.foot && f.spot.claw == spot.claw);
                let own = match (own, spot.claw) {
                    (None, Some(c)) if deed.what == Act::Block && !lesions => Some(ClawWord::One(c)),
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
            // "block off left hind outer ulcer healed nicely": the claw right before the lesion is the lesion's.
            let of_lesion = deed.what == Act::Unblock
                && deed.claw.is_none()
                && place.one_claw().is_some()
                && matches!(self.get(k + 1), Some(Phrase::Finding(_)))
                && self.gap(k + 1) <= Gap::Space
                && self.words_to_next(k).is_empty();
            if of_lesion {
                self.out
                    .actions
                    .iter_mut()
                    .filter(|a| a.span == span)
                    .for_each(|a| (a.spot.claw, a.own) = (None, None));
                return;
            }
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
            let it = [" it", " that", " the foot", " this foot", " the hoof"].iter().any(|w| words::begins(after, w));
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
            let mut spots = self.held.spots.clone();
            if let Some(spot) = self.first_or_last(i) {
                spots = vec![Spot { claw: None, ..spot }];
            }
            // "warts both hinds, wrapped one, sprayed the other": which of them is asked.
            if spots.len() == 2 && self.is_of_one(i, &deed) {
                push(&mut self.out, Spot::default());
                return;
            }
            // "right rear, opened up the outside claw"
            if let Some(Phrase::Place(Place { feet: Where::Same, claw: Some(ClawWord::One(claw)), .. })) =
                self.get(i + 1)
                && deed.what.is_knife_work()
                && self.gap(i + 1) <= Gap::Space
                && let [spot] = &mut spots[..]
                && spot.claw.is_none()
            {
                spot.claw = Some(*claw);
            }
            // "wart right hind, other hind clean, wrapped it": a clean foot needs nothing.
            let clean = |s: &Spot| s.foot.is_some_and(|f| self.out.clear.contains(&f));
            if spots.iter().all(clean) && !self.out.findings.is_empty() {
                spots = self.last_mention().map(|f| f.spot).collect();
            }
            for s in &mut spots {
                if !deed.what.is_knife_work() {
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

    /// "M2 left hind, M4 right hind, sprayed the first one": where that lesion is.
    fn first_or_last(&self, i: usize) -> Option<Spot> {
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
        // "blocked first, then wrapped" tells of the order.
        let the = behind.starts_with(" the ");
        let said = |w: &str| {
            let rest = behind.strip_prefix(" the").unwrap_or(behind).strip_prefix(w);
            rest.is_some_and(|r| r.starts_with(" one") || the && (r.is_empty() || r.starts_with([',', '.', ';'])))
        };
        // "left severe, right mild, wrap just the bad one"
        let only = [" just", " only"].iter().find_map(|w| behind.strip_prefix(w)).unwrap_or(behind);
        if [" the bad one", " the worse one", " the worst one", " the severe one"].iter().any(|w| only.starts_with(w)) {
            let worst = self.out.findings.iter().filter_map(|f| f.severity).max()?;
            let mut bad = self.out.findings.iter().filter(|f| f.severity == Some(worst)).map(|f| f.spot);
            let (one, another) = (bad.next(), bad.next());
            return one.filter(|s| s.foot.is_some() && another.is_none());
        }
        let mut feet = self.out.findings.iter().filter(|f| f.spot.foot.is_some()).map(|f| f.spot);
        let (first, last) = (feet.clone().next()?, feet.next_back()?);
        match (said(" first"), said(" last") || said(" second")) {
            (true, _) => Some(first),
            (_, true) => Some(last),
            _ => None,
        }
    }

    /// "block on the inner to get the wrap off it", the weight: what it is for, and nothing that came off.
    fn is_what_it_is_for(&self, i: usize) -> bool {
        let just_put_on = self.last_deed.is_some_and(|at| {
            let on = matches!(&self.items[at].is, Phrase::Deed(d) if matches!(d.what, Act::Block | Act::Wrap));
            on && (at + 1..=i).all(|k| self.gap(k) <= Gap::Space)
        });
        let led = self.words_before(i);
        let led: Vec<&str> = led.iter().map(String::as_str).collect();
        just_put_on && matches!(led[..], [.., "to", "get", "the" | "that" | "her"])
    }

    /// "trim in the autumn as usual": not today.
    fn is_for_a_season(&self, i: usize) -> bool {
        let span = self.items[i].span;
        let done = words::ends_with(span.of(self.text), "ed");
        !done && in_a_season(words::behind(self.text, span.end as usize, NEARBY))
    }

    /// Whether the block or wrap right before was put in place of another, and the item at `i` says for which.
    fn is_what_for(&self, i: usize) -> bool {
        let Some(before) = i.checked_sub(1).map(|k| &self.items[k]) else { return false };
        let put_on = matches!(&before.is, Phrase::Deed(d) if matches!(d.what, Act::Block | Act::Wrap));
        if !put_on || self.gap(i) > Gap::Space {
            return false;
        }
        let said = self.text.get(before.span.start as usize..self.items[i].span.start as usize).unwrap_or_default();
        let said = said.to_lowercase();
        SWAPPED.iter().any(|w| said.contains(w)) && [" for", " with", " by"].iter().any(|w| said.contains(w))
    }

    /// "blocked her on the inner with a rubber block": one block, and what it is made of.
    fn is_what_with(&mut self, i: usize, deed: &Deed, own: Option<ClawWord>) -> bool {
        // The claw before it may be read with it.
        let with = |i: usize| self.led_by(i, &["with"]) || self.items[i].span.of(self.text).contains(" with ");
        if !matches!(deed.what, Act::Block | Act::Wrap) || self.gap(i) > Gap::Comma || !with(i) {
            return false;
        }
        let Some(k) = (0..i).rev().find(|k| !matches!(self.items[*k].is, Phrase::Place(_))) else { return false };
        let before = self.items[k].span;
        let done = |a: &DraftAction| a.span == before && a.deed.what == deed.what;
        if !self.out.actions.iter().any(done) {
            return false;
        }
        // "blocked it with a rubber block on the inner": where, is yet to come.
        let claw = |k: usize| self.gap(k) <= Gap::Space && self.get(k).and_then(|p| p.place()?.claw).is_some();
        let own = own.or_else(|| (k + 1..i).rev().find_map(|k| self.items[k].is.place()?.claw));
        if own.is_none() && claw(i + 1) && !self.out.actions.iter().any(|a| done(a) && a.own.is_some()) {
            self.out.actions.retain(|a| !done(a));
            return false;
        }
        for action in self.out.actions.iter_mut().filter(|a| done(a)) {
            action.own = action.own.or(own);
            action.deed.material = deed.material.clone().or(action.deed.material.take());
            action.deed.agent = deed.agent.clone().or(action.deed.agent.take());
        }
        true
    }

    /// "M2 left hind, M4 right hind, sprayed and wrapped the left hind": both, and not the foot in the hand.
    fn place_shared(&self, i: usize, deed: &Deed) -> Option<Vec<Spot>> {
        let Some(Phrase::Deed(next)) = self.get(i + 1) else { return None };
        let one = |d: &Deed| matches!(d.what, Act::Topical | Act::Wrap | Act::Pare | Act::Drain) && !d.like_before;
        let held = !self.out.findings.is_empty();
        let next_to = one(next) || next.what == Act::Block && !next.like_before;
        // "…, block and wrap on the left"
        let block = deed.what == Act::Block && deed.claw.is_none() && !deed.like_before && self.gap(i) > Gap::Space;
        let next_to = next_to && !(block && next.what == Act::Block);
        if !(held && (one(deed) || block) && next_to && self.items[i + 1].and && self.gap(i + 1) <= Gap::Space) {
            return None;
        }
        let place = self.get(self.action_place(i + 1, next, held)?)?.place()?;
        let mut spots = (place.feet != Where::Same).then(|| self.spots(place))?;
        if let [Spot { half: Some(half), .. }] = spots[..] {
            (spots[0].foot, spots[0].half) = (self.lesion_foot_of(half), None);
        }
        if spots.iter().any(|s| s.foot.is_none()) {
            return None;
        }
        for spot in &mut spots {
            let lesion = self.out.findings.iter().find(|f| f.spot.foot == spot.foot);
            spot.claw = lesion.and_then(|f| f.spot.claw).filter(|_| deed.what.is_knife_work());
        }
        Some(spots)
    }

    /// Whether it was done to "one" of two feet, or to "the other".
    fn is_of_one(&self, i: usize, deed: &Deed) -> bool {
        let claws = matches!(deed.what, Act::Block | Act::Unblock) && deed.claw.is_none();
        let other = matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.claw == Some(ClawWord::Other) && !claws);
        let only = usize::from(self.get(i + 2) == Some(&Phrase::Only) && self.gap(i + 2) <= Gap::Space);
        if other && self.gap(i + 1) <= Gap::Space && self.gap(i + 2 + only) > Gap::Space {
            return true;
        }
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
        let one = behind.strip_prefix(" on one").or_else(|| behind.strip_prefix(" one"));
        let apart = |r: &str| r.is_empty() || r.starts_with([',', '.', ';']);
        one.is_some_and(|r| apart(r.strip_prefix(" only").unwrap_or(r)))
    }

    /// "still has her left hind block": its place stands between.
    fn is_there_already(&self, i: usize, deed: &Deed) -> bool {
        if !matches!(deed.what, Act::Block | Act::Wrap) {
            return false;
        }
        // "had an ulcer last time with a block on the inside"
        let then = i > 0 && self.get(i - 1) == Some(&Phrase::Past);
        if then && self.gap(i) <= Gap::Space && self.words_before(i).first().is_some_and(|w| w == "with") {
            return true;
        }
        // "still has her block on the left hind, leave that be"
        let has = i > 0
            && self.get(i - 1) == Some(&Phrase::Stays(None))
            && ["has", "got", "had", "have"].iter().any(|w| words::ends_with(self.items[i - 1].span.of(self.text), w));
        let small = ["her", "the", "a", "that", "last", "old", "my", "our"];
        if has && self.gap(i) <= Gap::Space && self.words_before(i).iter().all(|w| small.contains(&w.as_str())) {
            return true;
        }
        if deed.claw.is_some() || deed.material.is_some() {
            return false;
        }
        // "three weeks on the block"
        let since = i > 0
            && matches!(self.get(i - 1), Some(Phrase::Time(_)))
            && matches!(&self.words_before(i)[..], [on, the] if on == "on" && the == "the");
        if since && self.gap(i) <= Gap::Space {
            return true;
        }
        // "still on the block, right hind inner"
        let on = i > 0
            && self.get(i - 1) == Some(&Phrase::Stays(None))
            && words::ends_with(self.items[i - 1].span.of(self.text), "still on");
        if on && self.gap(i) <= Gap::Space && self.led_last(i, &["the", "her", "a"]) {
            return true;
        }
        // "is back about her block", "come back for the block": why she is here.
        const ABOUT: [&str; 6] =
            ["about her", "about the", "about that", "back for the", "back for her", "back with her"];
        let noun = ["block", "wrap", "shoe", "bandage"];
        let noun = noun.iter().any(|w| self.items[i].span.of(self.text).eq_ignore_ascii_case(w));
        let led = words::before(self.text, self.items[i].span.start as usize, NEARBY).trim_end();
        if noun && self.out.findings.is_empty() && ABOUT.iter().any(|w| words::ends_with(led, w)) {
            return true;
        }
        let still = i >= 2
            && matches!(self.get(i - 1), Some(Phrase::Place(_)))
            && self.get(i - 2) == Some(&Phrase::Stays(None))
            && self.gap(i) <= Gap::Space
            && self.gap(i - 1) <= Gap::Space;
        still || matches!(self.get(i + 1), Some(Phrase::Place(_))) && self.is_to_come_off(i + 1)
    }

    /// Whether what is on the place at `k` is said to come off another day.
    fn is_to_come_off(&self, k: usize) -> bool {
        const DUE: [&str; 5] =
            [" is due off", "'s due off", " is due to come off", " isn't due off", " isn't due to come off"];
        // "wrap on the left front should come off Saturday"
        let should = matches!(self.get(k + 1), Some(Phrase::OffAt(_) | Phrase::Due { .. }))
            && self.gap(k + 1) <= Gap::Space
            && self.led_by(k + 1, &["should", "ought"]);
        // "block on left hind is due off next visit"
        let behind = words::behind(self.text, self.items[k].span.end as usize, NEARBY);
        should || DUE.iter().any(|w| words::begins(behind, w))
    }

    /// Whether a bare "the block" is joined to a wrap that was taken off, or the other way round.
    fn goes_with_it(&self, i: usize, deed: &Deed) -> bool {
        let Some(Phrase::Deed(before)) = i.checked_sub(1).and_then(|k| self.get(k)) else { return false };
        let other = matches!((before.what, deed.what), (Act::Unwrap, Act::Block) | (Act::Unblock, Act::Wrap));
        let verb = self.items[i - 1].span.of(self.text).to_lowercase();
        let taken = ["removed", "took", "pulled", "cut", "take", "taken"].iter().any(|w| verb.starts_with(w));
        let the = matches!(self.words_before(i).iter().map(String::as_str).collect::<Vec<_>>()[..], [.., "the"]);
        let bare = deed.claw.is_none() && deed.material.is_none() && !deed.like_before;
        let noun =
            ["block", "wrap", "bandage"].iter().any(|w| self.items[i].span.of(self.text).eq_ignore_ascii_case(w));
        if !(other && bare && noun) {
            return false;
        }
        // "block off and the wrap too", "block off, wrap as well"
        let behind = words::behind(self.text, self.items[i].span.end as usize, " as well".len());
        let too = [" too", " as well"].iter().any(|w| words::begins(behind, w)) && self.gap(i) <= Gap::Comma;
        let off = verb.ends_with(" off");
        (taken || off) && the && self.items[i].and && self.gap(i) <= Gap::Space || off && too
    }

    /// `BLK & WRAP OFF`: both are.
    fn off_with_it(&mut self, i: usize, deed: &Deed) {
        let other = match deed.what {
            Act::Unblock if !deed.like_before => Act::Wrap,
            Act::Unwrap if !deed.like_before => Act::Block,
            _ => return,
        };
        let Some(before) = i.checked_sub(1).filter(|_| self.items[i].and && self.gap(i) <= Gap::Space) else { return };
        let bare = |d: &Deed| d.what == other && !d.plural && d.claw.is_none() && d.material.is_none();
        let span = self.items[before].span;
        if matches!(self.get(before), Some(Phrase::Deed(d)) if bare(d)) && span.end - span.start <= "block".len() as u32
        {
            let off = Device::of(other).map_or(other, Device::taken_off);
            self.out.actions.iter_mut().filter(|a| a.span == span).for_each(|a| a.deed.what = off);
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
        let behind =
            if self.get(i + 1) == Some(&Phrase::Unread) { self.words_behind(i) } else { self.words_to_next(i) };
        let it = match behind.iter().map(String::as_str).collect::<Vec<_>>()[..] {
            ["the" | "that", "same", "claw" | "one", ..] | ["that" | "this", "claw" | "one", ..] => {
                deed.what == Act::Block && self.items[i].span.of(self.text).ends_with(" on")
            }
            ["on", "that" | "it"] => deed.what == Act::Block && self.gap(i + 1) > Gap::Space,
            ["on", "the" | "that", "same", "claw" | "one", ..]
            | ["on", "that" | "this", "claw" | "one", ..]
            | ["same", "claw", ..] => deed.what == Act::Block,
            _ => false,
        };
        // "took the block off left hind inner, ulcer outer … a new block on the same claw": where the old one was.
        let old = |a: &DraftAction| {
            a.own.or(a.deed.claw).or(a.spot.claw.map(ClawWord::One)).filter(|_| a.deed.what == Act::Unblock)
        };
        if it
            && behind.iter().any(|w| w == "same")
            && let Some(old) = self.out.actions.iter().rev().find_map(old)
        {
            return Some(old);
        }
        let claw = self.held.spots.first().filter(|_| it && self.held.spots.len() == 1)?.claw?;
        Some(ClawWord::One(claw))
    }

    /// "block's on, on the inner, for an ulcer on the outer"
    fn claw_set_apart(&mut self, i: usize, deed: &Deed) -> Option<ClawWord> {
        let Some(Phrase::Place(p)) = self.get(i + 1) else { return None };
        let claw = p.claw.filter(|_| p.feet == Where::Same && deed.what == Act::Block)?;
        let apart = self.gap(i + 1) == Gap::Comma && self.gap(i + 2) > Gap::Space;
        if !apart || self.words_to_next(i).first().is_none_or(|w| w != "on") {
            return None;
        }
        self.used_up = Some(i + 1);
        Some(claw)
    }

    /// `LRO TU z5 LRI blk`: behind the lesion, and right before the block, the claw is the block's.
    fn claw_before(&self, i: usize, deed: &Deed) -> Option<ClawWord> {
        let place = i.checked_sub(1).filter(|_| deed.what == Act::Block)?;
        let Phrase::Place(p) = &self.items[place].is else { return None };
        if self.is_for_a_lesion(i) {
            return p.one_claw();
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

    /// "block due off today, took it off the right rear": told twice, once without its foot.
    pub(super) fn taken_off_once(&mut self) {
        for what in [Act::Unblock, Act::Unwrap] {
            let feet = self.out.actions.iter().any(|a| a.deed.what == what && a.spot.foot.is_some());
            self.out.actions.retain(|a| !feet || a.deed.what != what || a.spot.foot.is_some() || a.spot.half.is_some());
        }
    }

    /// "just took the toes back on all four", where nothing was found: she was trimmed.
    pub(super) fn pared_all_round(&mut self) {
        let pare = |a: &&DraftAction| a.deed.what == Act::Pare;
        let Some(first) = self.out.actions.iter().find(pare).map(|a| a.span) else { return };
        let here = |a: &DraftAction| a.span == first && a.deed.what == Act::Pare;
        let feet = self.out.actions.iter().filter(|a| here(a) && a.spot.foot.is_some()).count();
        if !self.out.findings.is_empty() || feet != Foot::ALL.len() {
            return;
        }
        let trim =
            DraftAction { deed: Deed::of(Act::Trim), spot: Spot::default(), own: None, unsure: false, span: first };
        self.out.actions.retain(|a| !here(a));
        self.out.actions.push(trim);
    }
}
