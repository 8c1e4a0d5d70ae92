//! What is due, laid out for people: overdue first, then by day, farm by farm.

use chrono::NaiveDate;

use super::due::{DueList, Item};
use super::table::Table;
use crate::show;
use crate::show::lines::hang;

/// The list as seen on `today`.
pub fn due_text(list: &DueList, today: NaiveDate) -> String {
    let mut out = String::new();
    let (late, come): (Vec<&Item>, Vec<&Item>) = list.items.iter().partition(|i| i.until < today);
    for (head, items) in [("overdue", late), ("due", come)] {
        let mut farms: Vec<&Option<String>> = items.iter().map(|i| &i.farm).collect();
        farms.sort();
        farms.dedup();
        for farm in farms {
            let at = farm.as_ref().map_or(String::new(), |f| format!(" at {f}"));
            out += &format!("{head}{at}\n");
            let mut table = Table::new(2);
            table.row(["day", "cow", "where", "what", ""]);
            for i in items.iter().filter(|i| i.farm == *farm) {
                table.row([show::day(i.on), i.cow.clone(), i.place(), i.what.words().to_owned(), i.about()]);
            }
            out += &format!("{table}\n");
        }
    }
    if !list.silent.is_empty() {
        // What is long past is of no use for this visit; `cow` shows it.
        let recent = |i: &&Item| i.since + chrono::Duration::days(100) >= today;
        let old = list.silent.iter().filter(|i| !recent(i)).count();
        let told = list.silent.iter().filter(recent).map(|i| {
            let off = if i.what == super::due::What::BlockOff { "block" } else { "wrap" };
            format!("{off} of cow {}, {}, {}", i.cow, i.place(), show::day(i.since))
        });
        let mut told: Vec<String> = told.collect();
        if old > 0 {
            let more = show::count(old, "block or wrap", "blocks and wraps");
            told.push(format!("{more} put on more than 100 days ago"));
        }
        let text = format!("taken as off, since the foot was clean or healed later: {}", told.join("; "));
        out += &hang("", &text);
    }
    out
}
