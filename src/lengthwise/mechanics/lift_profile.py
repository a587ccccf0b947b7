"""The answer about a lift: capacity, what limits it, how the work is shared, and the measures of each head."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from types import MappingProxyType
from typing import ClassVar, Protocol

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.body.posture import clinical
from lengthwise.body.rows import ANGLE_SLOT
from lengthwise.body.scaling import lifting_skill
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.ends import WHOLE, Reached, reached, stopped
from lengthwise.lifts.motion import Path
from lengthwise.lifts.resistance import FULL, Part
from lengthwise.lifts.supports import Hold
from lengthwise.mechanics import measures
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.limits import Limits
from lengthwise.mechanics.outline import positions
from lengthwise.mechanics.set_load import SetLoad
from lengthwise.mechanics.working_load import one_rm_kg
from lengthwise.ranges import N_POS as N_POS
from lengthwise.ranges import RangeName as RangeName

LEAST_LEFT = 0.5
"""Of a range: with less of it left a lift is not worth doing; own choice."""
UNSTABLE_FORCE = 0.7
"""Share of force that can be used on an unstable surface; common practice, no source for the number."""
ROUNDING = 1e-9
"""Nearer than this to where a part of the lifting phase ends, a position lies in it."""
IDLE = 0.05
"""Activation and limiting share under which a head is not told of; own choice."""


def share_used(lift: Lift) -> float:
    """Share of what can be held that people load: less on an unstable surface, and where the lift says so."""
    return lift.used * (UNSTABLE_FORCE if lift.unstable else 1.0)


@dataclass(frozen=True, kw_only=True)
class Request:
    """What to profile a lift at.

    Attributes:
        range: the whole lifting phase, or its longer or shorter half as the lift's file defines them.
        setup: set-up values that differ from the defaults.
        repetitions, reserve: the set, and how many repetitions are left at its end.
        power: exponent of the sharing criterion, 2 or 3.
        n_pos: number of positions.
        reached: the part of the lifting phase that the person's joints allow.
    """

    range: RangeName = "full"
    setup: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    repetitions: int = 10
    reserve: float = 2
    power: int = 2
    n_pos: int = N_POS
    reached: Reached = WHOLE


@dataclass(frozen=True)
class HeadProfile:
    """One head (of the right side unless said) along a lift; arrays are (n_pos,).

    Attributes:
        fibre_length: over optimal, strength-weighted over the head's lines.
        span_position: where that lies between its shortest and longest possible, 0-1.
        activation: 0-1, strength-weighted, of what the person can bring to bear in a lift (`body.scaling.lifting_skill`).
        active_force_n, passive_force_n: summed over its lines [N].
        measures: see mechanics/measures.py.
    """

    PUBLIC: ClassVar = "fibre_length activation active_force_n passive_force_n measures"
    fibre_length: Array
    span_position: Array
    activation: Array
    active_force_n: Array
    passive_force_n: Array
    measures: measures.HeadMeasures


@dataclass(frozen=True)
class Start:
    """Where a search can begin: it decides how long it takes, not what it finds.

    Attributes:
        basis: of the largest load, (n_pos, n_coord), or None. multiplier: of sharing, (n_pos, n_coord).
    """

    basis: NDArray[np.int32] | None
    multiplier: Array | None

    def at(self, some: NDArray[np.intp]) -> "Start":
        """The start of some of the positions."""
        basis, multiplier = self.basis, self.multiplier
        return Start(None if basis is None else basis[some], None if multiplier is None else multiplier[some])


NOWHERE = Start(None, None)


class Source(Protocol):
    """Where the posture and the matrices of a solved lift come from, once somebody asks for them."""

    def path(self) -> Path:
        """The body's way through the lift."""
        ...

    def setting(self) -> Setting:
        """The lift set up for the body."""
        ...


@dataclass(frozen=True, kw_only=True)
class Taken:
    """How a body took a lift.

    Attributes:
        body: who. moved_kg: mass of the body that counts as load [kg]. q: coordinates, (n_pos, n_q).
        path_m: length of each line of the balance [m], (n_pos, n_line). holds: what supports it.
        marks, first_m: landmarks, and where they are at the first position [m], (n_mark, 3). source: of path and setting.
    """

    body: Body
    moved_kg: float
    q: Array
    path_m: Array
    holds: tuple[Hold, ...]
    marks: tuple[str, ...]
    first_m: Array
    source: Source


