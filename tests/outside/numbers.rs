//! Number words, as num2words (Python Package Index) spells them: `numbers.tsv`, made by `numbers.py`.
//!
//! num2words writes commas between thousands and hundreds and hyphens between tens and units; a
//! recogniser writes the hyphens and not the commas, so the commas are taken out here.

use super::{lines, none, read};

const TABLE: &str = include_str!("numbers.tsv");

struct Row {
    value: u64,
    words: String,
    year: bool,
}

fn rows() -> Vec<Row> {
    let row = |line: &str| {
        let mut cells = line.split('\t');
        let mut next = || cells.next().unwrap_or_else(|| panic!("numbers.tsv: too few cells: {line}"));
        let value = next().parse().unwrap_or_else(|_| panic!("numbers.tsv: no number: {line}"));
        Row { value, words: next().replace(',', ""), year: next() == "year" }
    };
    lines(TABLE).map(row).collect()
}

#[test]
fn the_table_is_whole() {
    let rows = rows();
    let small: Vec<u64> = rows.iter().filter(|r| !r.year && r.value < 10_000).map(|r| r.value).collect();
    assert_eq!(small, (0..10_000).collect::<Vec<_>>());
    assert!(rows.iter().filter(|r| !r.year && r.value >= 10_000).count() >= 300);
    assert_eq!(rows.iter().filter(|r| r.year).count(), 1_000);
}

#[test]
fn cardinals_are_read_as_tags() {
    tags(rows().into_iter().filter(|r| !r.year && r.value < 10_000).collect());
}

#[test]
fn large_cardinals_are_read_as_tags() {
    tags(rows().into_iter().filter(|r| !r.year && r.value >= 10_000).collect());
}

/// "nineteen oh-five", "twenty hundred": digits as they are spoken.
#[test]
fn years_are_read_as_tags() {
    tags(rows().into_iter().filter(|r| r.year).collect());
}

fn tags(rows: Vec<Row>) {
    let of = rows.len();
    let wrong = |row: Row| {
        let note = format!("cow {}, trimmed", row.words);
        let entry = read(&note);
        let cow = entry.as_ref().and_then(|e| e.cow.clone());
        let asks = entry.is_none_or(|e| e.questions().next().is_some());
        let right = cow.as_deref() == Some(row.value.to_string().as_str()) && !asks;
        (!right).then(|| format!("`{note}`: wanted {}, got {cow:?}{}", row.value, if asks { ", asked" } else { "" }))
    };
    none(&rows.into_iter().filter_map(wrong).collect::<Vec<_>>(), of);
}

/// An amount takes another road through the grammar than a tag does.
#[test]
fn cardinals_are_read_as_amounts() {
    let rows: Vec<Row> = rows().into_iter().filter(|r| !r.year).collect();
    let of = rows.len();
    let wrong = |row: Row| {
        let note = format!("cow twelve, left hind toe length {} millimeters", row.words);
        let measures = read(&note).map(|e| e.measures).unwrap_or_default();
        let got = match measures.as_slice() {
            [one] => Some(one.value),
            _ => None,
        };
        let wanted = f64::from(u32::try_from(row.value).expect("the table ends below a million"));
        // A length is kept in tenths of a millimetre.
        let right = got.is_some_and(|got| (got - wanted).abs() < 0.05);
        (!right).then(|| format!("`{note}`: wanted {wanted}, got {got:?}"))
    };
    none(&rows.into_iter().filter_map(wrong).collect::<Vec<_>>(), of);
}
