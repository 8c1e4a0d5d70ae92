//! `export`: flat rows for other programs, and the events of ICAR's open ADE standard (1.3).

use chrono::SecondsFormat;
use serde::Serialize;
use serde_json::{Map, Value, json};

use super::material::{Material, Seen};
use crate::anatomy::{Claw, Foot};
use crate::disorder::{Course, Disorder, Stage};
use crate::entry::{Act, Finding};
use crate::show::{self, deeds};

/// One finding or one action; what does not apply is empty.
#[derive(Clone, Debug, Serialize)]
pub struct Row<'a> {
    /// Id of the entry.
    pub entry: &'a str,
    pub date: String,
    pub farm: Option<&'a str>,
    pub trimmer: Option<&'a str>,
    pub cow: &'a str,
    /// `finding` or `action`.
    pub kind: &'static str,
    pub foot: Option<Foot>,
    pub claw: Option<Claw>,
    /// With blanks between them.
    pub zones: String,
    /// ICAR English code of a finding.
    pub disorder: Option<Disorder>,
    pub severity: Option<u8>,
    pub stage: Option<Stage>,
    pub course: Option<Course>,
    /// `false` where the speaker was unsure of a finding.
    pub certain: Option<bool>,
    /// What was done.
    pub what: Option<Act>,
    pub material: Option<&'a str>,
    pub agent: Option<&'a str>,
    /// Of a block or wrap that came off by itself.
    pub lost: Option<bool>,
}

/// One row a finding and one an action, in the order of the report.
pub fn rows(material: &Material) -> Vec<Row<'_>> {
    let mut rows = Vec::new();
    for s in &material.seen {
        let row = |kind, foot, claw| Row {
            entry: &s.id,
            date: s.date.to_string(),
            farm: s.farm.as_deref(),
            trimmer: s.trimmer.as_deref(),
            cow: &s.cow,
            kind,
            foot,
            claw,
            zones: String::new(),
            disorder: None,
            severity: None,
            stage: None,
            course: None,
            certain: None,
            what: None,
            material: None,
            agent: None,
            lost: None,
        };
        rows.extend(s.entry.findings.iter().map(|f| Row {
            zones: f.zones.iter().map(u8::to_string).collect::<Vec<_>>().join(" "),
            disorder: f.disorder,
            severity: f.severity,
            stage: f.stage,
            course: f.course,
            certain: Some(f.certain != Some(false)),
            ..row("finding", f.foot, f.claw)
        }));
        rows.extend(s.entry.actions.iter().map(|a| Row {
            what: Some(a.what),
            material: a.material.as_deref(),
            agent: a.agent.as_deref(),
            lost: matches!(a.what, Act::Unblock | Act::Unwrap).then_some(a.lost),
            ..row("action", a.foot, a.claw)
        }));
    }
    rows
}

/// Whether a number is an electronic one as ISO 11784 has it: 15 digits, 3 of a country or manufacturer and 12 that
/// fit 38 bits.
///
/// # Errors
/// Says what is wrong with it.
pub fn electronic(number: &str) -> Result<(), String> {
    if number.len() != 15 || !number.bytes().all(|b| b.is_ascii_digit()) {
        return Err(format!("`{number}` has not 15 digits"));
    }
    // Twelve digits always fit.
    let national: u64 = number[3..].parse().unwrap_or(u64::MAX);
    if national > LAST_NATIONAL {
        return Err(format!("`{number}`: the last twelve digits are above {LAST_NATIONAL} (ISO 11784)"));
    }
    Ok(())
}

/// 2^38 - 1.
const LAST_NATIONAL: u64 = 274_877_906_943;

/// Events as the ADE standard has them, and what it has no place for.
#[derive(Clone, Debug, Default)]
pub struct Ade {
    pub events: Vec<Value>,
    /// Findings that were not certain: an event cannot say so.
    pub doubtful: usize,
    /// Lesions that were seen to be healed: an event would make them diagnoses of the day.
    pub healed: usize,
    /// Referrals to the vet, which are no treatment.
    pub referred: usize,
}

impl Ade {
    /// `no event for: 1 finding that was not certain`, or nothing.
    pub fn words(&self) -> Option<String> {
        let told: Vec<String> = [
            (self.doubtful, "finding that was not certain", "findings that were not certain"),
            (self.healed, "healed lesion", "healed lesions"),
            (self.referred, "referral to the vet", "referrals to the vet"),
        ]
        .into_iter()
        .filter(|(n, ..)| *n > 0)
        .map(|(n, one, many)| show::count(n, one, many))
        .collect();
        (!told.is_empty()).then(|| format!("the standard has no event for: {}", told.join("; ")))
    }
}

