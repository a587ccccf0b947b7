"""A heavy and a light day of one lift stay so (common practice, no source: undulating loads within a week are how strength athletes train)."""

from datetime import date

from lengthwise.actions.loading import Loading
from lengthwise.actions.own_days import by_own_days
from lengthwise.actions.past import Past, shown_by
from lengthwise.actions.week_loads import with_loads
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Session

PRESS = "bench_press"
CLIENT = Client.model_validate(
    {
        "name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 90, "age_y": 30, "training": "advanced", "training_years": 9,
        "days": [{"day": d, "place": "gym", "minutes": 90} for d in ("monday", "thursday")], "places": {"gym": {"preset": "full_gym"}},
    }
)  # fmt: skip


def visit(day, load_kg, repetitions, pain=()):
    return Session(
        day=day, sets=tuple(LoggedSet(lift=PRESS, load_kg=load_kg, repetitions=repetitions, reserve=2, pain=pain) for _ in range(3))
    )


def planned(*visits):
    lift = PlannedLift(lift=PRESS, range="full", name="Barbell bench press", sets=3, repetitions=(8, 12), reserve=2.0)
    days = tuple(PlannedDay(d.day, "gym", 60.0, (lift,)) for d in CLIENT.days)
    week = Week(days=days, weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)
    known = tuple(k for v in visits if (k := shown_by(v.day, list(v.sets))))
    how = Loading(Past(known=known).of(CLIENT), CLIENT, False)
    made = by_own_days(with_loads(week, how), how, visits, CLIENT)
    return [x for d in made.days for x in d.lifts]


def test_each_day_goes_on_from_its_own_set():
    heavy, light = planned(visit(date(2026, 11, 23), 140, 5), visit(date(2026, 11, 26), 122.5, 9))
    assert 137.5 <= heavy.load_kg <= 145 and 120 <= light.load_kg <= 127.5
    assert heavy.repetitions[0] <= 5 and light.repetitions[1] >= 9


def test_two_days_alike_share_one_load():
    one, other = planned(visit(date(2026, 11, 23), 120, 8), visit(date(2026, 11, 26), 120, 7))
    assert one.load_kg == other.load_kg and one.repetitions == other.repetitions


def test_a_day_that_hurt_is_no_light_day():
    one, other = planned(visit(date(2026, 11, 23), 140, 5), visit(date(2026, 11, 26), 90, 9, pain=("shoulder",)))
    assert one.load_kg == other.load_kg
