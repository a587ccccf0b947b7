"""What one study found: effect sizes with their sampling variances.

Positive means that the first group (or arm) gained more. Standardised differences carry Hedges' exact small-sample
factor (Hedges 1981, J Educ Stat 6:107-128).
"""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import log_gamma
from lengthwise.errors import InputError

WITHIN_CORRELATION = 0.5
"""Correlation of the changes of two limbs of one person: common practice when nothing is reported, no source."""

PRE_POST_CORRELATION = 0.83
"""Pre–post correlation of muscle size in training arms, 0.832 (0.762–0.882): computed from the data of J Sports Sci
2023;41(17):1617-1634 (76 studies, 305 effects)."""


@dataclass(frozen=True)
class Group:
    """People measured once, or their changes: number, mean and standard deviation in the unit of the measure."""

    n: int
    mean: float
    sd: float

    def __post_init__(self) -> None:
        if self.n < 2:
            raise InputError(f"a group needs at least 2 people, found {self.n}", asked=self.n, allowed=["n ≥ 2"])
        if not self.sd > 0:
            raise InputError(f"a standard deviation must be above 0, found {self.sd:g}", asked=self.sd, allowed=["> 0"])


@dataclass(frozen=True, kw_only=True)
class BeforeAfter:
    """One arm before and after training: n, both means, both standard deviations, and their correlation."""

    n: int
    pre_mean: float
    pre_sd: float
    post_mean: float
    post_sd: float
    correlation: float = PRE_POST_CORRELATION

    @property
    def change(self) -> float:
        """Mean change, in the unit of the measure."""
        return self.post_mean - self.pre_mean


@dataclass(frozen=True)
class Effect:
    """An effect size: estimate, sampling variance, scale, and what had to be recovered or assumed to get it."""

    PUBLIC: ClassVar = "estimate se scale notes"
    estimate: float
    variance: float
    scale: str
    notes: tuple[str, ...] = ()

    @property
    def se(self) -> float:
        """Standard error."""
        return float(np.sqrt(self.variance))


def small_sample_factor(df: npt.ArrayLike) -> Array:
    """Hedges' exact J: by how much a standardised difference on `df` degrees of freedom is too large."""
    m = np.asarray(df, dtype=float)
    return np.asarray(np.exp(log_gamma(m / 2) - np.log(np.sqrt(m / 2)) - log_gamma((m - 1) / 2)))


def pooled_sd(a: Group, b: Group) -> float:
    """The common standard deviation of two groups."""
    return float(np.sqrt(((a.n - 1) * a.sd**2 + (b.n - 1) * b.sd**2) / (a.n + b.n - 2)))


def standardised_difference(a: Group, b: Group) -> Effect:
    """How many standard deviations apart two groups are (Hedges' g; large-sample variance)."""
    return from_d((a.mean - b.mean) / pooled_sd(a, b), a.n, b.n)


def from_d(d: float, n_a: int, n_b: int) -> Effect:
    """Hedges' g from an uncorrected difference in standard deviations between two separate groups."""
    g = d * float(small_sample_factor(n_a + n_b - 2))
    return Effect(g, 1 / n_a + 1 / n_b + g**2 / (2 * (n_a + n_b)), "SMD")


def from_t(t: float, n_a: int, n_b: int) -> Effect:
    """Hedges' g behind the t of two separate groups."""
    return from_d(t * float(np.sqrt(1 / n_a + 1 / n_b)), n_a, n_b)


def pre_post_control(a: BeforeAfter, b: BeforeAfter) -> Effect:
    """How much more arm a changed than arm b, in common standard deviations before training.

    d_ppc2 of Morris 2008 (Organ Res Methods 11:364-386) with the exact J; large-sample variance
    2(1 − r)(1/n_a + 1/n_b) + d²/(2(n_a + n_b)), r the mean of both correlations weighted by n.
    """
    sd = pooled_sd(Group(a.n, a.pre_mean, a.pre_sd), Group(b.n, b.pre_mean, b.pre_sd))
    d = (a.change - b.change) / sd * float(small_sample_factor(a.n + b.n - 2))
    r = (a.n * a.correlation + b.n * b.correlation) / (a.n + b.n)
    return Effect(d, 2 * (1 - r) * (1 / a.n + 1 / b.n) + d**2 / (2 * (a.n + b.n)), "SMD before training")


def within_standardised(a: Group, b: Group, correlation: float = WITHIN_CORRELATION) -> Effect:
    """How many standard deviations more limb a gained than limb b of the same people."""
    _same_people(a, b, correlation)
    return within_from_d((a.mean - b.mean) / float(np.sqrt((a.sd**2 + b.sd**2) / 2)), a.n, correlation)


def within_from_d(d: float, n: int, correlation: float = WITHIN_CORRELATION) -> Effect:
    """A bias-corrected within-person difference from d in standard deviations of one limb's change.

    Variance (1/n + d²/2n)·2(1 − r) (Borenstein et al. 2009, Introduction to Meta-Analysis, eq. 4.28).
    """
    _valid_correlation(correlation)
    d = d * float(small_sample_factor(n - 1))
    variance = (1 / n + d**2 / (2 * n)) * 2 * (1 - correlation)
    return Effect(d, variance, "SMD", (f"within-person correlation {correlation:g} assumed",))


def within_from_t(t: float, n: int, correlation: float = WITHIN_CORRELATION) -> Effect:
    """A within-person standardised difference behind a paired t."""
    _valid_correlation(correlation)
    return within_from_d(t * float(np.sqrt(2 * (1 - correlation) / n)), n, correlation)


def _valid_correlation(correlation: float) -> None:
    if not -1 < correlation < 1:
        raise InputError(f"correlation {correlation:g} is not in −1…1", asked=correlation, allowed=["−1 < r < 1"])


def _same_people(a: Group, b: Group, correlation: float) -> None:
    _valid_correlation(correlation)
    if a.n != b.n:
        raise InputError(f"two limbs of the same people need the same n, found {a.n} and {b.n}", asked=(a.n, b.n))


def growth_ratio(percent_a: float, percent_b: float) -> float:
    """ln of (1 + a) over (1 + b): how much larger a muscle is after a than after b, from percent changes alone.

    It has no sampling variance without standard deviations; ratio pools weight it by n instead.
    """
    if min(percent_a, percent_b) <= -100:
        raise InputError("a muscle cannot lose 100% of its size", asked=(percent_a, percent_b), allowed=["> -100%"])
    return float(np.log1p(percent_a / 100) - np.log1p(percent_b / 100))


def percent_of(log_ratio: npt.ArrayLike) -> Array:
    """A log ratio as percent."""
    return np.asarray(100 * np.expm1(np.asarray(log_ratio, dtype=float)))
