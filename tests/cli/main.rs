//! The program from outside: exact output, exit codes, and the bytes of the log.

mod ask;
mod bad_input;
mod bill;
mod case;
mod check;
mod cow;
mod demo;
mod due;
mod export;
mod hearings;
mod herd;
mod herd_report;
mod hints;
mod history;
mod learn;
mod merge;
mod note;
mod notebook;
mod nothing;
mod page;
mod read;
mod settle;
mod sheet;
mod strike;
mod timed;
mod words;
