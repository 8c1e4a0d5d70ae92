//! The program from outside: exact output, exit codes, and the bytes of the log.

mod ask;
mod bad_input;
mod case;
mod demo;
mod hearings;
mod herd;
mod hints;
mod learn;
mod note;
mod notebook;
mod read;
mod settle;
mod strike;
mod timed;
mod words;
