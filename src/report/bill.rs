//! `bill`: lines and sums from a price file, and the supplies used. Decimals are exact.

use std::collections::{BTreeMap, HashSet};

use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Deserialize, Deserializer, Serialize};

use super::material::{Material, key};
use super::table::Table;
use crate::entry::Act;
use crate::show::lines::hang;

/// A price file (TOML). Money stands in quotes, so that it is exact: `head = "18.50"`.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Prices {
    /// Such as `USD`.
    pub currency: String,
    /// Per visit.
    #[serde(default, deserialize_with = "money")]
    pub call_out: Option<Decimal>,
    /// Per cow that was trimmed or treated.
    #[serde(default, deserialize_with = "money")]
    pub head: Option<Decimal>,
    /// Per block of a kind that `blocks` does not name.
    #[serde(default, deserialize_with = "money")]
    pub block: Option<Decimal>,
    /// Per block, by material.
    #[serde(default, deserialize_with = "monies")]
    pub blocks: BTreeMap<String, Decimal>,
    #[serde(default, deserialize_with = "money")]
    pub wrap: Option<Decimal>,
    /// Per cent of the sum.
    #[serde(default, deserialize_with = "money")]
    pub tax: Option<Decimal>,
    /// Places after the point that the currency has: 2.
    #[serde(default = "two")]
    pub places: u32,
    /// What was there before.
    #[serde(default)]
    pub stock: Stock,
}

/// Supplies in the truck.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// By material; `any` for those whose material was not said.
    #[serde(default)]
    pub blocks: BTreeMap<String, u32>,
    pub wraps: Option<u32>,
}

fn two() -> u32 {
    2
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Written {
    Text(String),
    Whole(i64),
    Float(f64),
}

fn exact(written: Written) -> Result<Decimal, String> {
    let value = match written {
        Written::Text(text) => Decimal::from_str_exact(text.trim()).map_err(|_| format!("`{text}` is no amount"))?,
        Written::Whole(n) => Decimal::from(n),
        Written::Float(f) => return Err(format!("write amounts in quotes, so that they are exact: \"{f}\"")),
    };
    if value.is_sign_negative() { Err(format!("`{value}` is below zero")) } else { Ok(value) }
}

fn money<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Decimal>, D::Error> {
    exact(Written::deserialize(from)?).map(Some).map_err(serde::de::Error::custom)
}

fn monies<'de, D: Deserializer<'de>>(from: D) -> Result<BTreeMap<String, Decimal>, D::Error> {
    let all = BTreeMap::<String, Written>::deserialize(from)?;
    let one = |(k, w): (String, Written)| Ok((k.to_lowercase(), exact(w).map_err(serde::de::Error::custom)?));
    all.into_iter().map(one).collect()
}

impl Prices {
    /// # Errors
    /// Says what in the file cannot be used, with its line.
    pub fn read(text: &str) -> Result<Self, String> {
        let prices: Self = toml::from_str(text).map_err(|e| e.to_string().trim_end().to_owned())?;
        if prices.places > 6 {
            return Err(format!("places = {}: 6 at most", prices.places));
        }
        Ok(prices)
    }
}

/// One line of a bill.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Line {
    pub what: String,
    pub number: usize,
    /// `None` where the price file has no price: it is told, and not in the sum.
    pub each: Option<String>,
    pub amount: Option<String>,
}

/// Supplies that were used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Used {
    pub what: String,
    pub used: usize,
    /// What was there before.
    pub stock: Option<u32>,
}

#[derive(Clone, Debug)]
pub struct Bill {
    pub currency: String,
    pub lines: Vec<Line>,
    pub sum: String,
    /// Per cent, and what it comes to.
    pub tax: Option<(Decimal, String)>,
    pub total: String,
    pub used: Vec<Used>,
}

