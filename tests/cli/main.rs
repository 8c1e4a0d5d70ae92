//! The program from outside: exact output, exit codes, and the bytes of the log.

mod ask;
mod bad_input;
mod case;
mod demo;
mod note;
mod read;
mod settle;
mod strike;
mod words;
