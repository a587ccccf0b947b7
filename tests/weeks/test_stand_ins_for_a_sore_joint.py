"""A muscle whose lift a joint took gets what spares it in easy sets, and gives them back when its lift returns (common practice, no source)."""

from datetime import date, timedelta

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.borne import is_easy
from lengthwise.practice.logged_pain import Painful
from lengthwise.records.past import Past
from lengthwise.training.client import Client, FreeLift, PainfulLift, ReturningLift
from lengthwise.training.prescription import loads_for
from lengthwise.weeks.bare_muscles import with_needed, with_spared
from lengthwise.weeks.places_back import in_turn
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_steps import strained, without_resting

TODAY = date.today()


def client(lifts, joint, how, place="full_gym"):
    return Client.model_validate(
        {
            "name": "Invented", "sex": "woman", "stature_m": 1.7, "mass_kg": 70, "age_y": 41, "training": "trained", "training_years": 5,
            "days": [{"day": d, "place": "here", "minutes": 60} for d in ("monday", "thursday")], "places": {"here": {"preset": place}},
            "sore_joints": {joint: how},
            "known_lifts": [{"lift": i, "load_kg": kg, "repetitions": 10, "reserve": 2} for i, kg in lifts.items()],
        }
    )  # fmt: skip


def week(*lifts):
    done = tuple(PlannedLift(lift=i, range="full", name=i, sets=3, repetitions=(8, 12), reserve=2.0) for i in lifts)
    return Week(days=(PlannedDay("monday", "here", 60.0, done),), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)


def offered(found, rests=()):
    return with_needed(
        lambda ids: strained(found, without_resting(found, offer_of(found, wanted=ids, needed=ids), rests, ())), frozenset()
    )


@pytest.mark.parametrize(
    ("place", "joint", "hurt", "kg", "spare"),
    [
        ("full_gym", "hip", "back_squat", 60, {"hip_thrust", "leg_press"}),
        ("garage_rack", "elbow", "barbell_curl", 25, {"incline_dumbbell_curl"}),
        ("garage_rack", "shoulder", "dumbbell_bench_press", 14, {"dumbbell_floor_press"}),
    ],
)
def test_what_a_joint_took_is_done_by_what_spares_it_in_easy_sets(place, joint, hurt, kg, spare):
    """Whatever hurts such a joint gets no new lift in hard sets; a muscle that had none last week gets none of these either."""
    sore = client({hurt: kg}, joint, "moderate", place)
    pained = PainfulLift(lift=hurt, load_kg=kg, repetitions=10, hurt=joint, hurt_on=TODAY - timedelta(days=1))
    sore = sore.model_copy(update={"known_lifts": (*sore.known_lifts, pained)})
    before = offered(sore, [Painful(lift=hurt, joint=joint, day=TODAY - timedelta(days=1))])
    now = with_spared(sore, before, week(hurt))
    eased = {c.lift for c, was in zip(now.choices, before.choices, strict=True) if c != was}
    assert spare <= eased and all(
        c.gentle and not c.strains and is_easy(now.lighter[c.lift]) for c in now.choices if c.lift in eased
    )
    assert with_spared(sore, before, None) == before, "nothing was done before, so that nothing is kept out"
    other = with_spared(sore, before, week("seated_calf_raise"))
    assert other == before, "the joint took nothing from last week"


@pytest.mark.parametrize("place", ["full_gym", "garage_rack"])
@pytest.mark.parametrize(("kg", "metres"), [(62, 1.63), (96, 1.91)])
def test_a_severely_sore_knee_raises_the_straight_leg_in_a_gym_as_at_home(place, kg, metres):
    sore = client({}, "knee", "severe", place).model_copy(update={"mass_kg": kg, "stature_m": metres, "sex": "man"})
    here = {c.lift for c in offered(sore).choices}
    assert here & {"lying_leg_raise", "cable_hip_flexion", "band_hip_flexion"}, "by itself, or against what is there"


BACK = ReturningLift(
    lift="leg_press", load_kg=80, repetitions=12, reserve=3, day=TODAY, easy=True, hurt_before="knee", before_kg=120, done_kg=60
)


def back(*more, hurt=BACK):
    found = client({}, "neck", "mild").model_copy(update={"sore_joints": {}, "soreness": {}, "known_lifts": (hurt, *more)})
    return in_turn(found, offer_of(found), Past(back={"knee": TODAY - timedelta(days=20)}, pained={"leg_press": "knee"}), ())


def done(lift, days, kg=20.0):
    return FreeLift(lift=lift, load_kg=kg, repetitions=8, reserve=2, day=TODAY - timedelta(days=days))


@pytest.mark.parametrize("lift", ["walking_lunge", "back_squat", "hack_squat"])
def test_what_is_harder_on_the_joint_waits_until_the_lift_that_hurt_is_back(lift):
    """A sore knee is spared these by name or since it bends deep in them."""
    now = back(done(lift, 40))
    assert "knee" in now.out[lift] and "Leg press" in now.out[lift] and lift not in {c.lift for c in now.choices}
    assert lift not in back(done(lift, 2)).out, "it was done since"
    assert lift not in back(done(lift, 40), hurt=BACK.model_copy(update={"load_kg": 120.0})).out, "the lift that hurt is back"
    assert "seated_leg_curl" not in back(done("seated_leg_curl", 40)).out, "it does not bend the knee under the body's load"


@pytest.mark.parametrize(
    ("joint", "hurt", "lift", "waits"),
    [
        ("shoulder", "overhead_press", "bench_press", False),
        ("shoulder", "overhead_press", "seated_dumbbell_press", True),
        ("trunk", "deadlift", "floor_crunch", False),
        ("shoulder", "machine_chest_press", "bench_press", True),
    ],
)
def test_what_is_no_harder_than_the_lift_that_hurt_does_not_wait_for_it(joint, hurt, lift, waits):
    """What such a joint is spared by name comes after the rest (common practice, no source)."""
    held = BACK.model_copy(update={"lift": hurt, "hurt_before": joint})
    found = client({}, "neck", "mild").model_copy(update={"sore_joints": {}, "soreness": {}, "known_lifts": (held, done(lift, 40))})
    now = in_turn(found, offer_of(found), Past(back={joint: TODAY - timedelta(days=20)}, pained={hurt: joint}), ())
    assert (lift in now.out) is waits


def test_half_of_what_hurt_is_a_load_that_exists():
    found = client({}, "knee", "mild", "garage_rack")
    pained = PainfulLift(lift="back_squat", load_kg=56.25, repetitions=20, hurt="knee", before_kg=112.5)
    loads = loads_for(found.model_copy(update={"known_lifts": (pained,)}), "here", "back_squat", all_lifts().lifts["back_squat"])
    assert loads.below(56.25) == 55.0


def test_what_stood_in_goes_when_its_lift_comes_back():
    stood = BACK.model_copy(update={"lift": "goblet_squat", "load_kg": 16.0, "before_kg": 24.0, "stands_in": True})
    assert "Leg press" in back(stood).out["goblet_squat"]
    assert "goblet_squat" not in back(stood.model_copy(update={"stands_in": False})).out
