"""Muscles made as thick as their volumes ask."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.figure.flesh import Flesh
from lengthwise.figure.meshes import rings, volume
from lengthwise.figure.skin import Skin

_ROUNDS, _CLOSE = 5, 1e-3
_ENOUGH, _FREE, _MOST_M, _LITTLE_M = 0.01, 1.5, 0.006, 1e-4
"""How near a settled volume has to be; growth against a bone is lost, so a little more is asked (own choices)."""


def filled(skins: list[Skin], wanted: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Points of skins of one shape, as thick as their volumes (n_skin, n_pos) [m³] ask, and whether their triangles look inwards.

    What tendons and thin edges hold anyway is part of the volume, so the thickness is found by secant steps on the closed surface.

    Returns:
        (n_skin, n_pos, n_along * n_round, 3) [m] and (n_skin,).
    """
    thin, out = (np.stack([getattr(s, name) for s in skins]) for name in ("thin", "outwards"))
    faces, power = rings(*thin.shape[2:4]), skins[0].power

    def surface(thickness: Array) -> Array:
        return np.asarray(thin + (thickness**power)[..., None, None, None] * out).reshape(*thin.shape[:2], -1, 3)

    b = np.ones(wanted.shape)
    inwards = volume(surface(b)[:, 0], faces) < 0
    sign = np.where(inwards, -1, 1)[:, None]
    a, va = np.zeros_like(b), sign * volume(surface(0 * b), faces)
    for _ in range(_ROUNDS):
        vb = sign * volume(surface(b), faces)
        close = np.abs(wanted - vb) < _CLOSE * wanted
        if close.all():
            break
        slope = (vb - va) / np.where(b == a, 1, b - a)
        step = np.clip((wanted - vb) / np.where(slope > 1e-9, slope, np.inf), -0.6 * b, 1.5 * b)
        a, va, b = np.where(close, a, b), np.where(close, va, vb), np.where(close, b, np.clip(b + step, 0.02, 6.0))
    return surface(b), inwards


def grown(flesh: Flesh, points: Array, out: Array, wanted: Array, free: Array) -> Array:
    """Points of all muscles moved along `out` (n_pos, n_point, 3) towards their volumes (n_pos, n_part) [m³].

    Args:
        free: how readily each point gives way to more flesh, 0-1, (n_pos, n_point); less flesh comes from everywhere.
    """
    found = flesh.volumes(points)
    missing = np.where(np.abs(wanted - found) < _ENOUGH * wanted, 0, wanted - found)
    n = np.diff(flesh.starts)
    way = out * (flesh.swells * np.where(np.repeat(missing > 0, n, 1), free, 1))[..., None]
    rate = (flesh.volumes(points + _LITTLE_M * way) - found) / _LITTLE_M
    far = np.clip(_FREE * missing / np.maximum(rate, 1e-9), -_MOST_M, _MOST_M)
    return points + way * np.repeat(far, n, 1)[..., None]
