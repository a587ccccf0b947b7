"""The balance of the body as matrices, from a survey (core/assemble.c)."""

import ctypes
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.door import Index, integers, pointer, reals, shaped
from lengthwise.errors import InputError

_COUNTS = ("n_pos", "n_coord", "n_row", "n_arm", "n_line", "n_mark", "n_hold", "n_rib", "n_load")
_ARRAYS = (
    "row", "weight", "arms", "active", "passive", "gravity", "point", "frame", "jacobian", "turn", "hold_mark", "hold_on", "hold_turns",
    "hold_direction", "rib_point", "rib_centre", "rib_axes", "load_mark", "load_force",
)  # fmt: skip


class _Parts(ctypes.Structure):
    """assemble.c, field by field."""

    _fields_ = [(n, ctypes.c_int64) for n in _COUNTS] + [(n, ctypes.c_void_p) for n in _ARRAYS]


@dataclass(frozen=True, kw_only=True)
class Parts:
    """What is assembled.

    Attributes:
        row, weight: coordinates that must be in balance, and how often a column counts in each, (n_row,).
        arms: (n_pos, n_arm, n_coord), of which the first n_line count. active, passive: forces of the lines [N], (n_pos, n_line).
        gravity: (n_pos, n_coord). point, frame, jacobian, turn: of the landmarks, as a survey gives them.
        hold_mark, hold_on, hold_turns, hold_direction: landmark, opposite landmark or -1, whether a couple, and direction, (n_hold,).
        rib_point, rib_centre: landmarks on blade and rib cage, (n_rib,). rib_axes: half depth and width [m], (2,).
        load_mark: (n_load,). load_force: at 1 kg [N], (n_pos, n_load, 3).
    """

    row: Index
    weight: Array
    arms: Array
    active: Array
    passive: Array
    gravity: Array
    point: Array
    frame: Array
    jacobian: Array
    turn: Array
    hold_mark: Index
    hold_on: Index
    hold_turns: Index
    hold_direction: Array
    rib_point: Index
    rib_centre: Index
    rib_axes: Array
    load_mark: Index
    load_force: Array


def assemble(parts: Parts) -> tuple[Array, Array, Array, Array]:
    """muscle (n_pos, n_row, n_line), support (n_pos, n_row, n_hold + n_rib), load and rest (n_pos, n_row).

    What the survey gave is taken as it is; whether the answer is finite is for its reader to check.

    Raises:
        InputError: shapes that disagree, numbers that are not finite, or indices beyond their arrays.
    """
    p = parts
    gravity, active = reals("gravity", p.gravity, -1, -1), reals("active", p.active, -1, -1)
    (n, nv), n_line, n_row = gravity.shape, active.shape[1], len(p.row)
    n_mark, n_hold, n_rib, n_load = p.point.shape[1], len(p.hold_mark), len(p.rib_point), len(p.load_mark)
    arms = shaped("arms", p.arms, n, -1, nv)
    if arms.shape[1] < n_line:
        raise InputError(f"arms of {arms.shape[1]} lines for {n_line} forces; allowed: no fewer")
    kept: dict[str, NDArray[np.generic]] = {
        "row": integers("row", p.row, nv, n_row), "weight": reals("weight", p.weight, n_row), "arms": arms,
        "active": reals("active", active, n, n_line), "passive": reals("passive", p.passive, n, n_line), "gravity": gravity,
        "point": shaped("point", p.point, n, n_mark, 3), "frame": shaped("frame", p.frame, n, n_mark, 3, 3),
        "jacobian": shaped("jacobian", p.jacobian, n, n_mark, 3, nv), "turn": shaped("turn", p.turn, n, n_mark, 3, nv),
        "hold_mark": integers("hold_mark", p.hold_mark, n_mark, n_hold),
        "hold_on": integers("hold_on", p.hold_on + 1, n_mark + 1, n_hold) - 1,
        "hold_turns": integers("hold_turns", p.hold_turns, 2, n_hold),
        "hold_direction": reals("hold_direction", p.hold_direction, n_hold, 3),
        "rib_point": integers("rib_point", p.rib_point, n_mark, n_rib), "rib_centre": integers("rib_centre", p.rib_centre, n_mark, n_rib),
        "rib_axes": reals("rib_axes", p.rib_axes, 2), "load_mark": integers("load_mark", p.load_mark, n_mark, n_load),
        "load_force": reals("load_force", p.load_force, n, n_load, 3),
    }  # fmt: skip
    counts = dict(zip(_COUNTS, (n, nv, n_row, arms.shape[1], n_line, n_mark, n_hold, n_rib, n_load), strict=True))
    here = _Parts(**counts, **{k: v.ctypes.data for k, v in kept.items()})
    out = np.empty((n, n_row, n_line)), np.empty((n, n_row, n_hold + n_rib)), np.empty((n, n_row)), np.empty((n, n_row))
    core = door._core()
    core.lw_parts_size.restype = ctypes.c_size_t
    assert core.lw_parts_size() == ctypes.sizeof(_Parts), "assembly.py and assemble.c disagree about the parts"
    core.lw_assemble(ctypes.byref(here), *map(pointer, out))
    return out
