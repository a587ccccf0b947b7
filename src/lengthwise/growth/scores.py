"""How well differences of trials are predicted, each trial by what was learned without it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

import numpy as np

from lengthwise import distributions
from lengthwise.arrays import Array
from lengthwise.growth.design import Pair, Trial
from lengthwise.growth.fit import Posterior, effective, fitted
from lengthwise.growth.likelihood import SMALL, Data, moments
from lengthwise.growth.rivals import RIVALS, RivalRule, fitted_rule, pairs_of
from lengthwise.later import special

ENOUGH = 150.0
"""Draws that the weights must be worth for a trial to be left out by weighing; else the fit is made again without it."""
FEW_DRAWS = 400
NONE, LEAST = 1e-6, 1e-300
QUANTILES = np.array([0.05, 0.95])
"""Ends of the 90 % interval."""
NARROW = 1e-3
"""How exactly they are found [percentage points]."""


@dataclass(frozen=True)
class Prediction:
    """What is said of a pair before it is seen: a mixture of normals, one for each draw.

    Attributes:
        mean, sd: of the difference itself, (n_part,). weight: of each, summing to 1. se: error of the trial, that adds to it.
    """

    mean: Array
    sd: Array
    weight: Array
    se: float

    @property
    def centre(self) -> float:
        """Expected difference [percentage points]."""
        return float(self.weight @ self.mean)

    def below(self, value: float, se: float) -> float:
        """Probability that what is seen with an error lies below a value."""
        return float(self.weight @ special.ndtr((value - self.mean) / np.sqrt(self.sd**2 + se**2 + SMALL)))

    @cached_property
    def interval(self) -> tuple[float, float]:
        """90 % interval of what the trial would print, its error included; found by halving, to a thousandth of a point."""
        spread = np.sqrt(self.sd**2 + self.se**2) + SMALL
        low = np.full(2, (self.mean - 5 * spread).min())
        high = np.full(2, (self.mean + 5 * spread).max())
        while (high - low).max() > NARROW:
            middle = (low + high) / 2
            reached = self.weight @ special.ndtr((middle - self.mean[:, None]) / spread[:, None]) >= QUANTILES
            low, high = np.where(reached, low, middle), np.where(reached, middle, high)
        return float(high[0]), float(high[1])

    def log_density(self, pair: Pair) -> float:
        """Log score of what was seen: log density of a difference, log probability of a side."""
        if pair.side:
            ahead = 1 - self.below(0.0, pair.se)
            return float(np.log(max(ahead if pair.value > 0 else 1 - ahead, LEAST)))
        spread = np.sqrt(self.sd**2 + pair.se**2)
        density = np.exp(distributions.norm.logpdf(pair.value - self.mean, spread))
        return float(np.log(self.weight @ density + LEAST))


@dataclass(frozen=True)
class Compared:
    """A pair beside its predictions by the estimate ("model") and every rival, all made without its trial."""

    trial: Trial
    pair: Pair
    predicted: Mapping[str, Prediction]


@dataclass(frozen=True)
class Score:
    """How well one predictor does; `sign` counts clear differences and sides whose side it has right."""

    PUBLIC: ClassVar = "rmse log_score sign[right of] coverage50 coverage90"

    rmse: float
    log_score: float
    sign: tuple[int, int]
    coverage50: float
    coverage90: float


def predictions(trial: Trial, x: Array, weight: Array) -> list[Prediction]:
    """What draws of the coefficients say of each pair of a trial."""
    mean, cov = _rows(trial, x)
    out = []
    for p in trial.pairs:
        var = cov[:, p.a, p.a] + cov[:, p.b, p.b] - 2 * cov[:, p.a, p.b]
        out.append(Prediction(mean[:, p.a] - mean[:, p.b], np.sqrt(np.maximum(var, 0)), weight, p.se))
    return out


def contrast_moments(trial: Trial, contrast: Array, x: Array) -> tuple[Array, Array]:
    """Mean and variance of a weighted sum of a trial's rows (n_row,) under draws of the coefficients, (n_draw,) each."""
    mean, cov = _rows(trial, x)
    return mean @ contrast, np.maximum(contrast @ cov @ contrast, 0.0)


