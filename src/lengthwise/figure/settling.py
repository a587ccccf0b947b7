"""All parts laid on the bones together: what dips into a bone is drawn out of it."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.figure.meshes import Faces, normals, volume
from lengthwise.figure.muscles import Muscle
from lengthwise.figure.obstacles import bare_bones
from lengthwise.figure.placement import Placement

Array = NDArray[np.float64]
DEEPEST_M = 0.003
"""How far a muscle may dip into the bone that it grows from (own choice)."""
_ROUNDS, _FILLINGS = 5, 3
_CLOSE, _FREE = 0.01, 1.5
"""How near a volume has to be; growth against a bone is lost, so a little more is asked (own choices)."""


def settled(placed: Placement, fleshed: list[Muscle]) -> list[Muscle]:
    """The same parts with their volumes, none of whose points lies deeper in a bone than DEEPEST_M where there is a way out."""
    out = []
    for side in dict.fromkeys(m.side for m in fleshed):
        own = [m for m in fleshed if m.side == side]
        wanted = [volume(m.points, m.faces) for m in own]
        for _ in range(_FILLINGS):
            own = _drawn_out(placed, own, side)
            own = [replace(m, points=_filled(m.points, m.faces, v)) for m, v in zip(own, wanted, strict=True)]
        out += _drawn_out(placed, own, side)
    return out


def _filled(points: Array, faces: Faces, wanted: Array) -> Array:
    """A surface (n_pos, n, 3) grown evenly to a volume (n_pos,) [m³]."""
    missing = wanted - volume(points, faces)
    if (np.abs(missing) < _CLOSE * wanted).all():
        return points
    out, area = normals(points, faces)
    return np.asarray(points + out * (_FREE * missing / area)[:, None, None])


def _drawn_out(placed: Placement, own: list[Muscle], side: str) -> list[Muscle]:
    points = drawn_out(placed, np.concatenate([m.points for m in own], 1), side)
    ends = np.cumsum([m.points.shape[1] for m in own])[:-1]
    return [replace(m, points=p) for m, p in zip(own, np.split(points, ends, 1), strict=True)]


def drawn_out(placed: Placement, points: Array, side: str) -> Array:
    """Points in the drawn postures (n_drawn, n, 3) moved the shortest way out of the bones of a side [m]."""
    bones, out = bare_bones(placed, side), points.copy()
    near = np.ones(points.shape[1], bool)
    for _ in range(_ROUNDS):
        d, way = bones.clearance(out[:, near])
        deep = np.maximum(-DEEPEST_M - d, 0)
        out[:, near] += deep[..., None] * way
        near[near] = (deep > 0).any(0)
        if not near.any():
            break
    return out
