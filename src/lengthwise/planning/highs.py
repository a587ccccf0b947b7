"""Integer programmes solved by HiGHS: its status is asked after every step, and an answer says how far from the best it can be."""

from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np
from highspy import _core
from numpy.typing import NDArray

from lengthwise.planning.programme import Programme

_OPTIONS: dict[str, bool | int | float | str] = {
    "output_flag": False,
    "threads": 1,  # global to the process in HiGHS, and set to the same value by the mechanics: a second value makes runs fail
    "mip_feasibility_tolerance": 1e-7,
    "primal_feasibility_tolerance": 1e-8,
}
_DONE = {
    highspy.HighsModelStatus.kOptimal: "optimal",
    highspy.HighsModelStatus.kInfeasible: "infeasible",
    highspy.HighsModelStatus.kUnboundedOrInfeasible: "infeasible",
    highspy.HighsModelStatus.kTimeLimit: "stopped",
    highspy.HighsModelStatus.kSolutionLimit: "stopped",
}


@dataclass(frozen=True)
class Solved:
    """What came out.

    Attributes:
        outcome: "optimal", "infeasible", or "stopped" when the time was over.
        point: value of every column; empty where none was found. worth: of it. bound: no point is worth more.
    """

    outcome: str
    point: NDArray[np.float64]
    worth: float
    bound: float

    @property
    def found(self) -> bool:
        """Whether there is a point."""
        return len(self.point) > 0

    @property
    def gap(self) -> float:
        """How far from the best at most, as a share of the best possible, 0 to 1."""
        return gap_of(self.worth, self.bound)


def gap_of(worth: float, bound: float) -> float:
    """How far a worth is from a bound on it, as a share of the bound, 0 to 1."""
    return min(1.0, max(0.0, bound - worth) / max(abs(bound), 1e-9))


@dataclass(frozen=True)
class Limits:
    """How long to try [s], which gap is near enough, and whether any point will do."""

    seconds: float = 10.0
    gap: float = 1e-4
    whole: bool = True


def maximise(programme: Programme, limits: Limits, start: NDArray[np.float64] | None = None) -> Solved:
    """The best point of a programme.

    Args:
        start: a point to begin with, which need not be complete: nan where unknown.

    Raises:
        RuntimeError: HiGHS refused something, or stopped without saying why.
    """
    solver = _solver(limits)
    _pass(solver, programme, limits.whole)
    if start is not None:
        known = np.flatnonzero(~np.isnan(start)).astype(np.int32)
        _demand(solver.setSolution(len(known), known, start[known]), "a start")
    _demand(solver.run(), "the run (has something else in this process set another thread count?)")
    outcome = _DONE.get(solver.getModelStatus())
    if outcome is None:
        raise RuntimeError(f"HiGHS stopped without an answer: {solver.getModelStatus()}")
    info = solver.getInfo()
    has_point = outcome != "infeasible" and info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    point = np.array(solver.getSolution().col_value) if has_point else np.empty(0)
    bound = info.mip_dual_bound if limits.whole else info.objective_function_value
    return Solved(outcome, point, float(info.objective_function_value), float(bound))


def _solver(limits: Limits) -> Any:
    # The class below highspy.Highs: the wrapper prints a banner to standard output, which spoils JSON output.
    solver = _core._Highs()
    for name, value in {**_OPTIONS, "time_limit": limits.seconds, "mip_rel_gap": limits.gap, "mip_abs_gap": 1e-6}.items():
        _demand(solver.setOptionValue(name, value), f"option {name}={value}")
    return solver


def _pass(solver: Any, programme: Programme, whole: bool) -> None:
    columns, rows = programme.columns, programme.rows
    kept = [r for r in rows if r.factors]
    start = np.append(0, np.cumsum([len(r.factors) for r in kept])).astype(np.int32)
    index = np.array([k for r in kept for k in r.factors], dtype=np.int32)
    values = np.array([v for r in kept for v in r.factors.values()], dtype=np.float64)
    kinds = np.array([int(c.whole and whole) for c in columns], dtype=np.int32)
    passed = solver.passModel(
        len(columns), len(kept), len(index), int(highspy.MatrixFormat.kRowwise), int(highspy.ObjSense.kMaximize), 0.0,
        np.array([c.worth for c in columns]), np.array([c.lower for c in columns]), np.array([c.upper for c in columns]),
        np.array([r.lower for r in kept]), np.array([r.upper for r in kept]), start, index, values, kinds,
    )  # fmt: skip
    _demand(passed, "the model")


def _demand(status: object, what: str) -> None:
    if status == highspy.HighsStatus.kError:
        raise RuntimeError(f"HiGHS refused {what}")
