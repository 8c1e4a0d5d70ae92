"""The herd's counts by DuckDB, from the same JSON lines: the same figures, and the time that each takes.

    python tests/outside/herd.py PROGRAM LOG

needs `pip install duckdb`. The log may have questions about findings only, as examples/long_log makes it. Prints
seconds by the wall clock, seconds of processor time and the most memory of both; exit 1 where a figure differs.
"""

import json
import os
import resource
import subprocess
import sys
import time

program, log = sys.argv[1:]

# What counts: no struck entry; the findings of one with an open question do not count, the cow does. Two questions
# that are asked of an entry are answered both or not at all; all of them are for the claw of the only finding.
SQL = [
    f"""CREATE TEMP TABLE lines AS SELECT * FROM read_json('{log}', format = 'newline_delimited', columns = {{
        kind: 'VARCHAR', id: 'VARCHAR', visit: 'VARCHAR', cow: 'VARCHAR', farm: 'VARCHAR', date: 'DATE',
        entry: 'VARCHAR', value: 'VARCHAR', clear: 'VARCHAR[]', measures: 'JSON[]', flags: 'STRUCT(level VARCHAR)[]',
        findings: 'STRUCT(foot VARCHAR, claw VARCHAR, zones INTEGER[], disorder VARCHAR, course VARCHAR,
                          certain BOOLEAN)[]',
        actions: 'STRUCT(what VARCHAR)[]'}})""",
    """CREATE TEMP TABLE seen AS
        SELECT v.farm, v.date, e.cow, e.findings,
               len(e.findings) > 0 OR len(e.clear) > 0 OR len(e.measures) > 0
                 OR len(list_filter(e.actions, lambda a: a.what <> 'vet')) > 0 AS examined,
               coalesce(len(list_filter(e.flags, lambda f: f.level = 'ask')) > 0 AND a.entry IS NULL, false) AS open,
               a.value AS answered
        FROM (SELECT * FROM lines WHERE kind = 'entry') e
        JOIN (SELECT id, farm, date FROM lines WHERE kind = 'visit') v ON v.id = e.visit
        LEFT JOIN (SELECT entry, any_value(value) AS value FROM lines WHERE kind = 'answer' GROUP BY entry) a
          ON a.entry = e.id
        WHERE NOT EXISTS (SELECT 1 FROM lines s WHERE s.kind = 'strike' AND s.entry = e.id)""",
]
QUERIES = {
    "share": """SELECT farm, f.disorder, count(DISTINCT cow) FROM (
                  SELECT farm, cow, unnest(findings) AS f FROM seen WHERE NOT open)
                WHERE f.disorder IS NOT NULL AND f.certain IS DISTINCT FROM false
                  AND f.course IS DISTINCT FROM 'healed' GROUP BY ALL""",
    "examined": "SELECT farm, count(DISTINCT cow) FROM seen WHERE examined GROUP BY farm",
    "place": """SELECT farm, f.foot, coalesce(f.claw, answered), zone, count(*) FROM (
                  SELECT farm, answered, f, unnest(CASE WHEN len(f.zones) > 0 THEN f.zones ELSE [NULL] END) AS zone FROM (
                    SELECT farm, answered, unnest(findings) AS f FROM seen WHERE NOT open))
                WHERE f.certain IS DISTINCT FROM false AND f.course IS DISTINCT FROM 'healed' GROUP BY ALL""",
    "visit": """SELECT farm, date, count(DISTINCT cow), count(DISTINCT cow) FILTER (WHERE len(findings) > 0 AND NOT open)
                FROM seen WHERE examined GROUP BY ALL""",
}


def used(before):
    now = resource.getrusage(resource.RUSAGE_CHILDREN)
    return now.ru_utime + now.ru_stime - before.ru_utime - before.ru_stime


if os.environ.get("DUCKDB_ONLY"):
    import duckdb

    for sql in SQL:
        duckdb.sql(sql)
    out = {name: duckdb.sql(sql).fetchall() for name, sql in QUERIES.items()}
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps([memory, out], default=str))
    sys.exit()

before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
ran = subprocess.run([sys.executable, *sys.argv], env={**os.environ, "DUCKDB_ONLY": "1"}, capture_output=True, check=True)
wall, cpu = time.perf_counter() - start, used(before)
memory, duck = json.loads(ran.stdout)
print(f"DuckDB       {wall:6.2f} s, {cpu:6.2f} s of processor time, {memory:5.0f} MB")

before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
with subprocess.Popen([program, "herd", "--json", "--log", log], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as p:
    lines = p.stdout.read()
    _, status, usage = os.wait4(p.pid, 0)
    p.returncode = os.waitstatus_to_exitcode(status)
wall = time.perf_counter() - start
print(f"chutescribe  {wall:6.2f} s, {usage.ru_utime + usage.ru_stime:6.2f} s of processor time, {usage.ru_maxrss / 1024:5.0f} MB")
assert p.returncode == 0, p.returncode

own = {name: set() for name in QUERIES}
for row in map(json.loads, lines.splitlines()):
    get = row.get
    if row["table"] == "share" and get("code") and row["n"]:
        own["share"].add((row["farm"], row["code"], row["n"]))
    elif row["table"] == "share" and row["what"] == "any lesion":
        own["examined"].add((row["farm"], row["of"]))
    elif row["table"] == "place":
        own["place"].add((row["farm"], row["foot"], get("claw"), get("zone"), row["n"]))
    elif row["table"] == "visit":
        own["visit"].add((row["farm"], row["what"], row["of"], row["n"]))
wrong = 0
for name, rows in duck.items():
    theirs = set(map(tuple, rows))
    same = own[name] == theirs and len(theirs) > 0
    wrong += not same
    print(f"{name}: {len(theirs)} rows, {'the same' if same else 'NOT the same'}")
    if not same:
        print("  only here:", sorted(map(str, own[name] - theirs))[:3], "\n  only DuckDB:", sorted(map(str, theirs - own[name]))[:3])
sys.exit(wrong > 0)
