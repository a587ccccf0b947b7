"""Several effects a study: likelihood fits with effects nested in studies, or correlated outcomes.

The covariance of the effects is V + Σ(θ): known sampling covariance plus the covariance of the true effects. The
likelihood and its gradient are those of the linear mixed model (Harville 1977, J Am Stat Assoc 72:320-338).
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from lengthwise.distributions import norm
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.evidence.heterogeneity import Array, read_only


class TrueEffects(Protocol):
    """How the true effects vary together, as a function of parameters θ."""

    def starts(self, scale: float) -> list[Array]:
        """Starting points θ when effects vary by about `scale`."""

    def bounds(self) -> list[tuple[float | None, float | None]]:
        """Allowed range of each parameter."""

    def covariance(self, theta: Array) -> Array:
        """Covariance of the true effects (k, k)."""

    def slopes(self, theta: Array) -> list[Array]:
        """Derivatives of the covariance by each parameter (k, k)."""


def membership(labels: npt.ArrayLike) -> Array:
    """1 where two effects carry the same label, else 0 (k, k)."""
    values = np.asarray(labels)
    return np.asarray(values[:, None] == values[None, :], dtype=float)


@dataclass(frozen=True)
class Nested:
    """Effects nested in studies: one variance between studies, one between the effects of a study."""

    same_study: Array

    def starts(self, scale: float) -> list[Array]:
        """Even, mostly between, mostly within."""
        return [np.array(pair) * scale for pair in ((0.5, 0.5), (1.0, 0.05), (0.05, 1.0))]

    def bounds(self) -> list[tuple[float | None, float | None]]:
        """Variances are not negative."""
        return [(0.0, None), (0.0, None)]

    def covariance(self, theta: Array) -> Array:
        """θ₁ within a study, θ₁ + θ₂ on the diagonal."""
        return np.asarray(theta[0] * self.same_study + theta[1] * np.eye(len(self.same_study)))

    def slopes(self, theta: Array) -> list[Array]:
        """The membership matrix and the identity."""
        return [self.same_study, np.eye(len(self.same_study))]


@dataclass(frozen=True)
class Unstructured:
    """Two kinds of outcome in each study, with a variance each and a free correlation (Cholesky parameters)."""

    same_study: Array
    outcome: Array

    def _spread(self, factor: Array) -> Array:
        return np.asarray(factor[np.ix_(self.outcome, self.outcome)] * self.same_study)

    @staticmethod
    def factor(theta: Array) -> Array:
        """The lower Cholesky factor (2, 2) of the covariance of the two outcomes."""
        return np.array([[theta[0], 0.0], [theta[1], theta[2]]])

    def starts(self, scale: float) -> list[Array]:
        """Equal spreads with positive, no and negative correlation."""
        return [np.sqrt(scale) * np.array([1.0, r, np.sqrt(1 - r**2)]) for r in (0.5, 0.0, -0.5)]

    def bounds(self) -> list[tuple[float | None, float | None]]:
        """A positive diagonal makes the factor unique."""
        return [(0.0, None), (None, None), (0.0, None)]

    def covariance(self, theta: Array) -> Array:
        """LLᵀ spread over the effects of each study."""
        low = self.factor(theta)
        return self._spread(low @ low.T)

    def slopes(self, theta: Array) -> list[Array]:
        """Derivatives of LLᵀ by the three entries of L."""
        low, result = self.factor(theta), []
        for row, column in ((0, 0), (1, 0), (1, 1)):
            step = np.zeros((2, 2))
            step[row, column] = 1.0
            result.append(self._spread(step @ low.T + low @ step.T))
        return result


@dataclass(frozen=True)
class Likelihood:
    """The (restricted) likelihood of effects `y` (k) with sampling covariance `v` (k, k) and design `x` (k, p)."""

    y: Array
    v: Array
    x: Array
    true_effects: TrueEffects
    restricted: bool = True

    def fit_at(self, theta: Array) -> tuple[Array, Array, Array, float]:
        """(β, cov β, P, log-likelihood) at θ, P the projection Ω⁻¹ − Ω⁻¹X(X'Ω⁻¹X)⁻¹X'Ω⁻¹."""
        from scipy.linalg import cho_factor, cho_solve  # only here: slow to load

        factor = cho_factor(self.v + self.true_effects.covariance(theta), lower=True)
        inverse = cho_solve(factor, np.eye(self.y.size))
        ox = inverse @ self.x
        cov = np.linalg.inv(self.x.T @ ox)
        p = inverse - ox @ cov @ ox.T
        log = -np.log(np.diag(factor[0])).sum() - 0.5 * float(self.y @ p @ self.y)
        k, n_coef = self.x.shape
        if self.restricted:
            log += 0.5 * (np.linalg.slogdet(cov)[1] + np.linalg.slogdet(self.x.T @ self.x)[1])
        log -= 0.5 * (k - n_coef if self.restricted else k) * np.log(2 * np.pi)
        return cov @ (ox.T @ self.y), cov, p, float(log)

    def loss(self, theta: Array) -> tuple[float, Array]:
        """Minus the log-likelihood at θ and its gradient."""
        try:
            _, _, p, log = self.fit_at(theta)
        except np.linalg.LinAlgError:
            return 1e12, np.zeros_like(theta)
        noise = p if self.restricted else np.linalg.inv(self.v + self.true_effects.covariance(theta))
        py = p @ self.y
        slopes = self.true_effects.slopes(theta)
        return -log, np.array([0.5 * float((noise * a).sum() - py @ a @ py) for a in slopes])

    def maximise(self) -> Array:
        """The θ of the highest likelihood found from several starts.

        Raises:
            NoSolutionError: the optimiser fails from every start.
        """
        from scipy.optimize import minimize  # only here: slow to load

        scale = max(float(np.var(self.y)), float(np.diag(self.v).mean()))
        options = {"ftol": 1e-15, "gtol": 1e-9, "maxiter": 1000}
        tries = [
            minimize(self.loss, start, jac=True, method="L-BFGS-B", bounds=self.true_effects.bounds(), options=options)
            for start in self.true_effects.starts(scale)
        ]
        best = min(tries, key=lambda result: float(result.fun))
        if not np.isfinite(best.fun) or best.fun >= 1e12:
            raise NoSolutionError("the several-level model did not settle; pool one effect a study instead")
        return np.asarray(best.x, dtype=float)


@dataclass(frozen=True)
class MultilevelPool:
    """A pooled effect when studies give several effects each.

    Attributes:
        k, n_cluster: effects and studies.
        beta, se: coefficients (n_coef) and model-based standard errors.
        cov: covariance of the coefficients (n_coef, n_coef).
        between, within: variance of true effects between studies and between the effects of one study.
        i2: shares of the variance [%]: (total, between, within).
        q: Cochran's Q of all effects.
        log_likelihood: restricted log-likelihood.
        score: largest slope of the likelihood per unit of relative change in a variance, ~0 at an optimum.
        omega: covariance of the effects (k, k) that the model implies.
    """

    k: int
    n_cluster: int
    beta: Array
    se: Array
    cov: Array
    between: float
    within: float
    i2: tuple[float, float, float]
    q: float
    log_likelihood: float
    score: float
    omega: Array

    def interval(self, level: float = 0.95) -> tuple[float, float]:
        """The normal interval of the first coefficient."""
        half = float(norm.ppf((1 + level) / 2)) * float(self.se[0])
        return float(self.beta[0]) - half, float(self.beta[0]) + half

    def prediction(self, level: float = 0.95) -> tuple[float, float]:
        """Where the true effect of a new outcome of a new study is expected (normal quantile)."""
        half = float(norm.ppf((1 + level) / 2)) * float(np.sqrt(self.se[0] ** 2 + self.between + self.within))
        return float(self.beta[0]) - half, float(self.beta[0]) + half


def sampling_covariance(v: npt.ArrayLike, cluster: npt.ArrayLike, correlation: float = 0.0) -> Array:
    """Covariance (k, k) of sampling errors with variances `v` (k) that correlate by `correlation` within a cluster."""
    if not 0.0 <= correlation < 1.0:
        raise InputError(f"correlation {correlation:g} is not in 0…1", asked=correlation, allowed=["0 ≤ r < 1"])
    se, same = np.sqrt(np.asarray(v, dtype=float)), membership(cluster)
    return np.asarray(np.outer(se, se) * (correlation * same + (1 - correlation) * np.eye(se.size)))


def three_level(
    y: npt.ArrayLike,
    v: npt.ArrayLike,
    cluster: npt.ArrayLike,
    x: npt.ArrayLike | None = None,
    correlation: float = 0.0,
) -> MultilevelPool:
    """The mean of effects `y` (k) nested in studies `cluster` (k), by three-level REML.

    Konstantopoulos 2011 (Res Synth Methods 2:61-76); I² by level as in Nakagawa & Santos 2012 (Evol Ecol 26:1253-1274).

    Args:
        y: effects (k).
        v: sampling variances (k).
        cluster: study of each effect (k).
        x: design (k, n_coef); a column of ones by default.
        correlation: of sampling errors within a study, 0 by default.

    Raises:
        InputError: fewer than two studies, or no study with several effects.
        NoSolutionError: the likelihood has no maximum.
    """
    y, v, labels = np.asarray(y, dtype=float), np.asarray(v, dtype=float), np.asarray(cluster)
    n_cluster = np.unique(labels).size
    if not 2 <= n_cluster < y.size:
        raise InputError(f"three levels need two studies or more and several effects in one; found {n_cluster} studies")
    design = np.ones((y.size, 1)) if x is None else np.asarray(x, dtype=float)
    model = Likelihood(y, sampling_covariance(v, labels, correlation), design, Nested(membership(labels)))
    theta = model.maximise()
    beta, cov, _, log = model.fit_at(theta)
    p_alone = model.fit_at(np.zeros(2))[2]
    noise = (y.size - design.shape[1]) / float(np.trace(p_alone))
    share = 100 * theta / (theta.sum() + noise)
    return MultilevelPool(
        k=y.size,
        n_cluster=n_cluster,
        beta=read_only(beta),
        se=read_only(np.sqrt(np.diag(cov))),
        cov=read_only(cov),
        between=float(theta[0]),
        within=float(theta[1]),
        i2=(float(share.sum()), float(share[0]), float(share[1])),
        q=float(y @ p_alone @ y),
        log_likelihood=log,
        score=float(np.abs(model.loss(theta)[1] * theta).max()),
        omega=read_only(model.v + model.true_effects.covariance(theta)),
    )


@dataclass(frozen=True)
class TwoOutcomePool:
    """Two correlated outcomes pooled together: means, their errors, spreads and correlation of true effects."""

    beta: Array
    se: Array
    tau2: Array
    correlation: float
    log_likelihood: float


def two_outcomes(y: npt.ArrayLike, v: npt.ArrayLike, study: npt.ArrayLike, outcome: npt.ArrayLike) -> TwoOutcomePool:
    """The means of two kinds of outcome measured in the same studies, by maximum likelihood.

    Berkey et al. 1998 (Stat Med 17:2537-2550). `v` is the sampling covariance (k, k); `outcome` (k) holds 0 or 1.
    """
    kind = np.asarray(outcome, dtype=int)
    true_effects = Unstructured(membership(study), kind)
    x = np.stack([kind == 0, kind == 1], axis=-1).astype(float)
    model = Likelihood(np.asarray(y, dtype=float), np.asarray(v, dtype=float), x, true_effects, restricted=False)
    theta = model.maximise()
    beta, cov, _, log = model.fit_at(theta)
    low = true_effects.factor(theta)
    spread = low @ low.T
    rho = float(spread[0, 1] / np.sqrt(spread[0, 0] * spread[1, 1]))
    return TwoOutcomePool(read_only(beta), read_only(np.sqrt(np.diag(cov))), read_only(np.diag(spread)), rho, log)
