"""What a lift's own caution says and what a week holds for a sore joint come from one understanding."""

import re

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.practice import lists
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.record_words import joint_named
from lengthwise.training.sore import hurts_many, rules, spoiled
from lengthwise.training.stations import needed, stations, stations_at

TURNS_AWAY = re.compile(
    r"choose (another lift|a push-down)|press at an incline instead|take a chest-supported row|hip thrust and a leg curl train|not while the back hurts"
)
PLAIN = {"name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 80, "age_y": 40, "training": "trained"}


def sore(joint, *known):
    client = Client.model_validate({**PLAIN, "sore_joints": {joint: "mild"}})
    return client.model_copy(update={"known_lifts": known})


def cautioned():
    library = all_lifts()
    for i, lift in library.lifts.items():
        for told in lift.cautions:
            if TURNS_AWAY.search(told.text) and joint_named(told.joint) in rules():
                yield i, joint_named(told.joint)


@pytest.mark.parametrize(("lift_id", "joint"), sorted(set(cautioned())))
def test_nobody_begins_a_lift_whose_caution_turns_to_another(lift_id, joint):
    library = all_lifts()
    assert spoiled(sore(joint), lift_id, library.lifts[lift_id], library.family[lift_id])
    assert hurts_many(joint, lift_id) or rules()[joint].position


def test_who_does_such_a_lift_without_pain_keeps_it():
    library, done = all_lifts(), KnownLift(lift="overhead_press", load_kg=50, repetitions=8, reserve=2)
    assert spoiled(sore("shoulder"), "overhead_press", library.lifts["overhead_press"], library.family["overhead_press"])
    assert not spoiled(sore("shoulder", done), "overhead_press", library.lifts["overhead_press"], library.family["overhead_press"])


def test_a_dumbbell_between_the_feet_gives_way_to_a_cable():
    """Awkward to take up and put down where a cable does the same (common practice, no source)."""
    assert lists().better["dumbbell_leg_curl"] == "cable_leg_curl"
    assert {"dumbbell_leg_curl", "cable_leg_curl"} <= all_lifts().lifts.keys()


def test_one_hand_or_a_seat_needs_no_bench():
    """Who rows with one hand on a chair needs no bench to lie on; the whole body on both feet, a knee or the hands behind it, or the foot of a loaded lunge,
    may push one away or tip it over (common practice, no source).
    """
    bears = {i: {m for s in all_lifts().lifts[i].supports for m in s.points} for i in stations()["flat_bench"].lifts}
    trunk = {i for i, points in bears.items() if {"upper_back", "chest"} & points}
    assert bears.keys() - trunk == {"bench_dip", "push_up_feet_raised", "copenhagen_adduction", "rear_foot_raised_split_squat"}
    assert not any(needed(i) for i in ("one_arm_dumbbell_row", "concentration_curl"))


def test_a_box_is_no_household_thing():
    """A stair for calf raises is everywhere, a box at knee height is not (common practice, no source)."""
    assert not needed("one_leg_calf_raise") and not stations_at({"band"}, None)
    assert not needed("one_leg_box_squat") <= stations_at({"band"}, None) and not needed("step_up") <= stations_at({"band"}, [])
    assert needed("hanging_knee_raise") == {"bar_to_hang"}
