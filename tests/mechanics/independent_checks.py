"""Independent checks of what the solvers answer: nothing here shares code with them but the statement of the problem."""

from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.mechanics.problem import (
    CUBIC_SMOOTHING,
    LINE_TIE_KG,
    PASSIVE_PRICE,
    PASSIVE_TIE_KG,
    PASSIVE_WEIGHT,
    SUPPORT_WEIGHT,
    Balance,
    load_per_position,
    read_only,
)


@dataclass(frozen=True)
class CapacityCheck:
    """What the multipliers of a capacity prove.

    Attributes:
        upper_bound_kg: no balance holds more than this [kg], inf where the multipliers prove nothing, (n_pos,).
        gap_kg: that bound less the load found [kg], (n_pos,).
        balance_error: imbalance with the forces found, relative to scale, (n_pos,).
        bound_error: largest violation of a bound, relative to its size, (n_pos,).
    """

    upper_bound_kg: Array
    gap_kg: Array
    balance_error: Array
    bound_error: Array


def balance_residual(balance: Balance, activation: Array, support: Array, joint: Array, load_kg: object) -> Array:
    """How far these forces are from balance, relative to the forces that meet at each coordinate, (n_pos,).

    Each coordinate's imbalance is divided by the sum of the sizes of all terms in it over the lift, at least 1 N or
    N·m, so the answer does not hang on the solvers' own scaling.
    """
    loads = load_per_position(balance, load_kg)
    terms = [
        np.einsum("pkj,pj->pkj", part, size)
        for part, size in ((balance.muscle, activation), (balance.support, support), (balance.joint, joint))
    ]
    weight = balance.load * loads[:, None]
    sides = np.concatenate([*terms, weight[:, :, None], -balance.rest[:, :, None]], axis=2)
    size = np.maximum(np.abs(sides).sum(axis=2).max(axis=0), 1.0)
    return read_only((np.abs(sides.sum(axis=2)) / size).max(axis=1))


def bound_violation(balance: Balance, activation: Array, support: Array, joint: Array) -> Array:
    """The largest step outside a bound, relative to the larger of 1 and the bound, (n_pos,)."""
    pairs = (
        (activation, np.zeros_like(activation), np.ones_like(activation)),
        (support, balance.support_lower, balance.support_upper),
        (joint, balance.joint_lower, balance.joint_upper),
    )
    worst = np.zeros(balance.n_pos)
    for size, low, high in pairs:
        for excess, bound in ((low - size, low), (size - high, high)):
            finite = np.isfinite(bound)
            relative = np.where(finite, excess, 0.0) / np.maximum(1.0, np.abs(np.where(finite, bound, 0.0)))
            worst = np.maximum(worst, relative.max(axis=1, initial=0.0))
    return read_only(worst)


def capacity_check(
    balance: Balance, load_kg: Array, multiplier: Array, activation: Array, support: Array, joint: Array
) -> CapacityCheck:
    """Whether this load can be held and whether any more could, from weak duality.

    For any y with yᵀ·load = 1, every balance has λ = yᵀ·rest - yᵀ(muscle·a + support·f + joint·s), which is at most
    yᵀ·rest plus the largest value each remaining term reaches within its bounds. The multipliers are ∂λ/∂rest, so y is
    that vector rescaled to meet the condition exactly.
    """
    pull = (multiplier * balance.load).sum(axis=1)
    y = multiplier / np.where(np.abs(pull) > 1e-12, pull, 1.0)[:, None]
    bound = (y * balance.rest).sum(axis=1)
    for part, low, high in _terms(balance):
        gain = -np.einsum("pk,pkj->pj", y, part)
        bound = bound + _largest_product(gain, low, high, 1e-7 * np.abs(part).max(initial=1.0)).sum(axis=1)
    upper = np.where(np.abs(pull - 1.0) < 1e-6, bound, np.inf)
    return CapacityCheck(
        upper_bound_kg=read_only(upper),
        gap_kg=read_only(upper - load_kg),
        balance_error=balance_residual(balance, activation, support, joint, load_kg),
        bound_error=bound_violation(balance, activation, support, joint),
    )


def tie_allowance_kg(balance: Balance) -> float:
    """How far a capacity may lie below the true largest load because of the small prices on joints and lines [kg]."""
    return PASSIVE_TIE_KG * balance.n_joint + 2.0 * LINE_TIE_KG * balance.n_line


