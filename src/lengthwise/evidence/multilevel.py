"""Several effects a study: effects nested in studies, and studies in groups where asked, by restricted likelihood.

The covariance of the effects is that of their sampling errors plus one variance a level. The likelihood and its gradient are
those of the linear mixed model (Harville 1977, J Am Stat Assoc 72:320-338), computed from sums over studies.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import norm
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.evidence.covariance import Covariance, Index, index_of, sums
from lengthwise.evidence.heterogeneity import read_only

Loss = Callable[[Array], tuple[float, Array]]


def highest(loss: Loss, starts: Sequence[Array], bounds: Sequence[tuple[float | None, float | None]]) -> Array:
    """The parameters of the least loss (value and gradient) found from several starts.

    Raises:
        NoSolutionError: the optimiser fails from every start.
    """
    from scipy.optimize import minimize  # only here: slow to load

    options = {"ftol": 1e-15, "gtol": 1e-9, "maxiter": 1000}
    tries = [minimize(loss, start, jac=True, method="L-BFGS-B", bounds=bounds, options=options) for start in starts]
    best = min(tries, key=lambda result: float(result.fun))
    if not np.isfinite(best.fun) or best.fun >= 1e12:
        raise NoSolutionError("the several-level model did not settle; pool one effect a study instead")
    return np.asarray(best.x, dtype=float)


def sampling(v: npt.ArrayLike, study: npt.ArrayLike, correlation: float = 0.0) -> Covariance:
    """Covariance of sampling errors with variances `v` (k) that correlate by `correlation` within a study (k labels).

    Raises:
        InputError: a correlation outside 0…1.
    """
    if not 0.0 <= correlation < 1.0:
        raise InputError(f"correlation {correlation:g} is not in 0…1", asked=correlation, allowed=["0 ≤ r < 1"])
    variance = np.asarray(v, dtype=float)
    alone = Covariance.independent((1 - correlation) * variance)
    return alone.plus(correlation, np.sqrt(variance), index_of(study)) if correlation else alone


def mean_variance(v: npt.ArrayLike, correlation: float) -> float:
    """The variance of the mean of one study's effects (variances `v` (k)) whose sampling errors correlate."""
    variance = np.asarray(v, dtype=float)
    together = correlation * float(np.sqrt(variance).sum()) ** 2 + (1 - correlation) * float(variance.sum())
    return together / variance.size**2


@dataclass(frozen=True)
class Levels:
    """The restricted likelihood of effects nested in levels.

    Attributes:
        y, v, x: effects (k), sampling variances (k), design (k, n_coef).
        labels: rows of one label share that level's true effect: each effect its own, the study, then wider groups.
        correlation: of sampling errors within a study.
    """

    y: Array
    v: Array
    x: Array
    labels: tuple[Index, ...]
    correlation: float = 0.0

    def covariance(self, theta: Array) -> Covariance:
        """The covariance of the effects when the levels vary by θ (n_level)."""
        ones = np.ones(self.y.size)
        found = Covariance.independent((1 - self.correlation) * self.v + theta[0])
        if self.correlation:
            found = found.plus(self.correlation, np.sqrt(self.v), self.labels[1])
        for amount, label in zip(theta[1:], self.labels[1:], strict=True):
            found = found.plus(float(amount), ones, label)
        return found

    def fit_at(self, theta: Array) -> tuple[Array, Array, float]:
        """(β, cov β, restricted log-likelihood) at θ."""
        omega = self.covariance(theta)
        ox, oy = omega.solve(self.x), omega.solve(self.y[:, None])[:, 0]
        cov = np.asarray(np.linalg.inv(self.x.T @ ox), dtype=float)
        beta = cov @ (ox.T @ self.y)
        k, n_coef = self.x.shape
        log = -0.5 * (omega.log_determinant + float(self.y @ oy) - float(beta @ (ox.T @ self.y)))
        log += 0.5 * (np.linalg.slogdet(cov)[1] + np.linalg.slogdet(self.x.T @ self.x)[1]) - 0.5 * (k - n_coef) * np.log(2 * np.pi)
        return beta, cov, float(log)

    def loss(self, theta: Array) -> tuple[float, Array]:
        """Minus the restricted log-likelihood at θ and its gradient."""
        beta, cov, log = self.fit_at(theta)
        omega = self.covariance(theta)
        ox, py = omega.solve(self.x), omega.solve((self.y - self.x @ beta)[:, None])
        slopes = []
        for label in self.labels:
            shared = sums(ox, label)
            trace = omega.enclosed(label) - float(np.trace(cov @ shared.T @ shared))
            slopes.append(0.5 * (trace - float((sums(py, label) ** 2).sum())))
        return -log, np.array(slopes)

    def maximise(self) -> Array:
        """The variances of the levels (n_level) of the highest likelihood.

        Raises:
            NoSolutionError: the likelihood has no maximum.
        """
        scale, n = max(float(np.var(self.y)), float(self.v.mean())), len(self.labels)
        even, mostly = np.full(n, 1.0 / n), 0.05 * np.ones(n) + 0.95 * np.eye(n)
        return highest(self.loss, [scale * s for s in (even, *mostly)], [(0.0, None)] * n)


