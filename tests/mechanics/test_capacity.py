"""Capacity: worked by hand, against a second solver, and by the laws a largest load obeys."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from synthetic_arm import LIGAMENT_NM, LOAD_NM, REST_NM, forearm, two_joints_in_series, without_supports
from synthetic_balance import whole_body

from lengthwise.errors import InputError, NoSolutionError
from lengthwise.mechanics.capacity import capacity, limiting_shares, unbalanced
from lengthwise.mechanics.problem import Balance, balance_at, coordinate_scale


def with_linprog(balance: Balance, position: int):
    """The largest load without the price on passive structures, by scipy's own interface, from a cold start."""
    parts = (balance.muscle, balance.support, balance.joint, balance.load[:, :, None])
    columns = np.concatenate([part[position] for part in parts], axis=1) / coordinate_scale(balance)[:, None]
    bounds = [(0.0, 1.0)] * balance.n_line
    bounds += list(zip(balance.support_lower[position], balance.support_upper[position], strict=True))
    bounds += [*zip(balance.joint_lower[position], balance.joint_upper[position], strict=True), (None, None)]
    cost = np.zeros(columns.shape[1])
    cost[-1] = -1.0
    return linprog(cost, A_eq=columns, b_eq=balance.rest[position] / coordinate_scale(balance), bounds=bounds)


def homogeneous(seed: int, n_pos: int = 1) -> Balance:
    """A body without weight, ligaments or grip limits, so that the load is proportional to strength."""
    body = whole_body(np.random.default_rng(seed), n_coord=16, n_line=60, n_force=24, n_pos=n_pos)
    nothing, endless = np.zeros_like(body.joint_lower), np.full_like(body.support_upper, np.inf)
    fixed = replace(body, rest=np.zeros_like(body.rest), joint_lower=nothing, joint_upper=nothing)
    return replace(fixed, support_lower=np.zeros_like(endless), support_upper=endless)


def test_forearm_by_hand():
    """All of A and B, none of C: λ = (40 + 25 - 2.4) / (g·0.32); shares 40 : 25 over 62.6 N·m."""
    found = capacity(forearm())
    assert found.load_kg[0] == pytest.approx((65.0 - REST_NM) / LOAD_NM)
    assert found.activation[0] == pytest.approx([1.0, 1.0, 0.0])
    assert found.price[0] == pytest.approx([40.0 / 62.6, 25.0 / 62.6, 0.0])
    assert found.multiplier[0, 0] == pytest.approx(-1.0 / LOAD_NM)
    assert found.status == ("optimal",)


def test_ligament_adds_its_bound_and_no_more():
    found = capacity(forearm(LIGAMENT_NM))
    assert found.load_kg[0] == pytest.approx((65.0 + LIGAMENT_NM - REST_NM) / LOAD_NM)
    assert found.joint[0, 0] == pytest.approx(LIGAMENT_NM)


