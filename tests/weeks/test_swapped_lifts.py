"""A lift that was swapped stays away as long as was said; one that went because it hurts counts as pain that was logged that day (common practice, no
source, for what a sore joint is spared).
"""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from lengthwise.days import monday_of
from lengthwise.practice.logged_pain import RESTS, SoreByLog
from lengthwise.records import kept_weeks, log_entries
from lengthwise.records.past import past_of_number, past_of_week
from lengthwise.records.store import named_client, save_client
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Session
from lengthwise.weeks.swap_taken import edited_for_pain, take_swap
from lengthwise.weeks.swapping import swap_lift
from lengthwise.weeks.todays_load import load_today
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_edit import Edit, week_from_text, week_text
from lengthwise.weeks.week_plans import Changes, plan_week

TODAY = date.today()
FIRST = monday_of(TODAY) + timedelta(weeks=1)
RECORD = {
    "name": "Invented Presser", "sex": "man", "stature_m": 1.80, "mass_kg": 82, "age_y": 33, "training": "trained", "training_years": 5,
    "days": [{"day": d, "place": "gym", "minutes": 50} for d in ("tuesday", "friday")], "places": {"gym": {"preset": "full_gym"}},
    "known_lifts": [
        {"lift": i, "load_kg": kg, "repetitions": 8, "reserve": 2}
        for i, kg in {"bench_press": 95, "back_squat": 120, "chest_supported_dumbbell_row": 30}.items()
    ],
}  # fmt: skip
OLD, NEW = "bench_press", "machine_chest_press"


def lifts(week):
    return {x.lift: x for d in week.days for x in d.lifts}


def asked_for(kept, monday, **past):
    return plan_week(kept.client, past=replace(past_of_week(kept.number, monday), **past))


@pytest.fixture
def kept(own_folder):
    """Somebody who kept the next week, which holds their own bench press."""
    client = Client.model_validate(RECORD)
    week = plan_week(client)
    assert OLD in lifts(week) and NEW not in lifts(week)
    kept_weeks.keep_week(save_client(client), FIRST, week)
    return named_client("Invented Presser")


def test_a_lift_swapped_because_it_hurts_rests_as_after_logged_pain(kept):
    found = swap_lift(kept.client, OLD, "pain", past_of_number(kept.number), joint="shoulder")
    offered = next(c.planned for c in found.candidates if c.lift == NEW)
    (taken,) = take_swap(kept.number, kept.client, OLD, NEW, FIRST, span="block", because="pain", joint="shoulder")
    assert "Pain in the shoulder counts as logged" in taken.said[-1]
    new = lifts(taken.week)[NEW]
    weeks = [asked_for(kept, FIRST), asked_for(kept, FIRST, week=None, logged=(), before=None)]
    kept_weeks.keep_week(kept.number, FIRST, weeks[0])
    weeks += [asked_for(kept, FIRST + timedelta(weeks=k)) for k in (0, 1)]
    for week in weeks:
        assert OLD not in lifts(week)
        assert any("swapped for Machine chest press" in note for note in week.notes)
        assert week.swaps[-1].joint == "shoulder", "the next kept week remembers it"
        if now := lifts(week).get(NEW):
            assert [(x.load_kg, x.repetitions, x.reserve) for x in (now, offered)] == [
                (new.load_kg, new.repetitions, new.reserve)
            ] * 2
    assert all(NEW in lifts(week) for week in (weeks[0], *weeks[2:]))
    past = past_of_number(kept.number)
    assert past.sore == {"shoulder": SoreByLog(TODAY, "mild")}
    rested = load_today(kept, OLD)
    assert rested.rests_until == TODAY + RESTS and rested.load_kg <= 95 / 2
    log_entries.add_session(
        kept.number,
        Session(day=TODAY - timedelta(days=1), sets=(LoggedSet(lift=OLD, load_kg=95, repetitions=8, pain=("shoulder",)),)),
    )
    again = past_of_number(kept.number)
    assert again.sore["shoulder"].how == "moderate", "as after pain that was logged on two days"


def test_a_lift_swapped_for_taste_stays_away_for_the_block_or_comes_back_with_it(kept):
    take_swap(kept.number, kept.client, OLD, NEW, FIRST, span="block", because="taste")
    for k in (0, 1, 7):
        away = past_of_week(kept.number, FIRST + timedelta(weeks=k)).away
        assert [s.lift for s in away] == [OLD]
    week = asked_for(kept, FIRST)
    assert OLD not in lifts(week) and NEW in lifts(week) and not past_of_number(kept.number).sore
    assert past_of_week(kept.number, FIRST + timedelta(weeks=8)).away == ()
    take_swap(kept.number, kept.client, NEW, OLD, FIRST, span="block")
    assert [s.lift for s in past_of_week(kept.number, FIRST).away] == [NEW], "the way back takes it back"


def test_who_did_the_old_lift_since_then_has_taken_it_back(kept):
    first = monday_of(TODAY) - timedelta(weeks=2)
    kept_weeks.keep_week(kept.number, first, past_of_week(kept.number, FIRST).week)
    take_swap(kept.number, kept.client, OLD, NEW, first, span="block", because="taste")
    assert past_of_number(kept.number).away
    log_entries.add_session(
        kept.number, Session(day=first + timedelta(days=8), sets=(LoggedSet(lift=OLD, load_kg=90, repetitions=8),))
    )
    assert not past_of_number(kept.number).away


def test_a_swap_on_the_board_counts_as_pain_once_the_week_is_kept(kept):
    week, past = kept_weeks.week_of(kept.number, FIRST).week, past_of_week(kept.number, FIRST)
    day = next(d.day for d in week.days if any(x.lift == OLD for x in d.lifts))
    offer = offer_of(past.of(kept.client), last=lifts(week), wanted={NEW})
    edited = edited_for_pain(kept.client, offer, (week, FIRST), Edit(do="swap", day=day, lift=OLD, to=NEW), past, "shoulder")
    assert not past_of_number(kept.number).sore
    kept_weeks.keep_week(kept.number, FIRST, week_from_text(week_text(edited.week)))
    assert set(past_of_number(kept.number).sore) == {"shoulder"}
    assert OLD not in lifts(asked_for(kept, FIRST))


@pytest.mark.parametrize(("because", "stays"), [("taste", True), ("pain", False)])
def test_a_day_of_this_week_that_is_done_stays_as_it_was_unless_the_lift_hurts(own_folder, because, stays):
    """Monday is logged, Sunday is to come: the press that is swapped in between goes on Sunday alone."""
    days = [{"day": d, "place": "gym", "minutes": 45} for d in ("monday", "sunday")]
    client = Client.model_validate({**RECORD, "days": days})
    number, monday = save_client(client), monday_of(TODAY)
    week = plan_week(client, Changes(fixed={(d.day, OLD): 3 for d in client.days}))
    kept_weeks.keep_week(number, monday, week)
    log_entries.add_sets("Invented Presser", "back_squat", "8 @ 120 r2", monday)
    pain = {"joint": "shoulder"} if because == "pain" else {}
    (taken,) = take_swap(number, client, OLD, NEW, TODAY, because=because, **pain)
    there = {d.day: {x.lift for x in d.lifts} & {OLD, NEW} for d in taken.week.days}
    assert there == {"monday": {OLD} if stays else {NEW}, "sunday": {NEW}}
    assert ("Monday keeps Barbell bench press: that day is done or over." in taken.said) is stays
    again = {d.day: {x.lift for x in d.lifts} & {OLD, NEW} for d in asked_for(named_client("Invented Presser"), TODAY).days}
    assert again == there or not stays, "planned again it stays so"
