"""The one door to the compiled core: loads it, checks what goes in, and calls it with the interpreter's lock released.

Every array that goes in is checked for shape, type and finiteness before the core sees it; what comes out is a new array. Where no core
could be built, `available()` is False and callers answer with NumPy.
"""

import ctypes
import logging
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.core import build
from lengthwise.errors import InputError

Array = NDArray[np.float64]
Index = NDArray[np.int32]
_COUNTS = ("n_segment", "n_joint", "n_coord", "n_q", "n_line", "n_way")
_TABLES: dict[str, tuple[type, tuple[str | int, ...]]] = {
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
}
"""The arrays of the parameter block in the order of body.h, with type and shape."""


class _Body(ctypes.Structure):
    """body.h, field by field."""

    _fields_ = [(n, ctypes.c_int32) for n in _COUNTS] + [(n, ctypes.c_void_p) for n in _TABLES] + [("gravity", ctypes.c_double)]


@cache
def _library() -> ctypes.CDLL | None:
    """The core, or None where it is not built or not up to date; says so once."""
    if not build.is_current():
        logging.getLogger("lengthwise").warning(
            "the compiled core is missing or out of date, so answers take about ten times as long; build it: python -m lengthwise.core.build"
        )
        return None
    loaded = ctypes.CDLL(str(build.library("wide" if _has_wide() else "portable")))
    loaded.lw_body_size.restype = loaded.lw_survey_scratch.restype = ctypes.c_size_t
    assert loaded.lw_body_size() == ctypes.sizeof(_Body), "door.py and body.h disagree about the parameter block"
    return loaded


def _has_wide() -> bool:
    """Whether this machine runs the faster library."""
    if "wide" not in build.variants():
        return False
    return bool(ctypes.CDLL(str(build.library("portable"))).lw_has_wide())


def available() -> bool:
    """Whether the compiled core answers on this machine."""
    return _library() is not None


def _core() -> ctypes.CDLL:
    found = _library()
    assert found is not None, "ask available() first"
    return found


def reals(name: str, values: Array, *shape: int) -> Array:
    """The values as the core reads them: float64, row by row, finite, of this shape (-1: any size).

    Raises:
        InputError: another shape, or a number that is not finite.
    """
    out = np.ascontiguousarray(values, dtype=np.float64)
    _demand_shape(name, out.shape, shape)
    if not np.isfinite(out).all():
        raise InputError(f"{name} holds numbers that are not finite")
    return out


def bounds(name: str, values: Array, *shape: int) -> Array:
    """As `reals`, but infinities are allowed; NaN is not."""
    out = np.ascontiguousarray(values, dtype=np.float64)
    _demand_shape(name, out.shape, shape)
    if np.isnan(out).any():
        raise InputError(f"{name} holds numbers that are not numbers")
    return out


def integers(name: str, values: NDArray[np.integer], below: int, *shape: int) -> Index:
    """The values as the core reads them: int32, from 0 to below `below`, of this shape.

    Raises:
        InputError: another shape, or a value out of range.
    """
    out = np.ascontiguousarray(values, dtype=np.int32)
    _demand_shape(name, out.shape, shape)
    if out.size and not (out.min() >= 0 and out.max() < below):
        raise InputError(f"{name} has values from {out.min()} to {out.max()}; allowed: 0 to {below - 1}")
    return out


def _demand_shape(name: str, found: tuple[int, ...], asked: tuple[int, ...]) -> None:
    if len(found) != len(asked) or any(a not in (-1, f) for f, a in zip(found, asked, strict=True)):
        raise InputError(f"{name} has shape {found}; allowed: {tuple('any' if a < 0 else a for a in asked)}")


def pointer(array: NDArray[np.generic]) -> ctypes.c_void_p:
    """Where an array lies; the caller keeps it alive while the core works."""
    return ctypes.c_void_p(array.ctypes.data)


