"""Honest errors when effects of one study hang together in an unknown way: cluster-robust variance.

CR2 with Satterthwaite degrees of freedom (Bell & McCaffrey 2002, Surv Methodol 28:169-181; Tipton 2015, Psychol Methods
20:375-393; Pustejovsky & Tipton 2018, J Bus Econ Stat 36:672-683).
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from lengthwise.distributions import t
from lengthwise.errors import InputError, unknown
from lengthwise.evidence.heterogeneity import Array, read_only

CORRECTIONS = ("CR0", "CR1", "CR2")


@dataclass(frozen=True)
class RobustFit:
    """Weighted least squares with errors that allow any dependence within a study.

    Attributes:
        beta, se, df: coefficients, robust standard errors and Satterthwaite degrees of freedom (n_coef).
        tau2: spread between studies used for the weights; 0 when weights came from elsewhere.
        n_cluster: number of studies.
    """

    beta: Array
    se: Array
    df: Array
    tau2: float
    n_cluster: int

    def interval(self, level: float = 0.95) -> Array:
        """Intervals of the coefficients (n_coef, 2) by t on the Satterthwaite degrees of freedom."""
        half = t.ppf((1 + level) / 2, self.df) * self.se
        return np.stack([self.beta - half, self.beta + half], axis=-1)

    def p_value(self) -> Array:
        """Two-sided probabilities (n_coef) under no effect."""
        return np.asarray(2 * t.sf(np.abs(self.beta / self.se), self.df))


def _inverse_root(matrix: Array) -> Array:
    """The symmetric Moore–Penrose inverse square root of a positive semidefinite matrix."""
    values, vectors = np.linalg.eigh((matrix + matrix.T) / 2)
    keep = values > 1e-12 * max(values.max(), 1e-300)
    return np.asarray((vectors[:, keep] / np.sqrt(values[keep])) @ vectors[:, keep].T)


def _adjustments(residual_maker: Array, omega: Array, blocks: list[npt.NDArray[np.intp]], correction: str) -> list[Array]:
    """One matrix for each cluster that undoes the shrinkage of its residuals under the working model."""
    if correction not in CORRECTIONS:
        raise unknown("correction", correction, CORRECTIONS)
    m = len(blocks)
    if correction != "CR2":
        return [np.eye(b.size) * (np.sqrt(m / (m - 1)) if correction == "CR1" else 1.0) for b in blocks]
    spread = residual_maker @ omega @ residual_maker.T
    result = []
    for b in blocks:
        root = np.linalg.cholesky(omega[np.ix_(b, b)]).T
        result.append(root.T @ _inverse_root(root @ spread[np.ix_(b, b)] @ root.T) @ root)
    return result


def robust_fit(
    y: npt.ArrayLike,
    omega: npt.ArrayLike,
    cluster: npt.ArrayLike,
    x: npt.ArrayLike | None = None,
    correction: str = "CR2",
) -> RobustFit:
    """The weighted mean of `y` (k), or its regression on `x` (k, n_coef), with cluster-robust errors.

    Args:
        y: effects (k).
        omega: working covariance (k, k), whose inverse gives the weights; it need not be right for the errors to be.
        cluster: study of each effect (k).
        x: design; a column of ones by default.
        correction: CR0 (none), CR1 (m/(m − 1)) or CR2 (exact if the working covariance is right).

    Raises:
        InputError: fewer than two studies.
    """
    y, omega, labels = np.asarray(y, dtype=float), np.asarray(omega, dtype=float), np.asarray(cluster)
    design = np.ones((y.size, 1)) if x is None else np.asarray(x, dtype=float)
    blocks = [np.flatnonzero(labels == name) for name in np.unique(labels)]
    if len(blocks) < 2:
        raise InputError("robust errors need at least 2 studies, found 1", asked=1)
    weight = np.linalg.inv(omega)
    bread = np.linalg.inv(design.T @ weight @ design)
    maker = np.eye(y.size) - design @ bread @ design.T @ weight
    residual, halves = maker @ y, []
    for b, adjust in zip(blocks, _adjustments(maker, omega, blocks, correction), strict=True):
        halves.append((maker[b].T @ adjust @ weight[np.ix_(b, b)] @ design[b] @ bread, adjust, b))
    scores = np.stack([bread @ design[b].T @ weight[np.ix_(b, b)] @ a @ residual[b] for _, a, b in halves])
    return RobustFit(
        beta=read_only(bread @ design.T @ weight @ y),
        se=read_only(np.sqrt((scores**2).sum(axis=0))),
        df=read_only(_satterthwaite(np.stack([h for h, _, _ in halves]), omega)),
        tau2=0.0,
        n_cluster=len(blocks),
    )


def _satterthwaite(halves: Array, omega: Array) -> Array:
    """Degrees of freedom (n_coef) that match mean and variance of each robust variance under the working model.

    `halves` (n_cluster, k, n_coef): the variance of a coefficient is Σ (half'y)².
    """
    products = np.einsum("ikp,kl,jlp->pij", halves, omega, halves)
    diagonal = np.einsum("pii->p", products)
    return np.asarray(diagonal**2 / (products**2).sum(axis=(1, 2)))


def correlated_effects(
    y: npt.ArrayLike,
    v: npt.ArrayLike,
    cluster: npt.ArrayLike,
    x: npt.ArrayLike | None = None,
    correlation: float = 0.8,
) -> RobustFit:
    """The mean of effects that share samples, each study weighted as one, with CR2 errors.

    Correlated-effects working model of Hedges, Tipton & Johnson 2010 (Res Synth Methods 1:39-65): within a study the
    variances are averaged, weights are 1/(k_j (mean v_j + τ²)), τ² comes from the moments of the weighted residuals
    with sampling errors correlated by `correlation`.
    """
    y, v, labels = np.asarray(y, dtype=float), np.asarray(v, dtype=float), np.asarray(cluster)
    design = np.ones((y.size, 1)) if x is None else np.asarray(x, dtype=float)
    names, index, size = np.unique(labels, return_inverse=True, return_counts=True)
    mean_v = np.bincount(index, weights=v) / size
    tau2 = _moment_tau2(y, design, index, mean_v, correlation)
    fit = robust_fit(y, np.diag((size * (mean_v + tau2))[index]), labels, design)
    return RobustFit(fit.beta, fit.se, fit.df, tau2, names.size)


def _moment_tau2(y: Array, x: Array, index: npt.NDArray[np.intp], mean_v: Array, correlation: float) -> float:
    """τ² at which the weighted residual sum of squares equals its expectation (Hedges et al. 2010, eq. 11)."""
    size = np.bincount(index)
    w_study = 1 / (size * mean_v)
    w = w_study[index]
    bread = np.linalg.inv((x.T * w) @ x)
    beta = bread @ (x.T * w) @ y
    q = float((w * (y - x @ beta) ** 2).sum())
    sums = np.stack([x[index == j].sum(axis=0) for j in range(size.size)])
    apart = (x.T * (w_study / size)[index]) @ x
    together = (sums.T * (w_study / size)) @ sums
    shrink = float(np.trace(bread @ (correlation * together + (1 - correlation) * apart)))
    gain = float((w_study * size).sum() - np.trace(bread @ (sums.T * w_study**2) @ sums))
    return max((q - size.size + shrink) / gain, 0.0)
