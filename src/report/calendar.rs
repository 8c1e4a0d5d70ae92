//! What is due as a calendar (iCalendar, RFC 5545), for a phone.

use chrono::{DateTime, Days, Utc};
use icalendar::{Calendar, Component, Event, EventLike};

use super::due::Item;
use crate::log::id;

/// One event of a whole day for each item; the same item has the same id each time, so that a calendar takes it once.
pub fn calendar(items: &[Item], now: DateTime<Utc>) -> String {
    let mut calendar = Calendar::new();
    for i in items {
        let farm = i.farm.clone().unwrap_or_default();
        let about = [i.place(), i.about()].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ");
        let (since, on) = (i.since.to_string(), i.on.to_string());
        let same = id::due([&farm, &i.cow, i.what.code(), &i.place(), &since, &on]);
        let mut event = Event::new();
        event
            .uid(&format!("{same}@chutescribe"))
            .timestamp(now)
            .starts(i.on)
            // The day after: an event ends before its end (RFC 5545, 3.6.1).
            .ends(i.on + Days::new(1))
            .summary(&format!("cow {}: {}", i.cow, i.what.words()));
        if !about.is_empty() {
            event.description(&about);
        }
        if !farm.is_empty() {
            event.location(&farm);
        }
        calendar.push(event.done());
    }
    calendar.to_string()
}
