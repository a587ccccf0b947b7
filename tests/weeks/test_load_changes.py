"""A load that fell, or rose by more than a usual step, stands among the changes of a week (common practice, no source)."""

from dataclasses import replace
from datetime import date

from lengthwise.planning.week import PlannedDay, PlannedLift, Swapped, Week
from lengthwise.practice.logged_pain import Hurt, SoreByLog
from lengthwise.records.past import NOTHING
from lengthwise.training.client import Client, KnownLift, PromisedLift, ReturningLift
from lengthwise.training.trail import Promise, Trail
from lengthwise.weeks.load_changes import load_changes

CLIENT = Client.model_validate({"name": "Invented", "sex": "woman", "stature_m": 1.7, "mass_kg": 66, "age_y": 36})
PRESS = PlannedLift(lift="bench_press", range="full", name="Press", sets=3, repetitions=(6, 10), reserve=2.0, gear="barbell")


def week(**loads):
    days = (PlannedDay(d, "gym", 60.0, (replace(PRESS, load_kg=kg),)) for d, kg in loads.items())
    return Week(days=tuple(days), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)


def told(was, now, past=NOTHING):
    return [(c.what, c.why) for c in load_changes(was, now, CLIENT, past)]


def test_a_fall_and_a_leap_are_told_and_a_step_is_not():
    now = "by the record and the log as they are now"
    assert told(week(monday=55.0), week(monday=47.5)) == [("Press: 47.5 kg instead of 55 kg", now)]
    assert told(week(monday=40.0), week(monday=60.0)) == [("Press: 60 kg instead of 40 kg", now)]
    assert told(week(monday=50.0), week(monday=52.5)) == [] == told(week(monday=50.0), week(monday=None))


def test_the_heaviest_day_counts_and_pain_is_the_reason():
    hurt = replace(
        NOTHING, hurt=(Hurt(lift="bench_press", joint="shoulder", day=date(2026, 1, 5), sets=1, of=3, load_kg=50.0, repetitions=8),)
    )
    assert told(week(monday=50.0, friday=40.0), week(monday=40.0, friday=50.0)) == []
    (one,) = told(week(monday=50.0, friday=40.0), week(monday=25.0, friday=25.0), hurt)
    assert one == ("Press: 25 kg instead of 50 kg", "the shoulder hurt when it was last done")


CURLER = CLIENT.model_copy(update={"sore_joints": {"elbow": None}, "soreness": {"elbow": "moderate"}})
ROW = {"lift": "seated_cable_row", "load_kg": 40, "repetitions": 10, "reserve": 2, "day": date(2026, 1, 5)}


def rows(**loads):
    days = (
        PlannedDay(d, "gym", 60.0, (replace(PRESS, lift="seated_cable_row", name="Row", gear="cable", load_kg=kg),))
        for d, kg in loads.items()
    )
    return Week(days=tuple(days), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)


def why(was, now, known, client=CURLER, **past):
    (one,) = load_changes(
        rows(monday=was), rows(monday=now), client, replace(NOTHING, known=(known,), sore={"elbow": SORE}, **past)
    )
    return one.why


SORE = SoreByLog(date(2026, 1, 6), "moderate")
FOLLOWED = Trail(promise=Promise(load_kg=40, repetitions=(8, 12), reserve=2), days=((),))


def test_a_cut_for_a_joint_names_it_and_a_rise_is_never_told_as_one():
    """Nothing of the row was logged since another lift hurt the elbow."""
    cut = PromisedLift(**ROW, trail=Trail(promise=None), hurt_since=("elbow",), hurt_near="elbow")
    assert why(40.0, 30.0, cut) == "for the sake of the elbow, which hurt lately"
    near = PromisedLift(**ROW, trail=FOLLOWED, hurt_near="elbow")
    assert why(40.0, 35.0, near) == "for the sake of the elbow, which hurt lately"
    calm = PromisedLift(**ROW, trail=FOLLOWED)
    assert why(40.0, 35.0, calm) == "by what was logged since" == why(35.0, 40.0, calm)
    assert "elbow" not in why(15.0, 30.0, cut)
    day = date(2026, 1, 5)
    taken = Swapped(lift="barbell_row", to="seated_cable_row", told=day, first=day, until=date(2026, 2, 2), joint="elbow")
    assert "Bent-over barbell row" in why(15.0, 30.0, KnownLift(**ROW), away=(taken,))
    back = ReturningLift(**ROW, hurt_before="elbow", before_kg=50, done_kg=35)
    assert why(35.0, 40.0, back) == "elbow: a step on its way back"
    assert "not done" in why(50.0, 40.0, back.model_copy(update={"done_kg": None}))
