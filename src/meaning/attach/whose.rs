//! Whether a deed is ours, and done today.

use super::{NEARBY, Pass};
use crate::entry::Act;
use crate::grammar::{Deed, Item, Phrase};
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
    const WHO: [&str; 8] = ["vet", "farmer", "owner", "boss", "herdsman", "last", "other", "previous"];
    let said = behind.trim_start_matches(' ');
    let by = said.strip_prefix("by ").map(|s| s.strip_prefix("the ").unwrap_or(s));
    let who = by.is_some_and(|s| WHO.iter().any(|w| words::begins(s, w)));
    // "spraying did not help"
    const OPEN: [&str; 14] = [
        "advised",
        "recommended",
        "was meant ",
        "was supposed ",
        "did not help",
        "didn't help",
        "hasn't helped",
        "has not helped",
        // "wooden block wouldn't stick"
        "wouldn't stick",
        "would not stick",
        "wouldn't hold",
        "would not hold",
        "wouldn't stay",
        "would not stay",
    ];
    who || OPEN.iter().any(|w| said.starts_with(w))
}

/// "pull the block when I come in April"
fn when_i_come(behind: &str) -> bool {
    let part = behind.split([',', '.', ';', ':']).next().unwrap_or_default();
    [" when I come", " when i come", " when we come", " when I'm back", " when i'm back"]
        .iter()
        .any(|w| part.split_once(w).is_some_and(|(said, _)| !said.contains(" and ")))
}

/// "was trimmed in the autumn", "trim in the autumn as usual": not today.
pub(super) fn in_a_season(behind: &str) -> bool {
    let said = behind.trim_start_matches(' ');
    let said = ["it ", "her ", "them "].iter().find_map(|w| words::without(said, w)).unwrap_or(said);
    let Some(season) = ["in the ", "in ", "over the "].iter().find_map(|w| words::without(said, w)) else {
        return false;
    };
    ["spring", "summer", "autumn", "fall", "winter"].iter().any(|w| words::begins(season, w))
}

/// "loose horn still has to come away": of knife work, and of nothing that was put on and has to come off.
fn still_to_do(behind: &str) -> bool {
    let said = behind.trim_start_matches(' ');
    ["still has to ", "still needs ", "has to ", "needs to ", "still to "].iter().any(|w| said.starts_with(w))
}

/// Whether a word, or what it is the plural or the genitive of, is one for a person on the farm who is not the trimmer.
pub(super) fn is_person(word: &str) -> bool {
    const PEOPLE: [&str; 26] = [
        "fellow",
        "bloke",
        "lass",
        "lady",
        "man",
        "farmer",
        "fella",
        "chap",
        "owner",
        "boss",
        "herdsman",
        "herdswoman",
        "lad",
        "somebody",
        "someone",
        "manager",
        "boy",
        "guy",
        "trimmer",
        "neighbor",
        "neighbour",
        "crew",
        "staff",
        "worker",
        "milker",
        "student",
    ];
    let stems = [Some(word), word.strip_suffix("'s"), word.strip_suffix('s')];
    stems.into_iter().flatten().any(|w| PEOPLE.contains(&w))
}

