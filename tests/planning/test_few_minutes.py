"""Two short days: a squat or hinge, a press and a pull on each, about three sets of each, and what is small after that (common practice, no source)."""

from dataclasses import replace

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.practice import lists
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.rules import default_rules
from lengthwise.practice.week_lifts import practice
from lengthwise.training.client import Client
from lengthwise.weeks.week_plans import plan_week

KNOWN = {"back_squat": 90, "bench_press": 75, "romanian_deadlift": 90, "barbell_row": 60}
JOBS = ("press", "pull", "legs")


def somebody(minutes=45, **other):
    known = [{"lift": i, "load_kg": kg, "repetitions": 8, "reserve": 2} for i, kg in KNOWN.items()]
    days = [{"day": d, "place": "gym", "minutes": minutes} for d in ("monday", "thursday")]
    record = {
        "name": "Invented", "sex": "man", "stature_m": 1.77, "mass_kg": 79, "age_y": 41, "training": "trained", "training_years": 4,
        "days": days, "places": {"gym": {"preset": "full_gym"}}, "known_lifts": known,
    }  # fmt: skip
    return Client.model_validate({**record, **other})


def sets_of(day, job):
    return sum(x.sets for x in day.lifts if practice(x.lift).multi and practice(x.lift).pattern in lists().jobs[job])


@pytest.mark.parametrize("client", [somebody(), somebody(known_lifts=[], sex="woman", mass_kg=63, stature_m=1.68)])
def test_basics_fill_two_short_days(client):
    week = plan_week(client)
    for day in week.days:
        assert all(sets_of(day, job) >= 2 for job in JOBS), [(x.lift, x.sets) for x in day.lifts]
        assert sum(sets_of(day, job) for job in JOBS) >= 7
    every = [x for d in week.days for x in d.lifts]
    assert sum(x.sets for x in every if practice(x.lift).multi) >= 0.7 * sum(x.sets for x in every)
    assert week.muscle_sets["chest"] >= 3.9 and not any("chest" in c.wish for c in week.conflicts)
    assert "knee_flexion" not in {all_lifts().family[x.lift] for x in every}, "no leg curl before the sets of a squat or hinge"


def test_a_raised_muscle_still_gets_its_sets():
    week = plan_week(somebody(wishes={"priority": {"quadriceps": 2}}))
    assert week.muscle_sets["quadriceps"] >= 7.5 and all(sets_of(d, "press") and sets_of(d, "pull") for d in week.days)


def test_few_minutes_are_two_short_days_of_somebody_who_trains():
    def asked(days, minutes, **other):
        offers = tuple(
            DayOffer(day=d, place="gym", minutes=float(minutes), gear=frozenset({"body"}))
            for d in ("monday", "wednesday", "friday")[:days]
        )
        return replace(WeekQuestion(choices=(), days=offers, muscles=()), **other).few_minutes

    short = default_rules().short_day_min
    assert asked(2, 45) and asked(1, short) and not asked(3, 45) and not asked(2, short + 5)
    assert not asked(2, 45, beginner=True) and not asked(2, 45, easy=True)
