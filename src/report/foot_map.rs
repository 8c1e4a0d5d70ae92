//! Where findings are and how often: four feet from above, as the animal stands, heads up the page.
//!
//! Which of zones 7 and 8, and of 11 and 12, is further forward was not verified: each pair shares a spot.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::table::Table;
use crate::anatomy::{Claw, End, Foot, Side};
use crate::entry::Finding;

/// How many findings there are at each foot, claw and zone.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FootMap {
    at: BTreeMap<(Foot, Option<Claw>, Option<u8>), usize>,
}

/// Width and height of a drawn foot; a claw takes half.
pub const FOOT: (f64, f64) = (150.0, 150.0);

impl FootMap {
    /// A finding counts once at each of its zones, or once where none was said; without a foot it has no place.
    pub fn add(&mut self, f: &Finding) {
        let Some(foot) = f.foot else { return };
        if f.zones.is_empty() {
            *self.at.entry((foot, f.claw, None)).or_default() += 1;
        }
        for zone in &f.zones {
            *self.at.entry((foot, f.claw, Some(*zone))).or_default() += 1;
        }
    }

    /// Each place that has findings, with their number.
    pub fn places(&self) -> impl Iterator<Item = ((Foot, Option<Claw>, Option<u8>), usize)> + '_ {
        self.at.iter().map(|(at, n)| (*at, *n))
    }

    pub fn is_empty(&self) -> bool {
        self.at.is_empty()
    }

    /// A small table of claws and, below it, the zones.
    pub fn text(&self) -> String {
        let count = |foot: Foot, claw: Option<Claw>| -> usize {
            self.at.iter().filter(|((f, c, _), _)| *f == foot && *c == claw).map(|(_, n)| n).sum()
        };
        let cell = |n: usize| if n == 0 { ".".to_owned() } else { n.to_string() };
        let mut table = Table::new(2).right(&[1, 2, 3, 5, 6, 7]);
        table.row(["", "left", "", "", "  ", "right", "", ""]);
        table.row(["", "outer", "inner", "skin", "  ", "skin", "inner", "outer"]);
        for (name, left, right) in [("front", Foot::LF, Foot::RF), ("hind", Foot::LH, Foot::RH)] {
            let (outer, inner) = (Some(Claw::Outer), Some(Claw::Inner));
            table.row([
                name.to_owned(),
                cell(count(left, outer)),
                cell(count(left, inner)),
                cell(count(left, None)),
                "  ".to_owned(),
                cell(count(right, None)),
                cell(count(right, inner)),
                cell(count(right, outer)),
            ]);
        }
        let mut out = table.to_string();
        let mut zones = Table::new(2);
        for ((foot, claw, zone), n) in &self.at {
            if let Some(zone) = zone {
                let claw = claw.map_or("", Claw::words);
                zones.row([format!("{} {claw}", foot.words()).trim_end().to_owned(), format!("zone {zone}: {n}")]);
            }
        }
        if !zones.is_empty() {
            let _ = write!(out, "\n{zones}");
        }
        out
    }

    /// The drawing; black lines on any ground, so that it prints. `title` is read out in its place.
    pub fn svg(&self, title: &str) -> String {
        let (w, h) = (2.0 * FOOT.0 + 60.0, 2.0 * FOOT.1 + 90.0);
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" height=\"{h}\" role=\"img\" \
             font-family=\"sans-serif\" font-size=\"12\"><title>{}</title>\n",
            super::html::escape(title)
        );
        for foot in Foot::ALL {
            let x = if foot.side() == Side::Left { 15.0 } else { FOOT.0 + 45.0 };
            let y = if foot.end() == End::Front { 25.0 } else { FOOT.1 + 70.0 };
            let _ = writeln!(
                out,
                "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">{}</text>",
                x + FOOT.0 / 2.0,
                y - 8.0,
                foot.words()
            );
            for claw in [Claw::Outer, Claw::Inner] {
                let path = outline(x, y, is_left(foot, claw));
                let _ = writeln!(out, "<path d=\"{path}\" fill=\"none\" stroke=\"#000\" stroke-width=\"1.5\"/>");
            }
            self.marks(foot, x, y, &mut out);
        }
        out + "</svg>\n"
    }

    /// A circle with the number at each spot of a foot that has findings.
    fn marks(&self, foot: Foot, x: f64, y: f64, out: &mut String) {
        let mut spots: Vec<((f64, f64), usize)> = Vec::new();
        for ((_, claw, zone), n) in self.at.iter().filter(|((f, ..), _)| *f == foot) {
            let at = spot(foot, *claw, *zone);
            match spots.iter_mut().find(|s| s.0 == at) {
                Some(s) => s.1 += n,
                None => spots.push((at, *n)),
            }
        }
        for ((px, py), n) in spots {
            let (cx, cy, r) = (x + px, y + py, 8.0 + (n as f64).sqrt());
            let _ = writeln!(
                out,
                "<circle cx=\"{cx:.1}\" cy=\"{cy:.1}\" r=\"{r:.1}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"2\"/>\
                 <text x=\"{cx:.1}\" y=\"{:.1}\" text-anchor=\"middle\" fill=\"#000\">{n}</text>",
                cy + 4.0
            );
        }
    }
}

