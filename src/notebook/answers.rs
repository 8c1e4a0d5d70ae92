//! What is asked once for a whole file, and the small text file in which it can be answered.
//!
//! A line is `name = value`; `#` begins a comment. An empty value leaves the question open.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::calendar::NO_VISIT;
use super::order::{Decision, Order};
use super::scan::{Given, GivenDay, Plan, Scan};
use crate::show;

/// A question about a whole file, or about a heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Its name in an answers file: `dates`, `word XY`, `line 12 date`.
    pub name: String,
    pub text: String,
    /// Lines it stands in.
    pub lines: Vec<(usize, String)>,
    /// Values it can have, as they are typed, with what they mean; none where it is free.
    pub options: Vec<(String, String)>,
}

/// The questions that are still open, by kind: the order of dates, headings, shorthand.
pub fn questions(scan: &Scan, plan: &Plan, given: &Given) -> Vec<Question> {
    let mut out = Vec::new();
    let orders = || {
        vec![
            ("day first".to_owned(), "6/5 is the 6th of May".to_owned()),
            ("month first".to_owned(), "6/5 is the 5th of June".to_owned()),
        ]
    };
    if plan.order.is_none() {
        match scan.order() {
            Decision::Open(lines, count) => out.push(Question {
                name: "dates".to_owned(),
                text: format!("day first or month first? nothing tells in {}", show::count(count, "heading", "headings")),
                lines: lines.iter().filter_map(|l| Some((*l, plan.days.get(l)?.1.clone()))).take(5).collect(),
                options: orders(),
            }),
            Decision::Contradictory { day_first, month_first, open } if !open.is_empty() => out.push(Question {
                name: "dates".to_owned(),
                text: format!(
                    "day first or month first? line {day_first} can only be day first, line {month_first} only month first"
                ),
                lines: [day_first, month_first].iter().chain(&open).filter_map(|l| Some((*l, plan.days.get(l)?.1.clone()))).take(6).collect(),
                options: orders(),
            }),
            _ => {}
        }
    }
    if let Some((line, count)) = scan.early().filter(|_| given.date.is_none()) {
        let text = format!(
            "{} before any heading, from line {line} on: which day?",
            show::count(count, "note stands", "notes stand")
        );
        out.push(Question { name: "first date".to_owned(), text, lines: vec![], options: vec![] });
    }
    let by_order = plan.order.is_none() && out.first().is_some_and(|q| q.name == "dates");
    for (line, day, text) in plan.doubtful() {
        for flag in day.flags.iter().filter(|f| f.asks()) {
            // Answered together with the order.
            if by_order && flag.message.starts_with("day first or month first?") {
                continue;
            }
            // Asked once for the name.
            if flag.field == "farm" && plan.names.values().any(|n| n.lines.iter().any(|l| l.0 == line)) {
                continue;
            }
            let options = flag.options.iter().filter_map(|o| o.as_str()).map(|o| {
                let label = o.parse().map_or_else(|_| o.to_owned(), show::day);
                (o.to_owned(), label)
            });
            out.push(Question {
                name: format!("line {line} {}", flag.field),
                text: flag.message.clone(),
                lines: vec![(line, text.to_owned())],
                options: options.collect(),
            });
        }
    }
    for (name, other) in &plan.names {
        let same = |farm: &str| (farm.to_owned(), farm.to_owned());
        out.push(Question {
            name: format!("farm {name}"),
            text: format!(
                "is `{name}` the farm `{}`? it stands in {}",
                other.like,
                show::count(other.lines.len(), "heading", "headings")
            ),
            lines: other.lines.iter().take(5).cloned().collect(),
            options: vec![same(&other.like), same(name)],
        });
    }
    for unknown in scan.unknown_words() {
        let word = &unknown.word;
        let count = show::count(unknown.count, "time", "times");
        out.push(Question {
            name: format!("word {word}"),
            text: format!("what is `{word}`? it stands here {count}"),
            lines: unknown.lines.clone(),
            options: vec![],
        });
    }
    out
}

