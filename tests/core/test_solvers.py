"""The compiled solvers against HiGHS and NumPy; answers that hang on nothing but their own position; input that does not fit."""

import sys
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest

sys.path.append(str(Path(__file__).parents[1] / "mechanics"))
from synthetic_balance import whole_body

from lengthwise.core import door, solvers
from lengthwise.errors import InputError
from lengthwise.mechanics import capacity as capacity_module
from lengthwise.mechanics.capacity import capacity, least_load_kg, limiting_slopes
from lengthwise.mechanics.dual_newton import solve_along
from lengthwise.mechanics.load_programme import LOAD_UNIT_KG, by_highs, least_load, most_load, solve
from lengthwise.mechanics.problem import Balance
from lengthwise.mechanics.sharing import _costs, _scaled, share

pytestmark = pytest.mark.skipif(not door.available(), reason="the compiled core is not built")


def body(seed: int, n_pos: int = 7) -> Balance:
    return whole_body(np.random.default_rng(seed), n_pos=n_pos)


def at(balance: Balance, positions: object) -> Balance:
    return replace(
        balance, **{f.name: getattr(balance, f.name)[positions] for f in fields(balance) if f.name not in ("scale", "ease")}
    )


@pytest.mark.parametrize("seed", range(4))
def test_largest_load_and_duals_agree_with_highs(seed):
    """HiGHS solves the same programme without its tie; so of answers that are as good as each other it may take another."""
    balance = body(seed)
    programme = most_load(balance)
    ours, theirs = solve(programme), by_highs(programme)
    assert ours.outcome == theirs.outcome == ("optimal",) * balance.n_pos
    assert ours.point[:, -1] * LOAD_UNIT_KG == pytest.approx(theirs.point[:, -1] * LOAD_UNIT_KG, abs=1e-6)
    assert (ours.point @ programme.tie <= theirs.point @ programme.tie + 1e-12).all()
    assert ours.imbalance.max() < 1e-10
    assert ours.dual == pytest.approx(theirs.dual, abs=1e-5)


def test_least_load_agrees_with_highs():
    balance = body(5)
    theirs = by_highs(least_load(balance, -200.0))
    assert least_load_kg(balance, -200.0) == pytest.approx(theirs.point[:, -1] * LOAD_UNIT_KG, abs=1e-6)


@pytest.mark.parametrize("power", [2, 3])
@pytest.mark.parametrize("seed", range(3))
def test_sharing_agrees_with_numpy(seed, power):
    balance = body(seed)
    load = 0.8 * capacity(balance).load_kg
    costs = _costs(balance, power)
    theirs = solve_along(_scaled(balance, load, costs))
    found = share(balance, load, power=power)
    assert found.activation == pytest.approx(theirs.point[:, : balance.n_line], abs=1e-7)
    assert found.residual.max() < 1e-10


@pytest.mark.parametrize("power", [2, 3])
def test_a_position_is_shared_to_the_same_bits_whatever_its_neighbours_and_start(power):
    balance = body(8, n_pos=9)
    load = 0.7 * capacity(balance).load_kg
    along = share(balance, load, power=power)
    backwards = share(at(balance, slice(None, None, -1)), load[::-1], power=power)
    other = share(balance, load, power=power, start=along.multiplier[::-1] + 0.1)
    assert np.array_equal(along.activation, backwards.activation[::-1])
    assert np.array_equal(along.activation, other.activation)


def test_a_capacity_is_the_same_whatever_its_neighbours_and_start():
    balance = body(9, n_pos=9)
    along, backwards = capacity(balance), capacity(at(balance, slice(None, None, -1)))
    again = capacity(balance, start=along.basis)
    for name in ("load_kg", "activation", "multiplier", "slope_kg"):
        assert getattr(backwards, name)[::-1] == pytest.approx(getattr(along, name), abs=1e-11)
        assert getattr(again, name) == pytest.approx(getattr(along, name), abs=1e-11)


def test_averaged_slopes_agree_with_highs(monkeypatch):
    """Two equal heads in series: both one-sided derivatives count half (see mechanics/test_capacity.py); HiGHS on a real vertex."""
    balance = body(3, n_pos=2)
    doubled = Balance(**{f.name: np.concatenate([v, v[:, :, ::-1] * 0.5], axis=2) if f.name == "muscle" else v
                         for f, v in ((f, getattr(balance, f.name)) for f in fields(balance))})  # fmt: skip
    found, groups = capacity(doubled), np.kron(np.eye(20), np.ones(doubled.n_line // 20))
    ours = limiting_slopes(doubled, found, 1, groups)
    monkeypatch.setattr(capacity_module.door, "available", lambda: False)
    assert ours == pytest.approx(limiting_slopes(doubled, found, 1, groups), abs=1e-5)


def test_without_the_core_numpy_and_highs_answer(monkeypatch):
    balance = body(2, n_pos=3)
    able = capacity(balance)
    shared = share(balance, 0.8 * able.load_kg)
    monkeypatch.setattr(door, "available", lambda: False)
    slow = capacity(balance)
    assert slow.load_kg == pytest.approx(able.load_kg, abs=1e-6) and slow.basis is None
    assert share(balance, 0.8 * able.load_kg).activation == pytest.approx(shared.activation, abs=1e-7)


def problem(**changed: object) -> solvers.Problem:
    given = {
        "blocks": [solvers.Block(np.ones((2, 3, 4)))], "scale": np.ones(3), "rest": np.zeros((2, 3)),
        "lower": np.zeros((2, 4)), "upper": np.ones((2, 4)),
    } | changed  # fmt: skip
    return solvers.Problem(**given)


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"blocks": [solvers.Block(np.ones((2, 2, 4)))]}, r"columns has shape \(2, 2, 4\); allowed: \(2, 3, 'any'\)"),
        ({"blocks": [solvers.Block(np.full((2, 3, 4), np.nan))]}, "columns holds numbers that are not finite"),
        ({"rest": np.full((2, 3), np.inf)}, "rest holds numbers that are not finite"),
        ({"scale": np.zeros(3)}, "scale must be positive"),
        ({"lower": np.zeros((2, 5))}, r"lower has shape \(2, 5\)"),
        ({"lower": np.full((2, 4), 2.0)}, "lower must not exceed upper"),
        ({"upper": np.full((2, 4), np.nan)}, "upper holds numbers that are not numbers"),
    ],
)
def test_a_problem_that_does_not_fit_is_refused_at_the_door(changed, message):
    with pytest.raises(InputError, match=message):
        problem(**changed)


def test_arguments_that_do_not_fit_are_refused_at_the_door():
    one = problem()
    with pytest.raises(InputError, match="power = 4"):
        solvers.share(one, np.zeros(4), 4, 4, 1e-4)
    with pytest.raises(InputError, match=r"price has shape \(3,\)"):
        solvers.share(one, np.zeros(3), 4, 2, 1e-4)
    with pytest.raises(InputError, match=r"start has shape \(2, 2\)"):
        solvers.share(one, np.zeros(4), 4, 2, 1e-4, np.zeros((2, 2)))
    with pytest.raises(InputError, match="start has values from 9 to 9; allowed: 0 to 6"):
        solvers.best_vertices(one, np.zeros(4), np.zeros(4), np.full((2, 3), 9))
    with pytest.raises(InputError, match="weight names 5 lines"):
        solvers.slopes(one, np.zeros(4), np.arange(3), np.ones((1, 5)), 1e-5)