/// The path of a claw in a drawing whose upper left corner is the foot's.
pub fn claw_path(foot: Foot, claw: Claw) -> String {
    outline(0.0, 0.0, is_left(foot, claw))
}

/// The claw is the left one of its foot on the page.
fn is_left(foot: Foot, claw: Claw) -> bool {
    (foot.side() == Side::Left) == (claw == Claw::Outer)
}

/// The path of one claw from toe (top) to bulb, its straight side towards the other claw.
fn outline(x: f64, y: f64, left: bool) -> String {
    // From the middle line of the foot outwards.
    let at = |u: f64, v: f64| {
        let across = if left { FOOT.0 / 2.0 - u } else { FOOT.0 / 2.0 + u };
        format!("{:.1} {:.1}", x + across, y + v)
    };
    format!(
        "M {} C {} {} {} S {} {} Q {} {} Q {} {} Z",
        at(12.0, 4.0),
        at(40.0, 6.0),
        at(62.0, 40.0),
        at(64.0, 85.0),
        at(58.0, 140.0),
        at(36.0, 142.0),
        at(12.0, 142.0),
        at(10.0, 110.0),
        at(14.0, 60.0),
        at(12.0, 4.0),
    )
}

/// Where on the drawn foot a zone is, from its upper left corner.
pub fn spot(foot: Foot, claw: Option<Claw>, zone: Option<u8>) -> (f64, f64) {
    let middle = FOOT.0 / 2.0;
    // Distance from the middle line, and from the toe.
    let (u, v) = match zone {
        Some(1) => (28.0, 16.0),
        Some(2) => (54.0, 58.0),
        Some(3) => (56.0, 98.0),
        Some(4) => (30.0, 94.0),
        Some(5) => (32.0, 48.0),
        Some(6) => (36.0, 126.0),
        Some(7 | 8) => (68.0, 40.0),
        Some(9) => (70.0, 120.0),
        Some(11 | 12) => (13.0, 60.0),
        Some(0) => (0.0, 40.0),
        Some(10) => (0.0, 138.0),
        _ => (36.0, 72.0),
    };
    match claw {
        _ if matches!(zone, Some(0 | 10)) => (middle, v),
        Some(claw) if is_left(foot, claw) => (middle - u, v),
        Some(_) => (middle + u, v),
        None => (middle, 100.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn map(json: serde_json::Value) -> FootMap {
        let findings: Vec<Finding> = serde_json::from_value(json).unwrap();
        let mut map = FootMap::default();
        for f in &findings {
            map.add(f);
        }
        map
    }

    #[test]
    fn claws_and_zones_are_counted() {
        let map = map(serde_json::json!([
            {"foot":"LH","claw":"outer","zones":[4],"disorder":"SU"},
            {"foot":"LH","claw":"outer","zones":[3, 4],"disorder":"WL"},
            {"foot":"RF","disorder":"DD"},
        ]));
        let text = map.text();
        let rows: Vec<Vec<&str>> = text.lines().map(|l| l.split_whitespace().collect()).collect();
        assert_eq!(rows[2], ["front", ".", ".", ".", "1", ".", "."]);
        assert_eq!(rows[3], ["hind", "3", ".", ".", ".", ".", "."], "{text}");
        assert!(map.text().ends_with("left hind outer  zone 3: 1\n  left hind outer  zone 4: 2\n"));
    }

    #[test]
    fn outer_claws_are_at_the_outside_of_the_drawing() {
        let (left, right) = (spot(Foot::LH, Some(Claw::Outer), Some(4)), spot(Foot::RH, Some(Claw::Outer), Some(4)));
        assert!(left.0 < FOOT.0 / 2.0 && right.0 > FOOT.0 / 2.0);
        let svg = map(serde_json::json!([{"foot":"LH","claw":"outer","zones":[4]}])).svg("a < b");
        assert_eq!((svg.matches("<circle").count(), svg.matches("<path").count()), (1, 8));
        assert!(svg.contains("<title>a &lt; b</title>"));
    }
}
