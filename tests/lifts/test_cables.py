"""A load must be worked against from end to end: cables and bands are drawn out, weights rise."""

from functools import cache

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.motion import move
from lengthwise.lifts.resistance import anchors, loaded_marks

HELD_STILL = {"anti_rotation_press"}
"""What this lift trains is not to be turned: the hands travel across the cable."""
SLACK = 0.06
"""Share of the way that may run backwards; own choice."""


@cache
def person() -> Person:
    return Person(sex="man", stature_m=1.80, mass_kg=80, age_y=30, training="trained")


def worked_against(lift_id: str) -> np.ndarray:
    """How far each loaded landmark is from its pulley, or how high it stands [m], (n_pos, n_mark)."""
    body, lift = body_of(person()), built_in().lifts[lift_id]
    path = move(body, lift, np.linspace(0, 1, 11))
    points = body.survey(path.q, loaded_marks(lift), alike=lift.mirrored).points
    source = anchors(lift, path.names)
    return points[..., 2] if source is None else np.linalg.norm(source - points, axis=-1)


@pytest.mark.parametrize(
    "lift_id",
    [i for i, lift in built_in().lifts.items() if lift.resistance.kind in ("cable", "band", "free_weight") and i not in HELD_STILL],
)
def test_the_load_is_worked_against_all_the_way(lift_id):
    step = np.diff(worked_against(lift_id), axis=0)
    forward, back = np.clip(step, 0, None).sum(0), -np.clip(step, None, 0).sum(0)
    moved = forward > 0.01
    assert (back[moved] <= SLACK * forward[moved]).all()
