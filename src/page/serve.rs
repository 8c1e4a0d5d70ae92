//! Serves the page, and nothing else: files out of memory, by GET and HEAD, one connection a request.

use std::io::{self, BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::Arc;
use std::thread;
use std::time::Duration;

use super::{POLICY, Page, media_type};

/// A longer head of a request is none that a browser sends for these files.
const LONGEST: u64 = 16 * 1024;
/// Who says nothing for so long is left.
const PATIENCE: Duration = Duration::from_secs(10);

/// Answers requests until the program is ended.
///
/// # Errors
/// Where the listener fails; a connection that does is left.
pub fn serve(listener: &TcpListener, page: Page) -> io::Result<()> {
    let page = Arc::new(page);
    loop {
        let (stream, _) = listener.accept()?;
        let page = Arc::clone(&page);
        // Whoever went away meanwhile wants no answer.
        thread::spawn(move || answer(stream, &page));
    }
}

fn answer(mut stream: TcpStream, page: &Page) -> io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let mut head = BufReader::new(Read::by_ref(&mut stream).take(LONGEST));
    let mut first = String::new();
    head.read_line(&mut first)?;
    let mut line = String::new();
    while head.read_line(&mut line)? > 0 && !line.trim_end().is_empty() {
        line.clear();
    }
    let (status, name, body) = response(&first, page);
    write!(
        stream,
        "HTTP/1.1 {status}\r\nContent-Type: {}\r\nContent-Length: {}\r\nContent-Security-Policy: {POLICY}\r\n\
         X-Content-Type-Options: nosniff\r\nReferrer-Policy: no-referrer\r\nCache-Control: no-cache\r\n\
         Connection: close\r\n\r\n",
        media_type(name),
        body.len()
    )?;
    if !first.starts_with("HEAD ") {
        stream.write_all(body)?;
    }
    stream.flush()
}

/// Status, name and body for the first line of a request.
fn response<'a>(first: &str, page: &'a Page) -> (&'static str, &'a str, &'a [u8]) {
    let mut words = first.split_ascii_whitespace();
    let (Some(method), Some(target), Some(_)) = (words.next(), words.next(), words.next()) else {
        return ("400 Bad Request", "error.txt", b"this is no request\n");
    };
    if !matches!(method, "GET" | "HEAD") {
        return ("405 Method Not Allowed", "error.txt", b"only GET and HEAD\n");
    }
    let path = target.split(['?', '#']).next().unwrap_or_default();
    match page.at(path) {
        Some((name, bytes)) => ("200 OK", name, bytes),
        None => ("404 Not Found", "error.txt", b"there is no such file in the page\n"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_files_of_the_page_are_answered() {
        let page = Page::with(b"\0asm\x01\0\0\0").unwrap();
        let status = |first: &str| response(first, &page).0;
        assert_eq!(response("GET /?x=1 HTTP/1.1\r\n", &page).1, "index.html");
        assert_eq!(status("HEAD /core.wasm HTTP/1.1\r\n"), "200 OK");
        assert_eq!(status("GET /../../etc/passwd HTTP/1.1\r\n"), "404 Not Found");
        assert_eq!(status("GET /%2e%2e/x HTTP/1.1\r\n"), "404 Not Found");
        assert_eq!(status("POST / HTTP/1.1\r\n"), "405 Method Not Allowed");
        assert_eq!(status("\r\n"), "400 Bad Request");
    }
}
