"""Whole lifts in one call: a body's muscles and a lift as the blocks of core/lift.h, and what comes back."""

import ctypes
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import prod
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.door import ANGLES, BodyBlock, Index
from lengthwise.errors import InputError

SOLVED, MISSED, UNHELD, LEFT = range(4)
"""What became of a lift: solved; pins that this person cannot meet; no load that can be held all the way; left to other solvers."""
GROUPS, MEASURES, FACTS, LAW = 9, 5, 13, 2
BEGIN_ROOMS = 0.2 + 0.05 * np.arange(48)
"""What a path leaves to fibres with their tendon slack [of optimal], where it is known how long active ones are: core/fibres.h."""
_TOLD = ("missed", "moved", "load", "weakest", "residual", "joints", "supports", "balance", "slopes", "least", "most")

_MUSCLES: dict[str, tuple[type, tuple[str | int, ...]]] = {
    "head": (np.int32, ("n_line",)),
    **{n: (np.float64, ("n_line",)) for n in ("slack", "optimal", "width", "force", "reserve", "arm_factor", "at_rest")},
    **{n: (np.float64, ("n_line",)) for n in ("shortest", "longest")},
    "begin": (np.float64, ("n_line", len(BEGIN_ROOMS))),
    **{n: (np.int32, ("n_end",)) for n in ("end_slot", "end_coord")},
    **{n: (np.float64, ("n_end",)) for n in ("end_sign", "end_low", "end_high", "end_middle", "end_most")},
    **{n: (np.float64, ("n_coord",)) for n in ("base_low", "base_high", "ease")},
    **{n: (np.int32, (2,)) for n in ("hang_q", "hang_coord")},
    "hang": (np.float64, (2,)),
    "ball_coord": (np.int32, (2,)),
    "ball_slot": (np.int32, (2, 3)),
    "ball": (np.float64, (6,)),
    "group": (np.int32, ("n_coord",)),
    "scale": (np.float64, ("n_coord",)),
    "rib_axes": (np.float64, (2,)),
}
"""The arrays of `Muscles` in the order of lift.h, with type and shape."""
_MUSCLE_COUNTS, _MUSCLE_SIZES = ("n_line", "n_head", "n_end", "n_group"), ("ramp", "mass")

_COUNTS = (
    "n_pos", "n_key", "n_mark", "n_hold", "n_rib", "n_load", "n_cam", "n_row", "n_shift", "n_line", "n_head", "n_own", "n_unknown",
    "n_equation", "n_pinned", "n_held", "n_middle", "alike", "folded", "given", "resistance", "each", "held_lever",
    "moves_body", "power", "has_start", "is_guided",
)  # fmt: skip
_SIZES = (
    "weight_n", "holding", "ratio", "slack", "chains", "seconds", "fraction", "floor", "gear_most", "usable", "rail_n", "sled_share",
    "begins", "ends", "long_from", "long_to", "skill",
)  # fmt: skip
_ALL_COUNTS = (*_COUNTS, "n_segment", "n_coord", "n_q", "n_rows", "n_start", "n_variable", "n_given", "n_law")
_WHOLE: dict[str, tuple[int, str | int, tuple[str | int, ...]]] = {
    "flat": (0, 2, (2,)), "slot": (-1, ANGLES, ("n_unknown", 2)), "pinned_segment": (0, "n_segment", ("n_pinned",)),
    "kind": (0, 5, ("n_equation",)), "first": (0, "n_pinned", ("n_equation",)), "second": (0, "n_pinned", ("n_equation",)),
    "axis": (0, 3, ("n_equation",)), "middle": (0, "n_pinned", ("n_middle",)), "held": (0, "n_pinned", ("n_held",)),
    "pivot": (-1, "n_pinned", ("n_held",)), "row": (0, "n_coord", ("n_row",)), "segment": (0, "n_segment", ("n_mark",)),
    "hold_mark": (0, "n_mark", ("n_hold",)), "hold_on": (-1, "n_mark", ("n_hold",)), "hold_turns": (0, 2, ("n_hold",)),
    "hold_sled": (-1, "n_load", ("n_hold",)), "rib_point": (0, "n_mark", ("n_rib",)), "rib_centre": (0, "n_mark", ("n_rib",)),
    "load_mark": (0, "n_mark", ("n_load",)), "load_own": (0, 2, ("n_load",)), "axis_mark": (-1, "n_mark", ("n_load",)),
    "used": (0, 2, ("n_line",)), "start_basis": (0, "n_variable", ("n_start", "n_rows")),
}  # fmt: skip
"""Whole numbers of a lift in the order of lift.c: least value, what they must be below, shape."""
_REAL: dict[str, tuple[str | int, ...]] = {
    "low": ("n_unknown",), "high": ("n_unknown",), "pinned_local": ("n_pinned", 3), "knot": ("n_key",), "key_row": ("n_key", ANGLES),
    "key_goal": ("n_key", "n_equation"), "local": ("n_mark", 3), "phase": ("n_pos",), "weight": ("n_row",), "hold_direction": ("n_hold", 3),
    "hold_lower": ("n_hold",), "hold_upper": ("n_hold",), "anchor": ("n_load", 3), "about": (3,), "rail": (3,), "cam": ("n_cam",),
    "q": ("n_given", "n_q"), "rate": ("n_given", "n_coord"), "law": ("n_law",), "start_multiplier": ("n_start", "n_rows"),
}  # fmt: skip
"""Numbers of a lift in the order of lift.c. The bounds of holds may be infinite."""


