//! The library's build script: packs the pronouncing dictionary, and takes what is said to people only out of the
//! vocabulary, where it is built for the browser; and builds the browser's core into the program where
//! `CHUTESCRIBE_CORE` names it.

use std::{env, fs, path::Path};

#[path = "../../src/vocab/sound/packed.rs"]
mod packed;

const DICTIONARY: &str = "vocab/sound/dictionary.txt";

const VOCABULARY: [&str; 10] =
    ["places", "disorders", "actions", "measures", "times", "numbers", "cues", "fillers", "context", "tuning"];

fn main() {
    for file in [DICTIONARY, "vocab/sound/pack.rs", "src/vocab/sound/packed.rs"] {
        println!("cargo::rerun-if-changed={file}");
    }
    println!("cargo::rerun-if-env-changed=CHUTESCRIBE_CORE");
    println!("cargo::rustc-check-cfg=cfg(core_built_in)");
    if env::var("CARGO_CFG_TARGET_FAMILY").is_ok_and(|family| family == "wasm") {
        let text = fs::read_to_string(DICTIONARY).expect("the dictionary is part of the source");
        let out = env::var("OUT_DIR").expect("cargo sets it");
        fs::write(Path::new(&out).join("dictionary.packed"), packed::pack(&text))
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

/// The same tables without comments, empty lines and the spaces between values: 3.7 kB less of the core, gzipped.
fn without_comments(text: &str) -> String {
    let told = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    told.map(|line| line.replace("\", \"", "\",\"").replace(" = ", "=") + "\n").collect()
}
