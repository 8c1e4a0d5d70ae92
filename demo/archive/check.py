#!/usr/bin/env python3
"""That Spark with two workers makes of an archive what one machine makes of it: `check.py PROGRAM [NOTES]`.

Needs pyspark, duckdb and Java 17 or later. A made-up archive in two files, its visits shuffled, goes through
archive.py (Spark), through the program by itself, through `herd`, and through archive.sql (DuckDB).
"""
import datetime
import json
import os
import pathlib
import random
import re
import subprocess
import sys
import tempfile
import time

import duckdb

import archive
import line_filter
import made_up

HERE = pathlib.Path(__file__).resolve().parent
NOW = "2026-03-12T16:20:00Z"

# Of an entry.
COLUMNS = {"id", "visit", "cow", "scores", "findings", "actions", "clear", "measures", "due", "remarks", "assumed",
           "flags", "said"}


def check(what, right):
    print(("ok      " if right else "WRONG   ") + what, flush=True)
    if not right:
        sys.exit(1)


def write_archive(folder, notes):
    """Two files, visits in any order; gives the paths and the lines by file and number."""
    visits = {}
    for line in made_up.archive(notes, seed=7):
        visits.setdefault(line.rsplit("\t", 1)[0], []).append(line)
    order = list(visits.values())
    random.Random(7).shuffle(order)
    half = len(order) // 3
    paths, lines = [], {}
    for name, part in (("first.txt", order[:half]), ("second.txt", order[half:])):
        text = ["# day, farm, note", ""] + [line for visit in part for line in visit]
        paths.append(folder / name)
        paths[-1].write_text("\n".join(text) + "\n")
        lines.update({(name, n): line for n, line in enumerate(text, 1)})
    return paths, lines


def run_alone(program, lines, folder):
    """One process over all of it, as by `cat … | sort -s -t TAB -k1,2 | chutescribe read --json --visits`."""
    whole = sorted((l for l in lines.values() if "\t" in l), key=lambda l: l.split("\t")[:2])
    start = time.perf_counter()
    ran = subprocess.run([program, "read", "--json", "--visits"], input="\n".join(whole) + "\n", text=True, check=True,
                         stdout=subprocess.PIPE, env={**os.environ, "CHUTESCRIBE_NOW": NOW, "XDG_DATA_HOME": "/nonexistent"})
    took = time.perf_counter() - start
    (folder / "alone.jsonl").write_text(ran.stdout)
    return [line for line in ran.stdout.splitlines() if '"kind":"entry"' in line], took


def without_line(record):
    """All of an entry but its number in its input, which is another in a partition."""
    text, times = re.subn(r'("source":\{"file":"-","line":)\d+(\}\})$', r"\1\2", record)
    assert times == 1, record
    return text


def filled(value):
    """Without what is null or empty, as the log leaves it out; days as the log writes them."""
    if isinstance(value, dict):
        kept = {k: filled(v) for k, v in value.items()}
        return {k: v for k, v in kept.items() if v not in (None, [], {}, False) or (k, v) == ("certain", False)}
    if isinstance(value, list):
        return [filled(v) for v in value]
    return value.isoformat() if isinstance(value, datetime.date) else value


def typed(record):
    """The entry's line as the columns have it: options are text there."""
    entry = json.loads(record)
    for name in ("v", "kind", "at", "source"):
        entry.pop(name)
    for flag in entry.get("flags", []):
        flag["options"] = [o if isinstance(o, str) or o is None else json.dumps(o, separators=(",", ":"))
                           for o in flag.get("options", [])]
    return filled(entry)


def same_as_alone(parquet, alone, lines):
    table = duckdb.sql(f"SELECT * FROM read_parquet('{parquet}/*.parquet', filename = true, file_row_number = true) "
                       "ORDER BY filename, file_row_number")
    rows = [dict(zip(table.columns, row)) for row in table.fetchall()]
    check(f"as many entries ({len(alone)})", len(rows) == len(alone) > 0)

    home = {}  # the partition of each visit
    parts = {}
    for row in rows:
        home.setdefault(row["visit"], set()).add(row["partition"])
        parts.setdefault(row["partition"], []).append(row)
    check(f"{len(home)} visits, each whole in one of {len(parts)} partitions",
          all(len(at) == 1 for at in home.values()) and len(parts) > 1)
    expected = {}
    for record in alone:
        (at,) = home[json.loads(record)["visit"]]
        expected.setdefault(at, []).append(without_line(record))
    got = {at: [without_line(row["record"]) for row in part] for at, part in parts.items()}
    check("in every partition the same entries in the same order, byte for byte", got == expected)
    check("lines count on within a partition", all(
        a["line"] <= b["line"] for part in parts.values() for a, b in zip(part, part[1:])))

    def found_again(row):
        day, farm, note = lines[row["source"], row["source_line"]].split("\t")
        return row["said"] in note and (row["farm"] or "", str(row["day"])) == (farm, day)

    check("every entry is found again in the archive by its file and line", all(map(found_again, rows)))
    check("the typed columns hold what the entry's line holds", all(
        typed(row["record"]) == filled({k: row[k] for k in COLUMNS}) for row in rows))
    waiting = sum('"level":"ask"' in record for record in alone)
    check(f"the same entries wait for an answer ({waiting})", 0 < waiting == sum(
        any(f["level"] == "ask" for f in row["flags"] or []) for row in rows))