/// "the farmer has sprayed her every day", "owner put a rubber block on": whether another did it, in the words from the
/// last comma up to what was done; `done` where that is a verb of the past.
pub(super) fn another_did(words: &[String], done: bool) -> bool {
    const FOR: [&str; 11] = ["for", "to", "with", "told", "tell", "let", "ask", "asked", "by", "from", "says"];
    const VERBS: [&str; 13] =
        ["will", "gives", "giving", "does", "put", "gave", "has", "had", "been", "took", "stuck", "yanked", "did"];
    const OTHERS: [&str; 14] =
        ["i", "i've", "we", "we've", "says", "said", "wants", "thinks", "told", "asked", "and", "so", "but", "reckons"];
    let is_who = |w: &String| is_person(w) || w == "himself";
    // "he wrapped it", "they've been spraying it"
    const THEY: [&str; 8] = ["he", "he's", "he'd", "they", "they've", "they'd", "they're", "whoever"];
    const BETWEEN: [&str; 11] =
        ["has", "have", "had", "been", "already", "only", "just", "also", "himself", "themselves", "then"];
    const PUT: [&str; 9] = ["put", "gave", "stuck", "took", "a", "an", "the", "her", "that"];
    let they = words.iter().rposition(|w| !BETWEEN.contains(&w.as_str()) && !PUT.contains(&w.as_str()));
    if let Some(at) = they.filter(|at| THEY.contains(&words[*at].as_str()))
        && (done || words[at + 1..].iter().any(|w| w == "been" || PUT[..4].contains(&w.as_str())))
    {
        return true;
    }
    let Some(who) = words.iter().rposition(is_who) else { return false };
    let led = words[..who].iter().rev().find(|w| *w != "the" && *w != "her");
    let rest = &words[who + 1..];
    let is = |all: &[&str]| rest.iter().any(|w| all.contains(&w.as_str()));
    !led.is_some_and(|w| FOR.contains(&w.as_str())) && !is(&OTHERS) && (done || is(&VERBS))
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
            [.., "removed" | "removing" | "threw" | "shed" | "dropped" | "lost" | "kicked"] => true,
            [.., verb, "off"] => ["took", "taking", "pulled", "cut", "knocked", "popped", "got"].contains(&verb),
            _ => false,
        }
    }

    /// "vet to cut it out", "farmer will spray it", "needs wrapping", "should be blocked": not done today, and not by us.
    pub(super) fn is_others_to_do(&self, i: usize) -> bool {
        const THEY: [&str; 7] = ["he's", "they're", "he", "he'll", "they", "they'll", "vet"];
        const TO: [&str; 9] = ["to", "will", "should", "must", "can", "could", "may", "might", "would"];
        if matches!(self.get(i), Some(Phrase::Deed(d)) if d.what == Act::Vet) {
            return false;
        }
        // "had burst and drained by itself", "needs a block but I've run out of them"
        let drained = matches!(self.get(i), Some(Phrase::Deed(d)) if d.what == Act::Drain);
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
        let burst = drained && self.led_by(i, &["already"]);
        let knife = matches!(self.get(i), Some(Phrase::Deed(d)) if d.what.is_knife_work());
        if burst
            || knife && still_to_do(behind)
            // "still blocked": since last time.
            || !knife && words::ends_with(self.text.get(..self.items[i].span.start as usize).unwrap_or_default(), " still ")
            || drained && by_itself(behind)
            || !knife && none_left(behind)
            || !knife && self.is_needed_but(i, behind)
            || when_i_come(behind)
            || self.is_of_another_day(i)
            // "limping since you wrapped her", "has come back since it was cut out"
            || self.is_since(i)
            // "call the vet before blocking"
            || self.led_by(i, &["before"]) && self.items[i].span.of(self.text).ends_with("ing")
            || self.is_done(i) && (in_a_season(behind) || self.led_by(i, &["been"]) && behind.starts_with(" before"))
            || by_another(behind)
        {
            return true;
        }
        if self.is_done_by_nobody(i) {
            return true;
        }
        // "he's only going to forget to take it off"
        let before =
            (0..i).rev().find(|k| !matches!(self.items[*k].is, Phrase::Only | Phrase::Part(_) | Phrase::Unread));
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
        // "he's flushed it and wrapped it"
        let theirs = words.iter().any(|w| said(w, &["he's", "he'd", "they've", "they'd"]));
        let mine = words.iter().any(|w| said(w, &["i", "i've", "we", "we've", "so"]));
        if theirs && !mine && self.items[i].and && words.len() > 2 {
            return true;
        }
        let will = vet && i > 0 && {
            let said = self.items[i - 1].span.of(self.text).to_lowercase();
            ["will", "will have to", "going to"].iter().any(|w| said.ends_with(w))
        };
        // "the owner will himself spray it"
        let himself = matches!(&words[..], [.., will, own] if said(will, &TO) && own.ends_with("self"));
        let bidden = will || himself || words.last().is_some_and(|w| said(w, &TO) || said(w, &["he'll", "they'll"]));
        let passive = match &words[..] {
            [.., should, be] if be == "be" => said(should, &["should", "must", "to"]),
            [.., needs] if ["needs", "need", "wants", "want"].contains(&needs.as_str()) => {
                self.items[i].span.of(self.text).split(' ').next().is_some_and(|w| w.ends_with("ing"))
            }
            _ => false,
        };
        // "the farmer asked for a block", "he said it needed a block": wished for, and not done by that.
        let said_so = |w: &[String]| matches!(w, [.., needed, a] if needed == "needed" && a == "a");
        let asked = words.iter().any(|w| w == "asked") || said_so(&words) && words.iter().any(|w| w == "said");
        // "had to be blocked": it was.
        let passive = passive && !words.ends_with(&["had".to_owned(), "to".to_owned(), "be".to_owned()]);
        let who = |w: &String| is_person(w) || said(w, &THEY);
        // "he wanted her trimmed"
        let wished = words.iter().any(|w| ["wanted", "wants"].contains(&w.as_str())) && words.iter().any(who);
        // "I would block the left hind inner but she won't stand"
        let would = matches!(&words[..], [.., we, would] if said(we, &["i", "we"]) && would == "would");
        let in_vain = would && self.sentence_behind(i).contains(" but ");
        // "farmer wrapped it Monday"
        let done = self.is_done(i);
        asked
            || in_vain
            || another_did(&words, done)
            || self.is_planned(i, &words)
            || passive
            || wished
            || bidden && (vet || words.iter().any(who))
    }

    /// "not before the routine trim", "I have her three months ago trimmed", "last time I blocked the inner".
    fn is_of_another_day(&self, i: usize) -> bool {
        self.gap(i) <= Gap::Space && (self.is_of_a_trim_to_come(i) || self.is_of_last_time(i))
    }

    fn is_of_a_trim_to_come(&self, i: usize) -> bool {
        const TO_COME: [&str; 4] = ["routine", "next", "regular", "usual"];
        if !matches!(self.get(i), Some(Phrase::Deed(d)) if d.what == Act::Trim) {
            return false;
        }
        let led = self.words_before(i);
        let any = |all: &[&str]| led.iter().any(|w| all.contains(&w.as_str()));
        let said = self.items[i].span.of(self.text).to_lowercase();
        any(&["before", "until", "till"]) && (any(&TO_COME) || TO_COME.iter().any(|w| said.starts_with(w)))
    }

    fn is_of_last_time(&self, i: usize) -> bool {
        const WE: [&str; 6] = ["i", "we", "she", "was", "had", "it"];
        let Some(past) = i.checked_sub(1).filter(|k| self.items[*k].is == Phrase::Past) else { return false };
        let said = self.items[past].span.of(self.text).to_lowercase();
        (said.starts_with("last ") || said.ends_with(" ago") || said == "ago")
            // "a wrap from last time, took that off"
            && !self.led_last(past, &["from", "since", "than", "as", "like"])
            && self.words_before(i).iter().all(|w| WE.contains(&w.as_str()))
            && self.is_done(i)
            && !self.followed_first(i, &["now", "today", "again"])
    }

    /// Whether what was done is told as when something else began.
    fn is_since(&self, i: usize) -> bool {
        const WHO: [&str; 12] = ["you", "he", "they", "we", "i", "it", "was", "were", "the", "farmer", "vet", "last"];
        if !self.is_done(i) {
            return false;
        }
        let part = self.part_before(i);
        let mut since = part.split_whitespace().rev().skip_while(|w| WHO.contains(w));
        since.next() == Some("since")
    }

    /// "a wrap would do it good", and no "wrap, would you believe it".
    pub(super) fn is_only_what_would_be(&self, i: usize) -> bool {
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
        [" would", " would've"].iter().any(|w| words::begins(behind, w))
    }

    /// The rest of the sentence behind item `i`, in small letters.
    fn sentence_behind(&self, i: usize) -> String {
        let behind = self.text.get(self.items[i].span.end as usize..).unwrap_or_default();
        behind.split(['.', ';']).next().unwrap_or_default().to_lowercase()
    }

    /// "needs a block but she calves this week": it was not put on.
    fn is_needed_but(&self, i: usize, behind: &str) -> bool {
        let led = self.words_before(i);
        let needed = matches!(
            led.iter().map(String::as_str).collect::<Vec<_>>()[..],
            [.., "needs" | "need" | "wants" | "needed", "a"]
                | [.., "could", "do", "with", "a"]
                | [.., "should", "have", "a"]
        );
        if !needed {
            return false;
        }
        let rest = behind.trim_start_matches(',');
        // "needs a block on the left hind, ulcer on the inner, but I'm out of blocks"
        let sentence = self.sentence_behind(i);
        let out = [" but i'm out of", " but i've run out", " but i'm all out", " but we're out of"];
        let but = rest.starts_with(" but ") || out.iter().any(|w| sentence.contains(w));
        but && !rest.contains("anyway") && !rest.contains("put one on")
    }

    /// "blocks: one, inner, wraps: none"
    pub(super) fn is_counted_none(&self, i: usize) -> bool {
        let Some(none) = self.items.get(i + 1).filter(|next| next.is == Phrase::Not) else { return false };
        let said = none.span.of(self.text).to_lowercase();
        ["none", "nil"].contains(&said.as_str())
            && none.gap <= Gap::Comma
            && self.gap(i + 2) > Gap::Space
            && self.words_to_next(i).is_empty()
    }

    /// Whether what was done at `i` begins with a verb of the past.
    fn is_done(&self, i: usize) -> bool {
        const DID: [&str; 6] = ["took", "put", "cut", "gave", "stuck", "threw"];
        let said = self.items[i].span.of(self.text).to_lowercase();
        said.split(' ').next().is_some_and(|w| w.ends_with("ed") || DID.contains(&w))
    }

    /// "nobody put one on", "none of the lads wrapped it"
    fn is_done_by_nobody(&self, i: usize) -> bool {
        const NOBODY: [&str; 4] = ["nobody ", "no one ", "none of ", "no-one "];
        let led = words::before(self.text, self.items[i].span.start as usize, SHORT);
        let part = led.rsplit([',', '.', ';', ':', '(']).next().unwrap_or_default().as_bytes();
        let said = |who: &str| part.windows(who.len()).any(|w| w.eq_ignore_ascii_case(who.as_bytes()));
        self.is_done(i) && NOBODY.iter().any(|who| said(who))
    }

    /// "farmer gave her the antibiotic", "the farmer's been spraying it with tetracycline": said in a part of the sentence of
    /// which another is the one who did it.
    pub(super) fn is_another_s(&self, i: usize) -> bool {
        let at = self.items[i].span.start;
        let led = words::before(self.text, at as usize, NEARBY);
        let part = led.len() - led.rfind([',', '.', ';', ':', '(']).map_or(0, |at| at + 1);
        let words = self.words(at - part as u32, at);
        // "the vet looked at her on Tuesday and gave her three days of antibiotics"
        let vet = words.iter().position(|w| w == "vet");
        let gave = vet.is_some_and(|vet| words[vet..].iter().any(|w| w == "gave"));
        gave || another_did(&words, false)
    }

    /// "I'll open it up on Friday": not today.
    fn is_planned(&self, i: usize, led: &[String]) -> bool {
        const LATER: [&str; 11] = [
            "monday",
            "tuesday",
            "wednesday",
            "thursday",
            "friday",
            "saturday",
            "sunday",
            "tomorrow",
            "later",
            "next",
            "another",
        ];
        let will = led.last().is_some_and(|w| ["i'll", "we'll"].contains(&w.as_str()));
        will && {
            let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
            let part = behind.split([',', '.', ';', ':']).next().unwrap_or_default().to_lowercase();
            part.split_whitespace().any(|w| LATER.contains(&w))
        }
    }

    /// "abscess I lanced on the right rear, it's dried up": done when it was found, and how it is now is told behind.
    pub(super) fn is_of_a_lesion_before(&self, i: usize) -> bool {
        let led = self.words_before(i);
        let led: Vec<&str> = led.iter().map(String::as_str).collect();
        let mine = matches!(led[..], ["i" | "we"] | ["that" | "which", "i" | "we"]);
        let lesion = i > 0 && matches!(self.get(i - 1), Some(Phrase::Finding(_))) && self.gap(i) <= Gap::Space;
        // "nothing left of the abscess we drained"
        let healed = self.out.findings.last().is_some_and(|f| f.course.is_some());
        // "ulcer left front I wrapped it": today, for it has its object.
        let said = self.items[i].span.of(self.text).to_lowercase();
        let has_it = said.split(' ').any(|w| w == "it" || w == "them")
            || self.words_to_next(i).first().is_some_and(|w| w == "it" || w == "them");
        // A course behind another foot or another lesion is of that one.
        let of_another = |it: &&Item| it.is.one_foot().is_some() || matches!(it.is, Phrase::Finding(_));
        let own_place = self.get(i + 1).is_some_and(|is| is.place().is_some())
            && (self.gap(i + 1) <= Gap::Space || self.held.spots.is_empty())
            && !self.items[i + 1].and;
        let from = (i + 1 + usize::from(own_place)).min(self.items.len());
        let mut behind = self.items[from..].iter().take_while(|it| !of_another(it));
        mine && lesion && !has_it && (healed || behind.any(|it| matches!(it.is, Phrase::Course(_))))
    }

    /// "checked the one we wrapped": of a deed before today, or of today's.
    pub(super) fn is_of_the_one(&self, i: usize) -> bool {
        let led = self.words_before(i);
        let led: Vec<&str> = led.iter().map(String::as_str).collect();
        matches!(led[..], [.., "the", "one" | "ones", "i" | "we"])
    }

    /// Whether the words behind it say that it is still to be done.
    pub(super) fn is_for_later(&self, i: usize) -> bool {
        let behind = words::behind(self.text, self.items[i].span.end as usize, NEARBY);
        still_to_do(behind) || self.is_planned(i, &self.words_before(i))
    }

    /// "… by the vet": who did it, and nobody to be called.
    pub(super) fn is_by(&self, i: usize) -> bool {
        let led = self.words_before(i);
        let led: Vec<&str> = led.iter().map(String::as_str).collect();
        // "a jab from the vet"
        let given = matches!(led[..], [.., "jab" | "shot" | "injection" | "needle", "from", "the"]);
        let done = i > 0
            && matches!(self.get(i - 1), Some(Phrase::Deed(_) | Phrase::Past | Phrase::Place(_) | Phrase::Stays(_)));
        given || done && self.gap(i) <= Gap::Space && matches!(led[..], ["by" | "from"] | ["by" | "from", "the"])
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
