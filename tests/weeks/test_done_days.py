"""A day of the week that is done says what was done, and that its loads are for next week; nothing of that is kept."""

from datetime import date, timedelta

from lengthwise.days import monday_of
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.quantities import day as in_words
from lengthwise.questions.answering.sheets import week_paper
from lengthwise.records import kept_weeks, log_entries
from lengthwise.records.past import past_of_number, past_of_week
from lengthwise.records.store import save_client
from lengthwise.training.client import Client
from lengthwise.weeks.standing import as_it_stands
from lengthwise.weeks.week_plans import plan_week

TODAY = date.today()
DAYS = [WEEKDAYS[TODAY.weekday()], WEEKDAYS[(TODAY.weekday() + 3) % 7]]
PLACE = {"stations": ["flat_bench", "rack"], "gear": {"barbell": {"bar_kg": 20, "plates_kg": [20, 10, 5, 2.5, 1.25]}, "body": {}}}
"""Little gear, so that a week is planned quickly: the cases ask for what was done."""
CLIENT = Client.model_validate(
    {
        "name": "Invented", "sex": "woman", "stature_m": 1.7, "mass_kg": 66, "age_y": 36, "training": "trained", "training_years": 3,
        "days": [{"day": d, "place": "gym", "minutes": 60} for d in DAYS], "places": {"gym": PLACE},
        "known_lifts": [{"lift": "bench_press", "load_kg": 40, "repetitions": 8, "reserve": 2}],
    }
)  # fmt: skip


def week():
    press = PlannedLift(
        lift="bench_press",
        range="full",
        name="press",
        sets=3,
        repetitions=(8, 12),
        reserve=2.0,
        load_kg=40.0,
        guess=False,
        gear="barbell",
    )
    days = tuple(PlannedDay(d.day, "gym", 60.0, (press,)) for d in CLIENT.days)
    return Week(days=days, weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)


def test_a_done_day_says_what_was_done_on_every_face(own_folder):
    number = save_client(CLIENT)
    kept_weeks.keep_week(number, TODAY, week())
    log_entries.add_sets("Invented", "bench_press", "12,12,12 @ 40/40/40 r2", TODAY)
    past = past_of_week(number, TODAY)
    now = as_it_stands(CLIENT, past.week, past)
    today, other = DAYS
    assert other not in now.done
    assert now.done[today] == f"Done on {in_words(TODAY)}: Barbell bench press 40 kg × 12, 12, 12. What follows is for next week."
    assert {d.lifts[0].load_kg for d in now.days} == {42.5}
    assert "Done on" in week_paper(CLIENT, now, past=past).content["days"][0]["done"]
    kept_weeks.keep_week(number, TODAY, now)
    assert not kept_weeks.week_of(number, TODAY).week.done
    ahead = past_of_number(number, monday_of(TODAY) + timedelta(weeks=1))
    assert not as_it_stands(CLIENT, past.week, ahead).done, "the week to come has not begun"


def test_a_week_that_is_over_counts_its_whole_log_and_says_until_when(own_folder):
    """As it would have stood on its Sunday, whichever of its days is named."""
    number, first = save_client(CLIENT), monday_of(TODAY) - timedelta(weeks=2)
    kept_weeks.keep_week(number, first, week())
    log_entries.add_sets("Invented", "bench_press", "12,12,12 @ 40/40/40 r2", first + timedelta(days=5))
    log_entries.add_sets("Invented", "bench_press", "12,12,12 @ 42.5/42.5/42.5 r2", first + timedelta(days=8))
    monday, saturday = (plan_week(CLIENT, past=past_of_week(number, first + timedelta(days=n))) for n in (0, 5))
    assert monday == saturday
    assert {x.load_kg for d in monday.days for x in d.lifts if x.lift == "bench_press"} == {42.5}
    assert any(f"counted to {in_words(first + timedelta(days=6))}" in n for n in monday.notes)
    assert not any("counted to" in n for n in plan_week(CLIENT, past=past_of_week(number, TODAY)).notes)
