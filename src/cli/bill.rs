//! `bill`: lines and sums from a price file, and the supplies used.

use std::path::PathBuf;

use chutescribe::report::bill::{Prices, bill};

use super::args::{LogAt, text_of};
use super::fail::Fail;
use super::out::Out;
use super::report::{Form, Which, material, nothing, one_farm};

#[derive(Debug, clap::Args)]
#[command(after_help = "The price file is TOML, amounts in quotes:\n  currency = \"USD\"\n  call_out = \"60.00\"\n  \
                        head = \"18.50\"\n  block = \"20.00\"\n  blocks = { rubber = \"22.50\" }\n  wrap = \"6.00\"\n  \
                        tax = \"7.5\"        # per cent\n  [stock]\n  wraps = 40\n  blocks = { rubber = 25 }")]
pub(crate) struct Args {
    /// What things cost, and what was in stock
    #[arg(long, value_name = "FILE")]
    prices: PathBuf,
    #[command(flatten)]
    which: Which,
    #[command(flatten)]
    log: LogAt,
    #[command(flatten)]
    form: Form,
}

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let name = args.prices.display();
    let prices = Prices::read(&text_of(&args.prices)?).map_err(|e| Fail::Told(format!("`{name}`: {e}")))?;
    let scope = args.which.scope()?;
    let whole = scope.from.is_none() && scope.to.is_none();
    let mut visits = material(&args.log, scope, out)?;
    // Without a period, the last visit.
    if let Some(day) = visits.last_day().filter(|_| whole) {
        visits = visits.on(day);
    }
    if nothing(&visits, &args.form, out)? {
        return Ok(());
    }
    if visits.scope().farm.is_none() {
        let Some(farm) = one_farm(&visits, out)? else { return Ok(()) };
        visits = visits.at(farm);
    }
    let bill = bill(&visits, &prices);
    if !args.form.is_text() {
        return args.form.rows(&bill.lines, out);
    }
    out.print(&bill.text(&format!("for the work{}", visits.scope().words())))?;
    if let Some(why) = visits.left.words() {
        out.line(&format!("\n{why}"))?;
    }
    Ok(())
}
