"""The compiled solvers: who does the work, the largest load, and what one more percent of strength would add.

A problem asks at every position: columns times x = rest, lower ≤ x ≤ upper. Its columns come as blocks of neighbouring columns that are
stored alike, so that a new kind of force is one more block.
"""

import ctypes
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.core.door import Index, pointer
from lengthwise.errors import InputError

OUTCOMES = ("optimal", "infeasible", "beyond", "lost")
"""simplex.h. beyond: the answer leans on an infinite bound. lost: the arithmetic failed; ask another solver."""
UNIQUE = -1


class _Block(ctypes.Structure):
    """columns.h, field by field."""

    _fields_ = [("entry", ctypes.c_void_p), ("unit", ctypes.c_void_p), ("factor", ctypes.c_double), ("n", ctypes.c_int64)]


class _Problem(ctypes.Structure):
    """columns.h, field by field."""

    _fields_ = [
        *((n, ctypes.c_int64) for n in ("n_pos", "n_row", "n_col", "n_block")),
        *((n, ctypes.c_void_p) for n in ("block", "scale", "rest", "lower", "upper")),
    ]


class _Costs(ctypes.Structure):
    """sharing.h, field by field."""

    _fields_ = [
        ("n_line", ctypes.c_int64), ("power", ctypes.c_int64), ("smoothing", ctypes.c_double), ("price", ctypes.c_void_p),
    ]  # fmt: skip


@dataclass(frozen=True)
class Block:
    """Neighbouring columns.

    Attributes:
        entry: (n_pos, n_row, n). factor: what all are multiplied by. unit: what each is multiplied by besides, (n_pos, n), or None for 1.
    """

    entry: Array
    factor: float = 1.0
    unit: Array | None = None


class Problem:
    """A problem as the core sees it: checked once, kept for every call.

    Args:
        blocks: the columns in order.
        scale: what rows are divided by, positive, (n_row,).
        rest: before that division, (n_pos, n_row).
        lower, upper: bounds of every column, may be infinite, (n_pos, n_col).

    Raises:
        InputError: shapes that disagree, numbers that are not finite, or bounds the wrong way round.
    """

    def __init__(self, blocks: Sequence[Block], scale: Array, rest: Array, lower: Array, upper: Array) -> None:
        self.rest = door.reals("rest", rest, -1, -1)
        self.n_pos, self.n_row = self.rest.shape
        self.scale = door.reals("scale", scale, self.n_row)
        if not (self.scale > 0.0).all():
            raise InputError("scale must be positive")
        self._entries = [door.reals("columns", b.entry, self.n_pos, self.n_row, -1) for b in blocks]
        self._units = [
            None if b.unit is None else door.reals("unit", b.unit, self.n_pos, e.shape[2])
            for b, e in zip(blocks, self._entries, strict=True)
        ]
        self.n_col = sum(e.shape[2] for e in self._entries)
        self.lower, self.upper = (
            door.bounds(name, values, self.n_pos, self.n_col) for name, values in (("lower", lower), ("upper", upper))
        )
        if not ((self.lower <= self.upper).all() and (self.lower < np.inf).all() and (self.upper > -np.inf).all()):
            raise InputError("lower must not exceed upper")
        self._blocks = (_Block * len(blocks))(
            *(
                _Block(e.ctypes.data, None if u is None else u.ctypes.data, b.factor, e.shape[2])
                for b, e, u in zip(blocks, self._entries, self._units, strict=True)
            )
        )
        self._block = _Problem(
            self.n_pos, self.n_row, self.n_col, len(blocks), ctypes.addressof(self._blocks),
            *(a.ctypes.data for a in (self.scale, self.rest, self.lower, self.upper)),
        )  # fmt: skip

    @property
    def reference(self) -> object:
        """The problem as an argument of the core."""
        return ctypes.byref(self._block)

    def room(self, kernel: str) -> Array:
        """Scratch in which one call of a kernel can work."""
        size = getattr(door._core(), f"{kernel}_scratch")
        size.restype = ctypes.c_size_t
        return np.empty(size(self.reference))


@dataclass(frozen=True)
class Shares:
    """Answer of `share`.

    Attributes:
        point: x, (n_pos, n_col). multiplier: of every row, (n_pos, n_row). pull: multipliers times columns, (n_pos, n_col).
        imbalance: largest that is left, (n_pos,). steps: of Newton's method, (n_pos,).
    """

    point: Array
    multiplier: Array
    pull: Array
    imbalance: Array
    steps: NDArray[np.int64]


