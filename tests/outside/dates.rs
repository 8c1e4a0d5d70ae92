//! Dates against RFC 3339: `full-date` (section 5.6), the days of a month (5.7), the day of the week
//! (appendix B) and leap years (appendix C). The rules are from memory of the RFC, written anew.

use chrono::{Datelike, NaiveDate};

use super::{day, none, read_on};

/// Appendix C.
fn leap(year: i32) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// Section 5.7, the table of the last `date-mday` of a month.
fn last_day(year: i32, month: u32) -> u32 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if leap(year) => 29,
        2 => 28,
        _ => 31,
    }
}

/// Appendix B (Zeller's congruence): 0 is Sunday.
fn day_of_week(date: NaiveDate) -> i32 {
    let (mut year, mut month) = (date.year(), date.month().cast_signed() - 2);
    if month < 1 {
        month += 12;
        year -= 1;
    }
    let (century, year) = (year / 100, year % 100);
    let day = date.day().cast_signed();
    ((26 * month - 2) / 10 + day + year + year / 4 + century / 4 + 5 * century) % 7
}

/// The `on` of the only due of a note, as it is written into the log.
fn due(note: &str, visit: NaiveDate) -> Option<String> {
    let entry = read_on(note, visit)?;
    let line = serde_json::to_value(&entry).expect("an entry is JSON");
    let list = line.get("due")?.as_array()?;
    if list.len() == 1 { Some(list[0].get("on")?.as_str()?.to_owned()) } else { None }
}

/// `full-date = date-fullyear "-" date-month "-" date-mday`, of fixed widths.
fn full_date(text: &str) -> bool {
    let shape: String = text.chars().map(|c| if c.is_ascii_digit() { '0' } else { c }).collect();
    shape == "0000-00-00" && NaiveDate::parse_from_str(text, "%Y-%m-%d").is_ok()
}

const VISITS: [(i32, u32, u32); 6] =
    [(2026, 3, 12), (2023, 12, 31), (2024, 2, 28), (2028, 1, 31), (2096, 2, 29), (2000, 2, 28)];

#[test]
fn every_due_date_is_a_full_date() {
    let mut troubles = Vec::new();
    let mut count = 0;
    for (y, m, d) in VISITS {
        let visit = day(y, m, d);
        for n in 1..=60 {
            for period in ["days", "weeks", "months"] {
                let note = format!("cow 12, recheck in {n} {period}");
                count += 1;
                match due(&note, visit) {
                    Some(on) if full_date(&on) && on > visit.to_string() => {}
                    got => troubles.push(format!("`{note}` on {visit}: {got:?}")),
                }
            }
        }
    }
    none(&troubles, count);
}

#[test]
fn the_days_of_every_month_are_known_and_no_more() {
    let mut troubles = Vec::new();
    let mut count = 0;
    for year in [2026, 2028, 2100, 2104, 2400] {
        let visit = day(year - 1, 12, 31);
        for month in 1..=12 {
            let last = last_day(year, month);
            for d in [1, last, last + 1] {
                let date = format!("{year}-{month:02}-{d:02}");
                let wanted = (d <= last).then(|| date.clone());
                count += 1;
                let got = due(&format!("cow 12, recheck {date}"), visit);
                if got != wanted {
                    troubles.push(format!("recheck {date}: wanted {wanted:?}, got {got:?}"));
                }
            }
        }
    }
    none(&troubles, count);
}

#[test]
fn leap_days_come_and_go() {
    let on = |note: &str, y, m, d| due(note, day(y, m, d)).unwrap_or_default();
    assert_eq!(on("cow 12, recheck tomorrow", 2028, 2, 28), "2028-02-29");
    assert_eq!(on("cow 12, recheck tomorrow", 2027, 2, 28), "2027-03-01");
    assert_eq!(on("cow 12, recheck tomorrow", 2000, 2, 28), "2000-02-29");
    assert_eq!(on("cow 12, recheck tomorrow", 2100, 2, 28), "2100-03-01");
    assert_eq!(on("cow 12, recheck in one month", 2028, 1, 31), "2028-02-29");
    assert_eq!(on("cow 12, recheck in one month", 2027, 1, 31), "2027-02-28");
    assert_eq!(on("cow 12, recheck in twelve months", 2028, 2, 29), "2029-02-28");
}

/// The 29th of February is a date only in a leap year: said in any other, it is the next one there is.
#[test]
fn a_leap_day_is_never_moved() {
    let got = due("cow 12, recheck February 29", day(2026, 3, 12));
    assert!(got.is_none() || got.as_deref() == Some("2028-02-29"), "{got:?}");
}

#[test]
fn weekdays_are_the_next_ones_by_the_calendar() {
    const NAMES: [&str; 7] = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"];
    let mut troubles = Vec::new();
    for start in VISITS.map(|(y, m, d)| day(y, m, d)) {
        for visit in start.iter_days().take(7) {
            for (number, name) in (0..).zip(NAMES) {
                let on = due(&format!("cow 12, recheck {name}"), visit).unwrap_or_default();
                let right = on.parse().is_ok_and(|date: NaiveDate| {
                    day_of_week(date) == number && (1..=7).contains(&(date - visit).num_days())
                });
                if !right {
                    troubles.push(format!("{name} on {visit}: {on:?}"));
                }
            }
        }
    }
    none(&troubles, VISITS.len() * 49);
}
