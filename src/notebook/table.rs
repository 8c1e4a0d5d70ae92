//! Tables: CSV, TSV or a pasted spreadsheet, with columns guessed by their names and by what stands in them.

use std::collections::HashMap;
use std::fmt;

use chrono::NaiveDate;

use super::date::{self, Written};
use super::ditto;
use super::heading::{self, Heading, Standing};
use super::prepare::{Is, Looker, Prepared};
use super::quoted::{Joiner, cells};
use super::roles::Roles;
use super::text::Line;

/// Lines at the start that are looked at.
pub const LOOK: usize = 50;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Holds {
    Cow,
    Date,
    Farm,
    Foot,
    Claw,
    Zone,
    Finding,
    Done,
    Score,
    Note,
}

const NAMES: &[(Holds, &str, &[&str])] = &[
    (
        Holds::Cow,
        "cow",
        &[
            "cow",
            "tag",
            "ear tag",
            "animal",
            "cow no",
            "cow number",
            "cow id",
            "tag no",
            "tag number",
            "animal id",
            "animal no",
            "id",
            "number",
            "no",
            "beast",
        ],
    ),
    (Holds::Date, "date", &["date", "day", "visit", "visit date", "trim date", "trimmed on", "when"]),
    (Holds::Farm, "farm", &["farm", "place", "herd", "client", "customer", "owner", "site", "dairy"]),
    (Holds::Foot, "foot", &["foot", "leg", "limb", "hoof", "feet"]),
    (Holds::Claw, "claw", &["claw", "side", "digit", "toe"]),
    (Holds::Zone, "zone", &["zone", "zones", "area"]),
    (
        Holds::Finding,
        "finding",
        &["finding", "findings", "lesion", "lesions", "problem", "disorder", "diagnosis", "what", "condition", "issue"],
    ),
    (Holds::Done, "done", &["done", "treatment", "action", "actions", "treated", "what done", "work", "applied"]),
    (
        Holds::Score,
        "score",
        &["score", "loco", "locomotion", "locomotion score", "lameness score", "mobility", "mobility score"],
    ),
    (
        Holds::Note,
        "note",
        &["note", "notes", "remark", "remarks", "comment", "comments", "text", "details", "description"],
    ),
];

/// How a table is read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Columns {
    separator: u8,
    /// Names as the first row has them.
    names: Vec<String>,
    /// Which columns hold what, in the order in which a note is put together.
    holds: Vec<(Holds, usize)>,
    named: bool,
}

impl Columns {
    /// The columns of a table that begins with these lines; `None` where it is none.
    ///
    /// # Errors
    /// Where `wanted` cannot be understood, or no column has the cows.
    pub fn guess(head: &[String], wanted: Option<&str>) -> Result<Option<Self>, String> {
        let Some((separator, rows)) = split(head) else {
            return if wanted.is_some() {
                Err("this is no table: its lines have no common columns".to_owned())
            } else {
                Ok(None)
            };
        };
        let names = rows[0].clone();
        let known = |cell: &str| NAMES.iter().find(|n| n.2.contains(&plain(cell).as_str())).map(|n| n.0);
        let named = rows[0].iter().filter(|c| known(c).is_some()).count() > 0
            && rows[0].iter().filter(|c| c.chars().any(|c| c.is_ascii_digit())).count() == 0;
        let mut holds: Vec<(Holds, usize)> = Vec::new();
        if let Some(wanted) = wanted {
            holds = self::wanted(wanted, &names)?;
        } else {
            let by_name: Vec<Option<Holds>> = names.iter().map(|name| known(name).filter(|_| named)).collect();
            let said = by_name.iter().any(|is| matches!(is, Some(Holds::Note | Holds::Finding)));
            holds.extend(by_name.iter().enumerate().filter_map(|(i, is)| is.map(|is| (is, i))));
            for i in (0..names.len()).filter(|i| by_name[*i].is_none()) {
                let body: Vec<&str> = rows
                    .iter()
                    .skip(usize::from(named))
                    .filter_map(|r| r.get(i))
                    .map(String::as_str)
                    .filter(|c| !c.is_empty())
                    .collect();
                // What has a name of its own beside one for notes is a breed, a pen.
                let is = content(&body, &holds).filter(|is| *is != Holds::Note || !(named && said));
                holds.extend(is.map(|is| (is, i)));
            }
            // Lines of a notebook have commas too.
            if !named && !holds.iter().any(|h| h.0 == Holds::Cow) {
                return Ok(None);
            }
        }
        if !holds.iter().any(|h| h.0 == Holds::Cow) && !holds.iter().any(|h| h.0 == Holds::Note) {
            let names: Vec<String> = names.iter().enumerate().map(|(i, n)| format!("{} `{n}`", i + 1)).collect();
            return Err(format!(
                "a table, and no column is known to have the cows; name it, such as `--columns cow=2`; there are {}",
                names.join(", ")
            ));
        }
        holds.sort_by_key(|h| h.0);
        Ok(Some(Self { separator, names, holds, named }))
    }

