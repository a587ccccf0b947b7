"""What a sore joint bears is one limit, for loads that were done and for guesses alike.

All rules here are common practice, no source: more done without pain is never answered with less; a few percent more never with a fraction;
a guess is no heavier than what the joint bears; a joint that only steadies is not touched; what stands on one machine shares a limit.
"""

from functools import cache
from itertools import pairwise

import pytest

from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.borne import counted_nm, limit_nm, spared_nm, works
from lengthwise.practice.joint_caps import usual_nm
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.training.client import Client
from lengthwise.training.joint_use import works_joint
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import lighter_of, load_of

STEP_KG = 5.0
"""No stack or bar of a full gym has a wider step."""
RACK_KG = 1.0
"""A step of light dumbbells: the usual load that is then known was rounded down by up to two of them, half of it by one."""
ROUNDED_KG = 2.5
"""The model's moment for each kilogram rises by some 10 % from 80 to 120 kg on a leg press, so that a limit falls by up to a step of the bar."""


@cache
def client(joint="", how="", lift="", load_kg=0.0):
    known = [{"lift": lift, "load_kg": load_kg, "repetitions": 10, "reserve": 2}] if lift else []
    return Client.model_validate(
        {
            "name": "Invented", "sex": "woman", "stature_m": 1.66, "mass_kg": 68, "age_y": 48, "training": "recreational", "training_years": 3,
            "days": [{"day": "monday", "place": "gym", "minutes": 60}], "places": {"gym": {"preset": "full_gym"}}, "known_lifts": known,
            "sore_joints": {joint: how} if joint else {},
        }
    )  # fmt: skip


def facts(who, lift):
    return facts_of_lifts(calibrated_person(who), [(lift, all_lifts().lifts[lift], "full")])[lift, "full"]


def load(who, lift):
    return load_of(who, lift, SetTarget()).load_kg


@pytest.mark.parametrize(
    ("joint", "how", "lift", "first_kg"),
    [
        ("trunk", "severe", "lat_pulldown", 40.0),
        ("trunk", "severe", "hip_thrust", 60.0),
        ("knee", "severe", "leg_extension", 15.0),
        ("knee", "severe", "seated_leg_curl", 25.0),
        ("knee", "moderate", "leg_press", 80.0),
    ],
)
def test_more_done_without_pain_is_never_answered_with_less_and_a_little_more_with_a_little(joint, how, lift, first_kg):
    given = [load(client(joint, how, lift, round(first_kg * 1.06**k * 2) / 2), lift) for k in range(6)]
    for before, after in pairwise(given):
        assert before - ROUNDED_KG <= after <= before * 1.06 + STEP_KG


@pytest.mark.parametrize("lift", ["leg_extension", "seated_leg_curl", "goblet_squat", "horizontal_leg_press"])
def test_a_guess_is_within_what_a_severely_sore_joint_bears_and_no_more_than_the_same_load_when_known(lift):
    new = client("knee", "severe")
    guess = load(new, lift)
    f = facts(new, lift)
    limit = limit_nm(new, "knee", spared_nm(new)["knee"], lift)
    assert guess * f.joints_nm["knee"] / f.working_kg <= limit or guess == pytest.approx(least(new, lift))
    usual = load(client(), lift)
    assert guess <= load(client("knee", "severe", lift, usual), lift) + RACK_KG


def least(who, lift):
    """The lightest load there is."""
    return load_of(who, lift, SetTarget(repetitions=(100, 100))).load_kg


@pytest.mark.parametrize(
    ("joint", "lift"), [("knee", "rope_push_down"), ("trunk", "cable_curl"), ("trunk", "lat_pulldown"), ("knee", "lat_pulldown")]
)
@pytest.mark.parametrize("how", ["mild", "moderate", "severe"])
def test_a_joint_that_only_steadies_is_not_touched(joint, lift, how):
    usual = load(client(), lift)
    assert load(client(joint, how), lift) == usual and not lighter_of(client(joint, how), lift)
    known = client(joint, how, lift, 1.1 * usual)
    assert load(known, lift) == load(client(lift=lift, load_kg=1.1 * usual), lift)
    f = facts(known, lift)
    assert not works(known, lift, all_lifts().family[lift], usual_nm(known, f)) or joint == "trunk"