/// ADE events: for each cow at a visit one of diagnosis, where something was found for certain, and one of treatment
/// for each thing done. Claw and zone stand in `site`, since the standard has no field for them.
///
/// A record is not a diagnosis: the event's remark says so.
pub fn ade(material: &Material) -> Ade {
    let mut all = Ade::default();
    for s in &material.seen {
        let mut diagnoses = Vec::new();
        for (i, f) in s.entry.findings.iter().enumerate() {
            match (f.certain, f.course) {
                (Some(false), _) => all.doubtful += 1,
                (_, Some(Course::Healed)) => all.healed += 1,
                _ => diagnoses.push(diagnosis(&s.id, i, f)),
            }
        }
        if !diagnoses.is_empty() {
            let mut event = core(s, "icar:DiagnosisEvent", &s.id);
            event.insert("remark".to_owned(), json!("recorded as the hoof trimmer saw it; no veterinary diagnosis"));
            event.insert("diagnoses".to_owned(), diagnoses.into());
            all.events.push(Value::Object(event));
        }
        for (i, a) in s.entry.actions.iter().enumerate() {
            if a.what == Act::Vet {
                all.referred += 1;
                continue;
            }
            let mut event = core(s, "icar:TreatmentEvent", &format!("{}-{i}", s.id));
            event.insert("procedure".to_owned(), json!(deeds::action(a, false)));
            place(&mut event, a.foot, a.claw, &[]);
            all.events.push(Value::Object(event));
        }
    }
    all
}

fn core(s: &Seen, resource: &str, id: &str) -> Map<String, Value> {
    let scheme = if electronic(&s.cow).is_ok() { "std.iso.11785" } else { "local.tag" };
    let mut event = Map::new();
    event.insert("resourceType".to_owned(), json!(resource));
    event.insert("id".to_owned(), json!(id));
    event.insert("eventDateTime".to_owned(), json!(when(s)));
    event.insert("animal".to_owned(), json!({"id": s.cow, "scheme": scheme}));
    if let Some(farm) = &s.farm {
        event.insert("location".to_owned(), json!({"id": farm.trim(), "scheme": "local.farm"}));
    }
    if let Some(trimmer) = &s.trimmer {
        event.insert("responsible".to_owned(), json!(trimmer));
    }
    event
}

/// In UTC. What was taken down on another day (an old notebook) has the visit's day at noon: at that hour it is the
/// same day from 12 hours west to 11 east of Greenwich.
fn when(s: &Seen) -> String {
    if s.at.date_naive() == s.date {
        s.at.to_utc().to_rfc3339_opts(SecondsFormat::Secs, true)
    } else {
        format!("{}T12:00:00Z", s.date)
    }
}

fn diagnosis(entry: &str, i: usize, f: &Finding) -> Value {
    let mut d = Map::new();
    d.insert("id".to_owned(), json!(format!("{entry}-f{i}")));
    d.insert("description".to_owned(), json!(deeds::finding(f)));
    if let Some(disorder) = f.disorder {
        d.insert("name".to_owned(), json!(disorder.name()));
        // The standard's own keys for claw disorders were not to be had; the letters of the Atlas are
        // given under a scheme of this program's own.
        d.insert("diagnosisCode".to_owned(), json!({"id": disorder.code(), "scheme": "local.claw-health-atlas"}));
    }
    if let Some(severity) = f.severity {
        let word = ["Light", "Moderate", "Severe"].get(usize::from(severity).wrapping_sub(1));
        if let Some(word) = word {
            d.insert("severity".to_owned(), json!(word));
        }
    }
    place(&mut d, f.foot, f.claw, &f.zones);
    Value::Object(d)
}

/// The leg as a position, claw and zones as the site.
fn place(event: &mut Map<String, Value>, foot: Option<Foot>, claw: Option<Claw>, zones: &[u8]) {
    let Some(foot) = foot else { return };
    let leg = match foot {
        Foot::LF => "LegsFrontLeft",
        Foot::RF => "LegsFrontRight",
        Foot::LH => "LegsRearLeft",
        Foot::RH => "LegsRearRight",
    };
    event.insert("positions".to_owned(), json!([{"position": leg}]));
    let claw = claw.map_or(String::new(), |c| format!(", {} claw", c.words()));
    let zones = zones.iter().fold(String::new(), |all, z| all + &format!(", zone {z}"));
    event.insert("site".to_owned(), json!(format!("{}{claw}{zones}", foot.words())));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn electronic_numbers_fit_thirty_eight_bits() {
        assert!(electronic("840003123456789").is_ok() && electronic("276274877906943").is_ok());
        assert!(electronic("276274877906944").unwrap_err().contains("above 274877906943"));
        assert!(electronic("84000312345678").is_err() && electronic("84000312345678x").is_err());
    }
}
