//! What the records are used for: pure functions from a log's entries to values, which the commands print.
//!
//! What an open question concerns and what is struck is left out, and counted at the foot ([`LeftOut`]).

pub mod bill;
#[cfg(not(target_family = "wasm"))]
pub mod calendar;
pub mod care;
pub mod cases;
#[cfg(not(target_family = "wasm"))]
pub mod charts;
pub mod cow;
pub mod due;
mod due_text;
pub mod export;
pub mod foot_map;
pub mod herd;
pub mod herd_file;
#[cfg(not(target_family = "wasm"))]
pub mod herd_html;
pub mod herd_table;
mod herd_text;
pub mod html;
mod material;
pub mod pile;
pub mod sheet;
mod sheet_html;
mod sheet_text;
pub mod survival;
mod table;
pub mod wilson;

pub use due_text::due_text;
pub use material::{LeftOut, Material, Scope, Seen, key};
pub use table::Table;
