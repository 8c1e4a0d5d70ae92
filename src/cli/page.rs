//! `page`: the page for the phone, written as files or served.

use std::fs;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener};
use std::path::{Path, PathBuf};

use chutescribe::page::{self, Page, serve};
use chutescribe::show;

use super::fail::Fail;
use super::out::Out;

#[derive(Debug, clap::Args)]
#[command(after_help = "The page understands notes on the phone itself and keeps them there; `merge` brings its log \
                        in. A browser installs it, and opens it without a network, only from `https` or from this \
                        very machine: put the files of `--out` on any web host that has https.")]
pub(crate) struct Args {
    /// Write the page's files into this folder, for any web host, and serve nothing
    #[arg(long, value_name = "DIR", conflicts_with = "listen")]
    out: Option<PathBuf>,
    /// Serve at this address [default: 127.0.0.1:8712, which only this machine can reach]
    #[arg(long, value_name = "ADDRESS")]
    listen: Option<SocketAddr>,
    /// The core that `web/build.sh` built [default: the one built into the program, where it has one]
    #[arg(long, value_name = "FILE")]
    core: Option<PathBuf>,
}

const HERE: SocketAddr = SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), 8712);

pub(crate) fn run(args: &Args, out: &mut Out) -> Result<(), Fail> {
    let page = made(args)?;
    match &args.out {
        Some(folder) => written(&page, folder, out),
        None => served(page, args.listen.unwrap_or(HERE), out),
    }
}

fn made(args: &Args) -> Result<Page, Fail> {
    let Some(path) = &args.core else {
        let core = page::CORE.ok_or_else(|| {
            Fail::Told(
                "this program was built without the page's core; build it with `web/build.sh` and name it with \
                 `--core web/dist/core.wasm`"
                    .to_owned(),
            )
        })?;
        return Page::with(core).map_err(|why| Fail::Told(format!("the core built in is {why}")));
    };
    let name = path.display();
    let core = fs::read(path).map_err(|e| Fail::Told(format!("`{name}` cannot be read: {}", show::trouble(&e))))?;
    Page::with(&core).map_err(|why| Fail::Told(format!("`{name}` is {why}")))
}

/// Writes the files; what else is in the folder stays.
fn written(page: &Page, folder: &Path, out: &mut Out) -> Result<(), Fail> {
    let mut count = 0;
    for (name, bytes) in page.files() {
        let path = folder.join(name);
        let made = path.parent().map_or(Ok(()), fs::create_dir_all).and_then(|()| fs::write(&path, bytes));
        made.map_err(|e| Fail::Told(format!("`{}` cannot be written: {}", path.display(), show::trouble(&e))))?;
        count += 1;
    }
    out.line(&format!("written: {count} files into {}", folder.display()))?;
    out.line("any web host will do; over https a phone can install the page and open it without a network")
}

fn served(page: Page, address: SocketAddr, out: &mut Out) -> Result<(), Fail> {
    let listener = TcpListener::bind(address).map_err(|e| {
        Fail::Told(format!("`{address}` cannot be listened at: {}; name another with `--listen`", show::trouble(&e)))
    })?;
    let address = listener.local_addr()?;
    if !address.ip().is_loopback() {
        out.tell(format_args!(
            "anyone in this network can open the page at {address} now, and it goes over plain http: what is sent \
             can be read and changed on its way. No note leaves a phone through it. Browsers install a page and \
             open it without a network only over https or on this very machine; for phones, use `--out DIR` and a \
             web host with https."
        ))?;
    }
    out.line(&format!("the page is at http://{address}/ until you press Ctrl-C"))?;
    out.flush()?;
    Ok(serve::serve(&listener, page)?)
}
