#!/usr/bin/env bash
# Times whole commands over long inputs and prints a table: benches/whole.sh PROGRAM [LARGEST]
#
# LARGEST is 1000000 lines or entries unless it is given (100000: a look whether this works; the growth of `read` goes
# on to ten times that). Needs Rust for the generators, GNU time, Python 3, and for DuckDB a Python with its package,
# named by PYTHON. Scratch: some 3 GB for a million, in a folder that is removed at the end.
#
# Exit 1 where a command fails or takes ten minutes, or an input of 1 MB takes more than two seconds (it is stopped
# after twenty).
set -euo pipefail
cd "$(dirname "$0")/.."
program=$(realpath "${1:?PROGRAM}")
largest=${2:-1000000}
python=${PYTHON:-python3}
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
export XDG_DATA_HOME=$scratch/no-data CHUTESCRIBE_LOG=$scratch/none.jsonl

# Generators need no link-time optimisation.
CARGO_PROFILE_RELEASE_LTO=off CARGO_PROFILE_RELEASE_CODEGEN_UNITS=16 CARGO_PROFILE_RELEASE_DEBUG=0 \
    cargo build --quiet --release --examples
made=${CARGO_TARGET_DIR:-target}/release/examples

head_row() { printf '\n%s\n\n| what | s by the clock | s of processor | MB at most | thousand a second |\n| --- | --- | --- | --- | --- |\n' "$1"; }

# row WHAT HOW-MANY COMMAND...: what it took; lines that cannot be notes (exit 1) are allowed in hostile inputs only.
row() {
    local what=$1 many=$2 code=0
    shift 2
    /usr/bin/time -q -o "$scratch/took" -f '%e %U %S %M' timeout "${limit:-600}" "$@" >"$scratch/out" 2>"$scratch/err" || code=$?
    if [ "$code" -eq 124 ] && [ -n "${limit:-}" ]; then what="$what (stopped)"; code=0; fi
    [ "$code" -le "${allowed:-0}" ] || { printf 'failed with %s: %s\n' "$code" "$*" >&2; tail -n 3 "$scratch/err" >&2; exit 1; }
    awk -v what="$what" -v many="$many" '{ printf "| %s | %.2f | %.2f | %.0f | %.1f |\n", what, $1, $2 + $3, $4 / 1024, many / ($1 > 0 ? $1 : 0.01) / 1000 }' "$scratch/took"
}

"$made/notebook_lines" "$largest" 7 >"$scratch/old.txt"
head_row "A notebook of $largest lines"
row 'cat: the floor' "$largest" cat "$scratch/old.txt"
row 'notebook --json --jobs 1' "$largest" "$program" notebook --json --jobs 1 "$scratch/old.txt"
row 'notebook --json --jobs 2' "$largest" "$program" notebook --json --jobs 2 "$scratch/old.txt"
row 'notebook --write --jobs 2' "$largest" "$program" notebook --write --jobs 2 --log "$scratch/new.jsonl" "$scratch/old.txt"
rm -f "$scratch/new.jsonl" "$scratch/old.txt"

"$made/long_log" make "$largest" >"$scratch/long.jsonl"
head_row "A log of $largest entries"
row 'cat: the floor' "$largest" cat "$scratch/long.jsonl"
row 'herd --json' "$largest" "$program" herd --json --log "$scratch/long.jsonl"
row 'due' "$largest" "$program" due --log "$scratch/long.jsonl"
row 'check' "$largest" "$program" check --log "$scratch/long.jsonl"
if "$python" -c 'import duckdb' 2>/dev/null; then
    printf '\n`herd` beside DuckDB, the same counts:\n\n'
    "$python" tests/outside/herd.py "$program" "$scratch/long.jsonl"
else
    printf '\nDuckDB is not there (PYTHON names a Python that has it): not compared\n'
fi
rm -f "$scratch/long.jsonl"

