#!/bin/sh
# A page through OCR: page.tsv set in two fonts that look like handwriting, drawn as an image, read by tesseract,
# imported by `chutescribe notebook` with the herd's tags, scored by score.py.
#
#   tests/ocr/run.sh [CHUTESCRIBE]      the program; built where none is named
#
# Ends with 1 where more than 1 of 40 lines is silently wrong or a line is neither kept nor named, with 77 where
# something that it needs is missing and cannot be installed: then nothing was measured. VERBOSE=1 shows what went wrong.
#
# Needs Debian's tesseract-ocr, fonts-breip, fonts-femkeklaver and python3-pil; installs what is missing.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
top=$(cd "$here/../.." && pwd)
work=${CI_SCRATCH:-${XDG_CACHE_HOME:-$HOME/.cache}/chutescribe-ci}/ocr
mkdir -p "$work"
work=$(cd "$work" && pwd)
export XDG_DATA_HOME="$work/no-data"

skip() {
    printf 'tests/ocr/run.sh: SKIPPED, nothing was measured: %s\n' "$1" >&2
    exit 77
}

fonts=/usr/share/fonts/truetype
missing=
command -v tesseract >/dev/null || missing="$missing tesseract-ocr tesseract-ocr-eng"
[ -f $fonts/breip/Breip.ttf ] || missing="$missing fonts-breip"
[ -f $fonts/femkeklaver/femkeklaver.ttf ] || missing="$missing fonts-femkeklaver"
# Debian's package belongs to Debian's Python, which need not be the first one there is.
draws() {
    for python in python3 /usr/bin/python3; do
        if "$python" -c 'from PIL import ImageFont' 2>/dev/null; then return 0; fi
    done
    return 1
}
draws || missing="$missing python3 python3-pil"
if [ -n "$missing" ]; then
    root=
    [ "$(id -u)" -eq 0 ] || root='sudo -n'
    command -v apt-get >/dev/null || skip "there is no apt-get to install$missing with"
    $root true 2>/dev/null || skip "$missing cannot be installed without root or sudo"
    $root apt-get update -q >&2 || skip 'apt-get cannot update its lists'
    # shellcheck disable=SC2086 # a list of packages
    $root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing >&2 ||
        skip "apt-get cannot install$missing"
    draws || skip 'there is no Python with Pillow'
fi

if [ $# -gt 0 ]; then
    program=$1
else
    (cd "$top" && cargo build --release --quiet)
    program=${CARGO_TARGET_DIR:-$top/target}/release/chutescribe
fi
[ -x "$program" ] || { printf 'tests/ocr/run.sh: there is no program `%s`\n' "$program" >&2; exit 1; }

grep -v '^#' "$here/page.tsv" | cut -f2 | sed -n 's/^cow=\([0-9]*\).*/\1/p' >"$work/herd.txt"
code=0
for font in breip/Breip femkeklaver/femkeklaver; do
    name=$(basename "$font")
    "$python" "$here/draw.py" "$here/page.tsv" "$fonts/$font.ttf" "$work/$name.png"
    OMP_THREAD_LIMIT=1 tesseract "$work/$name.png" "$work/$name" --psm 6 >"$work/$name.log" 2>&1
    "$program" notebook "$work/$name.txt" --json --herd "$work/herd.txt" \
        >"$work/$name.jsonl" 2>"$work/$name.told" </dev/null || test -s "$work/$name.jsonl"
    printf '%s: ' "$name"
    python3 "$here/score.py" "$here/page.tsv" "$work/$name.txt" "$work/$name.jsonl" "$work/$name.told" \
        --silent 1 ${VERBOSE:+-v} || code=1
done
exit $code
