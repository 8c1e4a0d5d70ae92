//! `page`: the files it writes, what it serves, and what it says where it cannot.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};

use crate::case::Case;

/// The smallest WebAssembly module that there is: what is inside does not matter here.
const CORE: &[u8] = b"\0asm\x01\0\0\0";

fn with_core() -> Case {
    Case::new().with("core.wasm", CORE)
}

#[test]
fn the_files_are_written_with_a_list_of_them_all() {
    let case = with_core();
    let ran = case.run(&["page", "--core", "core.wasm", "--out", "site"]).code(0);
    assert!(ran.stdout().starts_with("written: 30 files into site\n"), "{}", ran.stdout());
    let list = case.text("site/version.js");
    let names: Vec<String> =
        serde_json::from_str(list.split_once("self.FILES = ").unwrap().1.trim_end().trim_end_matches(';')).unwrap();
    // All but the worker and its list are kept on the phone, and the page as it is opened.
    assert_eq!(names.len(), 29, "{names:?}");
    for name in names.iter().filter(|n| *n != "./") {
        assert!(case.path("site").join(name).is_file(), "{name}");
    }
    assert_eq!(std::fs::read(case.path("site/core.wasm")).unwrap(), CORE);
    // Again: the same.
    case.run(&["page", "--core", "core.wasm", "--out", "again"]).code(0);
    assert_eq!(case.text("again/version.js"), list);
}

#[test]
fn without_a_core_it_says_how_to_build_one() {
    if chutescribe::page::CORE.is_none() {
        Case::new().run(&["page", "--out", "site"]).code(1).out("").err(
            "error: this program was built without the page's core; build it with `web/build.sh` and name it with \
             `--core web/dist/core.wasm`\n",
        );
    }
    Case::new()
        .run(&["page", "--core", "core.wasm"])
        .code(1)
        .err("error: `core.wasm` cannot be read: no such file or directory\n");
    let none = Case::new().with("core.wasm", "<html>");
    none.run(&["page", "--core", "core.wasm", "--out", "site"])
        .code(1)
        .err("error: `core.wasm` is no WebAssembly: build the core with `web/build.sh`\n");
    assert!(!none.path("site").exists());
}

#[test]
fn a_folder_that_takes_no_files_and_an_address_that_cannot_be_had_are_told() {
    let case = with_core().with("site", "a file");
    case.run(&["page", "--core", "core.wasm", "--out", "site"]).code(1).out("");
    case.run(&["page", "--core", "core.wasm", "--listen", "somewhere"]).code(2);
    // An address for documentation (RFC 5737), which no machine has.
    let ran = case.run(&["page", "--core", "core.wasm", "--listen", "192.0.2.1:80"]).code(1);
    assert!(ran.stderr().contains("`192.0.2.1:80` cannot be listened at: "), "{}", ran.stderr());
}

/// A serving program that is ended with the test.
struct Serving(Child);

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Serves at that address; gives what it said on standard output, to the first line's end.
fn serve(case: &Case, listen: &str) -> (Serving, String) {
    let child = Command::new(assert_cmd::cargo::cargo_bin!("chutescribe"))
        .args(["page", "--core"])
        .arg(case.path("core.wasm"))
        .args(["--listen", listen])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut serving = Serving(child);
    let mut line = String::new();
    BufReader::new(serving.0.stdout.take().unwrap()).read_line(&mut line).unwrap();
    (serving, line)
}

fn answer(address: &str, request: &str) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    stream.write_all(request.as_bytes()).unwrap();
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).unwrap();
    String::from_utf8_lossy(&answer).into_owned()
}

#[test]
fn it_serves_the_page_on_this_machine_with_a_strict_policy() {
    let case = with_core();
    let (_serving, said) = serve(&case, "127.0.0.1:0");
    let address = said.strip_prefix("the page is at http://").unwrap().split('/').next().unwrap();
    let page = answer(address, "GET / HTTP/1.1\r\nHost: x\r\n\r\n");
    assert!(page.starts_with("HTTP/1.1 200 OK\r\n") && page.ends_with("</html>\n"), "{page}");
    assert!(page.contains("\r\nContent-Security-Policy: default-src 'none'; "));
    assert!(page.contains("\r\nX-Content-Type-Options: nosniff\r\n"));
    let head = answer(address, "HEAD /core.wasm HTTP/1.1\r\n\r\n");
    assert!(head.contains("application/wasm\r\nContent-Length: 8\r\n") && head.ends_with("\r\n\r\n"), "{head}");
    assert!(answer(address, "GET /../../etc/passwd HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 404 "));
    assert!(answer(address, "PUT / HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 405 "));
    // Who sends nothing keeps nobody else waiting.
    let _idle = TcpStream::connect(address).unwrap();
    assert!(answer(address, "GET /app.js HTTP/1.1\r\n\r\n").contains("text/javascript"));
}

#[test]
fn another_address_is_served_only_when_asked_and_with_what_that_means() {
    let case = with_core();
    let (mut serving, said) = serve(&case, "0.0.0.0:0");
    assert!(said.starts_with("the page is at http://0.0.0.0:"), "{said}");
    serving.0.kill().unwrap();
    let mut told = String::new();
    serving.0.stderr.take().unwrap().read_to_string(&mut told).unwrap();
    assert!(told.starts_with("anyone in this network can open the page at 0.0.0.0:"), "{told}");
    assert!(told.contains("plain http") && told.contains("only over https or on this very machine"), "{told}");
}
