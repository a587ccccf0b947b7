"""Counted sets, planned against done, and the pain map: small logs worked by hand."""

from datetime import date, timedelta

import pytest

from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.pain import pain
from lengthwise.training.review_rules import review_rules
from lengthwise.training.volume import (
    Counting,
    PlannedSets,
    PlannedVisit,
    WeekOfPlan,
    adherence,
    mean_muscle_sets,
    weekly,
)

MONDAY = date(2025, 1, 6)
COUNTING = Counting(
    {("press", "full"): {"chest_head": 1.0, "triceps_head": 0.4}, ("curl", "full"): {"biceps_head": 1.0}},
    {"chest": {"chest_head": 1.0}, "triceps": {"triceps_head": 1.0}},
)
PLAN = WeekOfPlan(MONDAY, (PlannedVisit(60, (PlannedSets("press", "full", 4), PlannedSets("curl", "full", 3))),) * 2)


def press(n, **more):
    return tuple(LoggedSet(lift="press", load_kg=60, repetitions=8, **more) for _ in range(n))


def test_sets_count_by_fraction_and_easy_sets_and_warm_ups_do_not():
    """Hand: 3 hard sets give the chest 3 and the triceps 1.2; one set with 5 left and a warm-up give nothing."""
    done = Session(day=MONDAY, sets=(*press(3, reserve=2.0), *press(1, reserve=5.0), *press(1, warm_up=True)), minutes=50)
    (week,) = weekly([done], [], COUNTING)
    assert week.done.muscles == {"chest": pytest.approx(3.0), "triceps": pytest.approx(1.2)}
    assert week.planned is None


def test_extra_sets_of_one_lift_do_not_make_up_for_missed_ones_of_another():
    (week,) = weekly([Session(day=MONDAY, sets=press(14), minutes=70)], [PLAN], COUNTING)
    kept = adherence([week])
    assert kept.sets == (14, 8)
    assert kept.share == pytest.approx(8 / 14)
    assert kept.visits == (2, 1)
    assert kept.minutes == (120, 70)
    assert kept.lifts["curl", "full"] == (3 * 2, 0)


def test_a_week_without_training_is_there_and_counts():
    weeks = weekly([Session(day=MONDAY, sets=press(4)), Session(day=MONDAY + timedelta(days=15), sets=press(2))], [], COUNTING)
    assert [w.done.visits for w in weeks] == [1, 0, 1]
    assert mean_muscle_sets(weeks)["chest"] == pytest.approx(2.0)


def test_main_muscle_is_the_one_that_counts_most_unless_it_is_known():
    assert COUNTING.main_muscle(("press", "full")) == "chest"
    assert COUNTING.main_muscle(("unknown", "full")) == ""
    assert Counting(COUNTING.fraction, COUNTING.share, {("press", "full"): "triceps"}).main_muscle(("press", "full")) == "triceps"


def test_pain_that_comes_back_is_for_a_clinician_and_once_is_not():
    hurt = [Session(day=MONDAY + timedelta(days=7 * i), sets=(*press(1, pain=("shoulder",)), *press(3))) for i in range(3)]
    rules = review_rules()
    found = pain(hurt, MONDAY + timedelta(days=15), rules)
    assert found.joints[0].persists
    assert found.joints[0].lifts == ((("press", "full"), 3, 12),)
    assert [(w.painful_sets, w.sets) for w in found.weeks] == [(1, 4)] * 3
    assert not pain(hurt[:1], MONDAY, rules).joints[0].persists


@pytest.mark.parametrize(
    ("note", "word"),
    [("Tingling down the arm", "tingling"), ("no numbness today", ""), ("popular lift", ""), ("knee gave way", "gave way")],
)
def test_warning_words_are_whole_words_and_may_be_denied(note, word):
    found = pain([Session(day=MONDAY, sets=press(1), note=note)], MONDAY, review_rules())
    assert [w.word for w in found.warnings] == ([word] if word else [])
