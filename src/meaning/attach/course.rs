//! How a lesion goes on: healed, healing, open, worse; of which of two.

use super::{NEARBY, Pass};
use crate::anatomy::Foot;
use crate::disorder::{Course, Disorder};
use crate::entry::Act;
use crate::grammar::{ClawWord, Deed, Named, Phrase, Place, Where};
use crate::meaning::draft::{DraftFinding, Spot};
use crate::words::{self, Gap, Span};

impl Pass<'_> {
    pub(super) fn course(&mut self, i: usize, course: Course, span: Span) {
        // "the block's gone now"
        let device = |d: &Deed| matches!(d.what, Act::Block | Act::Wrap);
        if i > 0
            && matches!(self.get(i - 1), Some(Phrase::Deed(d)) if device(d))
            && self.gap(i) <= Gap::Space
            && span.of(self.text).to_lowercase().starts_with("gone")
        {
            return self.lost(i);
        }
        // "better ring the vet", "better wrap it": what ought to be done.
        let ought = span.of(self.text).eq_ignore_ascii_case("better")
            && matches!(self.get(i + 1), Some(Phrase::Deed(_)))
            && self.gap(i + 1) <= Gap::Space
            && self.words_to_next(i).is_empty()
            && !self.items[i + 1].and
            && (words::before(self.text, span.start as usize, NEARBY).trim_end().ends_with([',', '.', ';'])
                || self.led_last(i, &["i'd", "we'd", "had"]));
        if ought {
            self.out.asides += 1;
            return;
        }
        // "she's standing better already", "she walks off better than she came": the cow's gait.
        const GAITS: [&str; 9] =
            ["walks", "walking", "walked", "stands", "standing", "moves", "moving", "steps", "stepping"];
        let part = self.part_before(i);
        let mut led = part.split_whitespace().rev().take(2);
        if span.of(self.text).eq_ignore_ascii_case("better") && led.any(|w| GAITS.contains(&w)) {
            self.out.asides += 1;
            return;
        }
        // "seventy percent closed": not yet all of it.
        let led = self.words_before(i);
        let partly = matches!(&led[..], [.., p] if p == "percent") || led.ends_with(&["per".into(), "cent".into()]);
        let course = if partly && course == Course::Healed { Course::Healing } else { course };
        // "worse on the left than on the right": of two feet.
        let behind = words::behind(self.text, span.end as usize, NEARBY);
        let part = behind.split([',', '.', ';']).next().unwrap_or_default();
        if [" than on ", " than in ", " than the "].iter().any(|w| part.contains(w)) {
            self.out.asides += 1;
            return;
        }
        // "no wrap, she's better with the air to it": what is good for her.
        let good_for_her = span.of(self.text).eq_ignore_ascii_case("better")
            && self.led_last(i, &["she's", "she", "is", "be"])
            && self.followed_first(i, &["with", "without", "off", "out", "already"]);
        if good_for_her {
            self.out.asides += 1;
            return;
        }
        // "pared it wide open": how.
        let pared = i > 0 && matches!(self.get(i - 1), Some(Phrase::Deed(d)) if d.what.is_knife_work());
        if pared && course == Course::Open && self.gap(i) <= Gap::Space && self.words_before(i).is_empty() {
            self.out.asides += 1;
            return;
        }
        // "I want to see is that toe ulcer closing"
        let led = format!(" {}", self.told_by_others(i).to_lowercase());
        if [" see is ", " see if ", " see whether ", " check if ", " check whether "].iter().any(|w| led.contains(w)) {
            return self.remark_of(i);
        }
        // "Digital dermatitis not seen again": there is none.
        let gone = ["not seen", "no longer"].iter().any(|w| span.of(self.text).to_lowercase().starts_with(w));
        if gone && i > 0 && matches!(self.get(i - 1), Some(Phrase::Finding(_))) && self.last_finding_item == Some(i - 1)
        {
            let mention = self.out.findings.last().map(|f| f.mention);
            self.out.findings.retain(|f| Some(f.mention) != mention);
            self.waiting_findings.clear();
            self.out.remarks.push(self.items[i - 1].span.to(span).of(self.text).to_owned());
            return;
        }
        // "mobility two coming in, no better going out": of how she walks.
        if self.get(i + 1) == Some(&Phrase::Afterwards) && self.gap(i + 1) <= Gap::Space && !self.out.scores.is_empty()
        {
            self.out.asides += 1;
            return;
        }
        // "wart dried up, M three": that stage is a dry scab.
        let dry = span.of(self.text).eq_ignore_ascii_case("dried up");
        let scab = |k: usize| matches!(self.get(k), Some(Phrase::Stage(stage)) if stage.whole() == 3);
        if dry && (scab(i + 1) && self.gap(i + 1) <= Gap::Comma || i > 0 && scab(i - 1)) {
            self.out.asides += 1;
            return;
        }
        // "vertical crack in the wall, it's grown halfway down": how far it goes, or how far it has grown out.
        let said = span.of(self.text);
        let along = |f: &DraftFinding| matches!(f.named, Named::Disorder(Disorder::HFV | Disorder::HFA));
        if words::ends_with(said, "down")
            && said.to_lowercase().contains("grown")
            && self.out.findings.last().is_some_and(along)
        {
            self.out.asides += 1;
            return;
        }
        // "the vet cut that corn out. The wound is healing": of a lesion that is no more.
        let wound = || self.words_before(i).iter().any(|w| ["wound", "stump", "scar"].contains(&w.as_str()));
        if self.out.findings.is_empty() && wound() {
            return self.remark_of(i);
        }
        // "I'd nearly call it healed"
        let nearly = |w: &String| ["nearly", "almost"].contains(&w.as_str());
        let course = match course {
            Course::Healed if self.words_before(i).iter().any(nearly) => Course::Healing,
            course => course,
        };
        // "dried up to an M three"
        let to_stage = matches!(self.get(i + 1), Some(Phrase::Stage(_))) && self.gap(i + 1) <= Gap::Space;
        if to_stage && self.followed_first(i, &["to"]) {
            self.out.asides += 1;
            return;
        }
        // `open+drain`
        let verb = span.of(self.text).eq_ignore_ascii_case("open")
            && matches!(self.items.get(i + 1), Some(n) if n.and && n.gap <= Gap::Space && matches!(&n.is, Phrase::Deed(d) if d.what == Act::Drain));
        if verb {
            return;
        }
        // "I was hoping would be closed"
        let led = words::before(self.text, span.start as usize, NEARBY).trim_end();
        if ["would be", "should be", "to be"].iter().any(|be| words::ends_with(led, be)) {
            self.out.unread.push(span);
            return;
        }
        if self.is_of_another_claw(i) {
            self.out.loose_courses.push((course, span));
            return;
        }
        // "healed up except for a small crack in the white line": of what, was not said, and not of that.
        if self.get(i + 1) == Some(&Phrase::Except) && self.gap(i + 1) <= Gap::Space && self.out.findings.is_empty() {
            self.out.loose_courses.push((course, span));
            return;
        }
        if self.for_next(i) || (self.out.findings.is_empty() && self.told_of.is_none() && self.finding_later(i)) {
            self.course = Some(course);
            self.foretell(i, course);
            return;
        }
        if let Some(feet) = self.narrowed_to(i) {
            self.narrowed(&feet, |f| f.course = Some(course));
            self.held.used = true;
            return;
        }
        if self.goes_on_across(i, course) || self.is_of_the_other(i, course, span) {
            return;
        }
        // "outer ulcer healed, but the inner one is still open", "sole ulcer outer, the inner one from last time is gone"
        let past = usize::from(i > 1 && self.get(i - 1) == Some(&Phrase::Past) && self.gap(i - 1) <= Gap::Space);
        if i > 0
            && let Some(Phrase::Place(p)) = self.get(i - 1 - past)
            && let (Where::Same, Some(ClawWord::One(claw))) = (&p.feet, p.claw)
            && let Some(model) = self.out.findings.last().cloned()
            && model.spot.claw.is_some_and(|c| c != claw)
        {
            self.mentions += 1;
            let spot = Spot { claw: Some(claw), ..model.spot };
            let course = Some(course);
            self.out.findings.push(DraftFinding { spot, zones: vec![], course, mention: self.mentions, span, ..model });
            return;
        }
        let held: Vec<Foot> = self.held.spots.iter().filter_map(|s| s.foot).collect();
        let narrowed = self.new_place_since();
        // "toe eighty left hind, corn worse right hind": the lesion's place is still to come.
        let placeless = self
            .last_finding_item
            .is_some_and(|lesion| lesion < i && (lesion + 1..=i).all(|k| self.gap(k) <= Gap::Space));
        let mut hit = false;
        let before = self.hedged;
        for f in self.last_mention() {
            if !narrowed || f.spot.foot.map_or(placeless, |foot| held.contains(&foot)) {
                f.course = Some(course);
                hit = true;
            }
        }
        self.hedged = before;
        if narrowed && hit && !placeless {
            self.held.used = true;
        }
        if !hit && !self.goes_on_at(i, course, span) && !self.found_again(Some(course)) {
            self.out.loose_courses.push((course, span));
        }
    }

    /// "right rear inner is fine again, outer still has the white line": no lesion was named yet, and the next one is on
    /// the other claw.
    fn is_of_another_claw(&self, i: usize) -> bool {
        if !self.out.findings.is_empty() {
            return false;
        }
        let before = i.checked_sub(1).filter(|_| self.gap(i) <= Gap::Space).and_then(|k| self.get(k)?.place());
        let (Some(before), Some(next)) = (before, self.get(i + 1).and_then(Phrase::place)) else { return false };
        // `LH healed, RH DD still M2`
        let foot = |p: &Place| p.one_foot().map(|(foot, _)| foot);
        let lesion = matches!(self.get(i + 2), Some(Phrase::Finding(_))) && self.gap(i + 2) <= Gap::Space;
        let another_foot = lesion && foot(before).zip(foot(next)).is_some_and(|(a, b)| a != b);
        let claw = |p: &Place| p.claw.or_else(|| p.one_claw());
        let another_claw = self.gap(i + 1) > Gap::Space && claw(before).zip(claw(next)).is_some_and(|(a, b)| a != b);
        another_foot || another_claw
    }

    /// "wart right hind healed, left hind healing": the same lesion of another foot, which nothing else is said of.
    fn goes_on_at(&mut self, i: usize, course: Course, span: Span) -> bool {
        let place = i.checked_sub(1).filter(|_| self.gap(i) <= Gap::Space).and_then(|k| self.get(k)?.place());
        let Some((foot, claw)) = place.and_then(Place::one_foot) else { return false };
        let Some(model) = self.out.findings.last().cloned() else { return false };
        let other = model.course.is_some() && model.spot.foot.is_some_and(|f| f != foot && f.end() == foot.end());
        let known = self.out.findings.iter().any(|f| f.spot.foot == Some(foot));
        if !other || known || self.gap(i + 1) <= Gap::Space {
            return false;
        }
        self.mentions += 1;
        let claw = claw.and_then(ClawWord::one);
        let spot = Spot { foot: Some(foot), claw: claw.or(model.spot.claw), ..model.spot };
        self.out.findings.push(DraftFinding { course: Some(course), span, ..model.again_at(spot, self.mentions) });
        self.held.used = true;
        true
    }

    /// "right front outer ulcer healed, left one still open": the same lesion of the foot across.
    fn is_of_the_other(&mut self, i: usize, course: Course, span: Span) -> bool {
        let Some(Phrase::Place(Place { feet: Where::Side(side), claw: None, .. })) =
            i.checked_sub(1).and_then(|k| self.get(k))
        else {
            return false;
        };
        let Some(model) = self.out.findings.last().cloned() else { return false };
        let said = self.items[i - 1].span.of(self.text).to_lowercase();
        // "both hinds, left wart M four, right one healed"
        let told = model.course.is_some() || said.trim_end_matches("'s").ends_with(" one") && model.stage.is_some();
        let across = model.spot.foot.filter(|f| f.side() != *side && told).map(Foot::across);
        // "the left one's healed, but the right is still open"
        let one = said.trim_end_matches("'s").ends_with(" one") || self.led_last(i - 1, &["the"]);
        let (Some(foot), true, true) = (across, one, self.gap(i) <= Gap::Space) else { return false };
        if self.out.findings.iter().any(|f| f.spot.foot == Some(foot)) {
            return false;
        }
        self.mentions += 1;
        let spot = Spot { foot: Some(foot), ..model.spot };
        self.out.findings.push(DraftFinding { course: Some(course), span, ..model.again_at(spot, self.mentions) });
        self.held.used = true;
        true
    }

    /// "wart healed on the left and still open on the right": the lesion on the other foot.
    fn goes_on_across(&mut self, i: usize, course: Course) -> bool {
        let Some(Phrase::Place(place)) = self.get(i + 1) else { return false };
        let Where::Side(side) = place.feet else { return false };
        let Some(model) = self.out.findings.last().cloned() else { return false };
        let across = model.spot.foot.filter(|f| f.side() != side && model.course.is_some()).map(Foot::across);
        let (Some(foot), true) = (across, self.items[i].and && self.gap(i + 1) <= Gap::Space) else { return false };
        if self.out.findings.iter().any(|f| f.spot.foot == Some(foot) && f.named == model.named) {
            return false;
        }
        self.mentions += 1;
        let spot = Spot { foot: Some(foot), ..Spot::default() };
        self.out.findings.push(DraftFinding {
            spot,
            zones: vec![],
            stage: None,
            course: Some(course),
            mention: self.mentions,
            ..model
        });
        self.owned = Some(i + 1);
        self.last_finding_item = Some(i);
        true
    }
}
