"""The half of a lift that a sore joint spares, and what is offered instead (positions: common practice, no source)."""

from dataclasses import replace

import pytest

from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.sore_choices import spared_nm, sparing_joints
from lengthwise.actions.sore_offers import SoreOffer
from lengthwise.actions.week_lifts import practice
from lengthwise.planning.question import Muscle
from lengthwise.planning.week import Choice
from lengthwise.training.client import Client
from lengthwise.training.sore import reach, sparing_part, spoiled

PLAIN = {"name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 80, "age_y": 30, "training": "trained"}


def part(lift_id, joint, how):
    client = Client.model_validate({**PLAIN, "sore_joints": {joint: how}})
    lifts = all_lifts()
    assert spoiled(client, lift_id, lifts.lifts[lift_id], lifts.family[lift_id])
    return sparing_part(client, lift_id, lifts.lifts[lift_id], lifts.family[lift_id])


@pytest.mark.parametrize(
    ("lift_id", "joint", "how", "half"),
    [
        ("bench_press", "shoulder", "moderate", "short"),  # the elbows go behind the chest at the bottom alone
        ("overhead_press", "shoulder", "moderate", "long"),  # the arm is overhead at the top alone
        ("wide_grip_bench_press", "shoulder", "moderate", None),  # named: nothing says where it hurts
    ],
)
def test_a_half_is_offered_where_the_joint_is_spared_in_it(lift_id, joint, how, half):
    assert part(lift_id, joint, how) == half


def test_two_halves_reach_as_far_as_the_whole():
    for lift_id in ("bench_press", "back_squat", "lat_pulldown"):
        lift = all_lifts().lifts[lift_id]
        whole, low, high = reach(lift), reach(lift, (0.0, 0.5)), reach(lift, (0.5, 1.0))
        for angle, (least, most) in whole.items():
            assert min(low[angle][0], high[angle][0]) == pytest.approx(least)
            assert max(low[angle][1], high[angle][1]) == pytest.approx(most)


def test_an_offer_says_what_is_lost_why_and_what_is_nearest():
    offer = SoreOffer("upper_back", "Barbell row", "trunk: a lift that hurts", ("Seal row (another grip or angle)",))
    assert offer.sentence == (
        "Upper back: Barbell row is left out (trunk: a lift that hurts). Nearest that spares it: Seal row (another grip or angle)."
    )
    assert "ask a clinician" in SoreOffer("chest", "Bench press", "", ()).sentence


def sore_back(how):
    return Client.model_validate({**PLAIN, "sore_joints": {"trunk": how}})


def bending(lift_id, family, trunk_nm):
    """An invented lift for the hamstrings that loads the trunk so much."""
    known = replace(practice("romanian_deadlift"), family=family, targets=("semitendinosus",), staple=True)
    return Choice(
        lift=lift_id, range="full", name=lift_id, gear="barbell", value={"hamstrings": 1.0}, fraction={"semitendinosus": 1.0}, setup_s=60,
        set_s=40, rest_s=120, joint_nm={"trunk": trunk_nm}, systemic=0.5, practice=known,
    )  # fmt: skip


def test_a_mildly_sore_back_keeps_a_light_hinge_and_a_sorer_one_does_not():
    """A named moment is what the record says; mild allows twice what counts as a real load (own choice)."""
    hinge, curls = bending("hinge", "hip_hinge", 150.0), [bending(f"curl {k}", "knee_flexion", 5.0) for k in range(3)]
    muscle = Muscle("hamstrings", {"semitendinosus": 1.0}, 1.0, 8, 16)
    left, _ = sparing_joints(sore_back("moderate"), (replace(hinge, joint_nm={"trunk": 160.0}), *curls), (muscle,), (), {})
    assert "hinge" not in {c.lift for c in left}
    assert spared_nm(sore_back("mild"))["trunk"] == 2 * spared_nm(sore_back("moderate"))["trunk"]
    left, lighter = sparing_joints(sore_back("mild"), (hinge, *curls), (muscle,), (), {})
    assert lighter == {"hinge": 0.5} and max(c.joint_nm["trunk"] for c in left) <= spared_nm(sore_back("mild"))["trunk"]
    assert spared_nm(sore_back(80)) == {"trunk": 80.0}
