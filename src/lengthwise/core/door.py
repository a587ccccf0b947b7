"""The one door to the compiled core: loads it, checks what goes in, and calls it with the interpreter's lock released.

Every array that goes in is checked for shape, type and finiteness before the core sees it; what comes out is a new array. Where no core
could be built, `available()` is False and callers answer with NumPy.
"""

import ctypes
import logging
import weakref
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, partial

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import build
from lengthwise.core.layout import COUNTS, TABLES, BodyStruct, ChainStruct, check_indices
from lengthwise.errors import InputError

Index = NDArray[np.int32]
_FEW = 500
_finite: dict[int, weakref.ref[Array]] = {}


@cache
def _library() -> ctypes.CDLL | None:
    """The core, or None where it is not built or not up to date; says so once."""
    if not build.is_current():
        logging.getLogger("lengthwise").warning(
            "the compiled core is missing or out of date, so answers take about ten times as long; build it: python -m lengthwise.core.build"
        )
        return None
    return loaded("wide" if _has_wide() else "portable")


def loaded(variant: str) -> ctypes.CDLL:
    """One of the core's libraries."""
    core = ctypes.CDLL(str(build.library(variant)))
    for name in ("lw_body_size", "lw_survey_scratch", "lw_chain_size", "lw_chain_scratch"):
        getattr(core, name).restype = ctypes.c_size_t
    assert core.lw_body_size() == ctypes.sizeof(BodyStruct), "layout.py and body.h disagree about the parameter block"
    assert core.lw_chain_size() == ctypes.sizeof(ChainStruct), "layout.py and chain.h disagree about the chain"
    return core


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
    if not is_finite(out):
        raise InputError(f"{name} holds numbers that are not finite")
    return out


def is_finite(values: Array) -> bool:
    """Whether every number of a float64 array is finite; one that nobody can write to is looked at once."""
    known = _finite.get(id(values))
    if known is not None and known() is values:
        return True
    if values.size < _FEW or not values.flags.c_contiguous or not available():
        return bool(np.isfinite(values).all())
    found = bool(_core().lw_all_finite(ctypes.c_int64(values.size), pointer(values)))
    if found and not values.flags.writeable and values.base is None:
        _finite[id(values)] = weakref.ref(values, partial(_forget, id(values)))
    return found


def _forget(key: int, _: object) -> None:
    _finite.pop(key, None)


def shaped(name: str, values: Array, *shape: int) -> Array:
    """As `reals`, for numbers that the core made itself: their finiteness is not looked at again."""
    out = np.ascontiguousarray(values, dtype=np.float64)
    _demand_shape(name, out.shape, shape)
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
    if found == asked:
        return
    if len(found) != len(asked) or any(a not in (-1, f) for f, a in zip(found, asked, strict=True)):
        raise InputError(f"{name} has shape {found}; allowed: {tuple('any' if a < 0 else a for a in asked)}")


def pointer(array: NDArray[np.generic]) -> ctypes.c_void_p:
    """Where an array lies; the caller keeps it alive while the core works."""
    return ctypes.c_void_p(array.ctypes.data)


class BodyBlock:
    """A body as the core sees it: checked once, kept for every call.

    Args:
        counts: n_segment, n_joint, n_coord, n_q, n_line, n_way.
        tables: the arrays of `TABLES` (layout.py) by name.
        gravity: [m/s²].

    Raises:
        InputError: a table that is missing, of another shape or not finite, or that points outside the body.
    """

    def __init__(self, counts: Mapping[str, int], tables: Mapping[str, NDArray[np.generic]], gravity: float) -> None:
        self.n_coord, self.n_q, self.n_line, self.n_segment = (counts[n] for n in ("n_coord", "n_q", "n_line", "n_segment"))
        self._kept: dict[str, NDArray[np.generic]] = {}
        for name, (kind, sizes) in TABLES.items():
            if name not in tables:
                raise InputError(f"the parameter block lacks {name}")
            shape = tuple(counts[s] if isinstance(s, str) else s for s in sizes)
            array: NDArray[np.generic] = np.array(tables[name], dtype=kind, order="C")
            _demand_shape(name, array.shape, shape)
            if not np.isfinite(array).all():
                raise InputError(f"{name} holds numbers that are not finite")
            self._kept[name] = array
        check_indices(counts, self._kept)
        where = {n: a.ctypes.data for n, a in self._kept.items()}
        self._block = BodyStruct(**{n: counts[n] for n in COUNTS}, **where, gravity=gravity)

    @property
    def reference(self) -> object:
        """The block as an argument of the core."""
        return ctypes.byref(self._block)

    def scratch(self) -> Array:
        """Room in which one thread can work."""
        return np.empty(_core().lw_survey_scratch(self.reference))


@dataclass(frozen=True, kw_only=True)
class Survey:
    """Answer of `survey`; fields as body/model.py's Pass, of every line."""

    length: Array
    arms: Array
    gravity: Array
    centre: Array
    points: Array
    frames: Array
    jacobians: Array
    turns: Array


