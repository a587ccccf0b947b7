"""What several studies say together: pooled effect, its interval, and what a new study may find."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import chi2, norm, t
from lengthwise.errors import InputError, unknown
from lengthwise.evidence.heterogeneity import Effects, WeightedFit, inconsistency, q_profile, read_only, tau_squared, weighted_fit

TESTS = ("z", "t", "hk")
"""z: normal quantile; t: Student's t on k − p; hk: Hartung–Knapp, t on k − p with a rescaled standard error."""

NAMES = {
    "fe": "common (fixed) effect",
    "dl": "DerSimonian–Laird",
    "pm": "Paule–Mandel",
    "reml": "REML",
    "ml": "maximum likelihood",
    "he": "Hedges–Olkin",
    "hs": "Hunter–Schmidt",
    "sj": "Sidik–Jonkman",
    "eb": "empirical Bayes",
}


@dataclass(frozen=True)
class Convention:
    """How an effect is pooled: estimator of τ², test, and level of the intervals."""

    method: str = "reml"
    test: str = "z"
    level: float = 0.95

    def __post_init__(self) -> None:
        if self.method not in NAMES:
            raise unknown("pooling method", self.method, NAMES)
        if self.test not in TESTS:
            raise unknown("test", self.test, TESTS)
        if not 0.5 <= self.level < 1:
            raise InputError(f"level {self.level:g} is not in 0.5…1", asked=self.level, allowed=["0.5 ≤ level < 1"])

    def quantile(self, df: float) -> float:
        """The two-sided quantile of the test at this level."""
        upper = (1 + self.level) / 2
        return float(norm.ppf(upper) if self.test == "z" else t.ppf(upper, df))

    def p_value(self, statistic: npt.ArrayLike, df: float) -> Array:
        """The two-sided probability of a statistic at least so large when there is no effect."""
        size = np.abs(np.asarray(statistic, dtype=float))
        return np.asarray(2 * (norm.sf(size) if self.test == "z" else t.sf(size, df)))

    def sentence(self, k: int) -> str:
        """The convention in words, for the reader of the numbers."""
        quantile = "normal quantile" if self.test == "z" else f"t quantile on {k - 1} df"
        knapp = "; Hartung–Knapp standard error without a floor" if self.test == "hk" else ""
        common = "; one common effect assumed, so the prediction equals the interval" if self.method == "fe" else ""
        return (
            f"{NAMES[self.method]}, {self.level:.0%} intervals by {quantile}{knapp}; prediction interval "
            f"estimate ± {quantile}·√(se² + τ²){common}; with t on k − 2 it is prediction_hts; i2 in percent"
        )


@dataclass(frozen=True, kw_only=True)
class PooledEffect:
    """A pooled effect and everything needed to judge it.

    Attributes:
        k: number of effects pooled.
        estimate, se, ci: the mean effect, its standard error and interval, in units of the effect.
        df: degrees of freedom of the test; infinite for z.
        p: two-sided probability under no effect.
        tau2, tau2_ci: variance of true effects between studies and its Q-profile interval.
        i2: share of the variance that is between studies [%].
        q, q_p: Cochran's Q and its probability under one common effect.
        prediction: where the true effect of a new study is expected (quantile of the test).
        prediction_hts: the same with t on k − 2 (Higgins, Thompson & Spiegelhalter 2009, J R Stat Soc A 172:137-159).
        weight: share of each study in the estimate (n_study), adding to 1.
        convention: how all this was computed.
    """

    PUBLIC: ClassVar = """
        k estimate se ci tau2 i2 q prediction convention=told df~ p~ q_p tau2_ci~ prediction_hts~
        weights=weight
    """
    k: int
    estimate: float
    se: float
    ci: tuple[float, float]
    df: float
    p: float
    tau2: float
    tau2_ci: tuple[float, float]
    i2: float
    q: float
    q_p: float
    prediction: tuple[float, float]
    prediction_hts: tuple[float, float]
    weight: Array
    convention: Convention

    @property
    def told(self) -> str:
        """The convention in words."""
        return self.convention.sentence(self.k)


