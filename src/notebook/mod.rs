//! Brings old notebooks in: headings become visits, lines entries, and what is no hoof note is kept as such.
//!
//! The road: [`text`] makes lines of bytes; a [`Looker`] looks at each line by itself; a [`Scan`] over the whole file
//! finds what is decided once (the order of day and month, shorthand that nobody knows) and gives a [`Plan`] of its
//! visits; an [`Import`] goes over the file again, block by block, and makes records.

pub mod answers;
mod calendar;
mod date;
mod ditto;
mod earlier;
mod errand;
mod farm;
mod heading;
mod heads;
mod import;
mod order;
mod prepare;
pub mod print;
mod quoted;
mod rewrite;
mod roles;
mod scan;
mod slips;
mod sort;
pub mod table;
mod tag;
pub mod text;

pub use calendar::Day;
pub use earlier::{Earlier, Gone};
pub use heading::{Heading, has_day};
pub use import::{Import, Item, Reads, Step, Visit};
pub use order::{Decision, Order};
pub use prepare::{Is, Looker, NoteLine, Prepared, unknown_word};
pub use scan::{Given, GivenDay, OtherName, Plan, Scan, Unknown};
pub use sort::Why;
