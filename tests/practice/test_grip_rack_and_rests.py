"""What a lift asks of a sore joint beside bending it: a hard grip, a bar held on the shoulders, the body resting on an arm or a knee, and near kin of what hurts
(common practice, no source).
"""

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.prescription import SetTarget
from lengthwise.training.sore import rules, spoiled
from lengthwise.training.sore_kin import near_kin
from lengthwise.weeks.clients import lighter_of, load_of
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_plans import plan_week

GYM, HOME = (
    {"gym": {"preset": "full_gym"}},
    {"gym": {"gear": {"dumbbell": {"rack_kg": [2, 4, 6, 8, 10]}, "body": {}}, "stations": ["flat_bench", "incline_bench"]}},
)


def client(sore, places=GYM, **more):
    return Client.model_validate(
        {
            "name": "Invented", "sex": "woman", "stature_m": 1.71, "mass_kg": 68, "age_y": 38, "training": "trained", "training_years": 6,
            "days": [{"day": d, "place": "gym", "minutes": 50} for d in ("monday", "thursday")], "places": places, "sore_joints": sore, **more,
        }
    )  # fmt: skip


def why(sore, lift, *done):
    who = client(sore).model_copy(
        update={"known_lifts": tuple(KnownLift(lift=i, load_kg=20, repetitions=10, reserve=2) for i in done)}
    )
    return spoiled(who, lift, all_lifts().lifts[lift], all_lifts().family[lift])


@pytest.mark.parametrize("joint", ["elbow", "wrist"])
@pytest.mark.parametrize(
    "lift", ["romanian_deadlift", "reverse_lunge", "dumbbell_shrug", "kettlebell_deadlift", "held_one_leg_romanian_deadlift"]
)
def test_a_heavy_weight_in_the_hand_is_not_begun_with_a_severely_sore_elbow_or_wrist(joint, lift):
    assert why({joint: "severe"}, lift) == f"{joint}: a hard grip loads it"
    assert not why({joint: "severe"}, lift, lift) and not why({joint: "moderate"}, lift)


@pytest.mark.parametrize("joint", ["elbow", "wrist", "shoulder"])
def test_a_bar_held_on_the_front_of_the_shoulders_is_not_begun_with_a_sore_arm(joint):
    assert why({joint: "moderate"}, "front_squat") and not why({joint: "mild"}, "front_squat")
    assert not why({joint: "severe"}, "leg_press") and not why({joint: "severe"}, "belt_squat")


def test_a_weight_before_the_chest_waits_for_a_severe_elbow_alone():
    assert "fully bent" in why({"elbow": "severe"}, "goblet_squat") and not why({"elbow": "moderate"}, "goblet_squat")
    assert not why({"wrist": "severe"}, "bodyweight_squat")


@pytest.mark.parametrize(
    ("lift", "how"), [("side_plank", "moderate"), ("plank", "moderate"), ("bird_dog", "severe"), ("push_up_plus", "severe")]
)
def test_what_rests_the_body_on_a_sore_arm_is_not_begun(lift, how):
    assert "rests on" in why({"shoulder": how}, lift) and not why({"shoulder": "mild"}, lift)
    assert not why({"shoulder": how}, "anti_rotation_press") and not why({"shoulder": how}, "machine_abduction")


@pytest.mark.parametrize("lift", ["push_up_table", "push_up_hands_raised"])
def test_no_push_up_on_flat_hands_is_begun_with_a_moderately_sore_wrist(lift):
    assert why({"wrist": "moderate"}, lift) and not why({"wrist": "mild"}, lift) and not why({"wrist": "moderate"}, lift, lift)
    assert not why({"wrist": "moderate"}, "push_up_hanging_straps"), "the hand stays straight round a handle"


def test_who_does_a_plank_without_pain_keeps_it_while_the_shoulder_is_moderate():
    assert not why({"shoulder": "moderate"}, "plank", "plank") and why({"shoulder": "severe"}, "plank", "plank")


@pytest.mark.parametrize("lift", ["push_up_knees", "kneeling_kickback", "bird_dog"])
def test_nobody_rests_on_a_sore_knee(lift):
    assert why({"knee": "moderate"}, lift) == "knee: the body rests on the knee"


@pytest.mark.parametrize(
    ("joint", "lift", "hurts"),
    [
        ("elbow", "incline_dumbbell_extension", "lying"),
        ("elbow", "lying_cable_extension", "lying"),
        ("wrist", "guided_bar_bench_press", "bench press"),
        ("shoulder", "band_fly", "fly"),
        ("neck", "cable_shrug", "shrug"),
    ],
)
def test_near_kin_of_what_hurts_is_no_stand_in_for_it(joint, lift, hurts):
    said = why({joint: "severe"}, lift)
    assert said.startswith(f"{joint}: much like ") and hurts in said.lower()
    assert "much like" not in why({joint: "severe"}, lift, lift)


