//! Now: the local time, or what `CHUTESCRIBE_NOW` says, so that tests and demos come out the same.

use chrono::{Local, SubsecRound};
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