class BodyBlock:
    """A body as the core sees it: checked once, kept for every call.

    Args:
        counts: n_segment, n_joint, n_coord, n_q, n_line, n_way.
        tables: the arrays of `_TABLES` by name.
        gravity: [m/s²].

    Raises:
        InputError: a table that is missing, of another shape or not finite, or that points outside the body.
    """

    def __init__(self, counts: Mapping[str, int], tables: Mapping[str, NDArray[np.generic]], gravity: float) -> None:
        self.n_coord, self.n_q, self.n_line, self.n_segment = (counts[n] for n in ("n_coord", "n_q", "n_line", "n_segment"))
        self._kept: dict[str, NDArray[np.generic]] = {}
        for name, (kind, sizes) in _TABLES.items():
            if name not in tables:
                raise InputError(f"the parameter block lacks {name}")
            shape = tuple(counts[s] if isinstance(s, str) else s for s in sizes)
            array: NDArray[np.generic] = np.array(tables[name], dtype=kind, order="C")
            _demand_shape(name, array.shape, shape)
            if not np.isfinite(array).all():
                raise InputError(f"{name} holds numbers that are not finite")
            self._kept[name] = array
        _check_indices(counts, self._kept)
        where = {n: a.ctypes.data for n, a in self._kept.items()}
        self._block = _Body(**{n: counts[n] for n in _COUNTS}, **where, gravity=gravity)

    @property
    def reference(self) -> object:
        """The block as an argument of the core."""
        return ctypes.byref(self._block)

    def scratch(self) -> Array:
        """Room in which one thread can work."""
        return np.empty(_core().lw_survey_scratch(self.reference))


def _check_indices(counts: Mapping[str, int], table: Mapping[str, NDArray[np.generic]]) -> None:
    """No index of a block may lead outside its arrays."""
    limits = {
        "parent": ("n_segment", 0), "coord_segment": ("n_segment", 0), "chain": ("n_coord", 0), "way_segment": ("n_segment", 0),
        "way_side_segment": ("n_segment", -1), "joint_q": ("n_q", 0), "joint_coord": ("n_coord", 0), "line_first": ("n_way", 0),
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


@dataclass(frozen=True)
class Survey:
    """Answer of `survey`; fields as body/model.py's Pass, with the length and arms of the first n_line lines."""

    length: Array
    arms: Array
    gravity: Array
    centre: Array
    points: Array
    frames: Array
    jacobians: Array
    turns: Array


def survey(body: BodyBlock, q: Array, segment: Index, local: Array, n_line: int | None = None) -> Survey:
    """Path lengths, moment arms, gravity, centre of mass and landmarks in each posture.

    Args:
        q: coordinates, (n_pos, n_q).
        segment, local: segment (n_mark,) and place in it [m] (n_mark, 3) of each landmark.
        n_line: how many lines from the first; all by default.
    """
    lines = body.n_line if n_line is None else n_line
    if not 0 <= lines <= body.n_line:
        raise InputError(f"n_line = {lines}; allowed: 0 to {body.n_line}", asked=lines)
    q, local = reals("q", q, -1, body.n_q), reals("local", local, -1, 3)
    n, n_mark, nv = len(q), len(local), body.n_coord
    segment = integers("segment", segment, body.n_segment, n_mark)
    out = Survey(
        np.empty((n, lines)), np.empty((n, lines, nv)), np.empty((n, nv)), np.empty((n, 3)), np.empty((n, n_mark, 3)),
        np.empty((n, n_mark, 3, 3)), np.empty((n, n_mark, 3, nv)), np.empty((n, n_mark, 3, nv)),
    )  # fmt: skip
    results = (out.length, out.arms, out.gravity, out.centre, out.points, out.frames, out.jacobians, out.turns)
    room = body.scratch()
    _core().lw_survey(
        body.reference, n, pointer(q), lines, n_mark, pointer(segment), pointer(local), *map(pointer, results), pointer(room)
    )
    return out


def paths(body: BodyBlock, q: Array) -> Array:
    """Path length of every line in each posture [m], (n_pos, n_line)."""
    q = reals("q", q, -1, body.n_q)
    out, room = np.empty((len(q), body.n_line)), body.scratch()
    _core().lw_paths(body.reference, len(q), pointer(q), pointer(out), pointer(room))
    return out


def places(body: BodyBlock, q: Array, segment: Index, local: Array) -> tuple[Array, Array, Array]:
    """Landmarks (n_pos, n_mark, 3), their segments' frames (n_pos, n_mark, 3, 3), centre of mass (n_pos, 3)."""
    q, local = reals("q", q, -1, body.n_q), reals("local", local, -1, 3)
    segment = integers("segment", segment, body.n_segment, len(local))
    n, n_mark = len(q), len(local)
    points, frames, centre, room = np.empty((n, n_mark, 3)), np.empty((n, n_mark, 3, 3)), np.empty((n, 3)), body.scratch()
    _core().lw_places(
        body.reference, n, pointer(q), n_mark, pointer(segment), pointer(local), pointer(points), pointer(frames), pointer(centre),
        pointer(room),
    )  # fmt: skip
    return points, frames, centre
