//! `completions`: for the user's shell.

use clap::CommandFactory;
use clap_complete::Shell;

use super::fail::Fail;
use super::out::Out;

#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    shell: Shell,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut super::Cli::command(), "chutescribe", &mut text);
    out.print(&String::from_utf8_lossy(&text))
}
