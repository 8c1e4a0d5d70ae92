//! Lesions from first seen to healed: findings of one cow at one place put together as cases.

use chrono::NaiveDate;
use rustc_hash::FxHashMap;

use super::material::Seen;
use crate::anatomy::{Claw, Foot};
use crate::disorder::{Course, Disorder};

/// Days after which the same lesion on the same claw, said without its course, is a new case: no rule of ICAR was
/// found; 28 is custom (at 30 days 68 % of sole ulcers are covered: Lischer et al. 2001).
pub const GAP: i64 = 28;

/// One lesion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Case {
    pub foot: Option<Foot>,
    pub claw: Option<Claw>,
    /// As it was first called.
    pub disorder: Disorder,
    pub first: NaiveDate,
    /// The last visit at which it was seen.
    pub last: NaiveDate,
    /// When it was said to be healed, or the foot was clean.
    pub healed: Option<NaiveDate>,
    /// At how many visits it was seen.
    pub visits: usize,
    /// Which time it is at this place, from 1.
    pub nth: usize,
    /// The first that was heard of it is that it is healed, healing, open or worse: it began elsewhere.
    pub begun_before: bool,
}

impl Case {
    /// Days from first seen to healed, else to `today`.
    pub fn days(&self, today: NaiveDate) -> i64 {
        (self.healed.unwrap_or(today) - self.first).num_days()
    }
}

/// Diffuse and circumscribed haemorrhage are haemorrhage, fissure and abscess of the white line are of the white line.
fn family(disorder: Disorder) -> Disorder {
    match disorder {
        Disorder::SHD | Disorder::SHC => Disorder::SH,
        Disorder::WLF | Disorder::WLA => Disorder::WL,
        d => d,
    }
}

/// The cases of one cow, in the order in which they began. What was not certain is none.
pub fn cases<'a>(seen: impl IntoIterator<Item = &'a Seen>, gap: i64) -> Vec<Case> {
    let mut cases: Vec<Case> = Vec::new();
    // Places of those that are not known to be healed, the latest last.
    let mut open: Vec<usize> = Vec::new();
    let mut before = Before::default();
    for s in seen {
        for f in &s.entry.findings {
            let Some(disorder) = f.disorder.filter(|_| f.certain != Some(false)) else { continue };
            let healed = (f.course == Some(Course::Healed)).then_some(s.date);
            let same = |c: &Case| {
                c.foot == f.foot
                    && family(c.disorder) == family(disorder)
                    && (c.claw.is_none() || f.claw.is_none() || c.claw == f.claw)
            };
            let goes_on = |c: &Case| same(c) && (f.course.is_some() || (s.date - c.last).num_days() <= gap);
            if let Some(at) = open.iter().rposition(|i| goes_on(&cases[*i])) {
                let case = &mut cases[open[at]];
                if healed.is_some() {
                    open.remove(at);
                }
                case.visits += usize::from(case.last != s.date);
                (case.last, case.healed) = (s.date, healed);
                if case.claw.is_none() && f.claw.is_some() {
                    case.claw = f.claw;
                    before.moved(f.foot, family(disorder), f.claw);
                }
                continue;
            }
            let nth = before.another(f.foot, family(disorder), f.claw);
            if healed.is_none() {
                open.push(cases.len());
            }
            cases.push(Case {
                foot: f.foot,
                claw: f.claw,
                disorder,
                first: s.date,
                last: s.date,
                healed,
                visits: 1,
                nth,
                begun_before: f.course.is_some(),
            });
        }
        // A clean foot has no lesion any more.
        open.retain(|i| {
            let case = &mut cases[*i];
            let clean = case.last < s.date && case.foot.is_some_and(|f| s.entry.clear.contains(&f));
            if clean {
                case.healed = Some(s.date);
            }
            !clean
        });
    }
    cases
}

/// How many cases there were at each place: without a claw, on the outer, on the inner. Counted as they come, since a
/// cow of a teaching herd has hundreds.
#[derive(Default)]
struct Before(FxHashMap<(Option<Foot>, Disorder), [usize; 3]>);

impl Before {
    fn column(claw: Option<Claw>) -> usize {
        match claw {
            None => 0,
            Some(Claw::Outer) => 1,
            Some(Claw::Inner) => 2,
        }
    }

    /// Counts a case, and tells which time it is at its place; one without a claw may be on either.
    fn another(&mut self, foot: Option<Foot>, family: Disorder, claw: Option<Claw>) -> usize {
        let here = self.0.entry((foot, family)).or_default();
        let nth = 1 + match claw {
            None => here.iter().sum(),
            Some(_) => here[0] + here[Self::column(claw)],
        };
        here[Self::column(claw)] += 1;
        nth
    }

    /// The claw of a case became known.
    fn moved(&mut self, foot: Option<Foot>, family: Disorder, claw: Option<Claw>) {
        let here = self.0.entry((foot, family)).or_default();
        here[0] -= 1;
        here[Self::column(claw)] += 1;
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;
    use crate::report::due::tests::material;

    fn told(entries: &[(&str, Value)]) -> Vec<(String, usize, Option<i64>)> {
        let all = cases(&material(entries).seen, GAP);
        all.iter().map(|c| (c.first.to_string(), c.nth, c.healed.map(|_| c.days(c.last)))).collect()
    }

    fn ulcer(date: &str, course: Option<&str>) -> (String, Value) {
        let mut f = json!({"foot":"RH","claw":"outer","disorder":"SU"});
        if let Some(course) = course {
            f["course"] = json!(course);
        }
        (date.to_owned(), json!({"findings": [f]}))
    }

    fn of(entries: &[(String, Value)]) -> Vec<(String, usize, Option<i64>)> {
        told(&entries.iter().map(|(d, v)| (d.as_str(), v.clone())).collect::<Vec<_>>())
    }

    #[test]
    fn a_lesion_goes_on_until_it_heals() {
        let all =
            [ulcer("2026-01-01", None), ulcer("2026-02-20", Some("healing")), ulcer("2026-03-12", Some("healed"))];
        assert_eq!(of(&all), [("2026-01-01".to_owned(), 1, Some(70))]);
    }

    #[test]
    fn the_same_again_after_the_gap_or_after_healing_is_a_repeat() {
        assert_eq!(of(&[ulcer("2026-01-01", None), ulcer("2026-01-29", None)]).len(), 1);
        let all = of(&[ulcer("2026-01-01", None), ulcer("2026-01-30", None)]);
        assert_eq!(all[1], ("2026-01-30".to_owned(), 2, None));
        let all = of(&[ulcer("2026-01-01", None), ulcer("2026-01-10", Some("healed")), ulcer("2026-01-12", None)]);
        assert_eq!(all[1].1, 2);
    }

    #[test]
    fn a_clean_foot_ends_it_and_a_doubtful_finding_begins_none() {
        let all = [ulcer("2026-01-01", None), ("2026-01-11".to_owned(), json!({"clear":["RH"]}))];
        assert_eq!(of(&all), [("2026-01-01".to_owned(), 1, Some(10))]);
        let maybe = json!({"findings":[{"foot":"RH","claw":"outer","disorder":"TN","certain":false}]});
        assert!(of(&[("2026-01-01".to_owned(), maybe)]).is_empty());
    }
}
