"""Are small studies telling a different story: funnel asymmetry, rank correlation, trim-and-fill."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import t
from lengthwise.errors import InputError
from lengthwise.evidence.heterogeneity import read_only
from lengthwise.evidence.moderators import regress
from lengthwise.evidence.pooling import Convention, PooledEffect, pool

ENOUGH = 10
"""Below this many studies asymmetry tests cannot tell chance from bias (Sterne et al. 2011, BMJ 343:d4002)."""

PET_LEVEL = 0.05
"""One-sided level at which PET hands over to PEESE (Stanley & Doucouliagos 2014)."""

ROUNDING = 12
"""Decimals of a distance from the centre: what differs only by rounding is equal, on every processor."""


def caution(k: int) -> str:
    """What to keep in mind when judging asymmetry among `k` studies; empty when there are enough."""
    if k >= ENOUGH:
        return ""
    return f"only {k} studies: asymmetry cannot be told from chance below {ENOUGH}; read this as a picture, not as a test"


@dataclass(frozen=True, kw_only=True)
class Asymmetry:
    """Egger's test: does the effect depend on the standard error?

    Attributes:
        slope: change of the effect per unit of standard error (or of `against`), with its `se`, `statistic`, `df` and `p`.
        limit, limit_ci: the effect expected of an infinitely precise study.
        caution: warning when there are few studies, else empty.
    """

    PUBLIC: ClassVar = "slope se df p~ limit caution"
    slope: float
    se: float
    statistic: float
    df: int
    p: float
    limit: float
    limit_ci: tuple[float, float]
    caution: str


def egger(y: npt.ArrayLike, v: npt.ArrayLike, against: npt.ArrayLike | None = None) -> Asymmetry:
    """Whether small studies find other effects than large ones (Egger et al. 1997, BMJ 315:629-634).

    Weighted regression of the effect on its standard error, or on what else says how small a study is (`against`, such as 1/√n: Pustejovsky
    & Rodgers 2019, Res Synth Methods 10:57-71, from memory), with a free residual scale.

    Raises:
        InputError: fewer than three studies, all of the same precision, or all with the same effect.
    """
    y, se = np.asarray(y, dtype=float), np.sqrt(np.asarray(v, dtype=float))
    x = se if against is None else np.asarray(against, dtype=float)
    if y.size < 3 or np.ptp(x) == 0:
        raise InputError("the asymmetry test needs at least 3 studies of different precision", asked=int(y.size))
    if np.ptp(y) == 0:
        raise InputError("the asymmetry test needs effects that differ; all studies found the same", asked=float(y[0]))
    limit, slope, error, df = _line(y, se, x)
    half = float(t.ppf(0.975, df)) * error[0]
    # Where the line meets every study there is no error left: a slope is then beyond doubt, and none is none.
    statistic = float(slope / error[1]) if error[1] > 0 else float(np.copysign(np.inf, slope)) if slope else 0.0
    p = float(2 * t.sf(abs(statistic), df))
    ci = (float(limit - half), float(limit + half))
    return Asymmetry(
        slope=float(slope),
        se=float(error[1]),
        statistic=statistic,
        df=df,
        p=p,
        limit=float(limit),
        limit_ci=ci,
        caution=caution(y.size),
    )


def _line(y: Array, se: Array, against: Array) -> tuple[float, float, Array, int]:
    """Intercept, slope, their errors (2) and degrees of freedom of effects on `against` (n), weighted by precision, scale free."""
    x = np.column_stack([1 / se, against / se])
    cov, df = np.linalg.inv(x.T @ x), y.size - 2
    limit, slope = cov @ x.T @ (y / se)
    scale = float(((y / se - x @ [limit, slope]) ** 2).sum()) / df
    return float(limit), float(slope), np.sqrt(scale * np.diag(cov)), df


@dataclass(frozen=True, kw_only=True)
class PreciseEffect:
    """PET-PEESE: the effect expected of a study without sampling error.

    Attributes:
        used: "PET" (line in the standard error) or "PEESE" (line in the variance).
        estimate, se, p: the intercept of that line, its standard error and two-sided probability.
        pet_p: one-sided probability of PET's intercept, which chose the line.
        caution: warning when there are few studies, else empty.
    """

    PUBLIC: ClassVar = "used estimate se p~ pet_p~ caution"
    used: str
    estimate: float
    se: float
    p: float
    pet_p: float
    caution: str


def precise_effect(y: npt.ArrayLike, v: npt.ArrayLike) -> PreciseEffect:
    """The effect of an infinitely precise study (Stanley & Doucouliagos 2014, Res Synth Methods 5:60-78).

    PEESE where PET's intercept, in the direction it lies, is below 0.05 on one side; else PET.

    Raises:
        InputError: fewer than three studies, all of the same precision, or all with the same effect.
    """
    y, v = np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    test, se = egger(y, v), np.sqrt(v)
    found: dict[str, tuple[float, float, float]] = {}
    for name, against in (("PET", se), ("PEESE", v)):
        limit, _, error, df = _line(y, se, against)
        ratio = abs(limit) / error[0] if error[0] > 0 else np.inf
        found[name] = (limit, float(error[0]), float(2 * t.sf(ratio, df)))
    one_sided = found["PET"][2] / 2
    used = "PEESE" if one_sided < PET_LEVEL else "PET"
    estimate, se, p = found[used]
    return PreciseEffect(used=used, estimate=estimate, se=se, p=p, pet_p=one_sided, caution=test.caution)


def rank_correlation(y: npt.ArrayLike, v: npt.ArrayLike) -> tuple[float, float]:
    """Kendall's τ between standardised effect and variance, and its p (Begg & Mazumdar 1994, Biometrics 50:1088-1101)."""
    from scipy.stats import kendalltau  # only here: half a second of loading

    y, v = np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    w = 1 / v
    standardised = (y - (w * y).sum() / w.sum()) / np.sqrt(v - 1 / w.sum())
    result = kendalltau(standardised, v)
    return float(result.statistic), float(result.pvalue)


