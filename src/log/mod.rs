//! The log: one JSON object a line, only ever appended to (`README.md`, "The log").
//!
//! [`read`] takes the lines apart, [`fold`] applies answers and strikes, [`append`] adds lines.

mod after;
pub mod append;
pub mod check;
mod counts;
pub mod fold;
pub mod history;
pub mod id;
pub mod intake;
pub mod merge;
mod path;
mod pieces;
pub mod read;
pub mod record;
#[cfg(test)]
mod schema;
pub mod seal;

pub use append::{AppendError, Writer};
pub use counts::Counts;
pub use fold::{Book, Kept, Misfit, Rest, fold};
pub use intake::{Intake, Taken};
pub use path::Path;
pub use read::{BadLine, Problem, ReadLog, read_file};
pub use record::{AnswerLine, EntryLine, Record, Source, StrikeLine, VisitLine};