@pytest.mark.parametrize(
    ("lift", "joint", "uses"),
    [
        ("leg_press", "knee", True),
        ("leg_press", "trunk", False),
        ("romanian_deadlift", "trunk", True),
        ("romanian_deadlift", "knee", False),
        ("rope_push_down", "elbow", True),
        ("rope_push_down", "knee", False),
        ("bench_press", "shoulder", True),
        ("anti_rotation_press", "trunk", True),
    ],
)
def test_a_lift_works_the_joints_that_it_moves_and_the_trunk_that_it_is_meant_to_hold(lift, joint, uses):
    assert works_joint(all_lifts().lifts[lift], joint) == uses


def test_moments_that_only_pass_through_count_beyond_what_steadies():
    who = client("trunk", "moderate")
    most = spared_nm(who)["trunk"]
    limit = limit_nm(who, "trunk", most, "cable_curl")
    counted = [counted_nm(who, "cable_curl", {"trunk": nm})["trunk"] for nm in (0.3 * limit, limit, limit + 7)]
    assert counted == pytest.approx([0.0, most, most + 7])


@pytest.mark.parametrize("how", ["mild", "moderate", "severe"])
@pytest.mark.parametrize("done_kg", [0.0, 110.0])
def test_a_calf_raise_on_the_press_is_no_heavier_than_the_press(how, done_kg):
    who = client("knee", how, "leg_press", done_kg) if done_kg else client("knee", how)
    assert load(who, "leg_press_calf_raise") <= load(who, "leg_press") + 0.01


@pytest.mark.parametrize("how", ["moderate", "severe"])
def test_what_takes_a_cut_lifts_place_is_no_heavier_than_what_the_joint_leaves_of_it(how):
    who = client("knee", how, "leg_extension", 40.0)
    left = load(who, "leg_extension")
    assert left < 40 and load(who, "leg_extension_leaned_back") <= left


@pytest.mark.parametrize(
    ("joint", "how", "lift", "done_kg"),
    [
        ("trunk", "moderate", "hammer_curl", 18.0),
        ("shoulder", "moderate", "machine_abduction", 50.0),
        ("ankle", "mild", "leg_press", 180.0),
        ("ankle", "severe", "leg_press", 0.0),
        ("neck", "severe", "machine_abduction", 0.0),
    ],
)
def test_a_joint_that_a_lift_hardly_loads_cuts_nothing(joint, how, lift, done_kg):
    sore, sound = (load(strong(joints, lift, done_kg), lift) for joints in ({joint: how}, {}))
    assert sore >= 0.95 * sound


@pytest.mark.parametrize(("joint", "lift"), [("shoulder", "machine_row"), ("elbow", "dumbbell_bench_press")])
def test_what_a_severe_joint_bears_is_never_a_toy(joint, lift):
    sore, sound = (load(strong(joints), lift) for joints in ({joint: "severe"}, {}))
    assert 0.3 * sound <= sore <= 0.5 * sound


def strong(sore, lift="", load_kg=0.0):
    """An invented man who squats 110 and benches 80 kg for ten."""
    known = [("back_squat", 110), ("bench_press", 80), *([(lift, load_kg)] if load_kg else [])]
    return Client.model_validate(
        {
            **client().model_dump(), "sex": "man", "stature_m": 1.8, "mass_kg": 84, "training": "trained", "training_years": 6,
            "known_lifts": [{"lift": i, "load_kg": kg, "repetitions": 10, "reserve": 2} for i, kg in known], "sore_joints": sore,
        }
    )  # fmt: skip
