#![no_main]

#[path = "../bodies.rs"]
#[allow(dead_code, reason = "each target has its own body")]
mod bodies;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| bodies::vocabulary(bytes));
