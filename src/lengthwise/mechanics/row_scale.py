"""What forces on each coordinate are counted in: a matter of the body alone, so that no position's answer depends on which others are asked."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.units import GRAVITY

_PLACE, _PELVIS = 3, 6
_ARM_M = 0.1
"""Arm at which the body's weight turns the pelvis; own choice, as all of this decides nothing but how numbers are rounded."""


def row_scale(body: Body, rows: NDArray[np.intp], guided: bool) -> Array:
    """The unit of each row of a balance [N or N·m], (n_row,); `guided` adds the row of what moves along a rail."""
    scale = coordinate_units(body)
    return np.concatenate([scale[rows], scale[:1]]) if guided else scale[rows]


@lru_cache(maxsize=64)
def coordinate_units(body: Body) -> Array:
    """The unit of each coordinate [N or N·m], (n_coord,): the strongest line or the weight of what hangs there, standing upright.

    The body's weight for places of the pelvis. Powers of two, so that dividing by them rounds nothing. A body that is but for its lines
    another one counts as that one does.
    """
    if body.comes_from is not None:
        return coordinate_units(body.comes_from)
    seen = body.survey(body.neutral[None])
    weight_n = body.person.mass_kg * GRAVITY
    strongest = (np.abs(seen.arms[0]) * body.lines.max_force_n[:, None]).max(axis=0)
    units = np.maximum(np.maximum(strongest, np.abs(seen.gravity[0])), 1.0)
    units[:_PLACE], units[_PLACE:_PELVIS] = weight_n, weight_n * _ARM_M
    units = np.asarray(2.0 ** np.round(np.log2(units)))
    units.setflags(write=False)
    return units
