#!/usr/bin/env python3
"""Scores what was made of heard notes: score.py SPOKEN.tsv HEARD.tsv PARSED.jsonl [--floor F1] [--silent N] [-v]

SPOKEN: id, said, meaning. HEARD: id, voice, recogniser, heard; its nth line is line n of what was parsed. PARSED: one
entry a line, as `chutescribe read --json` prints it. Told are slots (cow, findings with their attributes, actions,
clear feet, scores, measures, due dates) as F1; `silent`: wrong without a question; `needless`: right, with a
question. Ends with 1 where F1 is under the floor or more are silent than may be.
"""
import argparse
import collections
import datetime
import json
import re
import sys

VISIT = datetime.date(2026, 3, 12)
FEET = ("LF", "RF", "LH", "RH")
CLAWS = ("outer", "inner")
COURSES = ("healed", "healing", "open", "worse")
MEASURES = {"toe_length": "toe", "sole_thickness": "sole", "heel_height": "heel", "toe_angle": "angle"}
SCALES = {"loco": "locomotion", "mob": "mobility"}
DUE = {"recheck": "recheck", "blockoff": "block_off", "wrapoff": "wrap_off"}


def foot_of(words):
    return next((w for w in words if w in FEET), None)


def finding(foot, words):
    claw = words.pop(0) if words[0] in CLAWS else None
    code = words.pop(0)
    yield ("finding", foot, claw, code)
    for word in words:
        if re.fullmatch(r"z[\d,]+", word):
            yield ("zones", foot, code, tuple(sorted(map(int, word[1:].split(",")))))
        elif re.fullmatch(r"s[123]", word):
            yield ("severity", foot, code, int(word[1:]))
        elif re.fullmatch(r"M[\d.]+", word):
            yield ("stage", foot, code, word)
        elif word in COURSES:
            yield ("course", foot, code, word)
        elif word == "maybe":
            yield ("certain", foot, code, False)
        else:
            sys.exit(f"score.py: unknown attribute `{word}`")


def wanted(text):
    """The slots of a meaning."""
    for item in filter(None, (part.strip() for part in text.split("|"))):
        head, *words = item.split()
        if head.startswith("cow="):
            yield ("cow", head[4:])
        elif head in FEET:
            yield from finding(head, words)
        elif head == "clear":
            yield from (("clear", foot) for foot in (FEET if words[0] == "all" else words[0].split(",")))
        elif head in SCALES:
            yield ("score", SCALES[head], int(words[0].split("/")[0]))
        elif head in MEASURES.values():
            yield ("measure", head, float(words[0]), foot_of(words))
        elif head in DUE:
            day = words[0]
            on = VISIT + datetime.timedelta(int(day)) if day[0] == "+" else datetime.date.fromisoformat(day)
            yield ("due", DUE[head], on.isoformat())
        elif head != "remark":
            foot = foot_of(words)
            claw = next((w for w in words if w in CLAWS), None)
            yield ("action", head, foot) + ((claw,) if head == "block" else ())
            yield from (("with", head, foot, w) for w in words if w not in FEET + CLAWS)


def got(entry):
    """The slots of an entry."""
    if entry.get("cow") is not None:
        yield ("cow", str(entry["cow"]))
    for f in entry.get("findings", []):
        foot, code = f.get("foot"), f.get("disorder")
        yield ("finding", foot, f.get("claw"), code)
        if f.get("zones"):
            yield ("zones", foot, code, tuple(sorted(f["zones"])))
        for key in ("severity", "stage", "course"):
            if f.get(key):
                yield (key, foot, code, f[key])
        if f.get("certain") is False:
            yield ("certain", foot, code, False)
    for a in entry.get("actions", []):
        what = a.get("what")
        foot = None if what == "vet" else a.get("foot")
        yield ("action", what, foot) + ((a.get("claw"),) if what == "block" else ())
        for key in ("material", "agent"):
            if a.get(key):
                yield ("with", what, foot, a[key].split()[0])
    for foot in entry.get("clear", []):
        yield ("clear", foot)
    for s in entry.get("scores", []):
        yield ("score", s.get("scale"), s.get("value"))
    for m in entry.get("measures", []):
        yield ("measure", MEASURES.get(m["what"]), round(float(m["value"]), 1), m.get("foot"))
    for d in entry.get("due", []):
        yield ("due", d.get("what"), d.get("on"))


def main():
    args = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    for name in ("spoken", "heard", "parsed"):
        args.add_argument(name)
    args.add_argument("--floor", type=float, default=0.0)
    args.add_argument("--silent", type=int, default=10**6)
    args.add_argument("-v", "--verbose", action="store_true")
    args = args.parse_args()
    lines = [line.rstrip("\n").split("\t") for line in open(args.spoken, encoding="utf-8") if line[0] not in "#\n"]
    meaning = {i: set(wanted(m)) for i, _, m in lines}
    said = {i: text for i, text, _ in lines}
    heard = [line.rstrip("\n").split("\t") for line in open(args.heard, encoding="utf-8")]
    entries = collections.defaultdict(list)
    for line in open(args.parsed, encoding="utf-8"):
        entry = json.loads(line)
        if entry.get("kind", "entry") == "entry":
            entries[entry["source"]["line"]].append(entry)
    count = collections.Counter()
    for n, (i, voice, _, text) in enumerate(heard, 1):
        mine = entries[n]
        need = meaning[i]
        have = set(got(mine[0])) if mine else set()
        more = [set(got(e)) for e in mine[1:]]
        asked = any(f.get("level") == "ask" for e in mine for f in e.get("flags", []))
        wrong = len(mine) != 1 or need != have
        count["hit"] += len(need & have)
        count["missed"] += len(need - have)
        count["made up"] += len(have - need) + sum(map(len, more))
        count["verbatim"] += text == said[i].lower()
        kind = ("asked" if asked else "silent") if wrong else ("needless" if asked else "right")
        count[kind] += 1
        if args.verbose and kind != "right":
            print(f"{kind} {i} {voice}\n  said  {said[i]}\n  heard {text}")
            print(f"  missed {sorted(need - have, key=str)} made up {sorted(have - need, key=str)}")
    precision = count["hit"] / max(1, count["hit"] + count["made up"])
    recall = count["hit"] / max(1, count["hit"] + count["missed"])
    f1 = 2 * precision * recall / max(1e-9, precision + recall)
    print(
        f"{heard[0][2]}: {len(heard)} heard, {count['verbatim']} word for word; F1 {f1:.3f}; right {count['right']}, "
        f"wrong but asked {count['asked']}, silent {count['silent']}, needless {count['needless']}"
    )
    if f1 < args.floor or count["silent"] > args.silent:
        sys.exit(f"score.py: F1 must be {args.floor} or more, and {args.silent} silent at most")


if __name__ == "__main__":
    main()
