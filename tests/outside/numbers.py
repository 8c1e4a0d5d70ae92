"""Writes numbers.tsv: numbers and the words for them, as another project spells them.

    pip install num2words==0.5.14
    python3 tests/outside/numbers.py

The number reader is checked against names that it did not make up itself.
"""

import random
import sys
from importlib.metadata import version
from pathlib import Path

# This file shares its name with a module of the standard library, which num2words needs
# (through `decimal`): its own folder must not be searched.
sys.path = [path for path in sys.path if Path(path).resolve() != Path(__file__).resolve().parent]

from num2words import num2words  # noqa: E402

OUT = Path(__file__).with_name("numbers.tsv")

# One seed for good: the sample must be the same whenever the file is made again.
SEED = 412
SAMPLE = 300

HEADER = f"""\
# Numbers and their English names: value<TAB>words<TAB>form, form being `cardinal` or `year`.
# Source: num2words {version("num2words")} (Python Package Index), lang='en'; made by numbers.py.
# Licence of num2words: LGPL-2.1-or-later. Nothing of its code is here: the lines are what it
# answers, the plain names of numbers.
"""


def rows():
    """Yields every line's three fields, the cardinals first."""
    beyond = sorted(random.Random(SEED).sample(range(10_000, 1_000_000), SAMPLE))
    for value in [*range(10_000), *beyond]:
        yield value, num2words(value, lang="en"), "cardinal"
    for value in range(1100, 2100):
        yield value, num2words(value, lang="en", to="year"), "year"


def main():
    lines = "".join(f"{value}\t{words}\t{form}\n" for value, words, form in rows())
    OUT.write_text(HEADER + lines, encoding="ascii", newline="\n")


if __name__ == "__main__":
    main()
