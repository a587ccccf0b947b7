"""The largest load the body can hold at each position of a lift, and which muscle lines bound it."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door, solvers
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.mechanics.linear_programme import LinearProgramme, Vertex, WarmSimplex
from lengthwise.mechanics.load_programme import FORCE_UNIT_N, LOAD_UNIT_KG, LoadProgramme, SolvedLoads, least_load, most_load, solve
from lengthwise.mechanics.problem import Balance, balance_at, coordinate_names, coordinate_scale, joint_unit, read_only

STRENGTH_STEP = 1e-5
"""Change of strength at which one-sided derivatives are read off the dual. The load is piecewise linear in strength, so they are exact
unless another limit takes over within this step. A difference of two loads over it would carry their rounding, a millionth part."""

AT_BOUND = 1e-7
"""A basic column this near to a bound makes the dual ambiguous (the vertex is degenerate)."""

ROUNDING = 1e-9
"""Reduced costs below the solver's dual tolerance count as zero."""


@dataclass(frozen=True, kw_only=True)
class Capacity:
    """The largest load at each position, the balance that holds it, and the price of each line's strength.

    Attributes:
        load_kg: largest load [kg]; below 0 the body needs that much help to hold itself, (n_pos,).
        activation: of each line, 0 to 1, (n_pos, n_line).
        support: size of each contact or grip generator [N or N·m], (n_pos, n_force).
        joint: moment of each passive structure [N·m], (n_pos, n_joint).
        slope_kg: ∂load/∂ln F of each line's strength F [kg], (n_pos, n_line).
        price: ∂ln load/∂ln F; not a number where the load is not positive, (n_pos, n_line).
        multiplier: change of the load per unit of `rest` on each coordinate [kg/N or kg/(N·m)], (n_pos, n_coord).
        residual: largest imbalance, relative to the scale of its coordinate, (n_pos,).
        gap: upper bound on the load from the dual, less what was reached [kg], (n_pos,).
        status: "optimal" for each position (any other outcome is an error).
        basis: which variables of the programme are basic, (n_pos, n_coord); None where the core did not solve it. Another body's answer
            can start from it.
    """

    load_kg: Array
    activation: Array
    support: Array
    joint: Array
    slope_kg: Array
    price: Array
    multiplier: Array
    residual: Array
    gap: Array
    status: tuple[str, ...]
    basis: NDArray[np.int32] | None = None


def capacity(balance: Balance, coordinates: Sequence[str] = (), start: NDArray[np.int32] | None = None) -> Capacity:
    """How much load the body can hold at every position, and what one more percent of each line would add.

    One linear programme a position: the largest λ less small prices on joints and forces, so among balances of equal load the one that
    leans least on ligaments, and then has the least activation, is reported; the load is too small by at most `verify.tie_allowance_kg`.

    Scaling a line's strength by 1 + ε turns its column M into (1 + ε)·M. With b = (1 + ε)·a the column is M again and
    the bound a ≤ 1 becomes b ≤ 1 + ε: the derivative is the dual price of that bound. With y = ∂λ/∂rest it is
    -a·(yᵀM): zero between the bounds (reduced cost 0) and at rest (a = 0).

    Args:
        balance: the equilibrium of every position.
        coordinates: names for messages, one for each coordinate.
        start: the basis of a balance that differs little, with the same columns; it saves time and changes nothing.

    Raises:
        NoSolutionError: at some position no balance exists whatever the load, or nothing limits the load.
    """
    programme = most_load(balance)
    found = solve(programme, start)
    for position, outcome in enumerate(found.outcome):
        _demand_optimal(balance, position, outcome, coordinates)
    return _in_units(programme, found)


def least_load_kg(balance: Balance, floor_kg: float) -> Array:
    """The least load at or above `floor_kg` that the body can hold at each position, (n_pos,).

    Some loads are counterweights: with less of them the body tips or slides. Where no load above the floor can be held it is infinite.
    """
    found = solve(least_load(balance, floor_kg))
    held = np.array([outcome == "optimal" for outcome in found.outcome])
    return read_only(np.where(held, found.point[:, -1] * LOAD_UNIT_KG, np.inf))