def _rows(trial: Trial, x: Array) -> tuple[Array, Array]:
    data = Data([trial])
    of = [r.heads for r in trial.rows]
    muscle = np.array([[[float(a == b) for b in of] for a in of]])
    mean, cov = moments(x, data.growth(x)[:, None, :-1], data.level(x), muscle)
    return mean[:, 0], cov[:, 0]


def learned_without(trials: Sequence[Trial], posterior: Posterior) -> dict[str, tuple[Array, Array]]:
    """What is known of the coefficients without each trial that has pairs, by its study: draws, (n_draw, n_coefficient), and their weights.

    Where the draws of all trials, weighed anew, are worth too few, the fit is made again without the trial.
    """
    out: dict[str, tuple[Array, Array]] = {}
    for i, trial in enumerate(trials):
        if not trial.pairs:
            continue
        out[trial.study.id] = posterior.draws, posterior.without(i)
        if effective(out[trial.study.id][1]) < ENOUGH:
            others = [t for t in trials if t.study.id != trial.study.id]
            again = fitted(Data(others), FEW_DRAWS, posterior.mode)
            out[trial.study.id] = again.draws, again.weights
    return out


def left_out(
    trials: Sequence[Trial], without: Mapping[str, tuple[Array, Array]], shown: Sequence[Trial] | None = None
) -> tuple[Compared, ...]:
    """Every pair beside what is predicted of it without its trial, by the estimate and by every rival.

    Args:
        trials: what was learned from. without: what was learned without each (learned_without).
        shown: the same trials as another body does them; those that were learned from where left out.
    """
    seen = {name: pairs_of(name, trials) for name in RIVALS}
    out = []
    for i, trial in enumerate(shown or trials):
        if not trial.pairs:
            continue
        by = {"model": predictions(trial, *without[trial.study.id])}
        by |= {name: _by_rule(fitted_rule(name, seen[name].without(i)), trial) for name in RIVALS}
        out += [Compared(trial, p, {n: each[k] for n, each in by.items()}) for k, p in enumerate(trial.pairs)]
    return tuple(out)


def _by_rule(rule: RivalRule, trial: Trial) -> list[Prediction]:
    found = [rule.predicted(trial, p) for p in trial.pairs]
    one = np.ones(1)
    return [Prediction(np.array([m]), np.array([np.sqrt(v)]), one, p.se) for (m, v), p in zip(found, trial.pairs, strict=True)]


def by_trial(compared: Sequence[Compared], name: str) -> dict[str, float]:
    """Log score of each trial."""
    out: dict[str, float] = {}
    for c in compared:
        out[c.trial.study.id] = out.get(c.trial.study.id, 0.0) + c.pair.weight * c.predicted[name].log_density(c.pair)
    return out


def score(compared: Sequence[Compared], name: str) -> Score:
    """How well one predictor does on some pairs."""
    sized = [c for c in compared if not c.pair.side]
    w = np.array([c.pair.weight for c in sized])
    miss = np.array([c.pair.value - c.predicted[name].centre for c in sized])
    place = np.array([c.predicted[name].below(c.pair.value, c.pair.se) for c in sized])
    told = [c for c in compared if c.pair.clear]
    right = sum(c.predicted[name].centre * c.pair.value > NONE for c in told)
    inside = [float(np.average(np.abs(place - 0.5) < half, weights=w)) for half in (0.25, 0.45)]
    total = sum(by_trial(compared, name).values())
    return Score(float(np.sqrt(np.average(miss**2, weights=w))), total, (right, len(told)), *inside)


def gain(compared: Sequence[Compared], over: str, seed: int = 1, without: str = "") -> tuple[float, float, float]:
    """By how much the estimate's log score beats a rival's, with its 90 % interval over trials drawn again (bootstrap)."""
    own, other = by_trial(compared, "model"), by_trial(compared, over)
    each = np.array([own[t] - other[t] for t in own if t != without])
    drawn = np.random.default_rng(seed).choice(each, (4000, len(each))).sum(1)
    low, high = np.quantile(drawn, QUANTILES)
    return float(each.sum()), float(low), float(high)