@dataclass(frozen=True, kw_only=True)
class MultilevelPool:
    """A pooled effect when studies give several effects each.

    Attributes:
        k, n_cluster: effects and studies.
        beta, se: coefficients (n_coef) and model-based standard errors.
        cov: covariance of the coefficients (n_coef, n_coef).
        between, within: variance of true effects between studies and between the effects of one study.
        above: variance between groups of studies; 0 where no groups were named.
        i2: shares of the variance [%]: total, between studies, within, and between groups where named.
        q: Cochran's Q of all effects.
        log_likelihood: restricted log-likelihood.
        score: largest slope of the likelihood per unit of relative change in a variance, ~0 at an optimum.
        omega: covariance of the effects that the model implies.
    """

    k: int
    n_cluster: int
    beta: Array
    se: Array
    cov: Array
    between: float
    within: float
    above: float
    i2: tuple[float, ...]
    q: float
    log_likelihood: float
    score: float
    omega: Covariance

    @property
    def tau2(self) -> float:
        """Variance of true effects, all levels together."""
        return self.between + self.within + self.above

    def interval(self, level: float = 0.95) -> tuple[float, float]:
        """The normal interval of the first coefficient."""
        half = float(norm.ppf((1 + level) / 2)) * float(self.se[0])
        return float(self.beta[0]) - half, float(self.beta[0]) + half

    def prediction(self, level: float = 0.95) -> tuple[float, float]:
        """Where the true effect of a new outcome of a new study is expected (normal quantile)."""
        half = float(norm.ppf((1 + level) / 2)) * float(np.sqrt(self.se[0] ** 2 + self.tau2))
        return float(self.beta[0]) - half, float(self.beta[0]) + half


def _nested_labels(study: npt.ArrayLike, group: npt.ArrayLike | None) -> tuple[Index, ...]:
    inner = index_of(study)
    if group is None:
        return np.arange(inner.size), inner
    outer = index_of(group)
    if np.unique(np.column_stack([inner, outer]), axis=0).shape[0] > inner.max() + 1:
        raise InputError("a study stands in two groups; allowed: each study in one group")
    if not 2 <= outer.max() + 1 <= inner.max():
        raise InputError(f"groups need two groups or more and several studies in one; found {outer.max() + 1} groups")
    return np.arange(inner.size), inner, outer


def three_level(
    y: npt.ArrayLike,
    v: npt.ArrayLike,
    study: npt.ArrayLike,
    x: npt.ArrayLike | None = None,
    correlation: float = 0.0,
    group: npt.ArrayLike | None = None,
) -> MultilevelPool:
    """The mean of effects `y` (k) nested in studies (k), and those in groups where named, by REML.

    Konstantopoulos 2011 (Res Synth Methods 2:61-76); I² by level as in Nakagawa & Santos 2012 (Evol Ecol 26:1253-1274).

    Args:
        y: effects (k).
        v: sampling variances (k).
        study: study of each effect (k).
        x: design (k, n_coef); a column of ones by default.
        correlation: of sampling errors within a study, 0 by default.
        group: group of each study, such as a laboratory (k labels); None for none.

    Raises:
        InputError: fewer than two studies, no study with several effects, or groups that do not enclose studies.
        NoSolutionError: the likelihood has no maximum.
    """
    y, v = np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    labels = _nested_labels(study, group)
    n_cluster = int(labels[1].max()) + 1
    if not 2 <= n_cluster < y.size:
        raise InputError(f"three levels need two studies or more and several effects in one; found {n_cluster} studies")
    design = np.ones((y.size, 1)) if x is None else np.asarray(x, dtype=float)
    sampling(v[:1], [0], correlation)  # refuses a correlation out of bounds
    model = Levels(y, v, design, labels, correlation)
    theta = model.maximise()
    beta, cov, log = model.fit_at(theta)
    q, trace = _alone(model)
    share = 100 * theta / (theta.sum() + (y.size - design.shape[1]) / trace)
    order = [1, 0, *range(2, len(labels))]
    return MultilevelPool(
        k=y.size,
        n_cluster=n_cluster,
        beta=read_only(beta),
        se=read_only(np.sqrt(np.diag(cov))),
        cov=read_only(cov),
        between=float(theta[1]),
        within=float(theta[0]),
        above=float(theta[2:].sum()),
        i2=(float(share.sum()), *(float(share[i]) for i in order)),
        q=q,
        log_likelihood=log,
        score=float(np.abs(model.loss(theta)[1] * theta).max()),
        omega=model.covariance(theta),
    )


def _alone(model: Levels) -> tuple[float, float]:
    """(Cochran's Q, tr P) when true effects do not differ."""
    omega = model.covariance(np.zeros(len(model.labels)))
    ox = omega.solve(model.x)
    cov = np.linalg.inv(model.x.T @ ox)
    residual = model.y - model.x @ (cov @ (ox.T @ model.y))
    trace = omega.enclosed(model.labels[0]) - float(np.trace(cov @ ox.T @ ox))
    return float(residual @ omega.solve(residual[:, None])[:, 0]), trace
