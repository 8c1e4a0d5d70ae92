//! What a notebook comes to at its end: farms, lines that hold a day and open no visit, and what is asked about.

use std::collections::BTreeMap;

use chutescribe::flag::FlagKind;
use chutescribe::notebook::{Visit, has_day};
use chutescribe::show;

use super::fail::Fail;
use super::out::Out;

/// How many lines a summary names.
pub(super) const SHOWN: usize = 8;
/// How many farms it names.
const FARMS: usize = 20;

/// Grows with the farms of a file.
#[derive(Debug, Default)]
pub(super) struct Summary {
    farms: BTreeMap<String, Farm>,
    /// The farm of the open visit, and whether its heads were counted.
    open: Option<(String, bool)>,
    /// Questions about entries, by what they are about.
    asked: BTreeMap<&'static str, Asked>,
    /// Lines that are no hoof note, and hold a day.
    days: (usize, Vec<(usize, String)>),
}

#[derive(Debug, Default)]
struct Farm {
    visits: usize,
    cows: usize,
    /// Heads counted, and the cows of the visits that have them counted.
    heads: Option<(u64, usize)>,
}

#[derive(Debug, Default)]
struct Asked {
    questions: usize,
    /// How many lines have them, and the first of these.
    count: usize,
    lines: Vec<usize>,
    last: usize,
}

impl Summary {
    pub(super) fn visit(&mut self, visit: &Visit) {
        let name = visit.day.farm.clone().unwrap_or_else(|| "farm not said".to_owned());
        let farm = self.farms.entry(name.clone()).or_default();
        farm.visits += 1;
        if let Some(head) = visit.day.head {
            farm.heads.get_or_insert_default().0 += u64::from(head);
        }
        self.open = Some((name, visit.day.head.is_some()));
    }

    pub(super) fn cow(&mut self) {
        let Some((farm, counted)) = &self.open else { return };
        let Some(farm) = self.farms.get_mut(farm) else { return };
        farm.cows += 1;
        if let (true, Some(heads)) = (counted, &mut farm.heads) {
            heads.1 += 1;
        }
    }

    pub(super) fn asked(&mut self, kind: FlagKind, line: usize) {
        let there = self.asked.entry(about(kind)).or_default();
        there.questions += 1;
        if there.last != line {
            there.last = line;
            there.count += 1;
            if there.lines.len() < SHOWN {
                there.lines.push(line);
            }
        }
    }

    pub(super) fn other(&mut self, line: usize, text: &str) {
        if !has_day(text) {
            return;
        }
        self.days.0 += 1;
        if self.days.1.len() < SHOWN {
            self.days.1.push((line, text.to_owned()));
        }
    }

    /// Whether anything is asked at the lines.
    pub(super) fn asks(&self) -> bool {
        !self.asked.is_empty()
    }

    pub(super) fn questions(&self, out: &mut Out) -> Result<(), Fail> {
        for (about, asked) in &self.asked {
            let lines: Vec<String> = asked.lines.iter().map(usize::to_string).collect();
            let more = if asked.count > lines.len() { " …" } else { "" };
            out.line(&format!(
                "  {} about {about}: {} {}{more}",
                show::count(asked.questions, "question", "questions"),
                show::plural(asked.count, "line", "lines"),
                lines.join(", ")
            ))?;
        }
        Ok(())
    }

    pub(super) fn farms(&self, out: &mut Out) -> Result<(), Fail> {
        for (name, farm) in self.farms.iter().take(FARMS) {
            let counted = |(heads, cows)| format!("; {heads} head counted, {cows} read");
            let heads = farm.heads.map_or(String::new(), counted);
            out.line(&format!(
                "  {name}: {}, {}{heads}",
                show::count(farm.visits, "visit", "visits"),
                show::count(farm.cows, "cow", "cows")
            ))?;
        }
        if self.farms.len() > FARMS {
            out.line(&format!("  and {} more", show::count(self.farms.len() - FARMS, "farm", "farms")))?;
        }
        Ok(())
    }

    pub(super) fn days(&self, out: &mut Out) -> Result<(), Fail> {
        if self.days.0 == 0 {
            return Ok(());
        }
        let (lines, hold) =
            (show::count(self.days.0, "other line", "other lines"), show::plural(self.days.0, "holds", "hold"));
        let open = show::plural(self.days.0, "opens", "open");
        out.line(&format!("  ! {lines} {hold} a day, and {open} no visit:"))?;
        for (line, text) in &self.days.1 {
            out.line(&format!("      {line}: {text}"))?;
        }
        if self.days.0 > SHOWN { out.line("      and so on") } else { Ok(()) }
    }
}

/// What a question is about, in plain words.
fn about(kind: FlagKind) -> &'static str {
    match kind {
        FlagKind::CowMissing | FlagKind::CowDoubtful => "the cow",
        FlagKind::FootMissing | FlagKind::FootHalf => "the foot",
        FlagKind::ClawMissing => "the claw of a lesion",
        FlagKind::BlockClawMissing => "the claw of a block",
        FlagKind::BlockOnLesion => "a block on the claw with the lesion",
        FlagKind::DisorderOpen => "what was found",
        FlagKind::ZoneMisfit | FlagKind::ZoneUnknown | FlagKind::ZoneUnsure => "the zone",
        FlagKind::ScoreRange => "a score",
        FlagKind::ClearAndLesion => "a foot both clean and with a lesion",
        FlagKind::DateOpen => "a date",
        FlagKind::MeasureRange => "a measure",
        FlagKind::CorrectionOpen => "a correction",
        FlagKind::SameOpen => "what is repeated",
        FlagKind::VetSign => "the vet",
        FlagKind::Unread => "words that were not understood",
        FlagKind::NumberLoose => "numbers that belong to nothing",
        FlagKind::Misheard => "words taken for others",
        FlagKind::TwoReadings | FlagKind::HearingsDiffer => "what can be read in two ways",
    }
}
