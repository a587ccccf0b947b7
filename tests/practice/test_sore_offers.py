"""The half of a lift that a sore joint spares, and what is offered instead (positions: common practice, no source)."""

from dataclasses import replace

import pytest

from lengthwise.grading.joint_load import references
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import Muscle
from lengthwise.planning.week import Choice
from lengthwise.practice.borne import spared_nm
from lengthwise.practice.sore_choices import eased, sparing_joints
from lengthwise.practice.week_lifts import practice, practice_for
from lengthwise.training.client import Client, PainfulLift
from lengthwise.training.joint_reach import reach
from lengthwise.training.sore import sparing_part, spoiled, stops
from lengthwise.weeks.sore_offers import SoreOffer

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
        ("cable_crunch", "knee", "moderate", None),  # half of it is done kneeling as well
    ],
)
def test_a_half_is_offered_where_the_joint_is_spared_in_it(lift_id, joint, how, half):
    assert part(lift_id, joint, how) == half


def test_two_halves_reach_as_far_as_the_whole():
    for lift_id in ("bench_press", "back_squat", "lat_pulldown"):
        lift = all_lifts().lifts[lift_id]
        for angle in ("knee_flexion", "shoulder_flexion", "elbow_flexion"):
            for whole, low, high in zip(*(reach(lift, angle, part) for part in ((0.0, 1.0), (0.0, 0.5), (0.5, 1.0))), strict=True):
                assert min(low[0], high[0]) == pytest.approx(whole[0])
                assert max(low[1], high[1]) == pytest.approx(whole[1])


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
    muscle = Muscle(name="hamstrings", share={"semitendinosus": 1.0}, priority=1.0, low=8, high=16)
    allowed = spared_nm(sore_back("moderate"))["trunk"]
    left, _ = sparing_joints(sore_back("moderate"), (replace(hinge, joint_nm={"trunk": 4 * allowed}), *curls), (muscle,), (), {})
    assert "hinge" not in {c.lift for c in left}
    assert spared_nm(sore_back("mild"))["trunk"] == 2 * spared_nm(sore_back("moderate"))["trunk"]
    left, lighter = sparing_joints(sore_back("mild"), (hinge, *curls), (muscle,), (), {})
    assert lighter == pytest.approx({"hinge": spared_nm(sore_back("mild"))["trunk"] / 150.0})
    assert max(c.joint_nm["trunk"] for c in left) <= spared_nm(sore_back("mild"))["trunk"]
    assert spared_nm(sore_back(80)) == {"trunk": 80.0}


def test_a_strong_clients_joint_is_used_to_more_and_nobodys_counts_as_weaker_than_stated():
    """A fifth of the largest moment of an untrained man of 75 kg (grading/data/joints.toml), in proportion to the client's strength."""
    sore = {"sore_joints": {"shoulder": "moderate"}}
    strong = Client.model_validate({**PLAIN, **sore, "mass_kg": 95, "training": "advanced"})
    small = Client.model_validate({**PLAIN, **sore, "sex": "woman", "stature_m": 1.55, "mass_kg": 48, "training": "untrained"})
    assert spared_nm(small)["shoulder"] == references()["shoulder"].load_nm
    assert 1.4 < spared_nm(strong)["shoulder"] / references()["shoulder"].load_nm < 2.5


def pressing(lift_id, shoulder_nm):
    """An invented press for the chest that loads the shoulder so much."""
    known = replace(practice("machine_chest_press"), targets=("pectoralis_major_sternal",))
    return replace(bending(lift_id, "press_machine", 0.0), joint_nm={"shoulder": shoulder_nm}, practice=known, fraction={"pectoralis_major_sternal": 1.0})  # fmt: skip


def test_no_muscle_is_left_without_a_lift_for_a_joint_that_is_not_severely_sore():
    muscle = Muscle(name="chest", share={"pectoralis_major_sternal": 1.0}, priority=1.0, low=8, high=16)
    presses = tuple(pressing(f"press {k}", 200.0 + k) for k in range(4))
    for how, number in (("moderate", 2), ("severe", 0)):
        client = Client.model_validate({**PLAIN, "sore_joints": {"shoulder": how}})
        left, lighter = sparing_joints(client, presses, (muscle,), (), {})
        assert len(left) == number and set(lighter.values()) <= {0.3}
        assert all(c.joint_nm["shoulder"] <= spared_nm(client)["shoulder"] for c in left)


def test_a_squat_for_a_sore_knee_ends_on_a_box_or_a_chair_which_is_everywhere():
    lift, family = all_lifts().lifts["goblet_squat"], all_lifts().family["goblet_squat"]
    at_home = {"home": {"gear": {"dumbbell": {"rack_kg": [8]}}}}
    client = Client.model_validate({**PLAIN, "sore_joints": {"knee": "moderate"}, "places": at_home})
    assert not spoiled(client, "goblet_squat", lift, family)
    assert stops(client, "goblet_squat", lift, family) == (
        "go down to a box or chair that stops you there: bend the knee to about 90° at most",
    )
    assert "deep" in spoiled(client, "front_squat", all_lifts().lifts["front_squat"], all_lifts().family["front_squat"])


@pytest.mark.parametrize(
    ("lift_id", "joint"), [("back_extension_45", "elbow"), ("reverse_crunch", "shoulder"), ("floor_crunch", "shoulder")]
)
def test_an_arm_that_is_merely_folded_or_rests_overhead_spoils_no_lift(lift_id, joint):
    client = Client.model_validate({**PLAIN, "sore_joints": {joint: "moderate"}})
    assert not spoiled(client, lift_id, all_lifts().lifts[lift_id], all_lifts().family[lift_id])


@pytest.mark.parametrize(
    ("lift_id", "joint"), [("barbell_curl", "elbow"), ("overhead_press", "shoulder"), ("dumbbell_pullover", "shoulder")]
)
def test_an_arm_that_works_at_its_end_still_does(lift_id, joint):
    client = Client.model_validate({**PLAIN, "sore_joints": {joint: "moderate"}})
    assert spoiled(client, lift_id, all_lifts().lifts[lift_id], all_lifts().family[lift_id])


def test_with_a_sore_back_the_trunk_is_held_still():
    """Nothing turns or bends the trunk under load; what keeps it still is a lift that any coach writes down (common practice, no source)."""
    client = sore_back("moderate")
    for lift_id in ("cable_chop", "cable_side_bend", "machine_crunch"):
        assert spoiled(client, lift_id, all_lifts().lifts[lift_id], all_lifts().family[lift_id])
    assert not spoiled(client, "side_plank", all_lifts().lifts["side_plank"], all_lifts().family["side_plank"])
    assert practice_for(client, "side_plank").staple and not practice_for(Client.model_validate(PLAIN), "side_plank").staple


def test_easy_sets_rest_as_easy_ones():
    """A lift that hurt is begun in easy sets: nobody rests longer than after those of its sort (90 s over several joints)."""
    press = replace(
        bending("press", "leg_press", 5.0), rest_s=180, practice=replace(practice("leg_press"), targets=("semitendinosus",))
    )
    client = Client.model_validate(PLAIN)
    hurt = PainfulLift(lift="press", load_kg=50, repetitions=8, hurt="knee")
    (now,), _ = eased(client.model_copy(update={"known_lifts": (hurt,)}), (press,), {})
    assert now.gentle and now.rest_s == 90
    assert press.rest_s == 180 and eased(client, (press,), {})[0] == (press,)
