"""Days whose pairs save more than was counted on use the minutes, and the second of two raised muscles keeps up (own choices)."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle

from lengthwise.planning import on_time, solve
from lengthwise.planning.check import check
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.solve import plan
from lengthwise.planning.unhurried import LONGER

NAMES = ("biceps", "triceps", "calves", "deltoid_middle", "abdominals", "forearm_flexors")


def asked(low, priority=1.0, minutes=35.0):
    """Lifts with long rests, so that two of them in turn save far more than is usual."""
    choices = tuple(replace(lift(k, **{m: 1.0}), rest_s=150.0) for k, m in enumerate(NAMES))
    days = tuple(DayOffer(day=d, place="gym", minutes=minutes, gear=frozenset({"cable"})) for d in ("monday", "thursday"))
    return WeekQuestion(choices=choices, days=days, muscles=tuple(muscle(m, low, 12.0, priority) for m in NAMES))


def test_minutes_that_pairs_really_leave_are_used(monkeypatch):
    question = asked(low=6.0)
    found = plan(question)
    monkeypatch.setattr(solve, "with_early_days", lambda best: best)
    before = plan(question)
    assert (
        found.value > before.value and sum(d.minutes for d in found.days) > sum(d.minutes for d in before.days) + on_time.EARLY_MIN
    )
    assert check(found, question) == []


@pytest.mark.parametrize(("low", "priority", "asks"), [(0.0, 1.0, False), (0.0, 2.0, True), (8.0, 1.0, True)])
def test_nobody_asks_where_no_muscle_could_use_them(monkeypatch, low, priority, asks):
    """Within its band a muscle that nobody raised has enough."""
    models = []
    real = on_time._with_others_held
    monkeypatch.setattr(on_time, "_with_others_held", lambda *a: models.append(a) or real(*a))
    plan(asked(low=low, priority=priority))
    assert bool(models) == asks


def easily(minutes, beginner=True):
    """Six lifts of three sets at most, each of 50 s with 60 s of rest and a minute of set-up, on two days."""
    question = replace(asked(low=12.0, minutes=minutes), beginner=beginner, easy=beginner, pair=False)
    return replace(question, choices=tuple(replace(c, rest_s=60.0) for c in question.choices))


@pytest.mark.parametrize(("minutes", "rests"), [(44.0, 60.0), (60.0, 75.0), (75.0, 105.0)])
def test_a_beginners_early_day_rests_longer(minutes, rests):
    """By hand: 5 + 6 · (1 + 3 · 110/60) are 44 minutes, and 4.5 more for each 15 s of rest; 76 % of 60 are 45.6 and of 75 are 57."""
    question = easily(minutes)
    week = plan(question)
    assert check(week, question) == [] and {x.rest_s for d in week.days for x in d.lifts} == {rests}
    assert all(d.minutes >= question.rules.fill_least * minutes for d in week.days)
    assert any(LONGER[:12] in note for note in week.notes) == (rests > 60)


def test_rests_end_at_two_minutes_of_one_joint_and_are_nobody_elses():
    """American College of Sports Medicine 2009, from memory. Who is no beginner rests as the sets ask."""
    week = plan(easily(140.0))
    assert {x.rest_s for d in week.days for x in d.lifts} == {120.0}
    assert {x.rest_s for d in plan(easily(140.0, beginner=False)).days for x in d.lifts} == {60.0}


def test_a_rest_that_nobody_asked_for_is_found():
    question = easily(60.0)
    week = plan(question)
    assert any("rests 75 s" in fault for fault in check(week, replace(question, beginner=False, easy=False)))