printf '\nFrom start to the first byte of `read` on one note\n\n'
python3 - "$program" <<'EOF'
import statistics, subprocess, sys, time
took = []
for _ in range(51):
    start = time.perf_counter()
    p = subprocess.Popen([sys.argv[1], "read", "--on", "2026-03-12"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    p.stdin.write(b"cow 412, right hind outer, sole ulcer zone four\n")
    p.stdin.close()
    p.stdout.read(1)
    took.append((time.perf_counter() - start) * 1000)
    p.stdout.close()
    p.wait()
took.sort()
print(f"{statistics.median(took):.1f} ms in the middle of 51, {took[-1]:.1f} ms at most")
EOF

head_row 'Growth with lines: `read --json` on clean notes'
for ((lines = 10000; lines <= 10 * largest; lines *= 10)); do
    "$made/spoken_notes" clean "$lines" 7 >"$scratch/notes.txt"
    row "$lines lines" "$lines" "$program" read --json --on 2026-03-12 "$scratch/notes.txt"
done
rm -f "$scratch/notes.txt"

# As many words in all, whatever the length of a note. A note is 64 KiB at most.
words=$((largest > 100000 ? largest / 5 : 20000))
head_row "Growth with the length of a note: $words words, clean; thousand words a second"
for length in 10 100 1000 10000; do
    "$made/spoken_notes" long $((words / length)) 7 "$length" >"$scratch/notes.txt"
    row "notes of $length words" "$(wc -w <"$scratch/notes.txt")" "$program" read --json --on 2026-03-12 "$scratch/notes.txt"
done

head_row '1 MB that is no note; thousand bytes a second'
python3 - "$scratch" <<'EOF'
import random, sys
MB, LINE, chance = 1 << 20, 65000, random.Random(7)
NEARLY = b"obsess obsessed wringht hined outa inna salt ulsa blok rapped weyet lyne zoan fore hotel soll".split()
def lines(word): return ((word * (LINE // len(word))) + b"\n") * (MB // LINE + 1)
inputs = {
    "one line without an end": b"a" * MB, "zeros": b"\0" * MB, "bytes by chance": chance.randbytes(MB),
    "line ends": b"\n" * MB, "cow cow cow": lines(b"cow "), "cow 1 cow 1": lines(b"cow 1 "), "digits": lines(b"7"),
    "numbers": lines(b"seven "), "left left": lines(b"left "), "ulcer ulcer": lines(b"ulcer "), "maybe not": lines(b"maybe not "),
    "wait no": lines(b"cow 4 wait no "), "commas": lines(b","), "one letter": lines(b"a "), "sounds alike": lines(b"ulsir out her "),
    "letters by chance": b"\n".join(bytes(chance.choice(b"abcdefghijklmnopqrstuvwxyz ") for _ in range(LINE)) for _ in range(MB // LINE)),
    "short lines": b"a\n" * (MB // 2), "verdicts": lines(b"fronts ok "), "accents": lines("e\u0301\u0301\u0301".encode()), "shorthand": lines(b"RRO z4 "),
    "words nearly the trade's": b"\n".join(b" ".join(chance.choices(NEARLY, k=10_000)) for _ in range(MB // LINE + 1)),
    "words between numbers": lines(b"a sprocket 1234, "), "doubts": lines(b"cow 12 left hind so-alzer zone 4, "),
}
for name, text in inputs.items():
    open(f"{sys.argv[1]}/hostile {name}", "wb").write(text[:MB])
EOF
slow=
for input in "$scratch"/hostile*; do
    allowed=1 limit=20 row "${input##*/hostile }" 1048576 "$program" read --json --on 2026-03-12 "$input"
    awk '{ exit !($1 > 2) }' "$scratch/took" && slow="$slow${input##*/hostile }; "
done
[ -z "$slow" ] || { printf '\nmore than two seconds: %s\n' "$slow" >&2; exit 1; }