class _Muscles(ctypes.Structure):
    """lift.h's Muscles, field by field."""

    _fields_ = [
        *((n, ctypes.c_int32) for n in _MUSCLE_COUNTS),
        *((n, ctypes.c_void_p) for n in _MUSCLES),
        *((n, ctypes.c_double) for n in _MUSCLE_SIZES),
    ]


class MusclesBlock:
    """A body's muscles and passive tissue as the core sees them: checked once, kept for every call.

    Args:
        body: whose. tables: the arrays of `_MUSCLES` by name; lengths [m], forces [N], angles of structures [deg].
        sizes: ramp [deg], mass [kg].

    Raises:
        InputError: a table that is missing, of another shape or not finite, or that points outside the body.
    """

    def __init__(self, body: BodyBlock, tables: Mapping[str, NDArray[np.generic]], sizes: Mapping[str, float]) -> None:
        heads = int(np.max(tables["head"])) + 1
        counts = {
            "n_line": body.n_line,
            "n_head": heads,
            "n_end": len(tables["end_slot"]),
            "n_group": GROUPS,
            "n_coord": body.n_coord,
        }
        self._kept: dict[str, NDArray[np.generic]] = {}
        for name, (kind, shape) in _MUSCLES.items():
            asked = tuple(counts[s] if isinstance(s, str) else s for s in shape)
            array: NDArray[np.generic] = np.array(tables[name], dtype=kind, order="C")
            if array.shape != asked or not np.isfinite(array).all():
                raise InputError(f"{name} has shape {array.shape} or numbers that are not finite; allowed: {asked}")
            self._kept[name] = array
        below = {"end_slot": ANGLES, "end_coord": body.n_coord, "hang_q": body.n_q, "hang_coord": body.n_coord}
        below |= {"ball_coord": body.n_coord - 2, "ball_slot": ANGLES, "group": GROUPS}
        for name, limit in below.items():
            values = self._kept[name].astype(np.int64)
            if values.min() < (-1 if name == "group" else 0) or values.max() >= limit:
                raise InputError(f"{name} has values from {values.min()} to {values.max()}; allowed below {limit}")
        where = {n: a.ctypes.data for n, a in self._kept.items()}
        self._block = _Muscles(**{n: counts[n] for n in _MUSCLE_COUNTS}, **where, **{n: sizes[n] for n in _MUSCLE_SIZES})
        core = _core()
        assert core.lw_muscles_size() == ctypes.sizeof(_Muscles), "lifts.py and lift.h disagree about the muscles"

    @property
    def address(self) -> int:
        """Where the block lies."""
        return ctypes.addressof(self._block)


@dataclass(frozen=True)
class LiftBlock:
    """A lift as the core reads it.

    Attributes:
        counts: how many of everything there are. shapes: of its arrays and its answer's. whole, real: its numbers.
    """

    counts: Mapping[str, int]
    shapes: "Shapes"
    whole: Index
    real: Array

    @property
    def n_rows(self) -> int:
        """Rows of its balance."""
        return self.counts["n_rows"]

    @property
    def bulk(self) -> int:
        """How many numbers what is found of every position takes."""
        return _total(self.shapes.bulk)

    @property
    def brief(self) -> int:
        """How many numbers what is told of the whole lift takes."""
        return _total(self.shapes.brief)


