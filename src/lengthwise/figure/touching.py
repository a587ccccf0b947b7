"""Where pads and rollers meet the flesh, so that they neither float nor sink in [m]."""

import numpy as np

from lengthwise.arrays import Array

_SINKS_M, _BELOW_M = 0.005, 0.06
_FEW = 12
_LIMB_M = 0.09
_COLUMN_M, _OTHER_M = 0.04, (0.045, 0.2)
"""Flesh so near below a landmark, and so far, is another limb's; its own lies above it (own choice)."""
_SOFTEST = 0.8
"""Share of the nearest flesh that a pad presses flat [%] (own choice)."""


def underside(flesh: Array, marks: Array, n: Array, reach: float = 0.07, deep: float = 0.14) -> float:
    """How far along `n` the flesh about landmarks begins [m]; at the landmarks where there is none.

    Args:
        flesh: points of the body, (n, 3). marks: (n_mark, 3). n: unit vector that leads out of the pad into the body.
        reach: how far across `n` [m], and deep: how far along it, flesh belongs to a landmark; what hangs further out, as a calf beside
            the end of a seat, does not.
    """
    usual = float((marks @ n).min())
    about = np.abs(flesh - np.clip(flesh, marks.min(0), marks.max(0))) < reach + deep
    flesh = flesh[about.all(1)]
    across = flesh[:, None] - marks
    along = across @ n
    flat = np.linalg.norm(across - along[..., None] * n, axis=-1)
    near = flesh[((flat < reach) & (along > -_BELOW_M) & (along < deep)).any(1)]
    return float(np.percentile(near @ n, _SOFTEST)) + _SINKS_M if len(near) > _FEW else usual


def roller_middle(flesh: Array, mark: Array, n: Array, across: Array, radius: float) -> Array:
    """The middle of a roller that pushes a limb at a landmark along `n`, lying along `across`: it touches the flesh, (3,) [m]."""
    t = np.cross(across, n)
    a, b, side = ((flesh - mark) @ v for v in (t, n, across))
    near = (np.abs(a) < 0.95 * radius) & (np.abs(side) < 0.07) & (np.abs(b) < 0.14)
    if near.sum() < _FEW:
        return np.asarray(mark - n * radius)
    back = np.sqrt(radius**2 - a[near] ** 2) - b[near]
    return np.asarray(mark - n * (float(np.percentile(back, 100 - _SOFTEST)) - _SINKS_M))


def on_flesh(flesh: Array, mark: Array) -> bool:
    """Whether a landmark lies over another part of the body, which carries it and not the gear."""
    beside = np.linalg.norm((flesh - mark)[:, :2], axis=1) < _COLUMN_M
    below = mark[2] - flesh[beside, 2]
    return int(((below > _OTHER_M[0]) & (below < _OTHER_M[1])).sum()) > _FEW


def inward(flesh: Array, mark: Array) -> Array:
    """Which way leads from a landmark on the skin into its limb, square to the body's left, (3,)."""
    near = flesh[np.linalg.norm(flesh - mark, axis=1) < _LIMB_M]
    way = (near.mean(0) - mark) * [1, 0, 1]
    return np.asarray(way / np.linalg.norm(way))


def outermost(flesh: Array, at: Array, reach: float = 0.1) -> float:
    """How far to the left the flesh goes about a height and depth, at least that of the place [m]."""
    near = flesh[np.linalg.norm((flesh - at)[:, [0, 2]], axis=1) < reach]
    return float(max(np.abs(near[:, 1]).max(initial=0.0), abs(at[1])))
