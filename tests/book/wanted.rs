//! What a line wants: the notation of meanings, brought to one order so that it can be compared as text.

use chrono::{Days, NaiveDate};
use chutescribe::anatomy::Foot;
use chutescribe::disorder::Disorder;

const COURSES: &[&str] = &["healed", "healing", "open", "worse"];
const ACTS: &[&str] = &["trim", "pare", "drain", "block", "unblock", "wrap", "unwrap", "topical", "vet"];

/// The right-hand side of a line.
#[derive(Debug)]
pub(crate) struct Wanted {
    /// What each cow's entry holds; `None` where the line only says what is asked.
    pub(crate) cows: Option<Vec<Vec<String>>>,
    /// Fields that must be asked, by path or by last name.
    pub(crate) asks: Vec<String>,
}

impl Wanted {
    pub(crate) fn parse(meaning: &str, visit: NaiveDate) -> Result<Self, String> {
        let mut asks = Vec::new();
        let mut cows = Vec::new();
        for part in meaning.split("||") {
            let mut items = Vec::new();
            for item in part.split('|').map(str::trim) {
                if let Some(field) = item.strip_prefix("? ").or_else(|| item.strip_prefix("ask ")) {
                    asks.push(field.trim().to_owned());
                } else if let Some(rest) = item.strip_prefix('!') {
                    if !rest.trim().is_empty() {
                        items.push(one(rest.trim(), visit)?);
                    }
                } else {
                    items.push(one(item, visit)?);
                }
            }
            cows.push(items);
        }
        let only_asks = !asks.is_empty() && cows.iter().all(Vec::is_empty);
        Ok(Self { cows: (!only_asks).then_some(cows), asks })
    }
}

/// One item, in the order in which [`crate::got`] writes it.
fn one(item: &str, visit: NaiveDate) -> Result<String, String> {
    let words: Vec<&str> = item.split_whitespace().collect();
    let Some((head, rest)) = words.split_first() else {
        return Err("an empty item".into());
    };
    match *head {
        "remark" => Ok(format!("remark {}", rest.join(" "))),
        "clear" => clear(rest),
        "loco" | "mob" | "toe" | "sole" | "heel" | "angle" => Ok(words.join(" ")),
        "recheck" | "blockoff" | "wrapoff" => due(head, rest, visit),
        act if ACTS.contains(&act) => Ok(words.join(" ")),
        cow if cow.starts_with("cow=") => Ok(cow.to_owned()),
        foot if foot == "_" || Foot::from_code(foot).is_some() => finding(foot, rest),
        other => Err(format!("`{other}` is no item")),
    }
}

fn clear(feet: &[&str]) -> Result<String, String> {
    match feet {
        ["all"] => Ok("clear LF,RF,LH,RH".into()),
        [some] if some.split(',').all(|f| Foot::from_code(f).is_some()) => Ok(format!("clear {some}")),
        _ => Err("which feet are clear?".into()),
    }
}

fn due(what: &str, rest: &[&str], visit: NaiveDate) -> Result<String, String> {
    let (when, more) = rest.split_first().ok_or("when is it due?")?;
    let mut text = match when.strip_prefix('+') {
        Some(days) => {
            let days = days.parse().map_err(|_| format!("`{when}` is no number of days"))?;
            format!("{what} {}", visit + Days::new(days))
        }
        None if *when == "_" || when.parse::<NaiveDate>().is_ok() => format!("{what} {when}"),
        None => return Err(format!("`{when}` is no date")),
    };
    for word in more {
        text = format!("{text} {word}");
    }
    Ok(text)
}

fn finding(foot: &str, rest: &[&str]) -> Result<String, String> {
    let mut rest = rest.iter().copied().peekable();
    let mut out = vec![foot.to_owned()];
    out.extend(rest.next_if(|w| matches!(*w, "outer" | "inner")).map(str::to_owned));
    let code = rest.next().ok_or("a finding without its code")?;
    if code != "_" && Disorder::from_code(code).is_none() {
        return Err(format!("`{code}` is no disorder"));
    }
    out.push(code.to_owned());
    // In one order: zones, severity, stage, course, maybe.
    let mut places: [Option<&str>; 5] = [None; 5];
    for word in rest {
        let zones = word.strip_prefix('z').is_some_and(|z| z.split(',').all(|n| n.parse::<u8>().is_ok()));
        let at = match word {
            _ if zones => 0,
            "s1" | "s2" | "s3" => 1,
            "M0" | "M1" | "M2" | "M3" | "M4" | "M4.1" => 2,
            _ if COURSES.contains(&word) => 3,
            "maybe" => 4,
            _ => return Err(format!("`{word}` says nothing of a finding")),
        };
        places[at] = Some(word);
    }
    out.extend(places.into_iter().flatten().map(str::to_owned));
    Ok(out.join(" "))
}
