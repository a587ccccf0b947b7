"""Rows that follow for whole lifts hold in every week: with them the best week is worth the same, and the bound lies nearer to it."""

from dataclasses import replace

import numpy as np
import pytest
from invented_weeks import lift, muscle, practice, random_question
from with_and_without import bests

from lengthwise.planning.question import DayOffer, WeekQuestion

PATTERNS = ("press", "row", "pulldown", "squat", "leg press")


def in_a_row(seed):
    """A question of three days in a row on which several lifts do each job."""
    rng = np.random.default_rng(seed)
    asked = random_question(rng, n_lift=8, n_day=3, n_muscle=3)
    sorts = [str(rng.choice(PATTERNS)) for _ in asked.choices]
    choices = tuple(
        replace(c, practice=replace(c.practice, pattern=s, family=f"{s} {k}", multi=True, region="any"))
        for k, (c, s) in enumerate(zip(asked.choices, sorts, strict=True))
    )
    days = tuple(replace(d, day=name) for d, name in zip(asked.days, ("monday", "tuesday", "wednesday"), strict=True))
    muscles = tuple(replace(m, own=False, floor=float(rng.integers(0, 4))) for m in asked.muscles)
    return replace(asked, choices=choices, days=days, muscles=muscles, beginner=seed % 2 == 0, pair=False, without=frozenset())


@pytest.mark.parametrize("seed", range(12))
def test_the_best_week_is_worth_the_same_with_these_rows(seed, monkeypatch):
    (worth, bound), (plain, loose) = bests(in_a_row(seed), "add_implied", monkeypatch)
    assert worth == pytest.approx(plain, abs=1e-4)
    assert bound <= loose + 1e-6


def test_a_job_shared_out_over_three_lifts_is_seen_on_days_that_follow_each_other(monkeypatch):
    """Squats on Monday and on Tuesday cost a price, no squat on either a higher one: thirds of three squats paid neither."""
    squats = tuple(
        replace(lift(k, a=1.0), practice=practice(["a"], family=f"squat {k}", pattern="squat", multi=True, region="lower"))
        for k in range(3)
    )
    days = tuple(DayOffer(day=d, place="gym", minutes=30.0, gear=frozenset({"cable"})) for d in ("monday", "tuesday"))
    asked = WeekQuestion(choices=squats, days=days, muscles=(muscle("a", 4, 8),), pair=False)
    (worth, bound), (plain, loose) = bests(asked, "add_implied", monkeypatch)
    assert worth == pytest.approx(plain, abs=1e-4) and bound - worth < 0.8 * (loose - worth)
