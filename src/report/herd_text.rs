//! The herd report as text.

use super::herd::{Herd, OVERSTATE, Trend};
use super::survival::median;
use super::table::Table;
use super::wilson;
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
        out += &hang("", &self.about());
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
            out += &hang("  ", OVERSTATE);
        }
        if !self.lame.is_empty() {
            let mut table = Table::new(2).right(&[1, 2]);
            for l in &self.lame {
                let limits = wilson::limits(l.cows, l.of).map_or(String::new(), |(low, high)| {
                    format!(
                        "{:.1} %, 95 % limits {:.1}-{:.1}",
                        100.0 * l.cows as f64 / l.of as f64,
                        100.0 * low,
                        100.0 * high
                    )
                });
                table.row([
                    format!("{} {} or more", l.scale.words(), l.from),
                    l.cows.to_string(),
                    format!("of {} scored", l.of),
                    limits,
                ]);
            }
            out += &format!("\nlame cows, by their highest score as they walked in\n{table}");
        }
        let mut table = Table::new(2);
        self.course().into_iter().for_each(|row| table.row(row));
        out += &format!("\nhow it went on\n{table}");
        let (by, trend) = self.trend();
        if trend.len() > 1 {
            let mut table = Table::new(2).right(&[1, 2, 3]);
            table.row(["", "examined", "with a lesion", "%"]);
            for d in &trend {
                let share = percent(super::herd_table::percent(d.with_lesion, d.examined));
                table.row([by.name(d.date), d.examined.to_string(), d.with_lesion.to_string(), share]);
            }
            let title = if by == Trend::Visits { "visit by visit" } else { "year by year, cows of all visits" };
            out += &format!("\n{title}\n{table}");
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

    /// `22 cows seen, 21 of them examined, at 1 visit`.
    pub(super) fn about(&self) -> String {
        let visits = show::count(self.days.len(), "visit", "visits");
        format!("{} seen, {} of them examined, at {visits}", show::count(self.seen, "cow", "cows"), self.examined)
    }

    /// What became of rechecks, blocks, wraps and cases; only what there was.
    pub(super) fn course(&self) -> Vec<[String; 2]> {
        let [timely, late, never] = self.rechecks;
        let due = timely + late + never;
        let cases = self.healed + self.lost_to_sight;
        let half = median(&self.healing).map_or("not reached".to_owned(), |d| show::count(d as usize, "day", "days"));
        let mut rows = Vec::new();
        let mut row = |what: &str, n: usize, of: usize| {
            if of > 0 {
                rows.push([what.to_owned(), format!("{n} of {of}")]);
            }
        };
        row("rechecked within a week of the day", timely, due);
        row("rechecked later", late, due);
        row("not rechecked", never, due);
        row("blocks lost", self.blocks.1, self.blocks.0);
        row("wraps lost", self.wraps.1, self.wraps.0);
        row("cases seen healed", self.healed, cases);
        row("cases not seen healed, up to the last look at her", self.lost_to_sight, cases);
        if cases > 0 {
            rows.push(["half of the cases healed after (Kaplan-Meier)".to_owned(), half]);
        }
        rows
    }
}
