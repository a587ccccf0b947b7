"""Splitting sets by hand: two lifts, two heads."""

import numpy as np
import pytest

from lengthwise.errors import NoSolutionError
from lengthwise.grading.dividing import divide, whole_sets
from lengthwise.grading.target import Target

TARGET = Target("triceps", ("triceps_long", "triceps_lateral"))


BOTH = np.array([[0.4, 0.0], [0.1, 0.2]])
"""Growth of the long and the lateral head for a hard set of a and of b."""


def test_two_specialists_share_by_hand():
    """a serves long 1 and lateral 0.5 of its best; b serves long 0 and lateral 1: x = 0.5 + 0.5·(1 - x) gives x = 2/3."""
    found = divide(("a", "b"), TARGET, 12, {}, BOTH)
    assert found.share["a"] == pytest.approx(2 / 3, abs=1e-5)
    assert found.sets == {"a": 8, "b": 4}
    assert found.reached["triceps_long"] == pytest.approx(found.reached["triceps_lateral"], abs=1e-5)


def test_bounds_are_kept():
    found = divide(("a", "b"), TARGET, 10, {"a": (0.1, 0.5)}, BOTH)
    assert found.share["a"] == pytest.approx(0.5)


def test_bounds_that_contradict_each_other():
    with pytest.raises(NoSolutionError, match="limits allow 0% to 80%"):
        divide(("a", "b"), TARGET, 10, {"a": (0, 0.5), "b": (0, 0.3)}, BOTH)


def test_the_trade_off_runs_one_way():
    found = divide(("a", "b"), TARGET, 10, {}, BOTH)
    least, mean = [p.least for p in found.trade_off], [p.mean for p in found.trade_off]
    assert least == sorted(least, reverse=True) and mean == sorted(mean)


def test_a_head_that_no_lift_trains_is_named():
    found = divide(("a",), TARGET, 10, {}, np.array([[0.4], [0.0]]))
    assert found.bare == ("triceps_lateral",) and "triceps_lateral" not in found.reached


def test_whole_sets_add_up():
    assert whole_sets({"a": 1 / 3, "b": 1 / 3, "c": 1 / 3}, 10) == {"a": 4, "b": 3, "c": 3}
    assert sum(whole_sets({"a": 0.123, "b": 0.456, "c": 0.421}, 17).values()) == 17
