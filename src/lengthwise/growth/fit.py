"""The posterior of the coefficients: its mode, its curvature there, and draws weighed by the exact density.

The draws come from a t distribution around the mode and carry importance weights, so they stand for the posterior itself and
not for its normal approximation; leaving a trial out only changes the weights.
"""

from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.growth.law import PRIOR_MEAN, PRIOR_SD
from lengthwise.growth.likelihood import Data

N_DRAW = 1000
TAIL, WIDTH = 7.0, 1.2
"""Degrees of freedom and width of the proposal (own choice: a little wider than the posterior)."""
STEP = 1e-3
CHUNK = 250
FAR = 5.0
"""Draws further than so many standard deviations of the prior from its mean count as impossible."""
SEED = 20


@dataclass(frozen=True)
class Posterior:
    """Draws of the coefficients.

    Attributes:
        mode: of the posterior, (n_coefficient,). covariance: of its normal approximation.
        draws: (n_draw, n_coefficient). log_prior: of prior over proposal at each, (n_draw,).
        log_likelihood: of each trial at each draw, (n_draw, n_trial).
    """

    mode: Array
    covariance: Array
    draws: Array
    log_prior: Array
    log_likelihood: Array

    @property
    def weights(self) -> Array:
        """Weight of each draw, summing to 1, (n_draw,)."""
        return _normal(self.log_prior + self.log_likelihood.sum(1))

    def without(self, trial: int) -> Array:
        """Weights of the draws had one trial not been seen, (n_draw,)."""
        return _normal(self.log_prior + np.delete(self.log_likelihood, trial, 1).sum(1))

    @property
    def mean(self) -> Array:
        """Posterior means, (n_coefficient,)."""
        return np.asarray(self.weights @ self.draws)

    @property
    def sd(self) -> Array:
        """Posterior standard deviations, (n_coefficient,)."""
        return np.asarray(np.sqrt(self.weights @ (self.draws - self.mean) ** 2))

    def sample(self, n: int, seed: int = SEED) -> Array:
        """Draws of equal weight, systematically resampled, in random order, (n, n_coefficient)."""
        rng = np.random.default_rng(seed)
        places = np.searchsorted(np.cumsum(self.weights), (np.arange(n) + rng.random()) / n)
        return np.asarray(self.draws[rng.permutation(np.minimum(places, len(self.draws) - 1))])


def _normal(log_weight: Array) -> Array:
    weight = np.exp(log_weight - log_weight.max())
    return np.asarray(weight / weight.sum())


def effective(weights: Array) -> float:
    """How many equal draws some weights are worth (Kish)."""
    return float(1 / (weights**2).sum())


def log_prior(x: Array) -> Array:
    """Log prior density of coefficients, without its constant, (n_draw,)."""
    return np.asarray(-0.5 * (((x - PRIOR_MEAN) / PRIOR_SD) ** 2).sum(1))


def fitted(data: Data, n_draw: int = N_DRAW, start: Array = PRIOR_MEAN) -> Posterior:
    """The posterior of the coefficients given some trials; its mode is sought from `start` on, (n_coefficient,)."""
    rng = np.random.default_rng(SEED)
    return weighed(data, rng.standard_normal((n_draw, len(PRIOR_MEAN))), rng.chisquare(TAIL, n_draw), start)


def weighed(data: Data, normal: Array, chi: Array, start: Array = PRIOR_MEAN) -> Posterior:
    """The posterior from given standard normal numbers (n_draw, n_coefficient) and χ² ones on TAIL degrees of freedom (n_draw,)."""
    mode, covariance = _mode(data, start)
    root, scale = np.linalg.cholesky(covariance) * WIDTH, np.sqrt(chi / TAIL)
    draws = mode + (normal / scale[:, None]) @ root.T
    inside = (normal**2).sum(1) / chi
    log_proposal = -0.5 * (TAIL + len(mode)) * np.log1p(inside)
    held = np.clip(draws, PRIOR_MEAN - FAR * PRIOR_SD, PRIOR_MEAN + FAR * PRIOR_SD)
    seen = np.vstack([data.log_likelihood(held[i : i + CHUNK]) for i in range(0, len(draws), CHUNK)])
    beyond = (held != draws).any(1)
    return Posterior(mode, covariance, held, np.where(beyond, -np.inf, log_prior(held) - log_proposal), seen)


def _mode(data: Data, start: Array) -> tuple[Array, Array]:
    """Mode and covariance of the normal approximation, in units of the prior's standard deviations inside."""
    from scipy.optimize import minimize  # only here: slow to load

    n = len(PRIOR_MEAN)
    eye = np.eye(n)

    def cost(z: Array) -> Array:
        x = PRIOR_MEAN + PRIOR_SD * z
        with np.errstate(over="ignore", invalid="ignore"):
            value = -log_prior(x) - data.log_likelihood(x).sum(1)
        return np.where(np.isfinite(value), value, 1e9)

    def both(z: Array) -> tuple[float, Array]:
        value = cost(np.vstack([z, z + STEP * eye, z - STEP * eye]))
        return float(value[0]), (value[1 : n + 1] - value[n + 1 :]) / (2 * STEP)

    found = minimize(both, (start - PRIOR_MEAN) / PRIOR_SD, jac=True, method="BFGS", options={"gtol": 1e-3, "maxiter": 100})
    wide = 0.05
    pairs = [(i, j) for i in range(n) for j in range(i + 1)]
    asked = np.array([found.x + wide * (a * eye[i] + b * eye[j]) for i, j in pairs for a in (1, -1) for b in (1, -1)])
    value = cost(asked).reshape(-1, 2, 2)
    hessian = np.zeros((n, n))
    for (i, j), v in zip(pairs, value, strict=True):
        hessian[i, j] = hessian[j, i] = (v[0, 0] - v[0, 1] - v[1, 0] + v[1, 1]) / (4 * wide**2)
    size, vector = np.linalg.eigh(hessian)
    covariance = (vector / np.maximum(size, 0.3)) @ vector.T
    return PRIOR_MEAN + PRIOR_SD * found.x, np.outer(PRIOR_SD, PRIOR_SD) * covariance
