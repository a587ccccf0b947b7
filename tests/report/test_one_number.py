"""One quantity, one text: the page, the paper, the calendar, the command line and the phone say the same of every load, interval and range."""

import json
import subprocess
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from playwright._impl._driver import compute_driver_executable

from lengthwise import quantities
from lengthwise.cli.shared import out
from lengthwise.cli.shown import week as command
from lengthwise.cli.shown.review import show_lifts
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.report import sheet_progress
from lengthwise.report.sheet_week import WeekOnPaper, week_sheet
from lengthwise.report.week_files import line_of
from lengthwise.training.client import Client
from lengthwise.units import LB
from lengthwise.web.rendering import environment
from lengthwise.web.units_shown import said_in

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
        lift=i,
        range="full",
        name=i.replace("_", " "),
        sets=3,
        repetitions=reps,
        reserve=2.0,
        load_kg=load,
        guess=guess,
        gear=gear,
        rest_s=165.0,
        warm_up=((20.0, 8),) if load else (),
        each=gear == "dumbbell",
    )
    for i, gear, load, reps, guess in PLANNED
)
WEEK = Week(days=(PlannedDay("monday", "gym", 50.0, LIFTS),), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)
WORDS_OF_THE_PHONE = Path(__file__).parents[2] / "web" / "src" / "load_words.ts"
UNITS = {"kg": "metric", "lb": "imperial"}


def client(unit):
    return Client.model_validate(
        {"name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 80, "age_y": 30, "training": "trained", "mass_unit": unit}
    )


def on_paper(unit):
    rows = week_sheet(WeekOnPaper(client=client(unit), week=WEEK)).content["days"][0]["lifts"]
    return [(r["load"], r["repetitions"]) for r in rows]


def on_the_page(unit):
    units = UNITS[unit]
    text = (
        "{% for x in lifts %}{{ planned_load(x.load_kg, x.lift, x.guess, x.each) }}|{{ repetitions(*x.repetitions) }}\n{% endfor %}"
    )
    told = lambda kg, lift, guess, each: said_in(units)["planned_load"](kg, lift, guess, each)  # noqa: E731
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
    assert [quantities.mass(kg, "kg") for kg in (23.75, 102.75, 20.0, 1.125)] == ["23.75 kg", "102.75 kg", "20 kg", "1.13 kg"]
    assert [quantities.mass(lb * LB, "lb") for lb in (225, 47.5, 11.25)] == ["225 lb", "47.5 lb", "11.25 lb"]
    assert quantities.load(-24, "body", "kg") == "body weight with 24 kg of assistance"
    assert quantities.load(-20, "lever", "kg") == "20 kg of assistance"


def test_an_estimate_has_the_same_interval_everywhere():
    assert quantities.estimate(102.34, "kg") == said_in("metric")["kg"](102.34) == "102 kg"
    assert quantities.interval(9.96, 12.31, "kg") == "10 to 12.3 kg"
    assert quantities.likely(20.9, 25.2, "barbell", "kg") == "21 and 25 kg"
    assert (quantities.step(20.0), quantities.step(4.17)) == ("+20%", "+4.2%")
    assert (quantities.seconds(90), quantities.seconds(165), quantities.seconds(180)) == ("90 s", "2 min 45 s", "3 min")
    assert quantities.day(date(2026, 3, 2)) == "2 March 2026"


@given(st.floats(0.25, 500), st.sampled_from(["kg", "lb"]))
def test_what_is_written_lies_within_what_is_written_off(kg, unit):
    shown = quantities.in_unit(kg, unit) * (1.0 if unit == "kg" else LB)
    assert abs(shown - kg) <= (0.0051 if unit == "kg" else 0.06 * LB)


def test_the_phone_writes_loads_as_the_server_does():
    """The phone has no server to ask between sets: its own words are held against the server's."""
    node = compute_driver_executable()[0]
    asked = [(kg, hung) for kg in (23.75, 102.75, 20.0, 1.125, 0.0, 225 * LB, 47.5 * LB, 33.3) for hung in (False, True)]
    asked += [(-24.0, True), (-20.0, False)]
    script = (
        f"import {{ loadInWords }} from '{WORDS_OF_THE_PHONE.as_uri()}';"
        "const [rules, asked] = JSON.parse(process.argv[1]);"
        "console.log(JSON.stringify(asked.map(([kg, hung]) => loadInWords(kg, hung, rules))));"
    )
    for unit in ("kg", "lb"):
        sent = json.dumps([quantities.load_rules(unit), asked])
        said = subprocess.run([node, "--input-type=module", "-e", script, sent], capture_output=True, text=True, check=True).stdout
        assert json.loads(said) == [quantities.load(kg, "body" if hung else "barbell", unit) for kg, hung in asked]


@pytest.mark.parametrize("unit", ["kg", "lb"])
def test_an_estimated_maximum_has_one_interval_on_page_paper_and_command_line(unit, monkeypatch):
    monkeypatch.setattr(out, "width", 200)
    one = SimpleNamespace(value=102.34, low=96.61, high=108.07)
    rise = SimpleNamespace(value=0.4, low=-0.1, high=0.9)
    trend = SimpleNamespace(e1rm=one, per_week=rise, ahead=one, p_rising=0.9)
    lift = SimpleNamespace(key=("bench_press", "full"), trend=trend, state="rising", since=date(2026, 3, 2))
    with out.capture() as told:
        show_lifts(SimpleNamespace(lifts=[lift], growth=[], name="Invented", as_of=date(2026, 4, 6)), unit, "cm")
    wanted = quantities.interval(one.low, one.high, unit)
    terminal = told.get()
    assert wanted in terminal and "rising since 2 March 2026" in terminal and "6 April 2026" in terminal
    assert sheet_progress._lift(lift, {}, unit)["now"] == f"{quantities.estimate(one.value, unit)} ({wanted})"
    on_page = [said_in(UNITS[unit])["kg"](kg) for kg in (one.low, one.high)]
    assert " to ".join(on_page).replace(f" {unit} to", " to") == wanted


def test_rests_steps_dates_and_sets_are_written_by_one_formatter():
    filters, words = environment().filters, environment().globals
    assert [filters[k] for k in ("rest", "step")] == [quantities.seconds, quantities.step]
    assert f">{quantities.day(date(2026, 3, 2))}<" in filters["day"](date(2026, 3, 2))
    assert (words["repetitions"], words["set_count"]) == (quantities.repetitions, quantities.set_count)
    row = week_sheet(WeekOnPaper(client=client("kg"), week=WEEK)).content["days"][0]["lifts"][0]
    assert row["rest"] == quantities.seconds(165.0) == "2 min 45 s"
    assert quantities.work(3, 6, 10) == "3 × 6–10" and quantities.work(1, 8, 8, "drop set") == "1 drop set × 8"
    assert quantities.work(3, 6, 10) in line_of(LIFTS[0], "kg")


def test_a_big_step_is_written_as_the_two_ranges_people_train():
    """Common practice, no source; from 10 to 25 in one go is no range. What is one range stays one, however wide."""
    assert quantities.repetitions(12, 20) == "12–15, then 16–20" and quantities.repetitions(10, 25) == "10–15, then 16–25"
    assert [quantities.repetitions(*r) for r in ((8, 15), (20, 30), (8, 8))] == ["8–15", "20–30", "8"]
    assert quantities.repetitions(20, 40, held=True) == "20–40 s"
