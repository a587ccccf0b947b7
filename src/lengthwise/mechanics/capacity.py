"""The largest load the body can hold at each position of a lift, and which muscle lines bound it."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.mechanics.linear_programme import LinearProgramme, Vertex, WarmSimplex
from lengthwise.mechanics.problem import (
    PASSIVE_TIE_KG,
    Array,
    Balance,
    coordinate_names,
    coordinate_scale,
    joint_unit,
    read_only,
)

FORCE_UNIT_N = 1000.0
"""Support forces are counted in this unit inside the linear programme, so that all its numbers are near 1."""

LOAD_UNIT_KG = 50.0
"""The load is counted in this unit inside the linear programme, for the same reason."""

STRENGTH_STEP = 1e-5
"""Change of strength in one-sided derivatives. The load is piecewise linear in strength, so they are exact unless
another limit takes over within this step; then the average over the step is as good an answer."""

AT_BOUND = 1e-7
"""A basic column this near to a bound makes the dual ambiguous (the vertex is degenerate)."""

ROUNDING = 1e-9
"""Reduced costs below the solver's dual tolerance count as zero."""


@dataclass(frozen=True)
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


def capacity(balance: Balance, coordinates: Sequence[str] = ()) -> Capacity:
    """How much load the body can hold at every position, and what one more percent of each line would add.

    One linear programme a position: the largest λ - PASSIVE_TIE_KG·Σ|joint|/bound, so among balances of equal load the
    one that leans least on ligaments is reported; the load is too small by at most PASSIVE_TIE_KG a structure.

    Scaling a line's strength by 1 + ε turns its column M into (1 + ε)·M. With b = (1 + ε)·a the column is M again and
    the bound a ≤ 1 becomes b ≤ 1 + ε: the derivative is the dual price of that bound. With y = ∂λ/∂rest it is
    -a·(yᵀM): zero between the bounds (reduced cost 0) and at rest (a = 0).

    Args:
        balance: the equilibrium of every position.
        coordinates: names for messages, one for each coordinate.

    Raises:
        NoSolutionError: at some position no balance exists whatever the load, or nothing limits the load.
    """
    programme = _programme(balance)
    simplex = WarmSimplex(programme)
    vertices = [simplex.solve(position) for position in range(balance.n_pos)]
    for position, vertex in enumerate(vertices):
        _demand_optimal(balance, position, vertex, coordinates)
    return _in_units(balance, programme, vertices)


def least_load_kg(balance: Balance, floor_kg: float) -> Array:
    """The least load at or above `floor_kg` that the body can hold at each position, (n_pos,).

    Some loads are counterweights: with less of them the body tips or slides. Where no load above the floor can be held it is infinite.
    """
    programme = _programme(balance)
    programme.cost[-1] = -1.0
    programme.lower[:, -1] = floor_kg / LOAD_UNIT_KG
    simplex = WarmSimplex(programme)
    found = [simplex.solve(position) for position in range(balance.n_pos)]
    return read_only([v.point[-1] * LOAD_UNIT_KG if v.outcome == "optimal" else np.inf for v in found])


def limiting_shares(balance: Balance, found: Capacity, position: int, groups: object) -> Array:
    """What each head adds to ln load per unit of ln strength at one position: its limiting share, (n_head,).

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
        NoSolutionError: the load at that position is not positive, so shares of it mean nothing.
    """
    heads = _checked_groups(balance, groups)
    if not 0 <= position < balance.n_pos:
        raise InputError(f"no position {position}; allowed: 0 to {balance.n_pos - 1}", asked=position)
    load_kg = float(found.load_kg[position])
    if load_kg <= 0.0:
        raise NoSolutionError(f"position {position}: the load is {load_kg:.3g} kg; shares need a positive load")
    one = _programme(_at(balance, position))
    simplex = WarmSimplex(one)
    start = simplex.solve(0)
    shares = heads @ found.price[position]
    if _is_degenerate(one, start, simplex):
        # Lines below full activation keep a zero price in every dual solution; only heads at their limit can differ.
        for head in np.nonzero(heads @ (found.activation[position] >= 1.0 - AT_BOUND))[0]:
            shares[head] = _central_slope(simplex, heads[head]) * LOAD_UNIT_KG / load_kg
    return read_only(shares)


def unbalanced(balance: Balance, position: int, load_kg: float | None) -> Array:
    """The smallest forces from outside that would make a balance possible, per coordinate [N or N·m], (n_coord,).

    All zero when a balance exists. Smallest means the sum relative to `coordinate_scale`. Without a load any load,
    also a negative one, is allowed.
    """
    here = _at(balance, position)
    one = _programme(here)
    if load_kg is not None:
        one.lower[0, -1] = one.upper[0, -1] = load_kg / LOAD_UNIT_KG
    eye, n_coord = np.eye(balance.n_coord)[None], balance.n_coord
    helped = LinearProgramme(
        np.concatenate([one.columns, eye, -eye], axis=2),
        np.concatenate([np.zeros_like(one.cost), -np.ones(2 * n_coord)]),
        np.concatenate([one.lower, np.zeros((1, 2 * n_coord))], axis=1),
        np.concatenate([one.upper, np.full((1, 2 * n_coord), np.inf)], axis=1),
        one.rest,
    )
    help_ = WarmSimplex(helped).solve(0).point[-2 * n_coord :]
    return (help_[:n_coord] - help_[n_coord:]) * coordinate_scale(here)


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