def limiting_shares(balance: Balance, found: Capacity, position: int, groups: object) -> Array:
    """What each head adds to ln load per unit of ln strength at one position: its limiting share, (n_head,).

    See `limiting_slopes`; these are its slopes over the load.

    Raises:
        InputError: groups or position that do not fit the balance.
        NoSolutionError: the load at that position is not positive, so shares of it mean nothing.
    """
    slopes = limiting_slopes(balance, found, position, groups)
    load_kg = float(found.load_kg[position])
    if load_kg <= 0.0:
        raise NoSolutionError(f"position {position}: the load is {load_kg:.3g} kg; shares need a positive load")
    return read_only(slopes / load_kg)


def limiting_slopes(balance: Balance, found: Capacity, position: int, groups: object) -> Array:
    """What each head adds to the load per unit of ln strength at one position [kg], (n_head,).

    Where the dual is not unique (a degenerate vertex), the two one-sided derivatives of each head at its limit are
    computed by solving again with its strength changed by ±STRENGTH_STEP, and averaged. Such averages are not exactly
    additive: a head's share there need not be the sum over its lines.

    Args:
        balance: the equilibrium of every position.
        found: its capacity.
        position: which position, usually the sticking one.
        groups: how much each line counts to each head, usually 0 or 1, (n_head, n_line).

    Raises:
        InputError: groups or position that do not fit the balance.
    """
    heads = _checked_groups(balance, groups)
    if not 0 <= position < balance.n_pos:
        raise InputError(f"no position {position}; allowed: 0 to {balance.n_pos - 1}", asked=position)
    slopes = heads @ found.slope_kg[position]
    # Lines below full activation keep a zero price in every dual solution; only heads at their limit can differ.
    limited = np.flatnonzero(heads @ (found.activation[position] >= 1.0 - AT_BOUND))
    averaged = _averaged_slopes(most_load(balance_at(balance, position)), found, position, heads[limited])
    if averaged is not None:
        slopes[limited] = averaged * LOAD_UNIT_KG
    return read_only(slopes)


def unbalanced(balance: Balance, position: int, load_kg: float | None) -> Array:
    """The smallest forces from outside that would make a balance possible, per coordinate [N or N·m], (n_coord,).

    All zero when a balance exists. Smallest means the sum relative to `coordinate_scale`. Without a load any load,
    also a negative one, is allowed.
    """
    one = most_load(balance_at(balance, position))
    dense = one.dense()
    if load_kg is not None:
        dense.lower[0, -1] = dense.upper[0, -1] = load_kg / LOAD_UNIT_KG
    eye, n_coord = np.eye(balance.n_coord)[None], balance.n_coord
    helped = LinearProgramme(
        np.concatenate([dense.columns, eye, -eye], axis=2),
        np.concatenate([np.zeros_like(dense.cost), -np.ones(2 * n_coord)]),
        np.concatenate([dense.lower, np.zeros((1, 2 * n_coord))], axis=1),
        np.concatenate([dense.upper, np.full((1, 2 * n_coord), np.inf)], axis=1),
        dense.rest,
    )
    help_ = WarmSimplex(helped).solve(0).point[-2 * n_coord :]
    return (help_[:n_coord] - help_[n_coord:]) * one.scale


def no_balance(balance: Balance, position: int, load_kg: float | None, coordinates: Sequence[str]) -> NoSolutionError:
    """The error that names a position without a balance and the coordinates that cannot be held there."""
    names, missing = coordinate_names(balance, coordinates), unbalanced(balance, position, load_kg)
    worst = [k for k in np.argsort(-np.abs(missing)) if abs(missing[k]) > 1e-7 * coordinate_scale(balance)[k]]
    what = ", ".join(f"{names[k]} ({missing[k]:+.3g} N or N·m missing)" for k in worst) or "nothing by a clear margin"
    held = "at any load" if load_kg is None else f"with {load_kg:.6g} kg"
    return NoSolutionError(
        f"position {position} of 0 to {balance.n_pos - 1}: no balance {held}; cannot be held: {what}",
        asked=load_kg,
        allowed=tuple(names[k] for k in worst),
    )


