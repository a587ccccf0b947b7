"""Which set-up of a lift is best for a head: all parameters one by one, the two that matter most on a grid, then a local search."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields
from itertools import product
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.errors import InputError, NoSolutionError, unknown
from lengthwise.grading.facts import HeadFacts, facts_of, head_facts
from lengthwise.grading.growth_value import expected_growth
from lengthwise.grading.joint_load import beyond_limits
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.problem import read_only
from lengthwise.mechanics.profile import Request, profile

Setup = Mapping[str, float]
Values = Callable[[Sequence[Setup]], list[float | None]]
"""The measure at each of some set-ups; nothing where a set-up cannot be held."""

GROWTH = "growth"
MEASURES = (GROWTH, *(f.name for f in fields(HeadFacts) if f.name not in ("strength_n", "volume_nm")))
SMALLER_IS_BETTER = ("joint_conflict",)
N_SWEEP, N_GRID, N_LOCAL = 7, 7, 30
_POSITIONS = 21
_POOR = 1e3
_MOVED = 1e-9
"""Set-ups whose measure is within this of the default's are no better than it."""


@dataclass(frozen=True)
class Setups:
    """What is searched.

    Attributes:
        lift_id, lift: the lift. heads: whose measure, their mean by strength.
        measure: growth for a hard set, or a field of HeadFacts. names: set-up parameters to vary; all of the lift's where empty.
    """

    lift_id: str
    lift: Lift
    heads: tuple[str, ...]
    measure: str
    names: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.measure not in MEASURES:
            raise unknown("measure", self.measure, MEASURES)
        for name in self.names:
            if name not in self.lift.setup:
                raise unknown(f"set-up parameter of {self.lift.name}", name, self.lift.setup)
        if not self.lift.setup:
            raise InputError(f"{self.lift.name} has nothing to set up", asked=self.lift_id)

    @property
    def varied(self) -> tuple[str, ...]:
        """The parameters that are varied."""
        return self.names or tuple(self.lift.setup)

    @property
    def default(self) -> dict[str, float]:
        """The lift's own set-up, all parameters."""
        return {n: s.default for n, s in self.lift.setup.items()}

    @property
    def expected(self) -> int:
        """About how many set-ups will be tried."""
        n = len(self.varied)
        return 1 + N_SWEEP * n + (N_GRID**2 if n > 1 else 0) + N_LOCAL

    def axis(self, name: str, n: int) -> Array:
        """Evenly spaced values of a parameter over its range, (n,)."""
        s = self.lift.setup[name]
        return np.linspace(s.min, s.max, n)


@dataclass(frozen=True)
class SetupValue:
    """A set-up and the measure there; none where this person cannot hold it."""

    setup: Setup
    value: float | None


@dataclass(frozen=True, kw_only=True)
class Landscape:
    """The best set-up of a lift for a head, against the usual one.

    Attributes:
        setups: what was searched. parameters: the one or two that move the measure most.
        axes: their values, one array each. grid: the measure there, not a number where infeasible, (n,) or (n, n).
        default, default_value: the lift's own set-up; no value where this person cannot hold it.
        best, best_value: the best set-up found.
        tried, infeasible: how many set-ups, and how many could not be held.
    """

    PUBLIC: ClassVar = "lift=setups.lift_id head measure=setups.measure default=usual best=top gain tried infeasible parameters"
    setups: Setups
    parameters: tuple[str, ...]
    axes: tuple[Array, ...]
    grid: Array
    default: Setup
    default_value: float | None
    best: Setup
    best_value: float
    tried: int
    infeasible: int

    @property
    def head(self) -> str:
        """The heads that are served."""
        return "+".join(self.setups.heads)

    @property
    def usual(self) -> SetupValue:
        """The lift's own set-up."""
        return SetupValue(self.default, self.default_value)

    @property
    def top(self) -> SetupValue:
        """The best set-up."""
        return SetupValue(self.best, self.best_value)

    @property
    def gain(self) -> float | None:
        """How much more the best gives than the usual one; nothing where that cannot be held."""
        return None if self.default_value is None else self.best_value - self.default_value


def value_at(setups: Setups, body: Body, setup: Setup, draws: Array) -> float | None:
    """The measure at one set-up, the heads' mean by strength; nothing where the person cannot take or hold it.

    Args:
        draws: of the coefficients of growth, (n_draw, n_coefficient).
    """
    try:
        found = profile(body, setups.lift_id, setups.lift, Request(setup=setup, n_pos=_POSITIONS))
    except (NoSolutionError, InputError, RuntimeError):
        return None
    if beyond_limits(found):
        return None
    if setups.measure == GROWTH:
        return expected_growth(facts_of(found), setups.heads, draws)
    facts = head_facts(found, setups.heads)
    some = [facts[h] for h in setups.heads]
    strength = np.array([f.strength_n for f in some])
    return float(np.array([getattr(f, setups.measure) for f in some]) @ strength / strength.sum())


