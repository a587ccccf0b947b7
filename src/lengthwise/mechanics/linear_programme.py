"""Linear programmes that differ little from one position to the next, solved by HiGHS from the last basis."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.later import Later

highspy: Any = Later("highspy")
"""Loaded when a position is left to HiGHS: the compiled core answers nearly all of them."""

_OPTIONS: dict[str, bool | int | float | str] = {
    "output_flag": False,
    "threads": 1,
    "solver": "simplex",
    "presolve": "off",
    "simplex_strategy": 1,
    "simplex_scale_strategy": 0,
    "primal_feasibility_tolerance": 1e-9,
    "dual_feasibility_tolerance": 1e-9,
}
"""The thread count is global to the process in HiGHS: a second value makes later runs fail. Rows and columns arrive
scaled, so its own scaling and presolve only cost time (measured by the solver bench)."""

_PRIMAL = 4

_OUTCOMES = {
    "kOptimal": "optimal",
    "kInfeasible": "infeasible",
    "kUnbounded": "unbounded",
    "kUnboundedOrInfeasible": "infeasible",
}


@dataclass(frozen=True)
class LinearProgramme:
    """At every position: maximise cost·x subject to columns·x = rest and lower ≤ x ≤ upper.

    Attributes:
        columns: (n_pos, n_row, n_col). cost: (n_col,). lower, upper: (n_pos, n_col). rest: (n_pos, n_row).
    """

    columns: Array
    cost: Array
    lower: Array
    upper: Array
    rest: Array


@dataclass(frozen=True)
class Vertex:
    """The solution of one position.

    Attributes:
        outcome: "optimal", "infeasible" or "unbounded"; the numbers mean something only when optimal.
        point: x, (n_col,).
        dual: change of the objective per unit of each row's rest, (n_row,).
        objective: cost·x.
    """

    outcome: str
    point: Array
    dual: Array
    objective: float


class WarmSimplex:
    """Solves the positions of one linear programme in any order, each from the basis of the one before."""

    def __init__(self, programme: LinearProgramme) -> None:
        self._programme = programme
        by_column = programme.columns.transpose(0, 2, 1)
        used = (by_column != 0.0).any(axis=0)
        self._values = np.ascontiguousarray(by_column[:, used])
        self._index = np.nonzero(used)[1].astype(np.int32)
        self._start = np.append(0, np.cumsum(used.sum(axis=1))).astype(np.int32)
        self._continuous = np.zeros(used.shape[0], dtype=np.int32)
        self._basis: Any = None
        self._highs = _quiet_solver()

    def solve(self, position: int) -> Vertex:
        """The best vertex of one position."""
        programme, (n_col, n_row) = self._programme, self._shape()
        rest = programme.rest[position]
        passed = self._highs.passModel(
            n_col, n_row, len(self._index), int(highspy.MatrixFormat.kColwise), int(highspy.ObjSense.kMaximize), 0.0,
            programme.cost, programme.lower[position], programme.upper[position], rest, rest,
            self._start, self._index, self._values[position], self._continuous,
        )  # fmt: skip
        _demand(passed, "the model")
        if self._basis is not None:
            _demand(self._highs.setBasis(self._basis), "the basis of the position before")
        return self._run()

    def resolve(self, columns: NDArray[np.int32], lower: Array, upper: Array) -> Vertex:
        """The best vertex of the position solved last, after moving the bounds of some columns."""
        self.bound(columns, lower, upper)
        return self._run()

    def bound(self, columns: NDArray[np.int32], lower: Array, upper: Array) -> None:
        """Move the bounds of some columns of the position solved last."""
        _demand(self._highs.changeColsBounds(len(columns), columns, lower, upper), "the bounds")

    def basic_columns(self) -> NDArray[np.int32]:
        """The columns in the basis of the last solution."""
        status, basic = self._highs.getBasicVariables()
        _demand(status, "the basis")
        return np.asarray(basic[basic >= 0], dtype=np.int32)

    def _shape(self) -> tuple[int, int]:
        return self._programme.columns.shape[2], self._programme.columns.shape[1]

    def _run(self) -> Vertex:
        _demand(self._highs.run(), "the run (has something else in this process set another thread count?)")
        outcome = _OUTCOMES.get(self._highs.getModelStatus().name)
        if outcome is None:  # a warm start can lose its way near a degenerate vertex; a cold one finds it again
            self._basis = None
            _demand(self._highs.clearSolver(), "a cold start")
            _demand(self._highs.run(), "the cold run")
            outcome = _OUTCOMES.get(self._highs.getModelStatus().name)
        if outcome is None:  # the dual simplex goes round in circles; the primal one does not
            outcome = self._run_primal()
        if outcome is None:
            raise RuntimeError(f"HiGHS stopped without an answer: {self._highs.getModelStatus()}")
        self._basis = self._highs.getBasis() if outcome == "optimal" else None
        solution = self._highs.getSolution()
        point, dual = np.array(solution.col_value), np.array(solution.row_dual)
        return Vertex(outcome, point, dual, float(self._highs.getObjectiveValue()))

    def _run_primal(self) -> str | None:
        """The outcome of a cold run of the primal simplex."""
        _demand(self._highs.setOptionValue("simplex_strategy", _PRIMAL), "the primal simplex")
        _demand(self._highs.clearSolver(), "a cold start")
        _demand(self._highs.run(), "the primal run")
        _demand(self._highs.setOptionValue("simplex_strategy", _OPTIONS["simplex_strategy"]), "the dual simplex")
        return _OUTCOMES.get(self._highs.getModelStatus().name)


def _quiet_solver() -> Any:
    # The wrapper class highspy.Highs registers callbacks on creation, which prints a banner to standard output whatever
    # the options say, and so spoils JSON output; the class below it does not.
    solver = highspy._core._Highs()
    for name, value in _OPTIONS.items():
        _demand(solver.setOptionValue(name, value), f"option {name}={value}")
    return solver


def _demand(status: object, what: str) -> None:
    if status == highspy.HighsStatus.kError:
        raise RuntimeError(f"HiGHS refused {what}")
