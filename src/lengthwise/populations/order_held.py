"""An order of two lifts as a question, and for how many people it holds."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.errors import InputError
from lengthwise.grading.growth_value import ENDS, gate_of
from lengthwise.grading.target import Target, target_named
from lengthwise.growth.features import muscle_of, volume_cm3
from lengthwise.growth.law import OWN_DRIVE, SILENT, per_set
from lengthwise.lifts.catalogue import Catalogue
from lengthwise.populations.proportion import Share, share_of

GROWTH_FACTS = ("drive", "loaded_length", "joint_conflict", "shortening", "volume_nm")
"""Facts of heads that growth is made of."""
_ASKED = re.compile(r"\s*([^:<>]+?)\s*:\s*([^:<>]+?)\s*([<>])\s*([^:<>]+?)\s*")


@dataclass(frozen=True)
class Order:
    """Whether one lift grows a target more than another for a hard set."""

    target: Target
    better: str
    worse: str

    @property
    def lifts(self) -> tuple[str, str]:
        """Both lifts."""
        return self.better, self.worse


def order_asked(text: str, lifts: Catalogue) -> Order:
    """The order written as "triceps_long: overhead_rope_extension > cable_push_down".

    Raises:
        InputError: not written so, or one lift twice. UnknownNameError: no such muscle, head or lift.
    """
    found = _ASKED.fullmatch(text)
    if found is None:
        example = "triceps_long: overhead_rope_extension > cable_push_down"
        raise InputError(f'cannot read {text!r}; write "head or muscle: lift > lift", such as "{example}"', asked=text)
    target, one, sign, other = found.groups()
    first, second = lifts.find(one), lifts.find(other)
    if first == second:
        raise InputError(f"both sides of {text!r} are {first}; name two lifts", asked=text)
    better, worse = (first, second) if sign == ">" else (second, first)
    return Order(target_named(target), better, worse)


def needed_heads(target: Target) -> tuple[str, ...]:
    """The heads whose facts the growth of a target depends on: its own, and those that share their drive."""
    return tuple(dict.fromkeys([*target.heads, *(h for t in target.heads for h in muscle_of(t))]))


def drawn_value(facts: Mapping[str, Array], heads: tuple[str, ...], target: Target, x: Array) -> Array:
    """Growth of a target for a hard set of one lift, times its gate, for every draw of the law and every body, (n_draw, n_body).

    Args:
        facts: GROWTH_FACTS of `heads` on every body, (n_body, n_head) each.
        heads: as `needed_heads` gives them. x: draws of the coefficients of growth, (n_draw, n_coefficient).
    """
    at = {h: k for k, h in enumerate(heads)}
    each, weight, gate = [], [], []
    for head in target.heads:
        k, mine = at[head], [at[h] for h in muscle_of(head)]
        drive, volume = facts["drive"][:, k], volume_cm3(head, facts["volume_nm"][:, k])
        shared = np.stack([volume_cm3(heads[i], facts["volume_nm"][:, i]) for i in mine], 1)
        group = (facts["drive"][:, mine] * shared).sum(1) / shared.sum(1)
        mixed = np.where(drive > SILENT, OWN_DRIVE * drive + (1 - OWN_DRIVE) * group, 0.0)
        none = np.zeros(len(drive))
        each.append(per_set(x, np.array([mixed, facts["loaded_length"][:, k], facts["joint_conflict"][:, k], none, none])))
        weight.append(volume)
        gate.append(gate_of(drive, facts["shortening"][:, k]))
    growth, volumes, gates = np.stack(each, 2), np.stack(weight, 1), np.stack(gate, 1)
    law = (growth * volumes).sum(2) / volumes.sum(1)
    grown = growth.mean(0) * volumes
    total = grown.sum(1)
    whole = np.where(total > 0, (gates * grown).sum(1) / np.where(total > 0, total, 1.0), 0.0)
    return np.asarray(law * whole)


@dataclass(frozen=True, kw_only=True)
class HeldOrder:
    """For how many people an order holds.

    Attributes:
        order: what was asked. share: of those who can take both lifts.
        known: 90 % of draws of the law of growth give a share within these two: what trials leave open, the people being the same.
        bodies: places of those who can take both, (n_body,). ratio: growth with the better over growth with the worse lift, (n_body,).
        cannot: how many cannot take each lift, of all.
        people: how many there are.
    """

    order: Order
    share: Share
    known: tuple[float, float]
    bodies: NDArray[np.intp]
    ratio: Array
    cannot: Mapping[str, int]
    people: int


LEAST_GROWTH = 1e-6
"""Growth below this is none."""


def held(order: Order, better: Array, worse: Array, bodies: NDArray[np.intp], cannot: Mapping[str, int], people: int) -> HeldOrder:
    """For how many people an order holds.

    Args:
        better, worse: growth with each lift on the same bodies, (n_draw, n_body).
    """
    one, other = better.mean(0), worse.mean(0)
    low, high = np.quantile((better > worse).mean(1), ENDS) if len(bodies) else (0.0, 1.0)
    ratio = np.maximum(one, LEAST_GROWTH) / np.maximum(other, LEAST_GROWTH)
    share = share_of(int((one > other).sum()), len(bodies))
    return HeldOrder(
        order=order, share=share, known=(float(low), float(high)), bodies=bodies, ratio=ratio, cannot=cannot, people=people
    )
