"""Closed chains: the angles that meet a lift's pins and lie as near as they can to the key postures.

Every position is solved by itself and set out from the lift's own nine phases, so its answer depends on the body, the lift and its phase
alone. The compiled core does it; where there is none the same steps are taken here with NumPy.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.body.person import joint_range
from lengthwise.body.posture import coordinates
from lengthwise.body.rows import PELVIS, PLACE, is_alike, rows, slots
from lengthwise.core import door
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.descent import Equations, descend
from lengthwise.lifts.held import Held, depends_on_the_way, held_force
from lengthwise.lifts.keys import Keys, monotone
from lengthwise.lifts.pins import Pins
from lengthwise.lifts.resistance import WAY, Part, whole_phases
from lengthwise.units import CM, GRAVITY

TOLERANCE_M = 0.003
MOST_STEPS = 150
HAIR = 0.01
"""Part of the lifting phase over which a position's speed is taken."""
Closed = tuple[dict[str, Array], Array, Array]
"""Posture, joint coordinates (n_pos, n_q), misses of the pins [m] (n_pos, n_equation)."""
_FURTHEST = 400.0
_LAW_ROUNDS = 3


@dataclass(frozen=True)
class SolvedChain:
    """Where the chain closes.

    Attributes:
        posture: clinical angles [deg] and place [cm] by name, (n_pos,) each.
        q: joint coordinates, (n_pos, n_q). miss: of each equation [m], (n_pos, n_equation).
        rate: how fast each coordinate changes there [rad or m per lifting phase], (n_pos, n_coord).
        whole_q: coordinates at the phases of `whole_phases(lift, part)`, (n_whole, n_q).
    """

    posture: dict[str, Array]
    q: Array
    miss: Array
    rate: Array
    whole_q: Array


def solve(body: Body, lift: Lift, keys: Keys, pins: Pins, phase: Array, part: Part) -> SolvedChain:
    """The posture of each phase (n_pos,) with its solved angles; a pin that cannot be met shows in `miss`."""
    way = _way(body, lift, keys, pins)
    posture, q, miss = now = way.close(phase)
    early, late = np.maximum(phase - HAIR, 0.0), np.minimum(phase + HAIR, 1.0)
    before, after = np.split(way.close(np.concatenate([early, late]), way.further(now, phase))[1], 2)
    before, after = (np.where((p == phase)[:, None], q, there) for p, there in ((early, before), (late, after)))
    rate = body.turns(before, after) / (late - early)[:, None]
    return SolvedChain(posture, q, miss, np.asarray(rate), way.close(whole_phases(lift, part))[1])


def closed(body: Body, lift: Lift, keys: Keys, pins: Pins, phase: Array) -> tuple[dict[str, Array], Array]:
    """The posture of each phase and the misses there, as `solve` finds them; how fast it moves is not asked, which takes most of that."""
    posture, _, miss = _way(body, lift, keys, pins).close(phase)
    return posture, miss


class _Free:
    """A lift without pins: its key postures."""

    def __init__(self, body: Body, keys: Keys) -> None:
        self.body, self.keys = body, keys

    def close(self, phase: Array, further: Array | float = 0.0) -> Closed:
        """The posture of each phase."""
        posture = self.keys.posture(phase)
        return posture, _coordinates(self.body, posture), np.zeros((len(phase), 0))

    def further(self, now: Closed, phase: Array) -> Array | float:
        """Nothing."""
        return 0.0


class _Way:
    """A chain of which the nine phases are known, from which all others set out where these meet the pins."""

    def __init__(self, chain: "_Chain", found: Closed) -> None:
        self.chain, self.posture, self.angles = chain, found[0], chain.angles(found[0])
        self.met = np.abs(found[2]).max(initial=0.0) <= TOLERANCE_M

    def close(self, phase: Array, further: Array | float = 0.0) -> Closed:
        """The chain closed at each phase, set out from between the nine or from so far beside that."""
        law = self.chain.law_from(self.posture, phase)
        return self.chain.close(phase, law, _between(self.angles, phase) + further if self.met else None)

    def further(self, now: Closed, phase: Array) -> Array | float:
        """How far from between the nine phases each position was closed: a posture a hair before or after it sets out from there as well."""
        return np.tile(self.chain.angles(now[0]) - _between(self.angles, phase), (2, 1)) if self.met else 0.0


def _way(body: Body, lift: Lift, keys: Keys, pins: Pins) -> _Free | _Way:
    if not pins.equations:
        return _Free(body, keys)
    chain = _Chain(body, lift, keys, pins)
    found = chain.close(WAY, chain.law_from(keys.posture(WAY), WAY), None)
    for _ in range(_LAW_ROUNDS - 1 if pins.holding_kg and depends_on_the_way(lift) else 0):
        found = chain.close(WAY, chain.law_from(found[0], WAY), chain.angles(found[0]))
    return _Way(chain, found)


def _coordinates(body: Body, posture: dict[str, Array]) -> Array:
    place = np.stack([posture[n] for n in PLACE], -1) * CM
    return coordinates(body, {k: v for k, v in posture.items() if k not in PLACE}, place)


