//! Rule 6: feet found free of lesions.

use super::{Held, Pass};
use crate::anatomy::Foot;
use crate::disorder::Course;
use crate::entry::Act;
use crate::grammar::{Phrase, Place, Where};
use crate::meaning::draft::{DraftAction, DraftFinding, Half, Spot};
use crate::words::{self, Gap, Span};

impl Pass<'_> {
    /// "nothing on the left", behind what was done elsewhere: the deed's, where that foot has a lesion.
    fn is_nothing_done(&self, i: usize) -> bool {
        let Some(Phrase::Place(there)) = self.get(i + 1).filter(|_| self.gap(i + 1) <= Gap::Space) else {
            return false;
        };
        let placed = i.checked_sub(1).filter(|k| matches!(self.items[*k].is, Phrase::Place(_)));
        let deed = placed.map_or(i, |k| k).checked_sub(1);
        let done = deed
            .is_some_and(|k| matches!(&self.items[k].is, Phrase::Deed(d) if matches!(d.what, Act::Wrap | Act::Block)));
        let feet: Vec<Foot> = self.spots(there).iter().filter_map(|s| s.foot).collect();
        let ill = |f: &Foot| self.out.findings.iter().any(|x| x.spot.foot == Some(*f));
        self.items[i].span.of(self.text).eq_ignore_ascii_case("nothing")
            && (self.gap(i) > Gap::Space || self.items[i].and)
            && done
            && !feet.is_empty()
            && feet.iter().all(ill)
    }

    /// "normal sole, left front", "ulcer healed, good thick horn on it", "bulb is swollen, horn looks fine": a verdict on a
    /// part of the foot, and not on the foot.
    fn is_of_a_part(&self, i: usize) -> bool {
        const PARTS: [&str; 14] = [
            "sole",
            "soul",
            "horn",
            "wall",
            "cover",
            "covering",
            "skin",
            "tissue",
            "growth",
            "granulation",
            "bed",
            "thickness",
            "depth",
            "edges",
        ];
        const JOINS: [&str; 10] = ["on", "in", "and", "but", "with", "at", "to", "except", "though", "now"];
        let said = self.words_behind(i);
        let noun =
            said.iter().take(3).take_while(|w| !JOINS.contains(&w.as_str())).any(|w| PARTS.contains(&w.as_str()));
        let looks = self.items[i].span.of(self.text).to_lowercase().starts_with("look");
        // "took the loose bit off and the wall under it's sound"
        let led = self.words_before(i);
        let under = matches!(&led[..], [.., part, under, its] if PARTS.contains(&part.as_str())
            && ["under", "underneath", "below", "behind"].contains(&under.as_str())
            && ["it's", "is", "it"].contains(&its.as_str()));
        noun || under
            || looks
                && !self.out.findings.is_empty()
                && self.words_before(i).last().is_some_and(|w| PARTS.contains(&w.as_str()))
    }

    pub(super) fn clear(&mut self, i: usize, span: Span) {
        // "was clean last time"
        let as_then = || self.followed_by(i, &["like", "as"]);
        if matches!(self.get(i + 1), Some(Phrase::Past)) && self.gap(i + 1) <= Gap::Space && !as_then() {
            return;
        }
        // "six fifty nine okay left hind M two": said to oneself, before what is found.
        let okay = ["okay", "ok", "alright", "all right"].iter().any(|w| span.of(self.text).eq_ignore_ascii_case(w));
        if okay
            && i > 0
            && self.items[i - 1].is_cow()
            && self.gap(i) <= Gap::Space
            && self.gap(i + 1) <= Gap::Space
            && matches!(self.get(i + 1), Some(Phrase::Place(_)))
            && self.finding_follows(i + 2)
        {
            return;
        }
        // "block inner, okay next one is the left hind": said to oneself, and of no foot just named.
        let of_foot = i > 0
            && match &self.items[i - 1].is {
                Phrase::Place(place) => place.feet != Where::Same,
                is => self.items[i - 1].is_cow() || matches!(is, Phrase::Clear),
            };
        const GO_ON: [&str; 9] = ["next", "so", "now", "then", "this", "let's", "lets", "moving", "let"];
        if okay && !of_foot && self.words_to_next(i).first().is_some_and(|w| GO_ON.contains(&w.as_str())) {
            self.out.asides += 1;
            return;
        }
        // "block on the inner perfect the right hind …": praise of the work, where the next foot goes on in the same breath.
        const PRAISE: [&str; 12] = [
            "good",
            "fine",
            "grand",
            "perfect",
            "lovely",
            "spot on",
            "sweet as",
            "ok",
            "okay",
            "looks good",
            "looking good",
            "happy days",
        ];
        let praise = PRAISE.iter().any(|w| span.of(self.text).eq_ignore_ascii_case(w));
        let of_work = i > 0
            && match &self.items[i - 1].is {
                Phrase::Place(place) => place.feet == Where::Same,
                Phrase::Clear | Phrase::Only | Phrase::Not | Phrase::Hedge | Phrase::Past | Phrase::Time(_) => false,
                _ => !self.items[i - 1].is_cow(),
            }
            && self.words_before(i).is_empty();
        let goes_on = self.get(i + 1).and_then(Phrase::one_foot).is_some()
            && self.gap(i + 1) <= Gap::Space
            && (self.led_last(i + 1, &["the"]) || self.begins_next(i + 1));
        let on = self.led_by(i + 1, &["on", "in"]);
        if praise && of_work && goes_on && !on && self.gap(i) <= Gap::Space {
            self.out.asides += 1;
            return;
        }
        // "block on the right, nothing for the left", "right one needs nothing": nothing was done.
        let nothing = span.of(self.text).eq_ignore_ascii_case("nothing");
        if nothing && self.led_last(i, &["needs", "need", "needed", "wants", "gets"]) {
            return;
        }
        // "foot rot right front, wrapped nothing"
        if nothing
            && let Some(deed) =
                i.checked_sub(1).filter(|k| matches!(&self.items[*k].is, Phrase::Deed(d) if d.what != Act::Trim))
            && self.gap(i) <= Gap::Space
            && self.gap(i + 1) > Gap::Space
            && self.words_before(i).is_empty()
        {
            return self.take_back(self.items[deed].span);
        }
        // "the ulcer has healed, and she's sound": how she walks.
        let walks =
            self.led_last(i, &["she's", "walks", "walking", "goes", "going", "out"]) && !self.out.findings.is_empty();
        // "lame last visit, sound today, score one"
        let lame = || {
            let told = self.text.to_lowercase();
            let scored = !self.out.scores.is_empty() || matches!(self.get(i + 1), Some(Phrase::Score { .. }));
            self.gap(i) > Gap::Space && (scored || ["lame", "limp", "hobbl"].iter().any(|w| told.contains(w)))
        };
        if span.of(self.text).eq_ignore_ascii_case("sound") && (walks || lame()) {
            self.out.asides += 1;
            return;
        }
        // "left hind foul, nothing else wrong": of the others nothing more is said than that.
        if span.of(self.text).to_lowercase().starts_with("nothing else") && !self.out.findings.is_empty() {
            self.out.asides += 1;
            return;
        }
        if nothing && self.followed_first(i, &["for"]) && matches!(self.get(i + 1), Some(Phrase::Place(_))) {
            self.used_up = Some(i + 1);
            return;
        }
        // "lame right hind, found nothing in any of the feet"
        let behind = self.words_behind(i);
        if matches!(
            behind.iter().map(String::as_str).collect::<Vec<_>>()[..],
            ["in" | "on" | "wrong" | "with", .., "any", "foot"]
                | ["in" | "on" | "wrong" | "with", .., "any" | "all", "of", "the" | "her", "feet"]
                | ["any", "of", "the" | "her", "feet"]
        ) && behind.len() <= 6
        {
            self.out.clear_span = Some(span);
            return self.clear_feet(&Foot::ALL, true);
        }
        // "had foot rot in the right hind last visit, clean today all round"
        let round = words::behind(self.text, span.end as usize, " today all around".len());
        let round = [" today all ", " now all "].iter().find_map(|w| words::without(round, w));
        if round.is_some_and(|rest| ["round", "around"].iter().any(|w| words::without(rest, w).is_some())) {
            self.out.clear_span = Some(span);
            return self.clear_feet(&Foot::ALL, true);
        }
        // "right hind outer was 105, trimmed her all round, no lesions"
        let all_round = i > 0 && self.gap(i) <= Gap::Comma && {
            let said = self.items[i - 1].span.of(self.text);
            matches!(&self.items[i - 1].is, Phrase::Deed(d) if d.what == Act::Trim)
                && ["all round", "all around"].iter().any(|w| words::ends_with(said, w))
        };
        if all_round && self.out.findings.is_empty() && !matches!(self.get(i + 1), Some(Phrase::Place(_))) {
            self.out.clear_span = Some(span);
            return self.clear_feet(&Foot::ALL, true);
        }
        // "left hind of cow 416 is grand now": the cow stands between.
        if let Some(k) = i.checked_sub(2)
            && self.items[i - 1].is_cow()
            && (k + 1..=i).all(|k| self.gap(k) <= Gap::Space)
            && let Some(Phrase::Place(place)) = self.get(k)
            && place.feet != Where::Same
        {
            let feet: Vec<Foot> = self.spots(&place.clone()).iter().filter_map(|s| s.foot).collect();
            if !feet.is_empty() {
                self.out.clear_span = Some(span);
                return self.clear_feet(&feet, false);
            }
        }
        // "wrapped the right one, nothing on the left": no wrap on a foot that has a lesion.
        if self.is_nothing_done(i) {
            self.owned = Some(i + 1);
            return;
        }
        // "sole ulcer right hind outer four weeks ago, all good now"
        let now = words::ends_with(span.of(self.text), " now") || self.followed_first(i, &["now"]);
        let told = i > 1 && self.get(i - 1) == Some(&Phrase::Past) && self.gap(i) <= Gap::Comma;
        if now
            && told
            && matches!(self.get(i - 2), Some(Phrase::Place(_) | Phrase::Finding(_)))
            && self.last_finding_item.is_some()
        {
            // "the right rear was the bad one last time, it's fine now": a foot that has none of today's lesions.
            let foot = self.get(i - 2).and_then(Phrase::one_foot);
            let elsewhere = |foot: &Foot| self.out.findings.iter().all(|f| f.spot.foot.is_some_and(|f| f != *foot));
            if let Some(foot) = foot.filter(elsewhere).filter(|_| self.told_of.is_none()) {
                self.out.clear_span = Some(span);
                return self.clear_feet(&[foot], false);
            }
            return self.course(i, Course::Healed, span);
        }
        // "came off clean today": the block.
        let off = |is: &Phrase| {
            matches!(is, Phrase::Lost) || matches!(is, Phrase::Deed(d) if matches!(d.what, Act::Unblock | Act::Unwrap))
        };
        let under = ["underneath", "under"].iter().any(|w| span.of(self.text).to_lowercase().contains(w));
        if i > 0 && self.gap(i) <= Gap::Space && self.get(i - 1).is_some_and(off) && !under {
            return;
        }
        // "ulcer's healed up lovely"
        let how = i > 0
            && matches!(self.get(i - 1), Some(Phrase::Course(_)))
            && self.gap(i) <= Gap::Space
            && self.words_before(i).is_empty();
        if how {
            return;
        }
        if self.is_of_a_part(i) {
            self.out.unread.push(span);
            return;
        }
        // "wart looks good": the lesion, and not the foot.
        let of_lesion = i > 0
            && matches!(
                self.get(i - 1),
                Some(Phrase::Finding(_) | Phrase::Stage(_) | Phrase::Zones(_) | Phrase::Severity(_))
            )
            && self.gap(i) <= Gap::Comma
            && !self.new_place_since();
        // "the ulcer's fine, it's the white line now"
        let fine = span.of(self.text).eq_ignore_ascii_case("fine")
            && i > 0
            && matches!(self.get(i - 1), Some(Phrase::Finding(_)))
            && self.gap(i) <= Gap::Space
            && (self.items[i - 1].span.of(self.text).ends_with("'s") || self.words_before(i) == ["is"]);
        if fine {
            return self.course(i, Course::Healed, span);
        }
        let looks = span.of(self.text).to_lowercase().starts_with("look");
        // "took care of the toe. It looks okay now"
        let led = self.words_before(i);
        let it = led.last().is_some_and(|w| ["it", "that"].contains(&w.as_str()));
        if looks && it && self.out.findings.is_empty() {
            self.out.unread.push(span);
            return;
        }
        if looks && (of_lesion || it) {
            return self.course(i, Course::Healing, span);
        }
        self.out.clear_span = Some(span);
        // "hock swollen left hind, her feet are fine"
        if matches!(
            led.iter().map(String::as_str).collect::<Vec<_>>()[..],
            [.., "feet" | "claws", "are" | "were" | "all"] | [.., "feet"]
        ) {
            self.clear_feet(&Foot::ALL, true);
            return;
        }
        // "the dog is lame on the left front. cow 505 clean"
        if i > 0
            && matches!(self.get(i - 1), Some(Phrase::Cow(_)))
            && self.out.findings.is_empty()
            && self.held.item.is_some_and(|place| place + 1 < i)
            && self.gap(i + 1) > Gap::Space
            && !matches!(self.get(i + 1), Some(Phrase::Except | Phrase::Only | Phrase::Otherwise))
        {
            self.clear_feet(&Foot::ALL, true);
            self.held = Held::default();
            return;
        }
        // "fine except the left rear", "nothing wrong only the left hind", "all clean but the left hind"
        let only = matches!(self.get(i + 1), Some(Phrase::Only))
            && self.gap(i + 1) <= Gap::Comma
            && matches!(self.get(i + 2), Some(Phrase::Place(p)) if matches!(p.feet, Where::Feet(_)))
            && self.gap(i + 2) <= Gap::Space
            && !matches!(self.get(i + 3), Some(Phrase::Deed(_)))
            && match self.items[i + 1].span.of(self.text).to_lowercase().as_str() {
                "only" => true,
                // "fronts are clean, but the left hind …" goes on with something else.
                "but" => self.gap(i + 1) <= Gap::Space && !self.new_place_since(),
                _ => false,
            };
        if only || matches!(self.get(i + 1), Some(Phrase::Except)) {
            if let Some(Phrase::Place(p)) = self.get(i + 2) {
                let out: Vec<Foot> = self.spots(p).iter().filter_map(|s| s.foot).collect();
                let feet: Vec<Foot> = Foot::all_but(&out);
                self.clear_feet(&feet, true);
                self.held = Held::default();
            } else if !self.new_place_since() || self.held.spots.len() == Foot::ALL.len() {
                // "all clean bar a bit of bruising near hind", "all four, everything looks good except a bruise";
                // "left hind clean apart from a wart" clears none.
                self.clear_feet(&Foot::ALL, true);
            }
            return;
        }
        // "all clean otherwise"
        if matches!(self.get(i + 1), Some(Phrase::Otherwise)) && !self.items[i + 1].and {
            self.clear_feet(&Foot::all_but(&self.lesion_feet(false)), true);
            return;
        }
        // "all but the left rear are clean"
        if i >= 2
            && matches!(self.get(i - 2), Some(Phrase::Except))
            && matches!(self.get(i - 1), Some(Phrase::Place(_)))
        {
            let out: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
            let feet: Vec<Foot> = Foot::all_but(&out);
            self.clear_feet(&feet, true);
            return;
        }
        // "clean on the fronts"
        let claw_before = i > 0 && matches!(self.get(i - 1), Some(Phrase::Place(Place { feet: Where::Same, .. })));
        let fresh = self.new_place_since() && self.held.spots.iter().any(|s| s.foot.is_some());
        // "left the fronts alone, no lesions on the hinds"
        let on = self.gap(i) > Gap::Space && self.led_first(i + 1, &["on"]);
        if (!fresh || on)
            && let Some(Phrase::Place(p)) = self.get(i + 1)
            && p.feet != Where::Same
            && self.gap(i + 1) <= Gap::Space
            && !self.place_is_taken(i + 1)
            && !self.is_led_on(i + 1)
            // "fine otherwise fronts I'll leave till the next time"
            && !self.is_not_looked_at(i + 1)
        {
            let mut feet: Vec<Foot> = self.spots(p).iter().filter_map(|s| s.foot).collect();
            // "nothing on the front, left hind outer …": both of them.
            if let (Where::End(end), true, true) = (&p.feet, feet.is_empty(), self.gap(i + 2) > Gap::Space) {
                feet = crate::grammar::both(*end).to_vec();
            }
            // "clean on the fronts and on the left hind"
            if let Some(Phrase::Place(more)) = self.get(i + 2)
                && self.gap(i + 2) <= Gap::Space
                && matches!(&self.words_before(i + 2)[..], [and, on, ..] if and == "and" && on == "on")
                && !self.place_is_taken(i + 2)
            {
                feet.extend(self.spots(more).iter().filter_map(|s| s.foot));
                self.used_up = Some(i + 2);
            }
            self.clear_feet(&feet, false);
            self.owned = Some(i + 1);
            return;
        }
        // "right hind toe seventy eight, left hind toe eighty one, all clean": of each that was told of.
        let mut told: Vec<Foot> = self.out.measures.iter().filter_map(|(m, _)| m.foot).collect();
        told.extend(self.out.actions.iter().filter_map(|a| a.spot.foot));
        told.sort_unstable();
        told.dedup();
        let all = self.gap(i) > Gap::Space && span.of(self.text).to_lowercase().starts_with("all ");
        if all && self.out.findings.is_empty() && self.out.clear.is_empty() && told.len() > 1 {
            return self.clear_feet(&told, true);
        }
        if fresh {
            let mut feet: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
            feet.append(&mut self.run);
            feet.sort_unstable();
            feet.dedup();
            // One clean claw does not clear its foot where that foot has a lesion.
            let one_claw = claw_before || self.held.spots.iter().any(|s| s.claw.is_some());
            let lesions = self.lesion_feet(false);
            feet.retain(|f| !(one_claw && lesions.contains(f)));
            let rest = self
                .held
                .item
                .is_some_and(|h| matches!(self.get(h), Some(Phrase::Place(Place { feet: Where::Rest, .. }))));
            self.clear_feet(&feet, rest || one_claw || feet.len() == 4);
            self.held.used = true;
            return;
        }
        // "front clean": of a foot that is whole, both.
        if self.new_place_since()
            && let [Spot { half: Some(Half::End(end)), .. }] = self.held.spots.as_slice()
        {
            let feet = crate::grammar::both(*end);
            self.clear_feet(&feet, false);
            self.held.used = true;
            return;
        }
        if claw_before || self.held.spots.iter().any(|s| s.half.is_some()) {
            return;
        }
        // "ulcers on both hinds last year, nothing today, all clean"
        if self.out.findings.is_empty()
            && !self.out.clear.is_empty()
            && self.gap(i) > Gap::Space
            && self.gap(i + 1) > Gap::Space
            && span.of(self.text).to_lowercase().starts_with("all ")
        {
            return self.clear_feet(&Foot::ALL, true);
        }
        // "apart from a mild case of heel erosion there's nothing the matter with her"
        let apart =
            (0..i).rev().take_while(|k| self.gap(k + 1) < Gap::Stop).any(|k| self.items[k].is == Phrase::Except);
        if apart && !self.out.findings.is_empty() {
            return self.clear_feet(&Foot::ALL, true);
        }
        if !self.out.findings.is_empty() || !self.out.clear.is_empty() {
            // "the wart has healed, the foot is clean"
            let held: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
            let mut here =
                self.out.findings.iter().filter(|f| f.spot.foot.is_some_and(|x| held.contains(&x))).peekable();
            let healed = here.peek().is_some() && here.all(|f| f.course == Some(crate::disorder::Course::Healed));
            // "left hind wart, clean now": which of the two is asked.
            let of_lesion = i > 0
                && matches!(self.get(i - 1), Some(Phrase::Finding(_) | Phrase::Stage(_)))
                && self.gap(i) <= Gap::Comma
                && self.gap(i + 1) > Gap::Space
                && !matches!(self.get(i + 1), Some(Phrase::Course(_)))
                // "nothing in the horn"
                && self
                    .words_to_next(i)
                    .iter()
                    .all(|w| ["now", "today", "again"].contains(&w.as_str()));
            if healed || of_lesion {
                self.clear_feet(&held, false);
            } else if i > 0 && matches!(self.get(i - 1), Some(Phrase::Cow(_))) || self.is_said_of_her(i) {
                // "the red one had a corn right hind, cow 44 clean"
                self.out.clear_lost = Some(span);
            }
            return;
        }
        // "couldn't find anything, back left, recheck Monday"
        if self.out.places.is_empty()
            && let Some(Phrase::Place(p)) = self.get(i + 1)
            && matches!(p.feet, Where::Feet(_))
            && self.gap(i + 1) == Gap::Comma
            && self.gap(i + 2) > Gap::Space
            && !self.finding_later(i + 1)
            && !self.place_is_taken(i + 1)
        {
            let feet: Vec<Foot> = self.spots(p).iter().filter_map(|s| s.foot).collect();
            self.clear_feet(&feet, false);
            self.owned = Some(i + 1);
            return;
        }
        if self.named_feet().is_empty() || self.out.actions.iter().all(|a| a.spot.foot.is_none()) {
            self.bare_clear = Some(i);
        } else {
            // "block off left hind, looks good": the foot in the hand.
            let feet: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
            self.clear_feet(&feet, true);
        }
    }

    /// "toe abscess on her card, right front. There isn't one; the foot's clean": the only one that was named.
    pub(super) fn the_foot(&self, i: usize) -> Option<Foot> {
        let led = self.words_before(i);
        let said = |w: &String| ["foot", "foot's", "hoof", "hoof's"].contains(&w.as_str());
        let mut named = self.out.places.iter().flat_map(|(feet, _)| feet);
        let first = *named.next().filter(|_| led.iter().rev().take(2).any(said))?;
        named.all(|foot| *foot == first).then_some(first)
    }

    /// "wart right hind, she's clean", "21 clean": the bare word, by itself or of her, and of no work ("pared it clean").
    fn is_said_of_her(&self, i: usize) -> bool {
        let led = self.words_before(i);
        let hers = match led.last() {
            None => self.gap(i) > Gap::Space || matches!(self.get(i - 1), Some(Phrase::Number { .. })),
            Some(word) => ["she's", "is"].contains(&word.as_str()) && self.gap(i) > Gap::Space,
        };
        let said = self.items[i].span.of(self.text);
        let clean = ["clean", "nothing there"].iter().any(|w| said.eq_ignore_ascii_case(w));
        clean && hers && !self.out.findings.is_empty() && self.gap(i + 1) > Gap::Space
    }

    /// "three feet good, left back has a wart", "clean on three, didn't lift the right front": all but the one that is
    /// told of.
    pub(super) fn three_clean(&mut self, i: usize) -> bool {
        let span = self.items[i].span;
        let next = self.items.get(i + 1);
        let (before, behind) = (self.words_before(i), self.words_to_next(i));
        let said = |words: &[String], all: &[&[&str]]| {
            all.iter().any(|a| words.iter().map(String::as_str).eq(a.iter().copied()))
        };
        let feet = next.is_some_and(|n| n.is == Phrase::Clear && n.gap <= Gap::Space)
            && (said(&behind, &[&["feet"], &["feet", "are"], &["feet", "were"], &["feet", "all"]])
                // "three good feet"
                // "three feet good"
                || behind.is_empty()
                    && next.is_some_and(|n| {
                        let said = n.span.of(self.text);
                        words::ends_with(said, " feet") || words::without(said, "feet ").is_some()
                    }));
        let on = i > 0
            && self.get(i - 1) == Some(&Phrase::Clear)
            && said(&before, &[&["on"]])
            && self.gap(i + 1) > Gap::Space;
        if feet || on {
            self.out.clear_span = Some(span);
            self.bare_clear = None;
            self.clear_feet(&Foot::ALL, true);
            self.three = Some(span);
        }
        feet || on
    }

    /// "all feet except the left front": the others are meant. After a verdict it is read there.
    pub(super) fn except(&mut self, i: usize) -> usize {
        let Some(Phrase::Place(p)) = self.get(i + 1).cloned() else { return i + 1 };
        // "everything's fine on cow 194 bar the off hind"
        let verdict = (0..i).rev().find(|k| !self.items[*k].is_cow());
        if matches!(self.get(i + 2), Some(Phrase::Clear))
            || verdict.is_some_and(|k| matches!(self.items[k].is, Phrase::Clear | Phrase::ClearAll))
        {
            return i + 1;
        }
        let out: Vec<Foot> = self.spots(&p).iter().filter_map(|s| s.foot).collect();
        if self.trimmed_but(i, &out) {
            return i + 2;
        }
        let all = i > 0 && self.held.item == Some(i - 1) && self.held.spots.len() > 1;
        // "heel erosion in every foot bar the left front"
        if all
            && let Some(last) = self.out.findings.last().map(|f| f.mention)
            && self.held.used
        {
            let left_out = |f: &DraftFinding| f.mention == last && f.spot.foot.is_some_and(|foot| out.contains(&foot));
            let kept = self.out.findings.iter().filter(|f| f.mention == last && !left_out(f)).count();
            if kept > 0 {
                self.out.findings.retain(|f| !left_out(f));
                self.waiting_findings.clear();
                return i + 2;
            }
        }
        // "heel erosion on the right hind but not the left": one foot is not all but another.
        let one = self.out.findings.last().and_then(|f| f.spot.foot).filter(|_| !all && self.held.spots.len() == 1);
        let denied = one.is_some() && self.gap(i) <= Gap::Space && self.waiting_findings.is_empty();
        if denied && words::ends_with(self.items[i].span.of(self.text), "not") {
            return i + 2;
        }
        let named = if all { self.held.spots.iter().filter_map(|s| s.foot).collect() } else { Foot::ALL.to_vec() };
        let feet: Vec<Foot> = named.into_iter().filter(|f| !out.contains(f)).collect();
        self.group.clone_from(&feet);
        self.held = Held {
            spots: feet.into_iter().map(|f| Spot { foot: Some(f), ..Spot::default() }).collect(),
            used: false,
            item: Some(i + 1),
        };
        // "warts on all but the right front"
        if !self.waiting_findings.is_empty() || !self.waiting_actions.is_empty() {
            let spots = self.held.spots.clone();
            self.held.used = true;
            self.settle_waiting(&spots);
        }
        i + 2
    }

    /// "the left hind's all right": a verdict on the foot right before, and not how people talk.
    pub(super) fn is_all_right(&self, i: usize) -> bool {
        let said = self.items[i].span.of(self.text);
        ["all right", "alright"].iter().any(|w| said.eq_ignore_ascii_case(w))
            && self.gap(i + 1) > Gap::Space
            && i > 0
            && self
                .get(i - 1)
                .and_then(Phrase::place)
                .is_some_and(|p| p.one_foot().is_some_and(|(_, claw)| claw.is_none()))
            // Terms grown together in one heard word overlap.
            && (self.items[i].span.start.checked_sub(self.items[i - 1].span.end)).is_some_and(|n| n <= " is ".len() as u32)
            // Behind a comma, where another foot follows.
            && (self.gap(i) <= Gap::Space || matches!(self.get(i + 1), Some(Phrase::Place(p)) if p.one_foot().is_some()))
    }

    /// Whether "but not" leads to what was not done.
    pub(super) fn leaves_out_a_deed(&self, i: usize) -> bool {
        words::ends_with(self.items[i].span.of(self.text), " not")
            && matches!(self.get(i + 1), Some(Phrase::Deed(_)))
            && self.gap(i + 1) <= Gap::Space
    }

    /// Whether "but" stands between a word for all feet and the feet it leaves out.
    pub(super) fn all_but(&self, i: usize) -> bool {
        let but = self.items[i].span.of(self.text).eq_ignore_ascii_case("but") && self.gap(i) <= Gap::Space;
        let all = i > 0 && matches!(self.get(i - 1), Some(Phrase::Place(p)) if p.group && self.spots(p).len() == 4);
        let left_out = matches!(self.get(i + 1), Some(Phrase::Place(p)) if matches!(p.feet, Where::Feet(_)));
        but && all && left_out && self.gap(i + 1) <= Gap::Space && self.gap(i + 2) > Gap::Space
    }

    /// "trimmed all but the right front": the other feet were, each by itself.
    fn trimmed_but(&mut self, i: usize, out: &[Foot]) -> bool {
        let close = self.last_deed.is_some_and(|d| i - d <= 2);
        let Some(model) = self.out.actions.last().filter(|a| close && a.deed.what == Act::Trim).cloned() else {
            return false;
        };
        self.take_back(model.span);
        for foot in Foot::all_but(out) {
            let spot = Spot { foot: Some(foot), ..Spot::default() };
            self.out.actions.push(DraftAction { spot, ..model.clone() });
        }
        true
    }

    /// "otherwise clean", "rest clean".
    pub(super) fn otherwise(&mut self, i: usize, span: Span) -> usize {
        if !matches!(self.get(i + 1), Some(Phrase::Clear | Phrase::ClearAll)) {
            return i + 1;
        }
        self.out.clear_span = Some(span);
        let named = self.lesion_feet(false);
        // "RF corn, fronts otherwise ok": of those.
        let group = i.checked_sub(1).filter(|_| self.gap(i) <= Gap::Space).and_then(|k| self.get(k)?.place());
        let among: Vec<Foot> = match group.filter(|p| p.group).cloned() {
            Some(place) => self.spots(&place).iter().filter_map(|s| s.foot).collect(),
            None => Foot::ALL.to_vec(),
        };
        let feet: Vec<Foot> = among.into_iter().filter(|f| !named.contains(f)).collect();
        self.clear_feet(&feet, true);
        i + 2
    }

    /// Clears feet; `sparing` leaves out those that turn out to have a lesion.
    pub(super) fn clear_feet(&mut self, feet: &[Foot], sparing: bool) {
        for f in feet {
            if !self.out.clear.contains(f) {
                self.out.clear.push(*f);
                if sparing {
                    self.spared.push(*f);
                }
            } else if !sparing {
                self.spared.retain(|s| s != f);
            }
        }
    }
}
