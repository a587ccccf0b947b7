"""Where the next load is a big step away, the line asks for the repetitions that earn it (an outside coach's wish)."""

import pytest

from lengthwise.planning.week import PlannedLift
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import loaded
from lengthwise.quantities import repetitions
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of

KNOWN = {
    "one_arm_dumbbell_row": (12, 12),
    "dumbbell_romanian_deadlift": (12, 15),
    "dumbbell_bench_press": (8, 9),
    "kettlebell_deadlift": (16, 8),
}


def client(training):
    return Client.model_validate(
        {
            "name": "Invented", "sex": "man", "stature_m": 1.71, "mass_kg": 68, "age_y": 38, "training": training, "training_years": 2,
            "days": [{"day": "monday", "place": "home", "minutes": 60}],
            "places": {"home": {"stations": ["flat_bench"], "gear": {"dumbbell": {"rack_kg": [4, 8, 12, 16]}, "kettlebell": {"rack_kg": [8, 16, 24]}}}},
            "known_lifts": [{"lift": k, "load_kg": kg, "repetitions": n, "reserve": 2} for k, (kg, n) in KNOWN.items()],
        }
    )  # fmt: skip


@pytest.mark.parametrize("training", ["recreational", "trained"])
def test_the_line_and_its_sentence_ask_for_the_same(training):
    who = client(training)
    for lift in KNOWN:
        alone = load_of(who, lift, SetTarget(), who)
        line = loaded(
            PlannedLift(lift=lift, range="full", name=lift, sets=3, repetitions=(8, 12), reserve=2.0),
            Loading(who, who, easy=False),
            "home",
        )
        assert line.up_to == alone.up_to and line.repetitions == alone.repetitions
        then = alone.then("dumbbell", "kg")
        assert (f"first work up to {alone.up_to[1]} repetitions in every set" in then) == alone.earned_in_range
        assert alone.up_to[1] <= 20


def test_twelve_of_twelve_kilograms_lead_to_sixteen_by_way_of_twenty():
    """By hand: 16 kg × 6.4, nearly 8, with 2 left is 20.5; of 12 kg that is 21 to the end, 19 with 2 left, written as 20."""
    found = load_of(client("trained"), "one_arm_dumbbell_row", SetTarget())
    assert (found.load_kg, repetitions(*found.up_to)) == (12, "8–12, then 13–20")


def test_nobody_is_sent_to_twenty_from_the_floor():
    found = load_of(client("trained"), "kettlebell_deadlift", SetTarget())
    assert found.up_to == found.repetitions and "too big a step" in found.then("kettlebell", "kg")
