"""What weeks without lifting leave of a set (common practice, no source), and who comes back from a long lay-off."""

from datetime import date, timedelta

import pytest

from lengthwise.training.client import AgedLift, Client, KnownLift
from lengthwise.training.known import total_one_rm_kg
from lengthwise.training.lay_off import SPARED, aged, comes_back, how_old, left_after, weeks_without

TODAY = date(2026, 11, 30)


def squat(weeks):
    return KnownLift(
        lift="back_squat", load_kg=85, repetitions=6, reserve=1, day=None if weeks is None else TODAY - timedelta(weeks=weeks)
    )


@pytest.mark.parametrize(
    ("weeks", "least", "most"), [(0, 1, 1), (4, 1, 1), (6, 0.94, 0.98), (13, 0.84, 0.86), (26, 0.7, 0.75), (300, 0.7, 0.75)]
)
def test_a_set_counts_less_the_longer_nothing_was_lifted(weeks, least, most):
    """A coach's rule of thumb: whole to a month, 0.95 to two, 0.85 at three, 0.70 to 0.75 from six on."""
    assert least <= left_after(weeks) <= most
    found = aged([squat(weeks)], (), TODAY)[0]
    assert total_one_rm_kg(found, 0.0) == pytest.approx(left_after(weeks) * total_one_rm_kg(squat(weeks), 0.0))


def test_it_never_rises_with_time():
    parts = [left_after(w) for w in range(60)]
    assert parts == sorted(parts, reverse=True)


def test_a_log_since_keeps_a_set_young_and_one_that_begins_again_does_not():
    steady = [TODAY - timedelta(weeks=w) for w in range(38)]
    assert aged([squat(38)], steady, TODAY) == (squat(38),)
    again = aged([squat(38)], [TODAY - timedelta(days=2)], TODAY)[0]
    assert isinstance(again, AgedLift) and again.kept == left_after(37)
    assert weeks_without([TODAY - timedelta(days=2)], TODAY - timedelta(weeks=38), TODAY) == 37


def test_eight_weeks_of_training_bring_back_what_was_lost():
    log = [TODAY - timedelta(weeks=w) for w in range(9)]
    assert aged([squat(38)], log, TODAY) == (squat(38),) and aged([squat(38)], log[:8], TODAY)[0] != squat(38)


def test_a_set_without_a_day_counts_as_of_today():
    assert aged([squat(None)], (), TODAY) == (squat(None),)


def test_a_set_no_older_than_what_is_spared_counts_whole():
    assert aged([squat(38)], (), TODAY, SPARED) == (squat(38),) and aged([squat(60)], (), TODAY, SPARED)[0].kept == 0.72


def client(known=(), active=True, training="trained", years=5):
    return Client(
        name="Invented", sex="woman", stature_m=1.7, mass_kg=70, age_y=41, training=training, training_years=years, known_lifts=known,
        screening={"active_now": active, "intensity": "vigorous"},
    )  # fmt: skip


@pytest.mark.parametrize(
    ("known", "log_weeks", "active", "training", "back"),
    [
        ((squat(38),), None, False, "trained", True),
        ((squat(38),), None, True, "trained", False),  # active by the screening, so an old set is no lay-off
        ((squat(38),), 20, True, "trained", True),  # a log that ended says more
        ((squat(7),), None, True, "trained", False),
        ((squat(38),), 1, False, "trained", False),  # the log says more than an old answer
        ((squat(None),), None, False, "trained", True),
        ((squat(None),), None, True, "trained", False),
        ((), None, False, "untrained", False),  # a beginner comes back from nothing
    ],
)
def test_the_first_week_back_is_known_by_dates_and_else_by_the_screening(known, log_weeks, active, training, back):
    log = () if log_weeks is None else (TODAY - timedelta(weeks=log_weeks),)
    assert comes_back(client(known, active, training, 0 if training == "untrained" else 5), log, TODAY) == back


def test_the_age_of_a_set_is_told_as_people_say_it():
    assert how_old(date(2026, 3, 2), TODAY) == "from March, 9 months old"
    assert how_old(date(2021, 3, 2), TODAY) == "from March 2021, 5 years old"
    assert how_old(date(2026, 10, 23), TODAY) == "from October, 5 weeks old"