def same_tables(spark, parquet, program, folder):
    spark.read.parquet(str(parquet)).createOrReplaceTempView("notes")
    by_spark = [tuple(row) for row in archive.prevalence(spark).collect()]
    duckdb.execute((HERE / "archive.sql").read_text())
    duckdb.execute(f"CREATE OR REPLACE VIEW lines AS FROM of_lines('{folder / 'alone.jsonl'}')")
    duckdb.execute(f"CREATE OR REPLACE VIEW columns AS FROM of_parquet('{parquet}')")
    by_lines = duckdb.sql("FROM prevalence('lines')").fetchall()
    by_columns = duckdb.sql("FROM prevalence('columns')").fetchall()
    key = lambda row: tuple(map(str, row))
    by_spark, by_lines, by_columns = (sorted(t, key=key) for t in (by_spark, by_lines, by_columns))
    check(f"prevalence ({len(by_spark)} rows): Spark from Parquet, DuckDB from one machine's lines and from Parquet",
          by_spark == by_lines == by_columns)
    ran = subprocess.run([program, "herd", "--json", "--log", folder / "alone.jsonl"], check=True, text=True,
                         stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    herd = {(f["farm"], f["code"] or f["what"]): (f["n"], f["of"], f["percent"], f["low"], f["high"])
            for f in map(json.loads, ran.stdout.splitlines()) if f["table"] == "share" and (f["code"] or f["what"] == "any lesion")}
    # `herd` has no row for what is only doubtful.
    mine = {row[:2]: row[2:7] for row in by_spark if row[2] > 0}
    check("and `chutescribe herd` on one machine", mine == {k: v for k, v in herd.items() if v[0] > 0} and len(mine) > 20)
    check("what is doubtful is counted apart", any(r[1] == "WL" and r[7] > 0 for r in by_spark)
          and any(r[1] == "SU" and r[8] > 0 for r in by_spark))


def fails(what, run, *words):
    """`run` must fail, and say these words."""
    try:
        run()
    except Exception as why:
        check(what, all(word in str(why) for word in words))
    else:
        check(what, False)


def filters_that_fail(program, folder):
    lines = [(("a.txt", n), f"2019-04-03\tOak Lane\tcow {n} clean".encode()) for n in range(1, 5001)]

    def through(script):
        return lambda: list(line_filter.through(["sh", "-c", script], {}, iter(lines)))

    fails("a filter that ends with 3 fails", through("cat >/dev/null; exit 3"), "ended with 3")
    fails("a filter that is killed fails", through("head -n 9 >/dev/null; kill -9 $$"), "the filter")
    fails("a filter that loses a line fails", through(f"sed 77d | {program} read --json --visits"), "nothing came of line")
    fails("a filter that stops early fails", through(f"head -n 99 | {program} read --json --visits"), "the filter")


def bad_lines(spark, program, folder):
    bad = folder / "bad.txt"
    bad.write_bytes(b"2019-04-03\tOak Lane\tcow 1 clean\n\n2019-04-03\tOak Lane\tcow \xff2\n2019-04-03\tOak Lane\tcow 3 clean\n")
    notes = lambda keep: archive.notes(spark, [str(bad)], program, 2, keep, NOW)
    fails("a bad line fails the job, with its file and line", lambda: notes(False).collect(), "bad.txt:3", "not UTF-8")
    rows = {(r.source_line, r.cow, r.trouble is None) for r in notes(True).collect()}
    check("or is kept as a row", rows == {(1, "1", True), (3, None, False), (4, "3", True)})


def main():
    program = pathlib.Path(sys.argv[1]).resolve()
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 5000
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        filters_that_fail(program, folder)
        paths, lines = write_archive(folder, count)
        alone, took = run_alone(program, lines, folder)
        print(f"        one process: {took:.2f} s")
        # A minute's work: compiling it well takes Java longer than doing it.
        os.environ.setdefault("JAVA_TOOL_OPTIONS", "-XX:TieredStopAtLevel=1 -XX:+UseSerialGC")
        # A task that fails need not be tried again here.
        spark = archive.session("local-cluster[2,1,1024]", 5, task_maxFailures=1, sql_codegen_wholeStage="false")
        try:
            spark.sparkContext.setLogLevel("OFF")
            # Small blocks, so that files are cut and lines must be counted on from one to the next.
            spark.conf.set("spark.sql.files.maxPartitionBytes", "50k")
            start = time.perf_counter()
            archive.notes(spark, [str(p) for p in paths], program, 5, False, NOW).write.parquet(str(folder / "notes"))
            print(f"        Spark: {time.perf_counter() - start:.1f} s")
            spark.conf.unset("spark.sql.files.maxPartitionBytes")
            executors = spark.sparkContext._jsc.sc().getExecutorMemoryStatus().size() - 1  # the driver is one of them
            check(f"{executors} workers", executors == 2)
            same_as_alone(folder / "notes", alone, lines)
            same_tables(spark, folder / "notes", program, folder)
            bad_lines(spark, program, folder)
        finally:
            spark.stop()


if __name__ == "__main__":
    main()
