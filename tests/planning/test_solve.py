"""Weeks equal brute force where that is possible, pass the recount always, and stay near or away as asked."""

from dataclasses import replace

import numpy as np
import pytest
from brute_force import weeks
from invented_weeks import GEAR, lift, muscle, random_question

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.planning.check import check
from lengthwise.planning.distance import difference, moved
from lengthwise.planning.question import DayOffer, Question
from lengthwise.planning.rules import default_rules
from lengthwise.planning.solve import plan

SMALL = replace(default_rules(), most_sets=3.0)


def small(seed):
    rng = np.random.default_rng(seed)
    asked = random_question(rng, n_lift=3, n_day=2, n_muscle=2, rules=SMALL, seconds=20)
    days = tuple(replace(d, gear=frozenset({*GEAR, "body"}), minutes=15 + d.minutes / 2) for d in asked.days)
    return replace(
        asked,
        days=days,
        muscles=tuple(replace(m, own=False) for m in asked.muscles),
        choices=tuple(replace(c, systemic=c.systemic * 0.6, kind="") for c in asked.choices),
    )


@pytest.mark.parametrize("seed", range(25))
def test_a_small_plan_is_worth_what_brute_force_finds(seed):
    question = small(seed)
    best = max(w.value for w in weeks(question))
    found = plan(question)
    assert found.value == pytest.approx(best, abs=2e-3 * max(1, abs(best)))
    assert found.gap <= 1e-3 + 1e-9


@pytest.mark.parametrize("seed", range(8))
def test_a_new_plan_moves_as_little_as_brute_force(seed):
    question = replace(small(seed), without=frozenset())
    usual = plan(question)
    changed = replace(question, days=(replace(question.days[0], minutes=question.days[0].minutes * 0.7), *question.days[1:]))
    best = plan(changed)
    least = best.value - question.rules.give_up * abs(best.value)
    nearest = min(moved(w, usual) for w in weeks(changed) if w.value >= least - 1e-6)
    found = plan(replace(changed, previous=usual))
    assert found.moved == nearest
    assert not check(found, replace(changed, previous=usual))


@pytest.mark.parametrize("seed", range(200))
def test_every_week_passes_the_recount(seed):
    rng = np.random.default_rng(1000 + seed)
    question = random_question(rng)
    gear = frozenset().union(*(d.gear for d in question.days))
    if not any(c.gear in gear for c in question.choices):
        with pytest.raises(NoSolutionError, match="no lift can be done"):
            plan(question)
        return
    week = plan(question)
    assert check(week, question) == []
    missed = [m.name for m in question.muscles if m.own and week.muscle_sets[m.name] < m.low - 1e-6]
    assert bool(missed) == bool(week.conflicts)


def test_nothing_moves_when_nothing_changed():
    question = random_question(np.random.default_rng(5), n_lift=10, n_day=3)
    week = plan(question)
    assert plan(replace(question, previous=week)).moved == 0


def test_brute_force_meets_pairs():
    """So that the comparison above says something about lifts in turn."""
    found = [plan(small(seed)) for seed in range(25)]
    assert sum(any(x.pair is not None for d in w.days for x in d.lifts) for w in found) >= 3


def test_an_alternative_leaves_out_half_of_the_lifts():
    question = random_question(np.random.default_rng(11), n_lift=14, n_day=3, n_muscle=4)
    first = plan(question)
    second = plan(replace(question, earlier=(first,)))
    third = plan(replace(question, earlier=(first, second)))
    for week, earlier in ((second, (first,)), (third, (first, second))):
        assert difference(week, earlier) >= question.rules.least_difference
        assert week.difference == difference(week, earlier)
        assert check(week, replace(question, earlier=earlier)) == []


def test_lifts_that_do_not_compete_are_done_in_turn_when_minutes_are_short():
    choices = (lift(0, chest=1.0), lift(1, back=1.0))
    days = (DayOffer("monday", "gym", 22, frozenset({"cable"})),)
    wanted = (muscle("chest", 4, 8), muscle("back", 4, 8))
    paired, apart = plan(Question(choices, days, wanted)), plan(Question(choices, days, wanted, pair=False))
    # in turn: 5 min warm-up, 2 × 60 s set-up, 4 rounds of max(170, 170, 50 + 50 + 2·60) = 220 s: 21.7 min
    assert paired.days[0].minutes == pytest.approx(5 + 2 + 4 * 220 / 60)
    assert {x.sets for x in paired.days[0].lifts} == {4} and all(x.pair == 1 for x in paired.days[0].lifts)
    # one after the other: 170 s a set, so (22 - 7)·60 / 170 = 5 sets
    assert sum(x.sets for x in apart.days[0].lifts) == 5


def test_what_matters_most_comes_first_then_what_costs_most():
    heavy = replace(lift(0, legs=1.0), systemic=0.9)
    choices = (heavy, lift(1, arms=1.0), lift(2, calves=1.0))
    question = Question(
        choices,
        (DayOffer("monday", "gym", 60, frozenset({"cable"})),),
        (muscle("legs", 4, 8), muscle("arms", 4, 8), muscle("calves", 4, 8, priority=2)),
        pair=False,
    )
    assert [x.muscle for x in plan(question).days[0].lifts] == ["calves", "legs", "arms"]


def test_hard_days_do_not_follow_each_other():
    question = Question(
        tuple(lift(k, chest=1.0) for k in range(4)),
        (DayOffer("monday", "gym", 60, frozenset({"cable"})), DayOffer("tuesday", "gym", 60, frozenset({"cable"}))),
        (muscle("chest", 14, 20),),
    )
    by_day = [sum(x.sets for x in d.lifts) for d in plan(question).days]
    assert sorted(by_day) == [4, 8]


def test_bad_questions_are_told():
    one = DayOffer("monday", "gym", 60, frozenset({"cable"}))
    with pytest.raises(InputError, match="each once"):
        plan(Question((lift(0, chest=1.0),), (one, one), (muscle("chest"),)))
    with pytest.raises(InputError, match="no muscle"):
        plan(Question((lift(0, chest=1.0),), (one,), ()))
    with pytest.raises(NoSolutionError, match="no lift can be done"):
        plan(Question((lift(0, "barbell", chest=1.0),), (one,), (muscle("chest"),)))
