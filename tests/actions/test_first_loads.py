"""A first load, what is said beside it and the sets before it agree, and a week says the same as a lift asked for alone."""

import pytest

from lengthwise.actions.clients import load_of
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget

WOMAN = {
    "name": "Ada Example",
    "sex": "woman",
    "stature_m": 1.67,
    "mass_kg": 72,
    "age_y": 45,
    "training": "recreational",
    "days": [{"day": "monday", "place": "garage", "minutes": 60}],
    "places": {"garage": {"preset": "garage_rack"}},
    "known_lifts": [{"lift": "back_squat", "load_kg": 35, "repetitions": 8, "reserve": 3}],
}


def of(**more):
    return Client.model_validate({**WOMAN, **more})


@pytest.mark.parametrize("lift", ["hip_thrust", "half_squat", "reverse_lunge"])
@pytest.mark.parametrize("sore", [{}, {"knee": None}])
def test_a_load_that_is_held_back_says_so_and_claims_no_other(lift, sore):
    p = load_of(of(sore_joints=sore), lift, SetTarget())
    assert p.guess and p.load_kg is not None and all(w.load_kg < p.load_kg for w in p.warm_up)
    if p.likely_kg is None:
        assert p.expected is None
        assert "Held at" in p.notes[0] or "the usual load" in p.notes[0] or "the lightest load" in p.notes[0]
    else:
        assert p.load_kg <= p.likely_kg[1] and (p.expected is None or p.expected >= p.repetitions[0])


def test_a_sore_joint_halves_the_load_wherever_it_is_asked_for():
    usual, sore = (load_of(of(sore_joints=joints), "half_squat", SetTarget()).load_kg for joints in ({}, {"knee": None}))
    assert sore <= 0.5 * usual + 2.5


def test_dumbbells_of_a_lunge_follow_a_known_squat():
    """Common practice, no source: a strong squatter does not begin with the dumbbells of a beginner of the same mass."""
    weak, strong = (
        load_of(
            of(known_lifts=[{"lift": "back_squat", "load_kg": kg, "repetitions": 5, "reserve": 1}]), "reverse_lunge", SetTarget()
        ).load_kg
        for kg in (40, 120)
    )
    assert strong > 1.5 * weak


@pytest.mark.parametrize("written_kg", [40, 45])
def test_the_next_load_comes_after_the_load_that_is_written_down(written_kg):
    p = load_of(of(), "half_squat", SetTarget(load_kg=written_kg))
    assert p.load_kg == written_kg and p.bridge.load_kg == written_kg < p.bridge.next_kg
