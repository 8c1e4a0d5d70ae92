"""Writes a made-up archive: `made_up.py NOTES [SEED]`, the same for the same seed.

A line is a day, a farm and a note, with tabs between; sorted by day and farm. Some notes name no cow, some no claw,
some are not sure, some are remarks, and some visits have no farm: an archive is not tidy.
"""
import datetime
import sys

FARMS = ["Juniper Flat", "Oak Lane", "Cold Spring", "Thistle Hill", "Fen End", "Alder Creek", ""]
SCRIBBLED = ["LR out SU z4 blk", "RRO WL z3 drained, blk in wrp", "BH DD M2 wrp", "LH lat SH z4", "OH foul", "RR DD M4",
             "LHI TU z5", "LR SU blk", "BH HE gr 2", "RH WL", "LF NAD, RH out SU z4 blk RC 4wk", "ok", "NAD", "trim",
             "ok", "toe RF 75mm", "L out SU z4 blk"]
SPOKEN = ["right hind outer, ulcer zone four, block inner, wrap, recheck in four weeks",
          "both hinds digital dermatitis, wrap both", "left hind, maybe white line, zone three, outer",
          "all four clean", "trimmed, no lesions", "left front outer, horizontal crack, pared",
          "locomotion three, left hind ulcer, block on", "right hind outer toe ulcer, call the vet",
          "left hind inner white line abscess zone two, opened it up", "not trimmed, just calved",
          "right hind outer sole ulcer, healed", "all four clean", "vet to look at her", "ulcer zone four, block on"]
COWS_A_DAY = 30


def archive(notes, seed=1):
    """The lines, without their ends."""
    state = seed or 1

    def below(n):
        """xorshift64*: the same in every version of Python."""
        nonlocal state
        state ^= state >> 12
        state ^= state << 25 & (2**64 - 1)
        state ^= state >> 27
        return ((state * 0x2545F4914F6CDD1D & (2**64 - 1)) >> 33) % n

    day = datetime.date(1998, 1, 5)
    left = notes
    while left > 0:
        # One to three farms on a day, in the order of their names.
        first = below(len(FARMS))
        for farm in sorted({FARMS[(first + 3 * k) % len(FARMS)] for k in range(1 + below(3))}):
            for _ in range(min(left, COWS_A_DAY // 2 + below(COWS_A_DAY))):
                cow = 1 + below(900)
                if below(2):
                    note = f"{cow} {SCRIBBLED[below(len(SCRIBBLED))]}"
                else:
                    spoken = SPOKEN[below(len(SPOKEN))]
                    note = spoken if below(25) == 0 else f"cow {cow}, {spoken}"
                yield f"{day}\t{farm}\t{note}"
                left -= 1
        day += datetime.timedelta(days=1 + below(3))


if __name__ == "__main__":
    for line in archive(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1):
        print(line)
