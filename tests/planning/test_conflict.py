"""Wishes that contradict: the conflict is one, and none of its wishes can be left out."""

from dataclasses import replace

import numpy as np
import pytest
from invented_weeks import lift, muscle, random_question

from lengthwise.planning.check import check
from lengthwise.planning.conflict import can_hold, smallest_conflict
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.solve import plan
from lengthwise.planning.whole import model_of

CABLE = frozenset({"cable"})


def minimal(programme):
    found = smallest_conflict(programme)
    assert found.wishes and found.smallest
    conflict = found.wishes
    assert not can_hold(programme, frozenset(conflict))
    for wish in conflict:
        assert can_hold(programme, frozenset(conflict) - {wish}), wish.text
    return [w.text for w in conflict]


def test_too_few_minutes_for_an_own_wish():
    question = WeekQuestion(
        choices=(lift(0, chest=1.0), lift(1, chest=1.0)),
        days=(DayOffer(day="monday", place="gym", minutes=20, gear=CABLE),),
        muscles=(muscle("chest", 8, 12, own=True),),
    )
    assert minimal(model_of(question).programme) == ["at most 20 minutes on Monday", "at least 8 sets a week for chest"]
    week = plan(question)
    told = {c.wish: c.relaxing_it_buys for c in week.conflicts}
    # two lifts of 4 sets: 5 + 2 + 8 · 170 / 60 = 29.7 minutes; in 20 minutes 4 sets of one lift fit
    assert told["at most 20 minutes on Monday"].startswith("30 minutes instead of 20")
    assert told["at least 8 sets a week for chest"].startswith("4.0 sets instead of 8")
    assert week.muscle_sets["chest"] == pytest.approx(4)
    assert check(week, question) == []


def test_the_only_lift_for_a_muscle_is_refused():
    question = WeekQuestion(
        choices=(lift(0, calves=1.0), lift(1, chest=1.0)),
        days=(DayOffer(day="monday", place="gym", minutes=60, gear=CABLE),),
        muscles=(muscle("calves", 3, 6, own=True), muscle("chest")),
        refused=frozenset({"lift_0"}),
    )
    assert minimal(model_of(question).programme) == ["without Lift 0", "at least 3 sets a week for calves"]
    told = {c.wish: c.relaxing_it_buys for c in plan(question).conflicts}
    assert told["without Lift 0"] == "if it is given up, every other wish can be met"


def test_two_wishes_for_the_same_minutes():
    question = WeekQuestion(
        choices=(lift(0, chest=1.0), lift(1, legs=1.0)),
        days=(DayOffer(day="monday", place="gym", minutes=20, gear=CABLE),),
        muscles=(muscle("chest", 4, 6, own=True), muscle("legs", 4, 6, own=True)),
        pair=False,
    )
    assert len(minimal(model_of(question).programme)) == 3
    assert len(plan(question).conflicts) == 3


def test_a_conflict_elsewhere_is_not_hidden():
    """Each of two muscles lacks its only lift: giving way on one does not help the other."""
    question = WeekQuestion(
        choices=(lift(0, calves=1.0), lift(1, neck=1.0), lift(2, chest=1.0)),
        days=(DayOffer(day="monday", place="gym", minutes=90, gear=CABLE),),
        muscles=(muscle("calves", 3, 6, own=True), muscle("neck", 3, 6, own=True), muscle("chest")),
        refused=frozenset({"lift_0", "lift_1"}),
    )
    told = plan(question).conflicts
    assert len(told) == 2 and all("not enough alone" in c.relaxing_it_buys for c in told)


@pytest.mark.parametrize("seed", range(12))
def test_conflicts_of_random_wishes_are_minimal(seed):
    asked = random_question(np.random.default_rng(300 + seed), n_lift=8, n_day=2, n_muscle=3)
    question = replace(asked, muscles=tuple(replace(m, low=17.0, high=20.0, own=True) for m in asked.muscles))
    programme = model_of(question).programme
    if can_hold(programme, frozenset(programme.wishes())):
        pytest.fail("at most 8 sets a day make 16 in two days")
    minimal(programme)
