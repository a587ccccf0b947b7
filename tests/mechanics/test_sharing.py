"""Sharing: worked by hand, against two other solvers, and by the laws of a least sum of powers."""

from dataclasses import replace

import numpy as np
import piqp
import pytest
import quadprog
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from synthetic_arm import LIGAMENT_NM, LOAD_NM, REST_NM, forearm, without_supports
from synthetic_balance import whole_body

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.mechanics.capacity import capacity
from lengthwise.mechanics.problem import PASSIVE_PRICE, SUPPORT_WEIGHT, Balance, balance_at, coordinate_scale, joint_unit
from lengthwise.mechanics.sharing import share


def as_programme(balance: Balance, load_kg: float, position: int):
    """½xᵀx + cᵀx, columns·x = rest, bounds; passive structures split in two directions; built apart from the solver."""
    unit, force = joint_unit(balance)[position], SUPPORT_WEIGHT**-0.5
    passive = balance.joint[position] * unit
    parts = [balance.muscle[position], balance.support[position] * force, passive, -passive]
    columns = np.concatenate(parts, axis=1) / coordinate_scale(balance)[:, None]
    rest = (balance.rest[position] - load_kg * balance.load[position]) / coordinate_scale(balance)
    zero = np.zeros(balance.n_joint)
    low = np.concatenate([np.zeros(balance.n_line), balance.support_lower[position] / force, zero, zero])
    ends = [balance.joint_upper[position] / unit, -balance.joint_lower[position] / unit]
    high = np.concatenate([np.ones(balance.n_line), balance.support_upper[position] / force, *ends])
    cost = np.concatenate([np.zeros(balance.n_line + balance.n_force), np.full(2 * balance.n_joint, PASSIVE_PRICE)])
    return columns, rest, low, high, cost


def chain(seed: int, n_coord: int = 6, n_line: int = 24, n_pos: int = 4) -> Balance:
    """Joints with pairs of opposing lines and some that cross several; no supports, so activations scale exactly."""
    rng = np.random.default_rng(seed)
    pairs = np.concatenate([np.eye(n_coord), -np.eye(n_coord)], axis=1) * rng.uniform(40.0, 120.0, 2 * n_coord)
    crossing = rng.normal(0.0, 20.0, (n_coord, n_line - 2 * n_coord)) * rng.integers(0, 2, (n_coord, 1))
    muscle = np.concatenate([pairs, crossing], axis=1) * rng.uniform(0.8, 1.2, (n_pos, 1, n_line))
    load = rng.normal(0.0, 1.0, (n_pos, n_coord))
    return without_supports(muscle, load, rng.normal(0.0, 2.0, (n_pos, n_coord)), np.full((n_pos, n_coord), 3.0))


def test_forearm_squares_by_hand():
    """Lagrange: a = y·40, b = y·25, so y = M / (40² + 25²) with M = 2.4 + g·0.32·10; the extensor rests."""
    moment = REST_NM + LOAD_NM * 10.0
    found = share(forearm(), 10.0)
    assert found.activation[0] == pytest.approx([40.0 * moment / 2225.0, 25.0 * moment / 2225.0, 0.0])
    assert found.residual[0] < 1e-12 and found.kkt_error[0] < 1e-12


def test_forearm_cubes_by_hand():
    """Lagrange: a² = y·40, b² = y·25, so √y = M / (40·√40 + 25·√25); smoothing may shift them by about 1e-4."""
    moment = REST_NM + LOAD_NM * 10.0
    root = moment / (40.0**1.5 + 25.0**1.5)
    assert share(forearm(), 10.0, power=3).activation[0] == pytest.approx([root * 40.0**0.5, root * 25.0**0.5, 0.0], abs=2e-4)


def test_a_full_line_leaves_the_rest_to_the_other():
    """At 18 kg squares would ask a = 1.06: A is full, B carries what is missing."""
    moment = REST_NM + LOAD_NM * 18.0
    assert share(forearm(), 18.0).activation[0] == pytest.approx([1.0, (moment - 40.0) / 25.0, 0.0])


