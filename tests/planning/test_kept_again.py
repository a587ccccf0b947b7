"""A kept week that is planned again while it is done stays as it is: one more visit moves no set."""

from datetime import date, timedelta

import pytest
from drawn_records import drawn

from lengthwise.days import monday_of
from lengthwise.records import kept_weeks, log_entries
from lengthwise.records.past import chosen_by, past_of_number
from lengthwise.records.store import save_client
from lengthwise.weeks.week_plans import plan_week


@pytest.fixture
def kept(own_folder):
    """A client with four days at home, its number, its week that is kept and the Monday of it."""
    client = next(c for name, c in drawn(9, 5003).items() if name.startswith("008"))
    number = save_client(client)
    week = plan_week(client, past=past_of_number(number))
    kept_weeks.keep_week(number, monday_of(date.today()), week)
    return client, number, week


def log_first_day(client, week, after=""):
    """The first day as it was planned, on the Monday of this week."""
    for x in week.days[0].lifts:
        if x.load_kg is not None:
            line = f"{x.sets}x{x.repetitions[0]} @ {x.load_kg:g} r{x.reserve:g}{after}"
            log_entries.add_sets(client.name, x.lift, line, monday_of(date.today()))


def lines(week):
    return [[(x.lift, x.sets, x.pair) for x in d.lifts] for d in week.days]


def test_a_visit_of_a_kept_week_moves_none_of_its_sets(kept):
    """A push-up that was done costs the body a little more than one that was guessed, so it stood in no pair any more and a curl lost a set."""
    client, number, week = kept
    log_first_day(client, week)
    again = plan_week(client, past=past_of_number(number))
    assert again.moved == 0 and lines(again) == lines(week)


def test_pain_in_it_counts_at_once(kept):
    client, number, week = kept
    log_first_day(client, week, after=" pain shoulder")
    past = past_of_number(number)
    assert chosen_by(past, client) == past.of(client) and "shoulder" in chosen_by(past, client).sore_joints


def test_the_week_after_knows_what_was_done(kept):
    client, number, week = kept
    log_first_day(client, week)
    past = past_of_number(number, monday_of(date.today()) + timedelta(weeks=1))
    assert {k.lift for k in chosen_by(past, client).known_lifts} >= {x.lift for x in week.days[0].lifts if x.load_kg is not None}
