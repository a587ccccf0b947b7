"""How people turn a free arm: which small turns let a lift be done with the least effort.

    python validation/settled_arms.py [LIFT ...]     for lifts whose arm is typed and free, what a small turn would spare

People who hold a load freely turn and carry the arm as it is least work; a lift's file types one posture. Each lift is asked at turns of up
to TURN_DEG at its first and last key and, where the arm stays raised throughout, carried up to as much higher or lower. What counts is the
sum of squared activations for the same load, of the man and the woman of the expert rows together; no row is asked. The stored postures are
those of one run from the ones before, where a turn spared LEAST_SPARED or more; a run from them finds further turns.
"""

import sys
from collections.abc import Iterator
from itertools import product

import numpy as np

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import profile

PEOPLE = [
    Person(sex="man", stature_m=1.80, mass_kg=80, age_y=30, training="trained"),
    Person(sex="woman", stature_m=1.66, mass_kg=62, age_y=30, training="trained"),
]
TURN_DEG = 10.0
"""How far from the typed posture an arm may be turned or carried; own choice."""
LEAST_SPARED = 0.04
"""Part of the effort that a turn must spare to be written; own choice."""
RAISED_DEG, STILL_DEG = 45.0, 30.0
"""An arm that is never lower than this, and carried by less than this, may be carried higher or lower: it changes no range of motion."""
TURN, CARRY = "shoulder_internal_rotation", "shoulder_abduction"


def effort(lift_id: str, lift: Lift) -> float:
    """Logarithm of the effort a squared kilogram, mean of the people; infinite where one of them cannot."""
    try:
        found = [profile(body_of(p), lift_id, lift) for p in PEOPLE]
    except LengthwiseError:
        return np.inf
    work = [sum(float((h.activation**2).mean()) for h in f.heads.values()) for f in found]
    load = [f.set_load.wanted_kg + f.moved_kg for f in found]
    return float(np.mean(np.log(work) - 2 * np.log(np.maximum(load, 0.1))))


def turned(lift: Lift, first: float, last: float, carried: float) -> Lift:
    """The lift with its arm turned by `first` to `last` and carried higher by `carried` [deg]."""
    keys = [
        {**k, TURN: _plus(k.get(TURN, 0), first + (last - first) * float(k["at"])), CARRY: _plus(k[CARRY], carried)}
        for k in lift.motion.keys
    ]
    return lift.model_copy(update={"motion": lift.motion.model_copy(update={"keys": keys})})


def _plus(value: float | str, more: float) -> float | str:
    return f"{value} + {more}" if isinstance(value, str) else value + more


def is_free(lift: Lift) -> bool:
    """Whether the arm is typed throughout, holds the load, and no pin keeps the hand or elbow where it is."""
    arm = ("shoulder", "elbow", "scapula", "forearm")
    pinned = any(str(m).startswith(("grip", "palm", "wrist", "elbow")) for p in lift.motion.pins for m in (p.point, p.over, p.on))
    typed = all(CARRY in k for k in lift.motion.keys)
    return typed and not pinned and not any(s.startswith(arm) for s in lift.motion.solve) and lift.resistance.at[0] == "grip"


def choices(lift: Lift) -> Iterator[tuple[float, float, float]]:
    """Turns at the first and the last key, and how much higher the arm is carried [deg]."""
    raised = [k[CARRY] for k in lift.motion.keys]
    numbers = [float(v) for v in raised if not isinstance(v, str)]
    moves = len(numbers) < len(raised) or min(numbers) < RAISED_DEG or np.ptp(numbers) >= STILL_DEG
    steps = (-TURN_DEG, 0.0, TURN_DEG)
    return product(steps, steps, (0.0,) if moves else steps)


def main(asked: list[str]) -> None:
    """Print the best turn of each lift where it spares enough."""
    for lift_id, lift in built_in().lifts.items():
        if not is_free(lift) or (asked and lift_id not in asked):
            continue
        best = min(choices(lift), key=lambda c: effort(lift_id, turned(lift, *c)))
        spared = 1 - np.exp(effort(lift_id, turned(lift, *best)) - effort(lift_id, lift))
        if spared >= LEAST_SPARED:
            print(f"{lift_id}: turned in by {best[0]:g} to {best[1]:g}, carried higher by {best[2]:g} deg spares {spared:.0%}")


if __name__ == "__main__":
    main(sys.argv[1:])