    /// A heading or an errand between the rows of a table without names: where the cow should be, there is none.
    fn is_between(&self, text: &str, cells: &[String]) -> bool {
        let has = |is: Holds| self.holds.iter().any(|h| h.0 == is);
        let cow = self.holds.iter().find(|h| h.0 == Holds::Cow).and_then(|h| cells.get(h.1));
        let no_cow = cow.is_none_or(|c| !c.bytes().any(|b| b.is_ascii_digit()) && !ditto::is_mark(c));
        has(Holds::Cow)
            && (no_cow
                || (!has(Holds::Date)
                    && heading::heading(text, Roles::default).is_some_and(|h| h.standing == Standing::Sure)))
    }

    /// A reader of its rows.
    pub fn rows(&self) -> Rows<'_> {
        Rows {
            columns: self,
            joiner: Joiner::new(self.separator, Some(self.names.len())),
            first: true,
            visit: None,
            above: vec![],
        }
    }
}

impl fmt::Display for Columns {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let name = |is: Holds| NAMES.iter().find(|n| n.0 == is).map_or("", |n| n.1);
        let told: Vec<String> = self
            .holds
            .iter()
            .map(|(is, i)| {
                let column = if self.named {
                    format!("{} `{}`", i + 1, self.names.get(*i).map_or("", String::as_str))
                } else {
                    (i + 1).to_string()
                };
                format!("{} is column {column}", name(*is))
            })
            .collect();
        let left: Vec<String> = (0..self.names.len())
            .filter(|i| self.holds.iter().all(|h| h.1 != *i))
            .map(|i| (i + 1).to_string())
            .collect();
        f.write_str(&told.join(", "))?;
        if !left.is_empty() {
            write!(f, "; not read: column {}", left.join(", "))?;
        }
        Ok(())
    }
}

/// Takes the rows of a table apart.
#[derive(Debug)]
pub struct Rows<'a> {
    columns: &'a Columns,
    joiner: Joiner,
    first: bool,
    visit: Option<(String, String)>,
    /// The cells of the row before, for ditto marks.
    above: Vec<String>,
}

/// A line to be looked at, or one that a row of a table came to.
#[derive(Debug)]
pub enum Row {
    Line(Line),
    Ready(Prepared),
}

impl Row {
    /// What kind of line it is.
    pub fn look(self, looker: &Looker) -> Prepared {
        match self {
            Self::Line(line) => looker.look(line),
            Self::Ready(prepared) => prepared,
        }
    }
}

impl Rows<'_> {
    /// The rows that are whole with this line. A row comes as lines: a heading where the day or the farm is another
    /// one, and the note.
    pub fn take(&mut self, line: Line) -> Vec<Row> {
        let rows = self.joiner.take(line);
        rows.into_iter().flat_map(|row| self.row(row)).collect()
    }

    /// What is left after the last line.
    pub fn end(&mut self) -> Vec<Row> {
        let rows = self.joiner.end();
        rows.into_iter().flat_map(|row| self.row(row)).collect()
    }

    fn row(&mut self, line: Line) -> Vec<Row> {
        let Ok(text) = &line.text else { return vec![Row::Line(line)] };
        let names = self.columns.named && std::mem::take(&mut self.first);
        if names || text.trim().is_empty() {
            return vec![Row::Line(Line { text: Ok(String::new()), ..line })];
        }
        let mut cells = cells(text, self.columns.separator);
        if !self.columns.named && self.columns.is_between(text, &cells) {
            return vec![Row::Line(line)];
        }
        for (cell, above) in cells.iter_mut().zip(&self.above) {
            if ditto::is_mark(cell) {
                cell.clone_from(above);
            }
        }
        self.above.clone_from(&cells);
        let all = |is: Holds| -> Vec<&str> {
            self.columns
                .holds
                .iter()
                .filter(|h| h.0 == is)
                .filter_map(|h| cells.get(h.1))
                .map(|c| c.trim())
                .filter(|c| !c.is_empty())
                .collect()
        };
        let (day, farm) = (all(Holds::Date).join(" "), all(Holds::Farm).join(" "));
        let mut out = Vec::new();
        let before = self.visit.clone().unwrap_or_default();
        let visit = (if day.is_empty() { before.0 } else { day }, if farm.is_empty() { before.1 } else { farm });
        if self.visit.as_ref() != Some(&visit) && visit != Default::default() {
            out.push(Row::Ready(Prepared {
                number: line.number,
                text: format!("{} {}", visit.0, visit.1).trim().to_owned(),
                is: Is::Heading(opened(&visit.0, &visit.1)),
            }));
            self.visit = Some(visit);
        }
        let mut note = Vec::new();
        let cow = all(Holds::Cow).join(" ");
        if !cow.is_empty() {
            note.push(if cow.starts_with('#') { cow } else { format!("#{cow}") });
        }
        for is in [Holds::Foot, Holds::Claw, Holds::Finding] {
            note.extend(all(is).into_iter().map(str::to_owned));
        }
        note.extend(
            all(Holds::Zone)
                .into_iter()
                .map(|z| if z.starts_with(|c: char| c.is_ascii_digit()) { format!("z{z}") } else { z.to_owned() }),
        );
        note.extend(all(Holds::Done).into_iter().map(str::to_owned));
        let scale = self
            .columns
            .holds
            .iter()
            .find(|h| h.0 == Holds::Score)
            .and_then(|h| self.columns.names.get(h.1))
            .map_or(String::new(), |n| n.to_lowercase());
        let scale = if scale.contains("mob") { "mobility" } else { "locomotion" };
        note.extend(
            all(Holds::Score)
                .into_iter()
                .map(|s| if s.bytes().all(|b| b.is_ascii_digit()) { format!(", {scale} {s}") } else { s.to_owned() }),
        );
        note.extend(
            all(Holds::Note)
                .into_iter()
                .enumerate()
                .map(|(k, n)| if k > 0 || note.len() > 1 { format!(", {n}") } else { n.to_owned() })
                .collect::<Vec<_>>(),
        );
        // Cells without a column, as where a comma stood without quotes: said is said.
        let more = cells.iter().skip(self.columns.names.len()).filter(|c| !c.is_empty());
        note.extend(more.map(|c| format!(", {c}")));
        out.push(Row::Line(Line { number: line.number, text: Ok(note.join(" ")) }));
        out
    }
}

