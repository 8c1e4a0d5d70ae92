//! Reports of nothing: a sentence that says so, exit code 0, no figure that was divided by nothing.

use crate::case::Case;

const LOG: &str = include_str!("../../demo/log.jsonl");
const PRICES: &str = include_str!("../../demo/prices.toml");

const REPORTS: [&[&str]; 9] = [
    &["due"],
    &["cow", "412"],
    &["sheet"],
    &["herd"],
    &["bill", "--prices", "prices.toml"],
    &["export"],
    &["export", "--ade"],
    &["herd", "--csv"],
    &["due", "--json"],
];

/// Runs each report; some sentence of `wanted` must be told, on either stream.
fn all(log: &str, more: &[&str], skip: &[&str], wanted: &[&str]) {
    for report in REPORTS.iter().filter(|r| !skip.contains(&r[0])) {
        let case = Case::new().with("log.jsonl", log).with("prices.toml", PRICES);
        let args = [*report, more].concat();
        let ran = case.run(&args).code(0);
        let told = format!("{}{}", ran.stdout(), ran.stderr());
        assert!(wanted.iter().any(|w| told.contains(w)), "{args:?}: {told}");
        assert!(!told.contains("NaN") && !told.contains("inf"), "{args:?}: {told}");
    }
}

#[test]
fn an_empty_log() {
    all("", &[], &[], &["the log has no entries yet\n"]);
}

/// Nobody knows which cow, or whether there was anything: what waits is told, and nothing else is.
#[test]
fn only_doubtful_entries() {
    let case = Case::new().with("a.txt", "left hind outer, white line zone three, block inner\n");
    case.run(&["note", "--on", "2026-03-12", "--farm", "Juniper Flat", "a.txt"]).code(0);
    let log = case.text("log.jsonl");
    all(&log, &[], &["cow"], &["left out: 1 open question on 1 entry"]);
    all(
        &log,
        &[],
        &["cow"],
        &["nothing counts yet", "nothing on thu 12 mar 2026 counts yet", "nothing at Juniper Flat"],
    );
}

#[test]
fn a_farm_that_is_not_there() {
    all(LOG, &["--farm", "Elm End"], &[], &["the log has no visit to `Elm End`; it has: Juniper Flat\n"]);
}

#[test]
fn a_period_without_visits() {
    all(LOG, &["--from", "2026-04-01", "--to", "2026-04-30"], &["due", "cow", "sheet"], &["no cow was seen from "]);
    all(LOG, &["--on", "2026-03-11"], &["due", "cow", "herd", "bill", "export"], &["no cow was seen on "]);
}
