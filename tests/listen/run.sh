#!/bin/sh
# Spoken end to end: voices of flite say the sentences of spoken.tsv, pocketsphinx hears them with its own model and
# with the one that `chutescribe words --hints arpa` makes, `chutescribe read` reads what it wrote, score.py scores.
#
#   tests/listen/run.sh [CHUTESCRIBE]      the program; built where none is named
#
# Prints F1 and how many are silently wrong, without and with the model. Ends with 1 where with it F1 is below 0.85 or
# more than 3 of 80 are silent, with 77 where something that it needs is missing and cannot be installed: then nothing
# was measured. VERBOSE=1 shows each note that went wrong.
#
# Needs Debian's flite, sox and python3-venv, and pocketsphinx from PyPI; installs what is missing. Sounds and the
# Python environment are kept for the next run in $CI_SCRATCH/listen, else in a folder of the user's cache.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
top=$(cd "$here/../.." && pwd)
work=${CI_SCRATCH:-${XDG_CACHE_HOME:-$HOME/.cache}/chutescribe-ci}/listen
mkdir -p "$work"
work=$(cd "$work" && pwd)
# A data folder that is not there: no words that somebody taught the program change what it says.
export XDG_DATA_HOME="$work/no-data"

skip() {
    printf 'tests/listen/run.sh: SKIPPED, nothing was measured: %s\n' "$1" >&2
    exit 77
}

# Packages of the system: as root, or as one who may be root without a password.
install() {
    root=
    [ "$(id -u)" -eq 0 ] || root='sudo -n'
    command -v apt-get >/dev/null || skip "there is no apt-get to install $* with"
    $root true 2>/dev/null || skip "$* cannot be installed without root or sudo"
    $root apt-get update -q >&2 || skip "apt-get cannot update its lists"
    $root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "$@" >&2 ||
        skip "apt-get cannot install $*"
}

missing=
for tool in flite sox python3; do command -v "$tool" >/dev/null || missing="$missing $tool"; done
python3 -c 'import ensurepip' 2>/dev/null || missing="$missing python3-venv"
# shellcheck disable=SC2086 # a list of packages
[ -z "$missing" ] || install $missing

python=$work/venv/bin/python
if ! "$python" -c 'import pocketsphinx' 2>/dev/null; then
    python3 -m venv --clear "$work/venv" >&2 || skip 'no Python environment can be made'
    "$python" -m pip install -q --disable-pip-version-check pocketsphinx==5.1.1 >&2 ||
        skip 'pip cannot install pocketsphinx'
    "$python" -c 'import pocketsphinx' || skip 'pocketsphinx was installed and cannot be loaded'
fi

if [ $# -gt 0 ]; then
    program=$1
else
    (cd "$top" && cargo build --release --quiet)
    program=${CARGO_TARGET_DIR:-$top/target}/release/chutescribe
fi
[ -x "$program" ] || { printf 'tests/listen/run.sh: there is no program `%s`\n' "$program" >&2; exit 1; }

tab=$(printf '\t')
grep -v '^#' "$here/spoken.tsv" | while IFS="$tab" read -r id said _; do
    for voice in slt rms; do
        sound=$work/$id-$voice
        if [ -s "$sound.wav" ] && [ "$(cat "$sound.txt")" = "$said" ]; then continue; fi
        flite -voice "$voice" -t "$said" -o "$sound-own.wav"
        # A quarter of a second of silence on both sides, as a recording has; no dither, so that each run is the same.
        sox -D "$sound-own.wav" -r 16000 -c 1 -b 16 "$sound.wav" norm -6 pad 0.25 0.25
        rm "$sound-own.wav"
        printf '%s\n' "$said" >"$sound.txt"
    done
done

# What an earlier run came to is not scored in place of this one's.
rm -rf "$work/model" "$work"/with.* "$work"/without.*
"$program" words --hints arpa --herd "$here/herd.txt" --out "$work/model" >"$work/made.txt"
"$python" "$here/hear.py" "$here/spoken.tsv" "$work" "$work/without.tsv"
"$python" "$here/hear.py" "$here/spoken.tsv" "$work" "$work/with.tsv" --model "$work/model"
for heard in without with; do
    cut -f4 "$work/$heard.tsv" >"$work/$heard.txt"
    # A note that nothing was heard of is told as wordless; the others are read.
    "$program" read --json --on 2026-03-12 --herd "$here/herd.txt" "$work/$heard.txt" >"$work/$heard.jsonl" ||
        test -s "$work/$heard.jsonl"
done
python3 "$here/score.py" "$here/spoken.tsv" "$work/without.tsv" "$work/without.jsonl"
python3 "$here/score.py" "$here/spoken.tsv" "$work/with.tsv" "$work/with.jsonl" --floor 0.85 --silent 3 ${VERBOSE:+-v}
