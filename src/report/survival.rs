//! Days to healing with those lost to sight counted as such: Kaplan and Meier's estimate (1958).

/// One step of the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    pub days: i64,
    /// Still under watch just before.
    pub at_risk: usize,
    pub healed: usize,
    /// Share not yet healed after this day.
    pub open: f64,
}

/// The curve of cases that were watched for so many days, and then healed (`true`) or were last seen open. A case
/// that is lost on the day another one heals was still at risk then.
pub fn curve(cases: &[(i64, bool)]) -> Vec<Step> {
    let mut cases = cases.to_vec();
    cases.sort_unstable();
    let mut open = 1.0;
    let mut steps = Vec::new();
    let mut i = 0;
    while i < cases.len() {
        let days = cases[i].0;
        let same = cases[i..].iter().take_while(|c| c.0 == days).count();
        let healed = cases[i..i + same].iter().filter(|c| c.1).count();
        if healed > 0 {
            let at_risk = cases.len() - i;
            open *= 1.0 - healed as f64 / at_risk as f64;
            steps.push(Step { days, at_risk, healed, open });
        }
        i += same;
    }
    steps
}

/// The first day on which at most half are open; `None` where the curve does not get there.
pub fn median(steps: &[Step]) -> Option<i64> {
    // A product of fractions can miss a half by a rounding.
    steps.iter().find(|s| s.open <= 0.5 + 1e-12).map(|s| s.days)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Remission of 21 leukaemia patients on 6-MP (Freireich et al. 1963), the textbook example.
    #[test]
    fn the_textbook_example() {
        let healed = [6, 6, 6, 7, 10, 13, 16, 22, 23].map(|d| (d, true));
        let lost = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35].map(|d| (d, false));
        let steps = curve(&[&healed[..], &lost[..]].concat());
        let open: Vec<String> = steps.iter().map(|s| format!("{} {:.4}", s.days, s.open)).collect();
        assert_eq!(open, ["6 0.8571", "7 0.8067", "10 0.7529", "13 0.6902", "16 0.6275", "22 0.5378", "23 0.4482"]);
        assert_eq!(median(&steps), Some(23));
        assert_eq!((curve(&[]), median(&[])), (vec![], None));
    }
}
