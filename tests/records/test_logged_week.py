"""A log of weeks is the week to start from where none was kept."""

from datetime import date, timedelta

import pytest

from lengthwise.records.logged_week import logged_sessions, logged_week
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Session

TODAY = date(2026, 11, 25)
"""A Wednesday."""
MONDAY = date(2026, 11, 23)
CLIENT = Client.model_validate(
    {
        "name": "Invented", "sex": "woman", "stature_m": 1.7, "mass_kg": 65, "age_y": 30, "training": "trained",
        "days": [{"day": d, "place": "gym", "minutes": 60} for d in ("monday", "thursday")], "places": {"gym": {"gear": {"lever": {}}}},
    }
)  # fmt: skip


def visit(day, **sets):
    """A visit of a day: sets by lift."""
    done = (LoggedSet(lift=i, load_kg=40, repetitions=10, reserve=2) for i, n in sets.items() for _ in range(n))
    return Session(day=day, sets=tuple(done))


def weeks_of(number):
    """Two visits in each of the last whole weeks, the newest with one more set of leg presses."""
    out = []
    for k in range(number, 0, -1):
        first = MONDAY - timedelta(weeks=k)
        out += [visit(first, leg_press=3 + (k == 1), seated_leg_curl=1), visit(first + timedelta(days=4), machine_row=3)]
    return out


def by_day(week):
    return {d.day: {x.lift: x.sets for x in d.lifts} for d in week.days}


def test_the_last_whole_week_stands_on_the_clients_days_without_lifts_that_were_only_tried():
    week = logged_week(logged_sessions(weeks_of(3), TODAY), CLIENT)
    assert by_day(week) == {"monday": {"leg_press": 4}, "thursday": {"machine_row": 3}}


def test_one_more_entry_moves_nothing_until_its_week_is_over():
    before = logged_sessions(weeks_of(3), TODAY)
    assert logged_sessions([*weeks_of(3), visit(TODAY, pec_deck=3)], TODAY) == before


def test_a_week_with_fewer_visits_than_usual_is_passed_over():
    short = [*weeks_of(3)[:-2], visit(MONDAY - timedelta(days=7), pec_deck=3)]
    assert by_day(logged_week(logged_sessions(short, TODAY), CLIENT))["monday"] == {"leg_press": 3}


@pytest.mark.parametrize("sessions", [[], weeks_of(1), [visit(MONDAY - timedelta(weeks=9), leg_press=3)] * 2])
def test_a_single_week_or_an_old_one_is_no_usual_week(sessions):
    assert logged_week(logged_sessions(sessions, TODAY), CLIENT) is None
