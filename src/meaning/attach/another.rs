//! One more of the lesion that was spoken of: "wart on the left hind and one on the right hind".

use super::{Held, NEARBY, Pass};
use crate::grammar::{ClawWord, Phrase, Where};
use crate::meaning::draft::{DraftFinding, Spot};
use crate::words::{self, Gap};

impl Pass<'_> {
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

    /// "ulcer right hind outer healed, now the inner's got one", "wart right hind, now the left has one": adds it, and tells
    /// whether it is so.
    pub(super) fn is_one_here(&mut self, i: usize) -> bool {
        let Some(Phrase::Place(place)) = i.checked_sub(1).and_then(|k| self.get(k)) else { return false };
        let got = self.led_by(i, &["got", "has", "have"]) || self.items[i - 1].span.of(self.text).ends_with("'s");
        // "… but no block"
        let ends = self.gap(i + 1) > Gap::Space || self.get(i + 1) == Some(&Phrase::Only);
        let close = self.gap(i) <= Gap::Space && ends;
        let Some(model) = self.out.findings.last().filter(|_| got && close).cloned() else { return false };
        let spot = match (&place.feet, place.claw) {
            (Where::Same, Some(ClawWord::One(claw))) if model.spot.claw.is_some_and(|c| c != claw) => {
                Spot { claw: Some(claw), ..model.spot }
            }
            (Where::Side(_) | Where::End(_) | Where::Feet(_), claw) => match self.spots(place)[..] {
                [spot @ Spot { foot: Some(foot), .. }]
                    if model.spot.foot.is_some_and(|f| f != foot)
                        || spot.claw.is_some() && model.spot.claw.is_some_and(|c| Some(c) != spot.claw) =>
                {
                    Spot { claw: claw.and_then(ClawWord::one).or(spot.claw).or(model.spot.claw), ..spot }
                }
                _ => return false,
            },
            _ => return false,
        };
        self.mentions += 1;
        self.out.findings.push(model.again_at(spot, self.mentions));
        self.held = Held { spots: vec![spot], used: true, item: Some(i) };
        self.last_finding_item = Some(i);
        true
    }

    /// "the ulcer on the outer has healed, only now she's got one on the inner": adds it, and tells whether it is so.
    pub(super) fn one_on_the_other_claw(&mut self, i: usize, claw: Option<ClawWord>) -> bool {
        let Some(claw) = claw.and_then(ClawWord::one) else { return false };
        let Some(model) = self.out.findings.last().cloned() else { return false };
        if model.spot.claw != Some(claw.partner()) || model.spot.foot.is_none() {
            return false;
        }
        let spot = Spot { claw: Some(claw), ..model.spot };
        self.mentions += 1;
        self.out.findings.push(model.again_at(spot, self.mentions));
        self.held = Held { spots: vec![spot], used: true, item: Some(i) };
        self.last_finding_item = Some(i);
        true
    }

    /// Whether a lesion is named behind the place at `i`, before another place is.
    fn finding_named_behind(&self, i: usize) -> bool {
        let mut behind = self.items[i + 1..].iter().take_while(|it| it.gap < Gap::Stop && it.is.place().is_none());
        behind.any(|it| matches!(it.is, Phrase::Finding(_)))
    }

    /// "corn on the right hind, small. Left hind has a big one": the lesion again, at the place of item `i`.
    pub(super) fn has_a_one(&mut self, i: usize) {
        // Asked of every place.
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
        let has = [" has a ", " has got a ", "'s got a ", " got a "].iter().find_map(|w| words::without(behind, w));
        let Some((how, rest)) = has.and_then(|rest| rest.split_once(" one")) else { return };
        let told = how.split(' ').count() <= 2 && how.chars().all(|c| c.is_alphabetic() || c == ' ');
        if !told || rest.starts_with(char::is_alphanumeric) {
            return;
        }
        // "… a new one starting, just a bruise so far": it is named behind.
        let sentence = rest.split(['.', ';']).next().unwrap_or_default();
        if [" just a ", " only a "].iter().any(|w| sentence.contains(w)) && self.finding_named_behind(i) {
            return;
        }
        let Some(model) = self.out.findings.last().cloned() else { return };
        let [spot @ Spot { foot: Some(foot), .. }] = self.held.spots[..] else { return };
        if model.spot.foot.is_none_or(|f| f == foot) || self.held.used {
            return;
        }
        self.mentions += 1;
        self.out.findings.push(model.again_at(spot, self.mentions));
        self.held.used = true;
        self.last_finding_item = Some(i);
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
}
