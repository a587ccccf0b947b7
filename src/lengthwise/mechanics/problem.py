"""The balance of a body at every position of one lift, and the prices that settle what the balance leaves open."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property

import numpy as np

from lengthwise.arrays import Array
from lengthwise.core import door
from lengthwise.errors import InputError

SUPPORT_WEIGHT = 0.01 / 1000.0**2
"""Quadratic cost of one support force in the sharing problem [1/N²]: 1000 N costs what one line at activation 0.1 costs.
Estimate: only there to make the support forces unique, small enough to leave the activations alone."""

PASSIVE_PRICE = 1.0
"""Cost of loading one passive joint structure to its bound in the sharing problem, on the scale of aᵖ/p.
Estimate: two lines taken from rest to full activation are as dear, so ligaments help only where muscles would strain."""

PASSIVE_WEIGHT = 1.0
"""Quadratic cost of a passive structure, ½·PASSIVE_WEIGHT·(moment/bound)². Estimate: makes the answer unique."""

CUBIC_SMOOTHING = 1e-4
"""Quadratic term added to the cubic criterion, ½·CUBIC_SMOOTHING·a², so that its slope at rest is not zero.
Estimate: it changes only activations of about its own size or less."""

PASSIVE_TIE_KG = 1e-4
"""Load the capacity problem gives up to unload one passive joint structure fully [kg].
Estimate: it only decides between balances of equal load, and lowers the load by at most this much a structure."""

LINE_TIE_KG = 5e-8
"""Load the capacity problem gives up, times 1 to 2, to rest one fully active line or unload 1000 N of one support [kg].
Estimate: it only makes the answer one where many balances hold the same load."""


@dataclass(frozen=True, kw_only=True)
class Balance:
    """Which forces keep the body in balance at every position: muscle·a + support·f + joint·s + load·λ = rest.

    Attributes:
        muscle: generalised force of each line at activation 1 [N or N·m], (n_pos, n_coord, n_line).
        support: generalised force per unit of each contact or grip generator, (n_pos, n_coord, n_force).
        joint: generalised force per unit of each passive joint structure, (n_pos, n_coord, n_joint).
        load: generalised force of the resistance at size 1 kg, (n_pos, n_coord).
        rest: what has to be balanced: gravity less passive muscle forces [N or N·m], (n_pos, n_coord).
        support_lower: least size of each generator, zero, negative or -inf, (n_pos, n_force).
        support_upper: largest size of each generator, may be inf, (n_pos, n_force).
        joint_lower: least moment of each passive structure [N·m], at most 0, (n_pos, n_joint).
        joint_upper: largest moment of each passive structure [N·m], at least 0, (n_pos, n_joint).
        scale: what forces on each coordinate are counted in [N or N·m], (n_coord,); none: the largest there are at any position. Where
            it comes from the body, a position's answer does not depend on which others are asked.
        ease: how many times cheaper than PASSIVE_PRICE each passive structure is to load to its bound, (n_joint,); none: 1 each.

    Raises:
        InputError: arrays whose shapes disagree, numbers that are not finite, or bounds the wrong way round.
    """

    muscle: Array
    support: Array
    joint: Array
    load: Array
    rest: Array
    support_lower: Array
    support_upper: Array
    joint_lower: Array
    joint_upper: Array
    scale: Array | None = None
    ease: Array | None = None

    def __post_init__(self) -> None:
        for field in fields(self):
            if getattr(self, field.name) is not None:
                object.__setattr__(self, field.name, read_only(getattr(self, field.name)))
        _check_shapes(self)
        _check_numbers(self)

    @cached_property
    def row_scale(self) -> Array:
        """See `coordinate_scale`."""
        if self.scale is not None:
            return self.scale
        parts = (self.muscle, 1.0, (0, 2)), (self.support, 100.0, (0, 2)), (self.load, 1.0, 0), (self.rest, 1.0, 0)
        largest = [unit * np.maximum(p.max(axis, initial=0.0), -p.min(axis, initial=0.0)) for p, unit, axis in parts]
        scale: Array = np.maximum.reduce(largest)
        return read_only(np.where(scale > 1e-9, scale, 1.0))

    @property
    def n_pos(self) -> int:
        """Number of positions along the lift."""
        return int(self.muscle.shape[0])

    @property
    def n_coord(self) -> int:
        """Number of coordinates that must be in balance."""
        return int(self.muscle.shape[1])

    @property
    def n_line(self) -> int:
        """Number of muscle lines."""
        return int(self.muscle.shape[2])

    @property
    def n_force(self) -> int:
        """Number of contact and grip generators."""
        return int(self.support.shape[2])

    @property
    def n_joint(self) -> int:
        """Number of passive joint structures."""
        return int(self.joint.shape[2])


def read_only(values: object) -> Array:
    """The values as an array of floats that nobody can write to (a copy, unless they already are one)."""
    array = np.asarray(values, dtype=np.float64)
    if array.flags.writeable or not array.flags.c_contiguous:
        array = np.array(array, order="C")
        array.flags.writeable = False
    return array


def balance_at(balance: Balance, position: int) -> Balance:
    """The balance of one position alone."""
    one = slice(position, position + 1)
    return replace(balance, **{f.name: getattr(balance, f.name)[one] for f in fields(balance) if f.name not in ("scale", "ease")})


def coordinate_scale(balance: Balance) -> Array:
    """How large the forces on each coordinate are, to judge residuals by [N or N·m], (n_coord,).

    The balance's own, else the largest over the lift of any line, of what has to be balanced, of 1 kg of load and of 100 N of any support.
    """
    return balance.row_scale


def joint_unit(balance: Balance) -> Array:
    """The moment by which each passive structure is priced: its larger bound, or 1 N·m without one, times its ease, (n_pos, n_joint)."""
    bound = np.maximum(balance.joint_upper, -balance.joint_lower)
    unit = np.where(np.isfinite(bound) & (bound > 0.0), bound, 1.0)
    return unit if balance.ease is None else unit * balance.ease


def coordinate_names(balance: Balance, names: Sequence[str]) -> list[str]:
    """The names to use in messages: the given ones, or "coordinate 0", "coordinate 1", … when none are given."""
    if not names:
        return [f"coordinate {k}" for k in range(balance.n_coord)]
    if len(names) != balance.n_coord:
        raise InputError(f"{len(names)} coordinate names for a balance of {balance.n_coord} coordinates")
    return list(names)


def load_per_position(balance: Balance, load_kg: object) -> Array:
    """The load at each position [kg], (n_pos,); one number stands for all of them."""
    loads = np.asarray(load_kg, dtype=np.float64)
    if loads.shape not in ((), (balance.n_pos,)):
        raise InputError(f"load_kg has shape {loads.shape}; allowed: one number or ({balance.n_pos},)", asked=load_kg)
    if not np.isfinite(loads).all():
        raise InputError(f"load_kg must be finite, found {loads.tolist()}", asked=load_kg)
    return read_only(np.broadcast_to(loads, (balance.n_pos,)))


def _check_shapes(balance: Balance) -> None:
    if balance.muscle.ndim != 3:
        raise InputError(f"muscle has shape {balance.muscle.shape}; allowed: (n_pos, n_coord, n_line)")
    n_pos, n_coord, _ = balance.muscle.shape
    n_force, n_joint = balance.support.shape[-1], balance.joint.shape[-1]
    allowed: dict[str, tuple[int, ...]] = {
        "support": (n_pos, n_coord, n_force),
        "joint": (n_pos, n_coord, n_joint),
        "load": (n_pos, n_coord),
        "rest": (n_pos, n_coord),
        "support_lower": (n_pos, n_force),
        "support_upper": (n_pos, n_force),
        "joint_lower": (n_pos, n_joint),
        "joint_upper": (n_pos, n_joint),
        **({} if balance.scale is None else {"scale": (n_coord,)}),
        **({} if balance.ease is None else {"ease": (n_joint,)}),
    }
    for name, shape in allowed.items():
        if getattr(balance, name).shape != shape:
            raise InputError(f"{name} has shape {getattr(balance, name).shape}; allowed: {shape}")


def _check_numbers(balance: Balance) -> None:
    for name in ("muscle", "support", "joint", "load", "rest"):
        if not door.is_finite(getattr(balance, name)):
            raise InputError(f"{name} holds numbers that are not finite")
    if balance.scale is not None and not ((balance.scale > 0.0) & (balance.scale < np.inf)).all():
        raise InputError("scale must be positive and finite")
    if balance.ease is not None and not ((balance.ease > 0.0) & (balance.ease < np.inf)).all():
        raise InputError("ease must be positive and finite")
    for name, low, high in (
        ("support", balance.support_lower, balance.support_upper),
        ("joint", balance.joint_lower, balance.joint_upper),
    ):
        if not (low <= high).all() or (low == np.inf).any() or (high == -np.inf).any():
            raise InputError(f"{name}_lower must not exceed {name}_upper")
    if (balance.joint_lower > 0.0).any() or (balance.joint_upper < 0.0).any():
        raise InputError("a passive joint structure must be free to carry nothing: joint_lower ≤ 0 ≤ joint_upper")
