"""Parameter blocks as the core reads them, and the refusal of a body's that points outside itself."""

import ctypes
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from lengthwise.errors import InputError

COUNTS = ("n_segment", "n_joint", "n_coord", "n_q", "n_line", "n_way")
TABLES: dict[str, tuple[type, tuple[str | int, ...]]] = {
    "parent": (np.int32, ("n_segment",)),
    "first_joint": (np.int32, ("n_segment",)),
    "joint_count": (np.int32, ("n_segment",)),
    "offset": (np.float64, ("n_segment", 3)),
    "turn": (np.float64, ("n_segment", 4)),
    "mass": (np.float64, ("n_segment",)),
    "centre": (np.float64, ("n_segment", 3)),
    "joint_kind": (np.int32, ("n_joint",)),
    "joint_q": (np.int32, ("n_joint",)),
    "joint_coord": (np.int32, ("n_joint",)),
    "joint_axis": (np.float64, ("n_joint", 3)),
    "coord_segment": (np.int32, ("n_coord",)),
    "chain_length": (np.int32, ("n_segment",)),
    "chain": (np.int32, ("n_segment", "n_coord")),
    "line_first": (np.int32, ("n_line",)),
    "line_count": (np.int32, ("n_line",)),
    "way_kind": (np.int32, ("n_way",)),
    "way_segment": (np.int32, ("n_way",)),
    "way_place": (np.float64, ("n_way", 3)),
    "way_radius": (np.float64, ("n_way",)),
    "way_frame": (np.float64, ("n_way", 9)),
    "way_side_segment": (np.int32, ("n_way",)),
    "way_side": (np.float64, ("n_way", 3)),
    "neutral": (np.float64, ("n_q",)),
    "posture_q": (np.int32, (23,)),
    "girdle_axes": (np.float64, (6, 3)),
    "girdle_seat": (np.float64, (30,)),
    "trunk_share": (np.float64, (3,)),
    "mirror_coord": (np.int32, ("n_coord",)),
    "mirror_sign": (np.float64, ("n_coord",)),
}
"""The arrays of the parameter block in the order of body.h, with type and shape."""


class BodyStruct(ctypes.Structure):
    """body.h, field by field."""

    _fields_ = [(n, ctypes.c_int32) for n in COUNTS] + [(n, ctypes.c_void_p) for n in TABLES] + [("gravity", ctypes.c_double)]


class ChainStruct(ctypes.Structure):
    """chain.h, field by field."""

    _fields_ = (
        [(n, ctypes.c_int32) for n in ("n_unknown", "n_equation", "n_mark", "n_held", "n_middle", "alike", "held_kind")]
        + [(n, ctypes.c_void_p) for n in ("flat", "slot", "low", "high", "mark_segment", "mark_local", "kind", "first", "second")]
        + [(n, ctypes.c_void_p) for n in ("axis", "middle", "held", "pivot", "from_", "about")]
        + [(n, ctypes.c_double) for n in ("growth", "least", "weight_n")]
    )


def check_indices(counts: Mapping[str, int], table: Mapping[str, NDArray[np.generic]]) -> None:
    """No index of a block may lead outside its arrays."""
    limits = {
        "parent": ("n_segment", 0), "coord_segment": ("n_segment", 0), "chain": ("n_coord", 0), "way_segment": ("n_segment", 0),
        "way_side_segment": ("n_segment", -1), "joint_q": ("n_q", 0), "joint_coord": ("n_coord", 0), "mirror_coord": ("n_coord", 0), "posture_q": ("n_q", 0), "line_first": ("n_way", 0),
    }  # fmt: skip
    for name, (size, least) in limits.items():
        values = table[name].astype(np.int64)
        if values.size and not (values.min() >= least and values.max() < counts[size]):
            raise InputError(
                f"{name} points outside the body: {values.min()} to {values.max()}, allowed {least} to {counts[size] - 1}"
            )
    spans = {"first_joint": ("joint_count", "n_joint"), "line_first": ("line_count", "n_way")}
    for first, (count, size) in spans.items():
        ends = table[first].astype(np.int64) + table[count].astype(np.int64)
        if (table[count].astype(np.int64) < 0).any() or (ends > counts[size]).any():
            raise InputError(f"{first} and {count} reach beyond {counts[size]}")
    if table["chain_length"].astype(np.int64).max(initial=0) > counts["n_coord"]:
        raise InputError("chain_length exceeds the number of coordinates")
