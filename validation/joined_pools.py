"""How often a published pool joined with a few later studies holds the truth: by their plain error, by that of their t, and as the library joins them.

    python validation/joined_pools.py

Invented studies around 0.3 SMD, variances 0.03 to 0.15 (about 14 to 70 people an arm), with and without a spread of 0.2 between studies; 15 of
them pooled by REML and printed with a normal interval, as published pools mostly are.
"""

from dataclasses import replace
from math import inf

import numpy as np

from lengthwise.evidence.pooling import Convention, pool
from lengthwise.evidence.synthesis import PooledAnswer, joined, one_effect_a_study

TRUTH, PUBLISHED, TIMES = 0.3, 15, 1000


def holds(answer: PooledAnswer) -> bool:
    """Whether the 95 % interval holds the truth."""
    return bool(answer.ci[0] <= TRUTH <= answer.ci[1])


def ways(rng: np.random.Generator, later: int, spread: float) -> tuple[bool, bool, bool]:
    """Whether each way of joining holds the truth, once: plain Hartung-Knapp error, that of its t, the wider of that and the model's, as the library has it."""
    v = rng.uniform(0.03, 0.15, PUBLISHED + later)
    y = rng.normal(TRUTH, np.sqrt(spread**2 + v))
    names = [str(i) for i in range(y.size)]
    before = pool(y[:PUBLISHED], v[:PUBLISHED])
    floored = one_effect_a_study(y[PUBLISHED:], v[PUBLISHED:], "SMD", names[PUBLISHED:])
    printed = replace(floored, n_study=PUBLISHED, estimate=before.estimate, se=before.se, df=inf, ci=before.ci)
    knapp = pool(y[PUBLISHED:], v[PUBLISHED:], Convention("reml", "hk"))
    by_t = replace(floored, se=knapp.se, df=knapp.df, ci=knapp.ci)
    return holds(joined(printed, replace(by_t, df=inf))), holds(joined(printed, by_t)), holds(joined(printed, floored))


for n in (2, 3, 5):
    for between in (0.0, 0.2):
        found = np.mean([ways(np.random.default_rng((n, i)), n, between) for i in range(TIMES)], 0)
        print(f"{n} later studies, spread {between:g}: plain {found[0]:.1%}, t {found[1]:.1%}, as joined {found[2]:.1%}")
