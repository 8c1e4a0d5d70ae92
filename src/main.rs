//! The program: reads its arguments, runs a command, and ends with an exit code.

mod cli;

/// Reading a note asks for many small pieces of memory: a fifth of its time with the system's allocator.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    cli::run()
}