def share(problem: Problem, price: Array, n_line: int, power: int, smoothing: float, start: Array | None = None) -> Shares:
    """The x of least cost: price·|x| + x²/2, but for the first `n_line` variables with power 3: x³/3 + smoothing·x²/2.

    Args:
        start: multipliers to start from (n_pos, n_row); they decide how long it takes, not what comes out.

    Raises:
        InputError: sizes that disagree, another power, or a negative price.
    """
    price = door.reals("price", price, problem.n_col)
    if power not in (2, 3) or not 0 <= n_line <= problem.n_col or not (price >= 0.0).all() or not smoothing > 0.0:
        raise InputError(f"power = {power}, n_line = {n_line}, smoothing = {smoothing}: allowed 2 or 3, at most n_col, above 0")
    first = None if start is None else door.reals("start", start, problem.n_pos, problem.n_row)
    costs = _Costs(n_line, power, smoothing, price.ctypes.data)
    n_pos, n_row, n_col = problem.n_pos, problem.n_row, problem.n_col
    out = Shares(
        np.empty((n_pos, n_col)), np.empty((n_pos, n_row)), np.empty((n_pos, n_col)), np.empty(n_pos), np.empty(n_pos, np.int64)
    )
    room = problem.room("lw_share")
    results: tuple[NDArray[np.generic], ...] = (out.point, out.multiplier, out.pull, out.imbalance, out.steps)
    door._core().lw_share(
        problem.reference, ctypes.byref(costs), None if first is None else pointer(first), *map(pointer, results), pointer(room)
    )
    return out


@dataclass(frozen=True, kw_only=True)
class Vertices:
    """Answer of `best_vertices`.

    Attributes:
        point: x, (n_pos, n_col). dual: change of the objective per unit of rest, (n_pos, n_row). reduced: cost less dual times columns,
            (n_pos, n_col). imbalance: largest that is left, (n_pos,). basis: which variables are basic (n_pos, n_row).
        outcome: index into OUTCOMES, (n_pos,). steps: exchanges made, (n_pos,).
    """

    point: Array
    dual: Array
    reduced: Array
    imbalance: Array
    basis: Index
    outcome: Index
    steps: NDArray[np.int64]


def best_vertices(problem: Problem, cost: Array, tie: Array, start: Index | None = None) -> Vertices:
    """The vertex where cost·x is largest at every position, and among such tie·x least.

    Args:
        cost, tie: (n_col,); the tie must be small enough to decide nothing else.
        start: a basis for each position (n_pos, n_row); it decides how long it takes, not what comes out.
    """
    cost, tie = door.reals("cost", cost, problem.n_col), door.reals("tie", tie, problem.n_col)
    n_pos, n_row, n_col = problem.n_pos, problem.n_row, problem.n_col
    first = None if start is None else door.integers("start", start, n_col + n_row, n_pos, n_row)
    out = Vertices(
        point=np.empty((n_pos, n_col)), dual=np.empty((n_pos, n_row)), reduced=np.empty((n_pos, n_col)), imbalance=np.empty(n_pos),
        basis=np.empty((n_pos, n_row), np.int32), outcome=np.empty(n_pos, np.int32), steps=np.empty(n_pos, np.int64),
    )  # fmt: skip
    results: tuple[NDArray[np.generic], ...] = (out.point, out.dual, out.reduced, out.imbalance, out.basis, out.outcome, out.steps)
    room = problem.room("lw_capacity")
    door._core().lw_capacity(
        problem.reference,
        pointer(cost),
        pointer(tie),
        None if first is None else pointer(first),
        *map(pointer, results),
        pointer(room),
    )
    return out


def slopes(problem: Problem, cost: Array, basis: Index, weight: Array, step: float) -> tuple[str, Array]:
    """How the objective at the first position changes with ln strength of groups of lines where the dual is not unique: both sides averaged.

    Args:
        cost: (n_col,). basis: of the vertex there, (n_row,).
        weight: how much each of the first lines counts to each group, (n_group, n_line).
        step: change of ln strength.

    Returns:
        "unique" where the dual is, and then no numbers; else an outcome and the slope of each group, (n_group,).
    """
    cost, weight = door.reals("cost", cost, problem.n_col), door.reals("weight", weight, -1, -1)
    n_group, n_line = weight.shape
    if n_line > problem.n_col:
        raise InputError(f"weight names {n_line} lines; allowed at most {problem.n_col}")
    basis = door.integers("basis", basis, problem.n_col + problem.n_row, problem.n_row)
    out, room = np.empty(n_group), problem.room("lw_slopes")
    outcome = door._core().lw_slopes(
        problem.reference, pointer(cost), ctypes.c_int64(0), pointer(basis), ctypes.c_int64(n_group),
        ctypes.c_int64(n_line), pointer(weight), ctypes.c_double(step), pointer(out), pointer(room),
    )  # fmt: skip
    return ("unique" if outcome == UNIQUE else OUTCOMES[outcome]), out