/// Takes in an answer.
///
/// # Errors
/// Says what would fit.
pub fn answer(given: &mut Given, name: &str, value: &str) -> Result<(), String> {
    let value = value.trim();
    let date = || {
        value
            .parse::<NaiveDate>()
            .map_err(|_| format!("`{value}` is no day; write it as 2018-06-05 (year, month, day)"))
    };
    let words: Vec<&str> = name.split_whitespace().collect();
    match words.as_slice() {
        ["dates"] => {
            given.order = Some(match value {
                "day first" | "day" | "d" => Order::DayFirst,
                "month first" | "month" | "m" => Order::MonthFirst,
                _ => return Err(format!("`{value}` is neither `day first` nor `month first`")),
            });
        }
        ["first", "date"] => given.date = Some(date()?),
        ["first", "farm"] => given.farm = Some(value.to_owned()),
        ["word", word] => {
            let meant = if value == "-" { String::new() } else { value.to_owned() };
            given.words.insert((*word).to_owned(), meant);
        }
        ["farm", ..] => {
            let other = name.trim_start_matches("farm").trim().to_owned();
            given.farms.insert(other, value.to_owned());
        }
        ["line", line, "date" | "farm"] if value == NO_VISIT => {
            let line: usize = line.parse().map_err(|_| format!("`{line}` is no line"))?;
            given.days.entry(line).or_default().no_visit = true;
        }
        ["line", line, field] => {
            let line: usize = line.parse().map_err(|_| format!("`{line}` is no line"))?;
            let date = if *field == "date" { Some(date()?) } else { None };
            let day: &mut GivenDay = given.days.entry(line).or_default();
            match *field {
                "date" => day.date = date,
                "farm" => day.farm = Some(value.to_owned()),
                _ => return Err(format!("`{field}` is neither `date` nor `farm`")),
            }
        }
        _ => return Err(format!("`{name}` is no question of this file")),
    }
    Ok(())
}

/// Reads an answers file; what cannot be used is told with its line.
pub fn read(text: &str) -> (Given, Vec<(usize, String)>) {
    let (mut given, mut bad) = (Given::default(), vec![]);
    for (n, line) in text.lines().enumerate() {
        let line = line.trim().trim_start_matches('\u{feff}');
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        let Some((name, value)) = line.split_once('=') else {
            bad.push((n + 1, format!("`{line}` is no answer; write `name = value`")));
            continue;
        };
        if !value.trim().is_empty()
            && let Err(why) = answer(&mut given, name.trim(), value)
        {
            bad.push((n + 1, why));
        }
    }
    (given, bad)
}

/// An answers file with what was answered, and the open questions.
pub fn write(file: &str, given: &Given, open: &[Question]) -> String {
    let mut out = format!("# Answers for {file}. Write what is right after `=`; `-` after a word means nothing.\n");
    let mut put = |name: &str, value: &str| out.push_str(&format!("{name} = {value}\n"));
    if let Some(order) = given.order {
        put("dates", order.words());
    }
    if let Some(date) = given.date {
        put("first date", &date.to_string());
    }
    if let Some(farm) = &given.farm {
        put("first farm", farm);
    }
    for (line, day) in &given.days {
        if let Some(date) = day.date {
            put(&format!("line {line} date"), &date.to_string());
        }
        if let Some(farm) = &day.farm {
            put(&format!("line {line} farm"), farm);
        }
        if day.no_visit {
            put(&format!("line {line} date"), NO_VISIT);
        }
    }
    for (name, farm) in &given.farms {
        put(&format!("farm {name}"), farm);
    }
    for (word, meant) in &given.words {
        put(&format!("word {word}"), if meant.is_empty() { "-" } else { meant });
    }
    for q in open {
        out.push_str(&format!("\n# {}\n", q.text));
        for (line, text) in &q.lines {
            out.push_str(&format!("#   {line}: {text}\n"));
        }
        for (value, label) in &q.options {
            out.push_str(&if value == label {
                format!("#   `{value}`\n")
            } else {
                format!("#   `{value}`: {label}\n")
            });
        }
        out.push_str(&format!("{} =\n", q.name));
    }
    out
}

/// Lays what `over` has over `under`.
#[must_use]
pub fn merged(under: Given, over: Given) -> Given {
    let mut days: BTreeMap<usize, GivenDay> = under.days;
    for (line, day) in over.days {
        let there = days.entry(line).or_default();
        there.date = day.date.or(there.date);
        there.farm = day.farm.or(there.farm.take());
        there.no_visit |= day.no_visit;
    }
    let mut words = under.words;
    words.extend(over.words);
    let mut farms = under.farms;
    farms.extend(over.farms);
    Given {
        order: over.order.or(under.order),
        date: over.date.or(under.date),
        farm: over.farm.or(under.farm),
        days,
        words,
        farms,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_back() {
        let mut given = Given::default();
        for (name, value) in [
            ("dates", "day first"),
            ("word XY", "wrap"),
            ("word QQ", "-"),
            ("farm Oak Lane Farm", "Oak Lane"),
            ("line 14 farm", "no visit"),
            ("line 12 date", "2018-06-05"),
            ("line 12 farm", "Oak Lane"),
            ("first date", "2018-01-02"),
        ] {
            answer(&mut given, name, value).unwrap();
        }
        let open = Question {
            name: "line 30 date".to_owned(),
            text: "which day?".to_owned(),
            lines: vec![(30, "31 June".to_owned())],
            options: vec![],
        };
        let (back, bad) = read(&write("old.txt", &given, &[open]));
        assert_eq!((back, bad), (given, vec![]));
    }

    #[test]
    fn what_does_not_fit_is_told_with_its_line() {
        let (_, bad) = read("# x\ndates = maybe\nline 3 date = 6/5\nnonsense\n");
        assert_eq!(bad.iter().map(|b| b.0).collect::<Vec<_>>(), [2, 3, 4]);
    }
}
