//! What the HTML pages share: one look, for the screen and for paper, and text that is safe inside HTML and SVG.

use std::fmt::Write;
use std::ops::Range;

const STYLE: &str = "\
@page { margin: 12mm }
body { font: 10pt/1.25 sans-serif; color: #000; background: #fff; max-width: 190mm; margin: 0 auto; padding: 4mm }
@media print { body { padding: 0; max-width: none } }
h1 { font-size: 15pt; margin: 0 } h1 + p ~ h1 { break-before: page }
h2 { font-size: 11pt; margin: 3.5mm 0 1mm; break-after: avoid }
p { margin: 1mm 0 }
table { border-collapse: collapse; width: 100% }
th, td { text-align: left; vertical-align: top; padding: 0.3mm 2mm 0.3mm 0; border-bottom: 0.2mm solid #666 }
th:not(:last-child), td:not(:last-child) { white-space: nowrap }
td:last-child { overflow-wrap: anywhere }
th.r, td.r { text-align: right; padding-right: 4mm; white-space: nowrap !important }
td.n { text-align: right; width: 8mm }
tr, tbody { break-inside: avoid }
.vet { border: 0.8mm solid #000; padding: 2mm 3mm; margin-top: 3mm } .vet h2 { margin-top: 0 }
.two { display: flex; gap: 8mm; flex-wrap: wrap; align-items: flex-start } .two > * { flex: 1 1 60mm }
.two td:first-child { white-space: normal }
.cows { columns: 2 80mm; column-gap: 8mm }
section, figure { break-inside: avoid }
figure { margin: 2mm 0 }
svg { width: 100%; max-width: 80mm; height: auto } figure svg { max-width: 150mm }
footer { margin-top: 4mm; font-size: 9pt; break-inside: avoid }
";

/// Everything up to the first heading.
pub(super) fn head(title: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n\
         <style>\n{STYLE}</style>\n</head>\n<body>\n",
        escape(title)
    )
}

/// A table; the columns of `numbers` stand to the right.
pub(super) fn table(
    out: &mut String,
    head: &[&str],
    rows: impl IntoIterator<Item = Vec<String>>,
    numbers: Range<usize>,
) {
    let class = |column: usize| if numbers.contains(&column) { " class=\"r\"" } else { "" };
    *out += "<table>\n";
    if head.iter().any(|h| !h.is_empty()) {
        let cells = head.iter().enumerate().map(|(c, h)| format!("<th{}>{}</th>", class(c), escape(h)));
        let _ = writeln!(out, "<thead><tr>{}</tr></thead>", cells.collect::<String>());
    }
    *out += "<tbody>\n";
    for (n, row) in rows.into_iter().enumerate() {
        // What belongs to the row above has no first cell; it stays with it on the page.
        if n > 0 && row.first().is_some_and(|c| !c.is_empty()) {
            *out += "</tbody><tbody>\n";
        }
        let cells = row.iter().enumerate().map(|(c, t)| format!("<td{}>{}</td>", class(c), escape(t)));
        let _ = writeln!(out, "<tr>{}</tr>", cells.collect::<String>());
    }
    *out += "</tbody>\n</table>\n";
}

/// With the characters that mean something there written out.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out += "&amp;",
            '<' => out += "&lt;",
            '>' => out += "&gt;",
            '"' => out += "&quot;",
            // Control characters are not allowed there at all.
            c if c.is_control() && c != '\n' && c != '\t' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
