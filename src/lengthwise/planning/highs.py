"""Integer programmes solved by HiGHS: it stops by work and never by a clock, and an answer says how far from the best it can be."""

from dataclasses import dataclass
from typing import Any, Literal

import highspy
import numpy as np
from highspy import _core
from numpy.typing import NDArray

from lengthwise.planning.effort import effort
from lengthwise.planning.integer_programme import Programme

_OPTIONS: dict[str, bool | int | float | str] = {
    "output_flag": False,
    "threads": 1,  # global to the process in HiGHS, and set to the same value by the mechanics: a second value makes runs fail
    "random_seed": 1,
    "mip_allow_restart": False,  # a root begun anew after fixing columns took more than half of the time and hardly moved the bound
    "mip_heuristic_effort": 0.1,
    "mip_feasibility_tolerance": 1e-7,
    "primal_feasibility_tolerance": 1e-8,
}
MOVES = 0.05
"""Part of the gap asked for by which the bound must fall for the nodes since not to have been idle (own choice)."""
AMISS = 1e-4
"""A start in part HiGHS 1.16 completes by itself, and now and then takes it for worth more than it is (by 3.7 of 51 for one beginner): then it
leaves better points out, and its bound lies too high. An answer whose worth is not that of its point by so much is asked for without the start."""
Looks = Literal["everywhere", "afresh", "near", "nowhere"]
_LOOKS_ROUND: dict[str, frozenset[Looks]] = {
    "mip_heuristic_run_rens": frozenset({"everywhere", "afresh"}),
    "mip_heuristic_run_rins": frozenset({"everywhere", "near"}),
    "mip_heuristic_run_root_reduced_cost": frozenset({"everywhere"}),
}
"""Smaller programmes that HiGHS makes to find points, and where that is worth it: all of them are half of the work at a root. Afresh, or near a
good point that is known, one finds as much, and where only the bound is wanted none is needed."""
_DONE = {
    highspy.HighsModelStatus.kOptimal: "optimal",
    highspy.HighsModelStatus.kInfeasible: "infeasible",
    highspy.HighsModelStatus.kUnboundedOrInfeasible: "infeasible",
    highspy.HighsModelStatus.kSolutionLimit: "stopped",  # also at the limit of nodes
    highspy.HighsModelStatus.kIterationLimit: "stopped",
    highspy.HighsModelStatus.kInterrupt: "stopped",  # where nodes no longer move the bound
}


@dataclass(frozen=True)
class Solved:
    """What came out.

    Attributes:
        outcome: "optimal" (within the gap asked for), "infeasible", or "stopped" when the work was done.
        point: value of every column; empty where none was found. worth: of it. bound: no point is worth more. nodes: searched.
    """

    outcome: str
    point: NDArray[np.float64]
    worth: float
    bound: float
    nodes: int = 0

    @property
    def found(self) -> bool:
        """Whether there is a point."""
        return len(self.point) > 0


@dataclass(frozen=True, kw_only=True)
class Work:
    """How hard to try: counts of work alone, so that any machine, however busy, stops at the same point.

    Attributes:
        nodes: of the search at most. gap: worth by which the best may be missed. whole: whether whole columns must be whole.
        idle: nodes in a row that may leave the bound where it is. looks: where points are looked for beside the bound.
        enough: a bound that need not be lowered further.
    """

    nodes: int = 600
    gap: float = 1e-6
    whole: bool = True
    idle: int = 600
    looks: Looks = "everywhere"
    enough: float = -float("inf")


def maximise(programme: Programme, work: Work, start: NDArray[np.float64] | None = None) -> Solved:
    """The best point of a programme that so much work finds; the same on every machine with this version of HiGHS.

    Args:
        start: a point to begin with, which need not be complete: nan where unknown.

    Raises:
        RuntimeError: HiGHS refused something, or stopped without saying why.
    """
    solver = _solver(work)
    _pass(solver, programme, work.whole)
    if start is not None:
        known = np.flatnonzero(~np.isnan(start)).astype(np.int32)
        _demand(solver.setSolution(len(known), known, start[known]), "a start")
    _stop_when_idle(solver, work)
    _demand(solver.run(), "the run (has something else in this process set another thread count?)")
    outcome = _DONE.get(solver.getModelStatus())
    if outcome is None:
        raise RuntimeError(f"HiGHS stopped without an answer: {solver.getModelStatus()}")
    info = solver.getInfo()
    effort().spend(max(info.simplex_iteration_count, 0), max(info.mip_node_count, 0))
    has_point = outcome != "infeasible" and info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    point = np.array(solver.getSolution().col_value) if has_point else np.empty(0)
    bound = info.mip_dual_bound if work.whole else info.objective_function_value
    worth = float(info.objective_function_value)
    if start is not None and has_point and abs(np.dot([c.worth for c in programme.columns], point) - worth) > AMISS:
        return maximise(programme, work)
    return Solved(outcome, point, worth, float(bound), int(max(info.mip_node_count, 0)))


def _solver(work: Work) -> Any:
    # The class below highspy.Highs: the wrapper prints a banner to standard output, which spoils JSON output.
    solver = _core._Highs()
    limits = {"mip_max_nodes": work.nodes, "mip_abs_gap": work.gap, "mip_rel_gap": 0.0}  # whichever gap comes first would stop it
    looks = {name: work.looks in where for name, where in _LOOKS_ROUND.items()}
    for name, value in {**_OPTIONS, **limits, **looks}.items():
        _demand(solver.setOptionValue(name, value), f"option {name}={value}")
    return solver


def _stop_when_idle(solver: Any, work: Work) -> None:
    """Have the search stop where so many nodes in a row did not move the bound, or it is low enough: the same on any machine."""
    moved = {"bound": float("inf"), "nodes": 0}

    def look(kind: int, message: str, out: Any, answer: Any, data: object) -> None:
        if out.mip_dual_bound < moved["bound"] - MOVES * work.gap:
            moved.update(bound=out.mip_dual_bound, nodes=out.mip_node_count)
        elif out.mip_node_count - moved["nodes"] >= work.idle:
            answer.user_interrupt = True
        if out.mip_dual_bound <= work.enough:
            answer.user_interrupt = True

    if work.whole and (work.idle < work.nodes or np.isfinite(work.enough)):
        _demand(solver.setCallback(look, None), "a callback")
        _demand(solver.startCallback(highspy.cb.HighsCallbackType.kCallbackMipInterrupt), "a callback")


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
