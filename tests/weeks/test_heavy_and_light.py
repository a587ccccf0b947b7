"""A lift with a heavy and a light day in the saved week: each line has its own load, promise and next load on every face."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from lengthwise.days import monday_of
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import with_loads
from lengthwise.quantities import load as in_words
from lengthwise.questions.answering.sheets import week_paper
from lengthwise.records import kept_weeks, log_entries
from lengthwise.records.past import past_of_number
from lengthwise.records.store import save_client
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.block_plans import block_of_week
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.due import due_days
from lengthwise.weeks.standing import as_it_stands

WHO = Client.model_validate(
    {
        "name": "Made up", "sex": "man", "stature_m": 1.79, "mass_kg": 84, "age_y": 29, "training": "trained", "training_years": 5,
        "days": [{"day": d, "place": "gym", "minutes": 60} for d in ("monday", "thursday")],
        "places": {"gym": {"preset": "full_gym"}},
        "known_lifts": [{"lift": "bench_press", "load_kg": 90, "repetitions": 7, "reserve": 2}],
    }
)  # fmt: skip
MONDAY = monday_of(date.today()) - timedelta(weeks=1)
HEAVY, LIGHT = (90.0, (5, 8)), (70.0, (12, 15))


@pytest.fixture
def number(own_folder):
    kept = save_client(WHO)
    line = PlannedLift(lift="bench_press", range="full", name="Bench press", sets=3, repetitions=(5, 8), reserve=2.0, guess=False)
    days = tuple(
        PlannedDay(d.day, "gym", 60.0, (replace(line, load_kg=kg, repetitions=reps, gear="barbell"),))
        for d, (kg, reps) in zip(WHO.days, (HEAVY, LIGHT), strict=True)
    )
    kept_weeks.keep_week(kept, MONDAY, Week(days=days, weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0))
    return kept


def faces(number):
    """Load and range of both days: the saved week as it stands, a week planned anew, phone, block and paper."""
    past = past_of_number(number)
    stands = as_it_stands(WHO, past.week, past)
    how = Loading(past.of(WHO), WHO, easy=False)
    anew = with_loads(past.week, how)
    _, phone = due_days(number, WHO, date.today() + timedelta(days=1))
    said = [[(x.load_kg, x.repetitions) for d in days for x in d.lifts] for days in (stands.days, anew.days, phone)]
    assert said[0] == said[1] == said[2]
    assert [(p.weeks[0].load_kg, p.lift.prescription.repetitions) for p in block_of_week(WHO, stands, past=past).lifts] == said[0]
    for d, row in zip(stands.days, week_paper(WHO, stands, past=past).content["days"], strict=True):
        assert in_words(d.lifts[0].load_kg, "barbell", "kg") in row["lifts"][0]["load"]
        assert f"Next {in_words(d.lifts[0].next_kg, 'barbell', 'kg')}" in " ".join(row["lifts"][0]["notes"]).replace("\xa0", " "), (
            "of its own line"
        )
    alone = load_of(past.today(WHO), "bench_press", SetTarget(), past.of(WHO))
    assert (alone.load_kg, alone.repetitions) == said[0][0], "asked for alone it is the heavy day"
    return said[0], [d.lifts[0].next_kg for d in stands.days]


def test_each_day_goes_up_by_its_own_sets(number):
    log_entries.add_sets("Made up", "bench_press", "3x7 @ 90 r2", MONDAY)
    log_entries.add_sets("Made up", "bench_press", "3x13 @ 70 r2", MONDAY + timedelta(days=3))
    assert faces(number) == ([HEAVY, LIGHT], [92.5, 72.5])
    log_entries.add_sets("Made up", "bench_press", "3x15 @ 70 r2", MONDAY + timedelta(days=5))
    assert faces(number)[0] == [HEAVY, (72.5, (12, 15))]
    log_entries.add_sets("Made up", "bench_press", "3x8 @ 90 r2", MONDAY + timedelta(days=6))
    assert faces(number)[0] == [(92.5, (5, 8)), (72.5, (12, 15))]


def test_a_miss_by_far_on_the_light_day_leaves_the_heavy_one(number):
    log_entries.add_sets("Made up", "bench_press", "3x7 @ 90 r2", MONDAY)
    log_entries.add_sets("Made up", "bench_press", "3x7 @ 70 r2", MONDAY + timedelta(days=3))
    (heavy, light), _ = faces(number)
    assert heavy == HEAVY and light[0] < 70 and light[1] == (12, 15)


def test_lines_of_a_kept_week_move_with_their_days(number):
    past = past_of_number(number)
    moved = replace(
        past.week, days=tuple(replace(d, day=day) for d, day in zip(past.week.days, ("tuesday", "saturday"), strict=True))
    )
    log_entries.add_sets("Made up", "bench_press", "3x7 @ 90 r2", MONDAY)
    made = with_loads(moved, Loading(past_of_number(number).of(WHO), WHO, easy=False))
    assert [(x.load_kg, x.repetitions) for d in made.days for x in d.lifts] == [HEAVY, LIGHT]
