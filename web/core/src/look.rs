//! Looking things up: what is due, and a cow's history, in this log and the one that was opened beside it.

use std::collections::HashMap;

use chrono::NaiveDate;
use chutescribe::log::fold::{self, Book};
use chutescribe::report::due::{self, Rules};
use chutescribe::report::{Material, Scope, cases, cow as history};
use chutescribe::show;
use serde_json::{Value, json};

use crate::state::State;

/// What is due by today at the farm, overdue first, and what is left out of it.
pub(crate) fn due(state: &State, farm: Option<String>, today: NaiveDate) -> Value {
    let material = Material::of(&both(state), Scope { farm, ..Scope::default() });
    let list = due::due(&material, &HashMap::new(), &Rules::default(), today);
    let items: Vec<Value> = list
        .items
        .iter()
        .filter(|i| i.on <= today)
        .map(|i| {
            json!({
                "cow": i.cow,
                "farm": i.farm,
                "day": show::day(i.on),
                "late": i.until < today,
                "place": i.place(),
                "what": i.what.words(),
                "about": i.about(),
            })
        })
        .collect();
    json!({ "items": items, "nothing": material.nothing(), "left": material.left.words() })
}

/// One cow's history, farm by farm.
pub(crate) fn cow(state: &State, cow: String, farm: Option<String>, today: NaiveDate) -> Value {
    let material = Material::of(&both(state), Scope { farm, cow: Some(cow), ..Scope::default() });
    let told = history::told(&material, today, cases::GAP);
    json!({ "told": told, "nothing": material.nothing(), "left": material.left.words() })
}

/// This log and the other one, as though merged: of lines that both have, the first counts.
fn both(state: &State) -> Book {
    if state.past.is_empty() {
        return state.log.book.clone();
    }
    fold::fold(state.past.iter().chain(state.log.records()).cloned())
}
