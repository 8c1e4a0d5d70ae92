//! The farmer's sheet as text.

use super::care::CARE;
use super::sheet::{BY_RULE, Sheet};
use super::table::Table;
use crate::show::lines::{WIDTH, hang};

impl Sheet {
    /// 80 columns; the cows for the vet in a box at the top.
    pub fn text(&self) -> String {
        let mut out = format!("{}\n", self.title);
        if !self.trimmers.is_empty() {
            out += &format!("trimmed by {}\n", self.trimmers.join(", "));
        }
        if !self.vet.is_empty() {
            let rule = "=".repeat(WIDTH);
            let mut table = Table::new(2);
            self.vet.iter().for_each(|row| table.row(row.clone()));
            out += &format!("\n{rule}\nfor the veterinarian\n{table}{rule}\n");
        }
        let mut counts = Table::new(2).right(&[0]);
        self.counts.iter().for_each(|(name, n)| counts.row([n.to_string(), name.clone()]));
        out += &format!("\ncounts\n{counts}");
        if !self.cows.is_empty() {
            let mut table = Table::new(2);
            self.cows.iter().for_each(|row| table.row(row.clone()));
            out += &format!("\ncow by cow\n{table}");
        }
        if !self.clean.is_empty() {
            out += &format!("\nnothing found\n{}", hang("  ", &self.clean.join(", ")));
        }
        if !self.due.is_empty() {
            out += "\ndue\n";
            for [day, what, who, cows] in &self.due {
                out += &hang("  ", &format!("{day}: {what} ({who})"));
                out += &hang("      ", cows);
            }
            out += &format!("  {BY_RULE}\n");
        }
        if !self.map.is_empty() {
            out += &format!("\nfindings by place\n{}", self.map.text());
        }
        out.push('\n');
        for care in CARE {
            out += &hang("", care);
        }
        if let Some(left) = self.left.words() {
            out += &hang("", &left);
        }
        out
    }
}
