//! The library's build script: packs the pronouncing dictionary, and takes what is said to people only out of the
//! vocabulary, where it is built for the browser; and builds the browser's core into the program where
//! `CHUTESCRIBE_CORE` names it.

use std::{env, fs, path::Path};

#[allow(dead_code, reason = "the library reads them again")]
#[path = "../../src/words/fronts.rs"]
mod fronts;
#[path = "../../src/vocab/sound/packed.rs"]
mod packed;

const DICTIONARY: &str = "vocab/sound/dictionary.txt";
const EVERYDAY: &str = "vocab/everyday/words.txt";

const VOCABULARY: [&str; 10] =
    ["places", "disorders", "actions", "measures", "times", "numbers", "cues", "fillers", "context", "tuning"];

fn main() {
    for file in [DICTIONARY, EVERYDAY, "vocab/sound/pack.rs", "src/vocab/sound/packed.rs", "src/words/fronts.rs"] {
        println!("cargo::rerun-if-changed={file}");
    }
    println!("cargo::rerun-if-env-changed=CHUTESCRIBE_CORE");
    println!("cargo::rustc-check-cfg=cfg(core_built_in)");
    if env::var("CARGO_CFG_TARGET_FAMILY").is_ok_and(|family| family == "wasm") {
        let text = fs::read_to_string(DICTIONARY).expect("the dictionary is part of the source");
        let out = env::var("OUT_DIR").expect("cargo sets it");
        fs::write(Path::new(&out).join("dictionary.packed"), packed::pack(&text))
            .expect("the build folder takes files");
        let words = fs::read_to_string(EVERYDAY).expect("the everyday words are part of the source");
        fs::write(Path::new(&out).join("everyday.front"), by_their_fronts(words.lines()))
            .expect("the build folder takes files");
        for name in VOCABULARY {
            let file = format!("vocab/{name}.toml");
            println!("cargo::rerun-if-changed={file}");
            let text = fs::read_to_string(&file).expect("the vocabulary is part of the source");
            fs::write(Path::new(&out).join(format!("{name}.toml")), without_comments(&text))
                .expect("the build folder takes files");
        }
    } else if let Ok(core) = env::var("CHUTESCRIBE_CORE") {
        let whole = fs::canonicalize(&core).unwrap_or_else(|e| panic!("CHUTESCRIBE_CORE is `{core}`: {e}"));
        println!("cargo::rerun-if-changed={}", whole.display());
        println!("cargo::rustc-cfg=core_built_in");
        println!("cargo::rustc-env=CHUTESCRIBE_CORE_FILE={}", whole.display());
    }
}

/// Each entry by how many letters it shares with the one before (`A` for none), and the rest of it: a third less, gzipped.
/// `src/words/fronts.rs` puts them together again.
fn by_their_fronts<'a>(entries: impl Iterator<Item = &'a str>) -> String {
    /// A capital tells of no more.
    const MOST: usize = 25;
    let mut before = "";
    let mut out = String::new();
    for entry in entries {
        let shared = before.bytes().zip(entry.bytes()).take(MOST).take_while(|(a, b)| a == b).count();
        // Not within a letter of more than one byte.
        let shared = (0..=shared).rev().find(|at| entry.is_char_boundary(*at)).unwrap_or(0);
        out.push(char::from(b'A' + shared as u8));
        out.push_str(&entry[shared..]);
        before = entry;
    }
    out
}

/// The same tables without comments, empty lines and the spaces between values: 3.7 kB less of the core, gzipped. Forms
/// stand by the alphabet, each by the front that it shares with the one before: 7 kB less.
fn without_comments(text: &str) -> String {
    let told = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    told.map(|line| packed_list(line) + "\n").collect()
}

/// A line with a list of forms, sorted and packed; any other as it is, but for spaces.
fn packed_list(line: &str) -> String {
    let list = |key: &str| {
        line.strip_prefix(key)?.strip_prefix(" = [\"")?.strip_suffix("\"]").map(|forms| (key.to_owned(), forms))
    };
    let found = ["say", "write", "heard"].into_iter().find_map(list);
    // A capital is a mark of the packing, and a form that is a quotation mark stands in other marks.
    let plain = |forms: &str| {
        !forms.contains(|c: char| c.is_ascii_uppercase() || c == '\\' || c == '\'' && line.contains("'\"'"))
    };
    let Some((key, forms)) = found.filter(|(_, forms)| plain(forms)) else {
        return line.replace("\", \"", "\",\"").replace(" = ", "=");
    };
    let mut forms: Vec<&str> = forms.split("\", \"").collect();
    forms.sort_unstable();
    let packed = format!("{key}=\"{}\"", by_their_fronts(forms.iter().copied()));
    let whole = format!("{key}=[\"{}\"]\n", forms.join("\",\""));
    assert_eq!(fronts::with_whole_lists(&packed), whole, "a list does not come back from its fronts");
    packed
}
