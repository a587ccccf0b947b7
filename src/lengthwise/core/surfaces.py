"""What surfaces of triangles hold, how large they are and which way they look (core/surface.c)."""

from ctypes import c_int64

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.door import integers, pointer, reals

Corners = NDArray[np.integer]
_LANES = 4


def volumes(points: Array, faces: Corners) -> Array:
    """Volume within closed surfaces, negative where their triangles look inwards, (n_pos,) [unit of the points, cubed].

    Args:
        points: (n_pos, n_point, 3). faces: (n_face, 3), for all positions.

    Raises:
        InputError: another shape, numbers that are not finite, a corner that is no point.
    """
    points = reals("points", points, -1, -1, 3)
    n, n_point = points.shape[:2]
    faces = integers("faces", faces, n_point, -1, 3)
    out, side = np.empty(n), np.empty((n_point, 3, _LANES))
    door._core().lw_volume(
        c_int64(n), c_int64(n_point), pointer(points), c_int64(len(faces)), pointer(faces), pointer(side), pointer(out)
    )
    return out


def normals(points: Array, faces: Corners) -> tuple[Array, Array]:
    """Unit normals at the points by area (n_pos, n_point, 3), and the areas of the surfaces (n_pos,) [unit of the points, squared].

    Args and errors are those of `volumes`.
    """
    points = reals("points", points, -1, -1, 3)
    n, n_point = points.shape[:2]
    faces = integers("faces", faces, n_point, -1, 3)
    out, area = np.empty_like(points), np.empty(n)
    door._core().lw_normals(
        c_int64(n), c_int64(n_point), pointer(points), c_int64(len(faces)), pointer(faces), pointer(out), pointer(area)
    )
    return out, area
