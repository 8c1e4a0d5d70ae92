//! The farmer's sheet as one HTML file: no scripts, nothing fetched, black on white, for A4 or Letter.

use std::fmt::Write;

use super::care::CARE;
use super::html::escape;
use super::sheet::{BY_RULE, Sheet};

const STYLE: &str = "\
@page { margin: 12mm }
body { font: 10pt/1.3 sans-serif; color: #000; background: #fff; max-width: 190mm; margin: 0 auto; padding: 4mm }
@media print { body { padding: 0; max-width: none } }
h1 { font-size: 15pt; margin: 0 } h2 { font-size: 11pt; margin: 4mm 0 1mm; break-after: avoid }
p { margin: 1mm 0 }
table { border-collapse: collapse; width: 100% }
th, td { text-align: left; vertical-align: top; padding: 0.4mm 2mm 0.4mm 0; border-bottom: 0.2mm solid #666; overflow-wrap: anywhere }
td.n { text-align: right; width: 8mm }
tr { break-inside: avoid }
.vet { border: 0.8mm solid #000; padding: 2mm 3mm; margin-top: 3mm } .vet h2 { margin-top: 0 }
.two { display: flex; gap: 8mm; flex-wrap: wrap; align-items: flex-start } .two > * { flex: 1 1 60mm }
svg { max-width: 75mm; height: auto }
footer { margin-top: 4mm; font-size: 9pt }
";

impl Sheet {
    pub fn html(&self) -> String {
        let title = escape(&self.title);
        let mut out = format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{title}</title>\n\
             <style>\n{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n"
        );
        if !self.trimmers.is_empty() {
            let _ = writeln!(out, "<p>trimmed by {}</p>", escape(&self.trimmers.join(", ")));
        }
        if !self.vet.is_empty() {
            out += "<section class=\"vet\">\n<h2>For the veterinarian</h2>\n";
            table(&mut out, &["cow", "where", "why"], &self.vet);
            out += "</section>\n";
        }
        out += "<div class=\"two\">\n<section>\n<h2>Counts</h2>\n<table>\n";
        for (name, n) in &self.counts {
            let _ = writeln!(out, "<tr><td class=\"n\">{n}</td><td>{}</td></tr>", escape(name));
        }
        out += "</table>\n</section>\n";
        if !self.map.is_empty() {
            out += "<section>\n<h2>Findings by place</h2>\n";
            out += &self.map.svg("findings of the day, by foot and claw");
            out += "</section>\n";
        }
        out += "</div>\n";
        if !self.due.is_empty() {
            out += "<h2>Due</h2>\n";
            table(&mut out, &["day", "cow", "where", "what", "who", ""], &self.due);
            let _ = writeln!(out, "<p>{BY_RULE}</p>");
        }
        if !self.cows.is_empty() {
            out += "<h2>Cow by cow</h2>\n";
            table(&mut out, &["cow", "where", "found and done"], &self.cows);
        }
        if !self.clean.is_empty() {
            let _ = writeln!(out, "<h2>Nothing found</h2>\n<p>{}</p>", escape(&self.clean.join(", ")));
        }
        out += "<footer>\n";
        for line in CARE.iter().map(|c| (*c).to_owned()).chain(self.left.words()) {
            let _ = writeln!(out, "<p>{}</p>", escape(&line));
        }
        out + "</footer>\n</body>\n</html>\n"
    }
}

fn table<const N: usize>(out: &mut String, head: &[&str; N], rows: &[[String; N]]) {
    let cells = |tag: &str, row: Vec<String>| {
        let cells = row.iter().map(|c| format!("<{tag}>{}</{tag}>", escape(c)));
        format!("<tr>{}</tr>\n", cells.collect::<String>())
    };
    *out += "<table>\n";
    *out += &cells("th", head.iter().map(|h| (*h).to_owned()).collect());
    for row in rows {
        *out += &cells("td", row.to_vec());
    }
    *out += "</table>\n";
}
