"""All parts laid on the bones and on each other together: what dips into a bone or a neighbour is drawn out of it."""

import numpy as np

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.figure.filling import grown
from lengthwise.figure.flesh import Flesh
from lengthwise.figure.meshes import normals
from lengthwise.figure.obstacles import Obstacles
from lengthwise.figure.parting import parted

DEEPEST_M = 0.003
"""How far a muscle may dip into the bone that it grows from (own choice)."""
_PARTINGS, _FILLINGS, _ROUNDS = 4, 2, 8
_NEAR_M, _PRESSED_M, _LEAST_FREE = 0.02, 0.002, 0.15


def settled(bones: Obstacles, flesh: Flesh, points: Array) -> Array:
    """Points of all parts (n_pos, n_point, 3) off each other, with the volumes that they had, none deeper in a bone than DEEPEST_M
    where there is a way out [m]. Without the core muscles are not moved off each other: it alone finds where they touch."""
    wanted, points = flesh.volumes(points), flesh.welded(points)
    near = (bones.clearance(points)[0] < _NEAR_M).any(0)
    for k in range(_PARTINGS if door.available() else 0):
        out = normals(points, flesh.outside)[0]
        push = flesh.welded(parted(flesh, points, out))
        points = points + push
        if k % 2:
            points[:, near] = drawn_out(bones, points[:, near], 1)
            free = np.clip(1 - np.linalg.norm(push, axis=-1) / _PRESSED_M, _LEAST_FREE, 1)
            points = flesh.welded(grown(flesh, points, out, wanted, free))
    for _ in range(_FILLINGS):
        points[:, near] = drawn_out(bones, points[:, near], 1)
        points = flesh.welded(grown(flesh, points, normals(points, flesh.outside)[0], wanted, np.ones(points.shape[:2])))
    return drawn_out(bones, points, _ROUNDS)


def drawn_out(bones: Obstacles, points: Array, rounds: int) -> Array:
    """Points (n_pos, n, 3) moved the shortest way out of bones [m]."""
    out = points.copy()
    near = np.ones(points.shape[1], bool)
    for _ in range(rounds):
        d, way = bones.clearance(out[:, near])
        deep = np.maximum(-DEEPEST_M - d, 0)
        out[:, near] += deep[..., None] * way
        near[near] = (deep > 0).any(0)
        if not near.any():
            break
    return out