def standard_errors(fit: WeightedFit, test: str, free: int) -> Array:
    """Standard errors (..., n_coef); under `hk` scaled by √(Σ w e²/(k − p)).

    Hartung & Knapp 2001 (Stat Med 20:3875-3889), Knapp & Hartung 2003 (Stat Med 22:2693-2710), without the floor at 1.
    """
    se = np.sqrt(np.diagonal(fit.cov, axis1=-2, axis2=-1))
    return np.asarray(se * np.sqrt(fit.rss / free)[..., None] if test == "hk" else se)


def _around(centre: float, half: float) -> tuple[float, float]:
    return centre - half, centre + half


def pool(y: npt.ArrayLike, v: npt.ArrayLike, convention: Convention | None = None) -> PooledEffect:
    """The mean effect of studies with effects `y` (n_study) and sampling variances `v` (n_study).

    Raises:
        InputError: no studies, a variance of 0, or a t-based test on a single study.
    """
    how, effects = convention or Convention(), Effects(np.atleast_1d(y), np.atleast_1d(v))
    k = effects.n_study
    if k < 2 and how.test != "z":
        raise InputError(f"test {how.test} needs at least 2 studies, found {k}", asked=k, allowed=["test z"])
    tau2 = float(tau_squared(effects, how.method))
    fit = weighted_fit(effects, tau2)
    estimate, se = float(fit.beta[0]), float(standard_errors(fit, how.test, k - 1)[0])
    quantile, q = how.quantile(k - 1), float(weighted_fit(effects).rss)
    spread = float(np.hypot(se, np.sqrt(tau2)))
    hts = float(t.ppf((1 + how.level) / 2, k - 2)) if k > 2 else float("inf")
    return PooledEffect(
        k=k,
        estimate=estimate,
        se=se,
        ci=_around(estimate, quantile * se),
        df=float("inf") if how.test == "z" else k - 1,
        p=float(how.p_value(estimate / se, k - 1)) if se > 0 else float("nan"),
        tau2=tau2,
        tau2_ci=q_profile(effects, how.level),
        i2=float(inconsistency(effects, tau2, how.method)),
        q=q,
        q_p=float(chi2.sf(q, k - 1)) if k > 1 else 1.0,
        prediction=_around(estimate, quantile * spread),
        prediction_hts=_around(estimate, hts * spread),
        weight=read_only(fit.weight / fit.weight.sum()),
        convention=how,
    )


@dataclass(frozen=True)
class PooledSets:
    """Pooled effects of many sets of studies at once, each array (...)."""

    estimate: Array
    se: Array
    tau2: Array


def pool_many(y: npt.ArrayLike, v: npt.ArrayLike, convention: Convention | None = None) -> PooledSets:
    """The mean effects of many sets of studies, `y` and `v` (..., n_study), without a Python loop over the sets."""
    how, effects = convention or Convention(), Effects(np.asarray(y, dtype=float), np.asarray(v, dtype=float))
    tau2 = tau_squared(effects, how.method)
    fit = weighted_fit(effects, tau2)
    se = standard_errors(fit, how.test, max(effects.n_study - 1, 1))[..., 0]
    return PooledSets(read_only(fit.beta[..., 0]), read_only(se), read_only(tau2))


def shrunken(y: npt.ArrayLike, v: npt.ArrayLike, pooled: PooledEffect) -> tuple[Array, Array]:
    """Each study's own true effect and its standard error (n_study), pulled towards the mean by what it cannot know.

    Empirical Bayes prediction, including the uncertainty of the mean (Raudenbush & Bryk 1985, J Educ Stat 10:75-98).
    """
    effects = Effects(np.asarray(y, dtype=float), np.asarray(v, dtype=float))
    own = pooled.tau2 / (pooled.tau2 + effects.v)
    se = np.sqrt(own * effects.v + ((1 - own) * pooled.se) ** 2)
    return read_only(own * effects.y + (1 - own) * pooled.estimate), read_only(se)