@dataclass(frozen=True, kw_only=True)
class LiftProfile:
    """The answer to `lengthwise profile`.

    Attributes:
        lift_id, lift, request: what was asked.
        taken: how the body took it.
        capacity_kg, least_kg: largest and least load that can be held at each position [kg], (n_pos,); for body weight, what could be added.
        sticking: index of the weakest position.
        limits: what bounds the load there.
        set_load: load of the set, and what bounds it if not strength.
        residual: largest relative imbalance of the shared solution.
        heads: by name; left-side heads (`_left`) where the sides differ.
        effort_shares: each head's share of all effort; where the sides are alike, of one side.
        seconds_per_set, load_step_fraction: see mechanics/measures.py.
        start: where a search for a body that differs little can begin.
    """

    PUBLIC: ClassVar = """
        lift=lift_id name=lift.name range=request.range positions=position cut_short angles_deg capacity_kg least_kg=least_held_kg
        demand sticking{position=sticking_at load_kg=sticking_kg one_rm_kg limiting[head share]=limiting
        steadying[head share]=limits.steadying bounded_by=limits.kinds}
        working{load_kg=working_kg repetitions=request.repetitions reserve=request.reserve}
        set_load{wanted_kg=set_load.wanted_kg bound=set_load.bound} residual heads
        lift_measures{economy balance_demand seconds_per_set load_step_fraction}
    """
    lift_id: str
    lift: Lift
    request: Request
    taken: Taken
    capacity_kg: Array
    least_kg: Array
    sticking: int
    limits: Limits
    set_load: SetLoad
    residual: float
    heads: Mapping[str, HeadProfile]
    effort_shares: Mapping[str, float]
    seconds_per_set: float
    load_step_fraction: float
    start: Start

    @property
    def body(self) -> Body:
        """Who."""
        return self.taken.body

    @property
    def folded(self) -> bool:
        """Whether one side stands for both."""
        return self.lift.mirrored

    @property
    def moved_kg(self) -> float:
        """How much of the body's mass counts as load [kg]: see `measures.moved_body_kg`."""
        return self.taken.moved_kg

    @cached_property
    def economy(self) -> dict[str, float]:
        """Each muscle's share of all effort."""
        return measures.economy(self.effort_shares, self.folded)

    @cached_property
    def path(self) -> Path:
        """The body's way through the lift."""
        return self.taken.source.path()

    @cached_property
    def setting(self) -> Setting:
        """Body, motion and matrices; worked out when first asked for."""
        return self.taken.source.setting()

    @cached_property
    def balance_demand(self) -> float:
        """How much balancing the lift asks, 0-1: see mechanics/measures.py."""
        taken = self.taken
        return measures.balance_demand(self.lift, taken.holds, dict(zip(taken.marks, taken.first_m.tolist(), strict=True)))

    @property
    def cut_short(self) -> list[str]:
        """Where and why this person goes less far than the lift is set up, one line each."""
        (start, end), why = part_of(self.lift, self.request), self.request.reached.why
        ends = [f"{start:.0%} to {end:.0%} of the lifting phase; beyond it {why}"] if why else []
        return [*ends, *stopped(self.lift, self.path.names, self.body.person)]

    @property
    def least_held_kg(self) -> list[float | None]:
        """The least load that can be held at each position [kg]; nothing where any can."""
        return [None if np.isinf(v) else float(v) for v in self.least_kg]

    @property
    def sticking_at(self) -> float:
        """The weakest position, 0-1."""
        return float(self.position[self.sticking])

    @property
    def sticking_kg(self) -> float:
        """Capacity at the sticking position [kg]."""
        return float(self.capacity_kg[self.sticking])

    @property
    def working_kg(self) -> float:
        """Load of the set [kg]."""
        return self.set_load.load_kg

    @property
    def limiting(self) -> Mapping[str, float]:
        """Limiting share at the weakest position of the heads that the lift is for, largest first; left-side heads carry `_left`."""
        return self.limits.movers

    @property
    def gives_out(self) -> dict[str, float]:
        """Limiting share of every mover, largest first; where both sides do the same lift, both sides together."""
        return self._sides_together(self.limits.movers)

    @property
    def steadying(self) -> dict[str, float]:
        """The same of every other head."""
        return self._sides_together(self.limits.steadying)

    def _sides_together(self, shares: Mapping[str, float]) -> dict[str, float]:
        out: dict[str, float] = {}
        for head, part in shares.items():
            name = head.removesuffix("_left") if self.lift.sides == "both" else head
            out[name] = out.get(name, 0.0) + part
        return dict(sorted(out.items(), key=lambda kv: -kv[1]))

    @property
    def shown(self) -> list[str]:
        """The targets, then every head that works by effort, most first; in a lift that both sides do alike, a head once."""
        ranked = sorted((h for h in self.heads if self._works(h)), key=lambda h: -self.heads[h].measures.effort_share)
        if self.lift.sides == "both":
            ranked = [h.removesuffix("_left") for h in ranked]
        return list(dict.fromkeys([*(h for h in self.lift.targets if h in self.heads), *ranked]))

    def _works(self, head: str) -> bool:
        p = self.heads[head]
        return bool(p.activation.max() >= IDLE or p.measures.limiting_share >= IDLE)

    @property
    def one_rm_kg(self) -> float:
        """What can be lifted once [kg]; for body-weight lifts in addition to the body."""
        return one_rm_kg(self.sticking_kg, self.moved_kg, lifting_skill(self.body.person, self.lift.practised))

    @property
    def position(self) -> Array:
        """Positions within the asked range, 0-1, (n_pos,)."""
        return positions(len(self.capacity_kg))

    @property
    def reach_deg(self) -> Array:
        """Least and largest of each clinical angle, as rows of body/rows.py, (2, n_slot)."""
        found = clinical(self.body, self.taken.q)
        out = np.zeros((2, max(ANGLE_SLOT.values()) + 1))
        for name, slot in ANGLE_SLOT.items():
            out[:, slot] = found[name].min(), found[name].max()
        return out

    @property
    def angles_deg(self) -> dict[str, Array]:
        """Every clinical angle that moves by more than half a degree or is away from neutral [deg], (n_pos,) each."""
        found = clinical(self.body, self.taken.q)
        shown = {k: v for k, v in found.items() if np.ptp(v) > 0.5 or np.abs(v).max() > 3}
        if not self.folded:
            return shown
        return {k.removesuffix("_right"): v for k, v in shown.items() if not k.endswith("_left")}

    @property
    def demand(self) -> Array:
        """Resistance profile: working load over capacity at each position, (n_pos,)."""
        return np.asarray((self.working_kg + self.moved_kg) / (self.capacity_kg + self.moved_kg))