def _demand_optimal(balance: Balance, position: int, outcome: str, coordinates: Sequence[str]) -> None:
    if outcome == "unbounded":
        raise NoSolutionError(f"position {position}: nothing limits the load; no muscle is needed to carry it")
    if outcome != "optimal":
        raise no_balance(balance, position, None, coordinates)


def _in_units(programme: LoadProgramme, found: SolvedLoads) -> Capacity:
    balance = programme.balance
    parts = np.cumsum([balance.n_line, balance.n_force, balance.n_joint, balance.n_joint])
    activation, support, one_way, other_way, load = np.split(found.point, parts, axis=1)
    load_kg = load[:, 0] * LOAD_UNIT_KG
    of_line = found.reduced[:, : balance.n_line]
    slope_kg = LOAD_UNIT_KG * activation * np.where(of_line > ROUNDING, of_line, 0.0)
    positive = np.broadcast_to(load_kg[:, None] > 0.0, slope_kg.shape)
    price = np.divide(slope_kg, load_kg[:, None], out=np.full_like(slope_kg, np.nan), where=positive)
    return Capacity(
        load_kg=read_only(load_kg),
        activation=read_only(activation),
        support=read_only(support * FORCE_UNIT_N),
        joint=read_only((one_way - other_way) * joint_unit(balance)),
        slope_kg=read_only(slope_kg),
        price=read_only(price),
        multiplier=read_only(found.dual * LOAD_UNIT_KG / programme.scale),
        residual=read_only(found.imbalance),
        gap=read_only(LOAD_UNIT_KG * _gap(programme, found)),
        status=found.outcome,
        basis=found.basis,
    )


def _gap(programme: LoadProgramme, found: SolvedLoads) -> Array:
    """Dual objective less primal objective: how much more the bounds could still allow."""
    reduced, rest = found.reduced, programme.balance.rest / programme.scale
    bound = np.where(reduced > 0.0, programme.upper, programme.lower)
    # A reduced cost within rounding prices no bound that is infinitely far away.
    bound = np.where(np.isinf(bound) & (np.abs(reduced) < 10.0 * ROUNDING), 0.0, bound)
    return np.asarray((found.dual * rest).sum(axis=1) + (reduced * bound).sum(axis=1) - found.point @ programme.cost)


def _checked_groups(balance: Balance, groups: object) -> Array:
    heads = np.asarray(groups, dtype=np.float64)
    if heads.ndim != 2 or heads.shape[1] != balance.n_line:
        raise InputError(f"groups has shape {heads.shape}; allowed: (n_head, {balance.n_line})")
    return heads


def _averaged_slopes(one: LoadProgramme, found: Capacity, position: int, heads: Array) -> Array | None:
    """Mean of the right and left derivative of the objective in ln strength of each head; None where the dual is unique, (n_head,)."""
    if found.basis is not None and door.available():
        outcome, slopes = solvers.slopes(one.compiled(), one.cost, found.basis[position], heads, STRENGTH_STEP)
        if outcome in ("unique", "optimal"):
            return None if outcome == "unique" else slopes
    dense = one.dense()
    simplex = WarmSimplex(dense)
    if not _is_degenerate(dense, simplex.solve(0), simplex):
        return None
    return np.array([_central_slope(dense, simplex, lines) for lines in heads])


def _is_degenerate(programme: LinearProgramme, vertex: Vertex, simplex: WarmSimplex) -> bool:
    basic = simplex.basic_columns()
    point = vertex.point[basic]
    to_bound = np.minimum(point - programme.lower[0, basic], programme.upper[0, basic] - point)
    return bool((to_bound < AT_BOUND).any())


def _central_slope(programme: LinearProgramme, simplex: WarmSimplex, lines: Array) -> float:
    """Mean of the right and left derivative of the objective when all these lines get stronger together."""
    member = np.nonzero(lines)[0].astype(np.int32)
    rested, change = np.zeros(len(member)), STRENGTH_STEP * lines[member]
    duals = [simplex.resolve(member, rested, 1.0 + sign * change).dual for sign in (1.0, -1.0)]
    simplex.bound(member, rested, np.ones(len(member)))
    price = [programme.cost[member] - dual @ programme.columns[0][:, member] for dual in duals]
    return float(np.mean([np.maximum(p, 0.0) @ lines[member] for p in price]))
