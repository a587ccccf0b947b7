"""What a lift asks of every head of a person's body: capacity, what limits it, how the work is shared, and the measures of each head."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.posture import clinical
from lengthwise.body.scaling import lifting_skill
from lengthwise.errors import InputError
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics import measures
from lengthwise.mechanics.capacity import capacity, least_load_kg
from lengthwise.mechanics.equilibrium import Setting, set_up
from lengthwise.mechanics.limits import Limits, limits_of
from lengthwise.mechanics.set_load import SetLoad, set_load
from lengthwise.mechanics.sharing import Sharing, share
from lengthwise.mechanics.working_load import load_fraction, one_rm_kg

Array = NDArray[np.float64]
RangeName = Literal["full", "long", "short"]
N_POS = 41
UNSTABLE_FORCE = 0.7
"""Share of force that can be used on an unstable surface; common practice, no source for the number."""


@dataclass(frozen=True)
class Request:
    """What to profile a lift at.

    Attributes:
        range: the whole lifting phase, or its longer or shorter half as the lift's file defines them.
        setup: set-up values that differ from the defaults.
        repetitions, reserve: the set, and how many repetitions are left at its end.
        power: exponent of the sharing criterion, 2 or 3.
        n_pos: number of positions.
    """

    range: RangeName = "full"
    setup: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    repetitions: int = 10
    reserve: float = 2
    power: int = 2
    n_pos: int = N_POS


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


@dataclass(frozen=True)
class LiftProfile:
    """The answer to `lengthwise profile`.

    Attributes:
        lift_id, lift, request: what was asked.
        setting: body, motion and matrices.
        capacity_kg, least_kg: largest and least load that can be held at each position [kg], (n_pos,); for body weight, what could be added.
        sticking: index of the weakest position.
        limits: what bounds the load there.
        set_load: load of the set, and what bounds it if not strength.
        residual: largest relative imbalance of the shared solution.
        heads: by name; left-side heads (`_left`) where the sides differ.
        economy: each muscle's share of all effort.
        seconds_per_set, load_step_fraction: see mechanics/measures.py.
        start: where a search for a body that differs little can begin.
    """

    lift_id: str
    lift: Lift
    request: Request
    setting: Setting
    capacity_kg: Array
    least_kg: Array
    sticking: int
    limits: Limits
    set_load: SetLoad
    residual: float
    heads: Mapping[str, HeadProfile]
    economy: Mapping[str, float]
    seconds_per_set: float
    load_step_fraction: float
    start: Start

    @cached_property
    def balance_demand(self) -> float:
        """How much balancing the lift asks, 0-1: see mechanics/measures.py."""
        return measures.balance_demand(self.setting)

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
        """The targets, then every head by effort, most first; in a lift that both sides do alike, a head once."""
        ranked = sorted(self.heads, key=lambda h: -self.heads[h].measures.effort_share)
        if self.lift.sides == "both":
            ranked = [h.removesuffix("_left") for h in ranked]
        return list(dict.fromkeys([*(h for h in self.lift.targets if h in self.heads), *ranked]))

    @property
    def one_rm_kg(self) -> float:
        """What can be lifted once [kg]; for body-weight lifts in addition to the body."""
        skill = lifting_skill(self.setting.body.person)
        return one_rm_kg(self.sticking_kg, measures.moved_body_kg(self.setting), skill)

    @property
    def position(self) -> Array:
        """Positions within the asked range, 0-1, (n_pos,)."""
        return np.linspace(0, 1, len(self.capacity_kg))

    @property
    def angles_deg(self) -> dict[str, Array]:
        """Every clinical angle that moves by more than half a degree or is away from neutral [deg], (n_pos,) each."""
        found = clinical(self.setting.body, self.setting.path.q)
        shown = {k: v for k, v in found.items() if np.ptp(v) > 0.5 or np.abs(v).max() > 3}
        if not self.setting.folded:
            return shown
        return {k.removesuffix("_right"): v for k, v in shown.items() if not k.endswith("_left")}

    @property
    def demand(self) -> Array:
        """Resistance profile: working load over capacity at each position, (n_pos,)."""
        moved = measures.moved_body_kg(self.setting)
        return np.asarray((self.working_kg + moved) / (self.capacity_kg + moved))


def phase_of(lift: Lift, request: Request) -> Array:
    """The positions along the lifting phase that a request covers, (n_pos,)."""
    if request.range == "full":
        return np.linspace(0, 1, request.n_pos)
    part = lift.ranges.get(request.range)
    if part is None:
        raise InputError(f"{lift.name} has no {request.range!r} range", asked=request.range, allowed=["full", *lift.ranges])
    return np.linspace(part.start, part.end, request.n_pos)


def profile(body: Body, lift_id: str, lift: Lift, request: Request | None = None) -> LiftProfile:
    """What a lift asks of each head of this body.

    Raises:
        NoSolutionError: the person cannot take the lift's positions, or cannot hold them even without load.
        InputError: set-up, repetitions or reserve out of bounds.
    """
    request = request or Request()
    load_fraction(request.repetitions, request.reserve)
    return solved(set_up(body, lift, phase_of(lift, request), request.setup), lift_id, request)


def solved(
    setting: Setting, lift_id: str, request: Request, start: Start = NOWHERE, wanted: Collection[str] | None = None
) -> LiftProfile:
    """What a lift that is set up asks of each head, or of the wanted heads alone.

    Raises:
        NoSolutionError: the person cannot hold it.
        InputError: repetitions or reserve out of bounds.
    """
    lift, body, balance = setting.lift, setting.body, setting.balance
    able = capacity(balance, setting.coordinates, start.basis)
    usable = able.load_kg * (UNSTABLE_FORCE if lift.unstable else 1.0)
    sticking = int(np.argmin(usable))
    moved = measures.moved_body_kg(setting)
    least = least_load_kg(balance, -body.person.mass_kg if moved else 0.0)
    load = set_load(setting, (float(least.max()), float(usable[sticking])), load_fraction(request.repetitions, request.reserve))
    loads = np.full(len(usable), load.load_kg)
    shared = share(balance, loads, power=request.power, coordinates=setting.coordinates, start=start.multiplier)
    names, member = head_matrix(setting)
    limits = limits_of(setting, able, sticking, names, member)
    effort = measures.effort(setting, shared.activation) @ member.T
    part = effort.sum(0) / (effort.sum() * (2 if setting.folded else 1))
    efforts = dict(zip(names, part.tolist(), strict=True))
    chosen = np.array([k for k, n in enumerate(names) if wanted is None or n.removesuffix("_left") in wanted])
    return LiftProfile(
        lift_id,
        lift,
        request,
        setting,
        usable,
        least,
        sticking,
        limits,
        load,
        float(shared.residual.max()),
        _heads(setting, shared, tuple(names[k] for k in chosen), member[chosen], Told(limits.heads, efforts)),
        _economy(efforts, setting.folded),
        measures.seconds_per_set(lift, request.repetitions),
        measures.load_step_fraction(lift, load.load_kg + moved),
        Start(able.basis, shared.multiplier),
    )


def head_matrix(setting: Setting) -> tuple[tuple[str, ...], Array]:
    """Heads in the balance (left ones with `_left`) and which line belongs to which, (n_head, n_line) of 0 and 1."""
    lines, n = setting.body.lines, len(setting.lines)
    return _member(lines.heads[:n], lines.sides[:n])


@lru_cache(maxsize=8)
def _member(heads: tuple[str, ...], sides: tuple[str, ...]) -> tuple[tuple[str, ...], Array]:
    of_line = [head + ("_left" if side == "left" else "") for head, side in zip(heads, sides, strict=True)]
    names = tuple(dict.fromkeys(of_line))
    member = np.array([[float(h == n) for h in of_line] for n in names])
    member.setflags(write=False)
    return names, member


@dataclass(frozen=True)
class Told:
    """What is known of every head before its curves: its limiting share, and its share of all effort."""

    limiting: Mapping[str, float]
    effort: Mapping[str, float]


def _heads(setting: Setting, shared: Sharing, names: tuple[str, ...], member: Array, told: Told) -> dict[str, HeadProfile]:
    """The heads `names`, whose lines `member` (n_head, n_line) says."""
    used = np.flatnonzero(member.any(0))
    pick, member, activation_of = setting.lines[used], member[:, used], shared.activation[:, used]
    lines = setting.body.lines
    fibres = settle(
        setting.seen.path_m[:, pick],
        lines.slack_m[pick],
        lines.optimal_m[pick],
        lines.pennation_rad[pick],
        activation_of,
    )
    weight = member * lines.max_force_n[pick]
    weight = weight / weight.sum(1, keepdims=True)
    length = fibres.length @ weight.T
    span = measures.span_position(setting.body, pick, fibres.length) @ weight.T
    activation = np.minimum(activation_of / lifting_skill(setting.body.person), 1.0) @ weight.T
    active = (activation_of * setting.tension.active_n[:, used]) @ member.T
    passive = setting.tension.passive_n[:, used] @ member.T
    limiting = np.array([told.limiting.get(n, 0.0) for n in names])
    effort = np.array([told.effort[n] for n in names])
    found = measures.head_measures(length, span, active, measures.joint_conflict(setting, pick, weight), limiting, effort)
    curves = zip(*(c.T for c in (length, span, activation, active, passive)), found, strict=True)
    return {name: HeadProfile(*own) for name, own in zip(names, curves, strict=True)}


def _economy(effort: Mapping[str, float], folded: bool) -> dict[str, float]:
    sides = 2.0 if folded else 1.0
    return {
        muscle: sides * sum(effort.get(h + tail, 0.0) for h in members for tail in ("", "_left"))
        for muscle, members in anatomy.muscles().items()
    }
