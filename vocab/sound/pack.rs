//! The library's build script: packs the pronouncing dictionary, and takes what is said to people only out of the
//! vocabulary, where it is built for the browser; and builds the browser's core into the program where
//! `CHUTESCRIBE_CORE` names it.

use std::{env, fs, path::Path};

#[path = "../../src/vocab/sound/packed.rs"]
mod packed;

const DICTIONARY: &str = "vocab/sound/dictionary.txt";
const EVERYDAY: &str = "vocab/everyday/words.txt";

const VOCABULARY: [&str; 10] =
    ["places", "disorders", "actions", "measures", "times", "numbers", "cues", "fillers", "context", "tuning"];

fn main() {
    for file in [DICTIONARY, EVERYDAY, "vocab/sound/pack.rs", "src/vocab/sound/packed.rs"] {
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
        fs::write(Path::new(&out).join("everyday.front"), by_their_fronts(&words))
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

/// Each word by how many letters it shares with the one before (`A` for none), and the rest of it: a third less, gzipped.
/// `src/matches/everyday.rs` puts them together again.
fn by_their_fronts(words: &str) -> String {
    let mut before = "";
    let mut out = String::new();
    for word in words.lines() {
        let shared = before.bytes().zip(word.bytes()).take_while(|(a, b)| a == b).count();
        out.push(char::from(b'A' + u8::try_from(shared).expect("no word is that long")));
        out.push_str(&word[shared..]);
        before = word;
    }
    out
}

/// The same tables without comments, empty lines and the spaces between values: 3.7 kB less of the core, gzipped. Forms
/// stand by the alphabet, so that those that begin alike are side by side: 0.8 kB less.
fn without_comments(text: &str) -> String {
    let told = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    told.map(|line| by_the_alphabet(line).replace("\", \"", "\",\"").replace(" = ", "=") + "\n").collect()
}

/// A line with a list of forms, sorted; any other as it is.
fn by_the_alphabet(line: &str) -> String {
    let list = |key: &str| line.strip_prefix(key)?.strip_suffix("\"]").map(|forms| (key.to_owned(), forms));
    let found = list("say = [\"").or_else(|| list("write = [\""));
    // A form that is a quotation mark stands in other marks.
    let Some((key, forms)) = found.filter(|_| !line.contains("'\"'") && !line.contains("\\\"")) else {
        return line.to_owned();
    };
    let mut forms: Vec<&str> = forms.split("\", \"").collect();
    forms.sort_unstable();
    format!("{key}{}\"]", forms.join("\", \""))
}
