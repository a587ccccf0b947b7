"""Muscles moved off each other, deep ones first served: none stands in its neighbour or shows through what lies over it."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.core.contacts import contacts
from lengthwise.figure import sheet
from lengthwise.figure.flesh import Flesh

Array = NDArray[np.float64]
RADIUS_M = 0.018
"""How deep muscles may stand in one another and still be told which way is out."""
_YIELD, _AS_A_WHOLE, _MOST_M = 1.2, 0.6, 0.006
"""Both give way, each by over half, since smoothing takes from it; a belly mostly as a whole section (own choices)."""


def parted(flesh: Flesh, points: Array, out: Array) -> Array:
    """How far each point (n_pos, n_point, 3) with normals `out` moves for muscles to stand less in each other [m]."""
    push = np.zeros_like(points)
    push[:, flesh.every_second_ring] = _YIELD * contacts(
        points, out, flesh.centres(points), flesh.reach(points), flesh.depth, flesh.layer, flesh.every_second_ring, RADIUS_M
    )
    for _, grid in flesh.grids:
        push[:, grid[:, 1:-1:2]] = 0.5 * (push[:, grid[:, :-2:2]] + push[:, grid[:, 2::2]])
    _with_both_sides(flesh, push)
    _with_the_ring(flesh, push)
    for _, grid in flesh.grids:
        push[:, grid] = _evened(_evened(push[:, grid]))
    push *= flesh.give[:, None]
    return np.asarray(push * np.minimum(1, _MOST_M / np.maximum(np.linalg.norm(push, axis=-1), 1e-9))[..., None])


def _with_both_sides(flesh: Flesh, push: Array) -> None:
    """A sheet moves as a sheet: both of its sides by what presses more."""
    grid, n = flesh.grids[0][1], sheet.N_ACROSS
    top, under = grid[..., :n], grid[..., : n - 1 : -1]
    a, b = push[:, top], push[:, under]
    push[:, top] = push[:, under] = np.where(((a**2).sum(-1) > (b**2).sum(-1))[..., None], a, b)


def _with_the_ring(flesh: Flesh, push: Array) -> None:
    """A belly moves as a whole section where one side is pressed, and is dented by the rest."""
    grid = flesh.grids[1][1]
    own = push[:, grid]
    n_pressed = ((own**2).sum(-1, keepdims=True) > 0).sum(3, keepdims=True)
    push[:, grid] = _AS_A_WHOLE * own.sum(3, keepdims=True) / np.maximum(n_pressed, 1) + (1 - _AS_A_WHOLE) * own


def _evened(push: Array) -> Array:
    """Each push (n_pos, n_part, n_along, n_round, 3) shared with its neighbours along and around, so that surfaces stay smooth."""
    out = push.copy()
    out[:, :, 1:-1] = 0.5 * push[:, :, 1:-1] + 0.25 * (push[:, :, :-2] + push[:, :, 2:])
    return np.asarray(0.5 * out + 0.25 * (np.roll(out, 1, 3) + np.roll(out, -1, 3)))
