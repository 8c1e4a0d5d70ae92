#!/bin/sh
# Spoken end to end: voices of flite say the sentences of spoken.tsv, pocketsphinx hears them with the model that
# `chutescribe words --hints arpa` makes and with its own, `chutescribe read` reads what it wrote, score.py scores.
#
#   tests/listen/run.sh [CHUTESCRIBE]      the program; built where none is named
#
# LISTEN_DIR: a folder for sounds and the Python environment, kept for the next run [default: a new one, removed].
# Needs Debian's flite, sox and python3-venv, and installs them (as root) where they are missing.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
top=$(cd "$here/../.." && pwd)
if [ -n "${LISTEN_DIR:-}" ]; then
    work=$LISTEN_DIR
    mkdir -p "$work"
else
    work=$(mktemp -d)
    trap 'rm -rf "$work"' EXIT
fi

missing=
for tool in flite sox; do command -v "$tool" >/dev/null || missing="$missing $tool"; done
python3 -c 'import ensurepip' 2>/dev/null || missing="$missing python3-venv"
if [ -n "$missing" ]; then
    apt-get update -q
    # shellcheck disable=SC2086 # a list of packages
    apt-get install -q -y --no-install-recommends $missing
fi
if ! "$work/venv/bin/python" -c 'import pocketsphinx' 2>/dev/null; then
    python3 -m venv "$work/venv"
    "$work/venv/bin/pip" install -q --disable-pip-version-check pocketsphinx==5.1.1
fi

if [ $# -gt 0 ]; then
    program=$1
else
    (cd "$top" && cargo build --release --quiet)
    program=${CARGO_TARGET_DIR:-$top/target}/release/chutescribe
fi

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

"$program" words --hints arpa --herd "$here/herd.txt" --out "$work/model" >"$work/made.txt"
"$work/venv/bin/python" "$here/hear.py" "$here/spoken.tsv" "$work" "$work/without.tsv"
"$work/venv/bin/python" "$here/hear.py" "$here/spoken.tsv" "$work" "$work/with.tsv" --model "$work/model"
for heard in without with; do
    cut -f4 "$work/$heard.tsv" >"$work/$heard.txt"
    "$program" read --json --on 2026-03-12 --herd "$here/herd.txt" "$work/$heard.txt" >"$work/$heard.jsonl" ||
        test -s "$work/$heard.jsonl"
done
python3 "$here/score.py" "$here/spoken.tsv" "$work/without.tsv" "$work/without.jsonl"
python3 "$here/score.py" "$here/spoken.tsv" "$work/with.tsv" "$work/with.jsonl" --floor 0.85 --silent 3 ${VERBOSE:+-v}
