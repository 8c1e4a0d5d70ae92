"""The files that the program writes for others, read by others: the calendar by `icalendar`, CSV by Python's own reader.

    python tests/outside/files.py PROGRAM

needs `pip install icalendar`. Exit 1 where something comes out otherwise than it went in.
"""

import csv
import datetime
import io
import json
import os
import subprocess
import sys
import tempfile

import icalendar

program = os.path.abspath(sys.argv[1])
# What breaks formats that are written by hand: commas, semicolons, quotes, a backslash, wide and long text.
FARM = 'Juniper "Flat", Upper; Field \\ \u725b' + " and its far end by the creek" * 3
NOTES = """cow 412, right hind outer, ulcer zone four, rubber block on the inner, wrap with salicylic acid, recheck in four weeks
cow 413, left hind outer white line abscess zone three, opened it up, block inner
cow 56, right hind outer possible toe necrosis, vet to look
cow 22 trimmed all four, no lesions, loco 3
"""

with tempfile.TemporaryDirectory() as folder:
    env = {**os.environ, "CHUTESCRIBE_LOG": "log.jsonl", "CHUTESCRIBE_NOW": "2026-03-20T08:00:00-05:00", "XDG_DATA_HOME": folder}

    def run(*args, text=None):
        ran = subprocess.run([program, *args], cwd=folder, env=env, input=text and text.encode(), capture_output=True)
        assert ran.returncode == 0, (args, ran.stderr)
        return ran.stdout.decode()

    run("note", "--on", "2026-03-12", "--farm", FARM, text=NOTES)

    due = [json.loads(line) for line in run("due", "--json").splitlines()]
    text = run("due", "--ics")
    long = [line for line in text.split("\r\n") if len(line.encode()) > 75]
    assert not long, f"lines over 75 bytes (RFC 5545, 3.1): {long}"
    calendar = icalendar.Calendar.from_ical(text)
    events = list(calendar.walk("VEVENT"))
    assert len(events) == len(due) > 5, (len(events), len(due))
    assert len({str(e["UID"]) for e in events}) == len(events), "two events of one id"
    words = {"recheck": "recheck", "block_off": "block off", "wrap_off": "wrap off", "vet": "vet to see her"}
    for event, item in zip(events, due):
        on = datetime.date.fromisoformat(item["on"])
        assert event.decoded("DTSTART") == on and event.decoded("DTEND") == on + datetime.timedelta(days=1), event
        assert str(event["SUMMARY"]) == f"cow {item['cow']}: {words[item['what']]}", event
        assert str(event["LOCATION"]) == FARM, event["LOCATION"]
        assert item["why"] in str(event.get("DESCRIPTION", "")), event
    again = icalendar.Calendar.from_ical(run("due", "--ics"))
    assert [str(e["UID"]) for e in again.walk("VEVENT")] == [str(e["UID"]) for e in events], "ids change"
    print(f"calendar: {len(events)} events, as they went in")

    def cell(value):
        return "" if value is None else {True: "true", False: "false"}.get(value, str(value)) if isinstance(value, bool) else str(value)

    for command in ["due", "herd"]:
        rows = [json.loads(line) for line in run(command, "--json").splitlines()]
        table = list(csv.DictReader(io.StringIO(run(command, "--csv"), newline=""), strict=True))
        assert [{k: cell(v) for k, v in r.items()} for r in rows] == table and table, command
        assert {r["farm"] for r in table} == {FARM}
        print(f"{command} --csv: {len(table)} rows, those of --json")
    table = list(csv.DictReader(io.StringIO(run("export", "--csv"), newline=""), strict=True))
    entries = [json.loads(line) for line in open(os.path.join(folder, "log.jsonl"), encoding="utf-8")]
    entries = [e for e in entries if e["kind"] == "entry"]
    parts = [(e["cow"], "finding", f.get("foot", ""), f.get("disorder", "")) for e in entries for f in e.get("findings", [])]
    parts += [(e["cow"], "action", a.get("foot", ""), a["what"]) for e in entries for a in e.get("actions", [])]
    got = [(r["cow"], r["kind"], r["foot"], r["disorder"] or r["what"]) for r in table]
    assert sorted(got) == sorted(parts) and {r["farm"] for r in table} == {FARM}, (got, parts)
    print(f"export --csv: {len(table)} rows, those of the log")
    events = json.loads(run("export", "--ade"))
    assert {e["location"]["id"] for e in events} == {FARM}
