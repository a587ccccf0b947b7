"""The search over set-ups on measures with a known best, and on the model."""

import math

import pytest

from lengthwise.errors import NoSolutionError, UnknownNameError
from lengthwise.grading.setup_search import Setups, search
from lengthwise.lifts.catalogue import built_in

LIFT = built_in().lifts["overhead_cable_extension_one_arm"]
SETUPS = Setups(
    "overhead_cable_extension_one_arm", LIFT, ("triceps_long",), "long_range_load", ("pulley_height_cm", "pulley_distance_cm")
)


def hill(setup):
    """One peak at 60 cm height and 70 cm distance; cannot be held beyond 90 cm of distance."""
    if setup["pulley_distance_cm"] > 90:
        return None
    return math.exp(-(((setup["pulley_height_cm"] - 60) / 30) ** 2) - ((setup["pulley_distance_cm"] - 70) / 40) ** 2)


def test_it_finds_the_known_peak_and_counts_what_cannot_be_held():
    found = search(SETUPS, lambda some: [hill(s) for s in some])
    assert found.best["pulley_height_cm"] == pytest.approx(60, abs=2)
    assert found.best["pulley_distance_cm"] == pytest.approx(70, abs=3)
    assert found.best_value >= found.default_value
    assert found.best["lean_deg"] == LIFT.setup["lean_deg"].default
    assert found.infeasible > 0 and set(found.parameters) == {"pulley_height_cm", "pulley_distance_cm"}


def test_among_equals_it_stays_nearest_to_the_default():
    found = search(SETUPS, lambda some: [0.5 for _ in some])
    assert found.best == found.default


def test_smaller_is_better_where_the_measure_says_so():
    setups = Setups(SETUPS.lift_id, LIFT, SETUPS.heads, "joint_conflict", SETUPS.names)
    found = search(setups, lambda some: [1 - (hill(s) or 0.0) for s in some])
    assert found.best_value == pytest.approx(0, abs=0.02)


def test_nothing_can_be_held():
    with pytest.raises(NoSolutionError, match=r"none of .* set-ups can be held"):
        search(SETUPS, lambda some: [None for _ in some])


def test_names_are_checked():
    with pytest.raises(UnknownNameError, match="measure"):
        Setups("x", LIFT, ("triceps_long",), "longest")
    with pytest.raises(UnknownNameError, match="set-up parameter"):
        Setups("x", LIFT, ("triceps_long",), "long_range_load", ("pulley",))
