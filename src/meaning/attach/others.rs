//! What the vet, the farmer or another trimmer did or said: told, and no part of today's record.

use super::whose::is_person;
use super::{NEARBY, Pass};
use crate::entry::Act;
use crate::grammar::{ClawWord, Item, Phrase, Place, Where};
use crate::words::{self, Gap};

impl Pass<'_> {
    /// "the vet opened it Tuesday", "vet cut it out in autumn": done by the vet, and before today. Gives the index of the
    /// next item to read.
    pub(super) fn vet_did_it(&mut self, i: usize) -> Option<usize> {
        const SAID: [&str; 7] = ["said", "says", "scored", "reckoned", "reckons", "thought", "thinks"];
        const DID: [&str; 6] = ["cut", "took", "put", "dug", "let", "did"];
        const SEASONS: [&str; 5] = ["spring", "summer", "autumn", "fall", "winter"];
        // "locomotion three, the vet had said two"
        if let Some(Phrase::Deed(vet)) = self.get(i)
            && vet.what == Act::Vet
            && let Some(next) = self.items.get(i + 1).filter(|n| n.gap <= Gap::Space)
            && self.words(self.items[i].span.end, next.span.start).iter().take(2).any(|w| SAID.contains(&w.as_str()))
            && matches!(next.is, Phrase::Number { .. } | Phrase::Score { .. } | Phrase::Severity(_))
        {
            return Some(self.condition(i));
        }
        // `blk off (vet did, Tues)`: that one.
        if let Some(Phrase::Deed(vet)) = self.get(i)
            && vet.what == Act::Vet
            && let Some(deed) = self.last_deed.filter(|d| d + 1 == i && self.gap(i) <= Gap::Comma)
            && words::begins(words::behind(self.text, self.items[i].span.end as usize, " did it".len()), " did")
        {
            self.take_back(self.items[deed].span);
            let (from, end) = (self.items[deed].span.start as usize, self.items[i].span.end as usize + " did".len());
            self.out.remarks.extend(self.text.get(from..end).map(str::to_owned));
            return Some(i + 1);
        }
        if let Some(end) = self.vet_was_here(i) {
            // "… Tuesday for the left hind, the other three are clean"
            let for_foot = |k: usize| {
                matches!(self.get(k), Some(Phrase::Place(_)))
                    && self.gap(k) <= Gap::Space
                    && self.words_before(k).iter().any(|w| w == "for")
            };
            let end = if for_foot(end) { end + 1 } else { end };
            self.told(i + 1..=end - 1);
            // What was read is kept to its end, and the words behind it to the end of the part of the sentence.
            let vet = self.items[i].span.to(self.items[end - 1].span);
            let to = self.items.get(end).map_or(self.text.len(), |n| n.span.start as usize);
            let rest = self.text.get(vet.end as usize..to).unwrap_or_default();
            let mut rest = rest.split([',', '.', ';']).next().unwrap_or_default().trim_end();
            // "… and now the left hind has an ulcer": what leads on to today is no part of it.
            const LEADS_ON: [&str; 9] = [" the", " her", " on", " and", " so", " now", " then", " but", " next"];
            while let Some(less) = LEADS_ON.iter().find_map(|w| rest.strip_suffix(w)) {
                rest = less;
            }
            self.out.remarks.push(format!("{}{rest}", vet.of(self.text)));
            return Some(end);
        }
        // "vet blocked her last week"
        if let (Phrase::Deed(vet), Phrase::Stays(device)) = (self.get(i)?, self.get(i + 1)?)
            && vet.what == Act::Vet
            && self.gap(i + 1) <= Gap::Space
            && self.items[i + 1].span.of(self.text).split(' ').next().is_some_and(|w| w.ends_with("ed"))
        {
            self.device = *device;
            self.remark(i, i + 1);
            return Some(i + 2);
        }
        let (Phrase::Deed(vet), Phrase::Deed(_)) = (self.get(i)?, self.get(i + 1)?) else { return None };
        if vet.what != Act::Vet || self.gap(i + 1) > Gap::Space {
            return None;
        }
        // "have the vet cut it off": he is called, and that is his to do.
        let between = self.words(self.items[i].span.end, self.items[i + 1].span.start);
        if self.is_sent_for(i) && between.is_empty() {
            let (vet, span) = (vet.clone(), self.items[i].span);
            self.deed(i, &vet, span);
            return Some(i + 2);
        }
        let said = self.items[i + 1].span.of(self.text).to_lowercase();
        let did = said.split(' ').next().is_some_and(|w| w.ends_with("ed") || DID.contains(&w));
        if !did || !between.iter().all(|w| ["has", "had", "already", "only", "just"].contains(&w.as_str())) {
            return None;
        }
        let ends = |k: &usize| self.gap(*k) > Gap::Space || self.is_today_again(i, *k);
        let end = (i + 2..self.items.len()).find(ends).unwrap_or(self.items.len());
        // "the vet cut out the corn right rear, healing clean"
        let goes_on = matches!(self.get(end), Some(Phrase::Course(_))) && self.gap(end) == Gap::Comma;
        let time = |is: &Phrase| matches!(is, Phrase::Past | Phrase::Time(_));
        let to = self.items.get(end).map_or(self.text.len() as u32, |n| n.span.start);
        let words = self.words(self.items[i + 1].span.end, to);
        let before = self.items[i + 2..end].iter().any(|it| time(&it.is))
            || words.iter().any(|w| SEASONS.contains(&w.as_str()))
            || goes_on
            || between.iter().any(|w| ["already", "has", "had"].contains(&w.as_str()))
            // "three weeks since the vet cleaned out that toe"
            || i > 0 && matches!(self.get(i - 1), Some(Phrase::Past)) && self.gap(i) <= Gap::Space;
        before.then(|| {
            self.remark(i, end - 1);
            end
        })
    }

    /// "the vet gave her a shot", "vet lanced it Tuesday", "the vet cut out the corn, healing clean": what the vet did is told,
    /// and she is not sent there. Gives the index of the next item to read.
    fn vet_was_here(&self, i: usize) -> Option<usize> {
        const DID: [&str; 26] = [
            "who",
            "looked",
            "came",
            "examined",
            "been",
            "found",
            "diagnosed",
            "suspected",
            "prescribed",
            "ordered",
            "given",
            "gave",
            "inj",
            "saw",
            "lanced",
            "took",
            "treated",
            "checked",
            "did",
            "injected",
            "jabbed",
            "operated",
            "removed",
            "amputated",
            "x-rayed",
            "put",
        ];
        const WISHED: [&str; 8] =
            ["wants", "wanted", "asked", "asks", "recommends", "recommended", "suggests", "suggested"];
        let Some(Phrase::Deed(vet)) = self.get(i) else { return None };
        if vet.what != Act::Vet {
            return None;
        }
        // "farmer asked about the vet"
        if self.words_before(i).windows(2).any(|w| w[0] == "asked" && ["about", "for"].contains(&w[1].as_str())) {
            return Some(i + 1);
        }
        // "don't block her says the vet", "that stuff from the vet"
        let led = self.words_before(i);
        if matches!(
            led.iter().map(String::as_str).collect::<Vec<_>>()[..],
            [.., "stuff" | "powder" | "pills" | "injection" | "jab" | "antibiotic", "from", "the"]
        ) {
            return Some(i + 1);
        }
        // (In "the boss says the vet should look" somebody else says so.)
        if let [before @ .., say, the] = &led[..]
            && the == "the"
            && before.last().is_none_or(|w| !is_person(w) && !["he", "she", "they"].contains(&w.as_str()))
            && ["says", "said", "reckons", "thinks"].contains(&say.as_str())
        {
            return Some(i + 1);
        }
        let from = self.items[i].span.end as usize;
        let behind = words::behind(self.text, from, NEARBY).to_lowercase();
        let mut said = behind.trim_start().split(|c: char| !c.is_alphanumeric() && c != '-').filter(|w| !w.is_empty());
        let first = said.next()?;
        let had = ["had", "has"].contains(&first);
        let first = if had || ["already", "just"].contains(&first) { said.next()? } else { first };
        // "the vet has been phoned": called.
        const CALLED: [&str; 8] = ["phoned", "called", "rung", "told", "contacted", "informed", "notified", "texted"];
        if first == "been" && said.clone().next().is_some_and(|w| CALLED.contains(&w)) {
            return None;
        }
        // "the vet had her up on Tuesday", "vet had 617 down for toe necrosis"
        let her = |w: &str| ["her", "it", "them"].contains(&w) || w.bytes().all(|b| b.is_ascii_digit());
        let had = had && her(first);
        // "the vet wants a block on it": wished for.
        let wished = WISHED.contains(&first)
            && matches!(self.get(i + 1), Some(Phrase::Deed(_) | Phrase::Hedge | Phrase::Due { .. }));
        // "vet was meant to open it", "the vet was just here", "vet and I had a laugh about it"
        const WAS: [&str; 12] =
            ["meant", "supposed", "due", "here", "just", "in", "out", "around", "over", "at", "up", "there"];
        // (But "straight to the vet and I've put nothing on".)
        let named = ["vet", "the vet", "vet's", "the vet's"].iter().any(|w| self.items[i].span.of(self.text) == *w);
        let meant = first == "was" && said.find(|w| *w != "already").is_some_and(|w| WAS.contains(&w))
            || named && first == "and" && said.next().is_some_and(|w| ["i", "me"].contains(&w));
        // "the vet cut that corn out three weeks ago", but not "have the vet cut it out"
        let cut =
            ["cut", "drained", "opened", "flushed", "sedated", "stitched"].contains(&first) && !self.is_sent_for(i);
        if !(DID.contains(&first) || had || wished || meant || cut) || behind.starts_with([',', '.', ';', ':']) {
            return None;
        }
        // To the end of the part of the sentence, or to when it was.
        // "vet did her last week right hind outer ulcer zone four": another foot goes on with today.
        let another = |k: usize| self.is_today_again(i, k);
        let ends = |k: &usize| self.gap(*k) > Gap::Space || !had && self.items[*k].is_cow() || another(*k);
        let end = (i + 1..self.items.len()).find(ends).unwrap_or(self.items.len());
        let time = |k: &usize| matches!(self.items[*k].is, Phrase::Past | Phrase::Time(_));
        if had {
            return Some(end);
        }
        let when = (i + 1..end).find(time).map_or(end, |k| k + 1);
        // "… on Tuesday and lanced something": goes on with what was done then.
        let more =
            matches!(self.get(when), Some(Phrase::Deed(_))) && self.items[when].and && self.gap(when) <= Gap::Space;
        Some(if more { end } else { when })
    }

    /// "the vet bandaged the right front on Tuesday, so I left that alone the left hind has a wart": whether another foot at
    /// `k` than that of the vet's work, or than the one in the hand, goes on with what is found today.
    fn is_today_again(&self, vet: usize, k: usize) -> bool {
        let Some(foot) = self.items[k].is.one_foot() else { return false };
        let told = self.items[vet + 1..k].iter().filter_map(|it| it.is.one_foot());
        let mut others = self.held.spots.iter().filter_map(|s| s.foot).chain(told).peekable();
        if others.peek().is_none() || others.any(|f| f == foot) {
            return false;
        }
        let claw = usize::from(matches!(self.get(k + 1), Some(Phrase::Place(p)) if p.feet == Where::Same));
        self.gap(k + 1) <= Gap::Space && (self.begins_next(k) || self.finding_follows(k + 1 + claw))
    }

    /// "have the vet cut it off"
    fn is_sent_for(&self, i: usize) -> bool {
        self.led_by(i, &["have", "get", "let", "ask", "having", "getting"])
    }

    /// "bumped into the vet at the pub", "the vet's van is in the way": what is said of him is no word of a call.
    pub(super) fn is_only_mentioned(&self, i: usize) -> bool {
        const CALLS: [&str; 51] = [
            "to", "has", "have", "should", "must", "needs", "need", "wants", "will", "can", "could", "is", "please",
            "asap", "again", "today", "tomorrow", "on", "called", "told", "coming", "comes", "come", "job", "check",
            "look", "visit", "for", "and", "or", "if", "when", "now", "soon", "then", "before", "about", "needed",
            "required", "out", "in", "so", "but", "next", "this", "first", "going", "too", "also", "as", "been",
        ];
        let span = self.items[i].span;
        let named = span.of(self.text).to_lowercase();
        let first = named.split(' ').next().unwrap_or_default();
        let named = ["vet", "vet's", "vets"].iter().any(|w| named.ends_with(w))
            && ["the", "saw", "a", "vet", "vet's", "vets"].contains(&first);
        let behind = words::behind(self.text, span.end as usize, NEARBY);
        let next = behind.strip_prefix(' ').and_then(|b| b.split(|c: char| !c.is_alphanumeric()).next());
        let called = |w: &str| {
            let w = w.to_lowercase();
            CALLS.contains(&&*w) || w.ends_with("day") || w.bytes().all(|b| b.is_ascii_digit())
        };
        named
            && self.get(i + 1).is_none_or(|is| {
                *is == Phrase::Unread || self.gap(i + 1) > Gap::Space || !self.words_to_next(i).is_empty()
            })
            && next.is_some_and(|w| !w.is_empty() && !called(w))
    }

    /// "farmer says foot rot, but it's a wart", "he said foot rot in the left front, I can't find a thing": what others
    /// said, and was not so.
    pub(super) fn is_hearsay(&self, i: usize) -> bool {
        let who = |w: &str| is_person(w) || ["he", "she", "they", "i"].contains(&w);
        const SAYS: [&str; 10] =
            ["says", "said", "reckons", "reckoned", "thinks", "told", "swears", "swore", "claims", "insists"];
        // "the farmer swears she had a wart in the fall"
        let led = self.words_before(i);
        let had = |w: &[String]| is_person(&w[0]) && SAYS.contains(&w[1].as_str()) && w[2] == "she" && w[3] == "had";
        // "the last trimmer wrote down a sole ulcer"
        let wrote = |w: &[String]| is_person(&w[0]) && w[1] == "wrote";
        if led.windows(4).any(had) || led.windows(2).any(wrote) {
            return true;
        }
        // "farmer reckons ulcer last year"
        let says = |w: &[String]| is_person(&w[0]) && SAYS.contains(&w[1].as_str());
        if led.windows(2).any(says) && self.get(i + 1) == Some(&Phrase::Past) && self.gap(i + 1) <= Gap::Space {
            return true;
        }
        // Asked of every lesion, of which few are followed by a denial.
        let mut k = i + 1;
        while self.get(k).is_some_and(|is| matches!(is, Phrase::Place(_) | Phrase::Zones(_) | Phrase::Severity(_))) {
            k += 1;
        }
        let but = matches!(self.get(k), Some(Phrase::Only | Phrase::Change | Phrase::Not));
        let mut at = k + usize::from(but);
        // "but it's only dirt, foot is clean"
        while but && matches!(self.get(at), Some(Phrase::Only | Phrase::Unread)) {
            at += 1;
        }
        // "reckons she trod on a stone but I can't find a bruise"
        let cannot = |k: usize| {
            let not = self.items[k].span.of(self.text).to_lowercase();
            but && ["can't", "couldn't", "don't", "didn't"].iter().any(|w| not.contains(w))
        };
        let denied = match self.get(at) {
            Some(Phrase::Not) => self.gap(at) <= Gap::Space && cannot(at),
            Some(Phrase::Clear | Phrase::ClearAll) => self.gap(at) <= Gap::Comma,
            // "it's a wart": another lesion, told as how it is.
            Some(Phrase::Finding(_)) => {
                const ITS: [&str; 6] = ["it's", "its", "that's", "i'd", "is", "found"];
                const I_SAY: [&str; 6] = ["say", "think", "call", "found", "see", "reckon"];
                match &self.words_before(at).iter().map(String::as_str).collect::<Vec<_>>()[..] {
                    [first, ..] if ITS.contains(first) => true,
                    // "owner reckons she has an ulcer, I say white line"
                    ["i", say, ..] => I_SAY.contains(say),
                    _ => but,
                }
            }
            _ => false,
        };
        // "maybe a sole ulcer, the farmer thinks only a bruise": beside what was found.
        if !denied && !self.out.findings.is_empty() && self.place_right_after(i).is_none() {
            let first = i - usize::from(i > 0 && self.items[i - 1].is == Phrase::Only && self.gap(i) <= Gap::Space);
            let led = self.words_before(first);
            let thinks = |w: &[String]| who(&w[0]) && ["thinks", "reckons"].contains(&w[1].as_str());
            return self.gap(first) == Gap::Comma && led.windows(2).any(thinks);
        }
        if !denied {
            return false;
        }
        // The foot may stand between: "he said right hind foot rot".
        let from = if i > 0
            && matches!(self.get(i - 1), Some(Phrase::Place(_) | Phrase::Aside))
            && self.gap(i) <= Gap::Space
        {
            i - 1
        } else {
            i
        };
        let mut led = self.words_before(from);
        // "farmer thinks foul but it's a wart": a doubt in another note.
        if let Some(doubt) = from.checked_sub(1).map(|k| &self.items[k]).filter(|d| d.is == Phrase::Hedge) {
            led.splice(..0, self.words(doubt.span.start, doubt.span.end));
        }
        let looked = |w: &[String]| w[0] == "looked" && w[1] == "like";
        led.windows(2).any(|w| who(&w[0]) && SAYS.contains(&w[1].as_str()) || looked(w))
    }

    /// "her mother went for slaughter with a rotten toe", but not "like her mother she has a corkscrew claw".
    pub(super) fn is_of_another_animal(&self, i: usize) -> bool {
        const KIN: [&str; 6] = ["mother", "dam", "sister", "daughter", "granny", "calf"];
        let said = self.told_by_others(i).to_lowercase();
        let mut words = said.split_whitespace();
        matches!((words.next(), words.next()), (Some("her" | "the" | "its"), Some(kin)) if KIN.contains(&kin))
    }

    /// "the lad reckons it was the inside claw, but it's the outside one": the claw that others said.
    pub(super) fn is_said_by_others(&self, i: usize, place: &Place) -> bool {
        const SAYS: [&str; 8] = ["reckons", "reckoned", "says", "said", "thinks", "thought", "wrote", "told"];
        let (Where::Same, Some(claw)) = (&place.feet, place.claw.and_then(ClawWord::one)) else { return false };
        let other = |k: usize| matches!(self.get(k), Some(Phrase::Place(p)) if p.feet == Where::Same && p.claw.and_then(ClawWord::one) == Some(claw.partner()));
        self.get(i + 1) == Some(&Phrase::Only)
            && other(i + 2)
            && self.gap(i + 2) <= Gap::Space
            && self.told_by_others(i).split_whitespace().any(|w| SAYS.contains(&w.to_lowercase().as_str()))
    }

    /// The part of the sentence from the last comma up to and with item `i`.
    pub(super) fn told_by_others(&self, i: usize) -> String {
        let end = self.items[i].span.end as usize;
        let said = words::before(self.text, end, NEARBY);
        let said = said.rsplit([',', '.', ';', ':']).next().unwrap_or_default();
        let start = end - said.len();
        let behind = |it: &&Item| it.span.end as usize > start;
        let cow = self.items[..i].iter().rev().take_while(behind).find(|it| it.is_cow());
        let start = cow.map_or(start, |it| it.span.end as usize);
        self.text.get(start..end).unwrap_or_default().trim().to_owned()
    }
}
