"""Whether a lift's profile makes sense to an anatomist: one finding for each thing that does not."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.person import joint_range
from lengthwise.body.rows import PELVIS
from lengthwise.lifts.definition import PLACE_NAMES
from lengthwise.mechanics.measures import UPPER_THIRD
from lengthwise.mechanics.profile import LiftProfile

LEADING_ACTIVATION = 0.2
LEADING_LIMIT = 0.05
LEADING_RANK = 10
"""An expected mover leads when it is among the first ten of some seventy heads by effort, works at a fifth of its strength somewhere in a
set of ten with two in reserve, or limits the load by a twentieth; common practice, no source."""
ONE_MUSCLE = ("latissimus", "adductor_magnus", "gluteus_maximus", "gluteus_medius")
LEAP = 3.0
WRONG_WAY_M = 0.005
REACH_SLACK_DEG = 1.0


@dataclass(frozen=True)
class Finding:
    """One disagreement: which lift, what kind, and in words."""

    PUBLIC: ClassVar = "kind text"
    lift: str
    kind: str
    text: str


def leaders(found: LiftProfile) -> list[str]:
    """Heads that lead a lift, by effort; of a lift of one side, the head of whichever side works harder stands for both."""
    ranked = sorted(found.heads, key=lambda h: -found.heads[h].measures.effort_share)
    first = set(ranked[:LEADING_RANK])
    lead = [
        h
        for h in ranked
        if h in first or found.heads[h].activation.max() >= LEADING_ACTIVATION or found.limiting.get(h, 0.0) >= LEADING_LIMIT
    ]
    return list(dict.fromkeys(h.removesuffix("_left") for h in lead))


def missing_movers(found: LiftProfile) -> list[str]:
    """Expected prime movers that do not lead in the model.

    Of muscles that textbooks and electrode studies treat as one (ONE_MUSCLE) any part may lead for another.
    """
    lead = leaders(found)
    whole = {_muscle(h) for h in lead}
    return [h for h in found.lift.prime_movers if h not in lead and (_muscle(h) is None or _muscle(h) not in whole)]


def loaded_long(found: LiftProfile) -> list[str]:
    """Targets of a lift that work at a fifth of their strength or more somewhere in the upper third of their span."""
    return [
        head
        for head in found.lift.targets
        if any(
            ((p.span_position >= UPPER_THIRD) & (p.activation >= LEADING_ACTIVATION)).any()
            for p in (found.heads.get(head), found.heads.get(f"{head}_left"))
            if p is not None
        )
    ]


def _muscle(head: str) -> str | None:
    return next((m for m in ONE_MUSCLE if head.startswith(m)), None)


def audit(found: LiftProfile) -> list[Finding]:
    """Everything about a profile that an anatomist would question."""
    out = [Finding(found.lift_id, "prime mover", f"{h} was expected to lead and does not") for h in missing_movers(found)]
    out += _wrong_way(found) + _beyond_reach(found) + _jumps(found) + _limits(found)
    return out


def _wrong_way(found: LiftProfile) -> list[Finding]:
    """A main target that gets longer, on every side that the lift has, while it is meant to do the lifting."""
    setting, head = found.setting, found.lift.targets[0]
    lines = setting.body.lines
    changes = []
    for side in {lines.sides[i] for i in setting.lines}:
        columns = [i for i in setting.lines if lines.heads[i] == head and lines.sides[i] == side]
        path = setting.seen.path_m[:, columns].mean(axis=1)
        changes.append(float(path[-1] - path[0]))
    if min(changes) <= WRONG_WAY_M:
        return []
    return [Finding(found.lift_id, "wrong way", f"{head} gets {1e3 * min(changes):.0f} mm longer in the lifting phase")]


def _beyond_reach(found: LiftProfile) -> list[Finding]:
    out = []
    for name, values in found.path.posture.items():
        stem = name.removesuffix("_right").removesuffix("_left")
        if stem in PELVIS or stem in PLACE_NAMES:
            continue
        low, high = joint_range(found.body.person, stem)
        if values.min() < low - REACH_SLACK_DEG or values.max() > high + REACH_SLACK_DEG:
            out.append(
                Finding(
                    found.lift_id,
                    "beyond range",
                    f"{name} goes from {values.min():.0f} to {values.max():.0f} deg; range {low:.0f} to {high:.0f}",
                )
            )
    return out


def _jumps(found: LiftProfile) -> list[Finding]:
    """Curves that leap from one position to the next: a step far larger than both its neighbours."""
    out = []
    capacity = found.capacity_kg
    share = np.abs(np.diff(capacity)) / np.maximum(np.minimum(np.abs(capacity[1:]), np.abs(capacity[:-1])), 5.0)
    at = _leap(share, 0.15)
    if at is not None:
        out.append(Finding(found.lift_id, "jump", f"capacity changes by {share[at]:.0%} in one step at {found.position[at]:.0%}"))
    for head, p in found.heads.items():
        step = np.abs(np.diff(p.fibre_length))
        at = _leap(step, 0.04)
        if at is not None:
            out.append(Finding(found.lift_id, "jump", f"{head} changes length by {step[at]:.2f} in one step"))
    return out


def _leap(step: Array, least: float) -> int | None:
    """Where a step is above `least` and LEAP times both its neighbours, if anywhere."""
    beside = np.maximum(np.append(0.0, step[:-1]), np.append(step[1:], 0.0))
    inner = (step > least) & (step > LEAP * beside)
    inner[[0, -1]] = False
    return int(np.argmax(step * inner)) if inner.any() else None


def _limits(found: LiftProfile) -> list[Finding]:
    """A capacity that no muscle limits is a limit of the set-up: tipping over, slipping, or a ligament."""
    kinds = found.limits.kinds
    muscle = kinds["targets"] + kinds["other movers"] + kinds["steadying"]
    if muscle >= 0.3:
        return []
    where = f"at {found.position[found.sticking]:.0%}"
    return [
        Finding(found.lift_id, "not limited by muscle", f"muscles limit {muscle:.0%} of the load {where}; {found.limits.main} most")
    ]
