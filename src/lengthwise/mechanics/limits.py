"""What bounds the load at the weakest position: the lift's movers, what steadies, joints and stretched tissue, supports, or balance.

The linear programme of the largest load λ proves itself by its dual y = ∂λ/∂rest: every force f at a bound and the body's own weight take
their parts of λ, and the parts add up to it: λ = y·weight + Σ -y·(column·f) (strong duality; Dantzig 1963, from memory).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np

from lengthwise.arrays import Array
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.once import once
from lengthwise.mechanics.capacity import Capacity, limiting_slopes
from lengthwise.mechanics.equilibrium import Setting

Kind = Literal["targets", "other movers", "steadying", "joints", "supports", "balance"]
KINDS: tuple[Kind, ...] = get_args(Kind)
LEAST_TOLD = 1e-4


@dataclass(frozen=True)
class Limits:
    """What bounds the load.

    Attributes:
        movers: limiting shares of the heads that the lift is for (targets and prime movers of its file), largest first; left-side heads
            carry `_left`. Who they are is a definition; how much each counts is a finding. A share is ∂ ln load/∂ ln strength; where
            muscles bear the body beside the load and these add up to more than 1, it is the part of their sum.
        steadying: the same of every other head.
        kinds: which part of the load each kind of thing bounds, summing to 1. joints: capsule, ligaments, reserve and stretched muscle.
            supports: grips at their bound. balance: the body's weight as the only counterweight (more would tip it).
    """

    movers: Mapping[str, float]
    steadying: Mapping[str, float]
    kinds: Mapping[Kind, float]

    @property
    def heads(self) -> dict[str, float]:
        """Every head, largest first."""
        return _ordered({**self.movers, **self.steadying})

    @property
    def main(self) -> Kind:
        """The kind that bounds most of the load."""
        return max(KINDS, key=lambda k: self.kinds[k])


def limits_of(setting: Setting, able: Capacity, position: int, names: tuple[str, ...], member: Array) -> Limits:
    """What bounds the load at one position; heads `names` hold the lines that `member` (n_head, n_line) says."""
    slopes, others = limiting_slopes(setting.balance, able, position, member), _others(setting, able, position)
    return told(setting.lift, float(able.load_kg[position]), names, slopes, others)


@dataclass(frozen=True)
class Others:
    """What bounds the load beside muscles, as parts of it [kg]; and how much all lines together would add to it [kg]."""

    joints: float
    supports: float
    balance: float
    lines: float


def told(lift: Lift, load_kg: float, names: Sequence[str], slope_kg: Array, others: Others) -> Limits:
    """What bounds a load, from its slopes in ln strength of each head [kg], (n_head,), and from all else."""
    share = {n: s for n, s in zip(names, _shares(load_kg, slope_kg).tolist(), strict=True) if s}
    movers = movers_of(lift, load_kg, names, slope_kg)
    steadying = {n: s for n, s in share.items() if abs(s) > LEAST_TOLD and n not in movers}
    return Limits(movers, _ordered(steadying), _kinds(lift, load_kg, share, others))


def movers_of(lift: Lift, load_kg: float, names: Sequence[str], slope_kg: Array) -> dict[str, float]:
    """`Limits.movers` from the slopes of each head."""
    share, is_mover = _shares(load_kg, slope_kg), _movers(lift)
    some = np.flatnonzero(np.abs(share) > LEAST_TOLD).tolist()
    return _ordered({names[k]: float(share[k]) for k in some if names[k].removesuffix("_left") in is_mover})


@once
def _movers(lift: Lift) -> set[str]:
    return {*lift.targets, *lift.movers}


def _ordered(share: Mapping[str, float]) -> dict[str, float]:
    return dict(sorted(share.items(), key=lambda kv: -kv[1]))


def _shares(load_kg: float, slope_kg: Array) -> Array:
    """Limiting share of each head, (n_head,): of the load, or of what all muscles bear where they bear the body as well."""
    return np.asarray(slope_kg / (max(load_kg, float(np.maximum(slope_kg, 0.0).sum())) or 1.0))


def _kinds(lift: Lift, load_kg: float, share: Mapping[str, float], others: Others) -> dict[Kind, float]:
    """Each kind's part of the load, those that only take from it left out, brought to 1."""
    unit = max(load_kg, others.lines) or 1.0
    movers, part = _movers(lift), dict.fromkeys(KINDS, 0.0)
    for name, s in share.items():
        if s > 0:
            stem = name.removesuffix("_left")
            part["targets" if stem in lift.targets else "other movers" if stem in movers else "steadying"] += s
    part["joints"], part["supports"], part["balance"] = (
        max(v, 0.0) / unit for v in (others.joints, others.supports, others.balance)
    )
    total = sum(part.values()) or 1.0
    return {k: v / total for k, v in part.items()}


def _others(setting: Setting, able: Capacity, position: int) -> Others:
    balance, y = setting.balance, able.multiplier[position]
    passive = _passive(setting, position)
    joint = -(y @ balance.joint[position]) * able.joint[position]
    own = sum(not name.startswith(("pelvis", "sled")) for name in setting.coordinates)
    return Others(
        float(joint[:own].sum() - y @ passive),
        float(-(y @ balance.support[position]) @ able.support[position]),
        float(joint[own:].sum() + y @ (balance.rest[position] + passive)),
        float(np.abs(able.slope_kg[position]).sum()),
    )


def _passive(setting: Setting, position: int) -> Array:
    """Generalised force of stretched muscles at rest [N or N·m], (n_coord,)."""
    active, rest = setting.tension.active_n[position], setting.tension.passive_n[position]
    over = np.divide(rest, active, out=np.zeros_like(rest), where=active > 1.0)
    return np.asarray(setting.balance.muscle[position] @ over)
