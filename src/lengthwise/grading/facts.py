"""What grading needs to know of one lift on one body: plain numbers, read from its profile, that can be kept and compared."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.grading.joint_load import JointLoad, joint_loads
from lengthwise.mechanics.head_columns import curves, measured
from lengthwise.mechanics.measures import UPPER_THIRD, HeadMeasures
from lengthwise.mechanics.profile import LiftProfile, phase_of
from lengthwise.mechanics.sides import trained_sides

Array = NDArray[np.float64]

WORKING = 0.2
"""Activation from which a head counts as loaded; estimate: below a fifth of its strength a set near failure asks little of it."""
SILENT_N = 1e-6
"""Tension below this is none [N]."""


@dataclass(frozen=True)
class HeadFacts(HeadMeasures):
    """One head in one lift: of the side that does more (mechanics/sides.py), since one-sided lifts are done on both sides in turn.

    Attributes:
        span_longest … joint_conflict: as in `mechanics.measures.HeadMeasures`.
        limiting_share, effort_share: the same, both sides of the body together.
        span_reached: largest span position at which its activation is at least WORKING; 0 when it never is.
        loaded_span: tension-weighted mean span position, 0-1.
        peak_activation: largest activation over the lift, 0-1.
        drive_at_length: mean over the lift of the activation spent in the upper third of the span, 0-1.
        shortening: activation-weighted shortening of its path over the lifting phase [optimal fibre lengths].
        length_at_peak: fibre length where its tension peaks [of optimal].
        long_half_load: share of its tension carried in the upper third of its span, over the lift's long half alone.
        strength_n: its maximal isometric force [N].
        drive: mean activation over the lifting phase, 0-1.
        volume_nm: maximal force times optimal length of its lines [N·m], in proportion to its volume.
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
        sticking=float(found.position[found.sticking]),
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


def limiting_of_both_sides(found: LiftProfile) -> dict[str, float]:
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


def head_tables(found: Sequence[LiftProfile], heads: Sequence[str]) -> Array:
    """The facts of some heads in lifts of one body as numbers, (n_lift, n_head, n_fact), in the order of HeadFacts' fields."""
    alike: dict[tuple[object, ...], list[int]] = {}
    for k, p in enumerate(found):
        alike.setdefault((len(p.capacity_kg), *p.heads), []).append(k)
    out = np.empty((len(found), len(heads), len(fields(HeadFacts))))
    for places in alike.values():
        out[places] = _tables([found[k] for k in places], heads)
    return out


def _tables(found: Sequence[LiftProfile], heads: Sequence[str]) -> Array:
    """The same of lifts that have the same heads at as many positions."""
    names, shortening = trained_sides(found, heads)
    lines, right = found[0].body.lines, found[0].body.lines.of_heads(tuple(heads))
    span, activation, force = (curves(found, of, names) for of in ("span_position", "activation", "active_force_n"))
    total, n_pos = force.sum(-1), force.shape[-1]
    pulls, upper = total > SILENT_N, span >= UPPER_THIRD
    weight = np.where(pulls[..., None], force / np.where(pulls, total, 1.0)[..., None], 1 / n_pos)
    of_peak = np.take_along_axis(curves(found, "fibre_length", names), np.argmax(force, axis=-1)[..., None], -1)[..., 0]
    long_force = np.where(np.stack([_long_half(p) for p in found])[:, None], force, 0.0)
    long_total = long_force.sum(-1)
    long_share = (long_force * upper).sum(-1) / np.where(long_total > SILENT_N, long_total, np.inf)
    own_measures = np.moveaxis(np.array([measured(p, own) for p, own in zip(found, names, strict=True)]), -1, 0)
    limiting = [limiting_of_both_sides(p) for p in found]
    strength, volume = (right.summed(v[right.lines]) for v in (lines.max_force_n, lines.max_force_n * lines.optimal_m))
    columns = (
        *own_measures, [[own.get(h, 0.0) for h in heads] for own in limiting], [_efforts(p, heads) for p in found],
        np.where(activation >= WORKING, span, 0.0).max(-1), (weight * span).sum(-1), activation.max(-1), (activation * upper).mean(-1),
        shortening, of_peak, long_share, strength, activation.mean(-1), volume,
    )  # fmt: skip
    return np.stack(np.broadcast_arrays(*columns), -1)


def _efforts(found: LiftProfile, heads: Sequence[str]) -> list[float]:
    """Each head's share of all effort, both sides together."""
    shares = found.effort_shares
    return [shares[h] * 2 for h in heads] if found.folded else [shares[h] + shares.get(f"{h}_left", 0.0) for h in heads]


def _long_half(found: LiftProfile) -> NDArray[np.bool_]:
    """Which positions lie within the lift's long half, (n_pos,)."""
    part, phase = found.lift.ranges["long"], phase_of(found.lift, found.request)
    return np.asarray((phase >= part.start - 1e-9) & (phase <= part.end + 1e-9))


def to_table(facts: LiftFacts) -> dict[str, Any]:
    """The facts as plain values that JSON can hold."""
    joints = {k: dict(vars(v)) for k, v in facts.joints.items()}
    heads = {k: dict(vars(v)) for k, v in facts.heads.items()}
    return {**vars(facts), "limiting": dict(facts.limiting), "joints": joints, "heads": heads}


def from_table(table: Mapping[str, Any]) -> LiftFacts:
    """The facts back from `to_table`."""
    joints = {k: JointLoad(**v) for k, v in table["joints"].items()}
    heads = {k: HeadFacts(**v) for k, v in table["heads"].items()}
    return LiftFacts(**{**table, "targets": tuple(table["targets"]), "joints": joints, "heads": heads})
