"""Many small convex problems with separable costs and bounds, solved together by a Newton method on their duals.

For each position: minimise Σ c_j(x_j) subject to columnsᵀ·x = rest and lower ≤ x ≤ upper. For multipliers y the best x
is known variable by variable, x_j = clip(inverse of c_j' at (columns·y)_j), so only y is sought, where the imbalance
rest - columnsᵀ·x(y) vanishes. That is the gradient of a concave function of y, and piecewise smooth: Newton steps with
one element of its generalised Jacobian converge in a finite number of steps once the set of variables between their
bounds is right. Sources (from memory): Qi & Sun 1993, Math. Program. 58 (semismooth Newton); Li, Sun & Toh 2018, SIAM
J. Optim. 28 (on the dual, with regularised steps).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.mechanics.problem import CUBIC_SMOOTHING

IMBALANCE = 1e-9
"""Imbalance at which the steps may stop; one correction of x then takes it to rounding."""

WORST_IMBALANCE = 1e-5
"""Imbalance above which they may never stop, however large the multipliers and the rounding they bring."""

SOLVED = 1e-10
"""Imbalance, after the correction, at which a position counts as solved."""

CORRECTIONS = 6
"""How often the free variables are moved at the end."""

MAX_STEPS = 120
"""Steps after which a position is left to the caller: it has no solution, or lies at the edge of having none."""

STRIDE = 8
"""Every so many positions are solved from scratch; those between start from the mean of their neighbours."""

_FLATNESS = 0.1
_SEARCH_STEPS = 60
_Index = NDArray[np.intp]
_Chosen = _Index | NDArray[np.bool_]


@dataclass(frozen=True)
class SeparableCosts:
    """Costs c = price·|x| + ½x², but for the first `n_line` variables with power 3, c = x³/3 + ½·CUBIC_SMOOTHING·x².

    Attributes:
        lower, upper: bounds of x, (n_pos, n_col).
        price: (n_col,), zero or positive.
        n_line: how many variables come first and follow `power`.
        power: 2 or 3.
    """

    lower: Array
    upper: Array
    price: Array
    n_line: int
    power: int

    def at(self, positions: _Chosen) -> "SeparableCosts":
        """The same costs for some of their positions."""
        return SeparableCosts(self.lower[positions], self.upper[positions], self.price, self.n_line, self.power)

    def best(self, pull: Array) -> Array:
        """The x of least cost where the multipliers pull this hard (columns·y), (n_pos, n_col)."""
        wanted = pull - np.minimum(np.maximum(pull, -self.price), self.price)
        if self.power == 3:
            wanted[:, : self.n_line] = 0.5 * (self._root(pull) - CUBIC_SMOOTHING)
        return np.minimum(np.maximum(wanted, self.lower), self.upper)

    def slope(self, pull: Array, best: Array) -> Array:
        """How fast the best x follows the pull: zero at bounds and at the kink of a priced |x|, (n_pos, n_col)."""
        slope = ((best > self.lower) & (best < self.upper) & (np.abs(pull) > self.price)).astype(np.float64)
        if self.power == 3:
            slope[:, : self.n_line] /= self._root(pull)
        return slope

    def marginal(self, point: Array) -> tuple[Array, Array]:
        """The least and the largest slope of the cost at x, which differ at the kink of |x|, (n_pos, n_col) each."""
        smooth, sign = point.copy(), np.sign(point)
        if self.power == 3:
            line = point[:, : self.n_line]
            smooth[:, : self.n_line] = line * line + CUBIC_SMOOTHING * line
        kink = np.where(point == 0.0, 1.0, 0.0)
        return smooth + self.price * (sign - kink), smooth + self.price * (sign + kink)

    def _root(self, pull: Array) -> Array:
        return np.asarray(np.sqrt(CUBIC_SMOOTHING**2 + 4.0 * np.maximum(pull[:, : self.n_line], 0.0)))


@dataclass(frozen=True)
class SeparableProblem:
    """Minimise the costs subject to columnsᵀ·x = rest.

    Attributes:
        columns: (n_pos, n_col, n_row): one row of numbers for each variable.
        rest: (n_pos, n_row).
        costs: of x, with its bounds.
    """

    columns: Array
    rest: Array
    costs: SeparableCosts

    def at(self, positions: _Chosen) -> "SeparableProblem":
        """The same problem for some of its positions."""
        return SeparableProblem(self.columns[positions], self.rest[positions], self.costs.at(positions))

    def pull(self, multiplier: Array) -> Array:
        """How hard multipliers (n_pos, n_row) pull on each variable, (n_pos, n_col)."""
        return np.asarray(np.matmul(self.columns, multiplier[:, :, None])[:, :, 0])

    def imbalance(self, point: Array) -> Array:
        """What is left of rest, (n_pos, n_row)."""
        return np.asarray(self.rest - np.matmul(point[:, None, :], self.columns)[:, 0, :])


@dataclass(frozen=True)
class DualSolution:
    """Where the method stopped at each position.

    Attributes:
        point: x, (n_pos, n_col). multiplier: y, (n_pos, n_row). imbalance: largest component, (n_pos,).
        steps: Newton steps taken, (n_pos,). pull: of the multipliers on each variable, (n_pos, n_col).
    """

    point: Array
    multiplier: Array
    imbalance: Array
    steps: NDArray[np.intp]
    pull: Array


def solve_along(problem: SeparableProblem) -> DualSolution:
    """Solve every position, coarse to fine: each level starts from the multipliers of the level before.

    Neighbouring positions have nearly the same multipliers, which saves about three quarters of the steps.
    """
    n_pos, n_col, n_row = problem.columns.shape
    multiplier, point = np.zeros((n_pos, n_row)), np.zeros((n_pos, n_col))
    imbalance, steps = np.full(n_pos, np.inf), np.zeros(n_pos, dtype=np.intp)
    for positions, before, after in _levels(n_pos):
        start = 0.5 * (multiplier[before] + multiplier[after])
        found = solve_from(problem.at(positions), start)
        multiplier[positions], point[positions] = found.multiplier, found.point
        imbalance[positions], steps[positions] = found.imbalance, found.steps
    return DualSolution(point, multiplier, imbalance, steps, problem.pull(multiplier))


def solve_from(problem: SeparableProblem, start: Array) -> DualSolution:
    """Solve every position from these multipliers (n_pos, n_row); those that are done drop out of the batch."""
    multiplier, steps = start.copy(), np.zeros(len(start), dtype=np.intp)
    going, rest, now = np.arange(len(start)), problem, start
    for step in range(MAX_STEPS + 1):
        pull = rest.pull(now)
        point = rest.costs.best(pull)
        short = rest.imbalance(point)
        multiplier[going], steps[going] = now, step
        more = _largest(short) > _attainable(rest, now)
        if step == MAX_STEPS or not more.any():
            break
        if not more.all():
            going, rest, now, pull, point, short = (
                going[more], rest.at(more), now[more], pull[more], point[more], short[more],
            )  # fmt: skip
        slope = _first_slope(rest, now, rest.costs.slope(pull, point))
        direction = _newton_direction(rest, slope, short)
        now = now + _step_length(rest, pull, direction, short)[:, None] * direction
    return _corrected(problem, multiplier, steps)


def _levels(n_pos: int) -> list[tuple[_Index, _Index, _Index]]:
    """Positions of each level, and the solved ones on either side of each (themselves, still at zero, at first)."""
    coarse = np.arange(0, n_pos, STRIDE)
    levels = [(coarse, coarse, coarse)]
    gap = STRIDE // 2
    while gap:
        new = np.arange(gap, n_pos, 2 * gap)
        if len(new):
            levels.append((new, new - gap, np.where(new + gap < n_pos, new + gap, new - gap)))
        gap //= 2
    return levels


def _largest(short: Array) -> Array:
    return np.asarray(np.abs(short).max(axis=1, initial=0.0))


def _attainable(problem: SeparableProblem, multiplier: Array) -> Array:
    """The imbalance to stop at: large multipliers leave rounding of this order in x(y), (n_pos,)."""
    entry = max(float(problem.columns.max(initial=0.0)), -float(problem.columns.min(initial=0.0)))
    rounding = np.finfo(np.float64).eps * entry**2 * _largest(multiplier)
    return np.minimum(np.maximum(IMBALANCE, rounding), WORST_IMBALANCE)


def _first_slope(problem: SeparableProblem, multiplier: Array, slope: Array) -> Array:
    """At zero multipliers everything rests at a bound; there take the step that sees all unpriced variables free."""
    untouched = ~np.any(multiplier, axis=1, keepdims=True)
    if not untouched.any():
        return slope
    return np.where(untouched, np.where(problem.costs.price == 0.0, 1.0, 0.0), slope)


def _jacobian(columns: Array, slope: Array) -> Array:
    """columnsᵀ·diag(slope)·columns from the variables that move alone, which are about a third, (n_pos, n_row, n_row)."""
    count = int((slope > 0.0).sum(axis=1).max(initial=0))
    moving = np.argsort(-slope, axis=1)[:, :count]
    weight = np.sqrt(np.take_along_axis(slope, moving, axis=1))
    chosen = columns[np.arange(len(columns))[:, None], moving] * weight[:, :, None]
    return np.asarray(np.matmul(chosen.transpose(0, 2, 1), chosen))


def _newton_direction(problem: SeparableProblem, slope: Array, short: Array) -> Array:
    """A regularised Newton step; the regularisation fades with the imbalance so that the end stays fast."""
    jacobian = _jacobian(problem.columns, slope)
    diagonal = np.arange(jacobian.shape[1])
    mean = jacobian[:, diagonal, diagonal].mean(axis=1)
    jacobian[:, diagonal, diagonal] += (1e-13 * np.maximum(mean, 1.0) + 1e-4 * np.minimum(_largest(short), 1.0))[:, None]
    return np.asarray(np.linalg.solve(jacobian, short[:, :, None])[:, :, 0])


def _step_length(problem: SeparableProblem, pull: Array, direction: Array, short: Array) -> Array:
    """How far to go: all the way unless the dual function falls again before; then to near its maximum on the way.

    Its slope along the direction never increases, and costs no product with the columns. The bracket is narrowed by
    the secant, kept away from its ends, and by halving every third time.
    """
    change = problem.pull(direction)
    initial, reach = (short * direction).sum(axis=1), (problem.rest * direction).sum(axis=1)
    length = np.ones(len(pull))
    end = reach - (change * problem.costs.best(pull + change)).sum(axis=1)
    left = np.nonzero(end < -_FLATNESS * initial)[0]
    near, far, rise, fall = np.zeros(len(left)), np.ones(len(left)), initial[left], -end[left]
    costs, pull, change, reach, flat = problem.costs.at(left), pull[left], change[left], reach[left], initial[left]
    for step in range(_SEARCH_STEPS):
        if not len(left):
            break
        width, secant = far - near, (near * fall + far * rise) / (rise + fall)
        kept_off = np.minimum(np.maximum(secant, near + 0.02 * width), far - 0.02 * width)
        middle = near + 0.5 * width if step % 3 == 2 else kept_off
        slope = reach - (change * costs.best(pull + middle[:, None] * change)).sum(axis=1)
        length[left], up = middle, slope > 0.0
        near, rise = np.where(up, middle, near), np.where(up, slope, rise)
        far, fall = np.where(up, far, middle), np.where(up, fall, -slope)
        steep = np.abs(slope) > _FLATNESS * flat
        if not steep.all():
            left, near, far, rise, fall = left[steep], near[steep], far[steep], rise[steep], fall[steep]
            costs, pull, change, reach, flat = costs.at(steep), pull[steep], change[steep], reach[steep], flat[steep]
    return length


def _corrected(problem: SeparableProblem, multiplier: Array, steps: NDArray[np.intp]) -> DualSolution:
    """Move the free variables a few times more to close the last of the imbalance.

    Large multipliers leave rounding in x(y); moving x itself takes the imbalance below it.
    """
    pull = problem.pull(multiplier)
    point = problem.costs.best(pull)
    size = _largest(problem.imbalance(point))
    close = np.nonzero(size <= WORST_IMBALANCE)[0]
    slope = problem.at(close).costs.slope(pull[close], point[close])
    for _ in range(CORRECTIONS):
        some, here = problem.at(close), point[close]
        move = slope * some.pull(_newton_direction(some, slope, some.imbalance(here)))
        moved = np.minimum(np.maximum(here + move, some.costs.lower), some.costs.upper)
        left = _largest(some.imbalance(moved))
        better = left < size[close]
        point[close[better]], size[close[better]] = moved[better], left[better]
        going = better & (left > 0.01 * SOLVED)
        close, slope = close[going], slope[going]
        if not len(close):
            break
    return DualSolution(point, multiplier, size, steps, problem.pull(multiplier))
