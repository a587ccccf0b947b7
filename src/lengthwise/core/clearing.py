"""How far points lie from round cones and trunk sections (core/clearance.c)."""

from ctypes import c_int64

import numpy as np

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.door import Index, integers, pointer, reals


def clearance(points: Array, cones: Array, frames: Array, n_row: Index, rows: Array) -> tuple[Array, Array]:
    """Distance of each point to the nearest solid, negative inside, and the unit vector that leads out of it.

    Args:
        points: (n_pos, n_point, 3) [m]. cones: two balls, x, y, z, radius each, (n_pos, n_cone, 8) [m].
        frames: axes row by row, origin and size [m per mm] of each trunk, (n_pos, n_section, 13).
        n_row: rows of each trunk, from 2 on, (n_section,). rows: height, middle x, half depth, half width [mm], (n_section, most, 4).

    Returns:
        (n_pos, n_point) [m] and (n_pos, n_point, 3).

    Raises:
        InputError: another shape, or numbers that are not finite.
    """
    points = reals("points", points, -1, -1, 3)
    n, n_point = points.shape[:2]
    cones, frames = reals("cones", cones, n, -1, 8), reals("frames", frames, n, -1, 13)
    rows = reals("rows", rows, frames.shape[1], -1, 4)
    n_row = integers("n_row", n_row - 2, max(rows.shape[1] - 1, 1), frames.shape[1]) + 2
    distance, way = np.empty((n, n_point)), np.empty((n, n_point, 3))
    door._core().lw_clearance(
        c_int64(n), c_int64(n_point), pointer(points), c_int64(cones.shape[1]), pointer(cones), c_int64(frames.shape[1]),
        pointer(frames), pointer(n_row), c_int64(rows.shape[1]), pointer(rows), pointer(distance), pointer(way),
    )  # fmt: skip
    return distance, way
