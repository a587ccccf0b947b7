"""Which triangle is nearest at each pixel of a picture (core/raster.c)."""

from ctypes import c_int64

import numpy as np

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.door import Index, integers, pointer, reals

LARGEST = 6000
"""Most pixels of a side."""


def raster(points: Array, faces: Index, width: int, height: int) -> tuple[Index, Array, Array]:
    """The nearest triangle at each pixel.

    Args:
        points: x and y in pixels from the upper left, and distance from the eye, (n, 3). faces: (m, 3).

    Returns:
        The triangle or -1 (height, width), its depth (height, width), and the shares of its second and third corner (height, width, 2).

    Raises:
        InputError: another shape, numbers that are not finite, a corner that is no point.
    """
    points = reals("points", points, -1, 3)
    faces = integers("faces", faces, len(points), -1, 3)
    width, height = (max(1, min(int(n), LARGEST)) for n in (width, height))
    nearest, depth, share = np.empty((height, width), np.int32), np.empty((height, width)), np.zeros((height, width, 2))
    door._core().lw_raster(
        c_int64(len(faces)), pointer(faces), pointer(points), c_int64(width), c_int64(height), pointer(nearest), pointer(depth),
        pointer(share),
    )  # fmt: skip
    return nearest, depth, share