def test_ligament_is_a_last_resort():
    """Unloaded at 10 kg; at 20.5 kg all muscle gives 65 N·m and the ligament the rest."""
    balance = forearm(LIGAMENT_NM)
    assert share(balance, 10.0).joint[0, 0] == 0.0
    beyond = share(balance, 20.5)
    assert beyond.activation[0] == pytest.approx([1.0, 1.0, 0.0])
    assert beyond.joint[0, 0] == pytest.approx(REST_NM + LOAD_NM * 20.5 - 65.0)


@pytest.mark.parametrize("seed", range(3))
def test_agrees_with_piqp_and_quadprog(seed):
    """Second and third solver: piqp (interior points) and quadprog (active set; Goldfarb & Idnani)."""
    balance = whole_body(np.random.default_rng(seed), n_pos=5)
    load = 0.85 * capacity(balance).load_kg
    found = share(balance, load)
    for position in (0, 3):
        columns, rest, low, high, cost = as_programme(balance, load[position], position)
        n = len(cost)
        solver = piqp.DenseSolver()
        solver.settings.eps_abs = solver.settings.eps_rel = 1e-10
        none = np.zeros((0, n), order="F")
        solver.setup(np.asfortranarray(np.eye(n)), cost, np.asfortranarray(columns), rest, none, None, None, low, high)
        assert solver.solve() == piqp.PIQP_SOLVED
        assert found.activation[position] == pytest.approx(solver.result.x[: balance.n_line], abs=1e-6)
        sides = [columns.T, np.eye(n)[:, np.isfinite(low)], -np.eye(n)[:, np.isfinite(high)]]
        limits = np.concatenate([rest, low[np.isfinite(low)], -high[np.isfinite(high)]])
        other = quadprog.solve_qp(np.eye(n), -cost, np.concatenate(sides, axis=1), limits, len(rest))[0]
        assert found.activation[position] == pytest.approx(other[: balance.n_line], abs=1e-7)


def test_cubes_agree_with_a_general_solver():
    """scipy SLSQP on Σ a³ directly, without the smoothing term, which may shift activations by about 1e-4."""
    balance = chain(2, n_pos=1)
    load = 0.6 * capacity(balance).load_kg
    found = share(balance, load, power=3)
    rest = balance.rest[0] - load[0] * balance.load[0]
    start = share(balance, load).activation[0]
    other = minimize(
        lambda a: (a**3).sum() / 3, start, jac=lambda a: a**2, bounds=[(0, 1)] * balance.n_line, method="SLSQP",
        constraints={"type": "eq", "fun": lambda a: (balance.muscle[0] @ a - rest) / 50, "jac": lambda a: balance.muscle[0] / 50},
        options={"ftol": 1e-14, "maxiter": 500},
    )  # fmt: skip
    assert np.abs(found.joint).max() == 0.0
    assert (found.activation[0] ** 3).sum() / 3 == pytest.approx(other.fun, rel=1e-3, abs=1e-7)
    assert found.activation[0] == pytest.approx(other.x, abs=3e-3)


@settings(max_examples=20, deadline=None, derandomize=True)
@given(st.integers(0, 10_000), st.floats(0.1, 0.98), st.sampled_from([2, 3]))
def test_every_position_is_balanced_and_optimal(seed, fraction, power):
    balance = whole_body(np.random.default_rng(seed), n_coord=16, n_line=60, n_force=24, n_pos=6)
    try:
        most = capacity(balance).load_kg
    except NoSolutionError:
        return
    found = share(balance, most - (1.0 - fraction) * np.abs(most), power=power)
    assert found.residual.max() < 1e-10
    assert found.kkt_error.max() < 1e-8
    assert found.activation.min() >= 0.0 and found.activation.max() <= 1.0