def survey(body: BodyBlock, q: Array, segment: Index, local: Array, alike: bool = False) -> Survey:
    """Path lengths, moment arms, gravity, centre of mass and landmarks in each posture.

    Args:
        q: coordinates, (n_pos, n_q).
        segment, local: segment (n_mark,) and place in it [m] (n_mark, 3) of each landmark.
        alike: whether left mirrors right in every posture, so that the left lines need not be worked out.
    """
    lines = body.n_line
    q, local = reals("q", q, -1, body.n_q), reals("local", local, -1, 3)
    n, n_mark, nv = len(q), len(local), body.n_coord
    segment = integers("segment", segment, body.n_segment, n_mark)
    out = Survey(
        length=np.empty((n, lines)), arms=np.empty((n, lines, nv)), gravity=np.empty((n, nv)), centre=np.empty((n, 3)), points=np.empty((n, n_mark, 3)),
        frames=np.empty((n, n_mark, 3, 3)), jacobians=np.empty((n, n_mark, 3, nv)), turns=np.empty((n, n_mark, 3, nv)),
    )  # fmt: skip
    results = (out.length, out.arms, out.gravity, out.centre, out.points, out.frames, out.jacobians, out.turns)
    room = body.scratch()
    _core().lw_survey(
        body.reference, n, pointer(q), int(alike), n_mark, pointer(segment), pointer(local), *map(pointer, results), pointer(room)
    )
    return out


def paths(body: BodyBlock, q: Array) -> Array:
    """Path length of every line in each posture [m], (n_pos, n_line)."""
    q = reals("q", q, -1, body.n_q)
    out, room = np.empty((len(q), body.n_line)), body.scratch()
    _core().lw_paths(body.reference, len(q), pointer(q), pointer(out), pointer(room))
    return out


def path_ends(body: BodyBlock, q: Array, asked: NDArray[np.uint8]) -> Array:
    """Shortest and longest path of every line [m] over the postures in which it is asked for, (2, n_line); endless where it never is.

    Args:
        q: postures (n_pos, n_q). asked: not 0 where a line is looked at, (n_pos, n_line).
    """
    q = reals("q", q, -1, body.n_q)
    asked = np.ascontiguousarray(asked, np.uint8)
    _demand_shape("asked", asked.shape, (len(q), body.n_line))
    out, room = np.empty((2, body.n_line)), body.scratch()
    _core().lw_reach(body.reference, len(q), pointer(q), pointer(asked), pointer(out[0]), pointer(out[1]), pointer(room))
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


ANGLES = 44
"""Numbers a row of clinical angles has (coordinates.h)."""


def coordinates(body: BodyBlock, rows: Array, alike: bool, flat: Index) -> Array:
    """Joint coordinates (n_pos, n_q) of clinical angles in rows (n_pos, 44); see core/coordinates.h."""
    rows, flat = reals("rows", rows, -1, ANGLES), integers("flat", flat, 2, 2)
    out = np.empty((len(rows), body.n_q))
    _core().lw_coordinates(body.reference, len(rows), pointer(rows), int(alike), pointer(flat), pointer(out))
    return out


def clinical(body: BodyBlock, q: Array) -> Array:
    """Rows of clinical angles (n_pos, 44) of joint coordinates (n_pos, n_q), shoulders by swing."""
    q = reals("q", q, -1, body.n_q)
    out = np.empty((len(q), ANGLES))
    _core().lw_clinical(body.reference, len(q), pointer(q), pointer(out))
    return out


@dataclass(frozen=True, kw_only=True)
class Chain:
    """What a lift pins and which angles are solved for it, as core/chain.h tells field by field.

    Attributes:
        slot: places of each solved angle in a row, (n_unknown, 2), -1 for none. low, high: how far it goes, (n_unknown,).
        mark_segment, mark_local: landmarks, (n_mark,) and (n_mark, 3).
        kind, first, second, axis: of each equation, (n_equation,).
        middle: landmarks in whose middle a balance is asked, (n_middle,).
        held: landmarks that carry a held load, (n_held,). pivot: landmark of each on a lever's axis or -1, (n_held,).
        origin: of each, where its cable or axis is [m], (n_held, 3). about: along a lever's axis, (n_held, 3).
        held_kind: 0 nothing, 1 weight, 2 pull towards `origin`, 3 lever.
        growth: of the held force with height or reach [N/m]. least: its least size [N]. weight_n: of the body [N].
        alike, flat: as `rows` of a posture.
    """

    slot: Index
    low: Array
    high: Array
    mark_segment: Index
    mark_local: Array
    kind: Index
    first: Index
    second: Index
    axis: Index
    middle: Index
    held: Index
    pivot: Index
    origin: Array
    about: Array
    held_kind: int
    growth: float
    least: float
    weight_n: float
    alike: bool
    flat: Index