/// The bill of the visits in `material`. A cow of whom nothing but a remark was taken down is not billed.
pub fn bill(material: &Material, prices: &Prices) -> Bill {
    let (mut visits, mut heads) = (HashSet::new(), HashSet::new());
    let mut blocks: BTreeMap<String, usize> = BTreeMap::new();
    let mut wraps = 0;
    for s in &material.seen {
        let visit = (s.farm.as_deref().map(key), s.date);
        if !s.entry.is_bare() {
            heads.insert((visit.clone(), key(&s.cow)));
        }
        visits.insert(visit);
        for a in &s.entry.actions {
            match a.what {
                Act::Block => {
                    let kind = a.material.as_deref().map_or("any".to_owned(), str::to_lowercase);
                    *blocks.entry(kind).or_default() += 1;
                }
                Act::Wrap => wraps += 1,
                _ => {}
            }
        }
    }
    let money = |d: Decimal| {
        let rounded = d.round_dp_with_strategy(prices.places, RoundingStrategy::MidpointAwayFromZero);
        (rounded, format!("{rounded:.places$}", places = prices.places as usize))
    };
    let (mut lines, mut sum) = (Vec::new(), Decimal::ZERO);
    let mut line = |what: String, number: usize, each: Option<Decimal>| {
        if number == 0 {
            return;
        }
        let amount = each.map(|e| money(e * Decimal::from(number)));
        sum += amount.as_ref().map_or(Decimal::ZERO, |a| a.0);
        lines.push(Line { what, number, each: each.map(|e| e.to_string()), amount: amount.map(|a| a.1) });
    };
    // What a trimmer does not charge for has no price, and no line.
    if prices.call_out.is_some() {
        line("call-out".to_owned(), visits.len(), prices.call_out);
    }
    line("cows".to_owned(), heads.len(), prices.head);
    for (kind, n) in &blocks {
        let name = if kind == "any" { "blocks".to_owned() } else { format!("blocks, {kind}") };
        line(name, *n, prices.blocks.get(kind).copied().or(prices.block));
    }
    line("wraps".to_owned(), wraps, prices.wrap);
    let tax = prices.tax.map(|rate| (rate, money(sum * rate / Decimal::ONE_HUNDRED)));
    let total = sum + tax.as_ref().map_or(Decimal::ZERO, |t| t.1.0);
    let mut used: Vec<Used> = Vec::new();
    let mut kinds: Vec<&String> = blocks.keys().chain(prices.stock.blocks.keys()).collect();
    kinds.sort();
    kinds.dedup();
    for kind in kinds {
        let what = if kind == "any" { "blocks, kind not said".to_owned() } else { format!("blocks, {kind}") };
        let stock = prices.stock.blocks.get(kind).copied();
        used.push(Used { what, used: blocks.get(kind).copied().unwrap_or(0), stock });
    }
    if wraps > 0 || prices.stock.wraps.is_some() {
        used.push(Used { what: "wraps".to_owned(), used: wraps, stock: prices.stock.wraps });
    }
    Bill {
        currency: prices.currency.clone(),
        lines,
        sum: money(sum).1,
        tax: tax.map(|(rate, (_, amount))| (rate.normalize(), amount)),
        total: money(total).1,
        used,
    }
}

impl Bill {
    pub fn text(&self, title: &str) -> String {
        let mut out = hang("", title);
        let mut table = Table::new(2).right(&[1, 2, 3]);
        table.row(["", "number", "each", &self.currency]);
        for l in &self.lines {
            let none = || "no price".to_owned();
            let each = l.each.clone().unwrap_or_else(none);
            table.row([l.what.clone(), l.number.to_string(), each, l.amount.clone().unwrap_or_else(|| "-".to_owned())]);
        }
        table.row(["sum", "", "", &self.sum]);
        if let Some((rate, amount)) = &self.tax {
            table.row(["tax".to_owned(), String::new(), format!("{rate} %"), amount.clone()]);
            table.row(["total", "", "", &self.total]);
        }
        out += &table.to_string();
        if !self.used.is_empty() {
            let mut table = Table::new(2).right(&[1, 2, 3]);
            table.row(["", "used", "stock", "left"]);
            for u in &self.used {
                let left = u.stock.map(|s| i64::from(s) - i64::try_from(u.used).unwrap_or(i64::MAX));
                let told = |n: Option<i64>| n.map_or("-".to_owned(), |n| n.to_string());
                table.row([u.what.clone(), u.used.to_string(), told(u.stock.map(i64::from)), told(left)]);
            }
            out += &format!("\nsupplies\n{table}");
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::report::due::tests::material;

    const PRICES: &str = "currency = \"USD\"\ncall_out = 60\nhead = \"18.35\"\nblock = \"20.10\"\nwrap = \"0.05\"\n\
                          tax = \"7.5\"\n[blocks]\nrubber = \"22.40\"\n[stock]\nwraps = 1\nblocks = { rubber = 10 }\n";

    #[test]
    fn sums_are_exact_and_rounded_once_a_line() {
        let actions = json!([{"what":"block","material":"rubber"},{"what":"block"},{"what":"wrap"},{"what":"wrap"}]);
        let day = material(&[
            ("2026-03-12", json!({"actions": actions})),
            ("2026-03-13", json!({"remarks": ["not trimmed"]})),
        ]);
        let bill = bill(&day, &Prices::read(PRICES).unwrap());
        let lines: Vec<String> =
            bill.lines.iter().map(|l| format!("{} {} {}", l.what, l.number, l.amount.as_ref().unwrap())).collect();
        assert_eq!(
            lines,
            ["call-out 2 120.00", "cows 1 18.35", "blocks 1 20.10", "blocks, rubber 1 22.40", "wraps 2 0.10"]
        );
        // 180.95 * 0.075 = 13.57125
        assert_eq!(
            (bill.sum.as_str(), bill.tax.unwrap().1.as_str(), bill.total.as_str()),
            ("180.95", "13.57", "194.52")
        );
        assert_eq!(bill.used[2], Used { what: "wraps".to_owned(), used: 2, stock: Some(1) });
    }

    #[test]
    fn what_would_not_be_exact_is_refused() {
        for (text, told) in [
            ("currency = \"USD\"\nhead = 18.35\n", "write amounts in quotes, so that they are exact: \"18.35\""),
            ("currency = \"USD\"\nhead = \"-1\"\n", "`-1` is below zero"),
            ("currency = \"USD\"\nhead = \"many\"\n", "`many` is no amount"),
            ("currency = \"USD\"\nhaed = 3\n", "unknown field `haed`"),
            ("head = 3\n", "missing field `currency`"),
        ] {
            let why = Prices::read(text).unwrap_err();
            assert!(why.contains(told), "{why}");
        }
    }
}
