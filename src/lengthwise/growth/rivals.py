"""The simplest rules that the estimate has to beat: a difference in proportion to one thing, or none at all."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.growth.design import DesignRow, Pair, Trial
from lengthwise.growth.features import Features

RIVALS = {"no_difference": 0.0, "longer_wins": 5.0, "length": 20.0, "tension": 20.0, "old_grade": 20.0}
"""Rules, and the prior standard deviation of their slope [percentage points for the whole of what they look at]."""
FEATURE = {"length": "span", "longer_wins": "span", "tension": "tension", "old_grade": "old_grade"}
LONGER = 0.03
"""Difference of span from which an arm counts as longer: what 5° of technique move it by (estimate)."""
SPREAD, SPREAD_SD = 3.0, 0.7
"""Prior of the misfit of a rule [percentage points], and of its logarithm; estimate, wide."""


@dataclass(frozen=True)
class RivalRule:
    """A fitted rule: slope with its variance, and the variance of what it misses."""

    name: str
    slope: float
    slope_var: float
    misfit_var: float

    def predicted(self, trial: Trial, pair: Pair) -> tuple[float, float]:
        """Mean and variance of a difference, without the error of the trial."""
        u = looked_at(self.name, trial, pair)
        return self.slope * u, self.misfit_var + self.slope_var * u**2


def looked_at(rule: str, trial: Trial, pair: Pair) -> float:
    """What a rule multiplies: the difference of its feature between two rows, or which is longer."""
    if rule == "no_difference":
        return 0.0
    u = _mean(trial.rows[pair.a], FEATURE[rule]) - _mean(trial.rows[pair.b], FEATURE[rule])
    return (float(np.sign(u)) if abs(u) > LONGER else 0.0) if rule == "longer_wins" else u


def _mean(row: DesignRow, feature: str) -> float:
    """A feature of a row: its heads by volume, its lifts by their sets."""
    each = [np.average([_of(e.features, feature) for e in head], weights=[e.sets for e in head]) for head in row.entries]
    return float(row.volume @ each)


def _of(features: Features, name: str) -> float:
    return float(getattr(features, name))


@dataclass(frozen=True)
class Pairs:
    """The sized pairs of some trials as a rule sees them, (n_pair,): what it multiplies, the difference, its error, weight and trial."""

    looked_at: Array
    value: Array
    se: Array
    weight: Array
    trial: NDArray[np.intp]

    def without(self, trial: int) -> "Pairs":
        """The pairs of all trials but one."""
        keep = self.trial != trial
        return Pairs(self.looked_at[keep], self.value[keep], self.se[keep], self.weight[keep], self.trial[keep])


def pairs_of(name: str, trials: Sequence[Trial]) -> Pairs:
    """The sized pairs of trials as the rule called `name` sees them; sides say nothing of a size."""
    found = [(i, t, p) for i, t in enumerate(trials) for p in t.pairs if not p.side]
    numbers = np.array([[looked_at(name, t, p), p.value, p.se, p.weight] for _, t, p in found]).T
    u, value, se, weight = numbers
    return Pairs(u, value, se, weight, np.array([i for i, _, _ in found]))


MISFITS = np.exp(2 * np.linspace(np.log(0.3), np.log(20.0), 121))
"""Variances of the misfit among which the likeliest is taken."""


def fitted_rule(name: str, pairs: Pairs) -> RivalRule:
    """A rule fitted to pairs: the slope in closed form for each misfit, and the likeliest misfit."""
    u, d, w = pairs.looked_at, pairs.value, pairs.weight
    v = MISFITS[:, None] + pairs.se**2
    prior = RIVALS[name] ** -2 if RIVALS[name] > 0 else np.inf
    precision = (w * u**2 / v).sum(1) + prior
    slope = (w * u * d / v).sum(1) / precision if RIVALS[name] > 0 else np.zeros(len(MISFITS))
    cost = (w * (np.log(v) + (d - slope[:, None] * u) ** 2 / v)).sum(1) / 2
    cost += 0.5 * ((np.log(MISFITS) / 2 - np.log(SPREAD)) / SPREAD_SD) ** 2
    cost += 0.5 * (slope / RIVALS[name]) ** 2 if RIVALS[name] > 0 else 0.0
    best = int(np.argmin(cost))
    return RivalRule(name, float(slope[best]), float(1 / precision[best]), float(MISFITS[best]))
