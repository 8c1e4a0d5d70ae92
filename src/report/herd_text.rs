//! The herd report as text.

use super::herd::Herd;
use super::survival::median;
use super::table::Table;
use crate::show;
use crate::show::lines::hang;

fn percent(x: Option<f64>) -> String {
    x.map_or("-".to_owned(), |x| format!("{x:.1}"))
}

impl Herd {
    /// `of` is what it is about: ` at Juniper Flat since thu 1 jan 2026`.
    pub fn text(&self, of: &str) -> String {
        let mut out = hang("", &format!("the herd{of}"));
        let cows = |n| show::count(n, "cow", "cows");
        let visits = show::count(self.days.len(), "visit", "visits");
        out += &hang("", &format!("{} seen, {} of them examined, at {visits}", cows(self.seen), self.examined));
        let mut table = Table::new(2).right(&[1, 2, 3, 4, 5]);
        table.row(["", "cows", "%", "95 % limits", "new", "repeats"]);
        for s in &self.shares {
            let limits = format!("{}-{}", percent(s.low), percent(s.high));
            let (new, repeats) = (s.new.to_string(), s.repeats.to_string());
            table.row([s.what.clone(), s.cows.to_string(), percent(s.percent), limits, new, repeats]);
        }
        out += &format!("\ncows with it, of {} examined; new cases\n{table}", cows(self.examined));
        let known: Vec<_> =
            self.shares.iter().filter_map(|s| Some((s.what.clone(), s.published?.to_owned()))).collect();
        if !known.is_empty() {
            let mut table = Table::new(2);
            for (what, published) in known {
                table.row([what, published]);
            }
            out += &format!("\npublished, per cent of cows at whole-herd trims\n{table}");
            out += &hang("  ", "trims of part of a herd overstate: lame cows come first (Solano 2016)");
        }
        let [timely, late, never] = self.rechecks;
        let mut table = Table::new(2);
        let of = |n: usize, all: usize| format!("{n} of {all}");
        table.row(["rechecked within a week of the day".to_owned(), of(timely, timely + late + never)]);
        table.row(["rechecked later".to_owned(), of(late, timely + late + never)]);
        table.row(["blocks lost".to_owned(), of(self.blocks.1, self.blocks.0)]);
        table.row(["wraps lost".to_owned(), of(self.wraps.1, self.wraps.0)]);
        table.row(["cases seen healed".to_owned(), of(self.healed, self.healed + self.lost_to_sight)]);
        let half = median(&self.healing).map_or("not reached".to_owned(), |d| show::count(d as usize, "day", "days"));
        table.row(["half of them healed after (Kaplan-Meier)".to_owned(), half]);
        out += &format!("\nhow it went on\n{table}");
        if self.days.len() > 1 {
            let mut table = Table::new(2).right(&[1, 2]);
            table.row(["", "examined", "with a lesion"]);
            for d in &self.days {
                table.row([show::day(d.date), d.examined.to_string(), d.with_lesion.to_string()]);
            }
            out += &format!("\nvisit by visit\n{table}");
        }
        if !self.back.is_empty() {
            let told: Vec<String> = self.back.iter().take(10).map(|(cow, n)| format!("{cow} ({n})")).collect();
            out += &format!("\ncows with most cases\n{}", hang("  ", &told.join(", ")));
        }
        if !self.map.is_empty() {
            out += &format!("\nfindings by place\n{}", self.map.text());
        }
        if self.uncertain > 0 {
            let told = show::count(self.uncertain, "finding that was not certain", "findings that were not certain");
            out += &format!("\nin no figure: {told}\n");
        }
        out
    }
}
