//! Brings old notebooks in: headings become visits, lines entries, and what is no hoof note is kept as such.

mod calendar;
mod date;
mod heading;
mod order;
mod rewrite;
mod slips;
mod text;