def _between(values: Array, phase: Array) -> Array:
    """Values at the phases of WAY, joined by the cubics through four neighbours, at other phases, (n_pos, n_value)."""
    first = np.clip(np.searchsorted(WAY, phase, side="right") - 2, 0, len(WAY) - 4)
    t = (phase - WAY[first]) / (WAY[1] - WAY[0])
    weight = [-(t - 1) * (t - 2) * (t - 3) / 6, t * (t - 2) * (t - 3) / 2, -t * (t - 1) * (t - 3) / 2, t * (t - 1) * (t - 2) / 6]
    return np.asarray(sum(w[:, None] * values[first + k] for k, w in enumerate(weight)))


class _Chain:
    """The pins of one lift for one body."""

    def __init__(self, body: Body, lift: Lift, keys: Keys, pins: Pins) -> None:
        self.body, self.lift, self.keys, self.pins = body, lift, keys, pins
        self.unknown = list(lift.motion.solve)
        self.low, self.high = reach(body, self.unknown)
        self.goals = pins.goals(keys)

    def angles(self, posture: dict[str, Array]) -> Array:
        """The solved angles, (n_pos, n_unknown)."""
        return np.stack([posture[n] for n in self.unknown], -1) if self.unknown else np.zeros((len(posture[PLACE[0]]), 0))

    def law_from(self, posture: dict[str, Array], phase: Array) -> Held:
        """How the held load pulls at some phases, knowing where these postures take it."""
        held, pivots = self.pins.held, self.pins.pivots
        if not held:
            return held_force(self.lift, self.keys.names, 0.0, phase, np.zeros((1, 0, 3)), None)
        points, _, _ = self.body.places(_coordinates(self.body, posture), [*held, *pivots])
        way, axis = points[:, : len(held)], points[:, len(held) :]
        return held_force(self.lift, self.keys.names, self.pins.holding_kg, phase, way, axis if pivots else None)

    def close(self, phase: Array, law: Held, first: Array | None) -> Closed:
        """The chain closed at each phase, set out from `first` (n_pos, n_unknown) or from the key postures."""
        posture, goal = self.keys.posture(phase), monotone(self.keys.knots, self.goals, phase)
        start = self.angles(posture)
        most = MOST_STEPS if self.unknown else 0
        chain = self._block(posture, law)
        first = start if first is None else first
        if door.available():
            found = door.close(self.body.block, chain, rows(posture, len(phase)).values, start, goal, law.size_n, first, most)
            u, q, miss = found.solved, found.q, found.miss
        else:
            equations = Equations(self.body, chain, self.pins.marks, self.unknown, posture, goal, law.size_n)
            u = descend(equations, first, start, most)
            q, miss = equations.coordinates(u), equations.residuals(u)
        astray = np.asarray(~np.isfinite(u).all(axis=1))  # a search that left all numbers behind met no pin
        u = np.asarray(np.where(astray[:, None], start, u))
        solved = {**posture, **{n: u[:, k] for k, n in enumerate(self.unknown)}}
        if astray.any():
            q = np.asarray(np.where(astray[:, None], _coordinates(self.body, solved), q))
        return solved, q, np.asarray(np.where(np.isfinite(miss), miss, np.inf))

    def _block(self, posture: dict[str, Array], law: Held) -> door.Chain:
        pins, alike = self.pins, is_alike(posture)
        segment, local = self.body.marks(pins.marks)
        slot = np.full((len(self.unknown), 2), -1, np.int32)
        for k, name in enumerate(self.unknown):
            for c, at in enumerate(slots(name, alike, posture)):
                slot[k, c] = at
        by_mark = {name: [pins.marks.index(getattr(e, name)) for e in pins.equations] for name in ("first", "second")}
        return door.Chain(
            slot=slot, low=self.low, high=self.high, mark_segment=segment, mark_local=local,
            kind=_integers(e.kind for e in pins.equations), first=_integers(by_mark["first"]), second=_integers(by_mark["second"]),
            axis=_integers(e.axis for e in pins.equations), middle=pins.index(pins.middle), held=pins.index(pins.held),
            pivot=pins.index(pins.pivots) if pins.pivots else np.full(len(pins.held), -1, np.int32),
            origin=law.origin, about=law.about, held_kind=law.kind, growth=law.growth, least=law.least,
            weight_n=self.body.person.mass_kg * GRAVITY, alike=alike, flat=rows({n: 0.0 for n in posture}, 1).flat,
        )  # fmt: skip


def _integers(values: object) -> NDArray[np.int32]:
    return np.array(list(values), np.int32)  # type: ignore[call-overload]


def stem(name: str) -> str:
    """An angle without its side."""
    return name.removesuffix("_right").removesuffix("_left")


def reach(body: Body, unknown: list[str]) -> tuple[Array, Array]:
    """How far each solved angle goes [deg or cm], (n_unknown,) each."""
    free = (*PLACE, *PELVIS)
    ends = [(-_FURTHEST, _FURTHEST) if stem(n) in free else joint_range(body.person, stem(n)) for n in unknown]
    low, high = np.array(ends).reshape(-1, 2).T
    return low, high
