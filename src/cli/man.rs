//! `man`: the manual page, of the program or of one command.

use clap::CommandFactory;

use super::fail::Fail;
use super::out::Out;

#[derive(Debug, clap::Args)]
pub(crate) struct Args {
    /// The page of this command
    #[arg(value_name = "COMMAND")]
    command: Option<String>,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let mut program = super::Cli::command();
    program.build();
    let page = match &args.command {
        None => program,
        Some(name) => {
            let found = program.find_subcommand(name).cloned();
            let found = found.ok_or_else(|| Fail::Told(format!("there is no command `{name}`")))?;
            found.display_name(format!("chutescribe-{name}"))
        }
    };
    let mut text = Vec::new();
    clap_mangen::Man::new(page).render(&mut text)?;
    out.print(&String::from_utf8_lossy(&text))
}
