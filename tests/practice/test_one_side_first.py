"""Where the heaviest dumbbells are light for both sides at once, one side at a time comes first (common practice, no source)."""

import pytest

from lengthwise.training.client import Client
from lengthwise.weeks.week_choices import MORE_LOAD, offer_of

RACK = (20, 30, 40, 50)


def strong(rack, gear=(), **more):
    told = {
        "name": "Invented", "sex": "man", "stature_m": 1.86, "mass_kg": 95, "age_y": 34, "training": "advanced", "training_years": 9,
        "days": [{"day": d, "place": "shed", "minutes": 55} for d in ("tuesday", "friday")],
        "places": {"shed": {"gear": {"dumbbell": {"rack_kg": list(rack)}, "body": {}, **dict(gear)}, "stations": ["flat_bench", "rack"]}},
        **more,
    }  # fmt: skip
    return offer_of(Client.model_validate(told))


def ids(offer):
    return {c.lift for c in offer.choices}


def test_a_light_hinge_with_dumbbells_gives_way_to_one_leg():
    offer = strong(RACK)
    assert offer.out["dumbbell_romanian_deadlift"] == f"One-leg Romanian deadlift {MORE_LOAD}"
    assert "one_leg_romanian_deadlift" in ids(offer)


def test_a_bar_that_is_there_comes_before_one_leg():
    bar = {"barbell": {"bar_kg": 20, "plates_kg": [25, 25, 20, 20, 10, 5, 2.5]}}
    offer = strong(RACK, bar)
    assert offer.out["dumbbell_romanian_deadlift"] == f"Romanian deadlift {MORE_LOAD}" and "romanian_deadlift" in ids(offer)


@pytest.mark.parametrize(
    "more",
    [
        {"training": "untrained", "training_years": 0},
        {"sore_joints": {"ankle": "mild"}},
        {"age_y": 70},
        {"wishes": {"liked": ["dumbbell_romanian_deadlift"]}},
    ],
)
def test_nobody_new_old_or_sore_is_sent_to_one_leg_and_what_is_liked_stays(more):
    offer = strong(RACK, **more)
    assert "dumbbell_romanian_deadlift" in ids(offer)


def test_dumbbells_that_are_heavy_enough_stay():
    assert "dumbbell_romanian_deadlift" in ids(strong(RACK, sex="woman", stature_m=1.66, mass_kg=58))