def lift_block(body: BodyBlock, given: Mapping[str, Any]) -> LiftBlock:
    """A lift from its counts, sizes and arrays by name.

    Raises:
        InputError: an array of another shape, an index that leads outside, or a number that is not finite.
    """
    counts = {n: int(given[n]) for n in _COUNTS}
    rows, started = counts["n_row"] + counts["is_guided"], counts["n_pos"] if counts["has_start"] else 0
    columns = counts["n_line"] + counts["n_hold"] + counts["n_rib"] + 2 * (counts["n_own"] + counts["n_shift"]) + 1
    size = {
        **counts, "n_segment": body.n_segment, "n_coord": body.n_coord, "n_q": body.n_q, "n_rows": rows, "n_start": started,
        "n_variable": columns + rows, "n_given": counts["n_pos"] if counts["given"] else 0,
        "n_law": LAW + counts["n_load"] if counts["given"] else 0,
    }  # fmt: skip
    shapes = _shapes(tuple(size.values()))
    whole = [np.array([counts[n] for n in _COUNTS], np.int32), *_shaped(given, shapes.whole, np.int32)]
    _demand_inside(whole[1:], shapes)
    real = [np.array([given[n] for n in _SIZES], np.float64), *_shaped(given, shapes.real, np.float64)]
    block = LiftBlock(size, shapes, np.concatenate(whole), np.concatenate(real))
    _demand_sound(block, given)
    return block


_Named = dict[str, tuple[int, ...]]


@dataclass(frozen=True)
class Shapes:
    """Shapes of all arrays of a lift by name: whole numbers, with what each must be below; others; and of its answer."""

    whole: _Named
    below: tuple[int, ...]
    real: _Named
    bulk: _Named
    brief: _Named


@lru_cache(maxsize=4096)
def _shapes(counts: tuple[int, ...]) -> Shapes:
    """Of lifts with these counts, in the order of `lift_block`: many lifts, and each on all bodies, share them."""
    size = dict(zip(_ALL_COUNTS, counts, strict=True))

    def shaped(shape: tuple[str | int, ...]) -> tuple[int, ...]:
        return tuple(size[s] if isinstance(s, str) else s for s in shape)

    whole, real = {n: shaped(s) for n, (_, _, s) in _WHOLE.items()}, {n: shaped(s) for n, s in _REAL.items()}
    return Shapes(whole, shaped(tuple(high for _, high, _ in _WHOLE.values())), real, _bulk(size), _brief(size))


def _shaped(given: Mapping[str, Any], shapes: _Named, kind: type) -> list[Any]:
    out = []
    for name, asked in shapes.items():
        array: NDArray[np.generic] = np.asarray(given.get(name, ()), kind)
        if array.shape != asked and (array.size or 0 not in asked):
            raise InputError(f"{name} has shape {array.shape}; allowed: {asked}")
        out.append(array if array.ndim == 1 else array.reshape(-1))
    return out


def _demand_inside(whole: Sequence[Index], shapes: Shapes) -> None:
    lengths = tuple([len(a) for a in whole])
    least, limit = _ends(lengths, shapes.below)
    values = np.concatenate(whole)
    outside = (values < least) | (values >= limit)
    if outside.any():
        at = np.repeat(list(_WHOLE), lengths)[outside][0]
        raise InputError(f"{at} points outside: {values[outside][0]}, allowed {least[outside][0]} to {limit[outside][0] - 1}")


@lru_cache(maxsize=1024)
def _ends(lengths: tuple[int, ...], below: tuple[int, ...]) -> tuple[Index, Index]:
    """The least value of each whole number, and what it must be below: the same for every body that does a lift."""
    return np.repeat(np.array([low for low, _, _ in _WHOLE.values()], np.int32), lengths), np.repeat(
        np.array(below, np.int32), lengths
    )


def _demand_sound(block: LiftBlock, given: Mapping[str, Any]) -> None:
    counts, real = block.counts, block.real
    ends = np.concatenate([[given["gear_most"]], given["hold_lower"], given["hold_upper"]])
    if np.isnan(ends).any() or np.isfinite(real).sum() + np.isinf(ends).sum() != len(real):
        bad = [n for n in (*_SIZES, *_REAL) if n in given and not np.isfinite(given[n]).all()]
        raise InputError(f"{', '.join(bad)}: numbers that are not finite")
    if counts["n_pos"] < 1 or counts["n_key"] < 2 or counts["n_cam"] < 2 or counts["n_load"] < 1:
        raise InputError("a lift needs a position, two keys, a cam of two values and a loaded landmark")
    if (
        not (np.diff(given["knot"]) > 0).all()
        or not given["seconds"] > 0
        or not given["begins"] < given["ends"]
        or counts["power"] not in (2, 3)
    ):
        raise InputError("keys must rise, the lifting phase must take time, power must be 2 or 3")


