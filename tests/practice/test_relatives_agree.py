"""First loads of near relatives ask about as much of one muscle (drawn records; nobody chose a rule with them in view)."""

import sys
from pathlib import Path

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.training.client import Client
from lengthwise.training.one_rm import factor
from lengthwise.training.places import preset
from lengthwise.training.prescription import SetTarget, loads_at
from lengthwise.weeks.clients import load_of

sys.path.insert(0, str(Path(__file__).parents[1] / "planning"))
from drawn_records import drawn

GYM = {"sore_joints": {}, "days": (), "places": {"gym": preset("full_gym")}}
CLIENTS = {name: Client.model_validate({**c.model_dump(), **GYM}) for name, c in drawn(10, 20261130).items()}
STANDING = {"standing_calf_raise": 2, "barbell_calf_raise": 2, "one_leg_calf_raise": 1}
"""Legs that share the load and the body."""


def a_leg_kg(client, lift_id):
    """What each leg could raise once, load and body, by the set that is written; None where none of the usual repetitions is.

    By statics: who stands on the balls of the feet raises load and body whole, on one leg or two.
    """
    p = load_of(client, lift_id, SetTarget())
    if p.load_kg is None or p.repetitions[0] < 10:
        return None
    return (p.load_kg + client.mass_kg) * factor(p.repetitions[0] + p.reserve) / STANDING[lift_id]


@pytest.mark.parametrize("name", CLIENTS)
def test_calf_raises_ask_as_much_of_one_leg_as_of_each_of_two(name):
    """65 kg on the machine stood beside 22 kg in one hand on one leg (an outside coach): 70 kg a leg beside 97."""
    found = {i: kg for i in STANDING if (kg := a_leg_kg(CLIENTS[name], i)) is not None}
    assert len(found) >= 2 and max(found.values()) <= 1.15 * min(found.values()), found


@pytest.mark.parametrize("name", CLIENTS)
def test_a_dumbbell_makes_no_calf_raise_easier(name):
    """Where the body alone is too heavy for one leg, it is so with a dumbbell: 2 kg for 10 stood beside "too heavy"."""
    alone, held = (load_of(CLIENTS[name], i, SetTarget()) for i in ("one_leg_calf_raise_free", "one_leg_calf_raise"))
    assert held.load_kg is None or held.load_kg <= 2 or (alone.load_kg is not None and alone.repetitions[1] >= 12)


SIDES = {
    "one_leg_press": "leg_press", "one_leg_extension": "leg_extension", "standing_leg_curl": "lying_leg_curl",
    "one_arm_cable_row": "seated_cable_row", "one_arm_pulldown": "lat_pulldown",
}  # fmt: skip


@pytest.mark.parametrize("name", list(CLIENTS)[:6])
def test_one_side_begins_near_half_of_both(name):
    """Common practice, no source, and one step of the equipment: one leg began with 118 kg beside 153 for both, a standing curl with 5 beside 25."""
    who = CLIENTS[name]
    for one, both in SIDES.items():
        a, b = (load_of(who, i, SetTarget(place="gym")) for i in (one, both))
        if a.load_kg is None or not (a.guess and b.guess):
            continue
        step = loads_at(who, "gym", all_lifts().lifts[one].gear).smallest_step_kg
        assert 0.45 * b.load_kg - step <= a.load_kg <= 0.6 * b.load_kg + step, (one, a.load_kg, b.load_kg)