fn opened(day: &str, farm: &str) -> Heading {
    let pieces = date::pieces(day);
    let mut h = Heading {
        farm: (!farm.is_empty()).then(|| farm.to_owned()),
        same_place: farm.is_empty(),
        standing: Standing::Row,
        ..Heading::default()
    };
    for i in 0..pieces.len() {
        if let Some((written, _)) = date::date_at(&pieces, i) {
            h.date = Some(written);
            break;
        }
        if let date::Is::Word(w) = &pieces[i].is {
            h.weekday = h.weekday.or(date::weekday(w));
        }
    }
    if h.date.is_none()
        && let Some(serial) = day.trim().parse::<i64>().ok().filter(|n| (20_000..60_000).contains(n))
    {
        // Days since the end of 1899, as spreadsheets count.
        let date =
            NaiveDate::from_ymd_opt(1899, 12, 30).and_then(|d| d.checked_add_signed(chrono::Duration::days(serial)));
        h.date = date.map(|d| {
            use chrono::Datelike;
            Written::Full { year: d.year(), month: d.month(), day: d.day() }
        });
    }
    h
}

/// What stands between cells, the same number of times in most rows; and the rows.
fn split(head: &[String]) -> Option<(u8, Vec<Vec<String>>)> {
    b"\t;,|".iter().find_map(|separator| {
        let mut joiner = Joiner::new(*separator, None);
        let mut rows: Vec<Line> = Vec::new();
        for (i, text) in head.iter().enumerate() {
            rows.extend(joiner.take(Line { number: i + 1, text: Ok(text.clone()) }));
        }
        // A row that goes on behind what was looked at is left out.
        let text = |l: &Line| l.text.clone().unwrap_or_default();
        let rows: Vec<Vec<String>> =
            rows.iter().map(text).filter(|l| !l.trim().is_empty()).map(|l| cells(&l, *separator)).collect();
        let mut tally: HashMap<usize, usize> = HashMap::new();
        for row in &rows {
            *tally.entry(row.len()).or_default() += 1;
        }
        let need = if *separator == b',' { 3 } else { 2 };
        let even = tally.iter().any(|(n, times)| *n >= need && times * 10 >= rows.len() * 9);
        (rows.len() > 1 && even).then_some((*separator, rows))
    })
}

