"""Common faults of a lift with what the model says of them."""

from dataclasses import dataclass

import numpy as np

from lengthwise.grading.sentences import spoken
from lengthwise.known.lifts import all_lifts
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.quantities import percent
from lengthwise.training.faults import LiftFault, faults_of


@dataclass(frozen=True)
class ToldFault:
    """A fault in words; `model` is what the model says of what it leaves out, empty where it cannot tell."""

    name: str
    look: str
    changes: str
    cue: str
    model: str = ""


def cues_of(lift_id: str) -> tuple[tuple[str, str], ...]:
    """Each fault of a lift by name, with its cue: as much as there is room for between sets."""
    return tuple((f.name, f.cue) for f in faults_of(lift_id, all_lifts().family.get(lift_id, "")))


def told_faults(found: LiftProfile) -> tuple[ToldFault, ...]:
    """The faults of a lift whose profile is known."""
    family = all_lifts().family.get(found.lift_id, "")
    return tuple(ToldFault(f.name, f.look, f.changes, f.cue, _model_says(f, found)) for f in faults_of(found.lift_id, family))


def _model_says(fault: LiftFault, found: LiftProfile) -> str:
    """How much of the main target's tension lies in the half that is left out, and how long its fibres then get."""
    part = found.lift.ranges.get(fault.half) if fault.half else None
    if part is None or found.request.range != "full":
        return ""
    phase = np.asarray(found.position)
    there = (phase >= min(part.start, part.end) - 1e-9) & (phase <= max(part.start, part.end) + 1e-9)
    head = max(found.lift.targets, key=lambda h: float(found.heads[h].active_force_n.sum()))
    own = found.heads[head]
    total = float(own.active_force_n.sum())
    if total <= 0 or there.all() or not there.any():
        return ""
    share = float(own.active_force_n[there].sum()) / total
    told = f"In the model {percent(share)} of the tension of {spoken(head)} lies in that half"
    longest, left = float(own.fibre_length.max()), float(own.fibre_length[~there].max())
    if fault.half == "long" and longest - left > 0.02:
        told += f"; without it the fibres reach {left:.2f} instead of {longest:.2f} of their optimal length"
    return f"{told}."
