"""How likely trials are under the law of growth: trial, muscle and misfit are integrated in closed form."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.growth.design import USUAL_WEEKS, Trial
from lengthwise.growth.law import REFERENCE_SETS, columns, per_set
from lengthwise.later import special

LOG_2PI = float(np.log(2 * np.pi))
SMALL = 1e-9


@dataclass(frozen=True, kw_only=True)
class Bundle:
    """Trials of about the same size, padded to one shape; arrays start with n_trial.

    Attributes:
        place: of each trial in the whole list. row: of each row in the flat list of rows, (n_trial, n_row); the last stands for none.
        contrast, seen, variance: what was observed, (n_trial, n_obs, n_row) and (n_trial, n_obs); count of them, (n_trial,).
        sides, side_variance: rows that were only ordered, (n_trial, n_side, n_row) and (n_trial, n_side); infinite where none.
        muscle: whether two rows are of one muscle, (n_trial, n_row, n_row).
    """

    place: NDArray[np.intp]
    row: NDArray[np.intp]
    contrast: Array
    seen: Array
    variance: Array
    count: Array
    sides: Array
    side_variance: Array
    muscle: Array


class Data:
    """All trials as flat arrays, so that many draws of the coefficients are weighed at once."""

    def __init__(self, trials: Sequence[Trial]) -> None:
        self.trials = tuple(trials)
        rows = [r for t in trials for r in t.rows]
        heads = [each for r in rows for each in r.entries]
        flat = [e for each in heads for e in each]
        self._columns = columns([e.features for e in flat], np.array([e.reserve for e in flat]), np.array([e.light for e in flat]))
        self._sets = np.array([e.sets for e in flat]) / REFERENCE_SETS
        self._head_start = np.r_[0, np.cumsum([len(each) for each in heads])[:-1]]
        self._row_start = np.r_[0, np.cumsum([len(r.entries) for r in rows])[:-1]]
        self._volume = np.concatenate([r.volume for r in rows])
        self._trained = np.array([t.trained for t in trials])
        self._weeks = np.log([t.weeks / USUAL_WEEKS for t in trials])
        start = np.r_[0, np.cumsum([len(t.rows) for t in trials])]
        sizes = np.array([max(len(t.rows), len(t.sizes) + len(t.differences)) for t in trials])
        edges = (4, 8, 16, int(sizes.max()))
        self._bundles = [
            _bundle(trials, np.flatnonzero((sizes > low) & (sizes <= high)), start, len(rows))
            for low, high in zip((0, *edges), edges, strict=False)
            if ((sizes > low) & (sizes <= high)).any()
        ]

    def growth(self, x: Array) -> Array:
        """f of every row under draws of the coefficients, (n_draw, n_row + 1); the last is 0 and stands for no row."""
        sets = np.exp(x[:, 7:8])
        g = per_set(x, self._columns)
        effective = np.add.reduceat(self._sets * g ** (1 / sets), self._head_start, axis=1)
        out = np.add.reduceat(self._volume * effective**sets, self._row_start, axis=1)
        return np.hstack([out, np.zeros((len(x), 1))])

    def level(self, x: Array) -> Array:
        """How much people of each trial grow over that of untrained people in ten weeks, (n_draw, n_trial)."""
        return np.asarray(np.exp(x[:, 10:11] * self._trained + x[:, 11:12] * self._weeks))

    def log_likelihood(self, x: Array) -> Array:
        """Log density of what each trial saw under draws of the coefficients, (n_draw, n_trial)."""
        f, level = self.growth(x), self.level(x)
        out = np.zeros((len(x), len(self.trials)))
        for b in self._bundles:
            mean, cov = moments(x, f[:, b.row], level[:, b.place], b.muscle)
            out[:, b.place] = _gaussian(b, mean, cov) + _ordered(b, mean, cov)
        return out


def moments(x: Array, f: Array, level: Array, muscle: Array) -> tuple[Array, Array]:
    """Mean and covariance of the growth of a trial's rows.

    Args:
        x: coefficients, (n_draw, n_coefficient). f: (n_draw, n_trial, n_row). level: (n_draw, n_trial). muscle: (n_trial, n_row, n_row).

    Returns:
        (n_draw, n_trial, n_row) and (n_draw, n_trial, n_row, n_row).
    """
    trials, muscles, misfit = (np.exp(2 * x[:, k])[:, None, None, None] for k in (1, 2, 3))
    grown = level[..., None] * f
    cov = grown[..., :, None] * grown[..., None, :] * (trials + muscles * muscle)
    cov = cov + misfit / 2 * np.eye(f.shape[-1])
    return x[:, 0, None, None] * grown, cov


def _gaussian(b: Bundle, mean: Array, cov: Array) -> Array:
    if not b.contrast.shape[1]:
        return np.zeros(mean.shape[:2])
    seen = b.contrast @ cov @ b.contrast.swapaxes(-1, -2) + b.variance[:, :, None] * np.eye(b.contrast.shape[1])
    low = np.linalg.cholesky(seen)
    away = b.seen - np.einsum("tor,ptr->pto", b.contrast, mean)
    z = np.linalg.solve(low, away[..., None])[..., 0]
    logdet = np.log(np.einsum("ptoo->pto", low)).sum(-1)
    return np.asarray(-0.5 * (z**2).sum(-1) - logdet - 0.5 * LOG_2PI * b.count)


def _ordered(b: Bundle, mean: Array, cov: Array) -> Array:
    """Log probability that the arms come out in the order that was seen."""
    if not b.sides.shape[1]:
        return np.zeros(mean.shape[:2])
    ahead = np.einsum("tsr,ptr->pts", b.sides, mean)
    spread = np.einsum("tsr,ptrq,tsq->pts", b.sides, cov, b.sides)
    return np.asarray(
        np.where(np.isinf(b.side_variance), 0.0, special.log_ndtr(ahead / np.sqrt(spread + b.side_variance + SMALL))).sum(-1)
    )


def _bundle(trials: Sequence[Trial], place: NDArray[np.intp], start: NDArray[np.intp], none: int) -> Bundle:
    some = [trials[i] for i in place]
    n_row = max(len(t.rows) for t in some)
    n_obs = max(len(t.sizes) + sum(not p.side for p in t.differences) for t in some)
    n_side = max(sum(p.side for p in t.differences) for t in some)
    n = len(some)
    row = np.full((n, n_row), none)
    contrast, seen, variance = np.zeros((n, n_obs, n_row)), np.zeros((n, n_obs)), np.ones((n, n_obs))
    sides, side_variance = np.zeros((n, n_side, n_row)), np.full((n, n_side), np.inf)
    muscle, count = np.zeros((n, n_row, n_row)), np.zeros(n)
    for k, t in enumerate(some):
        row[k, : len(t.rows)] = start[place[k]] + np.arange(len(t.rows))
        of = [r.heads for r in t.rows]
        muscle[k, : len(of), : len(of)] = [[a == b for b in of] for a in of]
        for o, (i, value, se) in enumerate(t.sizes):
            contrast[k, o, i], seen[k, o], variance[k, o] = 1.0, value, se**2
        o = len(t.sizes)
        for p in (p for p in t.differences if not p.side):
            contrast[k, o, p.a], contrast[k, o, p.b], seen[k, o], variance[k, o] = 1.0, -1.0, p.value, p.se**2
            o += 1
        count[k] = o
        for s, p in enumerate(p for p in t.differences if p.side):
            sides[k, s, p.a], sides[k, s, p.b], side_variance[k, s] = p.value, -p.value, p.se**2
    return Bundle(
        place=place,
        row=row,
        contrast=contrast,
        seen=seen,
        variance=variance,
        count=count,
        sides=sides,
        side_variance=side_variance,
        muscle=muscle,
    )
