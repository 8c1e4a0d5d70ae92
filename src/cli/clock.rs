//! Now: the local time, or what `CHUTESCRIBE_NOW` says, so that tests and demos come out the same.

use chrono::{Local, NaiveDateTime, SubsecRound, TimeZone};
use chutescribe::log::record::Stamp;

use super::fail::Fail;

/// The variable that sets the clock: RFC 3339, such as `2026-03-12T09:41:07-05:00`.
pub(crate) const VARIABLE: &str = "CHUTESCRIBE_NOW";

/// The local time in whole seconds.
pub(crate) fn now() -> Result<Stamp, Fail> {
    let Ok(set) = std::env::var(VARIABLE) else { return Ok(Local::now().fixed_offset().trunc_subsecs(0)) };
    Stamp::parse_from_rfc3339(&set)
        .map(|t| t.trunc_subsecs(0))
        .map_err(|e| Fail::Told(format!("{VARIABLE} is `{set}`: {e}; write it as 2026-03-12T09:41:07-05:00")))
}

/// What the clock showed at that local time; `now` gives the offset where the clock is set.
pub(crate) fn at(time: NaiveDateTime, now: Stamp) -> Stamp {
    let local = match std::env::var(VARIABLE) {
        Ok(_) => None,
        // An hour that comes twice is taken the first time; one that the clock skips has the offset of now.
        Err(_) => Local.from_local_datetime(&time).earliest().map(|t| t.fixed_offset()),
    };
    local.or_else(|| now.offset().from_local_datetime(&time).earliest()).unwrap_or(now).trunc_subsecs(0)
}
