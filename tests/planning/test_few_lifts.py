"""Rows in whole lifts hold in every week of few lifts: with them the best week is worth the same, and the bound lies nearer to it."""

from dataclasses import replace

import numpy as np
import pytest
from invented_weeks import lift, muscle, random_question
from with_and_without import bests

from lengthwise.planning import solve
from lengthwise.planning.check import check
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.rules import default_rules

FEW = replace(default_rules(), beginner_lifts=3.0, heads_from=4.0)


def beginner(seed):
    """A beginner's question with floors and jobs, days far apart or in a row, and a share that may be hard to keep."""
    rng = np.random.default_rng(seed)
    asked = random_question(rng, n_lift=7, n_day=int(rng.integers(2, 5)), n_muscle=3, rules=FEW)
    sorts = [str(rng.choice(["press", "row", "pulldown", "squat"])) for _ in asked.choices]
    choices = tuple(
        replace(c, practice=replace(c.practice, pattern=s, multi=bool(rng.random() < 0.6)))
        for c, s in zip(asked.choices, sorts, strict=True)
    )
    muscles = tuple(replace(m, own=False, floor=float(rng.integers(0, 7))) for m in asked.muscles)
    share = [None, 0.3, 0.75][seed % 3]
    return replace(asked, choices=choices, muscles=muscles, beginner=True, pair=False, without=frozenset(), most_share=share)


@pytest.mark.parametrize("seed", range(20))
def test_the_best_week_is_worth_the_same_with_rows_in_whole_lifts(seed, monkeypatch):
    (worth, bound), (plain, loose) = bests(beginner(seed), "add_whole_lifts", monkeypatch)
    assert worth == pytest.approx(plain, abs=1e-4)
    assert bound <= loose + 1e-6


def test_the_linear_programme_lies_nearer_to_the_best_week(monkeypatch):
    left = [
        (bound - worth, loose - worth)
        for (worth, bound), (_, loose) in (bests(beginner(s), "add_whole_lifts", monkeypatch) for s in range(6))
    ]
    assert sum(near for near, _ in left) < 0.8 * sum(far for _, far in left)


def test_one_lift_of_a_beginner_gives_a_muscle_three_sets_on_two_days():
    """Main lifts are repeated so that they are learned (week_rules.csv: lifts_per_week_novice); a week of one lift has six sets of it, not four."""
    days = tuple(DayOffer(day=d, place="gym", minutes=30.0, gear=frozenset({"cable"})) for d in ("monday", "thursday"))
    one = replace(default_rules(), beginner_lifts=1.0)
    question = WeekQuestion(
        choices=(lift(0, a=1.0), lift(1, a=0.9)), days=days, muscles=(muscle("a", 8, 12),), beginner=True, rules=one
    )
    week = solve.plan(question)
    assert week.muscle_sets["a"] == 6.0 and check(week, question) == []


def test_a_beginner_whose_days_hold_all_lifts_is_not_told_to_find_minutes():
    """Eight muscles on one long day of six lifts: with two hours more they would still be six."""
    names = "abcdefgh"
    lifts = tuple(lift(k, **{m: 1.0}) for k, m in enumerate(names))
    long = DayOffer(day="monday", place="gym", minutes=150.0, gear=frozenset({"cable"}))
    muscles = tuple(replace(muscle(m, 4, 8), floor=2.0) for m in names)
    told = solve.plan(WeekQuestion(choices=lifts, days=(long,), muscles=muscles, beginner=True)).conflicts
    assert len(told) == 2 and all("6 lifts a day" in c.relaxing_it_buys for c in told)
