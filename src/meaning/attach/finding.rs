//! Rule 2: a finding takes the place before it, or the one right after it.

use super::{Held, NEARBY, Pass};
use crate::anatomy::Foot;
use crate::disorder::Disorder;
use crate::entry::Act;
use crate::grammar::{Named, Phrase, Place, Where};
use crate::meaning::draft::{DraftFinding, LooseNumber, Spot};
use crate::vocab::{Part, Vague};
use crate::words::{self, Gap, Span};

impl Pass<'_> {
    pub(super) fn finding(&mut self, i: usize, named: Named, span: Span) {
        let named = self.diffuse(i, self.at_part(i, named));
        // "a bruise more than an ulcer"
        if i > 0 && self.last_finding_item == Some(i - 1) && self.gap(i) <= Gap::Space {
            let between = self.words(self.items[i - 1].span.end, span.start);
            if between.len() >= 2 && between[..2] == ["more", "than"] {
                return;
            }
        }
        if self.is_of_the_field(i) {
            return self.remark_of(i);
        }
        let named = match named {
            Named::Vague(Vague::Crack) => self.way_of_crack(i).unwrap_or(named),
            _ => named,
        };
        if self.makes_precise(i, named, span) || self.is_instead(i, named, span) {
            return;
        }
        if self.is_what_made_it(i, named, span) || self.turned_into(i, named, span) {
            return;
        }
        if self.is_the_ulcer(i, named) {
            return;
        }
        // "white line, zone two, opened it, nothing in there, so it's just a separation": what it is after all.
        let after_all = named == Named::Vague(Vague::Separation)
            && (self.led_by(i, &["just", "only"]) || i > 0 && self.items[i - 1].is == Phrase::Only)
            && self.gap(i) <= Gap::Comma
            && !self.new_place_since()
            && self.place_right_after(i).is_none();
        let white_line = |n: Named| matches!(n, Named::Vague(Vague::WhiteLine) | Named::Disorder(Disorder::WL));
        if after_all && self.last_mention().all(|f| white_line(f.named)) && !self.out.findings.is_empty() {
            for f in self.last_mention() {
                (f.named, f.span) = (Named::Disorder(Disorder::WLF), span);
            }
            return;
        }
        // "corn right hind, split and bleeding": how the lesion of the skin looks, and no crack of the horn.
        let skin = |d: Disorder| matches!(d, Disorder::IH | Disorder::DD | Disorder::ID | Disorder::IP | Disorder::SW);
        let of_skin = self.out.findings.last().is_some_and(|f| matches!(f.named, Named::Disorder(d) if skin(d)));
        let looks = ["split", "cracked", "split open"].iter().any(|w| span.of(self.text).eq_ignore_ascii_case(w));
        if of_skin && looks && self.gap(i) <= Gap::Comma && self.gap(i + 1) > Gap::Space && !self.new_place_since() {
            self.out.asides += 1;
            return;
        }
        // "toes 85 millimeters long, cut back to HE": how "eighty" is heard; a number got lost there.
        let to =
            i > 0 && self.gap(i) <= Gap::Space && words::ends_with(self.items[i - 1].span.of(self.text), "back to");
        if to && !self.out.measures.is_empty() {
            self.out.loose_parts.push(span);
            return;
        }
        // "that's where the next ulcer comes": none yet.
        let next = words::ends_with(words::before(self.text, span.start as usize, NEARBY).trim_end(), " the next");
        if next {
            self.out.remarks.push(self.told_by_others(i));
            return;
        }
        // `(old SU site)`: where one was.
        let was = self.led_by(i, &["old", "former", "previous", "healed"]);
        if was && self.followed_first(i, &["site", "scar"]) {
            self.told(i + 1..=i + 1);
            self.out.remarks.push(self.told_by_others(i));
            return;
        }
        if self.is_hearsay(i) || self.is_of_another_animal(i) {
            self.hedged = false;
            self.out.remarks.push(self.told_by_others(i));
            return;
        }
        // `LHO SU, LFI HFV. blk LH. HFV pared`: of the one that was named.
        if let Some(spot) = self.named_before_a_deed(i, named) {
            self.held = Held { spots: vec![spot], used: true, item: Some(i) };
            return;
        }
        self.part = match named {
            Named::Disorder(Disorder::TS | Disorder::DS | Disorder::SH) => Some(Part::Sole),
            _ => self.part,
        };
        // "couldn't block the inner, it's bruised too"
        let it = || self.led_first(i, &["it's", "that's", "it"]);
        if let Some((at, claw)) = self.spared_claw
            && at + 1 == i
            && self.gap(i) == Gap::Comma
            && it()
        {
            for spot in &mut self.held.spots {
                spot.claw = Some(claw);
            }
            self.held.used = false;
        }
        self.add_finding(i, named, span);
        // "new horn where that ulcer was": it is no more.
        let behind = words::behind(self.text, span.end as usize, " used to be".len());
        let was = [" was", " used to be"].iter().any(|w| words::begins(behind, w));
        if was && self.leads_from(i, &["where"]) && self.last_mention().all(|f| f.course.is_none()) {
            self.last_mention().for_each(|f| f.course = Some(crate::disorder::Course::Healed));
        }
        // "a nail in the sole": which lesion that made is asked.
        if named == Named::Vague(Vague::ForeignBody)
            && self.get(i + 1) == Some(&Phrase::Part(Part::Sole))
            && self.gap(i + 1) <= Gap::Space
        {
            for f in self.last_mention() {
                f.instead.push(Named::Disorder(Disorder::SU));
            }
        }
    }

    /// "toe ulcer left hind outer, …, the ulcer is healing", "drained the abscess": the one just told of, whatever its kind.
    /// What is said behind it is said of that one.
    fn is_the_ulcer(&mut self, i: usize, named: Named) -> bool {
        let kind = |n: Named| match named {
            Named::Vague(Vague::Ulcer) => matches!(n, Named::Disorder(Disorder::TU | Disorder::BU | Disorder::SU)),
            Named::Vague(Vague::Abscess) => matches!(n, Named::Vague(Vague::Abscess)),
            _ => false,
        };
        let led = self.words_before(i);
        let the = led.last().is_some_and(|w| ["the", "that", "this", "her"].contains(&w.as_str()));
        let Some(last) = self.out.findings.last() else { return false };
        let (foot, mention) = (last.spot.foot, last.mention);
        let one = self.out.findings.iter().filter(|f| f.mention == mention).count() == 1;
        let here = self.held.spots.len() == 1 && self.held.spots[0].foot == foot && foot.is_some();
        // "toe ulcer zone five, block's good, ulcer closing"
        let goes = matches!(self.get(i + 1), Some(Phrase::Course(_))) && self.gap(i + 1) <= Gap::Space;
        let again = (the || goes && led.is_empty())
            && kind(last.named)
            && one
            && here
            && !self.new_place_since()
            && self.place_right_after(i).is_none()
            && (self.course.is_none() && self.severity.is_none() && self.zones.is_none());
        if again {
            self.last_finding_item = Some(i);
        }
        again
    }

    /// "crack in the white line, there was a stone in it", "a nail in the sole, pulled it out, and it's a sole ulcer now": what
    /// made the lesion, and no second one.
    fn is_what_made_it(&mut self, i: usize, named: Named, span: Span) -> bool {
        let Some(last) = self.out.findings.last().filter(|_| !self.new_place_since()) else { return false };
        let stuck = Named::Vague(Vague::ForeignBody);
        if named == stuck {
            let own_place =
                self.place_right_after(i).is_some() || self.waiting_findings.contains(&(self.out.findings.len() - 1));
            let of_it = matches!(
                last.named,
                Named::Disorder(Disorder::WL | Disorder::WLF | Disorder::WLA | Disorder::SU)
                    | Named::Vague(Vague::WhiteLine)
            );
            return of_it && !own_place;
        }
        let lesion = match named {
            Named::Disorder(d) => d.needs_claw(),
            Named::Vague(vague) => matches!(vague, Vague::Abscess | Vague::Ulcer),
        };
        let made = last.named == stuck && lesion;
        // "there was a nail in it. Pulled it out, and there's an abscess"
        let close = self.gap(i) < Gap::Stop || self.led_by(i, &["out"]);
        if made && close && self.place_right_after(i).is_none() {
            for f in self.last_mention() {
                f.named = named;
                f.instead.clear();
                f.span = span;
            }
            self.last_finding_item = Some(i);
            return true;
        }
        false
    }

    /// "last time's bruise left hind outer zone four has turned into an ulcer": the same lesion under its name of today.
    fn turned_into(&mut self, i: usize, named: Named, span: Span) -> bool {
        let led = self.words_before(i);
        let both = |first: &[&str], then: &[&str]| {
            led.windows(2).any(|w| first.contains(&w[0].as_str()) && then.contains(&w[1].as_str()))
        };
        let turned = both(&["turned", "gone", "changed", "developed", "progressed"], &["into", "to"])
            || both(&["is"], &["now"])
            || led.iter().any(|w| w == "become" || w == "became")
            // `RHO SH z4 now SU z4`
            || led == ["now"] && i > 0 && !matches!(self.get(i - 1), Some(Phrase::Place(_)));
        if !turned || self.gap(i) > Gap::Space || self.out.findings.is_empty() || self.place_right_after(i).is_some() {
            return false;
        }
        // "thin soles on all four feet, and the left hind outer's gone into a toe ulcer": of one of them, beside it.
        let last = self.out.findings.last().map(|f| f.mention);
        let there = self.out.findings.iter().filter(|f| Some(f.mention) == last).count();
        if self.new_place_since() && there > self.held.spots.len() {
            return false;
        }
        for f in self.last_mention() {
            (f.named, f.span) = (named, span);
            f.instead.clear();
            (f.severity, f.stage, f.course) = (None, None, None);
        }
        self.last_finding_item = Some(i);
        true
    }

    /// "she had a sole ulcer left rear outer, today the ulcer's closed": the claw of the lesion that was told of, where the
    /// foot is the same and no other claw was named.
    fn take_told_claw(&mut self, named: Named) {
        let ulcer = |n: Named| {
            matches!(
                n,
                Named::Vague(Vague::Ulcer) | Named::Disorder(Disorder::SU | Disorder::TU | Disorder::BU | Disorder::TN)
            )
        };
        let Some(told) = &self.told_of else { return };
        let same = told.named == named || ulcer(told.named) && ulcer(named);
        if let ([told], [here]) = (&told.spots[..], &mut self.held.spots[..])
            && same
            && told.foot == here.foot
            && here.claw.is_none()
        {
            here.claw = told.claw;
        }
    }

    pub(super) fn add_finding(&mut self, i: usize, named: Named, span: Span) {
        // "… and the vet is to look at the foot rot": one spoken of before, on another foot.
        // "took the shoe off her left hind inner and the ulcer on the outer is healed"
        let own_claw = matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.feet == Where::Same && p.claw.is_some());
        if self.items[i].and
            && own_claw
            && self.gap(i + 1) <= Gap::Space
            && self.held.item.is_some_and(|k| self.took_off(k))
        {
            self.held.spots.iter_mut().for_each(|s| s.claw = None);
        }
        self.take_told_claw(named);
        // "pared the ulcer": the one on that claw.
        let done_to = i > 0 && self.last_deed == Some(i - 1) && self.gap(i) <= Gap::Space && self.led_last(i, &["the"]);
        let known = self.out.findings.iter().any(|f| f.named == named);
        let here = self.held.spots.iter().any(|s| {
            let at =
                |f: &DraftFinding| f.named == named && if done_to { s.may_be(f.spot) } else { f.spot.foot == s.foot };
            self.out.findings.iter().any(at)
        });
        // "wrap stays on left hind, wart still there" is told of the foot at hand.
        let still = self.get(i + 1) == Some(&Phrase::Stays(None)) && self.gap(i + 1) <= Gap::Space;
        // "right rear wart no wrap left rear wart wrapped": right behind its own foot it is another one.
        let own_foot = i > 0 && self.items[i - 1].is.one_foot().is_some() && self.gap(i) <= Gap::Space;
        if known
            && !here
            && !still
            && !own_foot
            && self.held.used
            && self.stage.is_none()
            && self.place_right_after(i).is_none()
            // (In "the corn has come back, and there's digital dermatitis on top of it" it is a new one.)
            && self.led_last(i, &["the", "that", "this", "these", "those", "her", "for", "same"])
        {
            return;
        }
        // "took the block off the left rear, grown over, now she's bruised on the right": said of what was there before.
        if self.gap(i) > Gap::Space
            && self.led_first(i, &["now"])
            && let Some(course) = self.course.take()
            && let Some(k) = (0..i).rev().find(|k| matches!(self.items[*k].is, Phrase::Course(_)))
        {
            self.out.loose_courses.push((course, self.items[k].span));
        }
        self.mentions += 1;
        // "either zone four or five, a bruise": which is asked.
        if let (Some(second), Some((zones, at))) = (self.zone_or.take(), &mut self.zones) {
            let after = zones.drain(..).next().map(|first| (first, span));
            self.out.loose_numbers.push(LooseNumber { span: *at, after, or: Some(second), tag: None });
        }
        let blank = DraftFinding {
            named,
            instead: vec![],
            spot: Spot::default(),
            zones: self.zones.take().map_or_else(Vec::new, |(zones, _)| zones),
            severity: self.severity.take().map(|(grade, _)| grade),
            stage: self.stage.take(),
            course: self.course.take(),
            unsure: std::mem::take(&mut self.hedged),
            span,
            mention: self.mentions,
            claw_held: self.held.used,
        };
        let held = self.held.spots.iter().any(|s| s.foot.is_some() || s.half.is_some());
        let next_place = self.place_right_after(i);
        // "both hinds heel erosion mild and left hind outer haemorrhage": the next one's.
        let of_next = |k: usize| {
            let whole = self.items[k].is.one_foot().is_some() && !self.led_first(k, &["in", "on"]);
            (whole || self.items[k].and) && self.place_is_taken(k)
        };
        // "both hinds: foot rot in the left": the side narrows the pair.
        let narrows = next_place.is_some_and(|k| match self.get(k) {
            _ if of_next(k) => false,
            Some(Phrase::Place(p)) => {
                let feet: Vec<Foot> = self.spots(p).iter().filter_map(|s| s.foot).collect();
                self.group.len() >= 2
                    && !feet.is_empty()
                    && feet.len() < self.group.len()
                    && feet.iter().all(|f| self.group.contains(f))
            }
            _ => false,
        });
        // "both hinds, dermatitis is healed on the left and still open on the right": each side has its own.
        let by_turns = self.held.spots.len() > 1
            && next_place.is_some_and(|k| k > i + 1 && self.goes_by_turns(k) || self.is_told_foot_by_foot(k));
        let own_claw = self.held.item == i.checked_sub(1)
            && matches!(self.held.item.and_then(|k| self.get(k)), Some(Phrase::Place(p)) if p.feet == Where::Same);
        let after = match next_place {
            Some(_) if by_turns || self.is_reason_there(i) => false,
            Some(k) if narrows && !(self.new_place_since() && self.held.spots.len() == 1 && self.place_is_taken(k)) => {
                true
            }
            // "lost her block right hind, sole ulcer right hind outer": the place before was the deed's.
            Some(k) if self.held_by_a_deed(i) && !self.place_is_taken(k) => true,
            // "left hind clean, outer bruised in zone four on the right one": the foot before is done with.
            Some(k) if self.is_cleared(k) || self.is_of_a_lesion_that_was() => true,
            // "outer ulcer left hind, outer bruise right hind": as before, the claw is its own and the foot stands behind.
            Some(k) if own_claw && self.place_after && !self.place_is_taken(k) => true,
            // Nothing was said before, or only for others: the place after it, unless the next finding wants it.
            // "…, wart on the left hind M two"
            Some(k)
                if named == Named::Disorder(Disorder::DD)
                    && (self.held.used || self.held_by_a_deed(i))
                    && matches!(self.get(k + 1), Some(Phrase::Stage(_))) =>
            {
                true
            }
            // "foul healed left rear wrap off still M one"
            Some(k) if !self.place_after && self.begins_another(k) => false,
            Some(k) => !held || (self.held.used && (self.place_after || !self.place_is_taken(k))),
            // "trimmed all four, one bruise, left hind outer"
            // "left front clean, one bruise, left hind outer"
            None if self.is_cleared(i + 1) && self.is_named_behind_a_comma(i) => true,
            None if self.held.spots.len() == Foot::ALL.len()
                && self.held_by_a_deed(i)
                && self.is_named_behind_a_comma(i) =>
            {
                true
            }
            None => !held || self.goes_on_in_a_list(i) || self.held.used && self.is_set_apart_from_its_place(i),
        };
        self.last_finding_item = Some(i);
        if after {
            let cleared = next_place.is_some_and(|k| self.is_cleared(k));
            let own_claw = own_claw && !self.held_by_a_deed(i);
            let claw = self.held.spots.first().filter(|_| !held || cleared || own_claw).and_then(|s| s.claw);
            self.out.findings.push(DraftFinding { spot: Spot { claw, ..Spot::default() }, ..blank });
            self.waiting_findings.push(self.out.findings.len() - 1);
            return;
        }
        if !self.held.used {
            self.place_after = false;
        }
        self.held.used = true;
        for spot in self.held.spots.clone() {
            self.out.findings.push(DraftFinding { spot, ..blank.clone() });
        }
    }

    /// Whether the foot in the hand was found clean, and another one is named at `k`.
    fn is_cleared(&self, k: usize) -> bool {
        let [Spot { foot: Some(foot), .. }] = self.held.spots[..] else { return false };
        let there = |p: &Place| self.spots(p).iter().all(|s| s.foot.is_some_and(|f| f != foot));
        self.out.clear.contains(&foot) && self.get(k).and_then(Phrase::place).is_some_and(there)
    }

    /// Whether one foot is named behind a comma, and nobody else's.
    fn is_named_behind_a_comma(&self, i: usize) -> bool {
        self.get(i + 1).is_some_and(|is| is.one_foot().is_some())
            && self.gap(i + 1) == Gap::Comma
            && !self.finding_follows(i + 2)
    }

    /// "foul right front last week, now it's a wart on the left hind": the place in the hand is that of what is over.
    fn is_of_a_lesion_that_was(&self) -> bool {
        let before = self.held.item.and_then(|k| k.checked_sub(1)).filter(|_| !self.held.used);
        before.is_some_and(|k| matches!(self.items[k].is, Phrase::Finding(_)) && self.last_finding_item != Some(k))
    }

    /// "circumscribed haemorrhage, right hind lateral, zone 4; diffuse haemorrhage, left hind lateral, zone 5": as the
    /// finding before, this one has its place behind a comma.
    fn goes_on_in_a_list(&self, i: usize) -> bool {
        let foot = matches!(self.get(i + 1), Some(Phrase::Place(p)) if matches!(p.feet, Where::Feet(_)));
        foot && self.place_after
            && self.held.used
            && self.gap(i) > Gap::Space
            && self.gap(i + 1) == Gap::Comma
            && !self.place_is_taken(i + 1)
            && !self.finding_follows(i + 2)
    }

    /// "wart on the left hind, sole ulcer, zone four, on the right hind outer, block inner": a recogniser's commas around the
    /// zone or the grade; what stands behind them with "on" is its place, unless another finding wants it.
    fn is_set_apart_from_its_place(&self, i: usize) -> bool {
        let detail = |k: &usize| {
            matches!(self.get(*k), Some(Phrase::Zones(_) | Phrase::Severity(_) | Phrase::Stage(_)))
                && self.gap(*k) <= Gap::Comma
        };
        let Some(k) = (i + 1..self.items.len()).find(|k| !detail(k)) else { return false };
        let foot = matches!(self.get(k), Some(Phrase::Place(p)) if p.one_foot().is_some()) && self.gap(k) == Gap::Comma;
        let wanted =
            matches!(self.get(k + 1), Some(Phrase::Finding(_) | Phrase::Clear)) && self.gap(k + 1) <= Gap::Comma;
        foot && k > i + 1 && !wanted && self.led_first(k, &["on"])
    }

    /// Whether a course, a grade or a zone stands before the side at `k`, and another one with the other side behind it.
    pub(super) fn goes_by_turns(&self, k: usize) -> bool {
        let side = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if matches!(p.feet, Where::Side(_)));
        let kind = |k: usize| match self.get(k) {
            Some(Phrase::Course(_)) => 1,
            Some(Phrase::Severity(_)) => 2,
            Some(Phrase::Stage(_)) => 3,
            Some(Phrase::Zones(_)) => 4,
            _ => 0,
        };
        // "both hinds bruised, left one mild right one severe"
        let behind = || kind(k + 1) > 0 && kind(k + 1) == kind(k + 3) && kind(k - 1) != kind(k + 1);
        k > 0
            && side(k)
            && side(k + 2)
            && (kind(k - 1) > 0 && kind(k - 1) == kind(k + 1) || behind())
            && self.gap(k + 2) <= Gap::Space
    }

    /// "both rears DD LR M3 RR M2": two feet of the pair, each with its own behind it.
    fn is_told_foot_by_foot(&self, k: usize) -> bool {
        let foot = |k: usize| match self.get(k) {
            Some(Phrase::Place(p)) if self.gap(k) <= Gap::Comma => p.one_foot().map(|(foot, _)| foot),
            _ => None,
        };
        let detail = |k: usize| match self.get(k) {
            Some(Phrase::Stage(_)) if self.gap(k) <= Gap::Space => 1,
            Some(Phrase::Severity(_)) if self.gap(k) <= Gap::Space => 2,
            _ => 0,
        };
        let (Some(first), Some(second)) = (foot(k), foot(k + 2)) else { return false };
        let pair = first != second && [first, second].iter().all(|f| self.group.contains(f));
        pair && detail(k + 1) > 0 && detail(k + 1) == detail(k + 3)
    }

    /// "sole haemorrhage, all over the sole, diffuse": said behind it.
    fn diffuse(&self, i: usize, named: Named) -> Named {
        if named != Named::Disorder(Disorder::SH) {
            return named;
        }
        let end = self.items[i + 1..].iter().find(|it| matches!(it.is, Phrase::Finding(_))).map(|it| it.span.start);
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
        let own = end
            .map_or(behind, |end| behind.get(..end.saturating_sub(self.items[i].span.end) as usize).unwrap_or(behind));
        let sentence = own.split(['.', ';']).next().unwrap_or_default();
        let diffuse = sentence.split(|c: char| !c.is_alphabetic()).any(|w| w.eq_ignore_ascii_case("diffuse"));
        if diffuse { Named::Disorder(Disorder::SHD) } else { named }
    }

    /// "ulcer, toe": where it sits says which it is.
    fn at_part(&self, i: usize, named: Named) -> Named {
        let alone = self.gap(i + 1) <= Gap::Comma && self.gap(i + 2) > Gap::Space;
        // "heel adults are": the words for one lesion, the second of them misheard.
        if named == Named::Vague(Vague::Ulcer)
            && let Some(Phrase::Part(part)) = i.checked_sub(1).and_then(|k| self.get(k))
            && self.gap(i) <= Gap::Space
            && self.words_before(i).is_empty()
        {
            match part {
                Part::Heel => return Named::Disorder(Disorder::BU),
                Part::Toe => return Named::Disorder(Disorder::TU),
                Part::Sole => return Named::Disorder(Disorder::SU),
                Part::Wall => {}
            }
        }
        match (named, self.get(i + 1)) {
            (Named::Vague(Vague::Ulcer), Some(Phrase::Part(Part::Toe))) if alone => Named::Disorder(Disorder::TU),
            (Named::Vague(Vague::Ulcer), Some(Phrase::Part(Part::Heel))) if alone => Named::Disorder(Disorder::BU),
            (named, _) => named,
        }
    }

    /// Whether the place in the hand was a deed's or a measure's, in a sentence or part of one that is over: "wrap off
    /// left hind, wart right hind", "left hind wrapped, warts both hinds", "toe 80 left hind, wart right hind".
    fn held_by_a_deed(&self, i: usize) -> bool {
        let Some(place) = self.held.item else { return false };
        let of_foot = |k: usize| {
            matches!(
                self.get(k),
                Some(
                    Phrase::Deed(_)
                        | Phrase::Measure { .. }
                        | Phrase::Amount { .. }
                        | Phrase::Part(_)
                        // "one bruise"
                        | Phrase::Number { value: Some(1), .. }
                )
            )
        };
        let before = place > 0 && place + 1 == i && self.gap(place) <= Gap::Space && of_foot(place - 1);
        let behind = place + 1 < i && (place + 1..i).all(of_foot);
        // "block off the right hind inner and a wart on the left hind"
        let measured = |k: usize| matches!(self.get(k), Some(Phrase::Measure { .. } | Phrase::Amount { .. }));
        let measured = place > 0 && measured(place - 1) || (place + 1..i).any(measured);
        let apart = self.gap(i) > Gap::Space
            || measured
            || self.took_off(place) && (self.items[i].and || self.place_right_after(i).is_some());
        apart && (before || behind)
    }

    /// Whether what came off stands right before the place at `k`.
    fn took_off(&self, k: usize) -> bool {
        k > 0 && matches!(self.get(k - 1), Some(Phrase::Deed(d)) if matches!(d.what, Act::Unblock | Act::Unwrap))
    }

    /// Where a lesion is that was named before on another foot than the one in the hand, and of which a part of the note
    /// says what was done.
    fn named_before_a_deed(&self, i: usize, named: Named) -> Option<Spot> {
        let deed = matches!(self.get(i + 1), Some(Phrase::Deed(_))) && self.gap(i + 1) <= Gap::Space;
        if !deed || self.gap(i) <= Gap::Space || self.new_place_since() || self.place_right_after(i + 1).is_some() {
            return None;
        }
        let held = self.held.spots.first().and_then(|s| s.foot);
        let mut same = self.out.findings.iter().filter(|f| f.named == named);
        let (one, another) = (same.next()?, same.next());
        let elsewhere = one.spot.foot.is_some() && one.spot.foot != held;
        let here = self.out.findings.iter().any(|f| f.spot.foot == held && f.named != named);
        (elsewhere && here && another.is_none()).then_some(one.spot)
    }

    /// "foul or a wart": one lesion, and which is open.
    fn is_instead(&mut self, i: usize, named: Named, span: Span) -> bool {
        // "an ulcer or just a bruise"
        let just = usize::from(i > 0 && self.get(i - 1) == Some(&Phrase::Only) && self.gap(i) <= Gap::Space);
        let first = i - just;
        let either = self.items[first].or
            && self.gap(first) <= Gap::Comma
            && self.last_finding_item.is_some_and(|f| f + 1 == first);
        if !(either || self.could_be(i, first)) {
            return false;
        }
        self.hedged = false;
        for f in self.last_mention().filter(|f| f.named != named) {
            f.instead.push(named);
            f.span = f.span.to(span);
        }
        self.last_finding_item = Some(i);
        true
    }

    /// "wart, could be foul": what the lesion right before is instead, where nothing says that it is another one.
    fn could_be(&self, i: usize, first: usize) -> bool {
        let Some(hedge) = first.checked_sub(1).filter(|k| self.get(*k) == Some(&Phrase::Hedge)) else { return false };
        let said = self.items[hedge].span.of(self.text).to_lowercase();
        ["could be", "might be", "may be"].iter().any(|w| said.starts_with(w))
            && self.gap(first) <= Gap::Space
            && self.gap(hedge) <= Gap::Comma
            && self.last_finding_item.is_some_and(|f| f + 1 == hedge)
            && self.place_right_after(i).is_none()
            && !self.too(i)
    }

    /// "the corn's nearly ready": with no foot beside it, what grows in the field. ("off hind, corn's no bigger")
    fn is_of_the_field(&self, i: usize) -> bool {
        let place = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if p.feet != Where::Same);
        let before = || i > 0 && place(i - 1) && self.gap(i) <= Gap::Comma;
        let behind = || (i + 1..i + 3).take_while(|k| self.gap(*k) <= Gap::Space).any(place);
        words::ends_with(self.items[i].span.of(self.text), "corn's") && !before() && !behind()
    }

    /// "wall cracked across", "split down the front": which way a crack of the wall runs, by the words behind it.
    fn way_of_crack(&self, i: usize) -> Option<Named> {
        const ACROSS: [&str; 4] = ["across", "sideways", "crossways", "crosswise"];
        const DOWN: [&str; 3] = ["down", "lengthways", "lengthwise"];
        let said = self.words_to_next(i);
        let near = self.words_behind(i).len().min(4);
        let has = |all: &[&str]| said.iter().take(near).any(|w| all.contains(&w.as_str()));
        let heel = i > 0 && matches!(self.get(i - 1), Some(Phrase::Part(Part::Heel)));
        match (has(&ACROSS), has(&DOWN)) {
            _ if heel => None,
            (true, false) => Some(Named::Disorder(Disorder::HFH)),
            (false, true) => Some(Named::Disorder(Disorder::HFV)),
            _ => None,
        }
    }

    /// "white line … abscess": a vague word that the next one makes precise, in the same breath.
    pub(super) fn makes_precise(&mut self, i: usize, named: Named, span: Span) -> bool {
        let Some(last) = self.out.findings.last() else {
            return false;
        };
        let Some(at) = self.last_finding_item else {
            return false;
        };
        // "white line zone two, dug it out, little abscess under it"
        let opened = |k: usize| {
            named == Named::Vague(Vague::Abscess)
                && matches!(self.get(k), Some(Phrase::Deed(d)) if d.what.is_knife_work())
                && self.place_right_after(i).is_none()
        };
        // "drained an abscess, right rear outer, zone three, white line": its own place, behind a comma.
        let own_place = |k: usize| {
            let foot = self.items[k].is.one_foot();
            k == at + 1 && self.place_after && foot.is_some() && foot == last.spot.foot
        };
        let close = (at + 1..=i).all(|k| self.gap(k) < Gap::Stop)
            && (at + 1..i).all(|k| {
                opened(k)
                    || matches!(
                        self.get(k),
                        Some(
                            Phrase::Zones(_)
                                | Phrase::Severity(_)
                                | Phrase::Only
                                | Phrase::Unread
                                | Phrase::Part(_)
                                | Phrase::Place(Place { feet: Where::Same, .. })
                        )
                    )
                    || own_place(k)
                    || (k == at + 1 && self.place_right_after(at) == Some(k))
            })
            && !self.items[i].and;
        if !close {
            return false;
        }
        use Named::{Disorder as D, Vague as V};
        let both = match (last.named, named) {
            (V(Vague::WhiteLine) | D(Disorder::WL), V(Vague::Separation | Vague::Crack)) => D(Disorder::WLF),
            (V(Vague::Separation | Vague::Crack), V(Vague::WhiteLine)) => D(Disorder::WLF),
            (V(Vague::WhiteLine) | D(Disorder::WL | Disorder::WLF), V(Vague::Abscess))
            | (V(Vague::Abscess), V(Vague::WhiteLine)) => D(Disorder::WLA),
            (V(Vague::ForeignBody), V(Vague::WhiteLine)) | (V(Vague::WhiteLine), V(Vague::ForeignBody)) => {
                D(Disorder::WL)
            }
            (V(Vague::Crack), V(Vague::Vertical)) | (V(Vague::Vertical), V(Vague::Crack)) => D(Disorder::HFV),
            (V(Vague::Crack), V(Vague::Horizontal)) | (V(Vague::Horizontal), V(Vague::Crack)) => D(Disorder::HFH),
            // "gravel in the white line"
            (D(d @ (Disorder::WLA | Disorder::WLF)), V(Vague::WhiteLine)) if self.gap(i) <= Gap::Space => D(d),
            // "digital dermatitis, a raw ulcer"
            (D(Disorder::DD), V(Vague::Ulcer))
                if self.gap(i) <= Gap::Space
                    && !self.items[i].or
                    // "wart and outer ulcer"
                    && !(at + 1..=i).any(|k| self.items[k].and)
                    // "wart, mild ulcer", "wart, outer ulcer": another one.
                    && !(at + 1..i).any(|k| matches!(self.items[k].is, Phrase::Severity(_) | Phrase::Place(_))) =>
            {
                D(Disorder::DD)
            }
            _ => return false,
        };
        let mention = last.mention;
        for f in self.out.findings.iter_mut().filter(|f| f.mention == mention) {
            f.named = both;
            f.span = f.span.to(span);
        }
        self.last_finding_item = Some(i);
        true
    }
}
