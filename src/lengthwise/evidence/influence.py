"""Which study carries the answer: leave-one-out, influence, studies one after another, and the next study."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import norm
from lengthwise.errors import InputError
from lengthwise.evidence.heterogeneity import Effects, read_only, weighted_fit
from lengthwise.evidence.pooling import Convention, PooledEffect, pool, pool_many


@dataclass(frozen=True)
class LeftOut:
    """The pooled effect without each study in turn: estimate, se, interval, τ² and I² [%], each (n_study)."""

    PUBLIC: ClassVar = "estimate ci=intervals tau2"
    estimate: Array
    se: Array
    ci_low: Array
    ci_high: Array
    tau2: Array
    i2: Array

    @property
    def intervals(self) -> tuple[tuple[float, float], ...]:
        """Lower and upper end of each interval."""
        return tuple(zip(self.ci_low.tolist(), self.ci_high.tolist(), strict=True))


def _without_each(values: Array) -> Array:
    """Row i holds all values but the i-th (n, n − 1)."""
    n = values.size
    return np.asarray(np.broadcast_to(values, (n, n))[~np.eye(n, dtype=bool)].reshape(n, n - 1))


def leave_one_out(y: npt.ArrayLike, v: npt.ArrayLike, convention: Convention | None = None) -> LeftOut:
    """The pooled effect without each study in turn.

    Raises:
        InputError: fewer than three studies.
    """
    how, y, v = convention or Convention(), np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    if y.size < 3:
        raise InputError(f"leaving one study out needs at least 3, found {y.size}", asked=y.size)
    effects = Effects(_without_each(y), _without_each(v))
    sets = pool_many(effects.y, effects.v, how)
    typical = (y.size - 2) / weighted_fit(effects).trace
    half = how.quantile(y.size - 2) * sets.se
    i2 = 100 * sets.tau2 / (sets.tau2 + typical)
    arrays = (sets.estimate, sets.se, sets.estimate - half, sets.estimate + half, sets.tau2, i2)
    return LeftOut(*(read_only(a) for a in arrays))


def cumulative(y: npt.ArrayLike, v: npt.ArrayLike, order: npt.ArrayLike, how: Convention) -> tuple[PooledEffect, ...]:
    """The pooled effect after each study, in the given order (indices); ties keep their place.

    The first entry rests on a single study and uses the z test, whatever the convention.
    """
    index, y, v = np.asarray(order, dtype=int), np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    first = pool(y[index[:1]], v[index[:1]], Convention(how.method, "z", how.level))
    return (first, *(pool(y[index[:n]], v[index[:n]], how) for n in range(2, index.size + 1)))


@dataclass(frozen=True, kw_only=True)
class NextStudy:
    """What the next study would have to show.

    Attributes:
        variance: sampling variance assumed for it.
        results: effects it could find (n).
        ci_low, ci_high: bounds of the pooled interval after it (n).
        changes: range of results around the one nearest to the present mean at which the pooled verdict (interval
            above, across or below 0) changes; (nan, nan) when none does. More is not always more: a result far from
            the others widens the spread between studies.
        chance: probability of such a result, if it comes from the same family of studies.
    """

    variance: float
    results: Array
    ci_low: Array
    ci_high: Array
    changes: tuple[float, float]
    chance: float


def _verdict(low: npt.ArrayLike, high: npt.ArrayLike) -> npt.NDArray[np.int_]:
    return np.asarray((np.asarray(low) > 0).astype(int) - (np.asarray(high) < 0).astype(int))


def _band(results: Array, changed: npt.NDArray[np.bool_], centre: float) -> tuple[float, float]:
    """The unbroken stretch of results marked as changed that comes nearest to the centre."""
    marked = np.flatnonzero(changed)
    if not marked.size:
        return float("nan"), float("nan")
    nearest = int(marked[np.argmin(np.abs(results[marked] - centre))])
    unmarked = np.flatnonzero(~changed)
    first = max(unmarked[unmarked < nearest], default=-1) + 1
    last = min(unmarked[unmarked > nearest], default=results.size) - 1
    return float(results[first]), float(results[last])


def next_study(y: npt.ArrayLike, v: npt.ArrayLike, variance: float, convention: Convention | None = None) -> NextStudy:
    """The effect a next study with this sampling variance would need to change what the pooled interval says."""
    how, y, v = convention or Convention(), np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    now = pool(y, v, how)
    family = float(np.sqrt(now.tau2 + now.se**2 + variance))
    results = now.estimate + family * np.linspace(-6, 6, 1201)
    sets = pool_many(np.column_stack([np.broadcast_to(y, (results.size, y.size)), results]), np.append(v, variance), how)
    half = how.quantile(y.size) * sets.se
    low, high = sets.estimate - half, sets.estimate + half
    changed = _verdict(low, high) != _verdict(*now.ci)
    inside = norm.cdf((results - now.estimate) / family)
    step = np.gradient(inside)
    return NextStudy(
        variance=variance,
        results=read_only(results),
        ci_low=read_only(low),
        ci_high=read_only(high),
        changes=_band(results, changed, now.estimate),
        chance=float(step[changed].sum()),
    )
