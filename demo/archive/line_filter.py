"""One partition of an archive through `chutescribe read --json --visits`, as a line filter.

Streaming: lines go in by a thread of their own while entries come out, and only what is between the two is kept.
Every line is accounted for: it comes out as entries, or the program says why not.
"""
import collections
import json
import os
import re
import subprocess
import threading

Row = collections.namedtuple("Row", "line source source_line farm day record trouble")
Row.__doc__ = """What came of a line. `line` counts within the partition, `source_line` in the file `source` of the
archive. `record` is the entry as it was printed, one row a cow; `trouble` is why there is none."""


class BadLines(Exception):
    """Lines that cannot be notes; says where and why."""


def through(command, environment, lines, keep_bad=False):
    """Rows of `lines`, which are `((file, line in the file), bytes)`; none of them empty or a comment.

    Bad lines are an error at the end, or rows with their `trouble` where `keep_bad` is set. A program that stops
    early, or ends with any other code than that for bad lines, is always an error.
    """
    pipe = subprocess.PIPE
    program = subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=pipe, env={**os.environ, **environment})
    given = collections.deque()  # (line, where) of lines that went in and are not accounted for
    told = {}  # by line, what the program says of it
    other = collections.deque(maxlen=20)  # whatever else it says
    failed = []

    def feed():
        try:
            for line, (where, text) in enumerate(lines, 1):
                given.append((line, where))
                program.stdin.write(text + b"\n")
            program.stdin.close()
        except Exception as why:  # handed on below: a thread has nobody to raise it to
            failed.append(why)
            program.kill()

    def listen():
        for text in program.stderr:
            text = text.decode("utf-8", "replace").rstrip("\n")
            bad = re.fullmatch(r"error: standard input:(\d+): (.*)", text)
            if bad:
                told[int(bad[1])] = bad[2]
            else:
                other.append(text)

    threads = [threading.Thread(target=work, daemon=True) for work in (feed, listen)]
    for thread in threads:
        thread.start()
    silent = []  # lines without an entry
    visit, last = {}, 0
    try:
        for text in program.stdout:
            record = json.loads(text)
            if record["kind"] == "visit":
                visit = record
                continue
            line = record["source"]["line"]
            # The line itself stays: one note may be of several cows.
            while given[0][0] < line:
                passed = given.popleft()
                if passed[0] != last:
                    silent.append(passed)
            last = line
            yield Row(line, *given[0][1], visit.get("farm"), visit["date"], text.decode("utf-8").rstrip("\n"), None)
        for thread in threads:
            thread.join()
        code = program.wait()
        silent += [g for g in given if g[0] != last]
        if failed:
            raise RuntimeError(f"the filter stopped while lines went in ({failed[0]}): {list(other)}")
        if code not in (0, 1) or (code == 1 and not told):
            raise RuntimeError(f"the filter ended with {code}: {list(other)}")
        lost = [g for g in silent if g[0] not in told]
        if lost:
            raise RuntimeError(f"nothing came of line {lost[0][1][1]} of {lost[0][1][0]}, and nothing was said of it")
        if told and not keep_bad:
            first = [f"{where[0]}:{where[1]}: {told[line]}" for line, where in silent[:5]]
            raise BadLines(f"{len(told)} lines of this partition cannot be read, such as\n" + "\n".join(first))
        for line, where in silent:
            yield Row(line, *where, None, None, None, told[line])
    finally:
        program.kill()
        program.wait()
