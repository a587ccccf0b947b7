"""How sure an order is: in how many draws each lift comes first, in the top three, and between which ranks it moves.

Stochastic multicriteria acceptability analysis: Lahdelma, Hokkanen & Salminen 1998, European Journal of Operational Research 106:137-143
(from memory): weights and measures are drawn, and the share of draws that give an alternative a rank is its acceptability.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.errors import InputError
from lengthwise.mechanics.problem import read_only

INTERVAL = 0.90
"""Share of the draws that a rank interval covers at least (own choice)."""
TIED = 1e-12


@dataclass(frozen=True, kw_only=True)
class Acceptability:
    """How sure an order is.

    Attributes:
        rank_share: share of draws in which each lift has each rank, (n_lift, n_rank); rows and columns sum to 1.
        first_share, top3_share: share of draws in which a lift is first, and among the first three, (n_lift,).
        rank_low, rank_high: ranks, from 1, between which at least INTERVAL of its draws lie, (n_lift,).
        n_draw: how many draws.
    """

    rank_share: Array
    first_share: Array
    top3_share: Array
    rank_low: NDArray[np.intp]
    rank_high: NDArray[np.intp]
    n_draw: int


def acceptability(values: Array) -> Acceptability:
    """The acceptability of every lift from its value in every draw, (n_draw, n_lift).

    Lifts of equal value share their ranks evenly, so the order of the columns does not matter.

    Raises:
        InputError: no draws, no lifts, or values that are not numbers.
    """
    if values.ndim != 2 or 0 in values.shape or not np.isfinite(values).all():
        raise InputError(f"values has shape {values.shape}; allowed (n_draw, n_lift) with at least one of each, all finite")
    n_draw, n_lift = values.shape
    order = np.argsort(-values, axis=1, kind="stable")
    fall = -np.diff(np.take_along_axis(values, order, axis=1), axis=1)
    tied = (fall <= TIED).any(axis=1)
    places = order[~tied] * n_lift + np.arange(n_lift)
    share = np.bincount(places.ravel(), minlength=n_lift * n_lift).reshape(n_lift, n_lift).astype(np.float64)
    for row in values[tied]:
        _add_ranks(share, row)
    share /= n_draw
    reached = np.cumsum(share, axis=1)
    tail = (1 - INTERVAL) / 2
    low = 1 + np.argmax(reached > tail + 1e-12, axis=1)
    high = 1 + np.argmax(reached >= 1 - tail - 1e-12, axis=1)
    return Acceptability(
        rank_share=read_only(share),
        first_share=read_only(share[:, 0]),
        top3_share=read_only(share[:, :3].sum(1)),
        rank_low=low,
        rank_high=high,
        n_draw=n_draw,
    )


def _add_ranks(share: Array, row: Array) -> None:
    """Add one draw: each lift's rank, equal lifts over all the ranks that they take together."""
    order = np.argsort(-row, kind="stable")
    begin = np.flatnonzero(np.diff(row[order], prepend=np.inf) < -TIED)
    end = np.append(begin[1:], len(row))
    alone = end - begin == 1
    share[order[begin[alone]], begin[alone]] += 1
    for first, last in zip(begin[~alone], end[~alone], strict=True):
        share[np.ix_(order[first:last], np.arange(first, last))] += 1 / (last - first)