def phase_of(lift: Lift, request: Request) -> Array:
    """The positions along the lifting phase that a request covers, (n_pos,)."""
    return np.linspace(*part_of(lift, request), request.n_pos)


def part_of(lift: Lift, request: Request) -> Part:
    """Where the asked part of the lifting phase starts and ends, as far as the person's joints allow."""
    (start, end), (first, last) = _asked_part(lift, request), request.reached.part
    return max(start, first), min(end, last)


def long_half(lift: Lift) -> Part:
    """Where the long half of the lifting phase starts and ends; nowhere for a lift that has none."""
    part = lift.ranges.get("long")
    return (part.start, part.end) if part else (1.0, 0.0)


def _asked_part(lift: Lift, request: Request) -> Part:
    if request.range == "full":
        return FULL
    part = lift.ranges.get(request.range)
    if part is None:
        raise InputError(f"{lift.name} has no {request.range!r} range", asked=request.range, allowed=["full", *lift.ranges])
    return part.start, part.end


def within_reach(body: Body, lift: Lift, request: Request) -> Request:
    """The request for as much of the asked part as the person's joints allow; the request itself where they allow all of it.

    Raises:
        NoSolutionError: too little of it is left to be useful.
    """
    if request.reached != WHOLE:
        return request
    found = reached(body, lift, request.setup)
    shorter = replace(request, reached=found)
    (start, end), (first, last) = _asked_part(lift, request), part_of(lift, shorter)
    if (first, last) == (start, end):
        return request
    if last - first < LEAST_LEFT * (end - start):
        raise NoSolutionError(
            f"{lift.name}: this person reaches too little of the range ({max(last - first, 0) / (end - start):.0%}; at least "
            f"{LEAST_LEFT:.0%} is useful): {found.why}",
            asked=lift.name,
        )
    return shorter
