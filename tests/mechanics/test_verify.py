"""The independent checks: they pass what is right and catch what is not."""

from dataclasses import replace

import numpy as np
import pytest
from independent_checks import (
    balance_residual,
    bound_violation,
    capacity_check,
    optimality,
    tie_allowance_kg,
)
from synthetic_arm import LOAD_NM, REST_NM, forearm
from synthetic_balance import whole_body

from lengthwise.mechanics.capacity import capacity
from lengthwise.mechanics.sharing import share


@pytest.mark.parametrize("size", [(25, 90, 40), (53, 182, 80)])
def test_capacity_passes_its_checks(size):
    balance = whole_body(np.random.default_rng(3), *size, n_pos=6)
    found = capacity(balance)
    check = capacity_check(balance, found.load_kg, found.multiplier, found.activation, found.support, found.joint)
    assert check.balance_error.max() < 1e-10 and check.bound_error.max() < 1e-9
    assert check.gap_kg.min() > -1e-6
    assert check.gap_kg.max() < tie_allowance_kg(balance) + 1e-6


@pytest.mark.parametrize("power", [2, 3])
@pytest.mark.parametrize("size", [(25, 90, 40), (53, 182, 80)])
def test_sharing_passes_its_checks(size, power):
    balance = whole_body(np.random.default_rng(4), *size, n_pos=5)
    load = 0.8 * capacity(balance).load_kg
    found = share(balance, load, power=power)
    forces = (found.activation, found.support, found.joint)
    assert balance_residual(balance, *forces, load).max() < 1e-10
    assert bound_violation(balance, *forces).max() == 0.0
    assert max(optimality(balance, position, *forces, power=power) for position in range(5)) < 1e-8


def test_residual_of_a_missing_newton_metre_by_hand():
    """Forearm with 10 kg and only A at full activation: 40 against 33.78 N·m; terms add up to 73.78 N·m."""
    balance = forearm()
    held = REST_NM + 10.0 * LOAD_NM
    error = balance_residual(balance, np.array([[1.0, 0.0, 0.0]]), np.zeros((1, 0)), np.zeros((1, 1)), 10.0)
    assert error[0] == pytest.approx((40.0 - held) / (40.0 + held))


def test_bounds_that_are_passed_are_seen():
    balance = forearm(5.0)
    error = bound_violation(balance, np.array([[1.25, 0.0, 0.0]]), np.zeros((1, 0)), np.array([[-6.0]]))
    assert error[0] == pytest.approx(0.25)
    error = bound_violation(balance, np.array([[0.0, -0.1, 0.0]]), np.zeros((1, 0)), np.array([[-6.0]]))
    assert error[0] == pytest.approx(0.2)


def test_a_balanced_answer_that_wastes_effort_is_seen():
    """A and C against each other hold the same load as the best answer, but are not the least squares."""
    balance = forearm()
    best = share(balance, 10.0).activation
    wasteful = best + np.array([[0.15, 0.0, 0.2]])
    nothing = (np.zeros((1, 0)), np.zeros((1, 1)))
    assert balance_residual(balance, wasteful, *nothing, 10.0)[0] < 1e-12
    assert optimality(balance, 0, best, *nothing) < 1e-10
    assert optimality(balance, 0, wasteful, *nothing) > 0.05


def test_a_needlessly_loaded_ligament_is_seen():
    balance = forearm(5.0)
    moment = REST_NM + 10.0 * LOAD_NM - 2.0
    activation = np.array([[40.0, 25.0, 0.0]]) * moment / 2225.0
    none = np.zeros((1, 0))
    assert balance_residual(balance, activation, none, np.array([[2.0]]), 10.0)[0] < 1e-12
    assert optimality(balance, 0, activation, none, np.array([[2.0]])) > 0.05


def test_a_load_short_of_capacity_leaves_a_gap():
    balance = forearm()
    found = capacity(balance)
    parts = (found.activation, found.support, found.joint)
    assert capacity_check(balance, found.load_kg, found.multiplier, *parts).gap_kg[0] == pytest.approx(0.0, abs=1e-9)
    less = capacity_check(balance, found.load_kg - 1.0, found.multiplier, *parts)
    assert less.gap_kg[0] == pytest.approx(1.0) and less.balance_error[0] > 0.01


def test_multipliers_that_prove_nothing_give_no_bound():
    balance = replace(forearm(), load=np.array([[-1.0]]))
    found = capacity(balance)
    parts = (found.activation, found.support, found.joint)
    assert capacity_check(balance, found.load_kg, 0.5 * found.multiplier, *parts).upper_bound_kg[0] == np.inf
