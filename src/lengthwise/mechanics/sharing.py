"""How the body shares a load among its muscle lines: the least sum of activations to a power, at all positions at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import piqp
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door, solvers
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.mechanics.capacity import no_balance, unbalanced
from lengthwise.mechanics.dual_newton import SOLVED, DualSolution, SeparableCosts, SeparableProblem, solve_along, solve_from
from lengthwise.mechanics.problem import (
    CUBIC_SMOOTHING,
    PASSIVE_PRICE,
    PASSIVE_WEIGHT,
    SUPPORT_WEIGHT,
    Balance,
    coordinate_scale,
    joint_unit,
    load_per_position,
    read_only,
)

POWERS = (2, 3)
"""The powers of activation that can be minimised."""

UNHELPED = 1e-8
"""Outside help, relative to the scale of a coordinate, below which a balance counts as possible."""

AT_BOUND = 1e-9
"""Variables this near to a bound count as resting on it when the optimality conditions are judged."""

_FORCE = 1.0 / float(np.sqrt(SUPPORT_WEIGHT))
_CUBIC_ROUNDS = 20
_PIQP_OPTIONS = {
    "eps_abs": 1e-9,
    "eps_rel": 1e-9,
    "eps_primal_inf": 1e-12,
    "reg_lower_limit": 1e-13,
    "reg_finetune_lower_limit": 1e-15,
    "max_iter": 400,
}
"""A linear programme has already shown that a balance exists, so the test for infeasibility is all but turned off;
at its default it misjudges loads within a millionth of capacity."""


@dataclass(frozen=True, kw_only=True)
class Sharing:
    """The activations at each position, and how well they solve the problem.

    Attributes:
        load_kg: the load that is held [kg], (n_pos,).
        activation: of each line, 0 to 1, (n_pos, n_line).
        support: size of each contact or grip generator [N or N·m], (n_pos, n_force).
        joint: moment of each passive structure [N·m], (n_pos, n_joint).
        residual: largest imbalance, relative to the scale of its coordinate, (n_pos,).
        kkt_error: largest violation of the optimality conditions, relative to the largest multiplier term, (n_pos,).
        iterations: Newton steps taken, (n_pos,).
        multiplier: of each scaled row, (n_pos, n_coord); another body's answer can start from it.
    """

    load_kg: Array
    activation: Array
    support: Array
    joint: Array
    residual: Array
    kkt_error: Array
    iterations: NDArray[np.intp]
    multiplier: Array


def share(
    balance: Balance, load_kg: object, *, power: int = 2, coordinates: Sequence[str] = (), start: Array | None = None
) -> Sharing:
    """Which activations hold this load at every position with the least Σ activation^power.

    The cost is Σ aᵖ/p + ½·SUPPORT_WEIGHT·Σ f² + Σ (PASSIVE_PRICE·|s| + ½·PASSIVE_WEIGHT·s²) with s in parts of its
    bound; for p = 3 a term ½·CUBIC_SMOOTHING·a² keeps it strictly convex at rest. Support forces are nearly free, and a
    passive structure stays at zero while muscles can do it at less than its price.

    Source of the criterion (from memory): Pedersen et al. 1987, J. Biomech. 20 (squares); Crowninshield & Brand 1981,
    J. Biomech. 14 (cubes of muscle stress; activation stands for stress, as strength is proportional to area).

    Args:
        balance: the equilibrium of every position.
        load_kg: the load at each position, or one load for all [kg].
        power: 2 or 3.
        coordinates: names for messages, one for each coordinate.
        start: multipliers of a balance that differs little (n_pos, n_coord); they save time and change nothing.

    Raises:
        InputError: another power, or loads that do not fit.
        NoSolutionError: the load cannot be held at some position; the message names it and the coordinates.
    """
    if power not in POWERS:
        raise InputError(f"power must be one of {POWERS}, found {power!r}", asked=power, allowed=POWERS)
    loads = load_per_position(balance, load_kg)
    costs = _costs(balance, power)
    found = _solved(balance, loads, costs, start)
    for position in np.nonzero(found.imbalance > SOLVED)[0]:
        _demand_possible(balance, int(position), float(loads[position]), coordinates)
        again = _at_the_edge(_scaled(balance, loads, costs).at(np.array([position])))
        if again.imbalance[0] < found.imbalance[position]:
            found.point[position], found.multiplier[position] = again.point[0], again.multiplier[0]
            found.imbalance[position], found.pull[position] = again.imbalance[0], again.pull[0]
        if found.imbalance[position] > UNHELPED:
            raise NoSolutionError(
                f"position {position}: {loads[position]:.9g} kg is within rounding of the most that can be held; "
                "ask for a thousandth less"
            )
    return _in_units(balance, loads, costs, found)


def _solved(balance: Balance, loads: Array, costs: SeparableCosts, start: Array | None) -> DualSolution:
    """The answer of the compiled core, or of NumPy where there is none."""
    if not door.available():
        return solve_along(_scaled(balance, loads, costs))
    blocks = [
        solvers.Block(balance.muscle),
        solvers.Block(balance.support, _FORCE),
        solvers.Block(balance.joint, 1.0, _joint_scale(balance)),
    ]
    rest = balance.rest - loads[:, None] * balance.load
    problem = solvers.Problem(blocks, coordinate_scale(balance), rest, costs.lower, costs.upper)
    found = solvers.share(problem, costs.price, costs.n_line, costs.power, CUBIC_SMOOTHING, start)
    return DualSolution(found.point, found.multiplier, found.imbalance, found.steps, found.pull)


def _demand_possible(balance: Balance, position: int, load_kg: float, coordinates: Sequence[str]) -> None:
    help_ = np.abs(unbalanced(balance, position, load_kg)) / coordinate_scale(balance)
    if help_.max() > UNHELPED:
        raise no_balance(balance, position, load_kg, coordinates)


def _joint_scale(balance: Balance) -> Array:
    return np.asarray(joint_unit(balance) / np.sqrt(PASSIVE_WEIGHT))


def _costs(balance: Balance, power: int) -> SeparableCosts:
    """Costs and bounds in variables whose quadratic cost is ½x²: activations, weighted forces, parts of passive bounds."""
    unit = _joint_scale(balance)
    none, full = np.zeros((balance.n_pos, balance.n_line)), np.ones((balance.n_pos, balance.n_line))
    lower = np.concatenate([none, balance.support_lower / _FORCE, balance.joint_lower / unit], axis=1)
    upper = np.concatenate([full, balance.support_upper / _FORCE, balance.joint_upper / unit], axis=1)
    price = np.zeros(lower.shape[1])
    price[balance.n_line + balance.n_force :] = PASSIVE_PRICE / np.sqrt(PASSIVE_WEIGHT)
    return SeparableCosts(lower, upper, price, balance.n_line, power)


def _scaled(balance: Balance, loads: Array, costs: SeparableCosts) -> SeparableProblem:
    """The problem in those variables as matrices."""
    scale = coordinate_scale(balance)
    parts = [balance.muscle, balance.support * _FORCE, balance.joint * _joint_scale(balance)[:, None, :]]
    columns = np.concatenate([part.transpose(0, 2, 1) for part in parts], axis=1) / scale
    return SeparableProblem(columns, (balance.rest - loads[:, None] * balance.load) / scale, costs)


def _at_the_edge(one: SeparableProblem) -> DualSolution:
    """One position so near capacity that the dual steps do not settle: interior points first, then steps from there.

    The cubic criterion is minimised by quadratic models at the last answer, halfway while they still differ much.
    """
    n_line = one.costs.n_line
    point, multiplier = _interior_point(one, np.ones(n_line), np.zeros(n_line))
    for _ in range(_CUBIC_ROUNDS if one.costs.power == 3 else 0):
        line = point[0, :n_line]
        target, multiplier = _interior_point(one, 2.0 * line + CUBIC_SMOOTHING, -line * line)
        step = target - point
        point = point + (step if np.abs(step).max() < 0.1 else 0.5 * step)
        if np.abs(step).max() < 1e-8:
            break
    settled = solve_from(one, multiplier)
    if settled.imbalance[0] <= SOLVED:
        return settled
    return DualSolution(point, multiplier, np.abs(one.imbalance(point)).max(axis=1), settled.steps, one.pull(multiplier))


def _interior_point(one: SeparableProblem, curvature: Array, slope: Array) -> tuple[Array, Array]:
    """x and y for line costs slope·a + ½·curvature·a², passive structures split into their two directions."""
    price, low, high = one.costs.price, one.costs.lower[0], one.costs.upper[0]
    priced, n_col = price > 0.0, len(price)
    cost = np.concatenate([price, price[priced]])
    cost[: one.costs.n_line] = slope
    quadratic = np.ones(len(cost))
    quadratic[: one.costs.n_line] = curvature
    lower = np.concatenate([np.where(priced, 0.0, low), np.zeros(int(priced.sum()))])
    upper = np.concatenate([high, -low[priced]])
    rows = np.asfortranarray(np.concatenate([one.columns[0], -one.columns[0][priced]]).T)
    solver = piqp.DenseSolver()
    for name, value in _PIQP_OPTIONS.items():
        setattr(solver.settings, name, value)
    none = np.zeros((0, len(cost)), order="F")
    solver.setup(np.asfortranarray(np.diag(quadratic)), cost, rows, one.rest[0], none, None, None, lower, upper)
    solver.solve()
    split = np.clip(solver.result.x, lower, upper)
    point = split[:n_col].copy()
    point[priced] -= split[n_col:]
    return point[None], -np.asarray(solver.result.y)[None]


def _in_units(balance: Balance, loads: Array, costs: SeparableCosts, found: DualSolution) -> Sharing:
    activation, support, joint = np.split(found.point, np.cumsum([balance.n_line, balance.n_force]), axis=1)
    found.steps.flags.writeable = False
    return Sharing(
        load_kg=loads,
        activation=read_only(activation),
        support=read_only(support * _FORCE),
        joint=read_only(joint * _joint_scale(balance)),
        residual=read_only(found.imbalance),
        kkt_error=read_only(_kkt_error(costs, found)),
        iterations=found.steps,
        multiplier=read_only(found.multiplier),
    )


def _kkt_error(costs: SeparableCosts, found: DualSolution) -> Array:
    """How far the multipliers' pull lies outside the slopes of the cost that x allows, where it matters."""
    pull = found.pull
    least, largest = costs.marginal(found.point)
    could_grow = found.point < costs.upper - AT_BOUND
    could_shrink = found.point > costs.lower + AT_BOUND
    excess = np.where(could_grow, pull - largest, 0.0).max(axis=1, initial=0.0)
    deficit = np.where(could_shrink, least - pull, 0.0).max(axis=1, initial=0.0)
    return np.asarray(np.maximum(excess, deficit) / (1.0 + np.abs(pull).max(axis=1, initial=0.0)))