@pytest.mark.parametrize(
    ("joint", "lift"),
    [("wrist", "dumbbell_curl"), ("elbow", "machine_extension_seated"), ("shoulder", "push_up_table"), ("hip", "leg_press")],
)
def test_another_grip_a_machine_or_less_range_is_no_near_kin(joint, lift):
    own = rules()[joint]
    assert not near_kin(joint, lift, all_lifts().lifts[lift], all_lifts().family[lift], frozenset().union(*own.lifts.values()))


def test_no_week_stands_on_a_severe_wrist_by_grip_or_palm_and_says_what_is_missing():
    who = client({"wrist": "severe"}, HOME)
    offer, week = offer_of(who), plan_week(who)
    there = {x.lift for d in week.days for x in d.lifts}
    assert there and not there & {
        "dumbbell_romanian_deadlift",
        "push_up_table",
        "push_up_hands_raised",
        "reverse_lunge",
        "bird_dog",
    }
    assert "a hard grip" in offer.out["dumbbell_romanian_deadlift"]
    assert not there & {i for i, reason in offer.out.items() if reason.startswith("wrist")}


@pytest.mark.parametrize("sore", [{"shoulder": "moderate"}, {}])
def test_with_thin_bones_a_trunk_is_held_by_a_cable_where_an_arm_bears_no_plank(sore):
    who = client(
        sore,
        {"gym": {"gear": {"cable": {"stack_kg": [2.5, 50, 2.5]}, "sled": {}, "lever": {}}}},
        age_y=71,
        screening={
            "active_now": True, "intensity": "moderate", "conditions": ["osteoporosis"], "cleared_by_clinician": "2026-11-20",
            "clearance_covers_symptoms": True,
        },
    )  # fmt: skip
    there = {x.lift for d in plan_week(who).days for x in d.lifts}
    assert there & {"anti_rotation_press", *({"side_plank", "side_plank_knees", "plank"} if not sore else ())}
    assert not (sore and there & {"side_plank", "side_plank_knees", "plank"})


def test_a_severe_knee_at_home_begins_off_a_chair_not_with_a_weight():
    who = client(
        {"knee": "severe"},
        {"gym": {"gear": {"dumbbell": {"rack_kg": [1, 2, 4]}, "body": {}}, "stations": ["box"]}},
        age_y=58, training="untrained", training_years=0, screening={"active_now": False, "intensity": "moderate"},
    )  # fmt: skip
    there = {x.lift: x for d in plan_week(who).days for x in d.lifts}
    assert there.keys() & {"sit_to_stand", "lying_leg_raise", "body_weight_bridge"} and not there.keys() & {"goblet_squat"}


@pytest.mark.parametrize(
    ("joint", "lift"),
    [
        ("knee", "one_leg_romanian_deadlift"),
        ("hip", "one_leg_hip_thrust"),
        ("ankle", "split_squat_free"),
        ("trunk", "cable_pull_through"),
        ("neck", "floor_crunch"),
        ("neck", "seated_dumbbell_press"),
        ("neck", "dumbbell_romanian_deadlift"),
    ],
)
def test_a_severe_joint_is_spared_what_puts_the_whole_body_or_a_hanging_weight_on_it(joint, lift):
    assert why({joint: "severe"}, lift).startswith(("back" if joint == "trunk" else joint) + ":") and not why({joint: "mild"}, lift)


@pytest.mark.parametrize("lift", ["push_up", "push_up_wide", "parallel_bar_dip"])
def test_a_severe_joint_gets_no_half_of_what_the_body_makes_heavy(lift):
    here = offer_of(
        client({"elbow": "severe"}, {"gym": {"gear": {"body": {}}, "stations": ["table", "dip_bars"]}}, wishes={"liked": [lift]})
    )
    assert lift not in {c.lift for c in here.choices}


def test_presses_for_a_severe_wrist_are_easy_sets_and_a_gripped_hinge_leaves_three_at_moderate():
    assert lighter_of(client({"wrist": "severe"}), "dumbbell_bench_press")["dumbbell_bench_press"] <= 0.5
    for how, left in (("moderate", 3), ("mild", 2)):
        who = client({"elbow": how}, training_years=9)
        assert load_of(who, "romanian_deadlift", SetTarget()).reserve == left


def test_nobody_old_and_new_bridges_on_one_heel():
    who = client(
        {}, {"gym": {"gear": {"body": {}}, "stations": ["box"]}}, age_y=69, training="untrained", training_years=0,
        screening={"active_now": False, "intensity": "moderate"},
    )  # fmt: skip
    assert {"one_leg_heel_bridge", "one_leg_hip_thrust"} <= offer_of(who).out.keys()


def test_what_a_severe_joint_begins_with_is_not_too_easy_for_who_trains():
    for sore, lift in (({"hip": "severe"}, "body_weight_bridge"), ({"knee": "severe"}, "sit_to_stand")):
        assert lift in {c.lift for c in offer_of(client(sore)).choices}
        assert lift not in {c.lift for c in offer_of(client(dict.fromkeys(sore, "mild"))).choices}