fn plain(name: &str) -> String {
    let spaced = name.to_lowercase().replace(['_', '-', '.', '#', ':'], " ");
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What most cells of a column are.
fn content(cells: &[&str], taken: &[(Holds, usize)]) -> Option<Holds> {
    let free = |is: Holds| taken.iter().all(|t| t.0 != is);
    let most =
        |f: &dyn Fn(&str) -> bool| !cells.is_empty() && cells.iter().filter(|c| f(c)).count() * 10 >= cells.len() * 8;
    let is_date = |c: &str| {
        let p = date::pieces(c);
        p.len() > 2 && (0..p.len().min(3)).any(|i| date::date_at(&p, i).is_some())
    };
    if free(Holds::Date) && most(&is_date) {
        Some(Holds::Date)
    } else if free(Holds::Cow)
        && most(&|c| c.trim_start_matches('#').len() <= 6 && c.bytes().any(|b| b.is_ascii_digit()) && !c.contains(' '))
    {
        Some(Holds::Cow)
    } else if free(Holds::Foot)
        && most(&|c| {
            matches!(c.to_uppercase().as_str(), "LF" | "RF" | "LH" | "RH" | "LR" | "RR" | "NF" | "OF" | "NH" | "OH")
        })
    {
        Some(Holds::Foot)
    } else if most(&|c| c.chars().any(char::is_alphabetic)) {
        Some(Holds::Note)
    } else {
        None
    }
}

/// `cow=2,date=1,note=5+6`
fn wanted(text: &str, names: &[String]) -> Result<Vec<(Holds, usize)>, String> {
    let mut out = Vec::new();
    for part in text.split(',').map(str::trim).filter(|p| !p.is_empty()) {
        let (is, columns) = part.split_once('=').ok_or_else(|| format!("`--columns {part}`: write it as `cow=2`"))?;
        let what: Vec<&str> = NAMES.iter().map(|n| n.1).collect();
        let is = NAMES
            .iter()
            .find(|n| n.1 == is.trim())
            .ok_or_else(|| format!("`{}` is none of {}", is.trim(), what.join(", ")))?
            .0;
        for column in columns.split('+').map(str::trim) {
            let by_name = names.iter().position(|n| plain(n) == plain(column));
            let by_number = column.parse::<usize>().ok().and_then(|n| n.checked_sub(1)).filter(|n| *n < names.len());
            let at = by_name
                .or(by_number)
                .ok_or_else(|| format!("there is no column `{column}`; there are {}", names.len()))?;
            out.push((is, at));
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(table: &str, wanted: Option<&str>) -> Vec<String> {
        let lines: Vec<String> = table.lines().map(str::to_owned).collect();
        let columns = Columns::guess(&lines, wanted).unwrap().unwrap();
        let mut rows = columns.rows();
        let taken = lines
            .iter()
            .enumerate()
            .flat_map(|(i, l)| rows.take(Line { number: i + 1, text: Ok(l.clone()) }))
            .collect::<Vec<_>>();
        let text = |r: Row| match r {
            Row::Line(l) => l.text.unwrap(),
            Row::Ready(p) => format!("= {}", p.text),
        };
        taken.into_iter().map(text).filter(|t| !t.is_empty()).collect()
    }

    #[test]
    fn columns_by_name_and_by_content() {
        let named =
            "Date;Farm;Ear Tag;Leg;Problem;Comments\n6/5/18;Oak Lane;412;LH;DD;wrap\n;;413;RH out;SU;\"z4; block\"\n";
        assert_eq!(texts(named, None), ["= 6/5/18 Oak Lane", "#412 LH DD , wrap", "#413 RH out SU , z4; block"]);
        let bare = "6/5/18\t412\tLH DD wrap\n6/5/18\t413\tall ok\n";
        assert_eq!(texts(bare, None), ["= 6/5/18", "#412 LH DD wrap", "#413 all ok"]);
        assert_eq!(texts("a,b,c\n1,412,x\n2,413,y\n", Some("cow=2")), ["a,b,c", "#412", "#413"]);
    }

    #[test]
    fn lines_between_the_rows_of_a_table_without_names_stay_what_they_are() {
        let text = "Tue 6/5/18, Oak Lane, 22 hd\n412, LH DD, wrp\n413, RH SU, blk\n414, \", \"\ngate, code, 4471\n";
        let rows = "415, ok, ok\n".repeat(9);
        let got = texts(&format!("{text}{rows}"), None);
        assert_eq!(
            got[..5],
            [
                "Tue 6/5/18, Oak Lane, 22 hd",
                "#412 LH DD , wrp",
                "#413 RH SU , blk",
                "#414 RH SU , blk",
                "gate, code, 4471"
            ]
        );
    }

    #[test]
    fn what_is_no_table_is_left_alone() {
        let lines = ["412 LH DD, wrap, bad", "413 RH SU, block, wrap", "414 ok, ok, ok"].map(str::to_owned);
        assert_eq!(Columns::guess(&lines, None), Ok(None), "commas of a notebook");
        let lines = ["Tue 6/5/18 Oak Lane, 22 hd", "231 LR out SU z4", "18 ok"].map(str::to_owned);
        assert_eq!(Columns::guess(&lines, None), Ok(None));
        assert!(Columns::guess(&lines, Some("cow=1")).is_err());
    }
}
