"""One question's searches share what they may spend, and a week is still found where that is little."""

from dataclasses import replace

import numpy as np
import pytest
from invented_weeks import random_question

from lengthwise.planning.check import check
from lengthwise.planning.effort import Effort, at_most, effort
from lengthwise.planning.highs import Work, maximise
from lengthwise.planning.integer_programme import Programme
from lengthwise.planning.solve import plan


@pytest.mark.parametrize("seed", range(4))
def test_with_no_work_left_the_first_week_stands_and_its_bound_still_holds(seed):
    question = random_question(np.random.default_rng(seed))
    full = plan(question)
    little = plan(replace(question, rules=replace(question.rules, most_steps=1)))
    assert any(day.lifts for day in little.days)
    assert check(little, question) == check(full, question)
    assert little.gap >= full.gap - 1e-9


def test_searches_within_a_block_are_counted_and_those_outside_are_not():
    programme = Programme()
    column = programme.add("a", 10.0, 1.0, whole=True)
    other = programme.add("b", 10.0, 1.1, whole=True)
    programme.keep({column: 2.0, other: 3.0}, upper=7.5)
    programme.keep({column: 3.0, other: 2.0}, upper=7.5)
    maximise(programme, Work(whole=False))
    with at_most(1):
        assert not effort().done
        maximise(programme, Work(whole=False))
        assert effort().spent >= 1 and effort().done
    assert not effort().done


def test_what_is_left_pays_for_so_many_nodes_as_they_have_cost():
    spent = Effort(most=1000)
    assert spent.affords(50) == 50
    spent.spend(400, 10)
    assert spent.affords(50) == 15 and spent.affords(5) == 5
    spent.spend(700, 1)
    assert spent.done and spent.affords(50) == 1
