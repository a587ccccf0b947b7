"""What an outside coach would not sign of first loads and sore joints: old beginners, knees near straight, steps after pain. Common practice."""

from datetime import date

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.training.client import Client, FreeLift, PainfulLift
from lengthwise.training.joint_use import joints_loaded
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.week_choices import offer_of

WOMAN = {
    "name": "Invented Example", "sex": "woman", "stature_m": 1.6, "mass_kg": 70, "age_y": 71, "training": "untrained",
    "screening": {"active_now": True, "intensity": "moderate"}, "places": {"home": {"preset": "home_dumbbells"}},
}  # fmt: skip
MAN = {
    "name": "Invented Example", "sex": "man", "stature_m": 1.8, "mass_kg": 86, "age_y": 47, "training": "trained", "training_years": 5,
    "places": {"gym": {"preset": "full_gym"}},
}  # fmt: skip


def of(table, **more):
    return Client.model_validate({**table, **more})


def test_an_old_beginner_s_first_squat_holds_little_more_than_the_body():
    """0.06 of 70 kg: the dumbbells at home weigh 2 or 4.5 kg. Nobody is told that it is light, nor worked up on the day."""
    p = load_of(of(WOMAN), "goblet_squat", SetTarget())
    assert p.load_kg is not None and p.load_kg <= 0.06 * 70
    assert not any("light for you" in n for n in p.notes) and not any("work up" in s for s in p.first_session)
    younger = load_of(of(WOMAN, age_y=35), "goblet_squat", SetTarget())
    assert (younger.load_kg or 0) > p.load_kg


@pytest.mark.parametrize("how", ["moderate", "severe"])
def test_a_leg_extension_for_a_sore_knee_stops_short_of_straight(how):
    p = load_of(of(MAN, sore_joints={"knee": how}), "leg_extension", SetTarget())
    assert any("not straight" in n for n in p.notes)
    squat = load_of(of(MAN, sore_joints={"knee": how}), "leg_press", SetTarget())
    assert not any("not straight" in n for n in squat.notes)


def test_a_curl_lightened_for_a_shoulder_is_not_said_to_be_so_for_a_knee():
    client = of(MAN, sore_joints={"knee": "moderate", "shoulder": "moderate"})
    assert joints_loaded(client, "cambered_bar_curl", all_lifts().lifts["cambered_bar_curl"], "elbow_flexion") == "shoulder"


def test_nothing_goes_up_in_a_joint_that_hurt_in_another_lift():
    """Twelve of 22.5 kg in every set earn a step; not after a leg press that hurt the same knee."""
    day = date(2026, 11, 20)
    fine = FreeLift(lift="leg_extension", load_kg=40, repetitions=15, reserve=2, day=day)
    hurt = PainfulLift(lift="leg_press", load_kg=100, repetitions=10, reserve=3, day=day, hurt="knee")
    for known, up in (((fine,), True), ((fine, hurt), False)):
        p = load_of(of(MAN), "leg_extension", SetTarget(), of(MAN).model_copy(update={"known_lifts": known}))
        assert (p.load_kg > 40 or p.bridge is not None) == up and (up or p.load_kg <= 40)


def test_nobody_begins_a_bar_on_the_back_with_a_sore_shoulder():
    from lengthwise.training.sore import spoiled

    client = of(MAN, sore_joints={"shoulder": "moderate"})
    lifts = all_lifts()
    assert spoiled(client, "box_squat", lifts.lifts["box_squat"], "squat")
    knows = client.model_copy(update={"known_lifts": (FreeLift(lift="box_squat", load_kg=80, repetitions=8, reserve=2),)})
    assert not spoiled(knows, "box_squat", lifts.lifts["box_squat"], "squat")


@pytest.mark.parametrize("sore", [{}, {"knee": "moderate"}])
def test_a_lift_rests_alone_as_in_a_week(sore):
    client = of(MAN, sore_joints=sore, days=[{"day": "monday", "place": "gym", "minutes": 60}])
    asked = ("hip_thrust", "leg_press", "barbell_row", "leg_extension", "plank", "romanian_deadlift", "lat_pulldown")
    rests = {c.lift: c.rest_s for c in offer_of(client, wanted=asked).choices if c.lift in asked}
    assert len(rests) > 5
    assert {i: load_of(client, i, SetTarget()).rest_s for i in rests} == rests


@pytest.mark.parametrize(
    ("done", "kg", "lift", "least", "most"),
    [
        ("lat_pulldown", 65, "machine_row", 0.6, 1.0),
        ("lat_pulldown", 65, "machine_high_row", 0.6, 1.0),
        ("lat_pulldown", 65, "seated_cable_row", 0.6, 1.0),
        ("barbell_curl", 35, "machine_preacher_curl", 0.5, 0.8),
    ],
)
def test_a_first_load_of_a_machine_keeps_to_what_its_like_was_done_with(done, kg, lift, least, most):
    """Two outside coaches: no first row above the own pulldown, no preacher machine of less than half of the own curl (common practice)."""
    client = of(MAN, known_lifts=[{"lift": done, "load_kg": kg, "repetitions": 10, "reserve": 2}])
    p = load_of(client, lift, SetTarget(repetitions=(10, 12), reserve=2))
    assert p.guess and least * kg <= p.load_kg <= most * kg


def test_what_is_easier_than_a_calf_raise_is_no_shorter_lever():
    p = load_of(of(MAN, mass_kg=120, training="untrained", training_years=0), "body_weight_calf_raise", SetTarget(place="gym"))
    assert p.guess and p.load_kg == 0
    assert any("weight off with the hands" in n for n in p.notes)
