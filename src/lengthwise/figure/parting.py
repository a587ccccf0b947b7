"""Muscles moved off each other, deep ones first served: none stands in its neighbour or shows through what lies over it."""

import numpy as np

from lengthwise.arrays import Array
from lengthwise.core.contacts import contacts
from lengthwise.figure import broad_muscles
from lengthwise.figure.flesh import Flesh

RADIUS_M = 0.018
"""How deep muscles may stand in one another and still be told which way is out."""
_YIELD, _AS_A_WHOLE, _MOST_M = 1.2, 0.6, 0.006
"""Both give way, each by over half, since smoothing takes from it; a belly mostly as a whole section (own choices)."""


def parted(flesh: Flesh, points: Array, out: Array) -> Array:
    """How far each point (n_pos, n_point, 3) with normals `out` moves for muscles to stand less in each other [m]."""
    push = np.zeros_like(points)
    found = _YIELD * contacts(
        points, out, flesh.centres(points), flesh.reach(points), flesh.depth, flesh.layer, flesh.every_second_ring, RADIUS_M
    )
    kinds, start = flesh.kinds(push), 0
    for own in kinds:
        rings = own[:, :, ::2]
        n = int(np.prod(rings.shape[1:4]))
        rings[...] = found[:, start : start + n].reshape(rings.shape)
        own[:, :, 1:-1:2] = 0.5 * (own[:, :, :-2:2] + own[:, :, 2::2])
        start += n
    _with_both_sides(kinds[0])
    _with_the_ring(kinds[1])
    for own in kinds:
        _evened(own)
        _evened(own)
    push *= flesh.give[:, None]
    far = np.sqrt(np.einsum("...i,...i->...", push, push))
    return np.asarray(push * np.minimum(1, _MOST_M / np.maximum(far, 1e-9))[..., None])


def _with_both_sides(sheets: Array) -> None:
    """A sheet moves as a sheet: both of its sides by what presses more."""
    n = broad_muscles.N_ACROSS
    top, under = sheets[..., :n, :], sheets[..., : n - 1 : -1, :]
    a, b = (np.einsum("...i,...i->...", v, v) for v in (top, under))
    top[...] = under[...] = np.where((a > b)[..., None], top, under)


def _with_the_ring(bellies: Array) -> None:
    """A belly moves as a whole section where one side is pressed, and is dented by the rest."""
    n_pressed = (bellies != 0).any(-1).sum(3)[..., None, None]
    whole = _AS_A_WHOLE * bellies.sum(3, keepdims=True) / np.maximum(n_pressed, 1)
    bellies *= 1 - _AS_A_WHOLE
    bellies += whole


def _evened(push: Array) -> None:
    """Each push (n_pos, n_part, n_along, n_round, 3) is shared with its neighbours along and around, so that surfaces stay smooth."""
    along = push[:, :, :-2] + push[:, :, 2:]
    push[:, :, 1:-1] *= 0.5
    push[:, :, 1:-1] += 0.25 * along
    around = np.empty_like(push)
    around[:, :, :, 1:-1] = push[:, :, :, :-2] + push[:, :, :, 2:]
    around[:, :, :, 0], around[:, :, :, -1] = push[:, :, :, -1] + push[:, :, :, 1], push[:, :, :, -2] + push[:, :, :, 0]
    push *= 0.5
    push += 0.25 * around