def optimality(balance: Balance, position: int, activation: Array, support: Array, joint: Array, *, power: int = 2) -> float:
    """How far one position is from the optimality conditions of sharing, relative to the largest gradient.

    The conditions ask for multipliers y with gradient = columnsᵀ·y + z, where z is at least 0 for what rests at its
    lower bound, at most 0 at its upper bound, 0 between, and within ±price for an unloaded passive structure. The
    smallest error over all such y and z is found by bounded least squares; 0 means optimal, as the problem is convex.
    """
    from scipy.optimize import lsq_linear  # only here: slow to load

    sizes = (activation[position], support[position], joint[position])
    columns, gradient, low, high = _conditions(balance, position, sizes, power)
    held = np.nonzero((low < 0.0) | (high > 0.0))[0]
    identity = np.zeros((len(gradient), len(held)))
    identity[held, np.arange(len(held))] = 1.0
    norm = np.maximum(np.linalg.norm(columns, axis=1), 1e-12)
    system = np.concatenate([(columns / norm[:, None]).T, identity], axis=1)
    free = np.full(balance.n_coord, np.inf)
    limits = (np.concatenate([-free, low[held]]), np.concatenate([free, high[held]]))
    found = lsq_linear(system, gradient, limits, method="bvls", tol=1e-14, max_iter=1000)
    return float(np.abs(system @ found.x - gradient).max() / (1.0 + np.abs(gradient).max()))


def _terms(balance: Balance) -> tuple[tuple[Array, Array, Array], ...]:
    rested, full = np.zeros((balance.n_pos, balance.n_line)), np.ones((balance.n_pos, balance.n_line))
    return (
        (balance.muscle, rested, full),
        (balance.support, balance.support_lower, balance.support_upper),
        (balance.joint, balance.joint_lower, balance.joint_upper),
    )


def _largest_product(gain: Array, low: Array, high: Array, rounding: float) -> Array:
    """The most that gain·x reaches for low ≤ x ≤ high; a gain within rounding earns nothing from an infinite bound."""
    bound = np.where(gain > 0.0, high, low)
    nothing = (gain == 0.0) | (np.isinf(bound) & (np.abs(gain) < rounding))
    return np.where(nothing, 0.0, gain * np.where(nothing, 0.0, bound))


def _conditions(
    balance: Balance, position: int, sizes: tuple[Array, Array, Array], power: int
) -> tuple[Array, Array, Array, Array]:
    """Columns, cost gradient and the range of z for every force, in variables of comparable cost."""
    a, f, s = sizes
    unit = np.maximum(balance.joint_upper[position], -balance.joint_lower[position])
    unit = np.where(np.isfinite(unit) & (unit > 0.0), unit, 1.0) * (1.0 if balance.ease is None else balance.ease)
    weight = 1.0 / np.sqrt(SUPPORT_WEIGHT)
    columns = np.concatenate([balance.muscle[position], balance.support[position] * weight, balance.joint[position] * unit], axis=1)
    effort = a if power == 2 else a**2 + CUBIC_SMOOTHING * a
    passive = np.sign(s) * PASSIVE_PRICE + PASSIVE_WEIGHT * s / unit
    gradient = np.concatenate([effort, f / weight, passive])
    z = [
        _room(a, np.zeros_like(a), np.ones_like(a), 1e-8),
        _room(f, balance.support_lower[position], balance.support_upper[position], 1e-8 * weight),
        _room(s, balance.joint_lower[position], balance.joint_upper[position], 1e-8 * unit),
    ]
    kink = np.abs(s) < 1e-9 * unit
    passive_room = (np.where(kink, z[2][0] - PASSIVE_PRICE, z[2][0]), np.where(kink, z[2][1] + PASSIVE_PRICE, z[2][1]))
    rooms = [z[0], z[1], passive_room]
    low, high = (np.concatenate([room[side] for room in rooms]) for side in (0, 1))
    return columns, np.where(np.concatenate([np.zeros(len(a) + len(f), dtype=bool), kink]), 0.0, gradient), low, high


def _room(size: Array, low: Array, high: Array, margin: float | Array) -> tuple[Array, Array]:
    at_low, at_high = size <= low + margin, size >= high - margin
    return np.where(at_high, -np.inf, 0.0), np.where(at_low, np.inf, 0.0)
