"""Writes web/page/licences.txt, what the page is made of: python3 web/licences.py [--check]

Crates are those that cargo links into the core for the browser; build scripts and macros are not shipped. `--check`
also looks that the core has the very versions that the program has, whose licences and sources cargo-deny looks at.
"""

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TARGET = "wasm32-unknown-unknown"
NAMES = re.compile(r"^(LICEN[CS]E|COPYING|COPYRIGHT|NOTICE|UNLICENSE)", re.I)
# Of several licences at choice, the first of these that a crate has.
WANTED = ["MIT", "ISC", "BSD-3-Clause", "Zlib", "Unicode-3.0", "Apache-2.0", "Unlicense"]


def cargo(*arguments):
    """What cargo says of the core."""
    told = subprocess.run(["cargo", *arguments, "--locked", "--manifest-path", ROOT / "web/core/Cargo.toml"],
                          check=True, capture_output=True, text=True)
    return told.stdout


def crates():
    """(name, version, licence, folder) of what is linked into the core."""
    tree = cargo("tree", "--target", TARGET, "--edges", "normal,no-proc-macro", "--prefix", "none", "--format", "{p}")
    linked = {tuple(line.split()[:2]) for line in tree.splitlines() if line.strip()}
    packages = json.loads(cargo("metadata", "--format-version", "1", "--filter-platform", TARGET))["packages"]
    found = (p for p in packages if p["source"] and (p["name"], f"v{p['version']}") in linked)
    return sorted((p["name"], p["version"], p["license"], Path(p["manifest_path"]).parent) for p in found)


def texts(folder, licence):
    """The licence's text as the crate carries it; of several, the one that is wanted."""
    files = sorted(f for f in folder.iterdir() if f.is_file() and NAMES.match(f.name))
    if " AND " in licence:
        # All of them hold; only Apache-2.0 is always one of two at choice.
        return [f for f in files if "APACHE" not in f.name.upper() and "COPYRIGHT" not in f.name.upper()]
    for wanted in WANTED:
        key = wanted.split("-")[0].upper()
        if wanted in licence:
            mine = [f for f in files if key in f.name.upper()]
            if mine:
                return mine
    return files[:1]


def same_versions():
    """Ends with what the core has of another version than the program."""
    locks = [ROOT / "Cargo.lock", ROOT / "web/core/Cargo.lock"]
    program, core = ({(p["name"], p["version"]) for p in tomllib.loads(f.read_text(encoding="utf-8"))["package"]} for f in locks)
    other = sorted(f"{name} {version}" for name, version in core - program if name != "chutescribe-core")
    if other:
        sys.exit(f"not of the program's version: {', '.join(other)}; "
                 "cp Cargo.lock web/core/ && cargo metadata --manifest-path web/core/Cargo.toml >/dev/null")


def main():
    head = [
        "What this page is made of. Its own part is under MIT or Apache-2.0, whichever you like:",
        "",
        (ROOT / "LICENSE-MIT").read_text(encoding="utf-8").strip(),
    ]
    parts = [("idb, the store's wrapper", "ISC", [ROOT / "web/page/vendor/idb-LICENSE.txt"]),
             ("the pronouncing dictionary", "BSD-like", [ROOT / "vocab/sound/LICENSE-cmudict"]),
             ("the list of common words (SCOWL)", "MIT-like", [ROOT / "vocab/everyday/LICENSE-scowl"]),
             ("Rust's standard library, (c) The Rust Project Contributors, under the text at the top", "MIT OR Apache-2.0", [])]
    parts += [(f"{name} {version}", licence, texts(folder, licence)) for name, version, licence, folder in crates()]
    known = {}
    out = ["\n".join(head)]
    for name, licence, files in parts:
        lines = ["", "=" * 72, f"{name}: {licence}"]
        for file in files:
            text = file.read_text(encoding="utf-8").strip()
            # Many carry the very same text.
            if text in known:
                lines += ["", f"(its text is that of {known[text]} above)"]
            else:
                known[text] = name
                lines += ["", text]
        out.append("\n".join(lines))
    text = "\n".join(out) + "\n"
    place = ROOT / "web/page/licences.txt"
    if "--check" in sys.argv[1:]:
        same_versions()
        if place.read_text(encoding="utf-8") != text:
            sys.exit("web/page/licences.txt is stale: python3 web/licences.py")
    else:
        place.write_text(text, encoding="utf-8")


main()
