//! All figures of the herd report as one flat table, for other programs.

use serde::Serialize;

use super::herd::Herd;
use super::wilson;

/// One figure; what does not apply is empty.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Figure {
    pub farm: Option<String>,
    /// `share` of cows, `score`, `place` of findings, `visit`, `healing`, `recheck`, `lost`, `back`.
    pub table: &'static str,
    /// A disorder or a group; `locomotion` or `mobility`; the day of a visit; `in time`, `late` or `not done`; `block`
    /// or `wrap`; a cow.
    pub what: String,
    /// ICAR English code.
    pub code: Option<&'static str>,
    pub foot: Option<&'static str>,
    pub claw: Option<&'static str>,
    pub zone: Option<u8>,
    /// Days after which; the score from which on a cow is lame.
    pub from: Option<i64>,
    /// How many: cows, findings, rechecks, blocks and wraps, cases.
    pub n: usize,
    /// Of how many: cows examined or scored, rechecks due, blocks and wraps put on, cases still watched.
    pub of: Option<usize>,
    /// Of `n` in `of`; of `healing` the share still open after that day (Kaplan-Meier).
    pub percent: Option<f64>,
    /// 95 % limits (Wilson).
    pub low: Option<f64>,
    pub high: Option<f64>,
    /// New cases, and those of them that are repeats.
    pub new: Option<usize>,
    pub repeats: Option<usize>,
    /// A published figure beside it.
    pub published: Option<&'static str>,
}

impl Herd {
    /// Every figure of the report.
    pub fn figures(&self) -> Vec<Figure> {
        let mut all = Vec::new();
        let row = |table, what: &str, n| Figure {
            farm: self.farm.clone(),
            table,
            what: what.to_owned(),
            n,
            ..Figure::default()
        };
        all.extend(self.shares.iter().map(|s| Figure {
            code: s.code,
            of: Some(s.of),
            percent: s.percent,
            low: s.low,
            high: s.high,
            new: Some(s.new),
            repeats: Some(s.repeats),
            published: s.published,
            ..row("share", &s.what, s.cows)
        }));
        all.extend(self.lame.iter().map(|l| {
            let limits = wilson::limits(l.cows, l.of);
            Figure {
                from: Some(l.from.into()),
                of: Some(l.of),
                percent: percent(l.cows, l.of),
                low: limits.map(|l| tenths(l.0)),
                high: limits.map(|l| tenths(l.1)),
                ..row("score", l.scale.words(), l.cows)
            }
        }));
        all.extend(self.map.places().map(|((foot, claw, zone), n)| Figure {
            foot: Some(foot.code()),
            claw: claw.map(crate::anatomy::Claw::words),
            zone,
            ..row("place", "", n)
        }));
        all.extend(self.days.iter().map(|d| Figure {
            of: Some(d.examined),
            percent: percent(d.with_lesion, d.examined),
            ..row("visit", &d.date.to_string(), d.with_lesion)
        }));
        all.extend(self.healing.iter().map(|s| Figure {
            from: Some(s.days),
            of: Some(s.at_risk),
            percent: Some(tenths(s.open)),
            ..row("healing", "", s.healed)
        }));
        let due: usize = self.rechecks.iter().sum();
        for (what, n) in ["in time", "late", "not done"].into_iter().zip(self.rechecks) {
            all.push(Figure { of: Some(due), percent: percent(n, due), ..row("recheck", what, n) });
        }
        for (what, (on, lost)) in [("block", self.blocks), ("wrap", self.wraps)] {
            all.push(Figure { of: Some(on), percent: percent(lost, on), ..row("lost", what, lost) });
        }
        all.extend(self.back.iter().map(|(cow, n)| row("back", cow, *n)));
        all
    }
}

/// Per cent with one decimal.
pub(super) fn tenths(share: f64) -> f64 {
    (share * 1000.0).round() / 10.0
}

pub(super) fn percent(n: usize, of: usize) -> Option<f64> {
    (of > 0).then(|| tenths(n as f64 / of as f64))
}
