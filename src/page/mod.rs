//! The page for the phone: its files, built into the program, and what a host has to say of each.

pub mod serve;

use sha2::{Digest, Sha256};

/// A file of the page.
#[derive(Clone, Copy, Debug)]
pub struct PageFile {
    /// With `/` between folders.
    pub name: &'static str,
    pub bytes: &'static [u8],
}

macro_rules! files {
    ($($name:literal),* $(,)?) => {
        &[$(PageFile { name: $name, bytes: include_bytes!(concat!("../../web/page/", $name)) }),*]
    };
}

/// All files but for the core and the list of them all.
pub const FILES: &[PageFile] = files![
    "app.js",
    "card.js",
    "clock.js",
    "core.js",
    "dom.js",
    "feet.js",
    "icon-192.png",
    "icon-512.png",
    "icon.svg",
    "index.html",
    "licences.txt",
    "live.js",
    "log.js",
    "manifest.webmanifest",
    "practice.js",
    "say.js",
    "store.js",
    "style.css",
    "sw.js",
    "ui.js",
    "vendor/idb-LICENSE.txt",
    "vendor/idb.js",
    "views/back.js",
    "views/cows.js",
    "views/due.js",
    "views/more.js",
    "views/note.js",
    "views/open.js",
];

/// The core, where the program was built with one (`CHUTESCRIBE_CORE`).
#[cfg(core_built_in)]
pub const CORE: Option<&[u8]> = Some(include_bytes!(env!("CHUTESCRIBE_CORE_FILE")));
/// The core, where the program was built with one (`CHUTESCRIBE_CORE`).
#[cfg(not(core_built_in))]
pub const CORE: Option<&[u8]> = None;

/// What the browser may do on this page: use its own files, and nothing of any other host.
pub const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
                          connect-src 'self'; img-src 'self'; manifest-src 'self'; worker-src 'self'; \
                          base-uri 'none'; form-action 'none'";

/// The whole page, ready to be written or served.
#[derive(Clone, Debug)]
pub struct Page {
    files: Vec<(&'static str, Vec<u8>)>,
}

impl Page {
    /// The page with that core. The service worker's list of files has a version of what they hold, so that a
    /// phone notices a new one.
    ///
    /// # Errors
    /// Where the core is none.
    ///
    /// # Panics
    /// Never: a hash is long enough.
    pub fn with(core: &[u8]) -> Result<Self, String> {
        if !core.starts_with(b"\0asm") {
            return Err("no WebAssembly: build the core with `web/build.sh`".to_owned());
        }
        let mut files: Vec<(&str, Vec<u8>)> = FILES.iter().map(|f| (f.name, f.bytes.to_vec())).collect();
        files.push(("core.wasm", core.to_vec()));
        let mut hash = Sha256::new();
        for (name, bytes) in &files {
            hash.update(format!("{name} {}\n", bytes.len()));
            hash.update(bytes);
        }
        let hash = hash.finalize();
        let (front, _) = hash.split_first_chunk().expect("a SHA-256 has 32 bytes");
        let version = u64::from_be_bytes(*front);
        // The worker itself is fetched by the browser; `./` is how the page is opened.
        let names: Vec<&str> = files.iter().map(|f| f.0).filter(|n| *n != "sw.js").chain(["./"]).collect();
        let list = format!("self.VERSION = '{version:016x}';\nself.FILES = {};\n", serde_json::json!(names));
        files.push(("version.js", list.into_bytes()));
        Ok(Self { files })
    }

    /// Names and contents.
    pub fn files(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files.iter().map(|(name, bytes)| (*name, bytes.as_slice()))
    }

    /// The file behind a path of the web, such as `/style.css`.
    pub fn at(&self, path: &str) -> Option<(&str, &[u8])> {
        let name = path.strip_prefix('/')?;
        let name = if name.is_empty() { "index.html" } else { name };
        self.files().find(|f| f.0 == name)
    }
}

/// The media type of a file by its name.
pub fn media_type(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "wasm" => "application/wasm",
        "webmanifest" => "application/manifest+json",
        _ => "text/plain; charset=utf-8",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    const CORE: &[u8] = b"\0asm\x01\0\0\0";

    #[test]
    fn every_file_of_the_folder_is_built_in() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("web/page");
        let mut found = BTreeSet::new();
        for folder in ["", "views/", "vendor/"] {
            for file in std::fs::read_dir(root.join(folder)).unwrap().map(Result::unwrap) {
                if file.file_type().unwrap().is_file() {
                    found.insert(format!("{folder}{}", file.file_name().to_string_lossy()));
                }
            }
        }
        assert_eq!(found, FILES.iter().map(|f| f.name.to_owned()).collect());
    }

    #[test]
    fn the_page_itself_says_the_policy_that_the_program_serves_it_with() {
        let page = Page::with(CORE).unwrap();
        let (_, index) = page.at("/").unwrap();
        let meta = format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">");
        assert!(std::str::from_utf8(index).unwrap().contains(&meta), "{meta}");
    }

    #[test]
    fn no_file_names_another_host_as_the_source_of_anything() {
        for file in FILES.iter().filter(|f| !f.name.contains("icence") && !f.name.ends_with(".png")) {
            let text = std::str::from_utf8(file.bytes).unwrap();
            // The name of a language (SVG) is one that looks like an address; in a comment it is none either.
            for line in text.lines().filter(|l| !l.trim_start().starts_with("//")) {
                for (at, _) in line.match_indices("://") {
                    let host = line[at + 3..].split(['/', '\'', '"']).next().unwrap();
                    assert_eq!(host, "www.w3.org", "{}: {line}", file.name);
                }
            }
        }
    }

    #[test]
    fn another_core_is_another_version() {
        let version = |core: &[u8]| {
            let page = Page::with(core).unwrap();
            page.at("/version.js").unwrap().1.to_vec()
        };
        assert_ne!(version(CORE), version(b"\0asm\x01\0\0\0\0"));
        assert!(Page::with(b"GIF89a").is_err());
        assert!(Page::with(CORE).unwrap().at("/../Cargo.toml").is_none());
    }
}
