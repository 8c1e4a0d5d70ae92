//! Whether a deed is ours, and done today.

use super::{NEARBY, Pass};
use crate::entry::Act;
use crate::grammar::{Deed, Phrase};
use crate::words::{self, Gap};

/// "but I've run out of them", "but there are none left": so it was not done.
fn none_left(behind: &str) -> bool {
    let Some((device, why)) = behind.split_once(" but ") else { return false };
    let why = why.split(['.', ';']).next().unwrap_or_default().to_lowercase();
    let short = ["run out", "ran out", "none left", "out of blocks", "out of wraps", "no blocks", "no wraps"];
    !device.contains([',', '.', ';']) && device.len() < SHORT && short.iter().any(|w| why.contains(w))
}

fn by_itself(behind: &str) -> bool {
    let part = behind.split([',', '.', ';']).next().unwrap_or_default().to_lowercase();
    // "burst and drained by itself"
    let said = part.trim_start().strip_prefix("and ").and_then(|p| p.split_once(' ')).map_or(part.as_str(), |(_, p)| p);
    ["by itself", "on its own", "by themselves", "of its own accord"].iter().any(|w| said.trim_start().starts_with(w))
}

/// "opened up by the vet", "block was meant for the inner": of another, or not done.
fn by_another(behind: &str) -> bool {
    const WHO: [&str; 7] = ["vet", "farmer", "owner", "boss", "herdsman", "last", "other"];
    let said = behind.trim_start_matches(' ');
    let by = said.strip_prefix("by ").map(|s| s.strip_prefix("the ").unwrap_or(s));
    let who = by.is_some_and(|s| {
        WHO.iter().any(|w| s.strip_prefix(w).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric)))
    });
    who || said.starts_with("was meant ") || said.starts_with("was supposed ")
}

/// Letters of a claw or a foot behind what was to be done.
const SHORT: usize = 30;

impl Pass<'_> {
    /// "took off the left hind block", "removed both hind wraps": its place stands between.
    pub(super) fn is_removed_before(&self, i: usize) -> bool {
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
            [.., "removed" | "removing" | "threw" | "shed" | "dropped"] => true,
            [.., verb, "off"] => ["took", "taking", "pulled", "cut", "knocked", "popped", "got"].contains(&verb),
            _ => false,
        }
    }

    /// "vet to cut it out", "farmer will spray it", "needs wrapping", "should be blocked": not done today, and not by us.
    pub(super) fn is_others_to_do(&self, i: usize) -> bool {
        const WHO: [&str; 15] = [
            "he's", "they're", "farmer", "owner", "boss", "he", "he'll", "they", "they'll", "vet", "herdsman", "lad",
            "lads", "somebody", "someone",
        ];
        const TO: [&str; 9] = ["to", "will", "should", "must", "can", "could", "may", "might", "would"];
        if matches!(self.get(i), Some(Phrase::Deed(d)) if d.what == Act::Vet) {
            return false;
        }
        // "had burst and drained by itself", "needs a block but I've run out of them"
        let drained = matches!(self.get(i), Some(Phrase::Deed(d)) if d.what == Act::Drain);
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
        let burst = drained && self.led_by(i, &["already"]);
        if burst || drained && by_itself(behind) || none_left(behind) || by_another(behind) {
            return true;
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

    /// "… by the vet": who did it, and nobody to be called.
    pub(super) fn is_by(&self, i: usize) -> bool {
        let led = self.words_before(i);
        let led: Vec<&str> = led.iter().map(String::as_str).collect();
        let done = i > 0 && matches!(self.get(i - 1), Some(Phrase::Deed(_) | Phrase::Past | Phrase::Place(_)));
        done && self.gap(i) <= Gap::Space && matches!(led[..], ["by"] | ["by", "the"])
    }

    /// "vet to cut it out", "the vet's coming Friday to take it off"
    fn is_of_the_vet(&self, i: usize) -> bool {
        let vet = |k: usize| matches!(self.get(k), Some(Phrase::Deed(d)) if d.what == Act::Vet);
        let time = |k: usize| matches!(self.get(k), Some(Phrase::Time(_))) && self.gap(k) <= Gap::Space;
        i > 0 && vet(i - 1) || i > 1 && time(i - 1) && vet(i - 2)
    }

    /// The part of the sentence up to and with item `i`, from the vet or from the last comma on.
    pub(super) fn said_of(&self, i: usize) -> String {
        let end = self.items[i].span.end as usize;
        let vet = self.is_of_the_vet(i);
        let from = i.checked_sub(1).map_or(0, |k| if vet { self.items[k].span.start } else { self.items[k].span.end });
        let said = self.text.get(from as usize..end).unwrap_or_default();
        said.rsplit([',', '.', ';', ':']).next().unwrap_or_default().trim().to_owned()
    }

    /// "block can come off": it did not yet.
    pub(super) fn is_still_to_come_off(&self, i: usize, deed: &Deed) -> bool {
        let begins = |said: String| ["can ", "could ", "to come"].iter().any(|w| said.starts_with(w));
        deed.like_before && begins(self.items[i].span.of(self.text).to_lowercase())
    }
}
