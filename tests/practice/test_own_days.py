"""A heavy and a light day of one lift stay so (common practice, no source: undulating loads within a week are how strength athletes train)."""

from datetime import date

from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import with_loads
from lengthwise.records.past import Past, _promised, _telling, _Trails
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of

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


def of(*visits):
    """The record with what these visits say."""
    return Past(known=_promised((_telling(visits, PRESS),), _Trails(visits, {}, ()), ())).of(CLIENT)


def planned(*visits, on=("monday", "thursday")):
    lift = PlannedLift(lift=PRESS, range="full", name="Barbell bench press", sets=3, repetitions=(8, 12), reserve=2.0)
    days = tuple(PlannedDay(d, "gym", 60.0, (lift,)) for d in on)
    week = Week(days=days, weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)
    return [x for d in with_loads(week, Loading(of(*visits), CLIENT, False)).days for x in d.lifts]


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


WEEKS = [visit(date(2026, 11, d), kg, n) for d, kg, n in ((16, 140, 5), (19, 120, 10), (23, 140, 6), (26, 120, 10))]


def test_asked_for_alone_it_is_the_heavy_day_of_the_week():
    """Nothing is kept, the log alone knows both days: load and week said different loads of it."""
    heavy, light = planned(*WEEKS)
    assert (heavy.load_kg, heavy.repetitions, light.load_kg, light.repetitions) == (140, (5, 8), 120, (8, 12))
    alone = load_of(CLIENT, PRESS, SetTarget(), of(*WEEKS))
    assert (alone.load_kg, alone.repetitions) == (heavy.load_kg, heavy.repetitions)
    up = [*WEEKS, visit(date(2026, 12, 3), 120, 12)]
    assert [x.load_kg for x in planned(*up)] == [140, 122.5], "the light day went up by its own sets"


def test_both_days_stay_where_they_move_to_other_days():
    for on in (("tuesday", "friday"), ("tuesday", "thursday"), ("monday", "saturday")):
        assert [x.load_kg for x in planned(*WEEKS, on=on)] == [140, 120], on
    assert [x.load_kg for x in planned(*WEEKS, on=("thursday", "saturday"))] == [120, 140], "thursday was the light day"
    assert [x.load_kg for x in planned(*WEEKS, on=("saturday",))] == [140]


def test_a_load_that_fell_back_is_no_light_day():
    """Four visits at the next weight, the last of them short, then the old weight again."""
    days = ((5, 120, 9), (9, 120, 10), (12, 130, 8), (16, 130, 7), (19, 130, 7), (23, 130, 3), (26, 120, 8))
    one, other = planned(*(visit(date(2026, 11, d), kg, n) for d, kg, n in days))
    assert (one.load_kg, one.repetitions) == (other.load_kg, other.repetitions)


def test_a_load_that_only_rose_has_no_light_day():
    """20 kg for twelve, then the next dumbbell for nine: a step, no light Monday."""
    rose = [visit(date(2026, 11, d), kg, n) for d, kg, n in ((16, 80, 11), (19, 80, 12), (23, 80, 12), (26, 85, 9))]
    one, other = planned(*rose)
    assert one.load_kg == other.load_kg
