"""Strength on a day: worked by hand, and what is left out is told."""

from datetime import date, timedelta

import numpy as np
import pytest

from lengthwise.errors import InputError
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.strength import histories, ln_one_rm, set_error
from lengthwise.training.trend_data import trend_data

DAY = date(2025, 1, 6)


def visit(*sets, day=DAY):
    return Session(day=day, sets=sets)


def test_one_set_by_hand():
    """60 kg x 8 with 2 left: 60 (1 + 10/30) = 80 kg."""
    (found,) = histories([visit(LoggedSet(lift="row", load_kg=60, repetitions=8, reserve=2.0))])
    assert found.days[0].kg == pytest.approx(80.0)
    sizes = trend_data().error
    judged = sizes.reserve_at_failure + 2 * sizes.reserve_per_repetition
    assert found.days[0].error == pytest.approx(np.hypot(np.hypot(sizes.repetitions, judged) / 40, sizes.day))


def test_a_single_to_failure_is_the_load():
    assert np.exp(ln_one_rm(100, 1)) == pytest.approx(100)
    with pytest.raises(InputError, match="allowed loads above 0"):
        ln_one_rm(0, 5)


def test_error_grows_with_the_reserve_and_is_larger_where_nobody_judged():
    sizes = trend_data().error
    assert set_error(10, 0, sizes) < set_error(10, 2, sizes) < set_error(10, 4, sizes)
    assert set_error(10, None, sizes) > set_error(10, 1, sizes)


def test_what_a_further_set_costs_is_taken_out():
    """Law: three sets that lose a repetition each give the first set's strength, once enough visits are seen."""
    sessions = [
        visit(
            *(LoggedSet(lift="row", load_kg=60, repetitions=9 - k, reserve=1.0) for k in range(3)), day=DAY + timedelta(days=3 * i)
        )
        for i in range(6)
    ]
    (found,) = histories(sessions)
    assert found.drop < 0
    assert found.days[0].kg == pytest.approx(80.0, rel=0.01)


def test_what_cannot_be_used_is_counted_by_reason():
    (found,) = histories(
        [
            visit(
                LoggedSet(lift="pull_up", load_kg=0, repetitions=8, reserve=1.0),
                LoggedSet(lift="pull_up", load_kg=10, repetitions=40),
                LoggedSet(lift="pull_up", load_kg=10, repetitions=0),
            )
        ]
    )
    assert sum(found.left_out.values()) == 3
    assert not found.days
    (moved,) = histories([visit(LoggedSet(lift="pull_up", load_kg=0, repetitions=8, reserve=2.0))], {"pull_up": 60.0})
    assert moved.days[0].kg == pytest.approx(80.0)


def test_warm_ups_do_not_count_and_order_does_not_matter():
    a, b = (
        visit(LoggedSet(lift="row", load_kg=60, repetitions=8, reserve=2.0)),
        visit(LoggedSet(lift="row", load_kg=62.5, repetitions=8, reserve=2.0), day=DAY + timedelta(days=3)),
    )
    warm = visit(LoggedSet(lift="row", load_kg=20, repetitions=10, warm_up=True), *a.sets)
    assert histories([a, b]) == histories([b, warm])