class _Tried:
    """Every set-up tried so far with its value."""

    def __init__(self, setups: Setups, values: Values) -> None:
        self.setups, self.values = setups, values
        self.sign = -1.0 if setups.measure in SMALLER_IS_BETTER else 1.0
        self.found: list[tuple[dict[str, float], float | None]] = []

    def ask(self, some: Sequence[Setup]) -> list[float | None]:
        got = self.values(some)
        self.found += [(dict(s), v) for s, v in zip(some, got, strict=True)]
        return got

    def best(self) -> tuple[dict[str, float], float]:
        """The best set-up; of equals the one nearest to the default, measured in parts of the ranges."""
        held = [(s, v) for s, v in self.found if v is not None]
        if not held:
            raise NoSolutionError(
                f"{self.setups.lift.name}: none of {len(self.found)} set-ups can be held by this person", asked=self.setups.lift_id
            )
        top = max(self.sign * v for _, v in held)
        near = [(s, v) for s, v in held if self.sign * v >= top - _MOVED]
        return min(near, key=lambda sv: self._away(sv[0]))

    def _away(self, setup: Setup) -> float:
        lift = self.setups.lift.setup
        return sum(abs(setup[n] - s.default) / max(s.max - s.min, 1e-9) for n, s in lift.items())


def search(setups: Setups, values: Values) -> Landscape:
    """The best set-up of a lift within the ranges its file allows.

    Raises:
        NoSolutionError: no set-up can be held.
    """
    tried, default = _Tried(setups, values), setups.default
    default_value = tried.ask([default])[0]
    order = _by_influence(tried, default)
    parameters = order[:2]
    axes = tuple(read_only(setups.axis(n, N_GRID)) for n in parameters)
    points = [{**default, **dict(zip(parameters, p, strict=True))} for p in product(*(a.tolist() for a in axes))]
    got = tried.ask(points)
    grid = np.array([np.nan if v is None else v for v in got]).reshape([len(a) for a in axes])
    start, _ = tried.best()
    _refine(tried, start)
    best, best_value = tried.best()
    missing = sum(v is None for _, v in tried.found)
    return Landscape(
        setups=setups,
        parameters=parameters,
        axes=axes,
        grid=read_only(grid),
        default=default,
        default_value=default_value,
        best=best,
        best_value=best_value,
        tried=len(tried.found),
        infeasible=missing,
    )


def _by_influence(tried: _Tried, default: Setup) -> tuple[str, ...]:
    """Parameters by how far they move the measure when varied alone, most first."""
    setups = tried.setups
    if len(setups.varied) == 1:
        return setups.varied
    swept = [(n, {**default, n: float(x)}) for n in setups.varied for x in setups.axis(n, N_SWEEP)]
    got = tried.ask([s for _, s in swept])
    reach = {n: [v for (m, _), v in zip(swept, got, strict=True) if m == n and v is not None] for n in setups.varied}
    moved = {n: float(np.ptp(v)) if v else 0.0 for n, v in reach.items()}
    return tuple(sorted(moved, key=lambda n: (-moved[n], n)))


def _refine(tried: _Tried, start: Setup) -> None:
    """A simplex search (Nelder & Mead 1965) from the best so far, inside the ranges; it sees infeasible set-ups as poor."""
    from scipy.optimize import minimize  # only here: slow to load

    names = tried.setups.varied
    low = np.array([tried.setups.lift.setup[n].min for n in names])
    high = np.array([tried.setups.lift.setup[n].max for n in names])
    width = np.where(high > low, high - low, 1.0)

    def cost(x: Array) -> float:
        setup = {**start, **dict(zip(names, (low + np.clip(x, 0, 1) * width).clip(low, high).tolist(), strict=True))}
        got = tried.ask([setup])[0]
        return _POOR if got is None else -tried.sign * got

    x0 = np.clip((np.array([start[n] for n in names]) - low) / width, 0, 1)
    steps = np.where(x0 > 0.5, -0.08, 0.08)
    simplex = np.vstack([x0, x0 + np.diag(steps)])
    minimize(
        cost, x0, method="Nelder-Mead", bounds=[(0, 1)] * len(names),
        options={"maxfev": N_LOCAL, "initial_simplex": simplex, "xatol": 0.01, "fatol": 1e-4},
    )  # fmt: skip
