"""A day on which most lifts fall short together lowers nothing, and the review asks about it; common practice, no source."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from lengthwise.days import monday_of
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import with_loads
from lengthwise.questions.answering.reviewing import review_client
from lengthwise.records import kept_weeks, log_entries
from lengthwise.records.past import past_of_number
from lengthwise.records.store import save_client
from lengthwise.training.client import Client
from lengthwise.training.day_down import LiftVisits, down_days, without_down
from lengthwise.training.log import LoggedSet
from lengthwise.training.prescription import SetTarget
from lengthwise.training.trail import KeptLine, Promise
from lengthwise.weeks.clients import load_of

KNOWN = {"bench_press": (70, 9), "lat_pulldown": (55, 10), "overhead_press": (40, 9), "barbell_curl": (30, 11)}
WHO = Client.model_validate(
    {
        "name": "Made up", "sex": "woman", "stature_m": 1.74, "mass_kg": 71, "age_y": 33, "training": "trained", "training_years": 5,
        "days": [{"day": "monday", "place": "gym", "minutes": 60}, {"day": "thursday", "place": "gym", "minutes": 60}],
        "places": {"gym": {"preset": "full_gym"}},
        "known_lifts": [{"lift": k, "load_kg": kg, "repetitions": n, "reserve": 2} for k, (kg, n) in KNOWN.items()],
    }
)  # fmt: skip
MONDAY = monday_of(date.today()) - timedelta(weeks=1)


@pytest.fixture
def kept(own_folder):
    number = save_client(WHO)
    past = past_of_number(number, MONDAY)
    lifts = tuple(PlannedLift(lift=k, range="full", name=k, sets=3, repetitions=(8, 12), reserve=2.0) for k in KNOWN)
    days = tuple(PlannedDay(d.day, "gym", 60.0, lifts) for d in WHO.days)
    week = with_loads(Week(days=days, weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0), Loading(past.of(WHO), WHO, easy=False))
    kept_weeks.keep_week(number, MONDAY, week)
    return number, {x.lift: x for x in week.days[0].lifts}


def now(number):
    past = past_of_number(number)
    return {k: load_of(past.today(WHO), k, SetTarget(), past.of(WHO)).load_kg for k in KNOWN}


def log(lines, day, part, but=()):
    for k, x in lines.items():
        n = max(int(x.repetitions[0] * (1 if k in but else part)), 1)
        log_entries.add_sets("Made up", k, f"3x{n} @ {x.load_kg:g} r{x.reserve:g}", day)


def test_half_of_everything_on_the_first_day_lowers_nothing_and_is_asked_about(kept):
    number, lines = kept
    log(lines, MONDAY, 0.5)
    assert now(number) == {k: x.load_kg for k, x in lines.items()}
    asked = next(p for p in review_client("Made up", MONDAY + timedelta(days=1)).proposals if p.kind == "ask_about_day")
    assert asked.numbers == {"short": 4, "of": 4} and "what went wrong" in asked.what and asked.change is None


def test_two_such_days_running_count(kept):
    number, lines = kept
    log(lines, MONDAY, 0.5)
    log(lines, MONDAY + timedelta(days=3), 0.5)
    assert all(kg < lines[k].load_kg for k, kg in now(number).items())


def test_one_lift_of_four_that_is_missed_by_far_gets_lighter(kept):
    number, lines = kept
    log(lines, MONDAY, 0.5, but=("bench_press", "lat_pulldown", "barbell_curl"))
    assert {k for k, kg in now(number).items() if kg < lines[k].load_kg} == {"overhead_press"}
    assert not past_of_number(number).down


def test_a_step_earned_before_a_bad_day_waits_for_the_next_visit(kept):
    """An outside coach of twelves on Monday and fives on Thursday: keep the load, and ask."""
    number, lines = kept
    log(lines, MONDAY, 1)
    log_entries.add_sets("Made up", "bench_press", f"3x12 @ {lines['bench_press'].load_kg:g} r2", MONDAY + timedelta(days=1))
    assert now(number)["bench_press"] > lines["bench_press"].load_kg
    log(lines, MONDAY + timedelta(days=3), 0.5)
    assert now(number) == {k: x.load_kg for k, x in lines.items()}
    log(lines, MONDAY + timedelta(days=5), 1)
    assert now(number)["bench_press"] >= lines["bench_press"].load_kg


def visit(load, repetitions):
    return [LoggedSet(lift="any", load_kg=load, repetitions=repetitions, reserve=2.0)] * 2


def test_guesses_do_not_say_that_a_day_was_bad():
    line = Promise(load_kg=50.0, repetitions=(8, 12), reserve=2.0)
    first, then = MONDAY, MONDAY + timedelta(days=3)
    guessed, known = (
        [LiftVisits({first: visit(50, 4)}, (KeptLine(replace(line, guess=guess), first),))] * 3 for guess in (True, False)
    )
    assert not down_days(guessed) and down_days([*guessed, *known]) == {first: (3, 3)} and not down_days(known[:2])
    alone = LiftVisits({first: visit(50, 10), then: visit(50, 5)})
    heavier = LiftVisits({first: visit(50, 10), then: visit(55, 5)})
    assert down_days([alone, alone, heavier]) == {then: (2, 3)} and not down_days([alone, heavier, heavier])
    assert without_down([first, then], {then}) == [first] and without_down([first, then], {first, then}) == [first, then]
