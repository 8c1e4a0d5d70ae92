//! The herd report as one HTML file with its charts: no scripts, nothing fetched, black on white, for A4 or Letter.

use std::fmt::Write;

use super::care::CARE;
use super::charts;
use super::herd::{Herd, Trend};
use super::herd_table;
use super::html::{self, escape};
use super::material::LeftOut;
use super::wilson;
use crate::show;

/// The page of each farm, with what its title says it is about: ` at Juniper Flat since thu 1 jan 2026`.
pub fn page(herds: &[(String, Herd)], left: &LeftOut) -> String {
    let title = match herds {
        [(about, _)] => format!("the herd{about}"),
        _ => "the herds".to_owned(),
    };
    let mut out = html::head(&title);
    for (about, herd) in herds {
        one(&mut out, about, herd);
    }
    out += "<footer>\n";
    for line in CARE.iter().map(|c| (*c).to_owned()).chain(left.words()) {
        let _ = writeln!(out, "<p>{}</p>", escape(&line));
    }
    out + "</footer>\n</body>\n</html>\n"
}

fn one(out: &mut String, about: &str, herd: &Herd) {
    let number = |x: Option<f64>| x.map_or(String::new(), |x| format!("{x:.1}"));
    let _ = writeln!(out, "<h1>The herd{}</h1>\n<p>{}</p>", escape(about), herd.about());
    let _ = writeln!(out, "<h2>Cows with it, of {} examined</h2>", show::count(herd.examined, "cow", "cows"));
    let rows = herd.shares.iter().map(|s| {
        vec![
            s.what.clone(),
            s.cows.to_string(),
            number(s.percent),
            format!("{}\u{2013}{}", number(s.low), number(s.high)),
            s.new.to_string(),
            s.repeats.to_string(),
            s.published.unwrap_or_default().to_owned(),
        ]
    });
    let head = ["", "cows", "%", "95 % limits", "new", "repeats", "published, % of cows at whole-herd trims"];
    html::table(out, &head, rows, 1..6);
    if herd.shares.iter().any(|s| s.published.is_some()) {
        let _ = writeln!(out, "<p>{}</p>", super::herd::OVERSTATE);
    }
    if let Some(chart) = charts::shares(herd) {
        let _ = writeln!(out, "<figure>\n{chart}</figure>");
    }
    if !herd.lame.is_empty() {
        *out += "<h2>Lame cows, by their highest score as they walked in</h2>\n";
        let rows = herd.lame.iter().map(|l| {
            let share = number(herd_table::percent(l.cows, l.of));
            let limits = wilson::limits(l.cows, l.of).map_or(String::new(), |(low, high)| {
                format!("{}\u{2013}{}", number(Some(100.0 * low)), number(Some(100.0 * high)))
            });
            let cows = format!("{} of {} scored", l.cows, l.of);
            vec![format!("{} {} or more", l.scale.words(), l.from), cows, share, limits]
        });
        html::table(out, &["", "cows", "%", "95 % limits"], rows, 2..4);
    }
    let (by, days) = herd.trend();
    if days.len() > 1 {
        let title = if by == Trend::Visits { "Visit by visit" } else { "Year by year, cows of all visits" };
        let _ = writeln!(out, "<h2>{title}</h2>");
        if let Some(chart) = charts::trend(by, &days) {
            let _ = writeln!(out, "<figure>\n{chart}</figure>");
        }
        let rows = days.iter().map(|d| {
            let share = number(herd_table::percent(d.with_lesion, d.examined));
            vec![by.name(d.date), d.examined.to_string(), d.with_lesion.to_string(), share]
        });
        html::table(out, &["", "examined", "with a lesion", "%"], rows, 1..4);
    }
    *out += "<div class=\"two\">\n<section>\n<h2>How it went on</h2>\n";
    html::table(out, &["", ""], herd.course().into_iter().map(Vec::from), 1..2);
    if !herd.back.is_empty() {
        let told: Vec<String> = herd.back.iter().take(10).map(|(cow, n)| format!("{cow} ({n})")).collect();
        let _ = writeln!(out, "<h2>Cows with most cases</h2>\n<p>{}</p>", escape(&told.join(", ")));
    }
    *out += "</section>\n";
    if !herd.map.is_empty() {
        *out += "<section class=\"map\">\n<h2>Findings by place</h2>\n";
        *out += &herd.map.svg("findings of the period, by foot, claw and zone");
        *out += "</section>\n";
    }
    *out += "</div>\n";
    if let Some(chart) = charts::healing(&herd.healing) {
        let _ = writeln!(out, "<h2>Cases still open after so many days</h2>\n<figure>\n{chart}</figure>");
    }
    if herd.uncertain > 0 {
        let told = show::count(herd.uncertain, "finding that was not certain", "findings that were not certain");
        let _ = writeln!(out, "<p>in no figure: {told}</p>");
    }
}
