//! The program: reads its arguments, runs a command, and ends with an exit code.

mod cli;

fn main() -> std::process::ExitCode {
    cli::run()
}
