"""The linear programme of the largest or least load at every position, solved by the compiled core, and by HiGHS where that cannot."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core import door, solvers
from lengthwise.mechanics.linear_programme import LinearProgramme, Vertex, WarmSimplex
from lengthwise.mechanics.problem import LINE_TIE_KG, PASSIVE_TIE_KG, Balance, balance_at, coordinate_scale, joint_unit

FORCE_UNIT_N = 1000.0
"""Support forces are counted in this unit inside the linear programme, so that all its numbers are near 1."""

LOAD_UNIT_KG = 50.0
"""The load is counted in this unit inside the linear programme, for the same reason."""


@dataclass(frozen=True, kw_only=True)
class LoadProgramme:
    """At every position: maximise cost·x with the body in balance and every force within its bounds.

    Columns: lines, supports, passive structures one way and the other, load; all scaled to be near 1.

    Attributes:
        balance: of every position. scale: what rows are divided by, (n_coord,). cost: (n_col,). lower, upper: (n_pos, n_col).
        tie: of answers that are as good as each other the one of least tie·x is taken, (n_col,).
    """

    balance: Balance
    scale: Array
    cost: Array
    lower: Array
    upper: Array
    tie: Array

    def dense(self) -> LinearProgramme:
        """The same as matrices, for HiGHS; without the tie, which is below its tolerances."""
        balance = self.balance
        passive = balance.joint * joint_unit(balance)[:, None, :]
        load = balance.load[:, :, None] * LOAD_UNIT_KG
        columns = np.concatenate([balance.muscle, balance.support * FORCE_UNIT_N, passive, -passive, load], axis=2)
        return LinearProgramme(
            columns / self.scale[:, None], self.cost - self.tie, self.lower, self.upper, balance.rest / self.scale
        )

    def compiled(self) -> solvers.Problem:
        """The same as the core sees it."""
        balance, unit = self.balance, joint_unit(self.balance)
        blocks = [
            solvers.Block(balance.muscle),
            solvers.Block(balance.support, FORCE_UNIT_N),
            solvers.Block(balance.joint, 1.0, unit),
            solvers.Block(balance.joint, -1.0, unit),
            solvers.Block(balance.load[:, :, None], LOAD_UNIT_KG),
        ]
        return solvers.Problem(blocks, self.scale, balance.rest, self.lower, self.upper)


def most_load(balance: Balance) -> LoadProgramme:
    """The programme of the largest load.

    Among balances of equal load it takes the one that leans least on ligaments, and then the one of least activation; every column has
    its own small price, so that the answer is one and the same wherever a search began.
    """
    unit = joint_unit(balance)
    n_col = balance.n_line + balance.n_force + 2 * balance.n_joint + 1
    cost, tie = np.zeros(n_col), np.asarray(LINE_TIE_KG / LOAD_UNIT_KG * (1.0 + np.arange(n_col) * 0.6180339887498949 % 1.0))
    cost[balance.n_line + balance.n_force : -1] = -PASSIVE_TIE_KG / LOAD_UNIT_KG
    cost[-1], tie[-1] = 1.0, 0.0
    zero, free = np.zeros_like(unit), np.full((balance.n_pos, 1), np.inf)
    rested, full = np.zeros((balance.n_pos, balance.n_line)), np.ones((balance.n_pos, balance.n_line))
    lower = np.concatenate([rested, balance.support_lower / FORCE_UNIT_N, zero, zero, -free], axis=1)
    one_way, other_way = balance.joint_upper / unit, -balance.joint_lower / unit
    upper = np.concatenate([full, balance.support_upper / FORCE_UNIT_N, one_way, other_way, free], axis=1)
    return LoadProgramme(balance=balance, scale=coordinate_scale(balance), cost=cost, lower=lower, upper=upper, tie=tie)


def least_load(balance: Balance, floor_kg: float) -> LoadProgramme:
    """The programme of the least load that is not below `floor_kg`."""
    most = most_load(balance)
    most.cost[-1] = -1.0
    most.lower[:, -1] = floor_kg / LOAD_UNIT_KG
    return most


@dataclass(frozen=True, kw_only=True)
class SolvedLoads:
    """The vertex of every position.

    Attributes:
        outcome: "optimal", "infeasible" or "unbounded"; the numbers mean something only when optimal, (n_pos).
        point: x, (n_pos, n_col). dual: change of the objective per unit of each row's rest, (n_pos, n_row).
        reduced: cost less dual·columns, (n_pos, n_col). imbalance: largest that is left, (n_pos,).
        basis: which variables are basic, to start from (n_pos, n_row); None where the core did not solve it.
    """

    outcome: tuple[str, ...]
    point: Array
    dual: Array
    reduced: Array
    imbalance: Array
    basis: NDArray[np.int32] | None = None


def solve(programme: LoadProgramme, start: NDArray[np.int32] | None = None) -> SolvedLoads:
    """The best vertex of every position; `start` is the basis of an earlier answer (n_pos, n_row), which only saves time."""
    if not door.available():
        return by_highs(programme)
    found = solvers.best_vertices(programme.compiled(), programme.cost, programme.tie, start)
    outcome = [solvers.OUTCOMES[o] for o in found.outcome]
    for position in np.flatnonzero(found.outcome):
        again = by_highs(_at(programme, int(position)))
        outcome[position] = again.outcome[0]
        for name in ("point", "dual", "reduced", "imbalance"):
            getattr(found, name)[position] = getattr(again, name)[0]
    return SolvedLoads(
        outcome=tuple(outcome),
        point=found.point,
        dual=found.dual,
        reduced=found.reduced,
        imbalance=found.imbalance,
        basis=found.basis,
    )


def _at(programme: LoadProgramme, position: int) -> LoadProgramme:
    """The programme of one position alone, with the same scale."""
    here = balance_at(programme.balance, position)
    one = slice(position, position + 1)
    return replace(programme, balance=here, lower=programme.lower[one], upper=programme.upper[one])


def by_highs(programme: LoadProgramme) -> SolvedLoads:
    """The same by HiGHS."""
    dense = programme.dense()
    simplex = WarmSimplex(dense)
    vertices: list[Vertex] = [simplex.solve(position) for position in range(programme.balance.n_pos)]
    point, dual = np.stack([v.point for v in vertices]), np.stack([v.dual for v in vertices])
    reduced = programme.cost - np.einsum("pk,pkj->pj", dual, dense.columns)
    imbalance = np.abs(np.einsum("pkj,pj->pk", dense.columns, point) - dense.rest).max(axis=1)
    return SolvedLoads(outcome=tuple(v.outcome for v in vertices), point=point, dual=dual, reduced=reduced, imbalance=imbalance)
