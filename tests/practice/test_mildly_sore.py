"""A mildly sore joint keeps what went without pain, a little lighter and with more left, and guesses stay sets (common practice, no source)."""

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.practice.borne import HALF, SHARE, borne
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.training.sore import spoiled
from lengthwise.weeks.clients import load_of

MAN = {
    "name": "Invented", "sex": "man", "stature_m": 1.76, "mass_kg": 78, "age_y": 41, "training": "trained", "training_years": 5,
    "days": [{"day": "monday", "place": "garage", "minutes": 60}],
    "places": {"garage": {"gear": {"barbell": {"bar_kg": 20, "plates_kg": [20, 15, 10, 5, 2.5, 1.25]}, "dumbbell": {"rack_kg": list(range(4, 32, 2))}}}},
}  # fmt: skip


def sore(joint, how, *known):
    lifts = [{"lift": i, "load_kg": kg, "repetitions": n, "reserve": 2} for i, kg, n in known]
    return Client.model_validate({**MAN, "sore_joints": {joint: how}, "known_lifts": lifts})


def why_out(client, lift):
    return spoiled(client, lift, all_lifts().lifts[lift], all_lifts().family[lift])


@pytest.mark.parametrize(
    ("joint", "lift", "kg"),
    [("shoulder", "bench_press", 80), ("shoulder", "incline_dumbbell_curl", 12), ("knee", "back_squat", 100)],
)
def test_what_was_done_stays_a_little_lighter(joint, lift, kg):
    mild = sore(joint, "mild", (lift, kg, 7))
    p = load_of(mild, lift, SetTarget())
    assert not why_out(mild, lift) and not p.gentle and p.reserve == 3
    assert 0.75 * kg <= p.load_kg <= kg
    assert p.repetitions[0] >= 7


def test_what_was_never_done_or_is_named_or_numbered_goes_as_before():
    assert why_out(sore("shoulder", "mild"), "bench_press")
    assert why_out(sore("shoulder", "moderate", ("bench_press", 80, 7)), "bench_press")
    assert why_out(sore("shoulder", "mild", ("barbell_upright_row", 30, 10)), "barbell_upright_row")
    assert why_out(sore("shoulder", 20.0, ("bench_press", 80, 7)), "bench_press")
    assert why_out(sore("trunk", "mild", ("floor_crunch", 0, 20)), "floor_crunch"), "the trunk is held still"


@pytest.mark.parametrize("joint", ["shoulder", "knee", "trunk", "elbow", "hip", "wrist"])
def test_a_guess_for_a_mildly_sore_joint_is_no_half_load(joint):
    """However large the model's moment is: less than that would be no set."""
    for i, family in all_lifts().family.items():
        part = borne(sore(joint, "mild"), i, family, {joint: 1000.0}).part
        assert HALF < part <= 1 and (part == 1 or part <= SHARE["mild"])