@dataclass(frozen=True)
class Closed:
    """Answer of `close`: solved angles (n_pos, n_unknown), misses [m] (n_pos, n_equation), q (n_pos, n_q), steps (n_pos,)."""

    solved: Array
    miss: Array
    q: Array
    steps: Index


def close(body: BodyBlock, chain: Chain, rows: Array, start: Array, goal: Array, held_n: Array, first: Array, most: int) -> Closed:
    """The solved angles that meet the pins nearest to `start`, every position by itself.

    Args:
        rows: key postures, (n_pos, 44). start: the solved angles there, (n_pos, n_unknown).
        goal: of each equation, (n_pos, n_equation). held_n: of the held force before its growth [N], (n_pos,).
        first: angles to set out from, (n_pos, n_unknown). most: steps at most.
    """
    n_unknown, n_eq, n_mark, n_held = len(chain.low), len(chain.kind), len(chain.mark_local), len(chain.held)
    rows = reals("rows", rows, -1, ANGLES)
    n = len(rows)
    start, first = reals("start", start, n, n_unknown), np.array(reals("first", first, n, n_unknown))
    goal, held_n = reals("goal", goal, n, n_eq), reals("held_n", held_n, n)
    block: dict[str, NDArray[np.generic]] = {
        "flat": integers("flat", chain.flat, 2, 2), "slot": integers("slot", chain.slot + 1, ANGLES + 1, n_unknown, 2) - 1,
        "low": reals("low", chain.low, n_unknown), "high": reals("high", chain.high, n_unknown),
        "mark_segment": integers("mark_segment", chain.mark_segment, body.n_segment, n_mark),
        "mark_local": reals("mark_local", chain.mark_local, n_mark, 3), "kind": integers("kind", chain.kind, 5, n_eq),
        "first": integers("first", chain.first, n_mark, n_eq), "second": integers("second", chain.second, n_mark, n_eq),
        "axis": integers("axis", chain.axis, 3, n_eq), "middle": integers("middle", chain.middle, n_mark, -1),
        "held": integers("held", chain.held, n_mark, n_held), "pivot": integers("pivot", chain.pivot + 1, n_mark + 1, n_held) - 1,
        "from_": reals("origin", chain.origin, n_held, 3), "about": reals("about", chain.about, n_held, 3),
    }  # fmt: skip
    here = ChainStruct(
        n_unknown=n_unknown, n_equation=n_eq, n_mark=n_mark, n_held=n_held, n_middle=len(chain.middle), alike=int(chain.alike),
        held_kind=chain.held_kind, growth=chain.growth, least=chain.least,
        weight_n=chain.weight_n, **{k: v.ctypes.data for k, v in block.items()},
    )  # fmt: skip
    out = Closed(first, np.empty((n, n_eq)), np.empty((n, body.n_q)), np.empty(n, np.int32))
    room = np.empty(_core().lw_chain_scratch(body.reference, ctypes.byref(here)))
    inputs = (rows, start, goal, held_n)
    results: tuple[NDArray[np.generic], ...] = (out.solved, out.miss, out.q, out.steps, room)
    _core().lw_chain(body.reference, ctypes.byref(here), n, *map(pointer, inputs), most, *map(pointer, results))
    return out


def settle(path_m: Array, slack_m: Array, optimal_m: Array, pennation_rad: Array, activation: Array) -> tuple[Array, Array, Array]:
    """Fibre length [of optimal], cosine of pennation, force [of maximal], (n_pos, n_line) each; arguments as body/muscles.py's settle.

    `path_m` may have more lines than the others, which are left out; slack and optimal lengths must be positive.
    """
    path_m, slack_m = reals("path_m", path_m, -1, -1), reals("slack_m", slack_m, -1)
    n, n_line = len(path_m), len(slack_m)
    optimal_m, pennation_rad = reals("optimal_m", optimal_m, n_line), reals("pennation_rad", pennation_rad, n_line)
    activation = reals("activation", activation, n, n_line)
    if path_m.shape[1] < n_line or (slack_m <= 0).any() or (optimal_m <= 0).any():
        raise InputError(f"{n_line} lines for {path_m.shape[1]} paths; allowed: no more lines than paths, lengths above 0")
    out = np.empty((n, n_line)), np.empty((n, n_line)), np.empty((n, n_line))
    inputs = (path_m, slack_m, optimal_m, np.sin(pennation_rad), activation)
    _core().lw_settle(n, n_line, path_m.shape[1], *map(pointer, inputs), None, *map(pointer, out))
    return out


def turns(body: BodyBlock, start: Array, end: Array) -> Array:
    """Velocities that turn each posture of `start` (n_pos, n_q) into that of `end` in unit time, (n_pos, n_coord)."""
    start = reals("start", start, -1, body.n_q)
    end, out = reals("end", end, len(start), body.n_q), np.empty((len(start), body.n_coord))
    _core().lw_turns(body.reference, len(start), pointer(start), pointer(end), pointer(out))
    return out
