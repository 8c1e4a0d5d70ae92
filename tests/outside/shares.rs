//! Limits of shares and curves of healing against statsmodels (`shares.py`).

use chutescribe::report::{survival, wilson};

use crate::{lines, none};

const DATA: &str = include_str!("shares.tsv");

#[test]
fn limits_are_those_of_statsmodels() {
    let mut troubles = Vec::new();
    let mut all = 0;
    for line in lines(DATA).filter(|l| l.starts_with("wilson")) {
        let cells: Vec<&str> = line.split('\t').collect();
        let (low, high) = wilson::limits(cells[1].parse().unwrap(), cells[2].parse().unwrap()).unwrap();
        let (wl, wh): (f64, f64) = (cells[3].parse().unwrap(), cells[4].parse().unwrap());
        all += 1;
        if (low - wl).abs() > 1e-9 || (high - wh).abs() > 1e-9 {
            troubles.push(format!("{line}: {low:.10} {high:.10}"));
        }
    }
    assert_eq!(all, 500);
    none(&troubles, all);
}

#[test]
fn curves_are_those_of_statsmodels() {
    let mut troubles = Vec::new();
    let mut all = 0;
    for line in lines(DATA).filter(|l| l.starts_with("km")) {
        let cells: Vec<&str> = line.split('\t').collect();
        let pairs = |cell: &str| {
            cell.split(',')
                .map(|p| p.split_once(':').unwrap())
                .map(|(a, b)| (a.to_owned(), b.to_owned()))
                .collect::<Vec<_>>()
        };
        let cases: Vec<(i64, bool)> = pairs(cells[1]).iter().map(|(d, e)| (d.parse().unwrap(), e == "1")).collect();
        let want: Vec<(i64, f64)> =
            pairs(cells[2]).iter().map(|(d, p)| (d.parse().unwrap(), p.parse().unwrap())).collect();
        let got = survival::curve(&cases);
        // It lists days without an event too; the curve does not move there.
        let open = |day: i64| got.iter().rev().find(|s| s.days <= day).map_or(1.0, |s| s.open);
        all += 1;
        let days_missing = got.iter().any(|s| want.iter().all(|w| w.0 != s.days));
        if days_missing || want.iter().any(|(d, p)| (open(*d) - p).abs() > 1e-9) {
            troubles.push(format!("{line}: {got:?}"));
        }
    }
    assert_eq!(all, 51);
    none(&troubles, all);
}
