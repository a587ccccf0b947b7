"""Trends on simulated truth: intervals cover it, outliers count less, stalls are found and rises not called stalls."""

import sys
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from lengthwise.training.findings import state_of
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.review_rules import review_rules
from lengthwise.training.scenario import ClientTruth, LiftTruth, simulate
from lengthwise.training.strength import histories
from lengthwise.training.trend import Rise, trends

sys.path.append(str(Path(__file__).parents[2] / "validation"))
import trend_recovery

FIRST = date(2025, 1, 6)
RULES = review_rules()
RISE = Rise(RULES.rise_per_week, RULES.stall_weeks)


def person(rng, gain, stall=None):
    lifts = tuple(
        LiftTruth(
            lift=f"lift_{i}",
            muscle="chest",
            joint="shoulder",
            start_kg=float(rng.uniform(40, 140)),
            gain=gain,
            stall_week=stall,
            visits=(i % 2, 2 + i % 2),
        )
        for i in range(6)
    )
    return ClientTruth(name="invented", lifts=lifts, sets=(3,), curve=float(np.exp(rng.normal(0, 0.1))), missed=0.1, form=0.02)


def test_intervals_hold_the_truth_about_as_often_as_they_say():
    """Nominal 95 %, 90-98 % asked; row by row for 900 persons each in docs/following.md. Lifts of a person share habits, so 240 persons are pooled here."""
    rows = [
        trend_recovery.coverage(40, weeks, np.random.default_rng(300 + weeks), gains)
        for weeks in (8, 20, 52)
        for gains in (trend_recovery.usual, trend_recovery.believed)
    ]
    for name in ("1RM", "line", "ahead", "slope"):
        found = [row[name] for row in rows]
        assert 0.90 <= np.mean(found) <= 0.98, (name, found)
        assert min(found) >= 0.85, (name, found)


@pytest.mark.parametrize(("gain", "stall", "low", "high"), [(0.8, None, 0.0, 0.06), (0.8, 12, 0.35, 1.0)])
def test_stalls_are_found_and_rises_are_not_called_stalls(gain, stall, low, high):
    rng, called = np.random.default_rng(5), []
    end = FIRST + timedelta(days=24 * 7 - 1)
    for _ in range(20):
        made = simulate(person(rng, gain, stall), FIRST, 24, rng)
        called += [state_of(t, end, RULES)[0] in ("stalled", "falling") for t in trends(histories(made.sessions), end, RISE)]
    assert low <= np.mean(called) <= high


def steady(n=30, slip=None):
    out = []
    for i in range(n):
        load = 60.0 * (1.5 if i == slip else 1.0)
        out.append(
            Session(
                day=FIRST + timedelta(days=3 * i), sets=(LoggedSet(lift="row", load_kg=load, repetitions=8 + i // 10, reserve=2.0),)
            )
        )
    return out


def test_a_slip_of_the_pen_counts_little_and_hardly_moves_the_line():
    end = FIRST + timedelta(days=90)
    (plain,), (slipped,) = (trends(histories(steady(slip=s)), end, RISE) for s in (None, 27))
    assert slipped.counts[27] < 0.1
    assert slipped.line.value == pytest.approx(plain.line.value, rel=0.01)


def test_a_gap_widens_what_is_known():
    sessions = steady()
    soon, late = (trends(histories(sessions), FIRST + timedelta(days=d), RISE)[0] for d in (90, 270))
    assert late.line.high / late.line.low > soon.line.high / soon.line.low


def test_two_visits_are_too_few_and_records_are_first_days():
    sessions = steady(2)
    (found,) = trends(histories(sessions), FIRST + timedelta(days=7), RISE)
    assert not found.enough
    assert state_of(found, FIRST + timedelta(days=7), RULES) == ("too few visits", None)
    assert {r.day for r in found.records} == {FIRST}


def test_a_lift_gives_the_same_answer_alone_and_among_others():
    rng = np.random.default_rng(1)
    made = histories(simulate(person(rng, 0.5), FIRST, 12, rng).sessions)
    end = FIRST + timedelta(days=83)
    alone, among = trends(made[:1], end, RISE)[0], trends(made, end, RISE)[0]
    assert alone.line.value == pytest.approx(among.line.value, rel=1e-12)
    assert alone.p_rising == pytest.approx(among.p_rising, rel=1e-9)
