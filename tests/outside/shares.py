#!/usr/bin/env python3
"""Writes tests/outside/shares.tsv: what statsmodels says of shares and of survival.

    pip install statsmodels && tests/outside/shares.py >tests/outside/shares.tsv

`wilson X N LOW HIGH`: proportion_confint(X, N, method="wilson"), 500 random pairs.
`km DAYS:EVENT,... DAYS:OPEN,...`: SurvfuncRight, 50 random samples, and first the 21 patients on 6-MP of Freireich et
al. 1963 (Blood 21:699-716).
"""

import random
import sys

# numbers.py beside this would be taken for Python's own.
sys.path.pop(0)

import numpy
import statsmodels
from statsmodels.duration.survfunc import SurvfuncRight
from statsmodels.stats.proportion import proportion_confint

random.seed(20261125)


def survival(cases):
    days = numpy.array([c[0] for c in cases], dtype=float)
    event = numpy.array([c[1] for c in cases])
    curve = SurvfuncRight(days, event)
    given = ",".join(f"{d}:{e}" for d, e in cases)
    steps = ",".join(f"{int(d)}:{p:.10f}" for d, p in zip(curve.surv_times, curve.surv_prob))
    print(f"km\t{given}\t{steps}")


print(f"# statsmodels {statsmodels.__version__}, by shares.py")
for _ in range(500):
    n = random.choice([random.randint(1, 30), random.randint(1, 500), random.randint(1, 20000)])
    x = random.choice([random.randint(0, n), 0, n, random.randint(0, max(1, n // 20))])
    low, high = proportion_confint(x, n, method="wilson")
    print(f"wilson\t{x}\t{n}\t{low:.10f}\t{high:.10f}")
healed, lost = [6, 6, 6, 7, 10, 13, 16, 22, 23], [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
survival([(d, 1) for d in healed] + [(d, 0) for d in lost])
for _ in range(50):
    n = random.randint(1, 40)
    cases = [(random.randint(1, 60), int(random.random() < 0.7)) for _ in range(n)]
    # Without an event there is no curve to compare.
    survival(cases + [(random.randint(1, 60), 1)])
