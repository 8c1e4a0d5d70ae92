#!/bin/sh
# Makes the demo's results again: demo/make.sh [PROGRAM]. A test compares them byte for byte.
set -eu
cd "$(dirname "$0")"
program=${1:-../target/release/chutescribe}
# A data folder that is not there: nobody's own words are laid over.
export CHUTESCRIBE_LOG=log.jsonl CHUTESCRIBE_NOW=2026-03-12T16:20:00-05:00 XDG_DATA_HOME=$PWD/none
"$program" read --on 2026-03-12 day.txt >reading.txt
rm -f log.jsonl
"$program" note --on 2026-03-12 --farm "Juniper Flat" --trimmer "Ines Calloway" day.txt
"$program" settle <answers.txt >settled.txt
# What is made of the log, eight days later.
export CHUTESCRIBE_NOW=2026-03-20T08:00:00-05:00
"$program" due >due.txt
"$program" cow 930 >cow.txt
"$program" sheet --html sheet.html >sheet.txt
"$program" bill --prices prices.toml >bill.txt
"$program" herd --html herd.html >herd.txt
"$program" export --csv >export.csv
"$program" export --ade >events.json