def _programme(balance: Balance) -> LinearProgramme:
    """Columns: lines, supports, passive structures one way and the other, load; all scaled to be near 1."""
    unit = joint_unit(balance)
    passive = balance.joint * unit[:, None, :]
    load = balance.load[:, :, None] * LOAD_UNIT_KG
    columns = np.concatenate([balance.muscle, balance.support * FORCE_UNIT_N, passive, -passive, load], axis=2)
    scale = coordinate_scale(balance)
    cost = np.zeros(columns.shape[2])
    cost[balance.n_line + balance.n_force : -1] = -PASSIVE_TIE_KG / LOAD_UNIT_KG
    cost[-1] = 1.0
    zero, free = np.zeros_like(unit), np.full((balance.n_pos, 1), np.inf)
    rested, full = np.zeros((balance.n_pos, balance.n_line)), np.ones((balance.n_pos, balance.n_line))
    lower = np.concatenate([rested, balance.support_lower / FORCE_UNIT_N, zero, zero, -free], axis=1)
    one_way, other_way = balance.joint_upper / unit, -balance.joint_lower / unit
    upper = np.concatenate([full, balance.support_upper / FORCE_UNIT_N, one_way, other_way, free], axis=1)
    return LinearProgramme(columns / scale[:, None], cost, lower, upper, balance.rest / scale)


def _at(balance: Balance, position: int) -> Balance:
    """The balance of one position alone."""
    return Balance(*(getattr(balance, field.name)[position : position + 1] for field in fields(balance)))


def _demand_optimal(balance: Balance, position: int, vertex: Vertex, coordinates: Sequence[str]) -> None:
    if vertex.outcome == "unbounded":
        raise NoSolutionError(f"position {position}: nothing limits the load; it is carried without any muscle")
    if vertex.outcome != "optimal":
        raise no_balance(balance, position, None, coordinates)


def _in_units(balance: Balance, programme: LinearProgramme, vertices: Sequence[Vertex]) -> Capacity:
    point = np.stack([vertex.point for vertex in vertices])
    dual = np.stack([vertex.dual for vertex in vertices])
    parts = np.cumsum([balance.n_line, balance.n_force, balance.n_joint, balance.n_joint])
    activation, support, one_way, other_way, load = np.split(point, parts, axis=1)
    load_kg = load[:, 0] * LOAD_UNIT_KG
    reduced = programme.cost - np.einsum("pk,pkj->pj", dual, programme.columns)
    of_line = reduced[:, : balance.n_line]
    slope_kg = LOAD_UNIT_KG * activation * np.where(of_line > ROUNDING, of_line, 0.0)
    positive = np.broadcast_to(load_kg[:, None] > 0.0, slope_kg.shape)
    price = np.divide(slope_kg, load_kg[:, None], out=np.full_like(slope_kg, np.nan), where=positive)
    imbalance = np.einsum("pkj,pj->pk", programme.columns, point) - programme.rest
    return Capacity(
        load_kg=read_only(load_kg),
        activation=read_only(activation),
        support=read_only(support * FORCE_UNIT_N),
        joint=read_only((one_way - other_way) * joint_unit(balance)),
        slope_kg=read_only(slope_kg),
        price=read_only(price),
        multiplier=read_only(dual * LOAD_UNIT_KG / coordinate_scale(balance)),
        residual=read_only(np.abs(imbalance).max(axis=1)),
        gap=read_only(LOAD_UNIT_KG * _gap(programme, point, dual, reduced)),
        status=tuple(vertex.outcome for vertex in vertices),
    )


def _gap(programme: LinearProgramme, point: Array, dual: Array, reduced: Array) -> Array:
    """Dual objective less primal objective: how much more the bounds could still allow."""
    bound = np.where(reduced > 0.0, programme.upper, programme.lower)
    # A reduced cost within rounding prices no bound that is infinitely far away.
    bound = np.where(np.isinf(bound) & (np.abs(reduced) < 10.0 * ROUNDING), 0.0, bound)
    return np.asarray((dual * programme.rest).sum(axis=1) + (reduced * bound).sum(axis=1) - point @ programme.cost)


def _checked_groups(balance: Balance, groups: object) -> Array:
    heads = np.asarray(groups, dtype=np.float64)
    if heads.ndim != 2 or heads.shape[1] != balance.n_line:
        raise InputError(f"groups has shape {heads.shape}; allowed: (n_head, {balance.n_line})")
    return heads


def _is_degenerate(programme: LinearProgramme, vertex: Vertex, simplex: WarmSimplex) -> bool:
    basic = simplex.basic_columns()
    point = vertex.point[basic]
    to_bound = np.minimum(point - programme.lower[0, basic], programme.upper[0, basic] - point)
    return bool((to_bound < AT_BOUND).any())


def _central_slope(simplex: WarmSimplex, lines: Array) -> float:
    """Mean of the right and left derivative of the objective when all these lines get stronger together."""
    member = np.nonzero(lines)[0].astype(np.int32)
    rested, change = np.zeros(len(member)), STRENGTH_STEP * lines[member]
    stronger, weaker = (simplex.resolve(member, rested, 1.0 + sign * change) for sign in (1.0, -1.0))
    simplex.bound(member, rested, np.ones(len(member)))
    return (stronger.objective - weaker.objective) / (2.0 * STRENGTH_STEP)
