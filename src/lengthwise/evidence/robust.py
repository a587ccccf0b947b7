"""Honest errors when effects of one study hang together in an unknown way: cluster-robust variance.

CR2 with Satterthwaite degrees of freedom (Bell & McCaffrey 2002, Surv Methodol 28:169-181; Tipton 2015, Psychol Methods
20:375-393; Pustejovsky & Tipton 2018, J Bus Econ Stat 36:672-683).
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.distributions import t
from lengthwise.errors import InputError, unknown
from lengthwise.evidence.covariance import Covariance, Index, index_of
from lengthwise.evidence.heterogeneity import read_only

CORRECTIONS = ("CR0", "CR1", "CR2")
LARGEST_CLUSTER = 1000
"""Most effects of one study: CR2 takes the root of each study's own table of pairs (own choice: a second of work)."""
LEAST_DF = 0.5
"""Satterthwaite's degrees of freedom are 1 or more, (tr M)² / tr M² of a positive semidefinite M; fewer are rounding alone."""


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

    @property
    def mean(self) -> tuple[float, float, tuple[float, float], float]:
        """Of the first coefficient: standard error, degrees of freedom, 95 % interval and probability under no effect."""
        low, high = self.interval()[0].tolist()
        return float(self.se[0]), float(self.df[0]), (low, high), float(self.p_value()[0])

    def interval(self, level: float = 0.95) -> Array:
        """Intervals of the coefficients (n_coef, 2) by t on the Satterthwaite degrees of freedom."""
        half = t.ppf((1 + level) / 2, self.df) * self.se
        return np.stack([self.beta - half, self.beta + half], axis=-1)

    def p_value(self) -> Array:
        """Two-sided probabilities (n_coef) under no effect; NaN where effects are alike to the last digit, so that no error is left."""
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.asarray(2 * t.sf(np.abs(np.where(self.se > 0, self.beta / self.se, np.nan)), self.df))


def _inverse_root(matrix: Array) -> Array:
    """The symmetric Moore–Penrose inverse square root of a positive semidefinite matrix."""
    values, vectors = np.linalg.eigh((matrix + matrix.T) / 2)
    keep = values > 1e-12 * max(values.max(), 1e-300)
    return np.asarray((vectors[:, keep] / np.sqrt(values[keep])) @ vectors[:, keep].T)


def _adjustment(own: Array, spread: Array) -> Array:
    """The matrix (n, n) that undoes the shrinkage of a cluster's residuals: their working covariance and their spread, both (n, n)."""
    root = np.linalg.cholesky(own).T
    return np.asarray(root.T @ _inverse_root(root @ spread @ root.T) @ root)


def robust_fit(
    y: npt.ArrayLike,
    omega: Covariance,
    cluster: npt.ArrayLike,
    x: npt.ArrayLike | None = None,
    correction: str = "CR2",
) -> RobustFit:
    """The weighted mean of `y` (k), or its regression on `x` (k, n_coef), with cluster-robust errors.

    Args:
        y: effects (k).
        omega: working covariance, nothing shared between clusters, whose inverse gives the weights; it need not be right for the
            errors to be.
        cluster: study of each effect (k).
        x: design; a column of ones by default.
        correction: CR0 (none), CR1 (m/(m − 1)) or CR2 (exact if the working covariance is right).

    Raises:
        InputError: fewer than two studies, one with more than LARGEST_CLUSTER effects, or variances too unlike to be added up.
    """
    if correction not in CORRECTIONS:
        raise unknown("correction", correction, CORRECTIONS)
    y, index = np.asarray(y, dtype=float), index_of(cluster)
    design = np.ones((y.size, 1)) if x is None else np.asarray(x, dtype=float)
    blocks = np.split(np.argsort(index, kind="stable"), np.cumsum(np.bincount(index))[:-1])
    _check(blocks)
    weighted = omega.solve(design)
    bread = np.asarray(np.linalg.inv(design.T @ weighted), dtype=float)
    beta = bread @ (weighted.T @ y)
    residual, inflation = y - design @ beta, np.sqrt(len(blocks) / (len(blocks) - 1))
    scores, loads, own = [], [], []
    for b in blocks:
        covariance = omega.block(b)
        pulled = weighted[b] @ bread
        if correction == "CR2":
            pulled = _adjustment(covariance, covariance - design[b] @ bread @ design[b].T).T @ pulled
        elif correction == "CR1":
            pulled = inflation * pulled
        scores.append(pulled.T @ residual[b])
        loads.append(design[b].T @ pulled)
        own.append(np.einsum("np,nm,mp->p", pulled, covariance, pulled))
    df = _satterthwaite(np.stack(own), np.stack(loads), bread)
    if not (np.isfinite(df) & (df > LEAST_DF)).all():
        raise InputError(
            "the variances differ so much that rounding decides the cluster-robust error; allowed: a factor of 1e12 or so"
        )
    return RobustFit(
        beta=read_only(beta),
        se=read_only(np.sqrt((np.stack(scores) ** 2).sum(axis=0))),
        df=read_only(df),
        tau2=0.0,
        n_cluster=len(blocks),
    )


def _check(blocks: list[Index]) -> None:
    if len(blocks) < 2:
        raise InputError("robust errors need at least 2 studies, found 1", asked=1)
    largest = max(b.size for b in blocks)
    if largest > LARGEST_CLUSTER:
        raise InputError(
            f"one study holds {largest} effects; allowed {LARGEST_CLUSTER}: average what was measured alike",
            asked=largest,
            allowed=[LARGEST_CLUSTER],
        )


def _satterthwaite(own: Array, loads: Array, bread: Array) -> Array:
    """Degrees of freedom (n_coef) that match mean and variance of each robust variance under the working model.

    A coefficient's variance is Σ over clusters of (half'y)²; the halves' covariance is own (n_cluster, n_coef) on the diagonal less
    u'·bread·u with u = `loads` (n_cluster, n_coef, n_coef; last: the coefficient), so its squares add up without a table of all pairs.
    """
    shared = np.einsum("iap,ab,ibp->ip", loads, bread, loads)
    moment = np.einsum("iap,ibp->pab", loads, loads) @ bread
    squares = np.trace(moment @ moment, axis1=1, axis2=2) + ((own - shared) ** 2 - shared**2).sum(axis=0)
    with np.errstate(divide="ignore", invalid="ignore"):  # of rounding alone, which robust_fit refuses
        return np.asarray((own - shared).sum(axis=0) ** 2 / squares)
