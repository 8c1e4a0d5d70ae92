//! The program from outside: exact output, exit codes, and the bytes of the log.

mod ask;
mod bad_input;
mod case;
mod check;
mod demo;
mod hearings;
mod herd;
mod hints;
mod history;
mod learn;
mod merge;
mod note;
mod notebook;
mod read;
mod settle;
mod strike;
mod timed;
mod words;
