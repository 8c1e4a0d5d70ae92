//! Made-up inputs of any length, the same for the same seed. `tests/bench` holds them to what they mean.
//!
//! Logs are made by `examples/long_log`.

mod dice;
pub(crate) mod notebook;
pub(crate) mod notes;
