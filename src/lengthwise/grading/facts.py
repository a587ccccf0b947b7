"""What grading needs to know of one lift on one body: plain numbers, read from its profile, that can be kept and compared."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from functools import lru_cache

import numpy as np

from lengthwise.arrays import Array
from lengthwise.grading.joint_load import JointLoad, joint_loads
from lengthwise.mechanics.head_columns import MEASURES
from lengthwise.mechanics.measures import HeadMeasures
from lengthwise.mechanics.profile import LiftProfile, Outline
from lengthwise.mechanics.trained import trained

_MEASURES = len(MEASURES)


@dataclass(frozen=True)
class HeadFacts(HeadMeasures):
    """One head in one lift: of the side that does more (mechanics/sides.py), since one-sided lifts are done on both sides in turn.

    Attributes:
        span_longest … joint_conflict: as in `mechanics.measures.HeadMeasures`.
        limiting_share, effort_share: the same, both sides of the body together.
        span_reached: largest span position at which it works (mechanics/trained.py); 0 when it never is.
        loaded_span: tension-weighted mean span position, 0-1.
        peak_activation: largest activation over the lift, 0-1.
        drive_at_length: mean over the lift of the activation spent in the upper third of the span, 0-1.
        shortening: activation-weighted shortening of its path over the lifting phase [optimal fibre lengths].
        length_at_peak: fibre length where its tension peaks [of optimal].
        long_half_load: share of its tension carried in the upper third of its span, over the lift's long half alone.
        strength_n: its maximal isometric force [N].
        drive: mean activation over the lifting phase, 0-1.
        volume_nm: maximal force times optimal length of its lines [N·m]; over what a square centimetre bears, its volume.
    """

    span_reached: float
    loaded_span: float
    peak_activation: float
    drive_at_length: float
    shortening: float
    length_at_peak: float
    long_half_load: float
    strength_n: float
    drive: float
    volume_nm: float


@dataclass(frozen=True, kw_only=True)
class LiftFacts:
    """One lift on one body.

    Attributes:
        lift_id, name, range, gear, posture: what it is.
        unstable: whether it stands on an unstable surface.
        targets: heads it is meant for.
        working_kg, sticking_kg: load of the set and largest load at the weakest position [kg]. moved_kg: body mass that counts as load.
        sticking: where that is, 0-1 of the lifting phase.
        limiting: limiting share of every head, sides together, largest first.
        balance_demand, seconds_per_set, load_step_fraction: see mechanics/measures.py.
        setup_s: time to set up [s].
        long_safe: whether the long half can be ended safely. long_cue: how to cue it.
        joints: load and nearness to this person's limits, by joint.
        heads: by name.
    """

    lift_id: str
    name: str
    range: str
    gear: str
    posture: str
    unstable: bool
    targets: tuple[str, ...]
    working_kg: float
    sticking_kg: float
    moved_kg: float
    sticking: float
    limiting: Mapping[str, float]
    balance_demand: float
    seconds_per_set: float
    load_step_fraction: float
    setup_s: float
    long_safe: bool
    long_cue: str
    joints: Mapping[str, JointLoad]
    heads: Mapping[str, HeadFacts]

    @property
    def key(self) -> str:
        """The lift with its range, as one name."""
        return self.lift_id if self.range == "full" else f"{self.lift_id} ({self.range})"

    @property
    def joints_nm(self) -> Mapping[str, float]:
        """The largest moment that the muscles of each joint hold [N·m]."""
        return {joint: load.moment_nm for joint, load in self.joints.items()}


def facts_of(found: LiftProfile) -> LiftFacts:
    """The facts of a profile."""
    lift, long = found.lift, found.lift.ranges["long"]
    both = limiting_of_both_sides(found)
    return LiftFacts(
        lift_id=found.lift_id,
        name=lift.name,
        range=found.request.range,
        gear=lift.gear,
        posture=lift.posture,
        unstable=lift.unstable,
        targets=tuple(lift.targets),
        working_kg=found.working_kg,
        sticking_kg=found.sticking_kg,
        moved_kg=found.moved_kg,
        sticking=found.sticking_at,
        limiting=both,
        balance_demand=found.balance_demand,
        seconds_per_set=found.seconds_per_set,
        load_step_fraction=found.load_step_fraction,
        setup_s=lift.setup_s,
        long_safe=long.safe,
        long_cue=long.cue,
        joints=joint_loads(found),
        heads=head_facts(found, [h for h in found.heads if not h.endswith("_left")]),
    )


def head_facts(found: LiftProfile, heads: Iterable[str]) -> dict[str, HeadFacts]:
    """The facts of some heads alone: enough to see how they change with the body."""
    names = list(heads)
    return {h: HeadFacts(*row) for h, row in zip(names, head_tables([found], names)[0].tolist(), strict=True)}


def limiting_of_both_sides(found: LiftProfile | Outline) -> dict[str, float]:
    """Limiting share of every head, sides together, largest first.

    Where the shares add to more than 1 they are brought to 1: when the body itself is most of the load, one more percent of strength
    is many percent of what hangs from it, and only the proportions say what fails first.
    """
    out: dict[str, float] = {}
    for head, share in found.limiting.items():
        stem = head.removesuffix("_left")
        out[stem] = out.get(stem, 0.0) + float(share)
    total = max(sum(s for s in out.values() if s > 0), 1.0)
    return {h: s / total for h, s in sorted(out.items(), key=lambda kv: -kv[1])}


def head_tables(found: Sequence[LiftProfile | Outline], heads: Sequence[str]) -> Array:
    """The facts of some heads in lifts of one body as numbers, (n_lift, n_head, n_fact), in the order of HeadFacts' fields."""
    if not found:
        return np.empty((0, len(heads), len(fields(HeadFacts))))
    lines = found[0].body.lines
    right = lines.of_heads(tuple(heads))
    strength, volume = (right.summed(v[right.lines]) for v in (lines.max_force_n, lines.max_force_n * lines.optimal_m))
    sides = [trained(p) for p in found]
    at = [_places(s.names, tuple(heads)) for s in sides]
    own = np.moveaxis(np.stack([s.facts[k] for s, k in zip(sides, at, strict=True)]), -1, 0)
    effort = np.stack([s.effort[k] for s, k in zip(sides, at, strict=True)])
    limiting = [[both.get(h, 0.0) for h in heads] for both in map(limiting_of_both_sides, found)]
    columns = (*own[:_MEASURES], limiting, effort, *own[_MEASURES:-1], strength, own[-1], volume)
    return np.stack(np.broadcast_arrays(*columns), -1)


@lru_cache(maxsize=64)
def _places(names: tuple[str, ...], heads: tuple[str, ...]) -> list[int]:
    """Where some heads stand among names."""
    return [names.index(h) for h in heads]
