"""Two correlated outcomes of the same studies pooled together, by maximum likelihood (small sets only: all pairs are held)."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from lengthwise.evidence.heterogeneity import Array, read_only
from lengthwise.evidence.multilevel import highest


def membership(labels: npt.ArrayLike) -> Array:
    """1 where two effects carry the same label, else 0 (k, k)."""
    values = np.asarray(labels)
    return np.asarray(values[:, None] == values[None, :], dtype=float)


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
    """The likelihood of effects `y` (k) with sampling covariance `v` (k, k) and design `x` (k, p)."""

    y: Array
    v: Array
    x: Array
    true_effects: Unstructured

    def fit_at(self, theta: Array) -> tuple[Array, Array, Array, Array, float]:
        """(β, cov β, Ω⁻¹, P, log-likelihood) at θ, P the projection Ω⁻¹ − Ω⁻¹X(X'Ω⁻¹X)⁻¹X'Ω⁻¹."""
        from scipy.linalg import cho_factor, cho_solve  # only here: slow to load

        factor = cho_factor(self.v + self.true_effects.covariance(theta), lower=True)
        inverse = cho_solve(factor, np.eye(self.y.size))
        ox = inverse @ self.x
        cov = np.linalg.inv(self.x.T @ ox)
        p = inverse - ox @ cov @ ox.T
        log = -np.log(np.diag(factor[0])).sum() - 0.5 * float(self.y @ p @ self.y) - 0.5 * self.y.size * np.log(2 * np.pi)
        return cov @ (ox.T @ self.y), cov, inverse, p, float(log)

    def loss(self, theta: Array) -> tuple[float, Array]:
        """Minus the log-likelihood at θ and its gradient."""
        try:
            _, _, inverse, p, log = self.fit_at(theta)
        except np.linalg.LinAlgError:
            return 1e12, np.zeros_like(theta)
        py = p @ self.y
        return -log, np.array([0.5 * float((inverse * a).sum() - py @ a @ py) for a in self.true_effects.slopes(theta)])


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
    true_effects, y, v = Unstructured(membership(study), kind), np.asarray(y, dtype=float), np.asarray(v, dtype=float)
    model = Likelihood(y, v, np.stack([kind == 0, kind == 1], axis=-1).astype(float), true_effects)
    scale = max(float(np.var(y)), float(np.diag(v).mean()))
    theta = highest(model.loss, true_effects.starts(scale), true_effects.bounds())
    beta, cov, _, _, log = model.fit_at(theta)
    low = true_effects.factor(theta)
    spread = low @ low.T
    rho = float(spread[0, 1] / np.sqrt(spread[0, 0] * spread[1, 1]))
    return TwoOutcomePool(read_only(beta), read_only(np.sqrt(np.diag(cov))), read_only(np.diag(spread)), rho, log)
