"""Standard deviations that a report does not print but its other numbers fix exactly.

Nothing here guesses: a "p < 0.001" or a spread borrowed from another study is no source of a standard deviation.
"""

from dataclasses import dataclass

import numpy as np

from lengthwise.distributions import norm, t
from lengthwise.errors import InputError


@dataclass(frozen=True)
class Spread:
    """A standard deviation or standard error and how it was come by ("reported", or "recovered from …")."""

    value: float
    how: str = "reported"


def _positive(value: float, what: str) -> float:
    if not (np.isfinite(value) and value > 0):
        raise InputError(f"{what} {value:g} must be above 0", asked=value, allowed=["> 0"])
    return value


def _count(n: float) -> float:
    if n < 2:
        raise InputError(f"n {n:g} is too small for a spread", asked=n, allowed=["n ≥ 2"])
    return n


def sd_from_se(se: float, n: int) -> Spread:
    """The standard deviation of n people from the standard error of their mean."""
    return Spread(_positive(se, "standard error") * float(np.sqrt(_count(n))), "recovered from SE")


def se_from_interval(low: float, high: float, df: float | None = None, level: float = 0.95) -> Spread:
    """The standard error behind a symmetric interval: t on `df`, or normal without."""
    _positive(high - low, "width of the interval")
    upper = (1 + level) / 2
    quantile = float(norm.ppf(upper) if df is None else t.ppf(upper, df))
    return Spread((high - low) / (2 * quantile), f"recovered from {level:.0%} CI")


def sd_from_interval(low: float, high: float, n: int, level: float = 0.95) -> Spread:
    """The standard deviation of n people from the t interval of their mean."""
    se = se_from_interval(low, high, _count(n) - 1, level)
    return Spread(se.value * float(np.sqrt(n)), se.how)


FEW_FREE = np.append(np.geomspace(1.0, 200.0, 400), np.inf)
"""Degrees of freedom among which an interval and its p are brought together."""
APART = 0.1
"""A p that lies so far below that of a normal interval is not rounded: the interval is one of t on few degrees of freedom (own choice)."""


def free_from_p(low: float, high: float, estimate: float, p: float) -> float:
    """The degrees of freedom on which a printed 95 % interval and its p agree; infinite where a normal interval has that p already."""
    half = _positive(high - low, "width of the interval") / 2
    found = 2 * t.sf(abs(estimate) / half * t.ppf(0.975, FEW_FREE), FEW_FREE)
    return float(FEW_FREE[np.argmin(np.abs(found - p))]) if found[-1] - p > APART else np.inf


def se_from_statistic(difference: float, statistic: float) -> Spread:
    """The standard error behind a difference and its t (or z)."""
    _positive(abs(statistic), "size of t")
    _positive(abs(difference), "size of the difference")
    return Spread(abs(difference / statistic), "recovered from t")


def statistic_from_p(p: float, df: float | None = None) -> float:
    """The size of t on `df` (or z without) behind an exact two-sided p.

    Raises:
        InputError: p is not strictly between 0 and 1, so that no single t belongs to it.
    """
    if not 0 < p < 1:
        raise InputError(f"p {p:g} is not between 0 and 1", asked=p, allowed=["0 < p < 1, exact"])
    return float(norm.isf(p / 2) if df is None else t.isf(p / 2, df))


def se_from_p(difference: float, p: float, df: float | None = None) -> Spread:
    """The standard error behind a difference and its exact two-sided p."""
    se = se_from_statistic(difference, statistic_from_p(p, df))
    return Spread(se.value, "recovered from p")
