//! A made-up log of any length: visits of a hundred cows, one in twenty with a question, nearly all of them
//! answered; some entries struck.

use std::io::{self, Write};

use chrono::{Days, NaiveDate};
use chutescribe::log::record::{LineKind, Stamp, VERSION};
use chutescribe::log::{AnswerLine, EntryLine, Record, Source, StrikeLine, VisitLine, id, seal};

const COWS_A_VISIT: usize = 100;

/// Writes a log of so many entries.
pub(crate) fn generate(entries: usize, to: impl Write) -> io::Result<()> {
    let mut log = Sealed { to, link: 0 };
    let start = NaiveDate::from_ymd_opt(2006, 1, 2).unwrap_or_default();
    let mut visit = None;
    for n in 0..entries {
        if n.is_multiple_of(COWS_A_VISIT) {
            let day = start + Days::new((n / COWS_A_VISIT) as u64 / 2);
            let farm = ["Juniper Flat", "Alder Creek", "Stone Barn", "Long Meadow"][n / COWS_A_VISIT % 4];
            let line = VisitLine::new(Some(farm), day, Some("Ines Calloway"), at(day));
            log.put(&Record::Visit(line.clone()))?;
            visit = Some(line);
        }
        if let Some(visit) = &visit {
            one(n, visit, &mut log)?;
        }
    }
    log.to.flush()
}

fn at(day: NaiveDate) -> Stamp {
    day.and_hms_opt(16, 20, 0).unwrap_or_default().and_utc().fixed_offset()
}

fn one(n: usize, visit: &VisitLine, log: &mut Sealed<impl Write>) -> io::Result<()> {
    let cow = 100 + n % COWS_A_VISIT * 37 % 2900;
    let asks = n.is_multiple_of(20);
    let (said, entry) = if asks {
        let said = format!("cow {cow}, left hind ulcer, block on, kicks hard");
        let from = said.find("ulcer").unwrap_or(0);
        let entry = serde_json::json!({
            "cow": cow.to_string(),
            "findings": [{"foot": "LH", "disorder": "SU"}],
            "actions": [{"what": "block", "foot": "LH"}],
            "flags": [{
                "level": "ask", "kind": "claw_missing", "field": "findings[0].claw",
                "message": "`ulcer` on the left hind: outer or inner claw?", "options": ["outer", "inner"],
                "at": [from, from + 5],
            }],
        });
        (said, entry)
    } else if n.is_multiple_of(3) {
        let said =
            format!("cow {cow}, right hind outer, ulcer zone four, rubber block inner, wrap, recheck in four weeks");
        let entry = serde_json::json!({
            "cow": cow.to_string(),
            "findings": [{"foot": "RH", "claw": "outer", "zones": [4], "disorder": "SU"}],
            "actions": [
                {"what": "block", "foot": "RH", "claw": "inner", "material": "rubber"},
                {"what": "wrap", "foot": "RH", "agent": "salicylic acid"},
            ],
            "due": [{"what": "recheck", "on": (visit.date + Days::new(28)).to_string(), "foot": "RH"}],
        });
        (said, entry)
    } else {
        let said = format!("cow {cow} all four clean, loco two, trimmed");
        let entry = serde_json::json!({
            "cow": cow.to_string(),
            "scores": [{"scale": "locomotion", "value": 2}],
            "actions": [{"what": "trim"}],
            "clear": ["LF", "RF", "LH", "RH"],
        });
        (said, entry)
    };
    let mut entry: chutescribe::Entry = serde_json::from_value(entry)?;
    entry.said = said;
    let file = "day.txt".to_owned();
    let id = id::entry(&visit.id, Some(&file), &entry.said, 0, 1);
    let at = at(visit.date);
    let source = Some(Source::line(Some(file), n % COWS_A_VISIT + 1));
    let line =
        EntryLine { v: VERSION, kind: LineKind::Entry, id: id.clone(), at, visit: visit.id.clone(), entry, source };
    log.put(&Record::Entry(Box::new(line)))?;
    if asks && !n.is_multiple_of(1000) {
        log.put(&Record::Answer(AnswerLine::new(&id, "findings[0].claw", "outer".into(), at, |_| false)))?;
    }
    if n % 500 == 7 {
        log.put(&Record::Strike(StrikeLine::new(&id, "said twice", at, |_| false)))?;
    }
    Ok(())
}

struct Sealed<W> {
    to: W,
    link: u64,
}

impl<W: Write> Sealed<W> {
    fn put(&mut self, record: &Record) -> io::Result<()> {
        let (line, link) = seal::put(&record.line(), self.link);
        self.link = link;
        writeln!(self.to, "{line}")
    }
}
