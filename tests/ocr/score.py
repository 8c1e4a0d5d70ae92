#!/usr/bin/env python3
"""Scores a page that was read by OCR: score.py PAGE.tsv OCR.txt IMPORTED.jsonl TOLD.txt [--silent N] [-v]

The lines of OCR.txt are laid beside those of the page by their likeness, in order. `silent`: wrong, and nothing asked.
Every line of OCR.txt with a word in it must have come to an entry, a visit or another line, or be named in TOLD.txt.
Ends with 1 where more than N lines are silent, or a line is neither kept nor named.
"""
import argparse
import difflib
import json
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "listen"))
import score as slots  # noqa: E402

ap = argparse.ArgumentParser()
for name in ("page", "ocr", "imported", "told"):
    ap.add_argument(name)
ap.add_argument("--silent", type=int)
ap.add_argument("-v", action="store_true")
o = ap.parse_args()
page = [l.rstrip("\n").split("\t") for l in open(o.page, encoding="utf-8") if l.strip() and not l.startswith("#")]
ocr = [(n, l.strip()) for n, l in enumerate(re.split(r"\r\n|[\r\n]", open(o.ocr, encoding="utf-8", newline="").read()), 1) if re.search(r"\w", l)]
out = [json.loads(l) for l in open(o.imported, encoding="utf-8")]
by = {}
for e in out:
    by.setdefault(e["source"]["line"] if "source" in e else e.get("line"), []).append(e)
told = open(o.told, encoding="utf-8").read()

# The cheapest way to lay the two side by side, as words of a text are compared.
like = lambda a, b: difflib.SequenceMatcher(None, a.lower(), b.lower()).ratio()
n, m = len(page), len(ocr)
best = [[0.0] * (m + 1) for _ in range(n + 1)]
for i in range(n - 1, -1, -1):
    for j in range(m - 1, -1, -1):
        r = like(page[i][0], ocr[j][1])
        best[i][j] = max(best[i + 1][j], best[i][j + 1], r + best[i + 1][j + 1] if r > 0.3 else 0)
pairs, i, j = {}, 0, 0
while i < n and j < m:
    r = like(page[i][0], ocr[j][1])
    if r > 0.3 and best[i][j] == r + best[i + 1][j + 1]:
        pairs[i] = ocr[j]
        i, j = i + 1, j + 1
    elif best[i][j] == best[i + 1][j]:
        i += 1
    else:
        j += 1
right = asked = silent = lost = 0
for i, (said, means) in enumerate(page):
    if i not in pairs:
        lost += 1
        if o.v:
            print(f"not read by OCR: {said}")
        continue
    line, read = pairs[i]
    items = by.get(line, [])
    entries = [e for e in items if e.get("kind") == "entry"]
    if means == "@visit":
        good = any(e.get("kind") == "visit" for e in items)
        # Without its heading a note waits for its day.
        asks = bool(items) and not entries
    elif means == "@other":
        good, asks = not any(set(slots.got(e)) for e in entries), False
    else:
        good = len(entries) == 1 and set(slots.got(entries[0])) == set(slots.wanted(means))
        # What is kept as another line is listed, and nothing of it counts.
        asks = any(f["level"] == "ask" for e in entries for f in e.get("flags", [])) or (not entries and bool(items))
    right += good
    asked += not good and asks
    if not good and not asks:
        silent += 1
    if o.v and not good:
        print(f"{'asked ' if asks else 'SILENT'} {said!r} read as {read!r}")
unnamed = [l for l in ocr if l[0] not in by and f":{l[0]}:" not in told]
for line, text in unnamed:
    print(f"neither kept nor named: line {line}: {text}")
print(f"lines {n} right {right} wrong but asked or listed {asked} silent {silent} not read {lost}")
sys.exit(1 if unnamed or (o.silent is not None and silent > o.silent) else 0)
