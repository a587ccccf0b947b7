"""What bounds the load at the weakest position: the lift's movers, what steadies, joints and stretched tissue, supports, or balance.

The linear programme of the largest load λ proves itself by its dual y = ∂λ/∂rest: every force f at a bound and the body's own weight take
their parts of λ, and the parts add up to it: λ = y·weight + Σ -y·(column·f) (strong duality; Dantzig 1963, from memory).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.capacity import Capacity, limiting_slopes
from lengthwise.mechanics.equilibrium import Setting

Array = NDArray[np.float64]
Kind = Literal["targets", "other movers", "steadying", "joints", "supports", "balance"]
KINDS: tuple[Kind, ...] = get_args(Kind)
LEAST_TOLD = 1e-4


@dataclass(frozen=True)
class Limits:
    """What bounds the load.

    Attributes:
        movers: ∂ ln load/∂ ln strength of the heads that the lift is for (targets and prime movers of its file), largest first; left-side
            heads carry `_left`. Who they are is a definition; how much each counts is a finding.
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
    share = _shares(setting, able, position, member)
    found = {n: float(s) for n, s in zip(names, share, strict=True) if abs(s) > LEAST_TOLD}
    is_mover = _movers(setting.lift)
    movers = {n: s for n, s in found.items() if n.removesuffix("_left") in is_mover}
    steadying = {n: s for n, s in found.items() if n not in movers}
    return Limits(_ordered(movers), _ordered(steadying), _kinds(setting, able, position, dict(zip(names, share, strict=True))))


def _movers(lift: Lift) -> set[str]:
    return {*lift.targets, *lift.prime_movers}


def _ordered(share: Mapping[str, float]) -> dict[str, float]:
    return dict(sorted(share.items(), key=lambda kv: -kv[1]))


def _shares(setting: Setting, able: Capacity, position: int, member: Array) -> Array:
    """Limiting share of each head; of a load that is not positive its slopes over their sum, (n_head,)."""
    slopes = limiting_slopes(setting.balance, able, position, member)
    if able.load_kg[position] > 0:
        return np.asarray(slopes / able.load_kg[position])
    total = np.abs(slopes).sum()
    return slopes / total if total > 0 else slopes


def _kinds(setting: Setting, able: Capacity, position: int, share: Mapping[str, float]) -> dict[Kind, float]:
    """Each kind's part of the load, those that only take from it left out, brought to 1."""
    balance, y = setting.balance, able.multiplier[position]
    unit = float(able.load_kg[position]) if able.load_kg[position] > 0 else float(np.abs(able.slope_kg[position]).sum()) or 1.0
    passive = _passive(setting, position)
    joint = -(y @ balance.joint[position]) * able.joint[position]
    own = sum(not name.startswith(("pelvis", "sled")) for name in setting.coordinates)
    lift = setting.lift
    stems = {n: n.removesuffix("_left") for n in share}
    part: dict[Kind, float] = {
        "targets": sum(max(s, 0.0) for n, s in share.items() if stems[n] in lift.targets),
        "other movers": sum(max(s, 0.0) for n, s in share.items() if stems[n] in _movers(lift) - {*lift.targets}),
        "steadying": sum(max(s, 0.0) for n, s in share.items() if stems[n] not in _movers(lift)),
        "joints": float(joint[:own].sum() - y @ passive) / unit,
        "supports": float(-(y @ balance.support[position]) @ able.support[position]) / unit,
        "balance": float(joint[own:].sum() + y @ (balance.rest[position] + passive)) / unit,
    }
    positive = {k: max(v, 0.0) for k, v in part.items()}
    total = sum(positive.values()) or 1.0
    return {k: v / total for k, v in positive.items()}


def _passive(setting: Setting, position: int) -> Array:
    """Generalised force of stretched muscles at rest [N or N·m], (n_coord,)."""
    active, rest = setting.tension.active_n[position], setting.tension.passive_n[position]
    over = np.divide(rest, active, out=np.zeros_like(rest), where=active > 1.0)
    return np.asarray(setting.balance.muscle[position] @ over)