def test_ligament_rests_where_it_adds_nothing():
    """Two joints, the second far stronger than the load needs: its ligament could carry, but must not."""
    muscle = np.array([[[40.0, 0.0], [0.0, 400.0]]])
    balance = without_supports(muscle, np.full((1, 2), -1.0), np.zeros((1, 2)), np.array([[0.0, 20.0]]))
    found = capacity(balance)
    assert found.load_kg[0] == pytest.approx(40.0)
    assert found.joint[0] == pytest.approx([0.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("seed", range(4))
def test_agrees_with_linprog(seed):
    """Second solver: scipy.optimize.linprog; the price on passive structures may cost 1e-4 kg each."""
    balance = whole_body(np.random.default_rng(seed), n_pos=5)
    found = capacity(balance)
    for position in range(balance.n_pos):
        best = -with_linprog(balance, position).fun
        assert best - 1e-4 * balance.n_joint - 1e-7 <= found.load_kg[position] <= best + 1e-7


@pytest.mark.parametrize("seed", range(3))
def test_price_is_the_change_of_ln_load(seed):
    """One line 0.001 % stronger or weaker, solved anew: the load changes by its price."""
    balance = whole_body(np.random.default_rng(seed), n_pos=1)
    found = capacity(balance)
    for line in np.argsort(-found.price[0])[:3]:
        loads = []
        for factor in (1.0 + 1e-5, 1.0 - 1e-5):
            muscle = balance.muscle.copy()
            muscle[:, :, line] *= factor
            loads.append(capacity(replace(balance, muscle=muscle)).load_kg[0])
        slope = (loads[0] - loads[1]) / 2e-5 / found.load_kg[0]
        assert slope == pytest.approx(found.price[0, line], abs=1e-4)


@settings(max_examples=15, deadline=None, derandomize=True)
@given(st.integers(0, 10_000))
def test_shares_sum_to_one_without_body_weight(seed):
    """Euler: a load proportional to all strengths together has prices that add up to 1, and one head of all lines has 1.

    Shares averaged from both sides of a kink are not additive, so line by line their sum may be a little off.
    """
    balance = homogeneous(seed)
    found = capacity(balance)
    if found.load_kg[0] > 1e-6:
        assert found.price[0].sum() == pytest.approx(1.0, abs=1e-9)
        assert limiting_shares(balance, found, 0, np.ones((1, balance.n_line))) == pytest.approx([1.0], abs=1e-9)
        assert limiting_shares(balance, found, 0, np.eye(balance.n_line)).sum() == pytest.approx(1.0, abs=0.02)


@settings(max_examples=10, deadline=None, derandomize=True)
@given(st.integers(0, 10_000))
def test_order_of_lines_and_coordinates_does_not_matter(seed):
    rng = np.random.default_rng(seed)
    balance = whole_body(rng, n_coord=14, n_line=40, n_force=20, n_pos=2)
    lines, rows = rng.permutation(balance.n_line), rng.permutation(balance.n_coord)
    shuffled = replace(
        balance, muscle=balance.muscle[:, rows][:, :, lines], support=balance.support[:, rows],
        joint=balance.joint[:, rows], load=balance.load[:, rows], rest=balance.rest[:, rows],
    )  # fmt: skip
    try:
        expected = capacity(balance).load_kg
    except NoSolutionError:
        with pytest.raises(NoSolutionError):
            capacity(shuffled)
        return
    assert capacity(shuffled).load_kg == pytest.approx(expected, rel=1e-9, abs=1e-7)


def test_load_twice_as_heavy_is_half_as_large():
    balance = whole_body(np.random.default_rng(5), n_pos=3)
    doubled = replace(balance, load=2.0 * balance.load)
    assert capacity(doubled).load_kg == pytest.approx(capacity(balance).load_kg / 2.0, abs=2e-3)


def test_load_is_proportional_to_strength_without_body_weight():
    balance = homogeneous(3)
    stronger = replace(balance, muscle=3.0 * balance.muscle)
    assert capacity(stronger).load_kg == pytest.approx(3.0 * capacity(balance).load_kg)


def test_a_position_does_not_depend_on_the_one_before():
    balance = whole_body(np.random.default_rng(6), n_pos=7)
    last = balance_at(balance, balance.n_pos - 1)
    assert capacity(balance).load_kg[-1] == pytest.approx(capacity(last).load_kg[0], rel=1e-12)


def test_two_equal_limits_share_the_average_of_both_sides():
    """The weaker of two joints decides. Equal ones: stronger alone adds nothing, weaker alone takes all: ½ each."""
    balance = two_joints_in_series(40.0, 40.0)
    found = capacity(balance)
    assert found.load_kg[0] == pytest.approx(40.0)
    assert limiting_shares(balance, found, 0, np.eye(2)) == pytest.approx([0.5, 0.5], abs=1e-4)
    assert limiting_shares(balance, found, 0, [[1.0, 1.0]]) == pytest.approx([1.0], abs=1e-4)


def test_the_weaker_of_two_joints_has_the_whole_share():
    balance = two_joints_in_series(40.0, 41.0)
    assert limiting_shares(balance, capacity(balance), 0, np.eye(2)) == pytest.approx([1.0, 0.0])


def test_shares_of_heads_are_sums_over_their_lines_where_the_dual_is_unique():
    balance = whole_body(np.random.default_rng(1), n_pos=3)
    found, heads = capacity(balance), np.kron(np.eye(30), np.ones(3))
    assert limiting_shares(balance, found, 1, heads) == pytest.approx(heads @ found.price[1], abs=1e-6)


def test_a_body_too_heavy_for_itself_needs_help():
    """The forearm made to weigh 300 N: 48 N·m against 25 N·m of flexors: λ = (25 - 48)/3.14 kg, and no shares."""
    weak = replace(forearm(), muscle=np.array([[[0.0, 25.0, -30.0]]]), rest=np.array([[48.0]]))
    found = capacity(weak)
    assert found.load_kg[0] == pytest.approx((25.0 - 48.0) / LOAD_NM)
    assert np.isnan(found.price).all() and found.slope_kg[0, 1] == pytest.approx(25.0 / LOAD_NM)
    with pytest.raises(NoSolutionError, match="shares need a positive load"):
        limiting_shares(weak, found, 0, np.eye(3))


def test_what_cannot_be_held_is_named():
    """A wrist that no line crosses and the load does not reach: 3 N·m too much, whatever the load."""
    muscle = np.array([[[40.0], [0.0]]])
    bound = np.array([[0.0, 1.0]])
    balance = without_supports(muscle, np.array([[-1.0, 0.0]]), np.array([[0.0, 4.0]]), bound)
    message = r"position 0 of 0 to 0: no balance at any load; cannot be held: wrist \(\+3 N or N·m missing\)"
    with pytest.raises(NoSolutionError, match=message):
        capacity(balance, ["elbow", "wrist"])
    assert unbalanced(balance, 0, None) == pytest.approx([0.0, 3.0])


def test_a_load_that_nothing_limits_is_an_error():
    balance = replace(forearm(), load=np.zeros((1, 1)))
    with pytest.raises(NoSolutionError, match="nothing limits the load"):
        capacity(balance)


def test_input_that_does_not_fit_is_refused():
    balance = forearm()
    with pytest.raises(InputError, match=r"rest has shape \(2, 1\); allowed: \(1, 1\)"):
        replace(balance, rest=np.zeros((2, 1)))
    with pytest.raises(InputError, match="muscle holds numbers that are not finite"):
        replace(balance, muscle=np.full((1, 1, 3), np.nan))
    with pytest.raises(InputError, match="joint_lower must not exceed joint_upper"):
        replace(balance, joint_lower=np.ones((1, 1)))
    with pytest.raises(InputError, match=r"groups has shape \(2, 2\); allowed: \(n_head, 3\)"):
        limiting_shares(balance, capacity(balance), 0, np.eye(2))
    with pytest.raises(InputError, match="no position 7"):
        limiting_shares(balance, capacity(balance), 7, np.eye(3))
    with pytest.raises(InputError, match="2 coordinate names for a balance of 1"):
        capacity(replace(balance, muscle=np.zeros((1, 1, 3)), load=np.zeros((1, 1))), ["elbow", "wrist"])


def test_results_cannot_be_written_to():
    found = capacity(forearm())
    with pytest.raises(ValueError, match="read-only"):
        found.load_kg[0] = 0.0


def test_another_thread_count_in_the_process_is_an_error_and_not_a_wrong_answer():
    """HiGHS keeps one thread count per process; a second one makes runs fail, which must be loud (own process)."""
    code = (
        "import highspy; other = highspy.Highs(); other.silent(); other.setOptionValue('threads', 2)\n"
        "other.addVar(0, 1); other.run()\n"
        "from synthetic_arm import forearm; from lengthwise.mechanics.load_programme import by_highs, most_load\n"
        "by_highs(most_load(forearm()))\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=Path(__file__).parent)
    assert ran.returncode != 0 and "another thread count" in ran.stderr


def test_solving_prints_nothing(capfd):
    capacity(forearm())
    assert capfd.readouterr().out == ""
