"""Where people carry the shoulders: which lifts are done with less effort with the shoulders drawn down.

    python validation/settled_shoulders.py [LIFT ...]

Coaches say "shoulders down and back" in presses, rows and pulls from the floor, and arms that hang draw them down; files had them at rest. Each
such lift whose shoulder blades are typed is asked with the shoulders DOWN_DEG lower throughout, by the effort of
settled_arms.py; no row is asked. The stored postures are those of one run from the ones before, where that spared LEAST_SPARED or more.
"""

import sys

import numpy as np

from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.definition import Lift
from settled_arms import LEAST_SPARED, effort

DOWN_DEG = 6.0
"""How far the shoulders are drawn down; own choice. People reach about 10 (angles.toml)."""
CUED = (
    "press_horizontal", "press_sloped", "press_vertical", "press_machine", "fly", "row", "row_bent_over", "pullover", "hip_hinge",
)  # fmt: skip
"""Families; common practice, no source. Overhead extensions, side bends and hack squats spare as much and change no expert row: left."""


def lowered(lift: Lift, by_deg: float = DOWN_DEG) -> Lift:
    """The lift with its shoulders lower; of a lift typed by sides, the right one."""
    name = "scapula_elevation_right" if any("shoulder_flexion_right" in k for k in lift.motion.keys) else "scapula_elevation"
    keys = [{**k, name: f"{k.get(name, 0)} - {by_deg}"} for k in lift.motion.keys]
    return lift.model_copy(update={"motion": lift.motion.model_copy(update={"keys": keys})})


def is_cued(lift_id: str, lift: Lift) -> bool:
    """Whether it is of a family whose shoulders coaches want down, and its file says where the blades are."""
    return built_in().family[lift_id] in CUED and not any(s.startswith("scapula") for s in lift.motion.solve)


def main(asked: list[str]) -> None:
    """Print the lifts where it spares enough."""
    for lift_id, lift in built_in().lifts.items():
        if not is_cued(lift_id, lift) or (asked and lift_id not in asked):
            continue
        spared = 1 - np.exp(effort(lift_id, lowered(lift)) - effort(lift_id, lift))
        if spared >= LEAST_SPARED:
            print(f"{lift_id}: shoulders {DOWN_DEG:g} deg lower spare {spared:.0%}")


if __name__ == "__main__":
    main(sys.argv[1:])
