"""What explains the differences between studies: meta-regression on moderators."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import chi2, f
from lengthwise.errors import InputError
from lengthwise.evidence.heterogeneity import Effects, inconsistency, read_only, tau_squared, weighted_fit
from lengthwise.evidence.pooling import Convention

EXACT = 1e-24
"""Share of the weighted sum of squares below which what is left is rounding alone (two doubles' worth)."""


@dataclass(frozen=True, kw_only=True)
class MetaRegression:
    """How the effect changes with moderators.

    Attributes:
        k: number of effects.
        names: names of the coefficients, the intercept first.
        beta, se, p: coefficients, their standard errors and probabilities (n_coef).
        ci: intervals of the coefficients (n_coef, 2).
        cov: covariance of the coefficients (n_coef, n_coef).
        tau2, i2: spread between studies that the moderators leave, and its share of the variance [%].
        q, q_p: residual heterogeneity and its probability.
        qm, qm_p: test that all moderators do nothing (chi-squared for z, F·m otherwise gives F) and its probability.
        r2: share of τ² that the moderators explain [%].
        convention: estimator, test and level used.
    """

    PUBLIC: ClassVar = "names estimate=beta se ci=intervals p tau2 i2 q qm qm_p r2"
    k: int
    names: tuple[str, ...]
    beta: Array
    se: Array
    p: Array
    ci: Array
    cov: Array
    tau2: float
    i2: float
    q: float
    q_p: float
    qm: float
    qm_p: float
    r2: float
    convention: Convention

    @property
    def intervals(self) -> tuple[tuple[float, float], ...]:
        """Lower and upper end of each coefficient's interval."""
        return tuple((low, high) for low, high in self.ci.tolist())

    def predict(self, *moderators: npt.ArrayLike) -> tuple[Array, Array]:
        """The mean effect (n) and its interval (n, 2) where the moderators take these values (n each)."""
        columns = np.broadcast_arrays(1.0, *(np.asarray(m, dtype=float) for m in moderators))
        x = np.stack(columns, axis=-1)
        centre, se = x @ self.beta, np.sqrt(np.einsum("np,pq,nq->n", x, self.cov, x))
        half = self.convention.quantile(self.k - len(self.names)) * se
        return read_only(centre), read_only(np.stack([centre - half, centre + half], axis=-1))


def _moderators_test(beta: Array, cov: Array, how: Convention, free: int) -> tuple[float, float]:
    """Wald test of all coefficients but the intercept: (statistic, probability)."""
    m = beta.size - 1
    if m == 0:
        return 0.0, 1.0
    wald = float(beta[1:] @ np.linalg.solve(cov[1:, 1:], beta[1:]))
    if how.test == "z":
        return wald, float(chi2.sf(wald, m))
    return wald / m, float(f.sf(wald / m, m, free))


def regress(
    y: npt.ArrayLike, v: npt.ArrayLike, moderators: Mapping[str, npt.ArrayLike], convention: Convention | None = None
) -> MetaRegression:
    """How effects `y` (n_study) with variances `v` depend on the named moderators (n_study each).

    Mixed-effects meta-regression with Knapp–Hartung errors on request (Knapp & Hartung 2003, Stat Med 22:2693-2710);
    R² after Raudenbush 2009 (Handbook of Research Synthesis, ch. 16).

    Raises:
        InputError: moderators that repeat each other, do not vary, leave no degree of freedom, or no error for test hk to scale.
    """
    how, y, v = convention or Convention(), np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    x = np.column_stack([np.ones(y.size), *(np.asarray(m, dtype=float) for m in moderators.values())])
    effects, free = Effects(y, v, x), y.size - x.shape[1]
    if free < 1:
        raise InputError(f"{y.size} studies cannot carry {x.shape[1]} coefficients", asked=list(moderators))
    tau2, alone = float(tau_squared(effects, how.method)), float(tau_squared(Effects(y, v), how.method))
    fit = weighted_fit(effects, tau2)
    if how.test == "hk" and fit.rss <= EXACT * float((fit.weight * y**2).sum()):
        raise InputError(
            "the moderators meet every study exactly, so test hk finds no error to scale", asked=how.test, allowed=["z", "t"]
        )
    cov = fit.cov * (fit.rss / free if how.test == "hk" else 1.0)
    spread = ResidualSpread(tau2, float(inconsistency(effects, tau2, how.method)), float(weighted_fit(effects).rss), alone)
    return of_fit(tuple(moderators), fit.beta, cov, spread, y.size, how)


@dataclass(frozen=True)
class ResidualSpread:
    """What moderators leave unexplained: τ², I² [%], residual heterogeneity Q, and τ² without them."""

    tau2: float
    i2: float
    q: float
    alone: float


def of_fit(names: tuple[str, ...], beta: Array, cov: Array, spread: ResidualSpread, k: int, how: Convention) -> MetaRegression:
    """The regression of `k` effects on the named moderators from its coefficients and their covariance, intercept first."""
    free, se = k - beta.size, np.sqrt(np.diag(cov))
    half = how.quantile(free) * se
    qm, qm_p = _moderators_test(beta, cov, how, free)
    return MetaRegression(
        k=k,
        names=("intercept", *names),
        beta=read_only(beta),
        se=read_only(se),
        p=read_only(how.p_value(beta / se, free)),
        ci=read_only(np.stack([beta - half, beta + half], axis=-1)),
        cov=read_only(cov),
        tau2=spread.tau2,
        i2=spread.i2,
        q=spread.q,
        q_p=float(chi2.sf(spread.q, free)),
        qm=qm,
        qm_p=qm_p,
        r2=max(0.0, 100 * (spread.alone - spread.tau2) / spread.alone) if spread.alone > 0 else 0.0,
        convention=how,
    )
