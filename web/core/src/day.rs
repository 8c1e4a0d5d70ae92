//! The day's list: the cows of a visit, and what is open in the whole log.

use chutescribe::log::{Kept, VisitLine};
use serde_json::{Value, json};

use crate::card::Card;
use crate::request::Visit;
use crate::state::State;

/// The cows of the visit, the last one first, and the open questions of other visits with their farm and day.
pub(crate) fn day(state: &State, visit: &Visit) -> Value {
    let book = &state.log.book;
    let name = |n: &Option<String>| n.as_deref().map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned);
    let (farm, trimmer) = (name(&visit.farm), name(&visit.trimmer));
    let id = VisitLine::new(farm.as_deref(), visit.date, trimmer.as_deref(), visit.at).id;
    let here = |e: &&Kept| e.line.visit == id;
    let cows: Vec<Card> = book.entries.iter().filter(here).rev().map(|e| card(state, e)).collect();
    let open = |e: &&Kept| e.struck.is_none() && !e.open.is_empty();
    let elsewhere: Vec<Value> = book
        .entries
        .iter()
        .filter(|e| open(e) && !here(e))
        .map(|e| json!({ "visit": visit_of(state, e), "card": card(state, e) }))
        .collect();
    let questions: usize = book.entries.iter().filter(open).map(|e| e.open.len()).sum();
    json!({ "cows": cows, "elsewhere": elsewhere, "questions": questions, "entries": book.entries.len() })
}

/// An entry's card; of one that was taken back, with the strike that stands.
fn card(state: &State, kept: &Kept) -> Card {
    let mut card = Card::of(kept);
    if kept.struck.is_some() {
        let strikes = &state.log.book.strikes;
        let undone = |id: &str| strikes.iter().any(|s| s.entry == id);
        card.strike = strikes.iter().rev().find(|s| s.entry == kept.line.id && !undone(&s.id)).map(|s| s.id.clone());
    }
    card
}

/// `Juniper Flat, thu 12 mar 2026`.
fn visit_of(state: &State, kept: &Kept) -> String {
    let visit = state.log.book.visits.iter().find(|v| v.id == kept.line.visit);
    let day = chutescribe::show::day(visit.map_or_else(|| kept.line.at.date_naive(), |v| v.date));
    visit.and_then(|v| v.farm.as_ref()).map_or(day.clone(), |farm| format!("{farm}, {day}"))
}
