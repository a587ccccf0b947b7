"""Where parts of flesh stand in one another (core/contact.c)."""

from ctypes import c_double, c_int32, c_int64

import numpy as np

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.door import Index, integers, pointer, reals
from lengthwise.errors import InputError

BELLY, TOP, UNDER, BARE = range(4)
_LANES, _MOST_CELLS = 8, 30_000_000
_CELLS = np.array([1, 1, 3])
"""In a radius along each axis."""


def contacts(
    points: Array, normals: Array, centres: Array, reach: Array, part: Index, layer: Index, asked: Index, radius: float
) -> Array:
    """The way out of the part that each asked point stands deepest in, nothing where it stands in none, (n_pos, n_asked, 3) [m].

    A point stands in a part where it is below that part's nearest surface that looks its way. Parts are numbered from deep to superficial:
    what is deeper than a sheet stays below its underside, what is more superficial stays above its top.

    Args:
        points: (n_pos, n_point, 3) [m]. normals: of their surfaces, outwards, as many.
        centres: the middle of the belly's section that each point lies around, as many [m].
        reach: how far beside a point its surface goes on, (n_pos, n_point) [m].
        part: which part each point is of, from 0 on, (n_point,). layer: BELLY, TOP or UNDER of a sheet, BARE for what does not touch.
        asked: which points are asked about, (n_asked,).
        radius: how far the nearest surface is looked for [m].

    Raises:
        InputError: another shape, numbers that are not finite, a part, layer or radius that cannot be.
    """
    points = reals("points", points, -1, -1, 3)
    n, n_point = points.shape[:2]
    normals, centres = (reals(name, v, n, n_point, 3) for name, v in (("normals", normals), ("centres", centres)))
    reach = reals("reach", reach, n, n_point)
    part, layer = integers("part", part, max(n_point, 1), n_point), integers("layer", layer, BARE + 1, n_point)
    asked = integers("asked", asked, n_point, -1)
    far = np.array([np.ptp(points[..., k], axis=1).max(initial=0) for k in range(3)]) if n_point else np.zeros(3)
    cells = (far / radius * _CELLS).astype(np.int32) + 1 if radius > 0 else np.zeros(3, np.int32)
    n_cell = int(np.prod(cells, dtype=np.int64))
    if not 0 < n_cell <= _MOST_CELLS:
        raise InputError(f"a radius of {radius} m makes {n_cell} cells of the points' room; allowed: 1 to {_MOST_CELLS}")
    n_part = int(part.max(initial=0)) + 1
    start, place = np.empty(n_cell + 1, np.int32), np.zeros((3, n_point + _LANES), np.float32)
    sorted_, whose = np.empty((2, n_point), np.int32)
    near, nearest, out = np.empty(n_part, np.float32), np.empty(n_part, np.int32), np.empty((n, len(asked), 3))
    door._core().lw_contacts(
        c_int64(n), c_int64(n_point), pointer(points), pointer(normals), pointer(centres), pointer(reach), pointer(part), pointer(layer),
        c_int64(len(asked)), pointer(asked), c_double(radius), c_int32(n_part), pointer(cells), pointer(start), pointer(sorted_), pointer(whose), pointer(place), pointer(near),
        pointer(nearest), pointer(out),
    )  # fmt: skip
    return out