@pytest.mark.parametrize("fraction", [0.9999, 1.0])
def test_loads_at_capacity_are_still_shared(fraction):
    balance = whole_body(np.random.default_rng(2), n_pos=9)
    found = share(balance, fraction * capacity(balance).load_kg)
    assert found.residual.max() < 1e-8 and found.kkt_error.max() < 1e-6


def test_a_load_above_capacity_names_what_cannot_be_held():
    balance = whole_body(np.random.default_rng(1), n_pos=5)
    load = 0.8 * capacity(balance).load_kg
    load[3] *= 1.5
    with pytest.raises(NoSolutionError, match=r"position 3 of 0 to 4: no balance with .* kg; cannot be held: coordinate"):
        share(balance, load)
    # 2.4 + g·0.32·25 - 65 = 15.85 N·m
    with pytest.raises(NoSolutionError, match=r"no balance with 25 kg; cannot be held: elbow flexion \(\+15.9 N or N·m"):
        share(forearm(), 25.0, coordinates=["elbow flexion"])


@settings(max_examples=10, deadline=None, derandomize=True)
@given(st.integers(0, 10_000))
def test_twice_the_strength_halves_the_activation(seed):
    """True where no line is full and no ligament loaded: both sides of every condition scale alike."""
    balance = chain(seed)
    load = 0.2 * np.abs(capacity(balance).load_kg)
    found = share(balance, load)
    stronger = share(replace(balance, muscle=2.0 * balance.muscle), load)
    if found.activation.max() < 1.0 and np.abs(found.joint).max() == 0.0:
        assert stronger.activation == pytest.approx(found.activation / 2.0, abs=1e-9)


@settings(max_examples=10, deadline=None, derandomize=True)
@given(st.integers(0, 10_000))
def test_order_of_lines_does_not_matter(seed):
    rng = np.random.default_rng(seed)
    balance = chain(seed)
    lines = rng.permutation(balance.n_line)
    shuffled = replace(balance, muscle=balance.muscle[:, :, lines])
    load = 0.7 * np.abs(capacity(balance).load_kg)
    assert share(shuffled, load).activation == pytest.approx(share(balance, load).activation[:, lines], abs=1e-8)


def test_doubling_load_and_weights_doubles_unsaturated_activations():
    balance = chain(4)
    load = 0.2 * capacity(balance).load_kg
    once, twice = share(balance, load), share(replace(balance, rest=2.0 * balance.rest), 2.0 * load)
    assert once.activation.max() < 0.5
    assert twice.activation == pytest.approx(2.0 * once.activation, abs=1e-9)


def test_a_position_does_not_depend_on_its_neighbours():
    balance = whole_body(np.random.default_rng(8), n_pos=11)
    load = 0.7 * capacity(balance).load_kg
    one = balance_at(balance, 5)
    assert share(balance, load).activation[5] == pytest.approx(share(one, load[5]).activation[0], abs=1e-9)


def test_a_coordinate_that_nothing_touches_does_no_harm():
    balance = forearm()
    widened = without_supports(
        np.concatenate([balance.muscle, np.zeros((1, 1, 3))], axis=1),
        np.array([[-LOAD_NM, 0.0]]), np.array([[REST_NM, 0.0]]), np.zeros((1, 2)),
    )  # fmt: skip
    assert share(widened, 10.0).activation == pytest.approx(share(balance, 10.0).activation)
    assert capacity(widened).load_kg == pytest.approx(capacity(balance).load_kg)


def test_input_that_does_not_fit_is_refused():
    with pytest.raises(InputError, match=r"power must be one of \(2, 3\), found 4"):
        share(forearm(), 10.0, power=4)
    with pytest.raises(InputError, match=r"load_kg has shape \(2,\); allowed: one number or \(1,\)"):
        share(forearm(), [1.0, 2.0])
    with pytest.raises(InputError, match="load_kg must be finite"):
        share(forearm(), np.nan)
