//! One cow's record at a glance: she first, then foot by foot what is wrong and what was done.

use unicode_width::UnicodeWidthStr;

use super::deeds;
use super::lines::{WIDTH, hang};
use crate::anatomy::Foot;
use crate::entry::Entry;

/// Width of the column on the left, indent included.
const LABEL: usize = 15;

/// The entry in the trade's words; `mark` (where it comes from, or its id) stands at the right of the first line.
pub fn entry(entry: &Entry, mark: &str) -> String {
    let cow = entry.cow.as_ref().map_or("cow not known".to_owned(), |c| format!("cow {c}"));
    let gap = WIDTH.saturating_sub(cow.width() + mark.width()).max(2);
    let mut out = if mark.is_empty() { format!("{cow}\n") } else { format!("{cow}{}{mark}\n", " ".repeat(gap)) };
    let mut line = |label: &str, text: &str| {
        // "sole thickness" is wider than the column.
        let width = (LABEL - 2).max(label.len() + usize::from(!label.is_empty()));
        out.push_str(&hang(&format!("  {label:<width$}"), text));
    };
    let feet = [Some(Foot::LF), Some(Foot::RF), Some(Foot::LH), Some(Foot::RH), None];
    for foot in feet {
        let label = foot.map_or("foot not known", Foot::words);
        let mut label = if label.len() < LABEL - 2 { label } else { "which foot" };
        let mut say = |text: &str| {
            line(label, text);
            label = "";
        };
        for f in entry.findings.iter().filter(|f| f.foot == foot) {
            say(&deeds::finding(f));
        }
        let done: Vec<String> = actions(entry, foot);
        if !done.is_empty() {
            let whole =
                foot.is_none() && entry.actions.iter().filter(|a| a.foot.is_none()).all(|a| WHOLE.contains(&a.what));
            if whole {
                label = "whole cow";
                line(label, &done.join("; "));
            } else {
                say(&done.join("; "));
            }
        }
    }
    if entry.clear.len() == 4 {
        line("all four", "clean");
    } else if !entry.clear.is_empty() {
        let feet: Vec<&str> = entry.clear.iter().map(|f| f.words()).collect();
        line("clean", &feet.join(", "));
    }
    for s in &entry.scores {
        line(s.scale.words(), &deeds::score(s));
    }
    for m in &entry.measures {
        line(m.what.words(), &deeds::measure(m));
    }
    for d in &entry.due {
        line("due", &deeds::due(d));
    }
    for r in &entry.remarks {
        line("remark", r);
    }
    out
}

/// What is done to the whole cow.
const WHOLE: [crate::entry::Act; 2] = [crate::entry::Act::Trim, crate::entry::Act::Vet];

fn actions(entry: &Entry, foot: Option<Foot>) -> Vec<String> {
    entry
        .actions
        .iter()
        .enumerate()
        .filter(|(_, a)| a.foot == foot)
        .map(|(i, a)| deeds::action(a, entry.assumed.contains(&format!("actions[{i}].claw"))))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::entry::{Measure, MeasureKind};

    #[test]
    fn the_widest_label_keeps_its_distance() {
        let what = MeasureKind::SoleThickness;
        let thin = Measure { what, value: 5.0, unit: "mm".to_owned(), foot: Some(Foot::LF), claw: None, at: None };
        let shown = entry(&Entry { measures: vec![thin], ..Entry::default() }, "");
        assert_eq!(shown.lines().last(), Some("  sole thickness 5 mm, left front"));
    }
}
