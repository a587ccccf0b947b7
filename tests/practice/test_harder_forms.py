"""A lift of the body alone says what is harder as well as what is easier, by what is there and who does it (common practice, no source)."""

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedLift
from lengthwise.practice.harder_forms import harder_forms
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import loaded
from lengthwise.practice.written_repetitions import practice_of_sets
from lengthwise.training.client import Client
from lengthwise.training.load_notes import SLOWER
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of

DUMBBELLS = {"dumbbell": {"rack_kg": [2, 4, 6, 8, 10, 15, 23]}}


def somebody(gear=DUMBBELLS, **other):
    record = {
        "name": "Invented", "sex": "woman", "stature_m": 1.66, "mass_kg": 60, "age_y": 24, "training": "untrained", "training_years": 0,
        "days": [{"day": "monday", "place": "home", "minutes": 40}], "places": {"home": {"gear": gear, "stations": ["flat_bench"]}},
    }  # fmt: skip
    return Client.model_validate({**record, **other})


def line(client, lift):
    planned = PlannedLift(lift=lift, range="full", name=lift, sets=3, repetitions=(8, 12), reserve=2.0)
    return loaded(planned, Loading(client, client, easy=False), "home").find


def test_every_form_that_the_table_names_is_there():
    lifts, families = all_lifts(), {*all_lifts().family.values()}
    for key, steps in practice_of_sets()["harder"].items():
        named = {s["lift"] for s in steps if "lift" in s}
        assert (key in lifts.lifts or key in families) and named <= lifts.lifts.keys() and key not in named


def test_the_line_of_a_week_says_both_ways():
    found = line(somebody(), "body_weight_bridge")
    assert "Fewer than" in found and "leave more than" in found and "a dumbbell on the hips or one foot lifted" in found
    asked = load_of(somebody(), "body_weight_bridge", SetTarget(easy=True))
    assert any("leave more than 5" in note or "a dumbbell on the hips" in note for note in asked.notes), "in an easy start too"
    known = [{"lift": "push_up", "load_kg": 0, "repetitions": 14, "reserve": 2}]
    assert "push-up with the feet raised" in line(somebody(known_lifts=known), "push_up").lower(), "of a lift that was done too"


@pytest.mark.parametrize(
    ("client", "lift", "told", "not_told"),
    [
        (somebody(gear={}), "body_weight_bridge", "one foot lifted", "dumbbell"),
        (somebody(), "body_weight_calf_raise", "one-leg body-weight calf raise", "slower"),
        (somebody(sore_joints={"ankle": "moderate"}), "body_weight_calf_raise", "dumbbell in each hand", "one-leg"),
        (somebody(wishes={"refused": ["goblet_squat"]}), "bodyweight_squat", "split squat", "goblet"),
        (somebody(gear={}), "superman", SLOWER, "dumbbell"),
    ],
)
def test_a_harder_form_is_there_and_suits(client, lift, told, not_told):
    found = harder_forms(client, lift).lower()
    assert told in found and not_told not in found


def test_a_sore_joint_is_not_told_to_go_on_to_what_is_harder():
    assert "leave more than" not in line(somebody(sore_joints={"knee": "mild"}), "bodyweight_squat")
