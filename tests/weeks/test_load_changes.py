"""A load that fell, or rose by more than a usual step, stands among the changes of a week (common practice, no source)."""

from dataclasses import replace
from datetime import date

from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.logged_pain import Hurt
from lengthwise.records.past import NOTHING
from lengthwise.training.client import Client
from lengthwise.weeks.load_changes import load_changes

CLIENT = Client.model_validate({"name": "Invented", "sex": "woman", "stature_m": 1.7, "mass_kg": 66, "age_y": 36})
PRESS = PlannedLift(lift="bench_press", range="full", name="Press", sets=3, repetitions=(6, 10), reserve=2.0, gear="barbell")


def week(**loads):
    days = (PlannedDay(d, "gym", 60.0, (replace(PRESS, load_kg=kg),)) for d, kg in loads.items())
    return Week(days=tuple(days), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)


def told(was, now, past=NOTHING):
    return [(c.what, c.why) for c in load_changes(was, now, CLIENT, past)]


def test_a_fall_and_a_leap_are_told_and_a_step_is_not():
    assert told(week(monday=55.0), week(monday=47.5)) == [("Press: 47.5 kg instead of 55 kg", "")]
    assert told(week(monday=40.0), week(monday=60.0)) == [("Press: 60 kg instead of 40 kg", "")]
    assert told(week(monday=50.0), week(monday=52.5)) == [] == told(week(monday=50.0), week(monday=None))


def test_the_heaviest_day_counts_and_pain_is_the_reason():
    hurt = replace(
        NOTHING, hurt=(Hurt(lift="bench_press", joint="shoulder", day=date(2026, 1, 5), sets=1, of=3, load_kg=50.0, repetitions=8),)
    )
    assert told(week(monday=50.0, friday=40.0), week(monday=40.0, friday=50.0)) == []
    (one,) = told(week(monday=50.0, friday=40.0), week(monday=25.0, friday=25.0), hurt)
    assert one == ("Press: 25 kg instead of 50 kg", "the shoulder hurt when it was last done")
