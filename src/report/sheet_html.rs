//! The farmer's sheet as one HTML file: no scripts, nothing fetched, black on white, for A4 or Letter.

use std::fmt::Write;

use super::care::CARE;
use super::html::{self, escape};
use super::sheet::{BY_RULE, Sheet};

impl Sheet {
    pub fn html(&self) -> String {
        let title = escape(&self.title);
        let mut out = html::head(&self.title);
        let _ = writeln!(out, "<h1>{title}</h1>");
        if !self.trimmers.is_empty() {
            let _ = writeln!(out, "<p>trimmed by {}</p>", escape(&self.trimmers.join(", ")));
        }
        if !self.vet.is_empty() {
            out += "<section class=\"vet\">\n<h2>For the veterinarian</h2>\n";
            html::table(&mut out, &["cow", "where", "why"], rows(&self.vet), 0..0);
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
            html::table(&mut out, &["day", "what", "who", "cows"], rows(&self.due), 0..0);
            let _ = writeln!(out, "<p>{BY_RULE}</p>");
        }
        if !self.cows.is_empty() {
            out += "<h2>Cow by cow</h2>\n";
            out += "<div class=\"cows\">\n";
            html::table(&mut out, &["cow", "where", "found and done"], rows(&self.cows), 0..0);
            out += "</div>\n";
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

fn rows<const N: usize>(rows: &[[String; N]]) -> impl Iterator<Item = Vec<String>> + '_ {
    rows.iter().map(|r| r.to_vec())
}
