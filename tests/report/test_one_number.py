"""One quantity, one text: the page, the paper, the calendar, the command line and the phone say the same of every load, interval and range."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lengthwise import quantities
from lengthwise.cli import week as command
from lengthwise.cli.shared import out
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.report.sheet_week import WeekOnPaper, week_sheet
from lengthwise.report.week_files import line_of
from lengthwise.training.client import Client
from lengthwise.units import LB
from lengthwise.web import units_shown
from lengthwise.web.rendering import environment

PLANNED = [
    ("bench_press", "barbell", 102.75, (6, 10), False),
    ("dumbbell_curl", "dumbbell", 23.75, (10, 15), True),
    ("pull_up", "body", 7.5, (6, 10), False),
    ("chin_up", "body", -24.0, (8, 8), True),
    ("push_up", "body", 0.0, (8, 15), True),
    ("band_row", "band", None, (8, 15), True),
]
LIFTS = tuple(
    PlannedLift(
        i, "full", i.replace("_", " "), 3, reps, 2.0, load, guess, gear=gear, rest_s=165.0, warm_up=((20.0, 8),) if load else ()
    )
    for i, gear, load, reps, guess in PLANNED
)
WEEK = Week((PlannedDay("monday", "gym", 50.0, LIFTS),), {}, {}, 0.0, 0.0)
UNITS = {"kg": "metric", "lb": "imperial"}


def client(unit):
    return Client.model_validate(
        {"name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 80, "age_y": 30, "training": "trained", "mass_unit": unit}
    )


def on_paper(unit):
    rows = week_sheet(WeekOnPaper(client(unit), WEEK)).content["days"][0]["lifts"]
    return [(r["load"], r["repetitions"]) for r in rows]


def on_the_page(unit):
    units = UNITS[unit]
    text = "{% for x in lifts %}{{ planned_load(x.load_kg, x.lift, x.guess) }}|{{ repetitions(*x.repetitions) }}\n{% endfor %}"
    told = lambda kg, lift, guess: units_shown.planned(kg, lift, guess, units)  # noqa: E731
    return [tuple(line.split("|")) for line in environment().from_string(text).render(lifts=LIFTS, planned_load=told).splitlines()]


def in_the_terminal(unit):
    with out.capture() as told:
        command._show_day(WEEK.days[0], False, unit)
    return told.get()


@pytest.mark.parametrize("unit", ["kg", "lb"])
def test_every_face_says_the_same_load_and_repetitions(unit, monkeypatch):
    monkeypatch.setattr(out, "width", 200)
    terminal = in_the_terminal(unit)
    assert on_the_page(unit) == on_paper(unit)
    for (load, repetitions), lift in zip(on_paper(unit), LIFTS, strict=True):
        assert load in terminal and repetitions in terminal, load
        if lift.load_kg is not None:
            assert f", {load}" in line_of(lift, unit) and f"× {repetitions}," in line_of(lift, unit)


def test_loads_are_told_as_they_are_written_on_the_plate():
    """Quarters of a kilogram and of a pound stay; a rounded number is never printed as if it existed."""
    assert [quantities.mass(kg, "kg") for kg in (23.75, 102.75, 20.0, 1.125)] == ["23.75 kg", "102.75 kg", "20 kg", "1.12 kg"]
    assert [quantities.mass(lb * LB, "lb") for lb in (225, 47.5, 11.25)] == ["225 lb", "47.5 lb", "11.25 lb"]
    assert quantities.load(-24, "body", "kg") == "body weight with 24 kg of help"
    assert quantities.load(-20, "lever", "kg") == "20 kg of help"


def test_an_estimate_has_the_same_interval_everywhere():
    assert quantities.estimate(102.34, "kg") == units_shown.mass(102.34, "metric") == "102 kg"
    assert quantities.interval(9.96, 12.31, "kg") == "10 to 12.3 kg"
    assert quantities.likely(20.9, 25.2, "barbell", "kg") == "21 and 25 kg"
    assert (quantities.step(20.0), quantities.step(4.17)) == ("+20 %", "+4.2 %")
    assert (quantities.seconds(90), quantities.seconds(165), quantities.seconds(180)) == ("90 s", "2 min 45 s", "3 min")
    assert quantities.day(date(2026, 3, 2)) == "2 March 2026"


@given(st.floats(0.25, 500), st.sampled_from(["kg", "lb"]))
def test_what_is_written_lies_within_what_is_written_off(kg, unit):
    shown = quantities.in_unit(kg, unit) * (1.0 if unit == "kg" else LB)
    assert abs(shown - kg) <= (0.0051 if unit == "kg" else 0.06 * LB)