@dataclass(frozen=True, kw_only=True)
class Filled:
    """Trim-and-fill: how many studies seem to be missing, on which side, and the mean with them.

    Attributes:
        missing: estimated number of missing studies (estimator L0).
        side: "left" or "right", where they would lie.
        y, v: their imagined effects and variances (missing).
        pooled: the pooled effect with them added.
        caution: warning when there are few studies, else empty.
    """

    PUBLIC: ClassVar = "missing side estimate=pooled.estimate ci=pooled.ci caution"
    missing: int
    side: str
    y: Array
    v: Array
    pooled: PooledEffect
    caution: str


def _surplus(y: Array, centre: float) -> int:
    """Duval & Tweedie's L0: how many studies on the right have no counterpart on the left; equal distances rank in the order of `y`."""
    from scipy.stats import rankdata  # only here: half a second of loading

    gap = np.round(y - centre, ROUNDING)
    rank = rankdata(np.abs(gap), method="ordinal")
    k = y.size
    return max(0, round((4 * float(rank[gap > 0].sum()) - k * (k + 1)) / (2 * k - 1)))


def trim_and_fill(y: npt.ArrayLike, v: npt.ArrayLike, convention: Convention | None = None) -> Filled:
    """The pooled effect if the funnel were symmetric (Duval & Tweedie 2000, Biometrics 56:455-463, estimator L0).

    The side is where the slope of the effects on their standard errors, weighted as the pool, says that studies are missing.
    """
    how, y, v = convention or Convention(), np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    slope = regress(y, v, {"se": np.sqrt(v)}, Convention(how.method)).beta[1]
    side = "right" if slope < 0 else "left"
    sign = -1.0 if side == "right" else 1.0
    order = np.argsort(sign * y, kind="stable")
    flipped, variance = sign * y[order], v[order]
    missing, centre = 0, 0.0
    for _ in range(y.size):
        keep = y.size - missing
        centre = pool(flipped[:keep], variance[:keep], Convention(how.method)).estimate
        found = min(_surplus(flipped, centre), y.size - 2)
        if found == missing:
            break
        missing = found
    extra = sign * (2 * centre - flipped[y.size - missing :])
    extra_v = variance[y.size - missing :]
    filled = pool(np.concatenate([y, extra]), np.concatenate([v, extra_v]), how)
    return Filled(missing=missing, side=side, y=read_only(extra), v=read_only(extra_v), pooled=filled, caution=caution(y.size))
