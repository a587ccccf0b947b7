"""Times capacity and sharing on invented whole-body balances against plain loops over positions, in the same run.

Run with OMP_NUM_THREADS=1 so that every solver has one thread: python bench/solvers.py
"""

import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import piqp
import quadprog
from scipy.optimize import linprog

from lengthwise.mechanics.capacity import capacity, limiting_shares
from lengthwise.mechanics.problem import PASSIVE_PRICE, SUPPORT_WEIGHT, Balance, coordinate_scale, joint_unit
from lengthwise.mechanics.sharing import share

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "mechanics"))
from synthetic_balance import whole_body

SIZES = {"symmetric lift": (25, 90, 40), "one-sided lift": (53, 182, 80)}
SAMPLE = range(0, 41, 5)
"""Positions on which the slow loops are timed."""


def main() -> None:
    for name, size in SIZES.items():
        balance = whole_body(np.random.default_rng(1), *size)
        n_lp, n_qp = size[1] + size[2] + 2 * balance.n_joint + 1, size[1] + size[2] + balance.n_joint
        print(f"{name}: {size[0]} coordinates, {n_lp} columns for capacity, {n_qp} for sharing, {balance.n_pos} positions")
        _capacity(balance)
        _sharing(balance)


def _capacity(balance: Balance) -> None:
    own = _best(lambda: capacity(balance)) / balance.n_pos
    programmes = [_as_linprog(balance, position) for position in SAMPLE]
    cold = _best(lambda: [linprog(**programme) for programme in programmes], 3) / len(SAMPLE)
    found = capacity(balance)
    error = max(
        abs(-linprog(**programme).fun - found.load_kg[position]) for programme, position in zip(programmes, SAMPLE, strict=True)
    )
    sticking = int(found.load_kg.argmin())
    shares = _best(lambda: limiting_shares(balance, found, sticking, np.eye(balance.n_line)))
    _row("capacity", own)
    _row("  scipy linprog, cold", cold, own)
    print(f"  largest difference {error:.1e} kg; limiting shares of every line {shares * 1e3:.2f} ms")


def _sharing(balance: Balance) -> None:
    most = capacity(balance).load_kg
    working = np.full(balance.n_pos, 0.75 * most.min())
    for power in (2, 3):
        for what, load in (("75 % of the sticking load", working), ("95 % at every position", 0.95 * most)):
            found = share(balance, load, power=power)
            own = _best(lambda load=load, power=power: share(balance, load, power=power)) / balance.n_pos
            _row(f"sharing, power {power}, {what}", own)
            print(f"  residual {found.residual.max():.0e}, kkt {found.kkt_error.max():.0e}, steps {found.iterations.mean():.1f}")
    own = _best(lambda: share(balance, working)) / balance.n_pos
    for name, solve in (("piqp", _with_piqp), ("quadprog", _with_quadprog)):
        programmes = [_as_quadratic(balance, working[position], position) for position in SAMPLE]
        answers = [solve(*programme) for programme in programmes]
        error = np.abs(share(balance, working).activation[list(SAMPLE)] - np.array(answers)[:, : balance.n_line]).max()
        each = _best(lambda solve=solve, programmes=programmes: [solve(*one) for one in programmes], 3) / len(SAMPLE)
        _row(f"  {name}, one problem per position", each, own)
        print(f"  largest difference in activation {error:.1e}")


def _best(run: Callable[[], object], repeats: int = 9) -> float:
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        run()
        times.append(time.perf_counter() - start)
    return min(times)


def _row(name: str, seconds: float, against: float | None = None) -> None:
    ratio = "" if against is None else f"   {seconds / against:5.1f} times ours"
    print(f"  {name:46s} {seconds * 1e3:7.2f} ms a position{ratio}")


def _as_linprog(balance: Balance, position: int) -> dict[str, object]:
    parts = (balance.muscle, balance.support, balance.joint, balance.load[:, :, None])
    scale = coordinate_scale(balance)
    columns = np.concatenate([part[position] for part in parts], axis=1) / scale[:, None]
    low = np.concatenate([np.zeros(balance.n_line), balance.support_lower[position], balance.joint_lower[position], [-np.inf]])
    high = np.concatenate([np.ones(balance.n_line), balance.support_upper[position], balance.joint_upper[position], [np.inf]])
    cost = np.zeros(columns.shape[1])
    cost[-1] = -1.0
    bounds = np.column_stack([low, high])
    return {"c": cost, "A_eq": columns, "b_eq": balance.rest[position] / scale, "bounds": bounds, "method": "highs"}


def _as_quadratic(balance: Balance, load_kg: float, position: int) -> tuple[np.ndarray, ...]:
    unit, force, scale = joint_unit(balance)[position], SUPPORT_WEIGHT**-0.5, coordinate_scale(balance)
    passive = balance.joint[position] * unit
    parts = [balance.muscle[position], balance.support[position] * force, passive, -passive]
    columns = np.concatenate(parts, axis=1) / scale[:, None]
    rest, zero = (balance.rest[position] - load_kg * balance.load[position]) / scale, np.zeros(balance.n_joint)
    low = np.concatenate([np.zeros(balance.n_line), balance.support_lower[position] / force, zero, zero])
    ends = [balance.joint_upper[position] / unit, -balance.joint_lower[position] / unit]
    high = np.concatenate([np.ones(balance.n_line), balance.support_upper[position] / force, *ends])
    cost = np.concatenate([np.zeros(balance.n_line + balance.n_force), np.full(2 * balance.n_joint, PASSIVE_PRICE)])
    return columns, rest, low, high, cost


def _with_piqp(columns: np.ndarray, rest: np.ndarray, low: np.ndarray, high: np.ndarray, cost: np.ndarray) -> np.ndarray:
    solver, n = piqp.DenseSolver(), len(cost)
    solver.settings.eps_abs = solver.settings.eps_rel = 1e-9
    none = np.zeros((0, n), order="F")
    solver.setup(np.asfortranarray(np.eye(n)), cost, np.asfortranarray(columns), rest, none, None, None, low, high)
    solver.solve()
    return np.array(solver.result.x)


def _with_quadprog(columns: np.ndarray, rest: np.ndarray, low: np.ndarray, high: np.ndarray, cost: np.ndarray) -> np.ndarray:
    n, has_low, has_high = len(cost), np.isfinite(low), np.isfinite(high)
    sides = np.concatenate([columns.T, np.eye(n)[:, has_low], -np.eye(n)[:, has_high]], axis=1)
    limits = np.concatenate([rest, low[has_low], -high[has_high]])
    return quadprog.solve_qp(np.eye(n), -cost, sides, limits, len(rest))[0]


if __name__ == "__main__":
    main()