def _bulk(size: Mapping[str, int]) -> _Named:
    """What is found of every position, in the order of lift.c."""
    n, heads = size["n_pos"], size["n_head"]
    curves = {name: (n, heads) for name in ("length", "span", "activation", "active", "passive")}
    return {
        "q": (n, size["n_q"]), "rate": (n, size["n_coord"]), "solved": (n, size["n_unknown"]), "path": (n, size["n_line"]),
        "point": (n, size["n_mark"], 3), "angle": (n, ANGLES), "most": (n,), "least": (n,), "multiplier": (n, size["n_rows"]), **curves,
        "measure": (heads, MEASURES),
    }  # fmt: skip


def _brief(size: Mapping[str, int]) -> _Named:
    """What is told of a whole lift, in the order of lift.c."""
    heads, one_side = size["n_head"], size["n_head"] // (1 if size["folded"] else 2)
    return {
        "fact": (one_side, FACTS), "effort": (heads,), "slope": (heads,), "law": (LAW + size["n_load"],), "first": (size["n_mark"], 3),
        "reach": (2, ANGLES), "told": (len(_TOLD),),
    }  # fmt: skip


def _total(parts: _Named) -> int:
    return sum(map(prod, parts.values()))


@dataclass(frozen=True)
class CoreAnswer:
    """What the core found out about a lift; arrays are read-only views of one or two.

    Attributes:
        status: SOLVED to LEFT; unless SOLVED only q, rate (but where MISSED), solved and what was told before mean something.
        parts: by name as core/lift.h's Result; where nobody kept what is found of every position, the rest.
        told: the numbers of TOLD_ by name. basis: (n_pos, n_rows), or None with what nobody kept.
    """

    status: int
    parts: Mapping[str, Array]
    told: Mapping[str, float]
    basis: Index | None


def solve(
    body: BodyBlock, lifts: Sequence[tuple[MusclesBlock, LiftBlock]], threads: int = 1, brief: bool = False
) -> list[CoreAnswer]:
    """Every lift's answer, or what is told of the whole lift alone; which thread finds it changes no bit."""
    if not lifts:
        return []
    core = _core()
    n, count = max(1, min(threads, len(lifts))), len(lifts)
    told = [np.empty(block.brief) for _, block in lifts]
    bulk = None if brief else [np.empty(block.bulk) for _, block in lifts]
    basis = None if brief else [np.empty((block.counts["n_pos"], block.n_rows), np.int32) for _, block in lifts]
    status = np.empty(count, np.int32)
    room = max(_room(core, body, m, b, brief) for m, b in lifts)
    scratch = np.empty(n * room)

    def places(arrays: Sequence[NDArray[np.generic]] | None) -> object:
        return arrays and (ctypes.c_void_p * count)(*(a.ctypes.data for a in arrays))

    core.lw_lifts(
        body.reference, count, (ctypes.c_void_p * count)(*(m.address for m, _ in lifts)), places([b.whole for _, b in lifts]),
        places([b.real for _, b in lifts]), places(bulk), places(told), places(basis), door.pointer(status), n, door.pointer(scratch),
        ctypes.c_size_t(room),
    )  # fmt: skip
    kept = zip(bulk, basis, strict=True) if bulk and basis else [(None, None)] * count
    return [_answer(int(s), b, own, *more) for s, (_, b), own, more in zip(status, lifts, told, kept, strict=True)]


def _room(core: ctypes.CDLL, body: BodyBlock, muscles: MusclesBlock, block: LiftBlock, brief: bool) -> int:
    """Numbers that a thread takes for a lift."""
    words = door.pointer(block.whole), door.pointer(block.real)
    beside = core.lw_bulk_scratch(body.reference, *words) if brief else 0
    return int(core.lw_lift_scratch(body.reference, ctypes.c_void_p(muscles.address), *words) + beside)


def _answer(status: int, block: LiftBlock, brief: Array, bulk: Array | None, basis: Index | None) -> CoreAnswer:
    parts = _views(brief, block.shapes.brief) | ({} if bulk is None else _views(bulk, block.shapes.bulk))
    return CoreAnswer(status, parts, dict(zip(_TOLD, parts["told"].tolist(), strict=True)), basis)


def _views(numbers: Array, shapes: _Named) -> dict[str, Array]:
    numbers.setflags(write=False)
    parts, at = {}, 0
    for name, shape in shapes.items():
        n = prod(shape)
        parts[name] = numbers[at : at + n].reshape(shape)
        at += n
    return parts


def _core() -> ctypes.CDLL:
    core = door._core()
    for name in ("lw_lift_scratch", "lw_bulk_scratch", "lw_lift_own_scratch", "lw_muscles_size"):
        getattr(core, name).restype = ctypes.c_size_t
    return core
