"""Writes everyday.txt: plain English sentences that have nothing to do with hooves.

    apt-get download wordnet-base=1:3.0-37    # a package of Debian
    dpkg-deb -x wordnet-base_*.deb FOLDER
    python3 tests/outside/everyday.py FOLDER/usr/share/wordnet

The sentences are the examples of use in WordNet 3.0: short, of all walks of life, by no speaker
of the trade. Whatever is read into one of them with certainty was made up. Needs no library.
"""

import random
import re
import sys
from pathlib import Path

OUT = Path(__file__).with_name("everyday.txt")

# One seed for good: the sample must be the same whenever the file is made again.
SEED = 412
SAMPLE = 2000
SHORTEST, LONGEST = 4, 20

# Quotations from books name their author after a dash: they are neither everyday nor WordNet's own.
EXAMPLE = re.compile(r'"([^"]+)"(?!\s*-)')

# Many examples are scraps ("gave him a lift"). A sentence is told by how it starts: with a subject
# that a verb must follow, or with a question or a plea.
PRONOUN = r"(i|you|he|she|it|we|they|there|everyone|someone|everybody|nobody|nothing)(?:'\w+)?"
FULL = re.compile(rf"({PRONOUN}|don't|let's|please) .*|(what|when|where|how|who|why|can|could|did|"
                  r"do|does|is|are|was|were|have|has|will|would|shall|may) .*\?")
# After "the", "my" and the like the verb can be far off; only the common helpers are looked for,
# and none behind a relative word, where it belongs to the inner clause ("the man who was late"),
# or behind an article, where it is a thing ("the probate of a will").
DETERMINER = re.compile(r"(?:the|a|an|my|your|his|her|its|our|their|this|that|these|those|some|all|"
                        r"every|each|no|most|many) ")
HELPER = re.compile(r"(?<! a)(?<! the) (?:is|are|was|were|has|had|have|can|could|will|would|did|"
                    r"does|do|must|should|may|might|\w+n't)\b")
RELATIVE = re.compile(r" (?:who|whom|whose|which|that|where|when|if|as|than)\b")

# Letters and plain punctuation: figures, brackets and quoted words are not what is checked here.
PLAIN = re.compile(r"[A-Za-z](?:[A-Za-z ,;-]|(?<=[A-Za-z])'(?=[A-Za-z]))*[A-Za-z][.?!]?")
# A name inside means news or history rather than talk.
NAME = re.compile(r"(?<=[ -])(?!I\b)[A-Z]")
# Nobody wants to come upon these while reading a failed test.
UNFIT = re.compile(r"\b(?:sex|rap(?:e|ed|ing|ist)\b|prostitut|whore|molest|naked|nude|orgasm|"
                   r"genital|breast|penis|vagina|semen|slut|bitch|bastard|shit|piss|fuck|negro|"
                   r"nigg|fag|queer|retard|slave|nazi|terroris|tortur|suicid|murder|corpse|kill)",
                   re.IGNORECASE)


def is_sentence(text):
    lower = text.lower()
    if FULL.fullmatch(lower):
        return True
    if not DETERMINER.match(lower):
        return False
    helper, relative = HELPER.search(lower), RELATIVE.search(lower)
    return helper is not None and (relative is None or helper.start() < relative.start())


def examples(folder):
    """Yields the examples of use in WordNet's data files, as they stand there."""
    for part in ("adj", "adv", "noun", "verb"):
        for line in (folder / f"data.{part}").read_text(encoding="latin-1").splitlines():
            # The licence stands in front, indented; an entry's gloss stands behind a bar.
            if not line.startswith(" "):
                yield from EXAMPLE.findall(line.partition("| ")[2])


def fits(text):
    return (
        SHORTEST <= len(text.split()) <= LONGEST
        and PLAIN.fullmatch(text)
        and not NAME.search(text)
        and not UNFIT.search(text)
        and is_sentence(text)
    )


def licence(folder):
    """WordNet's notice, which every copy has to carry: the numbered lines before the data."""
    lines = (folder / "data.verb").read_text(encoding="latin-1").splitlines()
    notice = [line for line in lines if line.startswith("  ")]
    return [re.sub(r"^ *\d+ ?", "", line).rstrip() for line in notice]


def main():
    folder = Path(sys.argv[1])
    # Sorted, or the sample would follow the order of a set; one entry a wording, whatever its case.
    found = {text.lower(): text for text in map(str.strip, examples(folder)) if fits(text)}
    sample = sorted(random.Random(SEED).sample(sorted(found), SAMPLE))
    header = [
        f"Everyday sentences: {SAMPLE} of {len(found)}, one a line, picked by everyday.py.",
        "Source: examples of use in WordNet 3.0, Debian package wordnet-base 1:3.0-37.",
        "Licence: WordNet 3.0 licence (permissive), which follows.",
        "",
        *licence(folder),
    ]
    lines = [f"# {line}".rstrip() for line in header] + [found[key] for key in sample]
    OUT.write_text("\n".join(lines) + "\n", encoding="ascii", newline="\n")


if __name__ == "__main__":
    main()
