//! "right hind's worse, left hind's better, digital dermatitis both": how each foot is, told before the lesion is named.

use super::{Held, Pass};
use crate::anatomy::Foot;
use crate::disorder::Course;
use crate::grammar::{Named, Phrase};
use crate::meaning::draft::{DraftFinding, Spot};
use crate::words::{self, Gap};

impl Pass<'_> {
    /// Keeps how one foot is until its lesion is named.
    pub(super) fn foretell(&mut self, i: usize, course: Course) {
        let Some(foot) = self.foot_right_before(i) else { return };
        // Nothing else was said between.
        if self.foretold.last().is_some_and(|_| i < 2 || !matches!(self.get(i - 2), Some(Phrase::Course(_)))) {
            return;
        }
        self.foretold.push((foot, course, self.items[i].span));
        let feet: Vec<Foot> = self.foretold.iter().map(|told| told.0).collect();
        if feet.len() == 2 && feet[0] != feet[1] {
            // What is found sits on both, unless a place of its own stands behind it.
            let spots = feet.iter().map(|foot| Spot { foot: Some(*foot), ..Spot::default() }).collect();
            self.held = Held { spots, used: true, item: i.checked_sub(1) };
            self.group = feet;
        }
        if self.foretold.len() > 1 {
            self.course = None;
        }
    }

    /// "left hind's healed up, the white line I mean": the lesion whose foot and course were told right before it. Gives
    /// whether it is so.
    pub(super) fn is_meant(&mut self, i: usize, named: Named) -> bool {
        let behind = words::behind(self.text, self.items[i].span.end as usize, " I mean".len());
        let (Some(Phrase::Course(course)), true) =
            (i.checked_sub(1).and_then(|k| self.get(k)), behind.eq_ignore_ascii_case(" I mean"))
        else {
            return false;
        };
        let (course, Some(foot)) = (*course, self.foot_right_before(i - 1)) else { return false };
        self.course = None;
        self.foretold.clear();
        let told = self.items[i - 1].span;
        self.out.loose_courses.retain(|(_, span)| *span != told);
        self.mentions += 1;
        let spot = Spot { foot: Some(foot), ..Spot::default() };
        self.held.used = true;
        self.out.findings.push(DraftFinding {
            spot,
            course: Some(course),
            mention: self.mentions,
            ..DraftFinding::of(named, self.items[i].span)
        });
        self.last_finding_item = Some(i);
        true
    }

    /// "left hind's a lot better, right hind isn't": of another foot than the one that was told of.
    pub(super) fn foretells_no(&mut self, i: usize) -> bool {
        let another = |foot: Foot| matches!(self.foretold[..], [(told, ..)] if told != foot);
        let alone = self.gap(i + 1) > Gap::Space && self.words_to_next(i).is_empty();
        if !alone || !self.out.findings.is_empty() || !self.foot_right_before(i).is_some_and(another) {
            return false;
        }
        let better = matches!(self.foretold[0].1, Course::Healed | Course::Healing);
        if better {
            self.foretell(i, Course::Open);
        }
        better
    }

    /// Gives each lesion how its foot is; what was told of a foot without one is not lost.
    pub(super) fn fulfil(&mut self) {
        if self.foretold.len() < 2 {
            return;
        }
        for (foot, course, span) in std::mem::take(&mut self.foretold) {
            let mut here = self.out.findings.iter_mut().filter(|f| f.spot.foot == Some(foot)).peekable();
            if here.peek().is_none() {
                self.out.loose_courses.push((course, span));
            }
            here.for_each(|f| f.course = f.course.or(Some(course)));
        }
    }

    fn foot_right_before(&self, i: usize) -> Option<Foot> {
        let place = self.get(i.checked_sub(1)?).filter(|_| self.gap(i) <= Gap::Space)?.place()?;
        place.one_foot().filter(|(_, claw)| claw.is_none()).map(|(foot, _)| foot)
    }
}
