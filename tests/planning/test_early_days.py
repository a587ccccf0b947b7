"""Days whose pairs save more than was counted on use the minutes, and the second of two raised muscles keeps up (own choices)."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle

from lengthwise.planning import solve
from lengthwise.planning.check import check
from lengthwise.planning.question import DayOffer, Question
from lengthwise.planning.solve import plan

NAMES = ("biceps", "triceps", "calves", "deltoid_middle", "abdominals", "forearm_flexors")


def asked(low, priority=1.0, minutes=35.0):
    """Lifts with long rests, so that two of them in turn save far more than is usual."""
    choices = tuple(replace(lift(k, **{m: 1.0}), rest_s=150.0) for k, m in enumerate(NAMES))
    days = tuple(DayOffer(day=d, place="gym", minutes=minutes, gear=frozenset({"cable"})) for d in ("monday", "thursday"))
    return Question(choices=choices, days=days, muscles=tuple(muscle(m, low, 12.0, priority) for m in NAMES))


def test_minutes_that_pairs_really_leave_are_used(monkeypatch):
    question = asked(low=6.0)
    found = plan(question)
    monkeypatch.setattr(solve, "_with_early_days", lambda best: best)
    before = plan(question)
    assert found.value > before.value and sum(d.minutes for d in found.days) > sum(d.minutes for d in before.days) + solve.EARLY_MIN
    assert check(found, question) == []


@pytest.mark.parametrize(("low", "priority", "asks"), [(0.0, 1.0, False), (0.0, 2.0, True), (8.0, 1.0, True)])
def test_nobody_asks_where_no_muscle_could_use_them(monkeypatch, low, priority, asks):
    """Within its band a muscle that nobody raised has enough."""
    models = []
    real = solve._with_others_held
    monkeypatch.setattr(solve, "_with_others_held", lambda *a: models.append(a) or real(*a))
    plan(asked(low=low, priority=priority))
    assert bool(models) == asks
